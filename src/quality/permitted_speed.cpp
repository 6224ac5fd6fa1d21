#include "quality/permitted_speed.h"

#include <algorithm>

#include "quality/scan_rounds.h"
#include "quality/support_cases.h"
#include "rules/rule_book.h"

namespace panup {

const PermittedSpeed& worse_of(const PermittedSpeed& a, const PermittedSpeed& b) {
  const bool fails_earlier =
      b.fails_at_kmh && (!a.fails_at_kmh || *b.fails_at_kmh < *a.fails_at_kmh);
  const bool no_failure_and_closer = !b.fails_at_kmh && !a.fails_at_kmh && b.margin < a.margin;
  return fails_earlier || no_failure_and_closer ? b : a;
}

void add_static_force_warnings(PermittedSpeed& permitted, const SpeedQuestion& question) {
  if (!question.supply || permitted.speed_kmh == 0) {
    return;
  }
  for (const RunningPantograph& one : question.pantographs) {
    auto warning = static_force_warning(*question.supply, one.static_force_n);
    if (warning && std::ranges::find(permitted.warnings, *warning) == permitted.warnings.end()) {
      permitted.warnings.push_back(std::move(*warning));
    }
  }
}

namespace {

std::optional<std::vector<PermittedSpeed>> found_speeds(const std::vector<SpeedQuestion>& questions,
                                                        const RuleBook& rules,
                                                        const RunSource& runs,
                                                        bool at_first_sight) {
  const Rule& rule = mechanics_rule(rules);
  EvaluatedLines lines = lines_for(rule, at_first_sight);
  SupportCases supports;
  std::vector<SpeedQuestion> asked;
  std::vector<SpeedScan> scans;
  for (const SpeedQuestion& question : questions) {
    for (const ContactLine* const line : supports.of(*question.line)) {
      asked.push_back(question);
      asked.back().line = line;
      ScanSettings settings = scan_settings(rule, question.to_kmh);
      if (at_first_sight) {
        settings.close_margin = 0;  // what that finds comes with the permitted speed
      }
      scans.emplace_back(std::move(settings));
    }
  }
  CoarseRunsByLine coarse;
  if (!finish_scans({rules, lines, runs, coarse, at_first_sight}, asked, scans)) {
    return std::nullopt;
  }
  std::vector<PermittedSpeed> permitted;
  permitted.reserve(questions.size());
  std::size_t next = 0;
  for (const SpeedQuestion& question : questions) {
    std::vector<PermittedSpeed> by_case;
    for (std::size_t i = supports.of(*question.line).size(); i > 0; --i) {
      by_case.push_back(scans[next++].result());
    }
    permitted.push_back(worst_of_cases(by_case));
  }
  return permitted;
}

}  // namespace

std::optional<std::vector<PermittedSpeed>> permitted_speeds(
    const std::vector<SpeedQuestion>& questions, const RuleBook& rules, const RunSource& runs) {
  return found_speeds(questions, rules, runs, false);
}

std::optional<std::vector<PermittedSpeed>> speeds_at_first_sight(
    const std::vector<SpeedQuestion>& questions, const RuleBook& rules, const RunSource& runs) {
  return found_speeds(questions, rules, runs, true);
}

}  // namespace panup
