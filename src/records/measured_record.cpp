#include "records/measured_record.h"

#include <algorithm>

#include "dynamics/evaluation.h"

namespace panup {

bool needs_filter(const MeasuredRecord& record) {
  return !record.recorded_low_pass_hz || *record.recorded_low_pass_hz > contact_force_cutoff_hz;
}

double evaluated_low_pass_hz(const MeasuredRecord& record) {
  return std::min(contact_force_cutoff_hz,
                  record.recorded_low_pass_hz.value_or(contact_force_cutoff_hz));
}

}  // namespace panup
