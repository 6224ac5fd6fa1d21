#include "wording/wording.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace panup {

namespace {

std::vector<std::string> names_of(const std::vector<PantographRef>& pantographs) {
  std::vector<std::string> names(pantographs.size());
  std::ranges::transform(pantographs, names.begin(),
                         [](PantographRef ref) { return to_string(ref); });
  return names;
}

}  // namespace

std::string km_words(double km, const Words& words) { return words.say("{:.3f}", km); }

std::string km_brief(double km, const Words& words) {
  std::string text = km_words(km, words);
  const std::string one_zero{words.decimal_sign(), '0'};
  while (text.ends_with('0') && !text.ends_with(one_zero)) {
    text.pop_back();
  }
  return text;
}

std::string km_range(double from_km, double to_km, const Words& words) {
  return km_brief(from_km, words) + "–" + km_brief(to_km, words);
}

std::string km_list(const std::vector<KmStretch>& stretches, const Words& words) {
  std::vector<std::string> ranges(stretches.size());
  std::ranges::transform(stretches, ranges.begin(), [&words](const KmStretch& stretch) {
    return km_range(stretch.from_km, stretch.to_km, words);
  });
  return words.say("km {}", words.listed(ranges));
}

void append(std::vector<KmStretch>& stretches, KmStretch added) {
  if (!stretches.empty() && stretches.back().to_km == added.from_km) {
    stretches.back().to_km = added.to_km;
  } else {
    stretches.push_back(added);
  }
}

std::string list_words(const std::vector<PantographRef>& pantographs, const Words& words) {
  return pantographs.empty() ? words.say("none") : words.listed(names_of(pantographs));
}

std::string either_words(const std::vector<PantographRef>& pantographs, const Words& words) {
  return words.listed_or(names_of(pantographs));
}

std::string list_words(const std::vector<int>& numbers, const Words& words) {
  std::vector<std::string> said(numbers.size());
  std::ranges::transform(numbers, said.begin(), [](int number) { return std::to_string(number); });
  return words.listed(said);
}

std::string with_up(const std::vector<PantographRef>& raised,
                    const std::vector<int>& put_dead_in_tow, const Words& words) {
  const std::string text = words.say("{} up", list_words(raised, words));
  return put_dead_in_tow.empty()
             ? text
             : words.say_of(put_dead_in_tow.size(), "{}, vehicle {} dead in tow",
                            "{}, vehicles {} dead in tow", text,
                            list_words(put_dead_in_tow, words));
}

std::string duration_words(double seconds, const Words& words) {
  const auto minutes = static_cast<long>(std::floor(seconds / 60 + 0.5));
  if (seconds < 60) {
    return words.say("{:.0f} s", seconds);
  }
  return minutes < 60 ? words.say("{} min", minutes)
                      : words.say("{} h {:02} min", minutes / 60, minutes % 60);
}

std::string metres(double length_m, const Words& words) {
  return words.say("{:g} m", std::round(length_m * 10) / 10);
}

std::string speed_figure(double speed_kmh, const Words& words) {
  return words.say("{:g}", std::floor(speed_kmh * 10 + 1e-6) / 10);
}

std::string speed_from_words(SpeedFrom from, const Words& words) {
  switch (from) {
    case SpeedFrom::tables:
      return words.say("by records, consents and design types");
    case SpeedFrom::mechanics:
      return words.say(
          "by the mechanics of wire and pantograph, in place of records and design types");
    case SpeedFrom::both:
      return words.say(
          "the lower of records or design types and the mechanics of wire and pantograph");
  }
  return {};
}

std::string day_words(const Conditions& conditions, const Words& words) {
  std::vector<std::string> parts;
  if (!conditions.ice.empty()) {
    std::vector<KmStretch> stretches;
    for (const IceStretch& ice : conditions.ice) {
      append(stretches, {ice.from_km, ice.to_km});
    }
    parts.push_back(words.say("ice on the contact wire {}", km_list(stretches, words)));
  }
  if (conditions.temperature_c) {
    parts.push_back(words.say("{}{:g} °C", *conditions.temperature_c < 0 ? "−" : "",
                              std::abs(*conditions.temperature_c)));
  }
  if (conditions.wind_ms) {
    parts.push_back(words.say("wind {:g} m/s", *conditions.wind_ms));
  }
  for (const LocalWeather& local : conditions.local) {
    const std::string where = words.say("km {}", km_range(local.from_km, local.to_km, words));
    if (local.temperature_c) {
      parts.push_back(words.say("{} {}{:g} °C", where, *local.temperature_c < 0 ? "−" : "",
                                std::abs(*local.temperature_c)));
    }
    if (local.wind_ms) {
      parts.push_back(words.say("{} wind {:g} m/s", where, *local.wind_ms));
    }
  }
  const std::string told = fmt::to_string(fmt::join(parts, ", "));
  if (conditions.name.empty()) {
    return told.empty() ? words.say("not stated") : told;
  }
  return told.empty() ? conditions.name : conditions.name + ": " + told;
}

std::string consent_terms(const Consent& consent, const Words& words) {
  std::string terms =
      consent.rule.empty()
          ? words.say("{} of {}: {} raised, {:g} m apart at least, {:g} km/h", consent.reference,
                      consent.given_by, consent.number, consent.distance_m, consent.speed_kmh)
          : words.say("{} of {}: rule {}", consent.reference, consent.given_by, consent.rule);
  if (!consent.sections.empty()) {
    terms += words.say(", on {}", fmt::to_string(fmt::join(consent.sections, ", ")));
  }
  const std::string& from = consent.valid.from;
  const std::string& until = consent.valid.until;
  if (!from.empty() && !until.empty()) {
    terms += words.say(", valid from {} until {}", from, until);
  } else if (!from.empty()) {
    terms += words.say(", valid from {}", from);
  } else if (!until.empty()) {
    terms += words.say(", valid until {}", until);
  }
  return terms;
}

std::string override_words(const Override& override, const Words& words) {
  return words.say("{} changes {} of {} ({})", override.later_book, override.id,
                   override.earlier_book, fmt::to_string(fmt::join(override.what, ", ")));
}

std::string label_of(Strength strength, std::optional<bool> kept, const Words& words) {
  if (strength != Strength::prescribed || !kept) {
    return words.named(name_of(strength));
  }
  return *kept ? words.say("as prescribed") : words.say("not as prescribed");
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

std::string stretches_with(const std::vector<PlannedSection>& sections, Answer answer,
                           const Words& words) {
  std::vector<KmStretch> found;
  for (const PlannedSection& section : sections) {
    if (section.answer == answer) {
      append(found, {section.from_km, section.to_km});
    }
  }
  return km_list(found, words);
}

}  // namespace panup
