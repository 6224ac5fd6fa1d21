#pragma once

#include <array>
#include <string>
#include <variant>
#include <vector>

#include "base/sentence.h"
#include "dynamics/contact_line.h"
#include "dynamics/statics.h"

namespace panup {

/// A wire as masses on an even grid. The force on node j from its neighbours is
///
///     T (u[j−1] − 2 u[j] + u[j+1]) / h − E I (u[j−2] − 4 u[j−1] + 6 u[j] − 4 u[j+1] + u[j+2]) / h³
///
/// with u the lift above the static shape and h the distance of nodes. To the wire's own E I is
/// added T h² (1 − C²)/12, with C = c Δt/h: so the error of the second differences in space meets
/// that of the central difference in time, and waves keep their speed to fourth order. Ends are
/// held, without moment; those of a stitch wire are free, and clamped by springs.
struct GridWire {
  double first_m = 0;    ///< chainage of node 0
  double spacing_m = 0;  ///< h
  int cells = 0;         ///< nodes are 0 to `cells`
  double node_mass_kg = 0;
  double tension_n = 0;
  double bending_stiffness_nm2 = 0;  ///< the wire's own
  double added_stiffness_nm2 = 0;    ///< in the differences only
  bool free_ends = false;
};

/// A place on a grid wire: what acts there acts on four nodes in turn from `node` on, by these
/// shares, and lifts there are interpolated with the same. Between two nodes that have neighbours
/// the shares are those of cubic convolution (Keys, 1981, with a = −1/2): smooth when the place
/// moves from cell to cell, so that little noise is made, and true to short waves, such as a
/// pantograph sends ahead. Beside an end they are linear.
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

/// What the grid lacks of the lift under a point force: the wire has a kink or a narrow bend there
/// that differences cannot show. By the distance in cells, 0 to 3, between the node that is pressed
/// and the one that is felt, per newton; on an endless wire, at rest, with λ = √(EI/T), h the
/// distance of nodes, and up to what both have in common, lifts are
///
///     wire   −|x|/2T − λ/2T · e^(−|x|/λ)    at x = 0
///     grid   −h|n|/2T − h/T · z^|n| / (1/z − z),  z + 1/z = 2 + T h²/EI
/// (EI of the differences)
///
/// Under a force that moves at a steady speed v it is the same with T − m′v² for T (Frýba,
/// Vibration of Solids and Structures under Moving Loads, from memory).
std::array<double, 4> missing_lifts(const GridWire& wire);

/// What a point with these shares lacks, per newton, pressed and felt there: a spring in series
/// with the force makes up for it. May be below 0 with bending stiffness.
double missing_compliance(const std::array<double, 4>& lifts, const std::array<double, 4>& share);

/// The point at a chainage, which lies on the wire.
GridPoint grid_point(const LineGrid& grid, int wire, double at_m);

/// The least grid spacing of a wire with which a step is stable, E I being that of the differences:
/// (Δt² + 2 β Δt) (T/(m′h²) + 4 EI/(m′h⁴)) ≤ `greatest_courant_squared`.
/// Central differences; stiffness damping is taken half a step late. Springs do not enter,
/// because they are averaged over three steps.
double stable_spacing(const Wire& wire, double stiffness_damping_s, double step_s);

inline constexpr double greatest_courant_squared = 0.96;

/// Whether a step is stable on every wire of the grid.
bool is_stable(const LineGrid& grid, double step_s);

/// The grid of a line in its static state. `contact_spacing_m` 0: as `stable_spacing` says; that of
/// other wires always is. Fails, in words, where droppers are too near to each other or to the
/// ends of stitch wires for it.
std::variant<LineGrid, Sentence> make_grid(const ContactLine& line, const StaticState& state,
                                           double step_s, double contact_spacing_m);

}  // namespace panup
