#include "figures/permitted_words.h"

#include <fmt/format.h>

#include <cmath>

namespace panup {

namespace {

/// As figures are read: no more than two decimals.
double rounded(double value) { return std::round(100 * value) / 100; }

}  // namespace

std::string deciding_words(const PermittedSpeed& speed) {
  const std::string whose =
      speed.pantograph > 0 ? fmt::format("pantograph {}, ", speed.pantograph) : std::string();
  if (speed.refused) {
    return fmt::format("at {:g} km/h no run: {}", *speed.fails_at_kmh, speed.text);
  }
  return speed.fails_at_kmh ? fmt::format("at {:g} km/h {}{} ({})", *speed.fails_at_kmh, whose,
                                          speed.text, speed.criterion)
                            : fmt::format("all pass; least margin {:.0f} %: {}{} ({})",
                                          100 * speed.margin, whose, speed.text, speed.criterion);
}

std::string speed_figure_or_none(double speed_kmh) {
  return speed_kmh > 0 ? fmt::format("{:g}", speed_kmh) : "none";
}

std::string_view name_of(Knuckle knuckle) {
  return knuckle == Knuckle::leading ? "leading" : "trailing";
}

std::string knuckle_words(const std::vector<Knuckle>& knuckles) {
  return knuckles.size() > 1 ? "knuckle leading or trailing, whichever is worse"
                             : fmt::format("knuckle {}", name_of(knuckles.front()));
}

std::string step_words(double step_kmh) {
  return fmt::format("in steps of {:g} km/h, closer where margins are small", rounded(step_kmh));
}

std::string edge_words(double edge_error_kmh) {
  return edge_error_kmh > 0
             ? fmt::format(
                   " The edge between it and the first speed that fails is at most {:g} "
                   "km/h.",
                   rounded(edge_error_kmh))
             : std::string();
}

std::string source_note(const std::string& name, const std::string& source) {
  return source.empty()
             ? fmt::format("The file of {} does not say where its figures come from.", name)
             : fmt::format("The figures of {}: {}.", name, source);
}

std::string only_these_distances_note() {
  return "Only the distances given were computed: between two of them a distance may permit less "
         "than both.";
}

std::string coarse_note(std::string_view what, std::string_view line) {
  return fmt::format(
      "{} were decided by a run in a longer step: what they leave to every limit, or lack of one, "
      "is more than such a run is off on {}, as pairs of runs have shown. Every permitted speed, "
      "and the first that fails above it, was run in the step of the rule book.",
      what, line);
}

void add_closing_notes(std::vector<std::string>& notes) {
  notes.emplace_back(
      "A computed result is no permission: what the infrastructure manager's records say goes "
      "before it, and where they say nothing it is evidence for a consent, and no consent.");
  notes.emplace_back(
      "The calculation is in the vertical plane: stagger, wind and the vehicle's own motion are "
      "not in it. Computed contact loss is not the arcing NQ that is measured.");
}

}  // namespace panup
