#include <algorithm>
#include <sstream>

#include "harness.h"
#include "stock_tables/types_from_register.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::istringstream stream(std::string(data, data + size));
  panup::Diagnostics mistakes;
  panup::Diagnostics notes;
  const auto rows =
      panup::read_register_rows(stream, "types", panup::vehicle_type_columns, mistakes, notes);
  panup::require_sound(mistakes.empty(), mistakes);
  if (!mistakes.empty()) {
    return 0;
  }
  const panup::TablesOfTypes tables = panup::tables_of_types(rows, notes);
  for (const auto* const table : {&tables.pantographs, &tables.classes, &tables.roofs}) {
    for (const auto& row : table->rows) {
      for (const auto& [name, value] : row.items()) {
        if (std::ranges::find(table->columns, name, &panup::CsvColumn::name) ==
            table->columns.end()) {
          panup::fail("each cell has a column");
        }
      }
    }
  }
  if (tables.types != tables.roofs.rows.size() || tables.types != tables.to_be_told.size()) {
    panup::fail("of each type it is said what is still to be told");
  }
  return 0;
}
