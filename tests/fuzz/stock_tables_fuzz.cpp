#include <array>

#include "harness.h"
#include "stock_tables/stock_from_tables.h"

namespace {

/// What parts one table from the next in a seed.
constexpr std::string_view parting = "\n=====\n";

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string text(data, data + size);
  std::array<std::string, 5> texts;
  for (std::string& one : texts) {
    const std::size_t cut = std::min(text.find(parting), text.size());
    one = text.substr(0, cut);
    text = cut < text.size() ? text.substr(cut + parting.size()) : std::string();
  }
  panup::Diagnostics mistakes;
  const auto table = [&](std::size_t i, const panup::TableKind& kind) {
    return panup::read_stock_table({.file = std::string(kind.what), .text = texts.at(i)}, kind,
                                   mistakes);
  };
  panup::StockTables tables{.pantographs = table(0, panup::pantograph_table),
                            .classes = table(1, panup::class_table),
                            .roofs = table(2, panup::roof_table),
                            .vehicles = std::nullopt,
                            .wagons = std::nullopt};
  if (!texts[3].empty()) {
    tables.vehicles = table(3, panup::vehicle_table);
  }
  if (!texts[4].empty()) {
    tables.wagons = table(4, panup::wagon_table);
  }
  panup::require_sound(mistakes.empty(), mistakes);
  panup::Diagnostics of_stock;
  const auto stock =
      panup::stock_from_tables(tables,
                               {.decimal_comma = texts[0].find(';') != std::string::npos,
                                .invented = true,
                                .dynamic_model_folder = {},
                                .made_at = "now",
                                .stock = {}},
                               of_stock);
  panup::require_sound(stock.has_value(), of_stock);
  for (const panup::Diagnostic& mistake : of_stock) {
    if (mistake.place.file == "the stock of the tables") {
      panup::fail("what is written reads back without mistakes, and mistakes are told of cells");
    }
  }
  return 0;
}
