#include "records/force_stream.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "dynamics/evaluation.h"

namespace panup {

namespace {

constexpr double gap_steps = 1.5;
constexpr double short_step = 0.5;
constexpr double margin_s = 1;
constexpr double block_s = 3;
/// Share of the cut-off's period below which the filter's step has to be.
constexpr double greatest_step_s = 0.2 / contact_force_cutoff_hz;
/// What rounding of chainage and time may add to a step.
constexpr double rounding = 1.01;

}  // namespace

ForceStream::ForceStream(const MeasuredRecord& record, Taker take)
    : record_(record), take_(std::move(take)), filters_(needs_filter(record)) {}

/// Whether a row follows the last one without a gap; counts the steps.
bool ForceStream::follows(const RecordRow& row) {
  if (!last_) {
    return false;
  }
  const double length = std::abs(row.chainage_m - last_->chainage_m);
  const bool by_time = record_.sampled_every_s > 0;
  const double step = by_time ? row.time_s - last_->time_s : length;
  const double stated = by_time ? record_.sampled_every_s : record_.sampled_every_m;
  if (step > gap_steps * stated * rounding) {
    ++steps_.gaps;
    steps_.gap_length_m += length;
    if (steps_.places.size() < most_gaps_kept) {
      steps_.places.push_back({last_->chainage_m, row.chainage_m});
    }
    return false;
  }
  ++steps_.steps;
  steps_.short_steps += step < short_step * stated ? 1 : 0;
  return true;
}

ForceSample ForceStream::sample_of(const RecordRow& row) const {
  const double speed_ms = row.speed_kmh / 3.6;
  const bool by_time = record_.sampled_every_s > 0;
  return {.chainage_m = row.chainage_m,
          .force_n = row.force_n,
          .recorded_n = row.force_n,
          .speed_kmh = row.speed_kmh,
          .lasts_s = by_time ? record_.sampled_every_s : record_.sampled_every_m / speed_ms,
          .length_m = by_time ? record_.sampled_every_s * speed_ms : record_.sampled_every_m,
          .begins_piece = begins_piece_};
}

void ForceStream::add(const RecordRow& row) {
  if (row.missing) {
    return;  // the step to the next row with a force tells how wide the gap is
  }
  if (!follows(row)) {
    end_piece();
    begins_piece_ = true;
  }
  const ForceSample sample = sample_of(row);
  last_ = row;
  begins_piece_ = false;
  if (!filters_) {
    take_(sample);
    return;
  }
  waiting_.push_back(sample);
  waiting_s_ += sample.lasts_s;
  if (waiting_s_ >= block_s + margin_s) {
    std::size_t up_to = waiting_.size();
    for (double after_s = 0; up_to > done_ && after_s < margin_s; --up_to) {
      after_s += waiting_[up_to - 1].lasts_s;
    }
    filter(up_to);
  }
}

/// Hands on what waits up to a row, and keeps of it what the next block looks back on.
void ForceStream::filter(std::size_t up_to) {
  double all_s = 0;
  for (const ForceSample& sample : waiting_) {
    all_s += sample.lasts_s;
  }
  const double step_s = all_s / static_cast<double>(waiting_.size());
  if (step_s >= greatest_step_s) {
    steps_.too_coarse += static_cast<std::int64_t>(up_to - done_);
  } else if (waiting_.size() > 1) {
    std::vector<double> recorded(waiting_.size());
    std::ranges::transform(waiting_, recorded.begin(), &ForceSample::recorded_n);
    const std::vector<double> filtered = low_pass(recorded, step_s, contact_force_cutoff_hz);
    for (std::size_t i = done_; i < up_to; ++i) {
      waiting_[i].force_n = filtered[i];
    }
  }
  for (std::size_t i = done_; i < up_to; ++i) {
    take_(waiting_[i]);
    waiting_s_ -= waiting_[i].lasts_s;
  }
  std::size_t kept = up_to;
  for (double before_s = 0; kept > 0 && before_s < margin_s; --kept) {
    before_s += waiting_[kept - 1].lasts_s;
  }
  waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(kept));
  done_ = up_to - kept;
}

void ForceStream::end_piece() {
  if (done_ < waiting_.size()) {
    filter(waiting_.size());
  }
  waiting_.clear();
  done_ = 0;
  waiting_s_ = 0;
}

void ForceStream::finish() { end_piece(); }

}  // namespace panup
