#include "quality/scan_rounds.h"

#include "rules/rule_book.h"

namespace panup {

const Rule& mechanics_rule(const RuleBook& rules) {
  return *rule_in_force(rules, RuleKind::speed_by_mechanics);
}

namespace {

const ContactLine* line_of(const Judging& judging, const SpeedQuestion& question) {
  return question.line_as_it_is
             ? question.line
             : judging.lines.line_for(*question.line, question.pantographs.back().behind_first_m);
}

}  // namespace

std::optional<std::vector<RunFigures>> run_in_rule_step(const Judging& judging,
                                                        std::vector<SimulationRequest> requests) {
  const double step_s = *number_of(mechanics_rule(judging.rules), "step_ms") / 1000;
  for (SimulationRequest& request : requests) {
    request.settings.step_s = step_s;
    request.settings.balance_energy = false;  // no criterion asks for it
  }
  auto figures = judging.runs(requests);
  if (!figures) {
    return std::nullopt;
  }
  std::vector<SimulationRequest> again;
  std::vector<std::size_t> refused;
  for (std::size_t i = 0; i < requests.size(); ++i) {
    if ((*figures)[i].pantographs.empty()) {
      refused.push_back(i);
      again.push_back(requests[i]);
      again.back().settings.step_s.reset();
    }
  }
  if (!again.empty()) {
    auto finer = judging.runs(again);
    if (!finer) {
      return std::nullopt;
    }
    for (std::size_t i = 0; i < refused.size(); ++i) {
      (*figures)[refused[i]] = std::move((*finer)[i]);
    }
  }
  return figures;
}

std::optional<std::vector<Judgement>> judge_speeds(const Judging& judging,
                                                   const std::vector<AskedSpeed>& asked) {
  std::vector<Judgement> judgements(asked.size());
  std::vector<SimulationRequest> requests;
  std::vector<std::size_t> run_of;
  for (std::size_t i = 0; i < asked.size(); ++i) {
    const SpeedQuestion& question = *asked[i].question;
    const RunFacts facts = facts_of(*question.line, question.supply, asked[i].speed_kmh);
    if (auto judgement = judge_without_run(judging.rules, facts)) {
      judgements[i] = std::move(*judgement);
      continue;
    }
    run_of.push_back(i);
    requests.push_back({.line = line_of(judging, question),
                        .pantographs = question.pantographs,
                        .speed_kmh = asked[i].speed_kmh,
                        .settings = question.settings});
  }
  const auto figures = run_in_rule_step(judging, std::move(requests));
  if (!figures) {
    return std::nullopt;
  }
  for (std::size_t run = 0; run < run_of.size(); ++run) {
    const AskedSpeed& one = asked[run_of[run]];
    const RunFacts facts = facts_of(*one.question->line, one.question->supply, one.speed_kmh);
    judgements[run_of[run]] = judge_run(judging.rules, facts, (*figures)[run]);
  }
  return judgements;
}

bool finish_scans(const Judging& judging, const std::vector<SpeedQuestion>& questions,
                  std::vector<SpeedScan>& scans) {
  while (true) {
    std::vector<AskedSpeed> asked;
    std::vector<std::size_t> scan_of;
    for (std::size_t q = 0; q < questions.size(); ++q) {
      for (const double speed : scans[q].wanted()) {
        asked.push_back({&questions[q], speed});
        scan_of.push_back(q);
      }
    }
    if (asked.empty()) {
      return true;
    }
    auto judgements = judge_speeds(judging, asked);
    if (!judgements) {
      return false;
    }
    for (std::size_t i = 0; i < asked.size(); ++i) {
      scans[scan_of[i]].add(asked[i].speed_kmh, std::move((*judgements)[i]));
    }
  }
}

}  // namespace panup
