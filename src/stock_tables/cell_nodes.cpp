#include "stock_tables/cell_nodes.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/cell_values.h"

namespace panup {

namespace {

constexpr std::array<std::string_view, 5> flag_columns{
    "automatic_dropping_device", "roof_line", "roof_line_can_be_opened", "current_limitation",
    "high_voltage_coupler"};
constexpr std::array<std::string_view, 13> text_columns{
    "id",        "name",           "type",  "class",         "vehicle", "number",
    "head_type", "strip_material", "frame", "dynamic_model", "system",  "knuckle_towards",
    "nearer_cab"};

std::string lower_case(std::string_view text) {
  std::string lower(text);
  std::ranges::transform(lower, lower.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return lower;
}

/// What is missing that stands in rows of another table.
std::string row_words(const std::string& text) {
  if (text == "key 'pantograph' is missing") {
    return "no row of the roofs names it; what has no pantographs is a wagon group, and stands in "
           "the table of wagons";
  }
  return text == "key 'supply' is missing" ? "it states no 'system', and needs one at least" : text;
}

}  // namespace

TomlNode CellNodes::placed(CellPlace place, decltype(TomlNode::value) value) {
  places_.push_back(place);
  return {.line = static_cast<int>(places_.size()), .column = 1, .value = std::move(value)};
}

void CellNodes::report(const StockTable& table, const TableRow& row, std::string_view heading,
                       std::string_view text) {
  mistakes_.push_back(at_cell(table, row, heading, text));
}

void CellNodes::report_no_number(const StockTable& table, const TableRow& row,
                                 std::string_view heading) {
  const std::string& text = table.cell(row, heading);
  const char other_mark = decimal_comma_ ? '.' : ',';
  if (text.find(other_mark) == std::string::npos) {
    report(table, row, heading,
           fmt::format("'{}' is '{}'; expected a number alone, the unit is in the heading", heading,
                       text));
    return;
  }
  // Of a table where all numbers are written so, one line is enough.
  if (with_other_mark_.insert(&table).second) {
    report(table, row, heading,
           decimal_comma_
               ? fmt::format("'{}' is '{}'; with --decimal-comma a number has a comma, and no "
                             "point. Of this table it is said once",
                             heading, text)
               : fmt::format("'{}' is '{}'; expected a number with a decimal point. Where the "
                             "numbers of the tables have a decimal comma, say --decimal-comma. Of "
                             "this table it is said once",
                             heading, text));
  }
}

std::optional<double> CellNodes::number_of(const std::string& text) const {
  std::string with_point = text;
  if (decimal_comma_) {
    if (text.find('.') != std::string::npos) {
      return std::nullopt;
    }
    std::ranges::replace(with_point, ',', '.');
  }
  return number_in_cell(with_point);
}

std::optional<TomlNode> CellNodes::value_of(const StockTable& table, const TableRow& row,
                                            std::string_view heading) {
  const std::string& text = table.cell(row, heading);
  const CellPlace place{&table, &row, heading};
  if (std::ranges::find(text_columns, heading) != text_columns.end()) {
    return placed(place, text);
  }
  if (std::ranges::find(flag_columns, heading) != flag_columns.end()) {
    const std::string word = lower_case(text);
    const bool yes = word == "yes" || word == "true";
    if (!yes && word != "no" && word != "false") {
      report(table, row, heading,
             fmt::format("'{}' is '{}'; expected yes or no, and nothing where it is not known",
                         heading, text));
      wrong_.insert({&table, &row, heading});
      return std::nullopt;
    }
    return placed(place, yes);
  }
  const auto number = number_of(text);
  if (!number) {
    report_no_number(table, row, heading);
    wrong_.insert({&table, &row, heading});
    return std::nullopt;
  }
  constexpr double greatest_whole = 1e9;
  const bool whole = *number == static_cast<double>(static_cast<std::int64_t>(
                                    std::clamp(*number, -greatest_whole, greatest_whole)));
  return whole ? placed(place, static_cast<std::int64_t>(*number)) : placed(place, *number);
}

const CellPlace& CellNodes::place_of(const TomlNode& node) const {
  return places_[static_cast<std::size_t>(node.line) - 1];
}

void CellNodes::add_value(const StockTable& table, const TableRow& row, std::string_view heading,
                          TomlEntries& entries) {
  if (auto value = value_of(table, row, heading)) {
    entries.push_back(
        {.key = std::string(heading), .line = value->line, .column = 1, .node = std::move(*value)});
  }
}

bool CellNodes::has_placed(int line) const {
  return line >= 1 && line <= static_cast<int>(places_.size());
}

void CellNodes::take_found(const Diagnostic& found) {
  const CellPlace& place = places_[static_cast<std::size_t>(found.place.line) - 1];
  if (!place.heading.empty()) {
    report(*place.table, *place.row, place.heading, found.text);
    return;
  }
  for (const std::string_view heading : place.table->kind.headings) {
    if (found.text != fmt::format("key '{}' is missing", heading)) {
      continue;
    }
    // What is no value has been told.
    if (!wrong_.contains({place.table, place.row, heading})) {
      report(*place.table, *place.row, heading,
             place.table->columns[place.table->heading(heading)] != 0
                 ? fmt::format("'{}' is empty, and is needed", heading)
                 : fmt::format("there is no column '{}', and it is needed", heading));
    }
    return;
  }
  mistakes_.push_back(at_row(*place.table, *place.row, row_words(found.text)));
}

}  // namespace panup
