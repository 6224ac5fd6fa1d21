#include "day/day.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <tuple>

#include "base/capitals.h"
#include "base/sha256.h"
#include "wording/headline.h"

namespace panup {

namespace {

/// What is said with one strength on the sections with an answer, the same words once.
std::vector<SaidWhere> said_with(const Plan& plan, Strength strength, auto&& on) {
  std::vector<SaidWhere> all;
  for (const PlannedSection& section : plan.sections) {
    if (!on(section)) {
      continue;
    }
    for (const Finding& finding : section.findings) {
      if (finding.strength != strength) {
        continue;
      }
      auto same = std::ranges::find_if(all, [&](const SaidWhere& said) {
        return said.rule == finding.rule && said.text == finding.text;
      });
      if (same == all.end()) {
        same = all.insert(all.end(), {finding.rule, finding.text, {}});
      }
      append(same->where, {section.from_km, section.to_km});
    }
  }
  return all;
}

std::optional<SlowestStretch> slowest_of(const Plan& plan) {
  std::optional<SlowestStretch> slowest;
  for (const PlannedSection& section : plan.sections) {
    if (section.answer == Answer::none) {
      return std::nullopt;
    }
    if (!slowest || section.speed_kmh < slowest->speed_kmh) {
      const std::string on_lines =
          line_words(stretches_on_lines(plan.route, section.from_km, section.to_km), plan.words);
      slowest = {section.speed_kmh,
                 {section.from_km, section.to_km},
                 section.speed_reason +
                     (on_lines.empty() ? std::string() : plan.words.say(", on {}", on_lines))};
    }
  }
  return slowest;
}

Decision decision_of(const Plan& plan) {
  switch (plan.answer) {
    case Answer::none:
      return Decision::none;
    case Answer::consent_needed:
      return Decision::consent_needed;
    case Answer::permitted:
      break;
  }
  return last_resorts(plan).empty() ? Decision::permitted : Decision::last_resort;
}

std::string hash_of_inputs(const Plan& plan, const std::vector<std::string>& vehicles,
                           const std::vector<InputFile>& inputs) {
  std::string text = fmt::format("{}\n{}\n{}\n", plan.train.release.train_number,
                                 plan.train.release.date, name_of(plan.speed_from));
  for (const std::string& vehicle : vehicles) {
    text += vehicle + "\n";
  }
  for (const InputFile& input : inputs) {
    text += fmt::format("{}  {}\n", input.sha256, input.role);
  }
  return sha256_hex(text);
}

void add_said(const std::vector<SaidWhere>& more, std::vector<SaidWhere>& all) {
  for (const SaidWhere& said : more) {
    auto same = std::ranges::find_if(all, [&](const SaidWhere& other) {
      return other.rule == said.rule && other.text == said.text;
    });
    if (same == all.end()) {
      all.push_back(said);
      continue;
    }
    for (const KmStretch& stretch : said.where) {
      append(same->where, stretch);
    }
  }
}

template <typename Name>
void add_once(const std::vector<Name>& more, std::vector<Name>& all) {
  for (const Name& name : more) {
    if (std::ranges::find(all, name) == all.end()) {
      all.push_back(name);
    }
  }
}

/// Adds what came out for the next part of the way.
void add_part(const TrainOutcome& part, TrainOutcome& all) {
  all.decision = std::min(all.decision, part.decision);
  all.invented = all.invented || part.invented;
  if (part.slowest && (!all.slowest || part.slowest->speed_kmh < all.slowest->speed_kmh)) {
    all.slowest = part.slowest;
  }
  if (all.without_consent.empty()) {
    all.without_consent = part.without_consent;
  }
  add_said(part.forbidden, all.forbidden);
  add_said(part.consents_missing, all.consents_missing);
  add_said(part.last_resorts, all.last_resorts);
  add_once(part.consents_used, all.consents_used);
  add_once(part.consents_not_counting, all.consents_not_counting);
  add_once(part.defects, all.defects);
  all.running_time_s += part.running_time_s;
  all.orders += part.orders;
}

/// A vehicle that goes on keeps the number by which it is counted in the train.
std::vector<std::string> vehicles_of(const RunPlan& run) {
  std::vector<std::string> ids;
  std::vector<int> known;
  for (const Plan& part : run.parts) {
    for (const ConsistItem& item : part.train.consist) {
      const auto* const vehicle = std::get_if<Vehicle>(&item);
      if (vehicle != nullptr && std::ranges::find(known, vehicle->number) == known.end()) {
        known.push_back(vehicle->number);
        ids.push_back(vehicle->id);
      }
    }
  }
  return ids;
}

/// "In 2 parts. Part 1, km 0.0-52.0: permitted. Part 2, …", or, where all say the same, that.
std::string answer_of_parts(const RunPlan& run, const std::vector<std::string>& answers) {
  if (std::ranges::all_of(answers,
                          [&](const std::string& one) { return one == answers.front(); })) {
    return answers.front();
  }
  const Words& words = run.parts.front().words;
  std::string said = words.say("In {} parts.", answers.size());
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Plan& part = run.parts[i];
    said += words.say(" Part {}, {}: {}", i + 1,
                      km_list({{part.sections.front().from_km, part.sections.back().to_km}}, words),
                      uncapitalised(answers[i], words));
  }
  return said;
}

/// Not stated comes last.
std::string_view departure_key(const DayTrain& train) {
  return train.departure.empty() ? std::string_view("~") : std::string_view(train.departure);
}

}  // namespace

