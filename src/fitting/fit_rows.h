#pragma once

#include <istream>
#include <vector>

#include "records/compare_record.h"
#include "records/measured_record.h"

namespace panup {

/// A measured force that the fit looks at, by the place on the line as the train met it.
struct FitRow {
  double at_m = 0;
  double force_n = 0;
  int block = 0;          ///< rows of one block swing together; see `fit_record`
  bool left_out = false;  ///< of the fit, as its check
};

/// One pantograph over one run.
struct FitSeries {
  std::size_t pantograph = 0;  ///< index into the record's pantographs
  std::vector<FitRow> rows;    ///< by rising place
};

struct FitRun {
  bool falling = false;
  double speed_kmh = 0;
  std::vector<FitSeries> series;
};

/// Every so many blocks one is left out.
inline constexpr int left_out_every = 5;
/// Spans of a block.
inline constexpr int spans_of_block = 2;

/// Reads a run that was evaluated without a mistake once more, and keeps the rows that lie where a
/// simulation says something: no more of them than the force, filtered at 20 Hz or less, has to
/// say, which is two a period of the cut-off. What is kept grows with the line, not with the rows.
FitRun fit_rows(std::istream& stream, const MeasuredRecord& record, const MeasuredRun& run,
                const ContactLine& line, const ComparedStretches& stretches);

}  // namespace panup
