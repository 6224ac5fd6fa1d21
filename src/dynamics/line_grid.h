#pragma once

#include <array>
#include <string>
#include <variant>
#include <vector>

#include "dynamics/contact_line.h"
#include "dynamics/statics.h"

namespace panup {

/// A wire as masses on an even grid. The force on node j from its neighbours is
///
///     T (u[j−1] − 2 u[j] + u[j+1]) / h − E I (u[j−2] − 4 u[j−1] + 6 u[j] − 4 u[j+1] + u[j+2]) / h³
///
/// with u the lift above the static shape and h the distance of nodes: second-order differences.
/// Ends are held, without moment; those of a stitch wire are free, and clamped by springs.
struct GridWire {
  double first_m = 0;    ///< chainage of node 0
  double spacing_m = 0;  ///< h
  int cells = 0;         ///< nodes are 0 to `cells`
  double node_mass_kg = 0;
  double tension_n = 0;
  double bending_stiffness_nm2 = 0;
  bool free_ends = false;
};

/// A place on a grid wire: what acts there acts on four nodes in turn from `node` on, by these
/// shares, and lifts there are interpolated with the same. Between two nodes that have neighbours
/// the shares are those of the cubic through all four: waves pass it almost unchanged, while shares
/// on two nodes alone would take from those that a pantograph sends ahead, whose length is short.
struct GridPoint {
  int wire = 0;
  int node = 0;
  std::array<double, 4> share{};
};

enum class SpringKind : std::uint8_t { dropper, support, steady_arm, clamp };

/// A spring between two wires, or between a wire and the ground. Its force in excess of the static
/// one is max(−static force, (e − slack) / compliance), e being the lift of its upper end less that
/// of its lower.
struct GridSpring {
  SpringKind kind{};
  double at_m = 0;
  GridPoint lower{};
  GridPoint upper{};      ///< unused where it is held by the ground
  bool grounded = false;  ///< its upper end does not move
  double compliance_m_per_n = 0;
  double static_force_n = 0;  ///< infinite for what pushes as well as pulls
  double slack_m = 0;
};

/// A mass sitting on a node beside the wire's own.
struct GridMass {
  int wire = 0;
  int node = 0;
  double mass_kg = 0;
};

/// A contact line made discrete, about its static state. Wire 0 is the contact wire (all of them
/// together), wire 1 the messenger wire, the others are stitch wires.
struct LineGrid {
  double length_m = 0;
  double mass_damping_per_s = 0;
  double stiffness_damping_s = 0;
  std::vector<GridWire> wires;
  std::vector<GridSpring> springs;  ///< by rising chainage
  std::vector<GridMass> masses;     ///< by rising chainage; a node once
  std::vector<GridPoint> supports;  ///< places of the contact wire at the supports, ends included
};

/// The static lift under one newton on an endless wire of this tension and bending stiffness, less
/// that of its grid, both pressed and felt with these shares. The wire has a kink or a narrow bend
/// under a point force that the grid cannot show; a spring in series with the force makes up for
/// it. With λ = √(EI/T) and h the distance of nodes, lifts at a distance are, up to what both have
/// in common,
///
///     wire   −|x|/2T − λ/2T · e^(−|x|/λ)
///     grid   −h|n|/2T − h/T · z^|n| / (1/z − z),  z + 1/z = 2 + T h²/EI
///
/// May be below 0 with bending stiffness.
double missing_compliance(const GridWire& wire, const std::array<double, 4>& share);

/// The point at a chainage, which lies on the wire.
GridPoint grid_point(const LineGrid& grid, int wire, double at_m);

/// The grid spacing of a wire, before it is fitted into its length, that a step needs to be stable:
/// (Δt² + 2 β Δt) (T/(m′h²) + 4 EI/(m′h⁴)) ≤ `greatest_courant_squared`.
/// Central differences; stiffness damping is taken half a step late. Springs do not enter, for they
/// are averaged over three steps.
double stable_spacing(const Wire& wire, double stiffness_damping_s, double step_s);

inline constexpr double greatest_courant_squared = 0.96;

/// Whether a step is stable on every wire of the grid.
bool is_stable(const LineGrid& grid, double step_s);

/// The grid of a line in its static state. `contact_spacing_m` 0: as `stable_spacing` says; that of
/// other wires always is. Fails, in words, where the droppers are too near to each other for it.
std::variant<LineGrid, std::string> make_grid(const ContactLine& line, const StaticState& state,
                                              double step_s, double contact_spacing_m);

}  // namespace panup
