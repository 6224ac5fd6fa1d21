#include "train_messages/series_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

namespace panup {

namespace {

bool is_number(std::string_view text) {
  return std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

}  // namespace

std::vector<SeriesRow> series_rows(const StockTable& table, Diagnostics& mistakes) {
  std::vector<SeriesRow> rows;
  std::map<std::tuple<std::string, std::string, std::string>, int> lines;
  for (const TableRow& row : table.rows) {
    bool right = true;
    const auto report = [&](std::string_view heading, const std::string& text) {
      mistakes.push_back(at_cell(table, row, heading, text));
      right = false;
    };
    for (const std::string_view heading : {"series", "class"}) {
      if (!says(table, row, heading)) {
        report(heading, fmt::format("'{}' is empty", heading));
      }
    }
    for (const std::string_view heading : {"series", "country", "serial"}) {
      if (!is_number(table.cell(row, heading))) {
        report(heading, fmt::format("'{}' is '{}'; expected digits, as in the vehicle number",
                                    heading, table.cell(row, heading)));
      }
    }
    const std::string& cab = table.cell(row, "leading_cab");
    if (!cab.empty() && cab != "1" && cab != "2") {
      report("leading_cab",
             fmt::format("'leading_cab' is '{}'; expected 1 or 2, the cab that is always at the "
                         "front, or nothing where it is asked for",
                         cab));
    }
    if (!right) {
      continue;
    }
    SeriesRow one{.series = table.cell(row, "series"),
                  .of_class = table.cell(row, "class"),
                  .country = table.cell(row, "country"),
                  .serial = table.cell(row, "serial"),
                  .leading_cab = cab.empty() ? std::nullopt
                                             : std::optional(cab == "1" ? Cab::cab1 : Cab::cab2),
                  .row = &row};
    const auto [known, is_new] = lines.try_emplace({one.series, one.country, one.serial}, row.line);
    if (!is_new) {
      report("series", fmt::format("series {} stands in row {} already, for the same locomotives",
                                   one.series, known->second));
      continue;
    }
    rows.push_back(std::move(one));
  }
  return rows;
}

const SeriesRow* row_for(const MessageLocomotive& locomotive, const std::vector<SeriesRow>& rows) {
  const SeriesRow* best = nullptr;
  const auto weight = [](const SeriesRow& row) {
    return std::pair(!row.serial.empty(), !row.country.empty());
  };
  for (const SeriesRow& row : rows) {
    const bool fits = row.series == locomotive.series &&
                      (row.country.empty() || row.country == locomotive.country) &&
                      (row.serial.empty() || row.serial == locomotive.serial);
    if (fits && (best == nullptr || weight(row) > weight(*best))) {
      best = &row;
    }
  }
  return best;
}

}  // namespace panup
