#pragma once
/// The room `wording`: what is said of a plan in words. Chainages, stretches, configurations,
/// findings and fallbacks read the same on card, report, text and page, because all of them ask
/// here. It takes a plan as it is; nothing is judged or computed.

#include <string>
#include <string_view>
#include <vector>

#include "base/words.h"
#include "plan/plan.h"

namespace panup {

/// A stretch of chainage.
struct KmStretch {
  double from_km = 0;
  double to_km = 0;
  friend bool operator==(const KmStretch&, const KmStretch&) = default;
};

/// A chainage to the metre: "61.580".
std::string km_words(double km, const Words& words = {});

/// A chainage to the metre without needless zeros, one decimal at least: "61.58", "0.0".
std::string km_brief(double km, const Words& words = {});

/// A stretch of chainage: "0.0–24.6".
std::string km_range(double from_km, double to_km, const Words& words = {});

/// Stretches as words: "km 0.0–24.6 and 61.7–84.1".
std::string km_list(const std::vector<KmStretch>& stretches, const Words& words = {});

/// Adds a stretch; one that begins where the last one ends goes on with it.
void append(std::vector<KmStretch>& stretches, KmStretch added);

/// Pantographs as words: "1.1", "1.1 and 2.2", "1.1, 2.1 and 3.2"; "none" for no pantograph.
std::string list_words(const std::vector<PantographRef>& pantographs, const Words& words = {});

/// The same with "or": "1.1, 2.1 or 3.2".
std::string either_words(const std::vector<PantographRef>& pantographs, const Words& words = {});

/// Numbers as words: "2", "2 and 3".
std::string list_words(const std::vector<int>& numbers, const Words& words = {});

/// A configuration: "1.1 and 2.2 up", "1.1 up, vehicle 2 dead in tow", "none up".
std::string with_up(const std::vector<PantographRef>& raised,
                    const std::vector<int>& put_dead_in_tow, const Words& words = {});

/// A time to the minute from one minute upwards: "2 h 05 min", "48 min", "40 s".
std::string duration_words(double seconds, const Words& words = {});

/// A length: "19.4 m".
std::string metres(double length_m, const Words& words = {});

/// A speed as a number: "80", "62.5".
std::string speed_figure(double speed_kmh, const Words& words = {});

/// The day in one line: "Iced morning: ice km 40.0–71.5, −6 °C, wind 4 m/s"; "not stated" where
/// nothing is.
std::string day_words(const Conditions& conditions, const Words& words = {});

/// What the speeds of a plan come from, as one clause.
std::string speed_from_words(SpeedFrom from, const Words& words = {});

/// "NV-1 of Nordvale Infrastructure: 2 raised, 7.5 m apart at least, 60 km/h, on a3", or "…: rule
/// coasting, on a3".
std::string consent_terms(const Consent& consent, const Words& words = {});

/// "Nordvale Freight rules changes ice-speed of Working practice (speed_kmh)".
std::string override_words(const Override& override, const Words& words = {});

/// How a finding is labelled: its strength, but of what a rule prescribes whether it is so. "as
/// prescribed" and "not as prescribed" where that is said, else "prescribed".
std::string label_of(Strength strength, std::optional<bool> kept, const Words& words = {});

/// True where the train, the route or the day is demo data.
bool invented(const Plan& plan);

/// The pantographs of a train that must stay down because they are defective, by vehicle.
std::vector<PantographRef> defective_pantographs(const Train& train);

/// The sections that are not permitted as they stand, as stretches: "km 0.0–24.6 and 61.7–84.1".
std::string stretches_with(const std::vector<PlannedSection>& sections, Answer answer,
                           const Words& words = {});

}  // namespace panup
