/// What is read out to the driver.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/capitals.h"
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
  return plan.words.say(
      "pantograph {}, which is number {} of {},", to_string(ref), ref.pantograph,
      vehicle.id.empty() ? plan.words.say("vehicle {}", ref.vehicle) : vehicle.id);
}

/// The chainage; with what the post beside the track reads, where that is another thing.
std::string km_of(const Plan& plan, double km) {
  const auto on_line = place_on_line(plan.route, km);
  const std::string at = plan.words.say("km {}", km_words(km, plan.words));
  return on_line ? at + ", " + plan.words.say("line {} km {:.3f}", on_line->line, on_line->at_km)
                 : at;
}

std::string place_words(const Plan& plan, double km) {
  const std::string landmark =
      landmark_words(named_places(plan.route, farthest_landmark_m), km, plan.words);
  const auto section = std::ranges::find_if(plan.route.sections,
                                            [km](const Section& one) { return km < one.to_km; });
  std::string words = km_of(plan, km);
  words += landmark.empty() ? "" : ", " + landmark;
  if (section != plan.route.sections.end()) {
    words += plan.words.say(", on {}", section->name.empty() ? section->id : section->name);
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
  return fmt::to_string(fmt::join(texts, " "));
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
  return fmt::to_string(fmt::join(words, ". "));
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
  const Words& words = plan.words;
  const std::string on = km_list(where, words);
  message.push_back(
      lines.empty()
          ? words.say(
                "On {} only with the consent of the infrastructure manager: ask before you start, "
                "and do not start without it. {}",
                on, what)
          : words.say(
                "On {} only with the consent of the infrastructure manager of line {}: ask before "
                "you start, and do not start without it. {}",
                on, fmt::to_string(fmt::join(lines, ", ")), what));
  if (!without.empty()) {
    message.push_back(words.say("Without it: {}.", without));
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
        words.push_back(uncapitalised(order.what, plan.words));
        landmark = order.landmark;
      }
    }
    const std::string at =
        km_words(places[i], plan.words) + (landmark.empty() ? "" : ", " + landmark);
    const std::string what = fmt::to_string(fmt::join(words, "; "));
    message.push_back(i == 0 ? plan.words.say("Next, at km {}: {}.", at, what)
                             : plan.words.say("Then, at km {}: {}.", at, what));
  }
  if (places.size() > places_read_out) {
    const std::size_t more = places.size() - places_read_out;
    message.push_back(plan.words.say_of(
        more, "{} more place with orders follow: ask again before km {}, or take the new card.",
        "{} more places with orders follow: ask again before km {}, or take the new card.", more,
        km_words(places[places_read_out], plan.words)));
  }
}

void add_no_way_on(const Plan& plan, const PlannedSection& none,
                   std::vector<std::string>& message) {
  message.push_back(plan.words.say(
      "You cannot go beyond {}: there is no permitted configuration. {} Stop before it, and "
      "report: another locomotive is needed from there, or what would make it permitted.",
      km_of(plan, none.from_km), why_none(none)));
}

void add_all(std::vector<std::string> sentences, std::vector<std::string>& message) {
  for (std::string& sentence : sentences) {
    message.push_back(std::move(sentence));
  }
}

