#pragma once

#include <cstdint>
#include <functional>
#include <istream>
#include <vector>

#include "base/diagnostics.h"
#include "records/measured_record.h"

namespace panup {

/// A row as it was measured.
struct RecordRow {
  std::size_t pantograph = 0;  ///< index into the record's pantographs
  double chainage_m = 0;       ///< of the pantograph
  double time_s = 0;           ///< 0 where no column has it
  double force_n = 0;          ///< no number where `missing`
  double speed_kmh = 0;
  bool missing = false;  ///< the record says that no force was measured here
};

/// What became of the rows of a run.
struct RowCounts {
  std::int64_t rows = 0;     ///< all lines but heading and blank ones
  std::int64_t missing = 0;  ///< without a force
  std::int64_t bad = 0;      ///< that cannot be taken for a row
  std::int64_t slow = 0;     ///< below `least_measured_speed_kmh`
  std::int64_t others = 0;   ///< of a pantograph that the record does not name as measured
};

/// Bad rows that are named; further ones are counted.
inline constexpr std::size_t most_bad_rows_named = 20;

/// Where rows go, in the order of the file.
using RowTaker = std::function<void(const RecordRow&)>;

/// Reads the rows of a run and gives each that is sound to `take`. What is wrong with the heading
/// is added to `mistakes`, and nothing is read then. Bad rows are added to `bad_rows`, the first
/// `most_bad_rows_named` of them; they are not taken.
void read_rows(std::istream& stream, const MeasuredRecord& record, const RecordRun& run,
               const RowTaker& take, RowCounts& counts, Diagnostics& mistakes,
               Diagnostics& bad_rows);

}  // namespace panup