TrainOutcome outcome_of(const Plan& plan) {
  TrainOutcome outcome;
  outcome.language = plan.words.language();
  outcome.decision = decision_of(plan);
  outcome.train_id = plan.train.id;
  outcome.train_name = plan.train.name;
  outcome.route_id = plan.route.id;
  outcome.route_name = plan.route.name;
  outcome.invented = invented(plan);
  for (const ConsistItem& item : plan.train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      outcome.vehicles.push_back(vehicle->id);
    }
  }
  outcome.answer = answer_words(plan);
  outcome.slowest = slowest_of(plan);
  const auto answer_is = [](Answer answer) {
    return [answer](const PlannedSection& section) { return section.answer == answer; };
  };
  outcome.forbidden = said_with(plan, Strength::forbidden, answer_is(Answer::none));
  outcome.consents_missing =
      said_with(plan, Strength::consent_needed, answer_is(Answer::consent_needed));
  outcome.last_resorts = said_with(plan, Strength::last_resort, [](const PlannedSection& section) {
    return section.answer != Answer::none;
  });
  for (const PlannedSection& section : plan.sections) {
    if (section.answer == Answer::consent_needed && outcome.without_consent.empty()) {
      outcome.without_consent = section.without_consent;
    }
  }
  for (ConsentNamed& used : consents_used(plan)) {
    outcome.consents_used.push_back({std::move(used.reference), std::move(used.given_by)});
  }
  for (const ConsentLeftOut& left_out : plan.train.consents_left_out) {
    outcome.consents_not_counting.push_back(
        {left_out.consent.reference, left_out.consent.given_by, left_out.because});
  }
  for (const RegisteredDefect& defect : plan.train.registered_defects) {
    outcome.defects.push_back(
        {defect.vehicle, defect.pantograph, defect.reference, defect.still_possible});
  }
  outcome.running_time_s = plan.answer == Answer::none ? 0 : plan.running_time_s;
  outcome.orders = plan.instructions.size();
  outcome.inputs_sha256 = hash_of_inputs(plan, outcome.vehicles, plan.inputs);
  return outcome;
}

TrainOutcome outcome_of(const RunPlan& run) {
  TrainOutcome outcome = outcome_of(run.parts.front());
  if (run.parts.size() == 1) {
    return outcome;
  }
  outcome.route_name = run.route_name;
  std::vector<std::string> answers{outcome.answer};
  for (std::size_t i = 1; i < run.parts.size(); ++i) {
    const TrainOutcome part = outcome_of(run.parts[i]);
    answers.push_back(part.answer);
    add_part(part, outcome);
  }
  outcome.vehicles = vehicles_of(run);
  outcome.answer = answer_of_parts(run, answers);
  if (outcome.decision == Decision::none) {
    outcome.slowest.reset();
    outcome.running_time_s = 0;
  }
  outcome.inputs_sha256 = hash_of_inputs(run.parts.front(), outcome.vehicles, inputs_of(run));
  return outcome;
}

std::vector<std::size_t> departure_order(const DayFile& day) {
  std::vector<std::size_t> rows(day.trains.size());
  std::iota(rows.begin(), rows.end(), std::size_t{0});
  std::ranges::stable_sort(rows, {},
                           [&](std::size_t row) { return departure_key(day.trains[row]); });
  return rows;
}

std::vector<std::size_t> desk_order(const DayFile& day,
                                    const std::vector<std::optional<TrainOutcome>>& outcomes) {
  std::vector<std::size_t> rows;
  for (std::size_t row = 0; row < outcomes.size(); ++row) {
    if (outcomes[row]) {
      rows.push_back(row);
    }
  }
  std::ranges::sort(rows, {}, [&](std::size_t row) {
    const DayTrain& train = day.trains[row];
    return std::tuple(outcomes[row]->decision, departure_key(train),
                      std::string_view(train.number));
  });
  return rows;
}

}  // namespace panup
