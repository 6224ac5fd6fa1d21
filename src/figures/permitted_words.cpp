#include "figures/permitted_words.h"

#include <cmath>

namespace panup {

namespace {

/// As figures are read: no more than two decimals.
double rounded(double value) { return std::round(100 * value) / 100; }

}  // namespace

std::string deciding_words(const PermittedSpeed& speed, const Words& words) {
  const std::string whose =
      speed.pantograph > 0 ? words.say("pantograph {}, ", speed.pantograph) : std::string();
  if (speed.refused) {
    return words.say("at {:g} km/h no run: {}", *speed.fails_at_kmh, speed.text);
  }
  return speed.fails_at_kmh ? words.say("at {:g} km/h {}{} ({})", *speed.fails_at_kmh, whose,
                                        speed.text, speed.criterion)
                            : words.say("all pass; least margin {:.0f} %: {}{} ({})",
                                        100 * speed.margin, whose, speed.text, speed.criterion);
}

std::string speed_figure_or_none(double speed_kmh, const Words& words) {
  return speed_kmh > 0 ? words.say("{:g}", speed_kmh) : words.say("none");
}

std::string_view name_of(Knuckle knuckle) {
  return knuckle == Knuckle::leading ? "leading" : "trailing";
}

std::string knuckle_word(Knuckle knuckle, const Words& words) {
  return knuckle == Knuckle::leading ? words.say("leading") : words.say("trailing");
}

std::string knuckle_words(const std::vector<Knuckle>& knuckles, const Words& words) {
  return knuckles.size() > 1 ? words.say("knuckle leading or trailing, whichever is worse")
                             : words.say("knuckle {}", knuckle_word(knuckles.front(), words));
}

std::string step_words(double step_kmh, const Words& words) {
  return words.say("in steps of {:g} km/h, closer where margins are small", rounded(step_kmh));
}

std::string edge_words(double edge_error_kmh, const Words& words) {
  return edge_error_kmh > 0
             ? words.say(
                   " The edge between it and the first speed that fails is at most {:g} km/h.",
                   rounded(edge_error_kmh))
             : std::string();
}

std::string source_note(const std::string& name, const std::string& source, const Words& words) {
  return source.empty()
             ? words.say("The file of {} does not say where its figures come from.", name)
             : words.say("The figures of {}: {}.", name, source);
}

std::string only_these_distances_note(const Words& words) {
  return words.say(
      "Only the distances given were computed: between two of them a distance may permit less than "
      "both.");
}

std::string coarse_note(const std::string& decided, const Words& words) {
  return words.say(
      "{}, as pairs of runs have shown. Every permitted speed, and the first that fails above it, "
      "was run in the step of the rule book.",
      decided);
}

void add_closing_notes(std::vector<std::string>& notes, const Words& words) {
  notes.push_back(words.say(
      "A computed result is no permission: what the infrastructure manager's records say goes "
      "before it, and where they say nothing it is evidence for a consent, and no consent."));
  notes.push_back(words.say(
      "The calculation is in the vertical plane: stagger, wind and the vehicle's own motion are "
      "not in it. Computed contact loss is not the arcing NQ that is measured."));
}

}  // namespace panup
