#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "drawing/csv_table.h"
#include "register_rows/register_rows.h"

namespace panup {

/// The columns of the query for vehicle types (docs/from-tables.md), in the order of its variables.
enum class VehicleTypeColumn : std::uint8_t {
  type,
  name,
  supply,
  height_min,
  height_max,
  head,
  strip,
  dropping_device,
  limitation,
  standstill_current,
  power,
  rated_current,
  in_contact,
  shortest_distance,
  line_type,
  force,
};
inline constexpr std::array<std::string_view, 16> vehicle_type_columns{
    "type",    "name",        "supply", "heightMin", "heightMax", "head",      "strip",   "add",
    "limited", "standstillA", "maxKw",  "ratedA",    "inContact", "shortestM", "oclType", "force"};

/// Tables for `stock_from_tables`, with what the vehicle register states of its types; a cell that
/// it says nothing of is null.
struct TablesOfTypes {
  CsvTable pantographs;
  CsvTable classes;
  CsvTable roofs;
  std::size_t types = 0;
  std::vector<std::string> to_be_told;  ///< of each type, the headings that somebody has to fill in
};

/// Takes the rows of a type together. What the register has in another meaning than a stock file
/// (its powers and currents, the number in contact and their distance, the contact force) stands in
/// the column `note` and is no value. It knows no places of pantographs: a roof has one row, to be
/// filled in. Of a type with several heads, strips or values nobody can say which belongs to which
/// pantograph: that is left blank and goes to `notes`.
TablesOfTypes tables_of_types(const RegisterRows& rows, Diagnostics& notes);

}  // namespace panup
