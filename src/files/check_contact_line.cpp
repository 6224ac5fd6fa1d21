#include "files/check_contact_line.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/gravity.h"
#include "dynamics/statics.h"

namespace panup {

namespace {

/// Spans made by one table have the same mistakes; each is said once.
void report_once(Diagnostics& diagnostics, const SourcePlace& place, std::string text) {
  const bool said = std::ranges::any_of(diagnostics, [&](const Diagnostic& diagnostic) {
    return diagnostic.place.line == place.line && diagnostic.place.column == place.column &&
           diagnostic.text == text;
  });
  if (!said) {
    diagnostics.push_back({place, std::move(text)});
  }
}

/// By which the stitch wire at a support reaches into the span on either side; 0 without one.
double reach_of_stitch(const Support& support) {
  return support.stitch_wire ? support.stitch_wire->length_m / 2 : 0;
}

void check_stitch_wires(const ContactLine& line, const ContactLinePlaces& places,
                        Diagnostics& diagnostics) {
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    const Span& span = line.spans[i];
    const double first = reach_of_stitch(line.supports[i]);
    const double second = reach_of_stitch(line.supports[i + 1]);
    if (first + second == 0) {
      continue;
    }
    if (first + second > span.length_m - least_dropper_distance_m) {
      report_once(diagnostics, places.spans[i],
                  fmt::format("stitch wires reach {:g} m and {:g} m into this span of {:g} m; "
                              "between their ends {:g} m of messenger wire are needed",
                              first, second, span.length_m, least_dropper_distance_m));
      continue;
    }
    for (const Dropper& dropper : span.droppers) {
      for (const double clamp : {first, span.length_m - second}) {
        if (clamp > 0 && clamp < span.length_m &&
            std::abs(dropper.at_m - clamp) < least_dropper_distance_m) {
          report_once(diagnostics, places.droppers[i],
                      fmt::format("the dropper at {:g} m is less than {:g} m from the end of a "
                                  "stitch wire, at {:g} m",
                                  dropper.at_m, least_dropper_distance_m, clamp));
        }
      }
    }
  }
}

/// Sag of a wire under a load, by the parabola.
double sag(double load_n_per_m, double length_m, double tension_n) {
  return load_n_per_m * length_m * length_m / (8 * tension_n);
}

void check_contact_sag(const ContactLine& line, const ContactLinePlaces& places,
                       Diagnostics& diagnostics) {
  const std::vector<double> supports = support_positions(line);
  double from = 0;
  double widest_from = 0;
  double widest = 0;
  const auto hang = [&](double at) {
    if (at - from > widest) {
      widest = at - from;
      widest_from = from;
    }
    from = at;
  };
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    for (const Dropper& dropper : line.spans[i].droppers) {
      hang(supports[i] + dropper.at_m);
    }
  }
  hang(supports.back());
  const double encumbrance =
      std::ranges::min_element(line.supports, {}, &Support::encumbrance_m)->encumbrance_m;
  const Wire& wire = line.contact_wire;
  const double deepest = sag(gravity_ms2 * wire.mass_kg_per_m, widest, wire.tension_n);
  if (deepest > encumbrance) {
    report_once(
        diagnostics, places.contact_tension,
        fmt::format("at {:g} N the contact wire sags {:.2f} m from dropper to dropper, {:g} m "
                    "apart, at {:g} m of the line; that is more than the encumbrance of "
                    "{:g} m",
                    wire.tension_n, deepest, widest, widest_from, encumbrance));
  }
}

void check_messenger_sag(const ContactLine& line, const ContactLinePlaces& places,
                         Diagnostics& diagnostics) {
  const double load = gravity_ms2 * (line.messenger_wire.mass_kg_per_m +
                                     line.contact_wires * line.contact_wire.mass_kg_per_m);
  std::size_t worst = 0;
  double least_room = 0;
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    const double room = (line.supports[i].encumbrance_m + line.supports[i + 1].encumbrance_m) / 2 +
                        line.spans[i].pre_sag_m -
                        sag(load, line.spans[i].length_m, line.messenger_wire.tension_n);
    if (room < least_room) {
      least_room = room;
      worst = i;
    }
  }
  if (least_room < 0) {
    const double length = line.spans[worst].length_m;
    report_once(
        diagnostics, places.messenger_tension,
        fmt::format(
            "at {:g} N the messenger wire, with the contact wire on it, sags {:.2f} m in "
            "a span of {:g} m; that is more than the encumbrance of {:g} m",
            line.messenger_wire.tension_n, sag(load, length, line.messenger_wire.tension_n), length,
            (line.supports[worst].encumbrance_m + line.supports[worst + 1].encumbrance_m) / 2));
  }
}

std::vector<Sentence> refusals_at_rest(const ContactLine& line) {
  LineWeather as_built;
  as_built.temperature_c = line.reference_temperature_c;
  auto state = static_state(line, as_built, 2, false);
  auto* const refusals = std::get_if<std::vector<Sentence>>(&state);
  return refusals == nullptr ? std::vector<Sentence>() : std::move(*refusals);
}

bool same_place(const SourcePlace& a, const SourcePlace& b) {
  return a.line == b.line && a.column == b.column;
}

/// The pre-sag without which the line would hang; else the line.
SourcePlace place_of_fault(const ContactLine& line, const ContactLinePlaces& places) {
  const SourcePlace* tried = nullptr;
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    const SourcePlace& place = places.pre_sags[i];
    if (line.spans[i].pre_sag_m == 0 || (tried != nullptr && same_place(*tried, place))) {
      continue;
    }
    tried = &place;
    ContactLine level = line;
    for (std::size_t other = 0; other < line.spans.size(); ++other) {
      if (same_place(places.pre_sags[other], place)) {
        level.spans[other].pre_sag_m = 0;
      }
    }
    if (refusals_at_rest(level).empty()) {
      return place;
    }
  }
  return line.place;
}

void check_static_state(const ContactLine& line, const ContactLinePlaces& places,
                        Diagnostics& diagnostics) {
  const std::vector<Sentence> refusals = refusals_at_rest(line);
  if (refusals.empty()) {
    return;
  }
  std::string text = refusals.front().said();
  if (refusals.size() > 1) {
    text += fmt::format(" (and {} more of that sort)", refusals.size() - 1);
  }
  diagnostics.push_back({place_of_fault(line, places), std::move(text)});
}

}  // namespace

void check_contact_line(const ContactLine& line, const ContactLinePlaces& places,
                        Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  check_stitch_wires(line, places, diagnostics);
  check_contact_sag(line, places, diagnostics);
  check_messenger_sag(line, places, diagnostics);
  if (diagnostics.size() == mistakes) {
    check_static_state(line, places, diagnostics);
  }
}

}  // namespace panup
