#include "records/measured_figures.h"

#include <algorithm>
#include <cmath>

namespace panup {

void ForceSum::add_loss(const ForceSample& sample) {
  time_s_ += sample.lasts_s;
  if (sample.recorded_n > loss_n_) {
    losing_s_ = 0;
    return;
  }
  if (losing_s_ == 0 || sample.begins_piece) {
    ++sum_.contact_losses;
    losing_s_ = 0;
  }
  losing_s_ += sample.lasts_s;
  lost_s_ += sample.lasts_s;
  sum_.longest_contact_loss_ms = std::max(sum_.longest_contact_loss_ms, 1000 * losing_s_);
}

void ForceSum::add(const ForceSample& sample) {
  if (sum_.rows == 0) {
    sum_.from_m = sum_.to_m = sum_.max_at_m = sum_.min_at_m = sample.chainage_m;
    sum_.max_n = sum_.min_n = sample.force_n;
    sum_.least_kmh = sum_.greatest_kmh = sample.speed_kmh;
  }
  ++sum_.rows;
  const auto count = static_cast<double>(sum_.rows);
  const double off = sample.force_n - sum_.mean_n;
  sum_.mean_n += off / count;
  squares_ += off * (sample.force_n - sum_.mean_n);
  sum_.mean_kmh += (sample.speed_kmh - sum_.mean_kmh) / count;
  sum_.least_kmh = std::min(sum_.least_kmh, sample.speed_kmh);
  sum_.greatest_kmh = std::max(sum_.greatest_kmh, sample.speed_kmh);
  sum_.from_m = std::min(sum_.from_m, sample.chainage_m);
  sum_.to_m = std::max(sum_.to_m, sample.chainage_m);
  sum_.length_m += sample.length_m;
  if (sample.force_n > sum_.max_n) {
    sum_.max_n = sample.force_n;
    sum_.max_at_m = sample.chainage_m;
  }
  if (sample.force_n < sum_.min_n) {
    sum_.min_n = sample.force_n;
    sum_.min_at_m = sample.chainage_m;
  }
  add_loss(sample);
}

MeasuredFigures ForceSum::figures() const {
  MeasuredFigures figures = sum_;
  if (figures.rows > 0) {
    figures.std_n = std::sqrt(squares_ / static_cast<double>(figures.rows));
    figures.contact_loss_percent = time_s_ > 0 ? 100 * lost_s_ / time_s_ : 0;
  }
  return figures;
}

}  // namespace panup
