#include "quality/scan_rounds.h"

#include <algorithm>
#include <map>
#include <set>

#include "rules/rule_book.h"

namespace panup {

const Rule& mechanics_rule(const RuleBook& rules) {
  return *rule_in_force(rules, RuleKind::speed_by_mechanics);
}

namespace {

const ContactLine* line_of(const Judging& judging, const SpeedQuestion& question, bool near_only) {
  return question.line_as_it_is
             ? question.line
             : judging.lines.line_for(*question.line, question.pantographs.back().behind_first_m,
                                      near_only);
}

double rule_step_s(const RuleBook& rules) {
  return *number_of(mechanics_rule(rules), "step_ms") / 1000;
}

/// The runs in `step_s`, or in the step that the mechanics takes by itself.
std::vector<SimulationRequest> in_step(std::vector<SimulationRequest> requests,
                                       std::optional<double> step_s) {
  for (SimulationRequest& request : requests) {
    request.settings.step_s = step_s;
    request.settings.balance_energy = false;  // no criterion asks for it
  }
  return requests;
}

/// Speeds that need a run, and what is known of them.
struct Runs {
  std::vector<std::size_t> asked;           ///< by run: its place among what was asked
  std::vector<SimulationRequest> requests;  ///< likewise, without a step
  std::vector<CoarseRuns*> coarse;          ///< likewise
};

/// Judges what was asked, in rounds of runs: all in the longer step, pairs, then what is open.
class Rounds {
 public:
  Rounds(const Judging& judging, const std::vector<AskedSpeed>& asked)
      : judging_(judging), asked_(asked), judgements_(asked.size()) {}

  bool go() {
    take_in();
    std::vector<std::size_t> coarse;
    std::vector<std::size_t> fine;
    for (std::size_t run = 0; run < runs_.requests.size(); ++run) {
      const bool longer =
          !asked_[runs_.asked[run]].in_rule_step && 1 < runs_.coarse[run]->step_factor();
      (longer ? coarse : fine).push_back(run);
    }
    if (!judge_coarse(coarse)) {
      return false;
    }
    if (judging_.at_first_sight) {
      return judge_fine(refused_of(coarse)) && judge_fine(fine);
    }
    if (!judge_fine(pairs_of(coarse))) {
      return false;
    }
    // Each run in the rule book's step tells more of the longer one: so not all at once.
    // What was decided is looked at anew: runs may be further off than the first pairs were.
    for (std::vector<std::size_t> open = undecided(coarse); !open.empty();
         open = undecided(coarse)) {
      if (!judge_fine(some_of(open))) {
        return false;
      }
    }
    for (const std::size_t run : coarse) {
      Judgement& judgement = judgements_[runs_.asked[run]];
      if (judgement.coarse) {
        // Where the scan looks next hangs on it: as if the run were off by all that it may be.
        judgement.swinging_margin -=
            runs_.coarse[run]->greatest_tolerance(asked_[runs_.asked[run]].speed_kmh, judgement);
      }
    }
    return judge_fine(fine);
  }

  std::vector<Judgement> take() { return std::move(judgements_); }

 private:
  /// Judges what needs no run, and takes note of the rest.
  void take_in() {
    for (std::size_t i = 0; i < asked_.size(); ++i) {
      const SpeedQuestion& question = *asked_[i].question;
      if (auto judgement = judge_without_run(judging_.rules, facts(i))) {
        judgements_[i] = std::move(*judgement);
        continue;
      }
      const ContactLine* const known_by =
          question.drawn_from != nullptr ? question.drawn_from : question.line;
      runs_.asked.push_back(i);
      runs_.coarse.push_back(&judging_.coarse.of(*known_by, question.pantographs.front().model.id));
      runs_.requests.push_back({.line = line_of(judging_, question, false),
                                .pantographs = question.pantographs,
                                .speed_kmh = asked_[i].speed_kmh,
                                .settings = question.settings});
    }
  }

  /// Of those whose line is not known well enough, the first, the middle and the last: they are run
  /// in both steps.
  std::vector<std::size_t> pairs_of(const std::vector<std::size_t>& coarse) const {
    std::map<const CoarseRuns*, std::vector<std::size_t>> by_line;
    for (const std::size_t run : coarse) {
      if (!runs_.coarse[run]->knows_enough()) {
        by_line[runs_.coarse[run]].push_back(run);
      }
    }
    std::vector<std::size_t> pairs;
    for (const auto& [line, runs] : by_line) {
      for (const std::size_t run : {runs.front(), runs[runs.size() / 2], runs.back()}) {
        pairs.push_back(run);
      }
    }
    std::ranges::sort(pairs);
    const auto twice = std::ranges::unique(pairs);
    pairs.erase(twice.begin(), twice.end());
    return pairs;
  }

  /// Those that no longer step is of use for.
  std::vector<std::size_t> refused_of(const std::vector<std::size_t>& runs) const {
    std::vector<std::size_t> refused;
    std::ranges::copy_if(runs, std::back_inserter(refused),
                         [&](std::size_t run) { return judgements_[runs_.asked[run]].refused; });
    return refused;
  }

