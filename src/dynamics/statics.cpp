#include "dynamics/statics.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/gravity.h"
#include "dynamics/beam_system.h"
#include "dynamics/conductor_state.h"
#include "dynamics/contact_shape.h"
#include "dynamics/wire_layout.h"

namespace panup {

namespace {

constexpr int most_rounds = 100;

/// Wires with the tensions and loads of one state.
struct Wires {
  Wire contact;
  Wire messenger;
  double contact_load = 0;
  double messenger_load = 0;
  double ice_on_stitch_kg_per_m = 0;
};

Wires wires_as_built(const ContactLine& line) {
  Wires wires;
  wires.contact = combined_contact_wire(line);
  wires.messenger = line.messenger_wire;
  wires.contact_load = gravity_ms2 * wires.contact.mass_kg_per_m;
  wires.messenger_load = gravity_ms2 * wires.messenger.mass_kg_per_m;
  return wires;
}

/// The messenger wire and the stitch wires clamped to it, in a system.
struct Upper {
  BeamNodes messenger;
  std::vector<BeamNodes> stitches;  ///< by support; without nodes where there is none
};

Upper add_upper(BeamSystem& system, const ContactLine& line, const WireLayout& layout,
                const Wires& wires) {
  Upper upper;
  upper.messenger = system.add_wire(wires.messenger, wires.messenger_load, layout.messenger_places);
  upper.stitches.resize(layout.supports.size());
  for (std::size_t support = 0; support < layout.supports.size(); ++support) {
    if (!has_stitch_wire(line, support)) {
      continue;
    }
    const StitchWire& stitch = *line.supports[support].stitch_wire;
    const double from = layout.supports[support] - stitch.length_m / 2;
    const double to = from + stitch.length_m;
    std::vector<double> places{from, to};
    for (const HungDropper& hung : layout.droppers) {
      if (hung.stitch == static_cast<int>(support)) {
        places.push_back(hung.at_m);
      }
    }
    sort_places(places);
    upper.stitches[support] = system.add_wire(
        stitch.wire, gravity_ms2 * (stitch.wire.mass_kg_per_m + wires.ice_on_stitch_kg_per_m),
        places, upper.messenger.lift[node_at(upper.messenger, from)],
        upper.messenger.lift[node_at(upper.messenger, to)]);
  }
  return upper;
}

int lift_at(const BeamNodes& wire, double at_m) { return wire.lift[node_at(wire, at_m)]; }

int hanging_lift(const Upper& upper, const HungDropper& hung) {
  return hung.stitch < 0
             ? lift_at(upper.messenger, hung.at_m)
             : lift_at(upper.stitches[static_cast<std::size_t>(hung.stitch)], hung.at_m);
}

double pre_sag_height(const ContactLine& line, const WireLayout& layout, const HungDropper& hung) {
  const Span& span = line.spans[static_cast<std::size_t>(hung.span)];
  const double x = hung.at_m - layout.supports[static_cast<std::size_t>(hung.span)];
  return -4 * span.pre_sag_m * x * (span.length_m - x) / (span.length_m * span.length_m);
}

/// Lowest place of a shape between two supports, below the straight line that joins them there.
double sag(const std::vector<ShapeNode>& shape, double from_m, double to_m) {
  ShapeWalk at_ends(shape);
  const double from = at_ends.height(from_m);
  const double to = at_ends.height(to_m);
  constexpr int steps = 400;
  ShapeWalk walk(shape);
  double deepest = 0;
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps;
    deepest = std::max(deepest,
                       from + share * (to - from) - walk.height(from_m + share * (to_m - from_m)));
  }
  return deepest;
}

void describe(StaticState& state, const WireLayout& layout, const Wires& wires,
              std::vector<ShapeNode> contact, const std::vector<ShapeNode>& messenger) {
  state.contact_tension_n = wires.contact.tension_n;
  state.messenger_tension_n = wires.messenger.tension_n;
  state.contact_shape = std::move(contact);
  ShapeWalk below(state.contact_shape);
  ShapeWalk above(messenger);
  state.points.clear();
  for (const double at : layout.points) {
    state.points.push_back({at, below.height(at), above.height(at), 0});
  }
  state.contact_sag_m.clear();
  state.messenger_sag_m.clear();
  for (std::size_t i = 0; i + 1 < layout.supports.size(); ++i) {
    state.contact_sag_m.push_back(
        sag(state.contact_shape, layout.supports[i], layout.supports[i + 1]));
    state.messenger_sag_m.push_back(sag(messenger, layout.supports[i], layout.supports[i + 1]));
  }
}

double weight_on_contact_wire(const ContactLine& line, const Wires& wires) {
  double weight = wires.contact_load * length_of(line);
  for (const Span& span : line.spans) {
    for (const Dropper& dropper : span.droppers) {
      weight += gravity_ms2 * dropper.mass_on_contact_wire_kg;
    }
  }
  for (std::size_t i = 1; i + 1 < line.supports.size(); ++i) {
    weight += gravity_ms2 * line.supports[i].steady_arm_mass_kg;
  }
  return weight;
}

/// What the line is built to, and the forces that its supports carry then.
struct AsBuilt {
  StaticState state;
  std::vector<double> contact_at_supports;
  std::vector<double> support_forces;
  std::vector<std::string> refusals;
};

AsBuilt build(const ContactLine& line, const WireLayout& layout) {
  AsBuilt built;
  const Wires wires = wires_as_built(line);
  BeamSystem below;
  const BeamNodes contact =
      below.add_wire(wires.contact, wires.contact_load, layout.contact_places);
  std::vector<HeldLift> held{{contact.lift.front(), 0}, {contact.lift.back(), 0}};
  for (const HungDropper& hung : layout.droppers) {
    const int lift = lift_at(contact, hung.at_m);
    held.push_back({lift, pre_sag_height(line, layout, hung)});
    below.add_force(lift, -gravity_ms2 * hung.dropper->mass_on_contact_wire_kg);
  }
  for (std::size_t i = 1; i + 1 < layout.supports.size(); ++i) {
    below.add_force(lift_at(contact, layout.supports[i]),
                    -gravity_ms2 * line.supports[i].steady_arm_mass_kg);
  }
  below.solve(held);

  BeamSystem above;
  const Upper upper = add_upper(above, line, layout, wires);
  for (const HungDropper& hung : layout.droppers) {
    StaticDropper dropper;
    dropper.span = hung.span;
    dropper.at_m = hung.at_m;
    dropper.on_stitch_wire = hung.stitch >= 0;
    dropper.force_n = below.reaction(lift_at(contact, hung.at_m));
    if (dropper.force_n < 0) {
      built.refusals.push_back(fmt::format(
          "the dropper at {:.2f} m of span {} would have to push with {:.1f} N to hold the contact "
          "wire on its pre-sag; less pre-sag, or droppers elsewhere, would do",
          hung.at_m - layout.supports[static_cast<std::size_t>(hung.span)], hung.span + 1,
          -dropper.force_n));
    }
    above.add_force(hanging_lift(upper, hung),
                    -dropper.force_n - gravity_ms2 * hung.dropper->mass_on_messenger_kg);
    built.state.droppers.push_back(dropper);
  }
  held.clear();
  for (std::size_t i = 0; i < layout.supports.size(); ++i) {
    const int lift = lift_at(upper.messenger, layout.supports[i]);
    held.push_back({lift, line.supports[i].encumbrance_m});
    above.add_force(lift, -gravity_ms2 * line.supports[i].messenger_mass_kg);
  }
  above.solve(held);
  for (std::size_t i = 0; i < layout.droppers.size(); ++i) {
    const HungDropper& hung = layout.droppers[i];
    StaticDropper& dropper = built.state.droppers[i];
    dropper.length_m = above.value(hanging_lift(upper, hung)) -
                       below.value(lift_at(contact, hung.at_m)) -
                       dropper.force_n / hung.dropper->stiffness_n_per_m;
    if (dropper.length_m <= 0) {
      built.refusals.push_back(fmt::format(
          "the wire that the dropper at {:.2f} m of span {} hangs from comes down to the contact "
          "wire: {:.0f} mm are left for the dropper; more tension or encumbrance would do",
          hung.at_m - layout.supports[static_cast<std::size_t>(hung.span)], hung.span + 1,
          1000 * dropper.length_m));
    }
  }
  for (const double at : layout.supports) {
    built.contact_at_supports.push_back(below.value(lift_at(contact, at)));
    built.support_forces.push_back(above.reaction(lift_at(upper.messenger, at)));
  }
  built.state.termination_force_n =
      below.reaction(contact.lift.front()) + below.reaction(contact.lift.back());
  built.state.contact_weight_n = weight_on_contact_wire(line, wires);
  describe(built.state, layout, wires, shape_of(below, contact), shape_of(above, upper.messenger));
  return built;
}

void add_deviations(const ContactLine& line, Wires& wires) {
  wires.contact.tension_n += line.contact_wires * line.contact_wire.tension_deviation_n;
  wires.messenger.tension_n += line.messenger_wire.tension_deviation_n;
}

/// Wires in other weather; refusals where a figure for the change of tension is missing.
Wires wires_in(const ContactLine& line, const LineWeather& weather,
               std::vector<std::string>& refusals) {
  Wires wires = wires_as_built(line);
  const double contact_before = wires.contact_load;
  const double messenger_before = wires.messenger_load;
  wires.contact_load += gravity_ms2 * line.contact_wires * weather.ice_on_contact_wire_kg_per_m;
  wires.messenger_load += gravity_ms2 * weather.ice_on_messenger_wire_kg_per_m;
  wires.ice_on_stitch_kg_per_m = weather.ice_on_messenger_wire_kg_per_m;
  if (line.termination == Termination::auto_tensioned) {
    add_deviations(line, wires);
    return wires;
  }
  const double before_c = line.reference_temperature_c;
  const double span = ruling_span(line);
  double between_droppers = span;
  for (const Span& one : line.spans) {
    between_droppers =
        std::min(between_droppers, one.length_m / static_cast<double>(one.droppers.size() + 1));
  }
  const auto contact = tension_after(wires.contact, {contact_before, before_c},
                                     {wires.contact_load, weather.temperature_c}, between_droppers);
  // The messenger wire carries the contact wire too.
  const auto messenger =
      tension_after(wires.messenger, {messenger_before + contact_before, before_c},
                    {wires.messenger_load + wires.contact_load, weather.temperature_c}, span);
  if (!contact || !messenger) {
    refusals.push_back(fmt::format(
        "the {} wire's axial stiffness or thermal expansion is not given: of a fixed termination, "
        "its tension in other weather is not known",
        !contact ? "contact" : "messenger"));
    return wires;
  }
  wires.contact.tension_n = *contact;
  wires.messenger.tension_n = *messenger;
  add_deviations(line, wires);
  return wires;
}

/// Adds to the lengths of droppers what they are too long by. Whether the line is not as it was to
/// be, in these lengths or in its tensions.
bool deviate(const WireLayout& layout, const ContactLine& line, StaticState& state) {
  bool deviates =
      line.contact_wire.tension_deviation_n != 0 || line.messenger_wire.tension_deviation_n != 0;
  for (std::size_t i = 0; i < layout.droppers.size(); ++i) {
    const double by = layout.droppers[i].dropper->length_deviation_m;
    state.droppers[i].length_m += by;
    deviates = deviates || by != 0;
  }
  return deviates;
}

/// The whole line with its dropper lengths given: the forward problem.
class HungLine {
 public:
  HungLine(const ContactLine& line, const WireLayout& layout, const AsBuilt& built,
           const Wires& wires)
      : line_(line),
        layout_(layout),
        built_(built),
        wires_(wires),
        taut_(layout.droppers.size(), true) {}

