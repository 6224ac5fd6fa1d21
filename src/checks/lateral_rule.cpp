#include "checks/lateral_rule.h"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "checks/lateral_position.h"

namespace panup {

namespace {

/// The wind that is judged: of the day, or the line's design wind.
struct JudgedWind {
  double speed_ms = 0;
  bool known = false;
  bool of_the_day = false;
};

JudgedWind judged_wind(const Rule& rule, std::optional<double> wind_ms) {
  if (wind_ms) {
    return {.speed_ms = *wind_ms, .known = true, .of_the_day = true};
  }
  const auto design = number_of(rule, "design_wind_ms");
  return {.speed_ms = design.value_or(0), .known = design.has_value(), .of_the_day = false};
}

WireSpan wire_span(const SpanType& span) {
  return {.length_m = span.length_m,
          .stagger_m = span.stagger_m,
          .curvature_per_m = span.curve_radius_m ? 1 / *span.curve_radius_m : 0};
}

/// The span that holds least, and what it does.
struct WeakestSpan {
  const SpanType* span = nullptr;
  std::optional<double> holds_ms;  ///< greatest wind, without gusts; nothing: not even a calm
  double position_m = 0;           ///< of the wire: in the wind that is judged, or in that calm
};

WeakestSpan weakest_span(const Rule& rule, const Section& section, double permitted_m,
                         double wind_ms) {
  WindLoad load{.air_density_kg_per_m3 = number_of(rule, "air_density_kg_per_m3").value_or(1.25),
                .drag_factor = number_of(rule, "drag_factor").value_or(1)};
  const double gust_factor = number_of(rule, "gust_factor").value_or(1);
  double tension_n = 0;
  for (const LineWire& wire : section.wires) {
    load.diameter_m += wire.diameter_mm / 1000;
    tension_n += wire.tension_n;
  }
  WeakestSpan weakest;
  for (const SpanType& type : section.spans) {
    const WireSpan span = wire_span(type);
    const auto bend = greatest_bend_per_m(span, permitted_m);
    std::optional<double> holds;
    if (bend) {
      holds = speed_ms_for(load, *bend * tension_n) / gust_factor;
    }
    if (weakest.span == nullptr || holds < weakest.holds_ms) {  // nothing is less than any wind
      const double judged_ms = holds ? gust_factor * wind_ms : 0;
      const double gust_bend = load_n_per_m(load, judged_ms) / tension_n;
      weakest = {.span = &type,
                 .holds_ms = holds,
                 .position_m = greatest_lateral_position_m(span, gust_bend)};
    }
  }
  return weakest;
}

std::string span_words(const SpanType& span) {
  return fmt::format(
      "span of {:g} m with staggers of {:g} and {:g} mm{}", span.length_m, 1000 * span.stagger_m[0],
      1000 * span.stagger_m[1],
      span.curve_radius_m ? fmt::format(", curve of {:g} m", *span.curve_radius_m) : "");
}

/// Raised pantographs of one type.
struct SameHeads {
  const PantographType* type = nullptr;
  std::string names;
};

std::vector<SameHeads> heads_of(const JudgedCase& judged) {
  std::vector<SameHeads> heads;
  for (const int bit : judged.raised_bits) {
    const PlacedPantograph& placed = judged.train.pantographs[static_cast<std::size_t>(bit)];
    const auto found = std::ranges::find(heads, placed.type, &SameHeads::type);
    if (found == heads.end()) {
      heads.push_back({placed.type, to_string(placed.ref)});
    } else {
      found->names += ", " + to_string(placed.ref);
    }
  }
  return heads;
}

std::string head_words(const SameHeads& heads, const PermittedPosition& permitted) {
  return fmt::format("{}, {:g} mm head{}", heads.names, heads.type->head_width_mm,
                     permitted.assumed ? " of unknown working width, taken on the safe side" : "");
}

std::string words(const JudgedCase& judged, const SameHeads& heads,
                  const PermittedPosition& permitted, const WeakestSpan& weakest,
                  const JudgedWind& wind) {
  const std::string who = head_words(heads, permitted);
  const std::string where = span_words(*weakest.span);
  const std::string_view ice = judged.iced ? " Ice on the wires is not in it." : "";
  if (!weakest.holds_ms) {
    return fmt::format(
        "{}: even in the calm the wire lies {:.2f} m from the middle of the track in the {}; "
        "permitted: {:.2f} m.",
        who, weakest.position_m, where, permitted.position_m);
  }
  const std::string_view which = wind.of_the_day ? "wind" : "the line's design wind";
  if (!wind.known) {
    return fmt::format("{}: the wire stays on the head in a wind of up to {:.1f} m/s ({}).{}", who,
                       *weakest.holds_ms, where, ice);
  }
  return fmt::format(
      "{}: in {} of {:g} m/s and its gusts the wire comes to {:.2f} m from the middle of the "
      "track; "
      "permitted: {:.2f} m, up to {:.1f} m/s ({}).{}",
      who, which, wind.speed_ms, weakest.position_m, permitted.position_m, *weakest.holds_ms, where,
      ice);
}

void judge(const Rule& rule, const JudgedWind& wind, const JudgedCase& judged, Opinion& opinion) {
  if (judged.section.spans.empty() || (opinion.verdict.forbidden && !opinion.explains())) {
    return;
  }
  for (const SameHeads& heads : heads_of(judged)) {
    const PermittedPosition permitted = permitted_position(rule, *heads.type);
    const WeakestSpan weakest =
        weakest_span(rule, judged.section, permitted.position_m, wind.speed_ms);
    const auto text = [&] { return words(judged, heads, permitted, weakest, wind); };
    if (!weakest.holds_ms || wind.speed_ms > *weakest.holds_ms) {
      opinion.forbid(rule, text);
    } else {
      opinion.say(rule, Strength::note, text);
    }
  }
}

}  // namespace

PermittedPosition permitted_position(const Rule& rule, const PantographType& type) {
  const double track = number_of(rule, "track_position_m").value_or(0);
  const double sway = number_of(rule, "vehicle_sway_m").value_or(0);
  std::optional<double> by_width;
  if (type.head_width_mm == 1600) {
    by_width = number_of(rule, "permitted_1600_m");
  } else if (type.head_width_mm == 1950) {
    by_width = number_of(rule, "permitted_1950_m");
  }
  const auto within = [&](double working_width_m) { return working_width_m / 2 - sway; };
  if (type.working_width_mm) {
    const double derived = within(*type.working_width_mm / 1000);
    return {.position_m = std::min(derived, by_width.value_or(derived)) - track};
  }
  if (by_width) {
    return {.position_m = *by_width - track};
  }
  const double horn = number_of(rule, "horn_not_stated_m").value_or(0);
  return {.position_m = within(type.head_width_mm / 1000 - 2 * horn) - track, .assumed = true};
}

FurtherRule lateral_position_rule(const RuleBook& rules, std::optional<double> wind_ms) {
  const Rule* const rule = rule_in_force(rules, RuleKind::lateral_position);
  if (rule == nullptr) {
    return [](const JudgedCase&, Opinion&) {};
  }
  const JudgedWind wind = judged_wind(*rule, wind_ms);
  return [rule, wind](const JudgedCase& judged, Opinion& opinion) {
    judge(*rule, wind, judged, opinion);
  };
}

}  // namespace panup
