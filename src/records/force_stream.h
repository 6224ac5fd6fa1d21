#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "records/force_trace.h"
#include "records/measured_figures.h"
#include "records/row_reader.h"

namespace panup {

/// Gaps that are kept with their place; further ones are counted.
inline constexpr std::size_t most_gaps_kept = 1000;

/// What was found between the rows of one pantograph.
struct RowSteps {
  std::int64_t gaps = 0;  ///< drop-outs within the run
  double gap_length_m = 0;
  std::vector<RecordStretch> places;  ///< of the first `most_gaps_kept`
  std::int64_t steps = 0;
  std::int64_t short_steps = 0;  ///< rows that stand nearer each other than half of what is stated
  std::int64_t too_coarse = 0;   ///< rows too far apart in time to be filtered
};

/// The rows of one pantograph of one run, as they come: finds gaps, filters what needs to be
/// filtered, and hands on samples.
///
/// A gap is where force is missing, or where the step to the next row is more than one and a half
/// times what the record states. Where the record was filtered at 20 Hz or below, its force is
/// taken as it is. Else `low_pass` of the mechanics filters it, piece by piece between gaps, in
/// blocks of some seconds; each sees a second of what lies on either side, after which an impulse
/// is down to 1e-10 and less. A block's step in time is its mean one. Rows too far apart for the
/// filter (a fifth of its period) are handed on unfiltered, and counted.
class ForceStream {
 public:
  using Taker = std::function<void(const ForceSample&)>;

  ForceStream(const MeasuredRecord& record, Taker take);

  void add(const RecordRow& row);
  /// Hands on what waits; to be called when the run has ended.
  void finish();
  const RowSteps& steps() const { return steps_; }

 private:
  bool follows(const RecordRow& row);
  ForceSample sample_of(const RecordRow& row) const;
  void filter(std::size_t up_to);
  void end_piece();

  const MeasuredRecord& record_;
  Taker take_;
  bool filters_;
  RowSteps steps_;
  std::optional<RecordRow> last_;  ///< the last with a force
  bool begins_piece_ = true;
  std::vector<ForceSample> waiting_;  ///< for the filter
  std::size_t done_ = 0;              ///< of these have been handed on
  double waiting_s_ = 0;              ///< time of those that have not
};

}  // namespace panup