  /// Finds which droppers are taut. False if it finds no end.
  bool settle() {
    for (int round = 0; round < most_rounds; ++round) {
      assemble();
      bool changed = false;
      for (std::size_t i = 0; i < taut_.size(); ++i) {
        const bool taut = elongation(i) > 0;
        changed = changed || taut != taut_[i];
        taut_[i] = taut;
      }
      if (!changed) {
        return true;
      }
    }
    return false;
  }

  void assemble() {
    system_.emplace();
    contact_ = system_->add_wire(wires_.contact, wires_.contact_load, layout_.contact_places);
    upper_ = add_upper(*system_, line_, layout_, wires_);
    const std::vector<double>& supports = layout_.supports;
    const std::vector<HeldLift> held{
        {contact_.lift.front(), 0},
        {contact_.lift.back(), 0},
        {upper_.messenger.lift.front(), line_.supports.front().encumbrance_m},
        {upper_.messenger.lift.back(), line_.supports.back().encumbrance_m}};
    for (std::size_t i = 1; i + 1 < supports.size(); ++i) {
      const Support& support = line_.supports[i];
      const int above = lift_at(upper_.messenger, supports[i]);
      const int below = lift_at(contact_, supports[i]);
      const double k = support.messenger_stiffness_n_per_m;
      // A spring to the ground pulls down with k (lift + length).
      system_->add_spring(above, -1, k, -(support.encumbrance_m + built_.support_forces[i] / k));
      system_->add_force(above, -gravity_ms2 * support.messenger_mass_kg);
      system_->add_force(below, -gravity_ms2 * support.steady_arm_mass_kg);
      if (support.steady_arm_stiffness_n_per_m > 0) {
        system_->add_spring(below, -1, support.steady_arm_stiffness_n_per_m,
                            -built_.contact_at_supports[i]);
      }
    }
    for (std::size_t i = 0; i < taut_.size(); ++i) {
      const HungDropper& hung = layout_.droppers[i];
      const int below = lift_at(contact_, hung.at_m);
      const int above = hanging_lift(upper_, hung);
      system_->add_force(below, -gravity_ms2 * hung.dropper->mass_on_contact_wire_kg);
      system_->add_force(above, -gravity_ms2 * hung.dropper->mass_on_messenger_kg);
      if (taut_[i]) {
        system_->add_spring(below, above, hung.dropper->stiffness_n_per_m,
                            built_.state.droppers[i].length_m);
      }
    }
    system_->solve(held);
  }

