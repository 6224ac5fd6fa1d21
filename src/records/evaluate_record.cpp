#include "records/evaluate_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

namespace panup {

namespace {

constexpr double kilometre_m = 1000;

/// A span of a tension length, or a kilometre.
struct Place {
  double from_m = 0;
  double to_m = 0;
  std::size_t tension_length = 0;
};

std::vector<Place> spans_of(const MeasuredRecord& record) {
  std::vector<Place> spans;
  for (std::size_t i = 0; i < record.tension_lengths.size(); ++i) {
    const std::vector<double>& supports = record.tension_lengths[i].supports_m;
    for (std::size_t k = 0; k + 1 < supports.size(); ++k) {
      spans.push_back({supports[k], supports[k + 1], i});
    }
  }
  return spans;
}

/// Everything that is added up of one pantograph.
class PantographSums {
 public:
  PantographSums(const MeasuredRecord& record, const std::vector<Place>& spans,
                 const std::optional<ComparedStretches>& compared)
      : record_(record),
        spans_(spans),
        compared_(compared),
        whole_(record.loss_at_or_below_n),
        compared_sum_(record.loss_at_or_below_n),
        stream_(record, [this](const ForceSample& sample) { take(sample); }) {
    const ForceSum none(record.loss_at_or_below_n);
    of_spans_.assign(spans.size(), none);
    of_lengths_.assign(record.tension_lengths.size(), none);
  }

  void add(const RecordRow& row) { stream_.add(row); }

  MeasuredPantograph finished(std::size_t pantograph) {
    stream_.finish();
    MeasuredPantograph out;
    out.pantograph = pantograph;
    out.whole = whole_.figures();
    out.steps = stream_.steps();
    out.losses = std::move(losses_);
    out.trace = std::move(trace_);
    out.compared = compared_ ? compared_sum_.figures() : out.whole;
    out.compared_trace = std::move(compared_trace_);
    add_places(out);
    return out;
  }

  bool falling() const { return begun_ && last_m_ < first_m_; }

 private:
  void take(const ForceSample& sample) {
    if (!begun_) {
      begun_ = true;
      first_m_ = sample.chainage_m;
    }
    last_m_ = sample.chainage_m;
    whole_.add(sample);
    trace_.add(sample);
    take_loss(sample);
    if (record_.tension_lengths.empty()) {
      const auto number = static_cast<std::int64_t>(std::floor(sample.chainage_m / kilometre_m));
      of_kilometres_.try_emplace(number, record_.loss_at_or_below_n).first->second.add(sample);
    } else if (find_span(sample.chainage_m)) {
      of_spans_[at_span_].add(sample);
      of_lengths_[spans_[at_span_].tension_length].add(sample);
    }
    if (compared_ && is_compared(sample.chainage_m)) {
      compared_sum_.add(sample);
      compared_trace_.add(sample);
    }
  }

  void take_loss(const ForceSample& sample) {
    const bool lost = sample.recorded_n <= record_.loss_at_or_below_n;
    if (lost && losing_ && !sample.begins_piece) {
      if (!losses_.empty() && !losses_full_) {
        losses_.back().to_m = sample.chainage_m;
      }
    } else if (lost) {
      losses_full_ = losses_.size() >= most_losses_kept;
      if (!losses_full_) {
        losses_.push_back({sample.chainage_m, sample.chainage_m});
      }
    }
    losing_ = lost;
  }

  /// Rows come along the line, so the span is mostly that of the row before.
  bool find_span(double chainage_m) {
    const auto within = [&](const Place& span) {
      return chainage_m >= span.from_m && chainage_m < span.to_m;
    };
    if (within(spans_[at_span_])) {
      return true;
    }
    const auto after = std::ranges::upper_bound(spans_, chainage_m, {}, &Place::from_m);
    if (after == spans_.begin()) {
      return false;
    }
    at_span_ = static_cast<std::size_t>(after - spans_.begin()) - 1;
    return within(spans_[at_span_]);
  }

  bool is_compared(double chainage_m) const {
    const RecordStretch& stretch = chainage_m < first_m_ ? compared_->falling : compared_->rising;
    return chainage_m >= stretch.from_m && chainage_m <= stretch.to_m;
  }

