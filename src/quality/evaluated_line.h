#pragma once

#include <map>
#include <memory>
#include <utility>

#include "dynamics/contact_line.h"

namespace panup {

/// Whether all spans are alike, and all supports.
bool is_regular(const ContactLine& line);

/// Lines as long as a run needs them. A regular line says no more when it is longer, and costs
/// more; it is given as many spans as leave `evaluated_spans` to be evaluated between what must be
/// clear of start and ends (`dynamics/run_course.h`), be that more or fewer than its file has. An
/// irregular line is taken whole. Lines live as long as this object.
class EvaluatedLines {
 public:
  explicit EvaluatedLines(int evaluated_spans) : evaluated_spans_(evaluated_spans) {}

  /// For pantographs that stand over `train_m`, first to last.
  const ContactLine* line_for(const ContactLine& whole, double train_m);

 private:
  int evaluated_spans_;
  std::map<std::pair<const ContactLine*, int>, std::unique_ptr<ContactLine>> cut_;
};

}  // namespace panup
