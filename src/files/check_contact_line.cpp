#include "files/check_contact_line.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

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

/// The greatest pre-sag of a span that droppers can hold by pulling. Between its neighbours at l₁
/// and l₂, all on the parabola of pre-sag p in a span of L, a dropper of a wire without bending
/// stiffness carries (m′g − 8 T p/L²)(l₁ + l₂)/2 and the weight of its clamp. The first and the
/// last, which have the support on one side, carry more. Nothing where no others are there.
std::optional<double> greatest_pre_sag(const Wire& contact, const Span& span) {
  std::optional<double> least;
  for (std::size_t i = 1; i + 1 < span.droppers.size(); ++i) {
    const Dropper& dropper = span.droppers[i];
    const double carried = (span.droppers[i + 1].at_m - span.droppers[i - 1].at_m) / 2;
    const double load =
        gravity_ms2 * (contact.mass_kg_per_m + dropper.mass_on_contact_wire_kg / carried);
    const double pre_sag = sag(load, span.length_m, contact.tension_n);
    least = least ? std::min(*least, pre_sag) : pre_sag;
  }
  return least;
}

void check_pre_sag(const ContactLine& line, const ContactLinePlaces& places,
                   Diagnostics& diagnostics) {
  const Wire contact = combined_contact_wire(line);
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    const Span& span = line.spans[i];
    const auto greatest = greatest_pre_sag(contact, span);
    if (greatest && span.pre_sag_m > *greatest) {
      report_once(diagnostics, places.pre_sags[i],
                  fmt::format("at {:g} N the contact wire itself sags no more than {:.0f} mm in a "
                              "span of {:g} m; on a pre-sag of {:g} mm droppers would have to push",
                              line.contact_wire.tension_n, std::floor(1000 * *greatest),
                              span.length_m, 1000 * span.pre_sag_m));
    }
  }
}

void check_static_state(const ContactLine& line, Diagnostics& diagnostics) {
  LineWeather as_built;
  as_built.temperature_c = line.reference_temperature_c;
  const auto state = static_state(line, as_built, 2, false);
  const auto* const refusals = std::get_if<std::vector<std::string>>(&state);
  if (refusals == nullptr || refusals->empty()) {
    return;
  }
  std::string text = refusals->front();
  if (refusals->size() > 1) {
    text += fmt::format(" (and {} more of that sort)", refusals->size() - 1);
  }
  diagnostics.push_back({line.place, std::move(text)});
}

}  // namespace

void check_contact_line(const ContactLine& line, const ContactLinePlaces& places,
                        Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  check_stitch_wires(line, places, diagnostics);
  check_contact_sag(line, places, diagnostics);
  check_messenger_sag(line, places, diagnostics);
  check_pre_sag(line, places, diagnostics);
  if (diagnostics.size() == mistakes) {
    check_static_state(line, diagnostics);
  }
}

}  // namespace panup
