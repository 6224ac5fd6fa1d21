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
    for (const auto& row : *table) {
      if (row.size() != table->front().size()) {
        panup::fail("each row has a cell for each heading");
      }
    }
  }
  if (tables.types + 1 != tables.roofs.size() || tables.types != tables.to_be_told.size()) {
    panup::fail("of each type it is said what is still to be told");
  }
  return 0;
}
