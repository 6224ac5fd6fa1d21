#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/words.h"
#include "line/network.h"

namespace panup {

/// What the day brings to a part of a network. Where it says no place, it holds everywhere.
struct LocalConditions {
  std::string line = {};  ///< id; all of it, or the next two
  std::optional<double> from_km = {};
  std::optional<double> to_km = {};
  std::string section = {};  ///< id
  std::string region = {};   ///< id
  bool ice = false;
  std::optional<double> temperature_c = {};
  std::optional<double> wind_ms = {};
  std::optional<int> from_s = {};   ///< time of day from which it holds; nothing: from its begin
  std::optional<int> until_s = {};  ///< time of day until which it holds; nothing: to its end
  SourcePlace place = {};
};

/// The day in a network.
struct NetworkConditions {
  std::string name;
  bool invented = false;
  std::optional<double> temperature_c;  ///< where no local one says another
  std::optional<double> wind_ms;        ///< where no local one says another
  std::vector<LocalConditions> local;
  SourcePlace place;
};

/// When the timetable has the front of the train at a chainage, in seconds from the midnight before
/// it departs.
struct TimeAtKm {
  double at_km = 0;
  std::optional<int> arrival_s;
  std::optional<int> departure_s;  ///< or passing
};

/// The first and last moment at which any of the train can be on a stretch, as the timetable has
/// it; nothing: not known. Before a place whose time is known the train can be no earlier than it
/// is at the fastest the line permits from the last such place behind it.
struct TimesOn {
  std::optional<double> earliest_s;
  std::optional<double> latest_s;
};
TimesOn times_on(const Route& route, const std::vector<TimeAtKm>& times, double train_length_m,
                 double from_km, double to_km);

/// Whether what holds from one time of day to another, on the day of departure and on every other,
/// may hold at these times. Without its begin it holds from the midnight before departure, without
/// its end from then on. Where times are not known it may hold.
bool may_hold(std::optional<int> from_s, std::optional<int> until_s, TimesOn times);

/// The day on a way through a network. Sections of the route are cut where the weather changes, and
/// have it. What does not hold by the time the train is there is left out, and noted. Reports two
/// temperatures at one place: which of them is worse, nobody can say beforehand.
std::optional<Conditions> conditions_on(const NetworkConditions& conditions, const Network& network,
                                        Route& route, const std::vector<TimeAtKm>& times,
                                        double train_length_m, Diagnostics& diagnostics,
                                        const Words& words = {});

}  // namespace panup
