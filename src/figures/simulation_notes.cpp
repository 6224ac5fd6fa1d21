#include <algorithm>
#include <cmath>

#include "figures/permitted_words.h"
#include "figures/simulation.h"

namespace panup {

namespace {

/// Knuckle forces that differ by less are told apart by nobody.
constexpr double telling_force_n = 0.5;

std::string signed_figure(double value, const Words& words) {
  return words.say("{}{:g}", value < 0 ? "−" : "", std::abs(value));
}

bool iced(const LineWeather& weather) {
  return weather.ice_on_contact_wire_kg_per_m > 0 || weather.ice_on_messenger_wire_kg_per_m > 0;
}

void add_source(std::vector<std::string>& notes, const std::string& name, bool invented,
                const std::string& source, const Words& words) {
  std::string note = invented ? words.say("{} is invented, for the demo.", name)
                              : source_note(name, source, words);
  if (std::ranges::find(notes, note) == notes.end()) {
    notes.push_back(std::move(note));
  }
}

}  // namespace

std::vector<std::string> notes_of(const SimulationReport& report) {
  const Words& words = report.words;
  std::vector<std::string> notes;
  add_source(notes, report.line.name, report.line.invented, report.line.source, words);
  for (const RunningPantograph& one : report.pantographs) {
    add_source(notes, one.model.name, one.model.invented, one.model.source, words);
  }
  for (const RunningPantograph& one : report.pantographs) {
    const double speed = report.result.speed_kmh;
    const double more = aerodynamic_force(one.model, Knuckle::trailing, speed) -
                        aerodynamic_force(one.model, Knuckle::leading, speed);
    if (!report.knuckles_stated && std::abs(more) >= telling_force_n) {
      std::string note =
          more > 0 ? words.say(
                         "The knuckle was not stated and is taken as leading; trailing, {} "
                         "would be pressed up by {:.0f} N more.",
                         one.model.name, more)
                   : words.say(
                         "The knuckle was not stated and is taken as leading; trailing, {} "
                         "would be pressed up by {:.0f} N less.",
                         one.model.name, -more);
      if (std::ranges::find(notes, note) == notes.end()) {
        notes.push_back(std::move(note));
      }
    }
  }
  if (iced(report.weather)) {
    notes.push_back(
        words.say("Ice weighs on the wires and moves with them; that the contact strips slide on "
                  "ice, and what of it falls, is not in the model."));
  }
  notes.push_back(
      words.say("No limit is judged here: what these figures permit is for the rules that apply. A "
                "computed standard deviation may differ from a measured one by up to 20 % and "
                "still count as valid (EN 50318, from memory): leave a margin."));
  notes.push_back(
      words.say("Contact loss is the computed share of time without contact; it is not the arcing "
                "NQ that is measured."));
  notes.push_back(
      words.say("The calculation is in the vertical plane: stagger, wind and the vehicle's own "
                "motion are not in it."));
  return notes;
}

std::vector<std::string> notes_of(const StaticReport& report) {
  const Words& words = report.words;
  std::vector<std::string> notes;
  add_source(notes, report.line.name, report.line.invented, report.line.source, words);
  notes.push_back(
      words.say("Heights are above the contact wire at its supports, as the line is built. Lengths "
                "of droppers are between the centre lines of the wires, unstretched, without "
                "clamps."));
  notes.push_back(
      words.say("Elasticity is the lift per newton of a small force: no dropper that is taut at "
                "rest goes slack from it."));
  return notes;
}

bool invented(const SimulationReport& report) {
  return report.line.invented ||
         std::ranges::any_of(report.pantographs,
                             [](const RunningPantograph& one) { return one.model.invented; });
}

std::string weather_words(const LineWeather& weather, const Words& words) {
  const std::string text = signed_figure(weather.temperature_c, words) + " °C";
  if (!iced(weather)) {
    return text + words.say(", no ice");
  }
  if (weather.ice_on_contact_wire_kg_per_m == weather.ice_on_messenger_wire_kg_per_m) {
    return text +
           words.say(", ice of {:g} kg/m on every wire", weather.ice_on_contact_wire_kg_per_m);
  }
  return text +
         words.say(", ice of {:g} kg/m on each contact wire, {:g} kg/m on the messenger wire",
                   weather.ice_on_contact_wire_kg_per_m, weather.ice_on_messenger_wire_kg_per_m);
}

}  // namespace panup
