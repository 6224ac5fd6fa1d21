#pragma once

#include <algorithm>

#include "dynamics/contact_shape.h"
#include "dynamics/line_motion.h"
#include "dynamics/pantograph_motion.h"

namespace panup {

/// Where a collector head meets the contact wire, moving along it at a steady speed.
///
/// Unilateral penalty contact: force = penetration over the compliance of the contact, or 0; the
/// penetration is the mean (g[n−1] + 2 g[n] + g[n+1])/4, solved for the force in closed form. To
/// the contact's compliance comes what the grid lacks under a moving force (`missing_lifts`).
class ContactPoint {
 public:
  ContactPoint(const LineGrid& grid, const std::vector<ShapeNode>& shape,
               const PantographModel& model, double at_m, double speed_ms, double step_s);

  /// The force that acts now, once both line and pantograph have been advanced; presses both.
  double meet(LineMotion& line, PantographMotion& pantograph);

  double at_m() const { return at_m_; }
  double height_of_start() const { return height_now_; }
  /// Now, of the wire at the contact; before `meet`.
  double wire_height(const LineMotion& line) const {
    return height_now_ + line.lift(now_) + force_n_ * (compliance() - contact_compliance_);
  }
  double lift(const LineMotion& line) const { return wire_height(line) - height_now_; }
  /// Work of the train's motion in the step of the last `meet`: −F·v·w′, w being the wire's height
  /// at rest in time, and what the compliance changes by along the grid.
  double traction_work() const { return traction_work_; }
  double stored_energy() const { return stored_ * stored_ / stored_compliance_ / 2; }

 private:
  double compliance() const { return compliance_at(now_); }
  double compliance_at(const GridPoint& point) const {
    // Where the grid gives more than the wire, the contact makes up for it as far as it can.
    return std::max(contact_compliance_ + missing_compliance(missing_, point.share),
                    0.1 * contact_compliance_);
  }

  const LineGrid* grid_;
  ShapeWalk shape_;
  double start_m_;
  double speed_ms_;
  double step_s_;
  double contact_compliance_ = 0;
  std::array<double, 4> missing_{};  ///< lifts under the moving force that the grid lacks
  long step_ = 0;
  double at_m_ = 0;
  GridPoint now_;
  double height_now_ = 0;        ///< of the static shape
  double whole_before_ = 0;      ///< of the wire under the head
  double whole_now_ = 0;         ///< likewise
  double lift_here_before_ = 0;  ///< one step ago, at the place of now
  double gap_before_ = 0;
  double gap_now_ = 0;
  double stored_ = 0;  ///< penetration at the half step after the last `meet`
  double stored_compliance_ = 0;
  double force_n_ = 0;
  double traction_work_ = 0;
};

}  // namespace panup