  void find_elasticity(std::vector<StaticPoint>& points) const {
    for (StaticPoint& point : points) {
      point.elasticity_mm_per_n = 1000 * system_->compliance(lift_at(contact_, point.at_m));
    }
  }

  StaticState state() const {
    StaticState state = built_.state;
    for (std::size_t i = 0; i < taut_.size(); ++i) {
      const double stretch = elongation(i);
      state.droppers[i].force_n =
          taut_[i] ? layout_.droppers[i].dropper->stiffness_n_per_m * stretch : 0;
      state.droppers[i].slack_m = taut_[i] ? 0 : -stretch;
    }
    state.steady_arm_force_n = 0;
    for (std::size_t i = 1; i + 1 < layout_.supports.size(); ++i) {
      state.steady_arm_force_n +=
          line_.supports[i].steady_arm_stiffness_n_per_m *
          (built_.contact_at_supports[i] - system_->value(lift_at(contact_, layout_.supports[i])));
    }
    state.termination_force_n =
        system_->reaction(contact_.lift.front()) + system_->reaction(contact_.lift.back());
    state.contact_weight_n = weight_on_contact_wire(line_, wires_);
    describe(state, layout_, wires_, shape_of(*system_, contact_),
             shape_of(*system_, upper_.messenger));
    return state;
  }

