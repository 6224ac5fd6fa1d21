#pragma once

#include <cstddef>
#include <vector>

#include "records/measured_figures.h"

namespace panup {

/// A stretch of a record, by chainage in the direction of travel.
struct RecordStretch {
  double from_m = 0;
  double to_m = 0;
};

/// The course of a measured force for a drawing, in a memory that does not grow: of each of at most
/// `most_parts` even parts of the rows, where the force is least and where it is greatest, so that
/// no peak and no dip is lost. Parts grow, two becoming one, as rows come.
class ForceTrace {
 public:
  struct Point {
    double chainage_m = 0;
    double force_n = 0;
  };

  void add(const ForceSample& sample);
  /// In the order in which they were measured; pieces between gaps apart, but for gaps that are too
  /// near each other to be drawn.
  std::vector<std::vector<Point>> pieces() const;

  static constexpr std::size_t most_parts = 4000;

 private:
  struct Part {
    std::size_t rows = 0;
    bool begins_piece = false;
    Point first;  ///< of least and greatest, the one that came first
    Point second;
    bool least_first = true;
  };

  static void take(Part& part, const Point& point);
  void merge();

  std::vector<Part> parts_;
  std::size_t rows_of_part_ = 1;
};

}  // namespace panup
