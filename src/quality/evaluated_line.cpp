#include "quality/evaluated_line.h"

#include <algorithm>
#include <cmath>

#include "dynamics/run_course.h"

namespace panup {

bool is_regular(const ContactLine& line) {
  const auto like_first = [](const auto& all) {
    return std::ranges::all_of(all, [&](const auto& one) { return one == all.front(); });
  };
  return like_first(line.spans) && like_first(line.supports);
}

const ContactLine* EvaluatedLines::line_for(const ContactLine& whole, double train_m) {
  if (!is_regular(whole)) {
    return &whole;
  }
  // The train starts with its last pantograph in the first midspan.
  const int over_train = static_cast<int>(std::ceil(train_m / whole.spans.front().length_m));
  const int before = static_cast<int>(std::ceil(0.5 + ramp_spans + clear_spans)) + over_train;
  const int after = static_cast<int>(std::ceil(clear_end_spans)) + over_train;
  const int spans = before + evaluated_spans_ + after;
  auto& cut = cut_[{&whole, spans}];
  if (cut == nullptr) {
    cut = std::make_unique<ContactLine>(whole);
    const auto count = static_cast<std::size_t>(spans);
    cut->spans.resize(count, whole.spans.front());
    cut->supports.resize(count + 1, whole.supports.front());
  }
  return cut.get();
}

}  // namespace panup
