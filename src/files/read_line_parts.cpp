#include "files/read_line_parts.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/check_contact_line.h"
#include "files/document.h"

namespace panup {

namespace {

constexpr int most_droppers_in_a_span = 100;
constexpr double dropper_stiffness_n_per_m = 100000;

Wire read_wire(TomlTable& table) {
  Wire wire;
  wire.tension_n = table.number("tension_n", {500, 60000}, Need::required).value_or(0);
  wire.mass_kg_per_m = table.number("mass_kg_per_m", {0.05, 5}, Need::required).value_or(0);
  wire.bending_stiffness_nm2 = table.number("bending_stiffness_nm2", {0, 2000}).value_or(0);
  wire.axial_stiffness_n = table.number("axial_stiffness_n", {1e5, 1e9}).value_or(0);
  wire.thermal_expansion_per_k = table.number("thermal_expansion_per_k", {1e-6, 1e-4}).value_or(0);
  wire.diameter_m = table.number("diameter_mm", {1, 50}).value_or(0) / 1000;
  if (table.has("axial_stiffness_n") != table.has("thermal_expansion_per_k")) {
    table.report(table.place(),
                 fmt::format("key '{}' is missing: 'axial_stiffness_n' and "
                             "'thermal_expansion_per_k' are given together or not at all",
                             table.has("axial_stiffness_n") ? "thermal_expansion_per_k"
                                                            : "axial_stiffness_n"));
  }
  return wire;
}

void check_order(TomlTable& table, const std::vector<double>& at_m) {
  if (at_m.size() > most_droppers_in_a_span) {
    table.report_at("at_m", fmt::format("{} droppers in one span; at most {}", at_m.size(),
                                        most_droppers_in_a_span));
  }
  for (std::size_t i = 1; i < at_m.size(); ++i) {
    const double apart = at_m[i] - at_m[i - 1];
    if (apart >= least_dropper_distance_m) {
      continue;
    }
    table.report(
        table.place_of("at_m", i),
        apart < 0 ? fmt::format("droppers stand in order from the span's first support; this one, "
                                "at {:g} m, comes after one at {:g} m",
                                at_m[i], at_m[i - 1])
        : apart == 0
            ? fmt::format("two droppers stand at one place, {:g} m from the support", at_m[i])
            : fmt::format("it stands {:.3g} m from the one before; at least {:g} m is needed",
                          apart, least_dropper_distance_m));
  }
}

}  // namespace

LineWires read_line_wires(TomlTable& root, const Diagnostics& diagnostics) {
  LineWires wires;
  const std::vector<std::string> known{"contact", "messenger", "stitch"};
  bool contact_given = false;
  bool messenger_given = false;
  for (auto& [name, table] : root.named_tables("wire")) {
    if (std::ranges::find(known, name) == known.end()) {
      table.report(table.place(), not_found_text("wire", name, known));
      continue;
    }
    const std::size_t mistakes = diagnostics.size();
    if (name == "contact") {
      wires.contact_wires = table.whole("number", 1, 2).value_or(1);
    }
    const Wire wire = read_wire(table);
    table.finish();
    const auto read = diagnostics.size() == mistakes ? std::optional(wire) : std::nullopt;
    if (name == "contact") {
      contact_given = true;
      wires.contact = read;
      wires.contact_tension = table.place_of("tension_n");
    } else if (name == "messenger") {
      messenger_given = true;
      wires.messenger = read;
      wires.messenger_tension = table.place_of("tension_n");
    } else {
      wires.stitch_given = true;
      wires.stitch = read;
      wires.stitch_place = table.place();
      wires.stitch_tension = table.place_of("tension_n");
    }
  }
  for (const auto& [name, given] :
       {std::pair{"contact", contact_given}, std::pair{"messenger", messenger_given}}) {
    if (!given) {
      root.report(root.place(), fmt::format("table [wire.{}] is missing", name));
    }
  }
  return wires;
}

SupportEntry read_support(TomlTable& table) {
  SupportEntry entry;
  Support& support = entry.support;
  support.encumbrance_m = table.number("encumbrance_m", {0.1, 5}, Need::required).value_or(0);
  support.messenger_stiffness_stated = table.has("messenger_stiffness_n_per_m");
  support.messenger_stiffness_n_per_m = table.number("messenger_stiffness_n_per_m", {1000, 1e8})
                                            .value_or(stiff_messenger_support_n_per_m);
  support.messenger_mass_kg = table.number("messenger_mass_kg", {0, 200}).value_or(0);
  support.steady_arm_mass_kg = table.number("steady_arm_mass_kg", {0, 50}).value_or(0);
  support.steady_arm_stiffness_n_per_m =
      table.number("steady_arm_stiffness_n_per_m", {0, 1e5}).value_or(0);
  entry.stitch_wire_length_m = table.number("stitch_wire_length_m", {0, 60}).value_or(0);
  entry.stitch_wire_place = table.place_of("stitch_wire_length_m");
  return entry;
}

DropperPattern read_pattern(TomlTable& table, TomlTable own) {
  const bool own_places = own.has("at_m");
  const bool own_number = own.has("number") || own.has("first_m");
  DropperPattern pattern;
  const bool by_places = own_places || (!own_number && table.has("at_m"));
  const bool by_number = own_number || (!own_places && table.has("number"));
  const Range first_range{least_dropper_distance_m, longest_span_m / 2};
  const Range place_range{least_dropper_distance_m, longest_span_m - least_dropper_distance_m};
  if (by_places && by_number) {
    table.report_at("at_m",
                    "droppers stand either at places, 'at_m', or by 'number' and 'first_m'");
  } else if (by_number) {
    pattern.number = table.whole("number", 2, most_droppers_in_a_span, Need::required).value_or(0);
    pattern.first_m = table.number("first_m", first_range, Need::required).value_or(0);
  } else if (by_places) {
    if (const auto places = table.numbers("at_m", place_range)) {
      pattern.at_m = *places;
      if (places->empty()) {
        table.report_at("at_m",
                        "'at_m' is empty; a span without droppers says droppers = \"none\"");
      }
      check_order(table, *places);
    }
  } else {
    table.report(table.place(),
                 "it is not said where the droppers stand: 'at_m' lists their places, 'number' and "
                 "'first_m' spread them evenly");
  }
  for (const std::string_view key : {"at_m", "number", "first_m"}) {
    table.has(key);
  }
  pattern.dropper.stiffness_n_per_m =
      table.number("stiffness_n_per_m", {1000, 1e7}).value_or(dropper_stiffness_n_per_m);
  pattern.dropper.mass_on_contact_wire_kg =
      table.number("mass_on_contact_wire_kg", {0, 10}).value_or(0);
  pattern.dropper.mass_on_messenger_kg = table.number("mass_on_messenger_kg", {0, 10}).value_or(0);
  return pattern;
}

}  // namespace panup
