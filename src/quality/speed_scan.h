#pragma once

#include <map>
#include <vector>

#include "quality/criteria.h"
#include "quality/permitted_speed.h"

namespace panup {

/// How finely speeds are looked at.
struct ScanSettings {
  std::vector<double> speeds_kmh;  ///< rising; at least one; the last is the greatest of interest
  double edge_kmh = 1;  ///< speeds between them are whole multiples of it, so that scans of one
                        ///< configuration up to different speeds share their runs
  double steepest_margin_per_kmh = 0;
  double close_margin = 0;
};

/// The settings that a rule of kind `speed-by-mechanics` states, up to a speed.
ScanSettings scan_settings(const Rule& rule, double to_kmh);

/// Looks for the greatest speed below which every speed passes, one round of runs after another:
///
///   while (const auto speeds = scan.wanted(); !speeds.empty())
///     for (const double speed : speeds) scan.add(speed, judgement_at(speed));
///
/// First the steps from below until one fails. Then, below it, every gap in which the swinging
/// margins of both ends would not keep a margin as steep as `steepest_margin_per_kmh` from sinking
/// below 0 is halved, down to `edge_kmh`: no failing band is jumped whose flanks are no steeper.
/// And so is the gap of the edge.
class SpeedScan {
 public:
  explicit SpeedScan(ScanSettings settings);

  /// Speeds to be judged next, rising, at most `most` of the first steps at once; empty when done.
  std::vector<double> wanted(std::size_t most = 4) const;
  void add(double speed_kmh, Judgement judgement);
  /// Speeds that the result stands on and that were judged by a run in a longer step, when nothing
  /// else is wanted: they are to be judged in the step of the rule book.
  std::vector<double> unsettled() const;

  /// As far as is known: whole when nothing is wanted any more.
  PermittedSpeed result() const;

 private:
  using Known = std::map<double, Judgement>;
  Known::const_iterator first_failing() const;
  /// With the least margin of those that pass below `failing`; its end if there is none.
  Known::const_iterator least_passing(Known::const_iterator failing) const;

  ScanSettings settings_;
  Known known_;
};

}  // namespace panup
