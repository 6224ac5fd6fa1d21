#include "plan/ordered_speeds.h"

#include <algorithm>
#include <map>
#include <string>

#include "plan/section_findings.h"

namespace panup {

namespace {

/// Less than a contact strip is wide: rounding.
constexpr double nothing_km = 1e-6;

struct SpeedReason {
  std::string rule;
  std::string clause;
};

/// Why a speed is ordered along a stretch.
class Reasons {
 public:
  Reasons(const PlanningCase& planning, const Way& way, PantographSet defective)
      : planning_(planning), way_(way), defective_(defective) {}

  SpeedReason of(const SpeedAlong& along, double from_km) {
    SpeedReason reason =
        along.because.empty() ? of_piece(along.piece) : SpeedReason{along.rule, along.because};
    const double left_km = planning_.pieces[along.piece].to_km;
    if (along.of_piece && !reason.clause.empty() && from_km > left_km - nothing_km) {
      reason.clause = planning_.words().say("{}, until the whole train is past km {:.3f}",
                                            reason.clause, left_km);
    }
    return reason;
  }

 private:
  /// What the rules say of what is up there.
  const SpeedReason& of_piece(std::size_t piece) {
    const auto [known, added] = known_.try_emplace(piece);
    if (added) {
      std::vector<Finding> findings;
      const Verdict verdict = planning_.judge(piece).judge(
          planning_.ground(piece), way_.raised[piece].value_or(PantographSet{}), defective_,
          &findings);
      const Finding* const deciding = deciding_finding(verdict, findings);
      if (deciding != nullptr) {
        known->second = {deciding->rule, deciding->reason};
      }
    }
    return known->second;
  }

  const PlanningCase& planning_;
  const Way& way_;
  PantographSet defective_;
  std::map<std::size_t, SpeedReason> known_;
};

}  // namespace

std::vector<PlannedSection> with_ordered_speeds(const PlanningCase& planning, const Way& way,
                                                const std::vector<SpeedAlong>& speeds,
                                                PantographSet defective,
                                                std::vector<PlannedSection> sections) {
  Reasons reasons(planning, way, defective);
  std::vector<PlannedSection> cut;
  auto first = speeds.begin();
  for (PlannedSection& section : sections) {
    if (section.answer == Answer::none) {
      cut.push_back(std::move(section));
      continue;
    }
    double done_km = section.from_km;
    const auto add = [&](double to_km, PlannedSection part) {
      part.from_km = done_km;
      part.to_km = to_km;
      done_km = to_km;
      PlannedSection* const before = cut.empty() ? nullptr : &cut.back();
      if (before != nullptr && before->from_km >= section.from_km &&
          before->speed_kmh == part.speed_kmh && before->speed_reason == part.speed_reason) {
        before->to_km = to_km;
      } else {
        cut.push_back(std::move(part));
      }
    };
    while (first != speeds.end() && first->to_km <= section.from_km + nothing_km) {
      ++first;
    }
    for (auto along = first; along != speeds.end() && along->from_km < section.to_km - nothing_km;
         ++along) {
      PlannedSection part = section;
      if (along->speed_kmh != section.speed_kmh) {
        const SpeedReason reason = reasons.of(*along, done_km);
        part.speed_kmh = along->speed_kmh;
        part.speed_rule = reason.rule;
        part.speed_reason = reason.clause;
      }
      add(along->to_km > section.to_km - nothing_km ? section.to_km : along->to_km,
          std::move(part));
    }
    if (done_km < section.to_km) {
      add(section.to_km, section);  // the train does not come here
    }
  }
  return cut;
}

}  // namespace panup
