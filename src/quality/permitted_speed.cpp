#include "quality/permitted_speed.h"

#include "quality/scan_rounds.h"
#include "rules/rule_book.h"

namespace panup {

std::optional<std::vector<PermittedSpeed>> permitted_speeds(
    const std::vector<SpeedQuestion>& questions, const RuleBook& rules, const RunSource& runs) {
  const Rule& rule = mechanics_rule(rules);
  EvaluatedLines lines(static_cast<int>(*number_of(rule, "evaluated_spans")));
  std::vector<SpeedScan> scans;
  scans.reserve(questions.size());
  for (const SpeedQuestion& question : questions) {
    scans.emplace_back(scan_settings(rule, question.to_kmh));
  }
  if (!finish_scans({rules, lines, runs}, questions, scans)) {
    return std::nullopt;
  }
  std::vector<PermittedSpeed> permitted;
  permitted.reserve(scans.size());
  for (const SpeedScan& scan : scans) {
    permitted.push_back(scan.result());
  }
  return permitted;
}

}  // namespace panup
