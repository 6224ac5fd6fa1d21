#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dynamics/contact_line.h"
#include "quality/criteria.h"
#include "records/evaluate_record.h"
#include "rules/rule_book.h"

namespace panup {

/// A stretch of a record that was held against the criteria.
struct JudgedStretch {
  std::size_t run = 0;                 ///< index into the runs that were evaluated
  std::size_t pantograph = 0;          ///< index into that run's pantographs
  std::optional<std::size_t> stretch;  ///< index into its stretches; nothing: the whole run
  std::optional<Judgement> judgement;
  std::string not_judged;  ///< why there is no judgement; else empty
};

enum class RecordAnswer : std::uint8_t { met, not_met, not_judged };

struct JudgedRecord {
  RecordAnswer answer = RecordAnswer::not_judged;
  std::vector<JudgedStretch> stretches;
};

/// Limits hang on the speed. A stretch in which it varies by more than this is not judged; our own
/// choice.
inline constexpr double steady_speed_kmh = 10;
/// Nor one of which less than this share was measured; likewise.
inline constexpr double least_covered = 0.5;

/// Whether the speed of a stretch is steady enough to be one speed.
bool is_steady(const MeasuredFigures& figures);

/// Holds every run, and each of its stretches, against the criteria that runs of the mechanics are
/// held against, at its mean speed. What is measured is held against them as it is: the
/// uncertainty of a simulation is not added. Uplift is not in a record of force, and the wave speed
/// is known only with a `line`; these are not asked without.
JudgedRecord judge_record(const RuleBook& rules, const MeasuredRecord& record,
                          const std::vector<MeasuredRun>& runs, const ContactLine* line);

/// The criteria that are asked of a record, with their sources, one line each.
std::vector<std::string> criteria_of_record(const RuleBook& rules, const MeasuredRecord& record,
                                            const ContactLine* line);

/// What of the criteria is not asked of a record, and why, one sentence each.
std::vector<std::string> not_judged_of_record(const RuleBook& rules, const MeasuredRecord& record,
                                              const ContactLine* line);

}  // namespace panup