  std::vector<std::size_t> undecided(const std::vector<std::size_t>& runs) const {
    std::vector<std::size_t> open;
    std::ranges::copy_if(runs, std::back_inserter(open), [&](std::size_t run) {
      const std::size_t at = runs_.asked[run];
      return judgements_[at].coarse &&
             !runs_.coarse[run]->decides(judging_.rules, asked_[at].speed_kmh, judgements_[at]);
    });
    return open;
  }

  /// A fourth, spread evenly, or so many as keep many processors busy.
  static std::vector<std::size_t> some_of(const std::vector<std::size_t>& runs) {
    constexpr std::size_t few = 16;
    const std::size_t each = std::clamp<std::size_t>(runs.size() / few, 1, 4);
    std::vector<std::size_t> some;
    for (std::size_t i = 0; i < runs.size(); i += each) {
      some.push_back(runs[i]);
    }
    return some;
  }

  /// In the longer step; in a less long one where it is refused.
  bool judge_coarse(std::vector<std::size_t> runs) {
    while (!runs.empty()) {
      std::vector<SimulationRequest> requests = requests_of(runs);
      for (std::size_t i = 0; i < runs.size(); ++i) {
        const double factor = runs_.coarse[runs[i]]->step_factor();
        requests[i] = in_step({requests[i]}, factor * rule_step_s(judging_.rules)).front();
        requests[i].settings.guarded = false;
        requests[i].settings.near_only = true;
        requests[i].line = line_of(judging_, *asked_[runs_.asked[runs[i]]].question, true);
      }
      const auto figures = judging_.runs(requests);
      if (!figures) {
        return false;
      }
      std::vector<std::size_t> again;
      std::set<CoarseRuns*> refused;
      for (std::size_t i = 0; i < runs.size(); ++i) {
        judge(runs[i], (*figures)[i], true);
        if ((*figures)[i].pantographs.empty()) {
          refused.insert(runs_.coarse[runs[i]]);
          again.push_back(runs[i]);
        }
      }
      for (CoarseRuns* const line : refused) {
        line->refused();
      }
      runs.clear();
      std::ranges::copy_if(again, std::back_inserter(runs),
                           [&](std::size_t run) { return runs_.coarse[run]->step_factor() > 1; });
    }
    return true;
  }

  /// In the step of the rule book. Where the longer one was run as well, it learns by it.
  bool judge_fine(const std::vector<std::size_t>& runs) {
    if (runs.empty()) {
      return true;
    }
    const auto figures = run_in_rule_step(judging_.rules, judging_.runs, requests_of(runs));
    if (!figures) {
      return false;
    }
    for (std::size_t i = 0; i < runs.size(); ++i) {
      const std::size_t at = runs_.asked[runs[i]];
      const Judgement coarse = judgements_[at];
      judge(runs[i], (*figures)[i], false);
      if (coarse.coarse) {
        runs_.coarse[runs[i]]->learn(judging_.rules, asked_[at].speed_kmh, coarse, judgements_[at]);
      }
    }
    return true;
  }

  std::vector<SimulationRequest> requests_of(const std::vector<std::size_t>& runs) const {
    std::vector<SimulationRequest> requests;
    requests.reserve(runs.size());
    for (const std::size_t run : runs) {
      requests.push_back(runs_.requests[run]);
    }
    return requests;
  }

  void judge(std::size_t run, const RunFigures& figures, bool coarse) {
    const std::size_t at = runs_.asked[run];
    judgements_[at] = judge_run(judging_.rules, facts(at), figures);
    judgements_[at].coarse = coarse;
  }

  RunFacts facts(std::size_t at) const {
    const SpeedQuestion& question = *asked_[at].question;
    return facts_of(*question.line, question.supply, asked_[at].speed_kmh);
  }

  const Judging& judging_;
  const std::vector<AskedSpeed>& asked_;
  std::vector<Judgement> judgements_;
  Runs runs_;
};

}  // namespace

std::optional<std::vector<RunFigures>> run_in_rule_step(const RuleBook& rules,
                                                        const RunSource& runs,
                                                        std::vector<SimulationRequest> requests) {
  requests = in_step(std::move(requests), rule_step_s(rules));
  auto figures = runs(requests);
  if (!figures) {
    return std::nullopt;
  }
  std::vector<SimulationRequest> again;
  std::vector<std::size_t> refused;
  for (std::size_t i = 0; i < requests.size(); ++i) {
    if ((*figures)[i].pantographs.empty()) {
      refused.push_back(i);
      again.push_back(requests[i]);
    }
  }
  if (!again.empty()) {
    auto finer = runs(in_step(std::move(again), std::nullopt));
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
  Rounds rounds(judging, asked);
  return rounds.go() ? std::optional(rounds.take()) : std::nullopt;
}

bool finish_scans(const Judging& judging, const std::vector<SpeedQuestion>& questions,
                  std::vector<SpeedScan>& scans) {
  while (true) {
    std::vector<AskedSpeed> asked;
    std::vector<std::size_t> scan_of;
    for (std::size_t q = 0; q < questions.size(); ++q) {
      const std::vector<double> wanted = scans[q].wanted();
      const bool settle = wanted.empty();
      if (settle && judging.at_first_sight) {
        continue;
      }
      for (const double speed : settle ? scans[q].unsettled() : wanted) {
        asked.push_back({&questions[q], speed, settle});
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
