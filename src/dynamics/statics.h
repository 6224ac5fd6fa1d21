#pragma once

#include <string>
#include <variant>
#include <vector>

#include "base/sentence.h"
#include "dynamics/contact_line.h"

namespace panup {

/// What weighs on the wires beside themselves, and how warm it is.
struct LineWeather {
  double temperature_c = 10;
  double ice_on_contact_wire_kg_per_m = 0;    ///< on each contact wire
  double ice_on_messenger_wire_kg_per_m = 0;  ///< on stitch wires too
};

/// A dropper in the static state.
struct StaticDropper {
  int span = 0;         ///< counted from 0
  double at_m = 0;      ///< chainage along the line
  double force_n = 0;   ///< 0: slack
  double slack_m = 0;   ///< by which its ends are nearer than its length; 0: taut
  double length_m = 0;  ///< unstretched, as it is to be cut, between the wires' centre lines
  bool on_stitch_wire = false;
};

/// A point of the static shape. Heights above the contact wire at its supports in the state that
/// the line is built for.
struct StaticPoint {
  double at_m = 0;
  double contact_wire_m = 0;
  double messenger_wire_m = 0;
  /// Lift of the contact wire per newton pressed there, for a force so small that no dropper goes
  /// slack by it; those that are slack at rest are left out. Under a pantograph's whole force
  /// droppers may slacken, and the lift per newton is then greater.
  double elasticity_mm_per_n = 0;
};

/// A place of the contact wire's static shape. Between two of them the shape is the cubic that has
/// their heights and the slopes on their inner sides.
struct ShapeNode {
  double at_m = 0;
  double height_m = 0;
  double slope_before = 0;  ///< just before it; without bending stiffness the wire has a kink here
  double slope_after = 0;   ///< just after it
};

/// The line at rest.
struct StaticState {
  double contact_tension_n = 0;  ///< of all contact wires together
  double messenger_tension_n = 0;
  std::vector<StaticDropper> droppers;
  std::vector<ShapeNode> contact_shape;  ///< from the line's beginning to its end
  std::vector<StaticPoint> points;
  std::vector<double> contact_sag_m;    ///< by span: lowest point below the line of its supports
  std::vector<double> built_sag_m;      ///< the same as the line is built: the pre-sag got
  std::vector<double> messenger_sag_m;  ///< by span: lowest point below the line of its supports
  double contact_weight_n = 0;          ///< of contact wires, clamps and steady arms on them
  double steady_arm_force_n = 0;        ///< carried by the steady arms' stiffness, upward
  double termination_force_n = 0;       ///< carried by the contact wire's ends, upward
};

/// The line at rest in the weather given, with `points_per_span` points in each span, ends
/// included, and the elasticity at each of them if `with_elasticity`.
///
/// The line is built so that, at its reference temperature and without ice, the lowest point of the
/// contact wire in each span lies by the pre-sag below its supports, as on a data sheet; at the
/// line's two ends it lies at height 0. Dropper lengths follow. At the supports between it hangs by
/// the droppers beside them, because steady arms carry nothing then: it is lowest there where its
/// clamps lie level, which is what a pre-sag of 0 asks for. With pre-sag the clamps lie on a
/// parabola in each span, whose depth is solved for. In other weather lengths stay, and the wires
/// find their new place; droppers may then be slack. The same holds where tensions or dropper
/// lengths deviate from those that the line was built for.
///
/// Wires are small-displacement tensioned beams, EI w⁗ − T w″ = p, as `BeamSystem` takes them:
/// strings are exact, bending ones within a thousandth of the closed forms in docs/validation.md.
/// Tensions of a fixed termination follow from `tension_after`: the contact wire's with the
/// shortest mean distance of droppers for its span, the messenger wire's with the ruling span and
/// the load of both wires. A stitch wire keeps its own.
///
/// Fails with reasons, in words, where the line cannot hang so: a dropper that would have to push,
/// one of no length, a figure missing for the change of tension.
std::variant<StaticState, std::vector<Sentence>> static_state(const ContactLine& line,
                                                              const LineWeather& weather,
                                                              int points_per_span,
                                                              bool with_elasticity);

}  // namespace panup
