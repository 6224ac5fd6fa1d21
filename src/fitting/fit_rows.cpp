#include "fitting/fit_rows.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "records/force_stream.h"
#include "records/row_reader.h"

namespace panup {

namespace {

/// Keeps what is wanted of one pantograph's samples.
class SeriesTaker {
 public:
  SeriesTaker(const MeasuredRecord& record, const MeasuredRun& run, const ContactLine& line,
              const ComparedStretches& stretches)
      : record_(record),
        falling_(run.falling),
        line_(line),
        supports_(support_positions(run.falling ? mirrored(line) : line)),
        stretch_(run.falling ? stretches.falling : stretches.rising),
        stream_(record, [this](const ForceSample& sample) { take(sample); }) {}

  void add(const RecordRow& row) { stream_.add(row); }

  std::vector<FitRow> finished() {
    stream_.finish();
    return std::move(rows_);
  }

 private:
  void take(const ForceSample& sample) {
    if (sample.chainage_m < stretch_.from_m || sample.chainage_m > stretch_.to_m) {
      return;
    }
    const double begins_m = *record_.contact_line_at_m;
    const double at_m =
        falling_ ? begins_m + length_of(line_) - sample.chainage_m : sample.chainage_m - begins_m;
    const double apart_m = sample.speed_kmh / 3.6 / (2 * evaluated_low_pass_hz(record_));
    if (!rows_.empty() && at_m < rows_.back().at_m + apart_m) {
      return;
    }
    const auto after = std::ranges::upper_bound(supports_, at_m);
    const auto span = static_cast<int>(after - supports_.begin()) - 1;
    const int block = span / spans_of_block;
    rows_.push_back({.at_m = at_m,
                     .force_n = sample.force_n,
                     .block = block,
                     .left_out = block % left_out_every == left_out_every - 1});
  }

  const MeasuredRecord& record_;
  bool falling_;
  const ContactLine& line_;
  std::vector<double> supports_;
  RecordStretch stretch_;
  std::vector<FitRow> rows_;
  ForceStream stream_;
};

}  // namespace

FitRun fit_rows(std::istream& stream, const MeasuredRecord& record, const MeasuredRun& run,
                const ContactLine& line, const ComparedStretches& stretches) {
  std::vector<std::unique_ptr<SeriesTaker>> takers;
  for (std::size_t i = 0; i < record.pantographs.size(); ++i) {
    takers.push_back(std::make_unique<SeriesTaker>(record, run, line, stretches));
  }
  RowCounts counts;
  Diagnostics mistakes;
  Diagnostics bad_rows;
  read_rows(
      stream, record, record.runs[run.run],
      [&](const RecordRow& row) { takers[row.pantograph]->add(row); }, counts, mistakes, bad_rows);
  FitRun out;
  out.falling = run.falling;
  double speed_kmh = 0;
  for (const MeasuredPantograph& one : run.pantographs) {
    out.series.push_back({one.pantograph, takers[one.pantograph]->finished()});
    speed_kmh += one.compared.mean_kmh;
  }
  out.speed_kmh = speed_kmh / static_cast<double>(run.pantographs.size());
  return out;
}

}  // namespace panup
