#include "stock_tables/table_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <sstream>

#include "base/sha256.h"
#include "records/csv_reader.h"

namespace panup {

namespace {

std::string headings_words(const TableKind& kind) {
  return fmt::format("the headings of a table of {} are {}", kind.what,
                     fmt::join(kind.headings, ", "));
}

class StockTableReader {
 public:
  StockTableReader(const SourceText& source, const TableKind& kind, Diagnostics& mistakes)
      : stream_(source.text), reader_(stream_), mistakes_(mistakes) {
    table_.kind = kind;
    table_.file = source.file;
    table_.sha256 = sha256_hex(source.text);
    table_.columns.resize(kind.headings.size());
  }

  StockTable read() {
    bool headed = false;
    while (reader_.next_line()) {
      if (reader_.is_blank()) {
        continue;
      }
      if (!headed) {
        headed = true;
        separator_ = separator_of(reader_.text());
        if (!read_headings()) {
          break;
        }
      } else if (!read_row()) {
        break;
      }
    }
    if (!headed) {
      report(1, fmt::format("the table is empty; its first line has the headings: {}",
                            headings_words(table_.kind)));
    }
    return std::move(table_);
  }

 private:
  void report(int column, std::string text) {
    mistakes_.push_back({{table_.file, std::max(reader_.line(), 1), column}, std::move(text)});
  }

  bool quotes_are_right() {
    if (reader_.quotes_wrong()) {
      report(
          1,
          "quotes in this line do not close, or something stands behind them; a cell with a line "
          "break in it cannot be read");
    }
    return !reader_.quotes_wrong();
  }

  /// Whether the rows can be read by them.
  bool read_headings() {
    const std::vector<CsvCell>& cells = reader_.cells(separator_);
    if (!quotes_are_right()) {
      return false;
    }
    const std::span<const std::string_view> known = table_.kind.headings;
    int column = 0;
    for (const CsvCell& cell : cells) {
      ++column;
      headings_.emplace_back();
      const auto found = std::ranges::find(known, cell.text);
      if (found == known.end()) {
        report(cell.column, unknown_words(cell.text, column));
        continue;
      }
      const auto place = static_cast<std::size_t>(found - known.begin());
      if (table_.columns[place] != 0) {
        report(
            cell.column,
            fmt::format("column {}: '{}' stands here a second time, after column {}",
                        column_letters(column), cell.text, column_letters(table_.columns[place])));
        continue;
      }
      table_.columns[place] = column;
      headings_.back() = place;
    }
    bool complete = true;
    for (std::size_t i = 0; i < table_.kind.needed; ++i) {
      if (table_.columns[i] == 0) {
        report(1, fmt::format("column '{}' is missing; {}", known[i], headings_words(table_.kind)));
        complete = false;
      }
    }
    return complete;
  }

  std::string unknown_words(std::string_view text, int column) const {
    if (text.empty()) {
      return fmt::format("column {} has no heading", column_letters(column));
    }
    const std::string_view nearest = nearest_of(text, table_.kind.headings);
    return nearest.empty() ? fmt::format("column {}: there is no heading '{}'; {}",
                                         column_letters(column), text, headings_words(table_.kind))
                           : fmt::format("column {}: there is no heading '{}'; did you mean '{}'?",
                                         column_letters(column), text, nearest);
  }

  /// False where no more are taken.
  bool read_row() {
    const std::vector<CsvCell>& cells = reader_.cells(separator_);
    if (!quotes_are_right() ||
        std::ranges::all_of(cells, [](const CsvCell& cell) { return cell.text.empty(); })) {
      return true;
    }
    if (cells.size() != headings_.size()) {
      report(1,
             fmt::format("row {} has {} cells, the headings are {}{}", reader_.line(), cells.size(),
                         headings_.size(),
                         separator_ == ',' ? "; a cell with a comma in it, as in a number with a "
                                             "decimal comma, stands in quotes"
                                           : ""));
      return true;
    }
    if (table_.rows.size() == most_stock_rows) {
      report(1, fmt::format("there are more than {} rows", most_stock_rows));
      return false;
    }
    TableRow row{.cells = std::vector<std::string>(table_.kind.headings.size()),
                 .at = std::vector<int>(table_.kind.headings.size()),
                 .line = reader_.line()};
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (headings_[i]) {
        row.cells[*headings_[i]] = cells[i].text;
        row.at[*headings_[i]] = cells[i].column;
      }
    }
    table_.rows.push_back(std::move(row));
    return true;
  }

  std::istringstream stream_;
  CsvReader reader_;
  Diagnostics& mistakes_;
  StockTable table_;
  char separator_ = ',';
  std::vector<std::optional<std::size_t>> headings_;  ///< of each column, where it is known
};

}  // namespace

std::size_t StockTable::heading(std::string_view name) const {
  return static_cast<std::size_t>(std::ranges::find(kind.headings, name) - kind.headings.begin());
}

const std::string& StockTable::cell(const TableRow& row, std::string_view name) const {
  return row.cells.at(heading(name));
}

bool says(const StockTable& table, const TableRow& row, std::string_view heading) {
  return !table.cell(row, heading).empty();
}

StockTable read_stock_table(const SourceText& source, const TableKind& kind,
                            Diagnostics& mistakes) {
  if (!is_sound(source, mistakes)) {
    return {.kind = kind,
            .file = source.file,
            .sha256 = {},
            .columns = std::vector<int>(kind.headings.size()),
            .rows = {}};
  }
  return StockTableReader(source, kind, mistakes).read();
}

std::string column_letters(int column) {
  constexpr int letters = 26;
  std::string text;
  for (int rest = column; rest > 0; rest = (rest - 1) / letters) {
    text.insert(text.begin(), static_cast<char>('A' + (rest - 1) % letters));
  }
  return text;
}

Diagnostic at_cell(const StockTable& table, const TableRow& row, std::string_view heading,
                   std::string_view text) {
  const std::size_t place = table.heading(heading);
  if (place >= table.columns.size() || table.columns[place] == 0) {
    return at_row(table, row, text);
  }
  return {
      {table.file, row.line, row.at[place]},
      fmt::format("row {}, column {}: {}", row.line, column_letters(table.columns[place]), text)};
}

Diagnostic at_row(const StockTable& table, const TableRow& row, std::string_view text) {
  return {{table.file, row.line, 1}, fmt::format("row {}: {}", row.line, text)};
}

}  // namespace panup
