#include "render/simulation_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/wording.h"

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

std::string list(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    out += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  }
  return out;
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

std::vector<std::string> calculation_cautions() {
  return {
      "This calculation supports, and does not replace, the rules of the infrastructure manager "
      "and the operator and the decision of the person responsible.",
      "Local rules and licensed practice come first.",
      "Nobody goes on a roof or near a live wire on the strength of it.",
  };
}

std::vector<std::string> notes_of(const SimulationRecord& record) {
  std::vector<std::string> notes;
  add_source(notes, record.line.name, record.line.invented, record.line.source);
  for (const RunningPantograph& one : record.pantographs) {
    add_source(notes, one.model.name, one.model.invented, one.model.source);
  }
  for (const RunningPantograph& one : record.pantographs) {
    const double speed = record.result.speed_kmh;
    const double more = aerodynamic_force(one.model, Knuckle::trailing, speed) -
                        aerodynamic_force(one.model, Knuckle::leading, speed);
    if (!record.knuckles_stated && std::abs(more) >= telling_force_n) {
      std::string note = fmt::format(
          "The knuckle was not stated and is taken as leading; trailing, {} would be pressed up by "
          "{:.0f} N {}.",
          one.model.name, std::abs(more), more > 0 ? "more" : "less");
      if (std::ranges::find(notes, note) == notes.end()) {
        notes.push_back(std::move(note));
      }
    }
  }
  if (iced(record.weather)) {
    notes.emplace_back(
        "The ice weighs on the wires at rest; the mass that it adds to the moving wires is not "
        "reckoned.");
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

std::vector<std::string> notes_of(const RestRecord& record) {
  std::vector<std::string> notes;
  add_source(notes, record.line.name, record.line.invented, record.line.source);
  notes.emplace_back(
      "Heights are above the contact wire at its supports, as the line is built. Lengths of "
      "droppers are between the centre lines of the wires, unstretched, without clamps.");
  notes.emplace_back(
      "Elasticity is the lift per newton of a small force: no dropper that is taut at rest "
      "goes slack from it.");
  return notes;
}

bool invented(const SimulationRecord& record) {
  return record.line.invented ||
         std::ranges::any_of(record.pantographs, [](const RunningPantograph& one) {
           return one.model.invented;
         });
}

std::string_view name_of(Knuckle knuckle) {
  return knuckle == Knuckle::leading ? "leading" : "trailing";
}

std::string weather_words(const LineWeather& weather) {
  std::string text = signed_figure(weather.temperature_c) + " °C";
  if (!iced(weather)) {
    return text + ", no ice";
  }
  if (weather.ice_on_contact_wire_kg_per_m == weather.ice_on_messenger_wire_kg_per_m) {
    return text + fmt::format(", ice of {:g} kg/m on every wire",
                              weather.ice_on_contact_wire_kg_per_m);
  }
  return text + fmt::format(", ice of {:g} kg/m on each contact wire, {:g} kg/m on the messenger "
                            "wire",
                            weather.ice_on_contact_wire_kg_per_m,
                            weather.ice_on_messenger_wire_kg_per_m);
}

std::string pantographs_words(const std::vector<RunningPantograph>& pantographs) {
  std::vector<std::string> names;
  std::vector<std::string> places;
  for (const RunningPantograph& one : pantographs) {
    names.push_back(one.model.name);
    if (names.size() > 1) {
      places.push_back(fmt::format("{:g} m", one.behind_first_m));
    }
  }
  const bool alike = std::ranges::all_of(
      names, [&](const std::string& name) { return name == names.front(); });
  std::string text = !alike || names.size() == 1
                         ? list(names)
                         : fmt::format("{} × {}", names.size(), names.front());
  if (!places.empty()) {
    text += fmt::format(", {} behind the first", list(places));
  }
  return text;
}

double real_time_factor(const SimulationResult& result) {
  return result.wall_s > 0 ? result.simulated_s / result.wall_s : 0;
}

int slackened(const std::vector<DropperSlackening>& droppers) {
  return static_cast<int>(std::ranges::count_if(
      droppers, [](const DropperSlackening& dropper) { return dropper.times > 0; }));
}

}  // namespace panup
