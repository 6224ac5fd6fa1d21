#include "dynamics/statics.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "base/gravity.h"
#include "dynamics/beam_system.h"
#include "dynamics/conductor_state.h"
#include "dynamics/contact_shape.h"
#include "dynamics/hung_wires.h"

namespace panup {

namespace {

constexpr int most_rounds = 100;

Wires wires_as_built(const ContactLine& line) {
  Wires wires;
  wires.contact = combined_contact_wire(line);
  wires.messenger = line.messenger_wire;
  wires.contact_load = gravity_ms2 * wires.contact.mass_kg_per_m;
  wires.messenger_load = gravity_ms2 * wires.messenger.mass_kg_per_m;
  return wires;
}

/// Height of a dropper's clamp on the contact wire where those of its span lie on a parabola of
/// this depth.
double clamp_height(const ContactLine& line, const WireLayout& layout, const HungDropper& hung,
                    double depth_m) {
  const Span& span = line.spans[static_cast<std::size_t>(hung.span)];
  const double x = hung.at_m - layout.supports[static_cast<std::size_t>(hung.span)];
  return -4 * depth_m * x * (span.length_m - x) / (span.length_m * span.length_m);
}

/// A place of a wire below the straight line that joins it at two supports.
struct Depth {
  double at_m = 0;
  double depth_m = 0;  ///< below 0 where the wire lies above that line
};

/// The lowest place of a shape between `first_m` and `last_m`, which lie between two supports.
Depth deepest(const std::vector<ShapeNode>& shape, double from_m, double to_m, double first_m,
              double last_m) {
  ShapeWalk at_ends(shape);
  const double from = at_ends.height(from_m);
  const double to = at_ends.height(to_m);
  constexpr int steps = 400;
  ShapeWalk walk(shape);
  Depth found{first_m, -std::numeric_limits<double>::infinity()};
  for (int i = 0; i <= steps; ++i) {
    const double at = first_m + (last_m - first_m) * i / steps;
    const double depth = from + (at - from_m) / (to_m - from_m) * (to - from) - walk.height(at);
    if (depth > found.depth_m) {
      found = {at, depth};
    }
  }
  return found;
}

/// Lowest place of a shape between two supports, below the straight line that joins them there.
double sag(const std::vector<ShapeNode>& shape, double from_m, double to_m) {
  return std::max(0.0, deepest(shape, from_m, to_m, from_m, to_m).depth_m);
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

/// The contact wire as it is built, held by its clamps.
class BuiltContactWire {
 public:
  BuiltContactWire(const ContactLine& line, const WireLayout& layout, const Wires& wires)
      : line_(line), layout_(layout), depths_(line.spans.size(), 0) {
    nodes_ = system_.add_wire(wires.contact, wires.contact_load, layout.contact_places);
    for (const HungDropper& hung : layout.droppers) {
      system_.add_force(lift_at(nodes_, hung.at_m),
                        -gravity_ms2 * hung.dropper->mass_on_contact_wire_kg);
    }
    for (std::size_t i = 1; i + 1 < layout.supports.size(); ++i) {
      system_.add_force(lift_at(nodes_, layout.supports[i]),
                        -gravity_ms2 * line.supports[i].steady_arm_mass_kg);
    }
    system_.solve(held());
  }

  const BeamSystem& system() const { return system_; }
  const BeamNodes& nodes() const { return nodes_; }

  /// Finds the depths of the parabolas with which every span has its pre-sag; those without keep
  /// their clamps level. What a span would not have is said.
  void find_pre_sags(std::vector<Sentence>& refusals) {
    constexpr int most_pre_sag_rounds = 60;
    constexpr double close_m = 1e-8;
    std::vector<std::size_t> off;
    for (int round = 0; round < most_pre_sag_rounds; ++round) {
      const std::vector<ShapeNode> shape = shape_of(system_, nodes_);
      Corrections by;
      off.clear();
      for (std::size_t i = 0; i < line_.spans.size(); ++i) {
        add_equation(shape, i, by);
        if (std::abs(by.missing.back()) > close_m) {
          off.push_back(i);
        }
      }
      if (off.empty()) {
        break;
      }
      correct(by);
      system_.hold_at(held());
    }
    for (std::size_t i = 0; i < line_.spans.size(); ++i) {
      const bool found = std::ranges::find(off, i) == off.end();
      if (!found || depths_[i] < 0 || depths_[i] > most_depth_m) {
        refusals.push_back(
            to_say("no droppers give span {} a pre-sag of {:g} mm: the first and the last "
                   "stand so far from the supports that the wire comes down there as well; "
                   "droppers nearer to the supports, or none, would do",
                   i + 1, 1000 * line_.spans[i].pre_sag_m));
        return;
      }
    }
  }

 private:
  /// A parabola deeper than this is no pre-sag.
  static constexpr double most_depth_m = 1;

  /// One equation a span, for the change of its depth and of those of its neighbours.
  struct Corrections {
    std::vector<double> before;
    std::vector<double> own;
    std::vector<double> after;
    std::vector<double> missing;
  };

  bool has_pre_sag(std::size_t span) const {
    return line_.spans[span].pre_sag_m > 0 && !line_.spans[span].droppers.empty();
  }

  std::vector<HeldLift> held() const {
    std::vector<HeldLift> all{{nodes_.lift.front(), 0}, {nodes_.lift.back(), 0}};
    for (const HungDropper& hung : layout_.droppers) {
      all.push_back(
          {lift_at(nodes_, hung.at_m),
           clamp_height(line_, layout_, hung, depths_[static_cast<std::size_t>(hung.span)])});
    }
    return all;
  }

  /// How the height at a place changes with the depth of a span, once with what the clamps beside
  /// it do. Exact for a string.
  double height_by_depth(double at_m, std::size_t span) const {
    const auto& droppers = layout_.droppers;
    const auto after = std::ranges::lower_bound(droppers, at_m, {}, &HungDropper::at_m);
    const auto by = [&](const HungDropper& hung) {
      return hung.span == static_cast<int>(span) ? clamp_height(line_, layout_, hung, 1) : 0;
    };
    const double left_m = after == droppers.begin() ? 0 : (after - 1)->at_m;
    const double right_m = after == droppers.end() ? layout_.supports.back() : after->at_m;
    const double left = after == droppers.begin() ? 0 : by(*(after - 1));
    const double right = after == droppers.end() ? 0 : by(*after);
    return left + (right - left) * (at_m - left_m) / (right_m - left_m);
  }

  void add_equation(const std::vector<ShapeNode>& shape, std::size_t i, Corrections& by) const {
    double missing = 0;
    double own = 1;
    double before = 0;
    double after = 0;
    if (has_pre_sag(i)) {
      const Span& span = line_.spans[i];
      const double from = layout_.supports[i];
      const double to = layout_.supports[i + 1];
      const Depth lowest = deepest(shape, from, to, from + span.droppers.front().at_m,
                                   from + span.droppers.back().at_m);
      missing = span.pre_sag_m - lowest.depth_m;
      const double share = (lowest.at_m - from) / (to - from);
      const auto depth_by = [&](std::size_t of) {
        return (1 - share) * height_by_depth(from, of) + share * height_by_depth(to, of) -
               height_by_depth(lowest.at_m, of);
      };
      own = depth_by(i);
      before = i > 0 && has_pre_sag(i - 1) ? depth_by(i - 1) : 0;
      after = i + 1 < line_.spans.size() && has_pre_sag(i + 1) ? depth_by(i + 1) : 0;
    }
    by.before.push_back(before);
    by.own.push_back(own);
    by.after.push_back(after);
    by.missing.push_back(missing);
  }

  /// Solves the three diagonals by elimination, and adds what comes out to the depths.
  void correct(Corrections& by) {
    const std::size_t count = by.own.size();
    for (std::size_t i = 1; i < count; ++i) {
      const double factor = by.before[i] / by.own[i - 1];
      by.own[i] -= factor * by.after[i - 1];
      by.missing[i] -= factor * by.missing[i - 1];
    }
    double next = 0;
    for (std::size_t i = count; i-- > 0;) {
      next = (by.missing[i] - by.after[i] * next) / by.own[i];
      depths_[i] += next;
    }
  }

  const ContactLine& line_;
  const WireLayout& layout_;
  std::vector<double> depths_;  ///< of the clamps' parabola, by span
  BeamSystem system_;
  BeamNodes nodes_;
};

/// What the line is built to, and the forces that its supports carry then.
struct AsBuilt {
  StaticState state;
  std::vector<double> contact_at_supports;
  std::vector<double> support_forces;
  std::vector<Sentence> refusals;
};

AsBuilt build(const ContactLine& line, const WireLayout& layout) {
  AsBuilt built;
  const Wires wires = wires_as_built(line);
  BuiltContactWire contact_wire(line, layout, wires);
  contact_wire.find_pre_sags(built.refusals);
  if (!built.refusals.empty()) {
    return built;
  }
  const BeamSystem& below = contact_wire.system();
  const BeamNodes& contact = contact_wire.nodes();

  BeamSystem above;
  const Upper upper = add_upper(above, line, layout, wires);
  for (const HungDropper& hung : layout.droppers) {
    StaticDropper dropper;
    dropper.span = hung.span;
    dropper.at_m = hung.at_m;
    dropper.on_stitch_wire = hung.stitch >= 0;
    dropper.force_n = below.reaction(lift_at(contact, hung.at_m));
    if (dropper.force_n < 0) {
      built.refusals.push_back(to_say(
          "the dropper at {:.2f} m of span {} would have to push with {:.1f} N to hold the contact "
          "wire on its pre-sag; less pre-sag, or droppers elsewhere, would do",
          hung.at_m - layout.supports[static_cast<std::size_t>(hung.span)], hung.span + 1,
          -dropper.force_n));
    }
    above.add_force(hanging_lift(upper, hung),
                    -dropper.force_n - gravity_ms2 * hung.dropper->mass_on_messenger_kg);
    built.state.droppers.push_back(dropper);
  }
  std::vector<HeldLift> held;
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
      built.refusals.push_back(to_say(
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
  built.state.built_sag_m = built.state.contact_sag_m;
  return built;
}

void add_deviations(const ContactLine& line, Wires& wires) {
  wires.contact.tension_n += line.contact_wires * line.contact_wire.tension_deviation_n;
  wires.messenger.tension_n += line.messenger_wire.tension_deviation_n;
}

/// Wires in other weather; refusals where a figure for the change of tension is missing.
Wires wires_in(const ContactLine& line, const LineWeather& weather,
               std::vector<Sentence>& refusals) {
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
    refusals.push_back(
        !contact ? to_say("the contact wire's axial stiffness or thermal expansion is not given: "
                          "of a fixed termination, its tension in other weather is not known")
                 : to_say("the messenger wire's axial stiffness or thermal expansion is not given: "
                          "of a fixed termination, its tension in other weather is not known"));
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

std::variant<StaticState, std::vector<Sentence>> static_state(const ContactLine& line,
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
  std::vector<Sentence> refusals;
  const Wires wires = wires_in(line, weather, refusals);
  if (!refusals.empty()) {
    return refusals;
  }
  HungLine hung(line, layout, built, wires);
  if (!hung.settle()) {
    return std::vector<Sentence>{to_say(
        "no resting place was found: droppers go slack and taut in turn; the tensions or loads lie "
        "outside what the line can carry")};
  }
  StaticState state = as_built ? built.state : hung.state();
  if (with_elasticity) {
    hung.find_elasticity(state.points);
  }
  return state;
}

}  // namespace panup
