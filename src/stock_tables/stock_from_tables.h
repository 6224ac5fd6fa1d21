#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "files/kept_values.h"
#include "stock_tables/table_rows.h"

namespace panup {

/// The headings of the tables: the keys of a stock file, with the unit in them, and what a row
/// belongs to. `note` is for whoever keeps the table, and is passed over.
inline constexpr std::array<std::string_view, 24> pantograph_headings{
    "id",
    "name",
    "head_width_mm",
    "head_type",
    "working_width_mm",
    "contact_strips",
    "strip_length_along_track_mm",
    "greatest_current_per_strip_a",
    "strip_material",
    "metallic_content_percent",
    "frame",
    "aerodynamic_n_per_kmh2",
    "highest_speed_kmh",
    "automatic_dropping_device",
    "working_height_min_m",
    "working_height_max_m",
    "raising_time_s",
    "lowering_time_s",
    "dynamic_model",
    "system",
    "static_force_n",
    "running_current_a",
    "standstill_current_a",
    "note"};
/// What a class and a single vehicle both may state.
inline constexpr std::array<std::string_view, 16> class_columns{
    "length_m",           "highest_speed_kmh",    "mass_t",     "davis_a_n",
    "davis_b_n_per_kmh",  "davis_c_n_per_kmh2",   "roof_line",  "roof_line_can_be_opened",
    "current_limitation", "high_voltage_coupler", "system",     "power_kw",
    "auxiliary_kw",       "power_factor",         "efficiency", "greatest_current_a"};
/// Headings of what a row is of, what it states of a class, and the note.
template <std::size_t names>
constexpr std::array<std::string_view, names + class_columns.size() + 1> with_class_columns(
    const std::array<std::string_view, names>& of) {
  std::array<std::string_view, names + class_columns.size() + 1> headings{};
  std::ranges::copy(class_columns, std::ranges::copy(of, headings.begin()).out);
  headings.back() = "note";
  return headings;
}
inline constexpr auto class_headings =
    with_class_columns(std::array<std::string_view, 3>{"id", "name", "type"});
inline constexpr auto vehicle_headings =
    with_class_columns(std::array<std::string_view, 4>{"number", "class", "id", "name"});
inline constexpr std::array<std::string_view, 7> roof_headings{
    "type", "from_cab1_m", "class", "vehicle", "knuckle_towards", "nearer_cab", "note"};
inline constexpr std::array<std::string_view, 9> wagon_headings{
    "id",     "name",      "length_m",          "highest_speed_kmh",
    "mass_t", "davis_a_n", "davis_b_n_per_kmh", "davis_c_n_per_kmh2",
    "note"};

inline constexpr TableKind pantograph_table{"pantographs", pantograph_headings, 1};
inline constexpr TableKind class_table{"classes", class_headings, 1};
inline constexpr TableKind roof_table{"roofs", roof_headings, 2};
inline constexpr TableKind vehicle_table{"vehicles", vehicle_headings, 2};
inline constexpr TableKind wagon_table{"wagons", wagon_headings, 1};

/// The tables of a spreadsheet; any may be missing.
struct StockTables {
  std::optional<StockTable> pantographs;  ///< a row for each energy supply system of a type
  std::optional<StockTable> classes;      ///< a row for each energy supply system of a class
  std::optional<StockTable> roofs;        ///< a row for each pantograph on a roof, from cab 1
  std::optional<StockTable> vehicles;     ///< a row for each vehicle, and further system of it
  std::optional<StockTable> wagons;       ///< a row for each wagon group
};

/// How they become a stock file.
struct FromTables {
  bool decimal_comma = false;  ///< numbers have a comma; else a point
  bool invented = false;
  std::string dynamic_model_folder;  ///< as it is to stand in the file; may be empty
  std::string made_at;               ///< for the head of the file
  std::string dated;                 ///< the day of which the tables are; empty: not stated
  std::vector<SourceText> stock;     ///< files that have pantograph types which roofs may name
  std::vector<KeptValue> kept = {};  ///< of the stock file that is there
};

/// The values of a stock file that stay when it is made of tables again: those that come from
/// elsewhere.
std::vector<KeptValue> kept_of_stock(const SourceText& there);

/// A single vehicle, and the vehicle type by which a train file names it.
struct NumberedVehicle {
  std::string number;
  std::string of_class;
  std::string type;  ///< its class, or where it differs a type of its own
};

struct StockFromTables {
  std::string text;  ///< of the file
  std::size_t pantographs = 0;
  std::size_t classes = 0;
  std::size_t wagons = 0;
  std::vector<NumberedVehicle> vehicles;
  std::vector<KeptValue> kept;  ///< as asked for, with what came of each
};

/// Makes a stock file of the tables. Nothing, and `mistakes` by file, row and column, where one
/// would be wrong; else it reads back without mistakes. What is blank is not stated. A vehicle that
/// differs from its class becomes a vehicle type of its own: the class with the cells of its own
/// row, by system those of its rows, and its own roof where rows of the roofs name it.
std::optional<StockFromTables> stock_from_tables(const StockTables& tables, const FromTables& how,
                                                 Diagnostics& mistakes);

}  // namespace panup