 private:
  double elongation(std::size_t i) const {
    const HungDropper& hung = layout_.droppers[i];
    return system_->value(hanging_lift(upper_, hung)) -
           system_->value(lift_at(contact_, hung.at_m)) - built_.state.droppers[i].length_m;
  }

  const ContactLine& line_;
  const WireLayout& layout_;
  const AsBuilt& built_;
  const Wires& wires_;
  std::vector<bool> taut_;
  std::optional<BeamSystem> system_;
  BeamNodes contact_;
  Upper upper_;
};

}  // namespace

std::variant<StaticState, std::vector<std::string>> static_state(const ContactLine& line,
                                                                 const LineWeather& weather,
                                                                 int points_per_span,
                                                                 bool with_elasticity) {
  const WireLayout layout = lay_out(line, std::max(2, points_per_span));
  AsBuilt built = build(line, layout);
  if (!built.refusals.empty()) {
    return built.refusals;
  }
  const bool deviates = deviate(layout, line, built.state);
  const bool as_built = !deviates && weather.temperature_c == line.reference_temperature_c &&
                        weather.ice_on_contact_wire_kg_per_m == 0 &&
                        weather.ice_on_messenger_wire_kg_per_m == 0;
  if (as_built && !with_elasticity) {
    return built.state;
  }
  std::vector<std::string> refusals;
  const Wires wires = wires_in(line, weather, refusals);
  if (!refusals.empty()) {
    return refusals;
  }
  HungLine hung(line, layout, built, wires);
  if (!hung.settle()) {
    return std::vector<std::string>{
        "no resting place was found: droppers go slack and taut in turn; the tensions or loads lie "
        "outside what the line can carry"};
  }
  StaticState state = as_built ? built.state : hung.state();
  if (with_elasticity) {
    hung.find_elasticity(state.points);
  }
  return state;
}

}  // namespace panup
