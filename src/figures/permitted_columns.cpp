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
    {{"stiff_n_per_m", "N/m",
      "Stiff support of the messenger wire; empty: the line states its own."},
     {"stiff_kmh", "km/h", "The permitted speed with it."},
     {"soft_n_per_m", "N/m", "Soft support of the messenger wire, likewise."},
     {"soft_kmh", "km/h", "The permitted speed with it."}}};

std::string heading(const SupportColumn& column) {
  return std::string("by_supports_") + column.key;
}

}  // namespace

void add_permitted_columns(std::vector<CsvColumn>& columns) {
  const auto kmh = [](std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
    return CsvColumn{std::move(name), CellKind::number, empty, std::move(meaning), "km/h"};
  };
  columns.push_back(kmh("permitted_speed_kmh",
                        "The permitted speed; 0: the lowest speed looked at fails already."));
  columns.push_back(
      kmh("fails_at_kmh", "The lowest speed that fails; empty: all pass.", EmptyCell::not_stated));
  columns.push_back(
      kmh("edge_error_kmh", "Between the last speed that passes and the first that fails."));
  columns.push_back(kmh("step_kmh", "Greatest step of the speeds looked at."));
  columns.push_back({.name = "deciding_criterion",
                     .empty = EmptyCell::empty,
                     .meaning = "Rule that decides: where it fails, or with the least margin."});
  columns.push_back({.name = "deciding_margin",
                     .kind = CellKind::number,
                     .meaning = "Of that rule, as a share of its limit: below 0 at the speed that "
                                "fails, else the least."});
  columns.push_back(
      {.name = "deciding_pantograph",
       .kind = CellKind::whole,
       .meaning = "Raised pantograph that decides, from the front, from 1; 0: the line."});
  columns.push_back(
      {.name = "deciding_text", .empty = EmptyCell::empty, .meaning = "What decides, in words."});
  columns.push_back({.name = "no_run",
                     .kind = CellKind::flag,
                     .meaning = "The speed that fails has no run: the mechanics cannot say."});
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
