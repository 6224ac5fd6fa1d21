#include "render/wording.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
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

constexpr std::array<std::string_view, 10> units{"km/h", "m",   "kV",  "Hz", "A",
                                                 "N",    "m/s", "min", "s",  "mm"};

constexpr bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }

/// The word that `text` begins with, without the punctuation that ends it.
std::string_view first_word(std::string_view text) {
  std::string_view word = text.substr(0, text.find(' '));
  while (!word.empty() && std::string_view(".,;:)").find(word.back()) != std::string_view::npos) {
    word.remove_suffix(1);
  }
  return word;
}

constexpr bool is_small(char letter) { return letter >= 'a' && letter <= 'z'; }
constexpr bool is_capital(char letter) { return letter >= 'A' && letter <= 'Z'; }

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

std::string capitalised(std::string_view text) {
  std::string out(text);
  if (!out.empty() && is_small(out.front())) {
    out.front() = static_cast<char>(out.front() - 'a' + 'A');
  }
  return out;
}

std::string uncapitalised(std::string_view text) {
  std::string out(text);
  if (out.size() > 1 && is_capital(out[0]) && is_small(out[1])) {
    out.front() = static_cast<char>(out.front() - 'A' + 'a');
  }
  return out;
}

std::string plain(std::string_view text) {
  std::string out(text);
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto byte = static_cast<unsigned char>(out[i]);
    const bool second_of_c1 =
        i > 0 && static_cast<unsigned char>(out[i - 1]) == 0xc2 && byte >= 0x80 && byte < 0xa0;
    if (byte < 0x20 || byte == 0x7f) {
      out[i] = ' ';
    } else if (second_of_c1) {
      out.replace(i - 1, 2, " ");
      --i;
    }
  }
  return out;
}

std::string shortened(std::string_view text, std::size_t characters) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool begins_character = (static_cast<unsigned char>(text[i]) & 0xc0U) != 0x80U;
    if (begins_character && ++count > characters) {
      return std::string(text.substr(0, i)) + "…";
    }
  }
  return std::string(text);
}

std::string kept_together(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view before = text.substr(0, i);
    const std::string_view after = text.substr(i + 1);
    const bool keep =
        text[i] == ' ' && i > 0 && !after.empty() &&
        ((is_digit(before.back()) && std::ranges::find(units, first_word(after)) != units.end()) ||
         (is_digit(after.front()) && (before == "km" || before.ends_with(" km"))));
    out += keep ? std::string_view("\u00a0") : text.substr(i, 1);
  }
  return out;
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
  return fmt::format("{} of {}: {}{}", consent.reference, consent.given_by, what,
                     consent.sections.empty()
                         ? std::string()
                         : fmt::format(", on {}", fmt::join(consent.sections, ", ")));
}

std::string override_words(const Override& override) {
  return fmt::format("{} changes {} of {} ({})", override.later_book, override.id,
                     override.earlier_book, fmt::join(override.what, ", "));
}

bool invented(const Plan& plan) {
  return plan.train.invented || plan.route.invented || plan.conditions.invented;
}

const Vehicle* vehicle_numbered(const Train& train, int number) {
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->number == number) {
      return vehicle;
    }
  }
  return nullptr;
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
