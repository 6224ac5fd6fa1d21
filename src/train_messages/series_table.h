#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stock/vehicle.h"
#include "stock_tables/table_rows.h"
#include "train_messages/composition_message.h"

namespace panup {

/// The headings of the table that says which class of the stock a series is.
inline constexpr std::array<std::string_view, 6> series_headings{"series", "class",       "country",
                                                                 "serial", "leading_cab", "note"};
inline constexpr TableKind series_table{"series", series_headings, 2};

/// A row of it.
struct SeriesRow {
  std::string series;
  std::string of_class;
  std::string country;             ///< empty: any
  std::string serial;              ///< empty: any
  std::optional<Cab> leading_cab;  ///< the cab that is always at the front; nothing: asked for
  const TableRow* row = nullptr;
};

/// The rows of a table, which must outlive them; what is wrong with them goes to `mistakes`. Rows
/// that are for the same locomotives are a mistake.
std::vector<SeriesRow> series_rows(const StockTable& table, Diagnostics& mistakes);

/// The row for a locomotive, the one that says most of it: with its serial number before one with
/// its country before one of the series alone. Null where there is none.
const SeriesRow* row_for(const MessageLocomotive& locomotive, const std::vector<SeriesRow>& rows);

}  // namespace panup
