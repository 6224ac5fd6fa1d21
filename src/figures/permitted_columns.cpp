#include "figures/permitted_columns.h"

#include <array>

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// As in JSON within `by_supports`, and the meaning.
struct SupportColumn {
  const char* key;
  const char* unit;
  const char* meaning;
};
constexpr std::array<SupportColumn, 4> support_columns{
    {{"stiff_n_per_m", "N/m", "A stiff support of the messenger wire."},
     {"stiff_kmh", "km/h", "The permitted speed with it."},
     {"soft_n_per_m", "N/m", "A soft support of the messenger wire."},
     {"soft_kmh", "km/h", "The permitted speed with it."}}};

std::string heading(const SupportColumn& column) {
  return std::string("by_supports_") + column.key;
}

}  // namespace

void add_permitted_columns(std::vector<CsvColumn>& columns) {
  const auto kmh = [](std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
    return CsvColumn{std::move(name), CellKind::number, empty, std::move(meaning), "km/h"};
  };
  columns.push_back(kmh("permitted_speed_kmh", "The permitted speed; 0: none."));
  columns.push_back(
      kmh("fails_at_kmh", "The first speed that fails; empty: none did.", EmptyCell::not_stated));
  columns.push_back(kmh("edge_error_kmh", "How far the permitted speed may be off."));
  columns.push_back(kmh("step_kmh", "Step of the speeds that were looked at."));
  columns.push_back({.name = "deciding_criterion",
                     .empty = EmptyCell::empty,
                     .meaning = "The criterion that decides, by its rule."});
  columns.push_back({.name = "deciding_margin",
                     .kind = CellKind::number,
                     .meaning = "What is left of its limit, as a share of it; below 0: not met."});
  columns.push_back({.name = "deciding_pantograph",
                     .kind = CellKind::whole,
                     .meaning = "Raised pantograph that decides, from the front; 0: none."});
  columns.push_back(
      {.name = "deciding_text", .empty = EmptyCell::empty, .meaning = "What decides, in words."});
  columns.push_back({.name = "no_run",
                     .kind = CellKind::flag,
                     .meaning = "The mechanics cannot say."});
  for (const SupportColumn& column : support_columns) {
    columns.push_back(
        {heading(column), CellKind::number, EmptyCell::not_stated, column.meaning, column.unit});
  }
}

void flatten_supports(Json& row) {
  const Json supports = row.value("by_supports", Json(nullptr));
  for (const SupportColumn& column : support_columns) {
    row[heading(column)] = supports.is_null() ? Json(nullptr) : supports.at(column.key);
  }
}

CsvTable doubts_table(std::string name, std::string key, std::string key_meaning) {
  return {.name = std::move(name),
          .title = "What is to be doubted of permitted speeds",
          .columns = {{.name = key, .kind = CellKind::whole, .meaning = std::move(key_meaning)},
                      {.name = "number", .kind = CellKind::whole, .meaning = "Doubt, from 1."},
                      {.name = "doubt", .meaning = "What is in doubt."},
                      {.name = "text", .meaning = "The same in a sentence."}},
          .key = {key, "number"}};
}

void add_doubts(const Json& warnings, const Json& before, CsvTable& table) {
  int doubt_number = 0;
  for (const Json& warning : warnings) {
    Json row = before;
    row["number"] = ++doubt_number;
    row.update(warning);
    table.rows.push_back(std::move(row));
  }
}

}  // namespace panup
