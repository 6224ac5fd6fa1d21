#include "day/train_reading.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/sha256.h"
#include "render/json_parts.h"
#include "wording/fallback.h"
#include "wording/finding_groups.h"
#include "wording/headline.h"
#include "wording/stretches.h"

namespace panup {

namespace {

HowItRuns how_it_runs(const PlannedSection& section) {
  return {.answer = section.answer,
          .lowered_for = section.lowered_for,
          .raised = section.raised,
          .put_dead_in_tow = section.put_dead_in_tow,
          .speed_kmh = section.speed_kmh,
          .speed_reason = section.speed_reason,
          .least_distance_m = section.least_distance_m,
          .supply = section.supply,
          .iced = section.iced,
          .reversed = section.reversed};
}

ReadFailure failure_of(const Contingency& contingency) {
  ReadFailure failure{.failed = contingency.failed,
                      .answer = contingency.answer,
                      .before_departure = {},
                      .on_the_road = {}};
  for (const PlannedSection& section : contingency.sections) {
    failure.before_departure.push_back({section.from_km,
                                        section.to_km,
                                        {.answer = section.answer,
                                         .raised = section.raised,
                                         .put_dead_in_tow = section.put_dead_in_tow,
                                         .speed_kmh = section.permitted_speed_kmh}});
  }
  for (const RoadFailure& road : contingency.on_the_road) {
    failure.on_the_road.push_back({road.from_km,
                                   road.to_km,
                                   {.answer = road.answer,
                                    .raised = road.raised,
                                    .put_dead_in_tow = road.put_dead_in_tow,
                                    .speed_kmh = road.speed_kmh,
                                    .reaches_km = road.reaches_km,
                                    .stranded = road.stranded}});
  }
  return failure;
}

/// Words of a part of a card, one line each thing.
class CardLines {
 public:
  template <typename... Things>
  void add(const Things&... things) {
    (one(things), ...);
    text_ += '\n';
  }
  CardPart part(OnCard which) const { return {std::string(name_of(which)), sha256_hex(text_)}; }

 private:
  void one(const std::string& text) { text_ += text + "|"; }
  void one(const char* text) { one(std::string(text)); }
  void one(std::string_view text) { one(std::string(text)); }
  void one(double value) { text_ += fmt::format("{:.6g}|", value); }
  void one(bool value) { text_ += value ? "yes|" : "no|"; }

