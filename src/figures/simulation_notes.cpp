#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figures/simulation.h"

namespace panup {

namespace {

/// Knuckle forces that differ by less are told apart by nobody.
constexpr double telling_force_n = 0.5;

std::string signed_figure(double value) {
  return fmt::format("{}{:g}", value < 0 ? "−" : "", std::abs(value));
}

bool iced(const LineWeather& weather) {
  return weather.ice_on_contact_wire_kg_per_m > 0 || weather.ice_on_messenger_wire_kg_per_m > 0;
}

void add_source(std::vector<std::string>& notes, const std::string& name, bool invented,
                const std::string& source) {
  std::string note;
  if (invented) {
    note = fmt::format("{} is invented, for the demo.", name);
  } else if (source.empty()) {
    note = fmt::format("The file of {} does not say where its figures come from.", name);
  } else {
    note = fmt::format("The figures of {}: {}.", name, source);
  }
  if (std::ranges::find(notes, note) == notes.end()) {
    notes.push_back(std::move(note));
  }
}

}  // namespace

std::vector<std::string> notes_of(const SimulationReport& report) {
  std::vector<std::string> notes;
  add_source(notes, report.line.name, report.line.invented, report.line.source);
  for (const RunningPantograph& one : report.pantographs) {
    add_source(notes, one.model.name, one.model.invented, one.model.source);
  }
  for (const RunningPantograph& one : report.pantographs) {
    const double speed = report.result.speed_kmh;
    const double more = aerodynamic_force(one.model, Knuckle::trailing, speed) -
                        aerodynamic_force(one.model, Knuckle::leading, speed);
    if (!report.knuckles_stated && std::abs(more) >= telling_force_n) {
      std::string note = fmt::format(
          "The knuckle was not stated and is taken as leading; trailing, {} would be pressed up by "
          "{:.0f} N {}.",
          one.model.name, std::abs(more), more > 0 ? "more" : "less");
      if (std::ranges::find(notes, note) == notes.end()) {
        notes.push_back(std::move(note));
      }
    }
  }
  if (iced(report.weather)) {
    notes.emplace_back(
        "Ice weighs on the wires and moves with them; that the contact strips slide on ice, and "
        "what of "
        "it falls, is not in the model.");
  }
  notes.emplace_back(
      "No limit is judged here: what these figures permit is for the rules that apply. A computed "
      "standard deviation may differ from a measured one by up to 20 % and still count as valid "
      "(EN 50318, from memory): leave a margin.");
  notes.emplace_back(
      "Contact loss is the computed share of time without contact; it is not the arcing NQ that is "
      "measured.");
  notes.emplace_back(
      "The calculation is in the vertical plane: stagger, wind and the vehicle's own motion are "
      "not in it.");
  return notes;
}

std::vector<std::string> notes_of(const StaticReport& report) {
  std::vector<std::string> notes;
  add_source(notes, report.line.name, report.line.invented, report.line.source);
  notes.emplace_back(
      "Heights are above the contact wire at its supports, as the line is built. Lengths of "
      "droppers are between the centre lines of the wires, unstretched, without clamps.");
  notes.emplace_back(
      "Elasticity is the lift per newton of a small force: no dropper that is taut at rest "
      "goes slack from it.");
  return notes;
}

bool invented(const SimulationReport& report) {
  return report.line.invented ||
         std::ranges::any_of(report.pantographs,
                             [](const RunningPantograph& one) { return one.model.invented; });
}

std::string weather_words(const LineWeather& weather) {
  const std::string text = signed_figure(weather.temperature_c) + " °C";
  if (!iced(weather)) {
    return text + ", no ice";
  }
  if (weather.ice_on_contact_wire_kg_per_m == weather.ice_on_messenger_wire_kg_per_m) {
    return text +
           fmt::format(", ice of {:g} kg/m on every wire", weather.ice_on_contact_wire_kg_per_m);
  }
  return text + fmt::format(
                    ", ice of {:g} kg/m on each contact wire, {:g} kg/m on the messenger "
                    "wire",
                    weather.ice_on_contact_wire_kg_per_m, weather.ice_on_messenger_wire_kg_per_m);
}

}  // namespace panup
