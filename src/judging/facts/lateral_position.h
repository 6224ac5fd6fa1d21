#pragma once

#include <array>
#include <optional>

namespace panup {

/// Where the contact wire of one span lies, seen from above.
///
/// Between its supports the wire is a chord of the track's curve, hung from the staggers b₁ and b₂,
/// and blown out by the wind as a parabola. With x from one support to the other, l the span's
/// length, R the curve's radius, p the wind load of all wires per metre and T the sum of their
/// tensions, positions being positive towards the outside of the curve,
///
///   y(x) = b₁ + (b₂ − b₁) x/l + (w/2) x (l − x),   w = ±p/T − 1/R,
///
/// for the chord lies x (l − x)/(2R) to the inside of the track's middle: l²/8R in midspan, the
/// versine. So a curve is a wind of its own, and one closed form serves all: where the place
/// x = l/2 + (b₂ − b₁)/(w l) lies within the span, the wire's farthest position towards the side to
/// which it is bent is
///
///   |w| l²/8 + m + d²/(2 |w| l²),
///
/// m being the mean of the two staggers counted towards that side and d their difference; else the
/// larger stagger at a support decides. For R → ∞ this is p l²/(8T) + (b₁ + b₂)/2 +
/// T (b₁ − b₂)²/(2 p l²) of Kiessling, Puschmann, Schmieder, Contact Lines for Electric Railways
/// (from memory, to be confirmed); the curve is derived.
///
/// Valid for a wire that swings out as a whole with its messenger wire: both are blown alike. The
/// messenger's own supports do not give way, so that a real wire stays within it where the
/// messenger wire is tensioned more or blown less, and goes beyond it where it is the other way.
struct WireSpan {
  double length_m = 0;
  std::array<double, 2> stagger_m{};  ///< positive towards the outside of the curve
  double curvature_per_m = 0;         ///< 1/R; 0: straight
};

/// Greatest lateral position of the wire in the span, in metres from the middle of the track, with
/// the wind from either side. `bend_per_m` is p/T; 0: calm. Grows with it, or stays.
double greatest_lateral_position_m(const WireSpan& span, double bend_per_m);

/// The greatest p/T at which the wire nowhere lies farther from the middle of the track than
/// `permitted_m`, whichever side the wind comes from; nothing if it does so in the calm. The closed
/// form above, solved for w: with a and b the room that is left at the two supports,
/// |w| l²/8 = ((√a + √b)/2)².
std::optional<double> greatest_bend_per_m(const WireSpan& span, double permitted_m);

/// Wind and wires: p = ½ ρ v² c d, d being the sum of the wires' diameters, as though none stood in
/// the lee of another.
struct WindLoad {
  double air_density_kg_per_m3 = 0;
  double drag_factor = 0;
  double diameter_m = 0;
};

/// Load on all wires by a wind square to them, in newtons per metre.
double load_n_per_m(const WindLoad& wind, double speed_ms);
/// The wind that gives that load, in m/s.
double speed_ms_for(const WindLoad& wind, double load_n_per_m);

}  // namespace panup
