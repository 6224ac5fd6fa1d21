#include "judging/facts/separation_length.h"

#include <algorithm>
#include <vector>

namespace panup {

namespace {

/// Sums of lengths are compared to the micrometre, so that equal ones count as equal.
constexpr double same_length_m = 1e-6;

bool less(double a_m, double b_m) { return a_m < b_m - same_length_m; }

struct Ends {
  double front_m = 0;
  double rear_m = 0;
};

}  // namespace

LengthJudgement judge_by_length(double length_m, LengthMeaning meaning,
                                const RaisedCollectors& raised) {
  LengthJudgement judgement;
  std::vector<Ends> ends;
  for (const Collector& collector : raised.collectors) {
    ends.push_back({.front_m = collector.behind_front_m - collector.strip_extent_m / 2,
                    .rear_m = collector.behind_front_m + collector.strip_extent_m / 2});
  }
  if (ends.empty()) {
    return judgement;
  }
  std::ranges::sort(ends, {}, &Ends::front_m);
  double rear_m = ends.front().rear_m;
  bool strips_too_long = false;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    if (i > 0) {
      const double inner_m = ends[i].front_m - rear_m;
      judgement.inner_m = std::min(judgement.inner_m.value_or(inner_m), inner_m);
    }
    rear_m = std::max(rear_m, ends[i].rear_m);
    strips_too_long |= !less(ends[i].rear_m - ends[i].front_m, length_m);
  }
  judgement.outer_m = rear_m - ends.front().front_m;
  const auto joining = std::ranges::find_if(
      raised.joins, [](const HighVoltageJoin& join) { return join.collectors.size() > 1; });
  switch (meaning) {
    case LengthMeaning::maximum_between_outer:
      judgement.answer =
          less(judgement.outer_m, length_m) ? LengthAnswer::passes : LengthAnswer::forbidden;
      return judgement;
    case LengthMeaning::minimum_between_inner:
      if (strips_too_long || (judgement.inner_m && !less(length_m, *judgement.inner_m))) {
        judgement.answer = LengthAnswer::forbidden;
      } else if (joining != raised.joins.end()) {
        judgement.answer = LengthAnswer::forbidden;
        judgement.join = static_cast<std::size_t>(joining - raised.joins.begin());
      }
      return judgement;
    case LengthMeaning::not_stated:
      if (strips_too_long) {
        judgement.answer = LengthAnswer::forbidden;
      } else if (ends.size() > 1) {
        judgement.answer = LengthAnswer::unknown;
      }
      return judgement;
  }
  return judgement;
}

}  // namespace panup
