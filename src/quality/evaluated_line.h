#pragma once

#include <map>
#include <memory>
#include <utility>

#include "dynamics/contact_line.h"
#include "rules/rule_book.h"

namespace panup {

/// Whether all spans are alike, and all supports.
bool is_regular(const ContactLine& line);

/// Lines as long as a run needs them: so that `evaluated_spans` are left between what must be clear
/// of start and ends (`dynamics/run_course.h`). A regular line says no more when it is longer, and
/// is given just these. An irregular one is taken whole, so that each of its spans counts; where it
/// is too short, its spans follow once more from the first, as one tension length follows another.
/// With `first_spans_only` an irregular line is cut too, to its first spans: soon run, and other
/// spans may be worse. Lines live as long as this object.
class EvaluatedLines {
 public:
  explicit EvaluatedLines(int evaluated_spans, bool first_spans_only = false)
      : evaluated_spans_(evaluated_spans), first_spans_only_(first_spans_only) {}

  /// For pantographs that stand over `train_m`, first to last. `near_only`: for a run of which only
  /// what is near the pantographs moves; the line's end may be nearer then.
  const ContactLine* line_for(const ContactLine& whole, double train_m, bool near_only = false);

 private:
  int evaluated_spans_;
  bool first_spans_only_;
  std::map<std::pair<const ContactLine*, std::size_t>, std::unique_ptr<ContactLine>> cut_;
};

/// With as many spans as a rule of kind `speed-by-mechanics` states, or for a first sight of fewer.
EvaluatedLines lines_for(const Rule& rule, bool at_first_sight);

}  // namespace panup
