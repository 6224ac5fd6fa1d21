#pragma once

#include <cstdint>

namespace panup {

/// One row, evaluated.
struct ForceSample {
  double chainage_m = 0;
  double force_n = 0;     ///< low-pass filtered
  double recorded_n = 0;  ///< as it was recorded
  double speed_kmh = 0;
  double lasts_s = 0;         ///< time that the row stands for
  double length_m = 0;        ///< length that it stands for
  bool begins_piece = false;  ///< there is a gap before it
};

/// Figures of measured contact force over a stretch, as EN 50317 (from memory) asks for them: of
/// the force filtered at 20 Hz mean, standard deviation (of the whole, not of a sample) and
/// extremes; every row counts alike. Contact loss is taken from the force as it was recorded.
struct MeasuredFigures {
  std::int64_t rows = 0;
  double from_m = 0;    ///< least chainage
  double to_m = 0;      ///< greatest
  double length_m = 0;  ///< that the rows stand for, gaps left out
  double mean_n = 0;
  double std_n = 0;
  double max_n = 0;
  double min_n = 0;
  double max_at_m = 0;
  double min_at_m = 0;
  double mean_kmh = 0;
  double least_kmh = 0;
  double greatest_kmh = 0;
  double contact_loss_percent = 0;  ///< share of the time
  double longest_contact_loss_ms = 0;
  std::int64_t contact_losses = 0;  ///< how many

  double statistical_max_n() const { return mean_n + 3 * std_n; }
  double statistical_min_n() const { return mean_n - 3 * std_n; }
};

/// Adds rows up, one after the other, in a memory that does not grow. Mean and standard deviation
/// by Welford's method, which keeps its digits over any number of rows.
/// Source: B. P. Welford, Note on a method for calculating corrected sums of squares and products,
/// Technometrics 4 (1962).
class ForceSum {
 public:
  /// Contact counts as lost where the recorded force is no greater than `loss_n`.
  explicit ForceSum(double loss_n) : loss_n_(loss_n) {}

  void add(const ForceSample& sample);
  /// All zero where nothing was added.
  MeasuredFigures figures() const;

 private:
  void add_loss(const ForceSample& sample);

  double loss_n_;
  MeasuredFigures sum_;
  double squares_ = 0;
  double time_s_ = 0;
  double lost_s_ = 0;
  double losing_s_ = 0;  ///< the contact loss that goes on
};

}  // namespace panup
