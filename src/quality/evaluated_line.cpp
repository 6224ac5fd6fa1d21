#include "quality/evaluated_line.h"

#include <algorithm>
#include <cmath>

#include "dynamics/run_course.h"

namespace panup {

EvaluatedLines lines_for(const Rule& rule, bool at_first_sight) {
  constexpr int at_a_glance = 3;
  const auto spans = static_cast<int>(*number_of(rule, "evaluated_spans"));
  return EvaluatedLines(at_first_sight ? std::min(at_a_glance, spans) : spans, at_first_sight);
}

bool is_regular(const ContactLine& line) {
  const auto like_first = [](const auto& all) {
    return std::ranges::all_of(all, [&](const auto& one) { return one == all.front(); });
  };
  return like_first(line.spans) && like_first(line.supports);
}

const ContactLine* EvaluatedLines::line_for(const ContactLine& whole, double train_m,
                                            bool near_only) {
  const std::size_t in_file = whole.spans.size();
  const double span_m = length_of(whole) / static_cast<double>(in_file);
  // The train starts with its last pantograph in the first midspan.
  constexpr double rounding = 1e-9;
  const double over_train = std::ceil(train_m / span_m - rounding);
  const double before = std::ceil(0.5 + ramp_spans + clear_spans) + over_train;
  const double after = std::ceil(near_only ? near_clear_end_spans : clear_end_spans) + over_train;
  const auto needed = static_cast<std::size_t>(before + evaluated_spans_ + after);
  if (needed == in_file || (needed < in_file && !first_spans_only_ && !is_regular(whole))) {
    return &whole;
  }
  auto& cut = cut_[{&whole, needed}];
  if (cut == nullptr) {
    cut = std::make_unique<ContactLine>(whole);
    cut->spans.clear();
    cut->supports.clear();
    for (std::size_t i = 0; i < needed; ++i) {
      cut->spans.push_back(whole.spans[i % in_file]);
      cut->supports.push_back(whole.supports[i % in_file]);
    }
    cut->supports.push_back(whole.supports[(needed - 1) % in_file + 1]);
  }
  return cut.get();
}

}  // namespace panup
