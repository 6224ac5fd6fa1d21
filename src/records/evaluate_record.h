#pragma once

#include <istream>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "records/force_stream.h"
#include "records/force_trace.h"
#include "records/measured_figures.h"
#include "records/measured_record.h"
#include "records/row_reader.h"

namespace panup {

/// Figures of one tension length, or of one kilometre where none are stated.
struct StretchFigures {
  std::string id;  ///< of the tension length; "km 12"
  double from_m = 0;
  double to_m = 0;
  MeasuredFigures figures;

  /// Share of its length that was measured.
  double covered() const { return figures.length_m / (to_m - from_m); }
};

/// Figures of one span.
struct SpanFigures {
  std::string tension_length;
  double from_m = 0;
  double to_m = 0;
  MeasuredFigures figures;
};

/// Contact losses that are kept with their place; further ones are counted.
inline constexpr std::size_t most_losses_kept = 2000;

/// One pantograph over one run.
struct MeasuredPantograph {
  std::size_t pantograph = 0;  ///< index into the record's pantographs
  MeasuredFigures whole;
  std::vector<StretchFigures> stretches;  ///< those with rows, by rising chainage
  std::vector<SpanFigures> spans;         ///< likewise
  RowSteps steps;
  std::vector<RecordStretch> losses;  ///< the first `most_losses_kept`
  ForceTrace trace;
  MeasuredFigures compared;  ///< over the stretch that a simulation is set beside
  ForceTrace compared_trace;
};

struct MeasuredRun {
  std::size_t run = 0;   ///< index into the record's runs
  bool falling = false;  ///< the train ran towards falling chainage
  RowCounts counts;
  Diagnostics bad_rows;                         ///< the first of those left out
  std::vector<MeasuredPantograph> pantographs;  ///< those of which there are rows
};

/// The stretches to which a simulation says something, by chainage; they depend on the direction of
/// travel, because a run begins well before what is evaluated.
struct ComparedStretches {
  RecordStretch rising;
  RecordStretch falling;  ///< from the lower chainage too
};

/// Reads and evaluates one run. What is kept does not grow with the rows, but with the tension
/// lengths, or the kilometres. Nothing, and something in `mistakes`, where the file is not what the
/// record says, or has bad rows that it does not say to leave out. Without `compared`, a
/// simulation is set beside the whole run.
std::optional<MeasuredRun> evaluate_run(std::istream& stream, const MeasuredRecord& record,
                                        std::size_t run,
                                        const std::optional<ComparedStretches>& compared,
                                        Diagnostics& mistakes);

}  // namespace panup