  void add_places(MeasuredPantograph& out) const {
    for (std::size_t i = 0; i < of_spans_.size(); ++i) {
      const MeasuredFigures figures = of_spans_[i].figures();
      if (figures.rows > 0) {
        out.spans.push_back({record_.tension_lengths[spans_[i].tension_length].id, spans_[i].from_m,
                             spans_[i].to_m, figures});
      }
    }
    for (std::size_t i = 0; i < of_lengths_.size(); ++i) {
      const MeasuredFigures figures = of_lengths_[i].figures();
      const TensionLength& length = record_.tension_lengths[i];
      if (figures.rows > 0) {
        out.stretches.push_back({length.id, length.from_m(), length.to_m(), figures});
      }
    }
    for (const auto& [number, sum] : of_kilometres_) {
      const double from_m = static_cast<double>(number) * kilometre_m;
      out.stretches.push_back(
          {fmt::format("km {}", number), from_m, from_m + kilometre_m, sum.figures()});
    }
  }

  const MeasuredRecord& record_;
  const std::vector<Place>& spans_;
  const std::optional<ComparedStretches>& compared_;
  ForceSum whole_;
  ForceSum compared_sum_;
  std::vector<ForceSum> of_spans_;
  std::vector<ForceSum> of_lengths_;
  std::map<std::int64_t, ForceSum> of_kilometres_;
  ForceTrace trace_;
  ForceTrace compared_trace_;
  std::vector<RecordStretch> losses_;
  bool begun_ = false;
  bool losing_ = false;
  bool losses_full_ = false;
  std::size_t at_span_ = 0;
  double first_m_ = 0;
  double last_m_ = 0;
  ForceStream stream_;
};

/// Bad rows that make the run a mistake, with how many there are.
void report_bad_rows(const MeasuredRun& run, const std::string& file, Diagnostics& mistakes) {
  mistakes.insert(mistakes.end(), run.bad_rows.begin(), run.bad_rows.end());
  const auto more = run.counts.bad - static_cast<std::int64_t>(run.bad_rows.size());
  mistakes.push_back(
      {{.file = file},
       fmt::format("{} of {} rows cannot be read{}; mend them, or say 'leave_out_bad_rows = true', "
                   "and the result names them as gaps",
                   run.counts.bad, run.counts.rows,
                   more > 0 ? fmt::format(", of which the first {} are named", run.bad_rows.size())
                            : std::string())});
}

}  // namespace

std::optional<MeasuredRun> evaluate_run(std::istream& stream, const MeasuredRecord& record,
                                        std::size_t run,
                                        const std::optional<ComparedStretches>& compared,
                                        Diagnostics& mistakes) {
  const std::size_t before = mistakes.size();
  const std::vector<Place> spans = spans_of(record);
  std::vector<std::unique_ptr<PantographSums>> sums;
  for (std::size_t i = 0; i < record.pantographs.size(); ++i) {
    sums.push_back(std::make_unique<PantographSums>(record, spans, compared));
  }
  MeasuredRun out;
  out.run = run;
  read_rows(
      stream, record, record.runs[run],
      [&](const RecordRow& row) { sums[row.pantograph]->add(row); }, out.counts, mistakes,
      out.bad_rows);
  if (out.counts.bad > 0 && !record.layout.leave_out_bad_rows) {
    report_bad_rows(out, record.runs[run].file, mistakes);
  }
  for (std::size_t i = 0; i < sums.size(); ++i) {
    MeasuredPantograph one = sums[i]->finished(i);
    if (one.whole.rows > 0) {
      out.falling = sums[i]->falling();
      out.pantographs.push_back(std::move(one));
    }
  }
  if (mistakes.size() == before && out.pantographs.empty()) {
    mistakes.push_back({{.file = record.runs[run].file},
                        fmt::format("none of its {} rows has a force at {:g} km/h or more",
                                    out.counts.rows, least_measured_speed_kmh)});
  }
  return mistakes.size() == before ? std::optional(std::move(out)) : std::nullopt;
}

}  // namespace panup
