#include "stock_tables/tables_to_fill_in.h"

#include <algorithm>
#include <span>

#include "stock_tables/stock_from_tables.h"

namespace panup {

namespace {

struct HeadingMeant {
  std::string_view heading;
  std::string_view meaning;
  CellKind kind = CellKind::text;
  std::string_view unit = {};
};

constexpr std::array<HeadingMeant, 24> of_pantographs{{
    {"id", "Id of the pantograph type."},
    {"name", "Its name."},
    {"head_width_mm", "Width of the collector head.", CellKind::number, "mm"},
    {"head_type", "Type of the head, as the registers name it."},
    {"working_width_mm", "Width that the contact wire may touch.", CellKind::number, "mm"},
    {"contact_strips", "How many contact strips.", CellKind::whole},
    {"strip_length_along_track_mm", "Length of a strip along the track.", CellKind::number, "mm"},
    {"greatest_current_per_strip_a", "Greatest current through a strip.", CellKind::number, "A"},
    {"strip_material", "Material of the contact strips."},
    {"metallic_content_percent", "Metallic content of the strips.", CellKind::number, "%"},
    {"frame", "single-arm or diamond."},
    {"aerodynamic_n_per_kmh2", "What its mean contact force grows by with the square of speed.",
     CellKind::number, "N/(km/h)²"},
    {"highest_speed_kmh", "Highest speed.", CellKind::number, "km/h"},
    {"automatic_dropping_device", "It has an automatic dropping device.", CellKind::flag},
    {"working_height_min_m", "Least height at which it works, above the rail.", CellKind::number,
     "m"},
    {"working_height_max_m", "Greatest height at which it works.", CellKind::number, "m"},
    {"raising_time_s", "How long it takes to rise.", CellKind::number, "s"},
    {"lowering_time_s", "How long it takes to come down.", CellKind::number, "s"},
    {"dynamic_model", "Id of its pantograph model."},
    {"system", "Energy supply system, a row for each."},
    {"static_force_n", "Static contact force on that system.", CellKind::number, "N"},
    {"running_current_a", "Greatest current while running.", CellKind::number, "A"},
    {"standstill_current_a", "Greatest current at a stand.", CellKind::number, "A"},
    {"note", "For whoever keeps the table; passed over."},
}};

constexpr std::array<HeadingMeant, 20> of_classes{{
    {"id", "Id of the class."},
    {"name", "Its name."},
    {"type", "locomotive or electric unit."},
    {"length_m", "Length over buffers or couplers.", CellKind::number, "m"},
    {"highest_speed_kmh", "Highest speed.", CellKind::number, "km/h"},
    {"mass_t", "Mass in working order.", CellKind::number, "t"},
    {"davis_a_n", "Running resistance that speed does not change.", CellKind::number, "N"},
    {"davis_b_n_per_kmh", "Running resistance by speed.", CellKind::number, "N/(km/h)"},
    {"davis_c_n_per_kmh2", "Running resistance by the square of speed.", CellKind::number,
     "N/(km/h)²"},
    {"roof_line", "Its pantographs are joined by a roof line.", CellKind::flag},
    {"roof_line_can_be_opened", "The roof line can be opened.", CellKind::flag},
    {"current_limitation", "It limits its current or power on board.", CellKind::flag},
    {"high_voltage_coupler", "It can join its roof line with that of the next vehicle.",
     CellKind::flag},
    {"system", "Energy supply system that it is built for, a row for each."},
    {"power_kw", "Power at the wheels on that system.", CellKind::number, "kW"},
    {"auxiliary_kw", "Power of auxiliaries and heating.", CellKind::number, "kW"},
    {"power_factor", "Power factor.", CellKind::number},
    {"efficiency", "Efficiency from the wire to the wheels.", CellKind::number},
    {"greatest_current_a", "Greatest current that it draws.", CellKind::number, "A"},
    {"note", "For whoever keeps the table; passed over."},
}};

constexpr std::array<HeadingMeant, 7> of_roofs{{
    {"type", "Id of the pantograph type."},
    {"from_cab1_m", "Collector head to the cab 1 end.", CellKind::number, "m"},
    {"class", "The class that has this roof."},
    {"vehicle", "Number of the one vehicle that has it."},
    {"knuckle_towards", "cab 1 or cab 2."},
    {"nearer_cab", "cab 1 or cab 2, where it stands exactly in the middle."},
    {"note", "For whoever keeps the table; passed over."},
}};

/// The columns in the order of `headings`, with what is known of each.
std::vector<CsvColumn> columns_of(std::span<const std::string_view> headings,
                                  std::span<const HeadingMeant> meant) {
  std::vector<CsvColumn> columns;
  for (const std::string_view heading : headings) {
    const auto found = std::ranges::find(meant, heading, &HeadingMeant::heading);
    if (found != meant.end()) {
      columns.push_back({.name = std::string(heading),
                         .kind = found->kind,
                         .empty = EmptyCell::not_stated,
                         .meaning = std::string(found->meaning),
                         .unit = std::string(found->unit)});
    }
  }
  columns.front().empty = EmptyCell::never;
  return columns;
}

}  // namespace

CsvTable pantographs_to_fill_in() {
  return {.name = "pantographs",
          .title = "Pantograph types, to be filled in",
          .columns = columns_of(pantograph_headings, of_pantographs),
          .key = {"id", "system"}};
}

CsvTable classes_to_fill_in() {
  return {.name = "classes",
          .title = "Vehicle classes, to be filled in",
          .columns = columns_of(class_headings, of_classes),
          .key = {"id", "system"}};
}

CsvTable roofs_to_fill_in() {
  return {.name = "roofs",
          .title = "Pantographs on roofs, in order from cab 1, to be filled in",
          .columns = columns_of(roof_headings, of_roofs),
          .key = {"type", "class"}};
}

}  // namespace panup
