#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace panup {

/// How often, and how closely along the line, shapes of the wires are kept while a run goes on.
/// Above 0; where they would give more than `most_shape_times` times or `most_shape_places` places,
/// both are as fine as these allow.
struct WireShapeSettings {
  double every_s = 0.02;
  double every_m = 0.5;
};

inline constexpr std::size_t most_shape_times = 400;
inline constexpr std::size_t most_shape_places = 800;

enum class ShapedWire : std::uint8_t { contact, messenger };
/// "contact wire", "messenger wire".
std::string_view name_of(ShapedWire wire);

/// One wire over the evaluated stretch.
struct WireShape {
  ShapedWire wire{};
  std::vector<double> at_m;    ///< places: chainage along the line, evenly spaced, ends included
  std::vector<double> rest_m;  ///< by place: height at rest above the contact wire at its supports
  std::vector<std::vector<double>> lift_m;  ///< by time, then by place: above the height at rest
};

/// The wires in motion, from the time at which the first pantograph enters the evaluated stretch to
/// that at which the last one leaves it, with the pantographs that run beneath. Between places lies
/// the kink or narrow bend that a pantograph makes: the wire is higher there by up to a quarter of
/// force times spacing over tension.
struct WireShapes {
  std::vector<double> times_s;  ///< since the start of the run, evenly spaced
  std::vector<WireShape> wires;
  std::vector<std::vector<double>> pantographs_at_m;  ///< by time: chainage of each
  /// By time: of each collector head, above the contact wire's height at rest at its supports.
  std::vector<std::vector<double>> head_height_m;
};

}  // namespace panup
