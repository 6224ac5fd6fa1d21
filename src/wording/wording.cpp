#include "wording/wording.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

std::string joined(const std::vector<std::string>& words, std::string_view last = " and ") {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    text += i == 0 ? std::string_view() : (i + 1 == words.size() ? last : std::string_view(", "));
    text += words[i];
  }
  return text;
}

std::vector<std::string> names_of(const std::vector<PantographRef>& pantographs) {
  std::vector<std::string> names(pantographs.size());
  std::ranges::transform(pantographs, names.begin(),
                         [](PantographRef ref) { return to_string(ref); });
  return names;
}

}  // namespace

std::string km_words(double km) { return fmt::format("{:.3f}", km); }

std::string km_brief(double km) {
  std::string text = km_words(km);
  while (text.ends_with('0') && !text.ends_with(".0")) {
    text.pop_back();
  }
  return text;
}

std::string km_range(double from_km, double to_km) {
  return km_brief(from_km) + "–" + km_brief(to_km);
}

std::string km_list(const std::vector<KmStretch>& stretches) {
  std::vector<std::string> words(stretches.size());
  std::ranges::transform(stretches, words.begin(), [](const KmStretch& stretch) {
    return km_range(stretch.from_km, stretch.to_km);
  });
  return "km " + joined(words);
}

void append(std::vector<KmStretch>& stretches, KmStretch added) {
  if (!stretches.empty() && stretches.back().to_km == added.from_km) {
    stretches.back().to_km = added.to_km;
  } else {
    stretches.push_back(added);
  }
}

std::string list_words(const std::vector<PantographRef>& pantographs) {
  return pantographs.empty() ? "none" : joined(names_of(pantographs));
}

std::string either_words(const std::vector<PantographRef>& pantographs) {
  return joined(names_of(pantographs), " or ");
}

std::string list_words(const std::vector<int>& numbers) {
  std::vector<std::string> words(numbers.size());
  std::ranges::transform(numbers, words.begin(), [](int number) { return std::to_string(number); });
  return joined(words);
}

std::string with_up(const std::vector<PantographRef>& raised,
                    const std::vector<int>& put_dead_in_tow) {
  std::string text = list_words(raised) + " up";
  if (!put_dead_in_tow.empty()) {
    text += fmt::format(", vehicle{} {} dead in tow", put_dead_in_tow.size() > 1 ? "s" : "",
                        list_words(put_dead_in_tow));
  }
  return text;
}

std::string duration_words(double seconds) {
  const auto minutes = static_cast<long>(std::floor(seconds / 60 + 0.5));
  if (seconds < 60) {
    return fmt::format("{:.0f} s", seconds);
  }
  return minutes < 60 ? fmt::format("{} min", minutes)
                      : fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

std::string metres(double length_m) {
  return fmt::format("{:g} m", std::round(length_m * 10) / 10);
}

std::string speed_figure(double speed_kmh) {
  return fmt::format("{:g}", std::floor(speed_kmh * 10 + 1e-6) / 10);
}

std::string_view speed_from_words(SpeedFrom from) {
  switch (from) {
    case SpeedFrom::tables:
      return "by records, consents and design types";
    case SpeedFrom::mechanics:
      return "by the mechanics of wire and pantograph, in place of records and design types";
    case SpeedFrom::both:
      return "the lower of records or design types and the mechanics of wire and pantograph";
  }
  return {};
}

std::string day_words(const Conditions& conditions) {
  std::vector<std::string> parts;
  if (!conditions.ice.empty()) {
    std::vector<KmStretch> stretches;
    for (const IceStretch& ice : conditions.ice) {
      append(stretches, {ice.from_km, ice.to_km});
    }
    parts.push_back("ice on the contact wire " + km_list(stretches));
  }
  if (conditions.temperature_c) {
    parts.push_back(fmt::format("{}{:g} °C", *conditions.temperature_c < 0 ? "−" : "",
                                std::abs(*conditions.temperature_c)));
  }
  if (conditions.wind_ms) {
    parts.push_back(fmt::format("wind {:g} m/s", *conditions.wind_ms));
  }
  for (const LocalWeather& local : conditions.local) {
    const std::string where = "km " + km_range(local.from_km, local.to_km);
    if (local.temperature_c) {
      parts.push_back(fmt::format("{} {}{:g} °C", where, *local.temperature_c < 0 ? "−" : "",
                                  std::abs(*local.temperature_c)));
    }
    if (local.wind_ms) {
      parts.push_back(fmt::format("{} wind {:g} m/s", where, *local.wind_ms));
    }
  }
  const std::string told = fmt::format("{}", fmt::join(parts, ", "));
  if (conditions.name.empty()) {
    return told.empty() ? "not stated" : told;
  }
  return told.empty() ? conditions.name : conditions.name + ": " + told;
}

std::string consent_terms(const Consent& consent) {
  const std::string what = consent.rule.empty()
                               ? fmt::format("{} raised, {:g} m apart at least, {:g} km/h",
                                             consent.number, consent.distance_m, consent.speed_kmh)
                               : "rule " + consent.rule;
  std::string validity;
  if (!consent.valid.from.empty()) {
    validity += " from " + consent.valid.from;
  }
  if (!consent.valid.until.empty()) {
    validity += " until " + consent.valid.until;
  }
  return fmt::format("{} of {}: {}{}{}", consent.reference, consent.given_by, what,
                     consent.sections.empty()
                         ? std::string()
                         : fmt::format(", on {}", fmt::join(consent.sections, ", ")),
                     validity.empty() ? std::string() : ", valid" + validity);
}

std::string override_words(const Override& override) {
  return fmt::format("{} changes {} of {} ({})", override.later_book, override.id,
                     override.earlier_book, fmt::join(override.what, ", "));
}

std::string_view label_of(Strength strength, std::optional<bool> kept) {
  if (strength != Strength::prescribed || !kept) {
    return name_of(strength);
  }
  return *kept ? "as prescribed" : "not as prescribed";
}

bool invented(const Plan& plan) {
  return plan.train.invented || plan.route.invented || plan.conditions.invented;
}

std::vector<PantographRef> defective_pantographs(const Train& train) {
  std::vector<PantographRef> defective;
  for (const ConsistItem& item : train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      for (const int number : vehicle->defective) {
        defective.push_back({vehicle->number, number});
      }
    }
  }
  return defective;
}

std::string stretches_with(const std::vector<PlannedSection>& sections, Answer answer) {
  std::vector<KmStretch> found;
  for (const PlannedSection& section : sections) {
    if (section.answer == answer) {
      append(found, {section.from_km, section.to_km});
    }
  }
  return km_list(found);
}

}  // namespace panup
