/// What is read out to the driver.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "drawing/text.h"
#include "failed/road_failure.h"
#include "plan/landmarks.h"
#include "wording/headline.h"
#include "wording/wording.h"

namespace panup {

namespace {

/// Of the orders behind the place where the train stands, so many places are read out.
constexpr std::size_t places_read_out = 3;
/// A place the driver knows is no farther away.
constexpr double farthest_landmark_m = 3000;

/// "pantograph 1.2, which is number 2 of K41 007,".
std::string pantograph_words(const Plan& plan, PantographRef ref) {
  const Vehicle& vehicle = *vehicle_numbered(plan.train, ref.vehicle);
  return fmt::format("pantograph {}, which is number {} of {},", to_string(ref), ref.pantograph,
                     vehicle.id.empty() ? fmt::format("vehicle {}", ref.vehicle) : vehicle.id);
}

std::string place_words(const Plan& plan, double km) {
  const std::string landmark = landmark_words(named_places(plan.route, farthest_landmark_m), km);
  const auto section = std::ranges::find_if(plan.route.sections,
                                            [km](const Section& one) { return km < one.to_km; });
  std::string words = fmt::format("km {}", km_words(km));
  words += landmark.empty() ? "" : ", " + landmark;
  if (section != plan.route.sections.end()) {
    words += fmt::format(", on {}", section->name.empty() ? section->id : section->name);
  }
  return words;
}

/// Why nothing may go up on a section: what the driver could do about it first.
std::string why_none(const PlannedSection& section) {
  constexpr std::size_t read_out = 3;
  std::vector<std::string> texts;
  for (const bool of_driver : {true, false}) {
    for (const Finding& finding : section.findings) {
      const bool is_of_driver = finding.rule == "driver-times";
      if (is_of_driver == of_driver && texts.size() < read_out) {
        texts.push_back(finding.text);
      }
    }
  }
  return fmt::format("{}", fmt::join(texts, " "));
}

/// The first of these that is said of a section.
std::string first_finding(const PlannedSection& section, Strength strength) {
  const auto found = std::ranges::find(section.findings, strength, &Finding::strength);
  return found == section.findings.end() ? std::string() : found->text;
}

std::string orders_at(const Plan& plan, double km) {
  std::vector<std::string> words;
  for (const Instruction& order : plan.instructions) {
    if (order.at_km == km && order.action != Action::speed) {
      words.push_back(order.what);
    }
  }
  return fmt::format("{}", fmt::join(words, ". "));
}

const PlannedSection* first_blocked(const Plan& plan) {
  const auto found = std::ranges::find(plan.sections, Answer::none, &PlannedSection::answer);
  return found == plan.sections.end() ? nullptr : &*found;
}

void add_consents(const Plan& plan, double until_km, std::vector<std::string>& message) {
  std::vector<KmStretch> where;
  std::string what;
  std::string without;
  std::vector<std::string> lines;
  for (const PlannedSection& section : plan.sections) {
    if (section.answer != Answer::consent_needed || section.from_km >= until_km) {
      continue;
    }
    append(where, {section.from_km, section.to_km});
    what = what.empty() ? first_finding(section, Strength::consent_needed) : what;
    without = without.empty() ? section.without_consent : without;
    const std::string& line = plan.route.sections[section.section].line;
    if (!line.empty() && std::ranges::find(lines, line) == lines.end()) {
      lines.push_back(line);
    }
  }
  if (where.empty()) {
    return;
  }
  message.push_back(fmt::format(
      "On {} only with the consent of the infrastructure manager{}: ask before you start, and do "
      "not start without it. {}",
      km_list(where), lines.empty() ? "" : fmt::format(" of line {}", fmt::join(lines, ", ")),
      what));
  if (!without.empty()) {
    message.push_back(fmt::format("Without it: {}.", without));
  }
}

/// Where the train comes to, by orders, beyond the place where it stands.
void add_next(const Plan& plan, double end_km, std::vector<std::string>& message) {
  const double from_km = plan.sections.front().from_km;
  std::vector<double> places;
  for (const Instruction& order : plan.instructions) {
    if (order.at_km > from_km && order.at_km < end_km &&
        (places.empty() || places.back() != order.at_km)) {
      places.push_back(order.at_km);
    }
  }
  for (std::size_t i = 0; i < std::min(places.size(), places_read_out); ++i) {
    std::vector<std::string> words;
    std::string landmark;
    for (const Instruction& order : plan.instructions) {
      if (order.at_km == places[i]) {
        words.push_back(uncapitalised(order.what));
        landmark = order.landmark;
      }
    }
    message.push_back(fmt::format("{} km {}{}: {}.", i == 0 ? "Next, at" : "Then, at",
                                  km_words(places[i]), landmark.empty() ? "" : ", " + landmark,
                                  fmt::join(words, "; ")));
  }
  if (places.size() > places_read_out) {
    message.push_back(fmt::format(
        "{} more place{} with orders follow: ask again before km {}, or take the new card.",
        places.size() - places_read_out, places.size() == places_read_out + 1 ? "" : "s",
        km_words(places[places_read_out])));
  }
}

}  // namespace

std::vector<std::string> message_to_driver(const Plan& plan, const RoadFailureAt& failure) {
  const PlannedSection& first = plan.sections.front();
  const PlannedSection* const none = first_blocked(plan);
  std::vector<std::string> message;
  const std::string& number = plan.train.release.train_number;
  message.push_back(fmt::format("{}{} is defective: leave it down for the rest of the way.",
                                number.empty() ? "" : fmt::format("Train {}: ", number),
                                pantograph_words(plan, failure.failed)));
  message.push_back(
      fmt::format("You stand with the front at {}.", place_words(plan, failure.at_km)));
  if (none == &first) {
    message.push_back("Raise nothing: there is no permitted configuration here. " +
                      why_none(first));
    message.emplace_back(
        "The train stands until help comes: report, and ask for another locomotive, or for what "
        "would make it permitted.");
    return message;
  }
  const double end_km = none != nullptr ? none->from_km : plan.sections.back().to_km;
  add_consents(plan, end_km, message);
  message.push_back(fmt::format(
      "First open all breakers and lower all pantographs, if that is not done yet. "
      "Then, before you start: {}. That leaves {}.",
      uncapitalised(orders_at(plan, first.from_km)), with_up(first.raised, first.put_dead_in_tow)));
  double until_km = first.to_km;
  for (const PlannedSection& section : plan.sections) {
    if (section.from_km == until_km && section.speed_kmh == first.speed_kmh &&
        section.raised == first.raised && section.answer != Answer::none) {
      until_km = section.to_km;
    }
  }
  message.push_back(fmt::format(
      "Then run at {} km/h at most, as far as km {}{}.", speed_figure(first.speed_kmh),
      km_words(until_km),
      first.speed_reason.empty() ? "" : fmt::format(" ({})", uncapitalised(first.speed_reason))));
  add_next(plan, end_km, message);
  for (std::string& sentence : exposure_sentences(plan)) {
    message.push_back(std::move(sentence));
  }
  if (none != nullptr) {
    message.push_back(fmt::format(
        "You cannot go beyond km {}: there is no permitted configuration. {} Stop before it, and "
        "report: another locomotive is needed from there, or what would make it permitted.",
        km_words(end_km), why_none(*none)));
  } else {
    message.push_back(
        fmt::format("So you can go on to the end of the route, km {}.", km_words(end_km)));
  }
  return message;
}

}  // namespace panup