/// What is said as far as the plan goes; whether the train comes to its end.
bool add_way_on(const Plan& plan, const RoadFailureAt& failure, std::vector<std::string>& message) {
  const PlannedSection& first = plan.sections.front();
  const PlannedSection* const none = first_blocked(plan);
  const std::string& number = plan.train.release.train_number;
  const Words& words = plan.words;
  message.push_back((number.empty() ? std::string() : words.say("Train {}: ", number)) +
                    words.say("{} is defective: leave it down for the rest of the way.",
                              pantograph_words(plan, failure.failed)));
  message.push_back(
      plan.words.say("You stand with the front at {}.", place_words(plan, failure.at_km)));
  if (none == &first) {
    message.push_back(
        words.say("Raise nothing: there is no permitted configuration here. {}", why_none(first)));
    message.push_back(words.say(
        "The train stands until help comes: report, and ask for another locomotive, or for what "
        "would make it permitted."));
    return false;
  }
  const double end_km = none != nullptr ? none->from_km : plan.sections.back().to_km;
  add_consents(plan, end_km, message);
  message.push_back(
      plan.words.say("First open all breakers and lower all pantographs, if that is not done yet. "
                     "Then, before you start: {}. That leaves {}.",
                     uncapitalised(orders_at(plan, first.from_km), words),
                     with_up(first.raised, first.put_dead_in_tow, words)));
  double until_km = first.to_km;
  for (const PlannedSection& section : plan.sections) {
    if (section.from_km == until_km && section.speed_kmh == first.speed_kmh &&
        section.raised == first.raised && section.answer != Answer::none) {
      until_km = section.to_km;
    }
  }
  message.push_back(words.say(
      "Then run at {} km/h at most, as far as {}{}.", speed_figure(first.speed_kmh, words),
      km_of(plan, until_km),
      first.speed_reason.empty() ? "" : " (" + uncapitalised(first.speed_reason, words) + ")"));
  add_next(plan, end_km, message);
  add_all(exposure_sentences(plan), message);
  if (none != nullptr) {
    add_no_way_on(plan, *none, message);
  }
  return none == nullptr;
}

/// What happens to the train where a part of its way ends.
std::string change_words(const Plan& part) {
  const double end_km = part.sections.back().to_km;
  std::vector<std::string> words;
  std::string landmark;
  for (const Instruction& order : part.instructions) {
    if (order.at_km == end_km && order.action != Action::speed) {
      words.push_back(uncapitalised(order.what, part.words));
      landmark = order.landmark;
    }
  }
  return part.words.say("km {}", km_words(end_km, part.words)) +
         (landmark.empty() ? "" : ", " + landmark) + ": " + fmt::to_string(fmt::join(words, "; "));
}

/// What is said of a part that lies ahead; whether the train comes to its end.
bool add_part_ahead(const Plan& part, PantographRef failed, std::vector<std::string>& message) {
  const double from_km = part.sections.front().from_km;
  const double to_km = part.sections.back().to_km;
  const PlannedSection* const none = first_blocked(part);
  if (!has_pantograph(part.train, failed)) {
    message.push_back(part.words.say(
        "From there the vehicle of {} is no longer in the train: on km {} the card holds as it is.",
        to_string(failed), km_range(from_km, to_km, part.words)));
    if (none != nullptr) {
      add_no_way_on(part, *none, message);
    }
    return none == nullptr;
  }
  message.push_back(
      part.words.say("From there {} stays down too: on km {} the card no longer holds, "
                     "take the new one.",
                     to_string(failed), km_range(from_km, to_km, part.words)));
  add_consents(part, none != nullptr ? none->from_km : to_km, message);
  if (none != &part.sections.front()) {
    message.push_back(part.words.say(
        "There, before you start: {}. That leaves {}.",
        uncapitalised(orders_at(part, from_km), part.words),
        with_up(part.sections.front().raised, part.sections.front().put_dead_in_tow, part.words)));
    add_all(exposure_sentences(part), message);
  }
  if (none != nullptr) {
    add_no_way_on(part, *none, message);
  }
  return none == nullptr;
}

void add_end(const Plan& plan, std::vector<std::string>& message) {
  message.push_back(plan.words.say("So you can go on to the end of the route, {}.",
                                   km_of(plan, plan.sections.back().to_km)));
}

}  // namespace

std::vector<std::string> message_to_driver(const Plan& plan, const RoadFailureAt& failure) {
  std::vector<std::string> message;
  if (add_way_on(plan, failure, message)) {
    add_end(plan, message);
  }
  return message;
}

std::vector<std::string> message_to_driver(const RunPlan& run, const RoadFailureAt& failure) {
  if (run.parts.size() == 1) {
    return message_to_driver(run.parts.front(), failure);
  }
  std::vector<std::string> message;
  bool goes_on = add_way_on(run.parts.front(), failure, message);
  for (std::size_t i = 1; i < run.parts.size() && goes_on; ++i) {
    message.push_back(
        run.parts.front().words.say("So you can go on to where vehicles of the train change, {}.",
                                    change_words(run.parts[i - 1])));
    goes_on = add_part_ahead(run.parts[i], failure.failed, message);
  }
  if (goes_on) {
    add_end(run.parts.back(), message);
  }
  return message;
}

}  // namespace panup
