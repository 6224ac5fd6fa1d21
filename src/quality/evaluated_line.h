#pragma once

#include <map>
#include <memory>
#include <utility>

#include "dynamics/contact_line.h"

namespace panup {

/// Whether all spans are alike, and all supports.
bool is_regular(const ContactLine& line);

/// Lines as long as a run needs them: so that `evaluated_spans` are left between what must be clear
/// of start and ends (`dynamics/run_course.h`). A regular line says no more when it is longer, and
/// is given just these. An irregular one is taken whole, so that each of its spans counts; where it
/// is too short, its spans follow once more from the first, as one tension length follows another.
/// Lines live as long as this object.
class EvaluatedLines {
 public:
  explicit EvaluatedLines(int evaluated_spans) : evaluated_spans_(evaluated_spans) {}

  /// For pantographs that stand over `train_m`, first to last.
  const ContactLine* line_for(const ContactLine& whole, double train_m);

 private:
  int evaluated_spans_;
  std::map<std::pair<const ContactLine*, std::size_t>, std::unique_ptr<ContactLine>> cut_;
};

}  // namespace panup