  std::string text_;
};

std::string vehicles_words(const std::vector<int>& vehicles) {
  return fmt::format("{}", fmt::join(vehicles, " "));
}

CardPart train_part(const Plan& plan) {
  CardLines words;
  nlohmann::ordered_json train = train_to_json(plan.train);
  train.erase("consents");  // those that count are in what rests on them
  words.add(train.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace));
  const Release& release = plan.train.release;
  words.add(release.train_number, release.date, release.days, release.made_by, release.checked_by,
            release.released_by, release.holds_until,
            release.issue ? std::to_string(*release.issue) : std::string());
  words.add(invented(plan));
  return words.part(OnCard::train);
}

CardPart route_part(const Plan& plan) {
  CardLines words;
  words.add(plan.route.id, plan.route.name);
  if (plan.route.departs_km) {
    words.add("departs at", km_words(*plan.route.departs_km));
  }
  for (const Stop& stop : plan.route.stops) {
    words.add(km_words(stop.at_km), stop.name, stop.reversal);
  }
  for (const SeparationSection& separation : plan.route.separations) {
    words.add(km_words(separation.from_km), separation.name, name_of(separation.kind),
              metres(separation.length_m), separation.breaker_off, separation.pantograph_lowered);
  }
  return words.part(OnCard::route);
}

CardPart answer_part(const Plan& plan) {
  CardLines words;
  words.add(headline(plan), answer_words(plan), running_words(plan),
            fmt::format("{}", fmt::join(exposure_sentences(plan), " ")));
  for (const Answer answer : {Answer::none, Answer::consent_needed}) {
    words.add(stretches_with(plan.sections, answer));
  }
  return words.part(OnCard::answer);
}

CardPart stretches_part(const Plan& plan) {
  CardLines words;
  for (const Stretch& stretch : stretches_of(plan)) {
    const PlannedSection& first = stretch.first;
    words.add(km_words(stretch.from_km), km_words(stretch.to_km), stretch.name, stretch.reasons,
              stretch.speed_kmh, stretch.speed_from_km ? km_words(*stretch.speed_from_km) : "",
              first.supply ? name_of(*first.supply) : "",
              stretch.leaves_for ? name_of(*stretch.leaves_for) : "", name_of(first.answer),
              first.lowered_for, list_words(first.raised), vehicles_words(first.put_dead_in_tow),
              first.permitted_speed_kmh,
              first.least_distance_m ? fmt::format("{:.1f}", *first.least_distance_m) : "",
              first.iced, first.reversed);
  }
  return words.part(OnCard::stretches);
}

CardPart orders_part(const Plan& plan) {
  CardLines words;
  for (const Instruction& order : plan.instructions) {
    words.add(km_words(order.at_km), order.what, order.landmark, order.reason, order.text,
              order.if_not_possible);
  }
  return words.part(OnCard::orders);
}

CardPart failures_part(const Plan& plan) {
  CardLines words;
  for (const Fallback& fallback : fallbacks_of(plan)) {
    words.add(either_words(fallback.failed));
    for (const FallbackRow& row : fallback.rows) {
      words.add(km_list(row.where), row.failing_here, name_of(row.answer), remedy_words(row),
                limits_words(row), row.stranded, row.speed_as_planned,
                row.speed_as_planned ? 0.0 : row.speed_kmh);
    }
  }
  return words.part(OnCard::failures);
}

/// As the card chooses them: what is accepted, needs consent, is forbidden or not as prescribed,
/// and why what is prescribed is so.
CardPart findings_part(const Plan& plan) {
  CardLines words;
  for (const FindingGroup& group : group_findings(plan.sections)) {
    if (group.strength <= Strength::last_resort || group.kept == false) {
      for (const FindingGroup::Saying& saying : group.sayings) {
        words.add(label_of(group.strength, group.kept), km_list(saying.where), saying.text,
                  group.source, group.because);
      }
    } else if (group.kept == true && !group.because.empty()) {
      words.add(group.rule, group.because);
    }
  }
  return words.part(OnCard::findings);
}

void add_once(std::vector<std::string>& all, const std::string& one) {
  if (std::ranges::find(all, one) == all.end()) {
    all.push_back(one);
  }
}

template <typename Thing>
void add_all(const std::vector<Thing>& more, std::vector<Thing>& all) {
  all.insert(all.end(), more.begin(), more.end());
}

/// Adds what is read of the next part of a train's way.
void add_part(const TrainReading& part, TrainReading& all) {
  add_all(part.sections, all.sections);
  add_all(part.orders, all.orders);
  for (const ReadFailure& failure : part.failures) {
    const auto same = std::ranges::find(all.failures, failure.failed, &ReadFailure::failed);
    if (same == all.failures.end()) {
      all.failures.push_back(failure);
      continue;
    }
    same->answer = std::max(same->answer, failure.answer);
    add_all(failure.before_departure, same->before_departure);
    add_all(failure.on_the_road, same->on_the_road);
  }
  for (std::size_t i = 0; i < all.card.size(); ++i) {
    all.card[i].sha256 = sha256_hex(all.card[i].sha256 + part.card[i].sha256);
  }
  for (const auto list :
       {&TrainReading::classes, &TrainReading::in_place_of, &TrainReading::files}) {
    for (const std::string& one : part.*list) {
      add_once(all.*list, one);
    }
  }
}

}  // namespace

TrainReading reading_of(const Plan& plan, const std::vector<std::string>& not_there) {
  TrainReading reading;
  for (const PlannedSection& section : plan.sections) {
    reading.sections.push_back({section.from_km, section.to_km, how_it_runs(section)});
  }
  for (const Instruction& order : plan.instructions) {
    reading.orders.push_back({order.at_km, std::string(name_of(order.action)), order.what,
                              order.text, order.if_not_possible});
  }
  for (const Contingency& contingency : plan.contingencies) {
    reading.failures.push_back(failure_of(contingency));
  }
  reading.card = {answer_part(plan), train_part(plan),    route_part(plan),   stretches_part(plan),
                  orders_part(plan), failures_part(plan), findings_part(plan)};
  for (const ConsistItem& item : plan.train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      add_once(reading.classes, vehicle->type->id);
      if (!vehicle->in_place_of.empty()) {
        add_once(reading.in_place_of, vehicle->in_place_of);
      }
    }
  }
  for (const InputFile& input : plan.inputs) {
    reading.files.push_back(input.path);
  }
  reading.not_there = not_there;
  return reading;
}

TrainReading reading_of(const RunPlan& run, const std::vector<std::string>& not_there) {
  TrainReading reading = reading_of(run.parts.front(), not_there);
  for (std::size_t i = 1; i < run.parts.size(); ++i) {
    add_part(reading_of(run.parts[i], not_there), reading);
  }
  return reading;
}

}  // namespace panup
