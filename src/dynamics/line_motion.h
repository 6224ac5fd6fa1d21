#pragma once

#include <array>
#include <limits>
#include <span>
#include <vector>

#include "dynamics/line_grid.h"
#include "dynamics/spring_motion.h"

namespace panup {

/// What moves on a wire besides its springs: a force of a pantograph on the contact wire.
struct PointForce {
  GridPoint at;
  double force_n = 0;
};

/// Energy of the line at a half step, as the scheme conserves it: see `EnergyBalance`.
struct LineEnergy {
  double kinetic_j = 0;
  double potential_j = 0;  ///< in excess of the static state
};

/// Whoever carries on only what has been reached, by the reach of the differences in each step,
/// starts with this much more. A spring that is touched passes a lift on at once through its four
/// nodes, and each does so to the next; over this distance such forerunners die away to nothing.
inline constexpr double reached_margin_m = 25;

/// Over this distance from where a moving part of a line is cut off, waves are taken out of it.
inline constexpr double soft_m = 60;
/// Once in so many steps.
inline constexpr int steps_between_softenings = 4;

/// A contact line in motion. The wires step by central differences, whose limit of stability
/// `is_stable` states; droppers, supports and clamps act with the mean (e[n−1] + 2 e[n] + e[n+1])/4
/// of their elongation (`SpringMotion`). That mean keeps them stable at any stiffness. The scheme
/// is of second order, and of first order in stiffness damping, which is taken half a step late.
///
/// Use:
///     LineMotion motion(grid, step_s);
///     motion.advance(reached_m);              // wires and springs, not yet pantographs
///     … motion.next_lift(point) … → force
///     motion.press(force);                    // for each pantograph
///     motion.accept();                        // the new state is now the present one
///
/// Nothing is allocated after construction.
class LineMotion {
 public:
  /// `grid` must outlive it.
  LineMotion(const LineGrid& grid, double step_s);
  LineMotion(const LineMotion&) = delete;
  LineMotion& operator=(const LineMotion&) = delete;

  /// From now on the line moves from `from_m` to `to_m` only, by chainage: what lies before stays
  /// as it lies, what lies beyond is at rest and must not have moved yet. Neither goes back. Energy
  /// and dissipation are those of this part.
  void keep_to(double from_m, double to_m);
  /// Takes the speed out of the wires towards either end at which `keep_to` has cut the part off,
  /// and towards the end of the line, lest they throw waves back. Between `accept` and `advance`,
  /// once in `steps_between_softenings`. Gives the energy that it takes; that of extra masses,
  /// which is little, is not counted.
  double soften();

  /// Carries all nodes and springs up to chainage `reached_m` one step on; beyond it the line must
  /// be at rest. `dissipation` asks for the state before as well: `with_dissipation` keeps it.
  void advance(double reached_m, bool with_dissipation = false);
  /// Adds a pantograph's force, that acts now, to the state one step on.
  void press(const PointForce& force);
  /// Settles anew the springs that share nodes with a force at `point`, after it has been pressed
  /// or has changed. Whether there are any.
  bool settle_beside(const GridPoint& point);
  void accept();

  /// Lift at a point now.
  double lift(const GridPoint& point) const { return at(present_, point); }
  /// Lift at a point one step on, as far as it has been reckoned.
  double next_lift(const GridPoint& point) const { return at(next_, point); }
  /// Lift one step on at `felt` by one newton now at `pressed`.
  double response(const GridPoint& pressed, const GridPoint& felt) const;

  /// Of the half step between the state before and the present one.
  LineEnergy energy() const;
  /// What damping takes in one step, between an `advance` that kept what it needs and `accept`. 0
  /// without damping.
  double dissipation() const;
  bool damped() const { return damped_; }

  /// Of a spring, by its place in the grid's.
  SpringRecord spring(std::size_t index) const { return springs_.record(index); }

  std::span<const double> present(int wire) const;

 private:
  struct WireStep {
    std::size_t first = 0;  ///< of node 0 in the arrays
    double own = 0;         ///< of a node's present lift
    double old = 0;         ///< of its lift before
    double force = 0;       ///< Δt²/m and mass damping: lift per newton
    double stretch = 0;     ///< T/h
    double bend = 0;        ///< E I/h³
    bool has_masses = false;
    std::vector<double> soft;         ///< share of the speed taken at a time, from an end on
    std::vector<double> soft_to_end;  ///< the same, towards an end
  };

  /// The nodes of a wire that move, both included; none if `last` is before `first`.
  struct MovingNodes {
    int first = 0;
    int last = 0;
  };
  /// Masses, by their places in the order of chainage: from the first to before the last.
  struct Moving {
    std::size_t first = 0;
    std::size_t last = 0;
  };
  static Moving moving_of(const std::vector<double>& at_m, double from_m, double to_m);
  void leave(std::size_t wire, int first);

  std::size_t node_of(const GridPoint& point) const;
  double at(const double* lifts, const GridPoint& point) const;
  void step_wire(std::size_t index, int last);
  double soften_wire(std::size_t index);

  const LineGrid* grid_;
  double step_s_;
  bool damped_ = false;
  std::vector<WireStep> wires_;
  double from_m_ = -std::numeric_limits<double>::infinity();
  double to_m_ = std::numeric_limits<double>::infinity();
  double clear_m_ = 0;              ///< of a cut, within which no spring acts
  std::vector<MovingNodes> nodes_;  ///< by wire
  Moving moving_masses_;
  SpringMotion springs_;
  std::vector<std::size_t> mass_nodes_;  ///< by mass, in the arrays of lifts
  std::vector<double> mass_at_m_;
  struct alignas(64) LiftRow {
    std::array<double, 8> lifts{};
  };
  std::vector<LiftRow> lifts_;  ///< two or three times those of all wires
  double* present_ = nullptr;
  double* before_ = nullptr;
  double* next_ = nullptr;   ///< the array of the state before, or the spare one
  double* spare_ = nullptr;  ///< with damping only
  /// m/(m + M) by node, one where there is no extra mass; empty if the line has none.
  std::vector<LiftRow> mass_shares_;
  std::vector<double> node_force_;  ///< lift per newton by node, extra masses included
};

}  // namespace panup
