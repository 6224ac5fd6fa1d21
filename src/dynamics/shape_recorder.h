#pragma once

#include <span>
#include <vector>

#include "dynamics/contact_point.h"
#include "dynamics/run_course.h"

namespace panup {

/// Keeps the shapes of a run's wires as it goes on. Room for them is taken at construction.
class ShapeRecorder {
 public:
  /// `grid` must outlive it. `train_m`: from the first pantograph to the last.
  ShapeRecorder(const WireShapeSettings& settings, const LineGrid& grid, const RunCourse& course,
                double train_m, double speed_ms, double step_s);

  /// Notes the state after so many steps, if it is one of those wanted.
  void note(long steps_done, const LineMotion& line, std::span<const ContactPoint> contacts,
            std::span<const PantographMotion> pantographs);

  /// All that was noted; heights at rest are left open. Nothing is kept.
  WireShapes take();

 private:
  long first_ = 0;
  long every_ = 1;
  long last_ = 0;
  double step_s_;
  std::vector<std::vector<GridPoint>> points_;  ///< by wire, then by place
  WireShapes shapes_;
};

/// Sets the heights at rest, on a line that hangs in the weather of `settings`; `contact_shape` is
/// that of its static state.
void add_rest_heights(WireShapes& shapes, const ContactLine& line,
                      const SimulationSettings& settings,
                      const std::vector<ShapeNode>& contact_shape);

}  // namespace panup
