#pragma once
/// The room `dynamics`: the mechanics of wire and pantograph. It gets a contact line, pantographs
/// and a speed, and gives a history. It knows nothing of trains, routes and rules.
///
/// This header is the contact line as data. Lengths are along the track from the line's beginning,
/// heights are above the contact wire's height at a support.

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"

namespace panup {

/// A tensioned wire: contact wire, messenger wire or stitch wire.
struct Wire {
  double tension_n = 0;
  double mass_kg_per_m = 0;
  double bending_stiffness_nm2 = 0;    ///< E·I; 0: a string
  double axial_stiffness_n = 0;        ///< E·A, for a fixed termination; 0: not known
  double thermal_expansion_per_k = 0;  ///< for a fixed termination; 0: not known
  double diameter_m = 0;               ///< for wind and ice; 0: not known
  /// By which the tension in service is greater than that for which the line was built; 0 in files.
  double tension_deviation_n = 0;

  bool operator==(const Wire&) const = default;
};

enum class Termination : std::uint8_t {
  auto_tensioned,  ///< a weight or spring keeps the tension
  fixed,           ///< the tension changes with temperature and load
};

/// A dropper: a wire that pulls and never pushes. It hangs from the messenger wire, or from the
/// stitch wire where it stands within one.
struct Dropper {
  double at_m = 0;  ///< from the span's first support
  double stiffness_n_per_m = 0;
  double mass_on_contact_wire_kg = 0;  ///< clamp and half the dropper
  double mass_on_messenger_kg = 0;     ///< likewise
  double length_deviation_m = 0;       ///< by which it is longer than it was to be; 0 in files

  bool operator==(const Dropper&) const = default;
};

/// A wire slung below the messenger wire at a support, clamped to it at both ends.
struct StitchWire {
  Wire wire;
  double length_m = 0;  ///< half of it on either side of the support

  bool operator==(const StitchWire&) const = default;
};

/// What carries the wires between two spans, and at either end of the line.
struct Support {
  double encumbrance_m = 0;  ///< messenger wire above contact wire
  double messenger_stiffness_n_per_m = 0;
  bool messenger_stiffness_stated = true;  ///< else the reader has put one in
  double messenger_mass_kg = 0;
  double steady_arm_mass_kg = 0;  ///< as felt by the contact wire
  double steady_arm_stiffness_n_per_m = 0;
  std::optional<StitchWire> stitch_wire;

  bool operator==(const Support&) const = default;
};

struct Span {
  double length_m = 0;
  /// Lowest point of the contact wire below its supports, as the line is built; 0: its clamps are
  /// level.
  double pre_sag_m = 0;
  std::vector<Dropper> droppers;  ///< in order along the track

  bool operator==(const Span&) const = default;
};

/// A contact line between two terminations: n spans and n + 1 supports.
struct ContactLine {
  std::string id;
  std::string name;
  bool invented = false;
  std::string source;     ///< where its figures come from; may be empty
  Wire contact_wire;      ///< one of `contact_wires`
  int contact_wires = 1;  ///< 1, or 2 side by side
  Wire messenger_wire;
  Termination termination = Termination::auto_tensioned;
  double reference_temperature_c = 10;  ///< at which tensions and dropper lengths hold
  double mass_damping_per_s = 0;        ///< α of α M + β K
  double stiffness_damping_s = 0;       ///< β of α M + β K
  /// Of the contact wire above the rails; nothing: not stated. Only for static forces that are
  /// stated at a height.
  std::optional<double> contact_wire_height_m;
  /// Space for uplift of the contact wire at the supports; nothing: not stated.
  std::optional<double> uplift_space_mm;
  bool uplift_limited_by_design = false;  ///< the supports let the wire rise no further
  std::vector<Support> supports;
  std::vector<Span> spans;
  SourcePlace place;
};

double length_of(const ContactLine& line);

/// What the stiffness of messenger supports is taken for where it is not stated: that of a mast
/// and its cantilever if they hardly give, and that which published users of the reference model of
/// EN 50318:2002 take (doi 10.1080/00423114.2022.2085586, secondary). What lies between is common.
inline constexpr double stiff_messenger_support_n_per_m = 500000;
inline constexpr double soft_messenger_support_n_per_m = 50000;

/// Whether every support's messenger stiffness is stated.
bool states_messenger_stiffness(const ContactLine& line);

/// The line with this stiffness at the supports that do not state theirs, and as if they did.
ContactLine with_messenger_stiffness(ContactLine line, double n_per_m);

/// Chainage of each support along the line; one more than there are spans.
std::vector<double> support_positions(const ContactLine& line);

/// Whether a place lies in a stretch of line, its ends with it: sums of span lengths that should be
/// the same differ by rounding.
inline bool lies_in(double at_m, double from_m, double to_m) {
  constexpr double by_rounding_m = 1e-6;
  return at_m >= from_m - by_rounding_m && at_m <= to_m + by_rounding_m;
}

/// All contact wires of a line taken as one: mass, tension and stiffness of one times their number.
Wire combined_contact_wire(const ContactLine& line);

/// Speed of transverse waves √(T/m′), in m/s; bending stiffness left out.
/// Source: Kiessling, Puschmann, Schmieder, Contact Lines for Electric Railways (from memory).
double wave_speed(const Wire& wire);

}  // namespace panup
