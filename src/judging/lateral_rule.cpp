#include "judging/lateral_rule.h"

#include <algorithm>
#include <string>
#include <vector>

#include "judging/deciding_values.h"
#include "judging/judge_parts.h"
#include "judging/prepared_rules.h"

namespace panup {

namespace {

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

WeakestSpan weakest_span(const WindOnWire& wind, const LineProperties& section,
                         double permitted_m) {
  WindLoad load = wind.load;
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
      holds = speed_ms_for(load, *bend * tension_n) / wind.gust_factor;
    }
    if (weakest.span == nullptr || holds < weakest.holds_ms) {  // nothing is less than any wind
      const double judged_ms = holds ? wind.gust_factor * wind.speed_ms : 0;
      const double gust_bend = load_n_per_m(load, judged_ms) / tension_n;
      weakest = {.span = &type,
                 .holds_ms = holds,
                 .position_m = greatest_lateral_position_m(span, gust_bend)};
    }
  }
  return weakest;
}

std::vector<LateralMargin> margins_by(const WindOnWire& wind, const RunningTrain& train,
                                      const LineProperties& section, PantographSet raised) {
  std::vector<LateralMargin> margins;
  std::vector<const PantographType*> types;
  for (const std::size_t p : train.front_first) {
    if (!raised.contains(p)) {
      continue;
    }
    const PlacedPantograph& placed = train.pantographs[p];
    const auto found = std::ranges::find(types, placed.type);
    if (found != types.end()) {
      margins[static_cast<std::size_t>(found - types.begin())].heads.push_back(placed.ref);
      continue;
    }
    const PermittedPosition permitted = permitted_position(*wind.rule, *placed.type);
    const WeakestSpan weakest = weakest_span(wind, section, permitted.position_m);
    types.push_back(placed.type);
    margins.push_back({.heads = {placed.ref},
                       .head_width_mm = placed.type->head_width_mm,
                       .permitted_m = permitted.position_m,
                       .assumed = permitted.assumed,
                       .span = *weakest.span,
                       .wind_known = wind.known,
                       .wind_of_the_day = wind.of_the_day,
                       .wind_ms = wind.speed_ms,
                       .position_m = weakest.position_m,
                       .rule = wind.rule->id,
                       .holds_ms = weakest.holds_ms});
  }
  return margins;
}

std::string head_words(const LateralMargin& margin, const Words& words) {
  std::string names;
  for (const PantographRef ref : margin.heads) {
    names += (names.empty() ? "" : ", ") + to_string(ref);
  }
  return margin.assumed
             ? words.say("{}, {:g} mm head of unknown working width, taken on the safe side", names,
                         margin.head_width_mm)
             : words.say("{}, {:g} mm head", names, margin.head_width_mm);
}

std::string margin_words(const LateralMargin& margin, bool iced, const Words& words) {
  const std::string who = head_words(margin, words);
  const std::string where = span_words(margin.span, words);
  const std::string ice = iced ? words.say(" Ice on the wires is not in it.") : "";
  if (!margin.holds_ms) {
    return words.say(
        "{}: even in the calm the wire lies {:.2f} m from the middle of the track in the {}; "
        "permitted: {:.2f} m.",
        who, margin.position_m, where, margin.permitted_m);
  }
  if (!margin.wind_known) {
    return words.say("{}: the wire stays on the head in a wind of up to {:.1f} m/s ({}).{}", who,
                     *margin.holds_ms, where, ice);
  }
  return margin.wind_of_the_day
             ? words.say(
                   "{}: in wind of {:g} m/s and its gusts the wire comes to {:.2f} m from the "
                   "middle of the track; permitted: {:.2f} m, up to {:.1f} m/s ({}).{}",
                   who, margin.wind_ms, margin.position_m, margin.permitted_m, *margin.holds_ms,
                   where, ice)
             : words.say(
                   "{}: in the line's design wind of {:g} m/s and its gusts the wire comes to "
                   "{:.2f} m from the middle of the track; permitted: {:.2f} m, up to {:.1f} m/s "
                   "({}).{}",
                   who, margin.wind_ms, margin.position_m, margin.permitted_m, *margin.holds_ms,
                   where, ice);
}

/// Whether the wire stays on all raised heads; nothing is kept.
bool holds(const WindOnWire& wind, const JudgedCase& judged) {
  const PantographType* before = nullptr;
  for (const std::size_t p : judged.raised_front_first) {
    const PantographType* const type = judged.train.pantographs[p].type;
    if (type == before) {
      continue;
    }
    before = type;
    const WeakestSpan weakest =
        weakest_span(wind, judged.section, permitted_position(*wind.rule, *type).position_m);
    if (!weakest.holds_ms || wind.speed_ms > *weakest.holds_ms) {
      return false;
    }
  }
  return true;
}

}  // namespace

WindOnWire wind_here(const WindOnWire& wind, const LineProperties& section) {
  WindOnWire here = wind;
  if (section.wind_ms) {
    here.speed_ms = *section.wind_ms;
    here.known = true;
    here.of_the_day = true;
  }
  return here;
}

std::optional<WindOnWire> wind_on_wire(const RuleBook& rules, std::optional<double> wind_ms) {
  const Rule* const in_force = rule_in_force(rules, RuleKind::lateral_position);
  if (in_force == nullptr) {
    return std::nullopt;
  }
  const Rule& rule = *in_force;
  const auto design = number_of(rule, "design_wind_ms");
  return WindOnWire{
      .rule = &rule,
      .load = {.air_density_kg_per_m3 = number_of(rule, "air_density_kg_per_m3").value_or(1.25),
               .drag_factor = number_of(rule, "drag_factor").value_or(1)},
      .gust_factor = number_of(rule, "gust_factor").value_or(1),
      .speed_ms = wind_ms.value_or(design.value_or(0)),
      .known = wind_ms || design,
      .of_the_day = wind_ms.has_value()};
}

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

std::string span_words(const SpanType& span, const Words& words) {
  return span.curve_radius_m
             ? words.say("span of {:g} m with staggers of {:g} and {:g} mm, curve of {:g} m",
                         span.length_m, 1000 * span.stagger_m[0], 1000 * span.stagger_m[1],
                         *span.curve_radius_m)
             : words.say("span of {:g} m with staggers of {:g} and {:g} mm", span.length_m,
                         1000 * span.stagger_m[0], 1000 * span.stagger_m[1]);
}

std::vector<LateralMargin> lateral_margins(const RuleBook& rules, std::optional<double> wind_ms,
                                           const RunningTrain& train, const LineProperties& section,
                                           PantographSet raised) {
  const auto wind = wind_on_wire(rules, wind_ms);
  return wind && !section.spans.empty()
             ? margins_by(wind_here(*wind, section), train, section, raised)
             : std::vector<LateralMargin>{};
}

void judge_lateral_position(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (judged.section.spans.empty()) {
    return;
  }
  const WindOnWire wind = wind_here(*judged.prepared.wind, judged.section);
  if (!opinion.explains()) {
    opinion.verdict.forbidden = opinion.verdict.forbidden || !holds(wind, judged);
    return;
  }
  for (const LateralMargin& margin :
       margins_by(wind, judged.train, judged.section, judged.raised)) {
    const auto text = [&] {
      return FindingWords(margin_words(margin, judged.iced, judged.words()),
                          {value_of_section(judged, "span"), value_of_section(judged, "wires")});
    };
    if (margin.holds()) {
      opinion.say(rule, Strength::note, text);
    } else {
      opinion.forbid(rule, text);
    }
  }
}

}  // namespace panup
