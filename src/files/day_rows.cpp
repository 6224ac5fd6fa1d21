#include "files/day_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <sstream>

#include "files/document.h"
#include "records/csv_reader.h"

namespace panup {

namespace {

constexpr std::array<std::string_view, 7> headings{"number",   "train",      "route", "departure",
                                                   "vehicles", "conditions", "run"};
constexpr std::size_t needed_headings =
    3;  // the first ones; the run may stand for all but the first

/// "05:40" or "05:40:30", as HH:MM:SS; nothing where it is no time of day.
std::optional<std::string> time_from(std::string_view text) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  if (text.size() != 5 && text.size() != 8) {
    return std::nullopt;
  }
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i % 3 == 2 ? text[i] != ':' : !is_digit(text[i])) {
      return std::nullopt;
    }
  }
  std::string time(text);
  time += text.size() == 5 ? ":00" : "";
  const bool is_time =
      time.substr(0, 2) < "24" && time.substr(3, 2) < "60" && time.substr(6) < "60";
  return is_time ? std::optional(std::move(time)) : std::nullopt;
}

std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t plus = text.find('+');
    std::string_view part = text.substr(0, plus);
    const std::size_t first = part.find_first_not_of(' ');
    part = first == std::string_view::npos
               ? std::string_view()
               : part.substr(first, part.find_last_not_of(' ') - first + 1);
    parts.emplace_back(part);
    if (plus == std::string_view::npos) {
      return parts;
    }
    text.remove_prefix(plus + 1);
  }
}

class TableReader {
 public:
  TableReader(const SourceText& source, DayNumbers& numbers, std::vector<DayTrain>& trains,
              Diagnostics& diagnostics)
      : file_(source.file),
        stream_(source.text),
        reader_(stream_),
        numbers_(numbers),
        trains_(trains),
        diagnostics_(diagnostics) {}

  void read() {
    bool headed = false;
    while (reader_.next_line()) {
      if (reader_.is_blank()) {
        continue;
      }
      if (!headed) {
        headed = true;
        separator_ = separator_of(reader_.text());
        if (!read_heading()) {
          return;
        }
      } else {
        read_row();
      }
    }
    if (!headed) {
      report(1,
             "the table is empty; its first line has the headings number, train, route and, "
             "where they are used, departure, vehicles, conditions, run");
    }
  }

 private:
  SourcePlace place(int column) const { return {file_, reader_.line(), column}; }
  void report(int column, std::string text) {
    diagnostics_.push_back({{file_, std::max(reader_.line(), 1), column}, std::move(text)});
  }

  bool line_is_sound() {
    if (reader_.quotes_wrong()) {
      report(1, "quotes in this line do not close, or something stands behind them");
      return false;
    }
    return true;
  }

  bool read_heading() {
    const std::vector<CsvCell>& cells = reader_.cells(separator_);
    bool sound = line_is_sound();
    for (const CsvCell& cell : cells) {
      const auto* const known = std::ranges::find(headings, cell.text);
      if (known == headings.end()) {
        const std::string_view nearest = nearest_of(cell.text, headings);
        report(
            cell.column,
            nearest.empty()
                ? fmt::format("there is no column '{}'; the headings are number, train, route, "
                              "departure, vehicles, conditions and run",
                              cell.text)
                : fmt::format("there is no column '{}'; did you mean '{}'?", cell.text, nearest));
        sound = false;
      } else if (std::ranges::find(columns_, *known) != columns_.end()) {
        report(cell.column, fmt::format("column '{}' stands here a second time", cell.text));
        sound = false;
      }
      columns_.push_back(known == headings.end() ? std::string_view() : *known);
    }
    const std::size_t needed = has_column("run") ? 1 : needed_headings;
    for (std::size_t i = 0; i < needed && sound; ++i) {
      if (!has_column(headings.at(i))) {
        report(1, fmt::format("column '{}' is missing", headings.at(i)));
        sound = false;
      }
    }
    return sound;
  }

  bool has_column(std::string_view heading) const {
    return std::ranges::find(columns_, heading) != columns_.end();
  }

  /// Train and route, or a run: what is there of both, and what is missing.
  void check_run(const DayTrain& train, int run_column) {
    for (const auto& [key, named] :
         {std::pair{"train", &train.train}, std::pair{"route", &train.route}}) {
      const bool given = !named->path.empty();
      if (given && !train.run.path.empty()) {
        report(named->place.column, run_and_more_text(key));
      } else if (!given && train.run.path.empty() && has_column("run")) {
        report(run_column, fmt::format("the row has neither '{}' nor 'run'", key));
        return;
      }
    }
  }

  void read_row() {
    const std::vector<CsvCell>& cells = reader_.cells(separator_);
    if (!line_is_sound()) {
      return;
    }
    if (cells.size() != columns_.size()) {
      report(1, fmt::format("this row has {} cells; the heading has {}", cells.size(),
                            columns_.size()));
      return;
    }
    DayTrain train{
        .number = {}, .train = {}, .route = {}, .place = place(1), .vehicles_place = place(1)};
    int run_column = 1;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      take_cell(columns_[i], cells[i], train);
      run_column = columns_[i] == "run" ? cells[i].column : run_column;
    }
    check_run(train, run_column);
    trains_.push_back(std::move(train));
  }

  FileNamed named(const CsvCell& cell) const {
    return {path_beside(file_, std::string(cell.text)), place(cell.column)};
  }

  void take_cell(std::string_view column, const CsvCell& cell, DayTrain& train) {
    const bool needed = std::ranges::find(headings, column) - headings.begin() <
                        static_cast<int>(has_column("run") ? 1 : needed_headings);
    if (cell.text.empty()) {
      if (needed) {
        report(cell.column, fmt::format("'{}' is empty", column));
      }
      return;
    }
    if (std::ranges::any_of(
            cell.text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; })) {
      report(cell.column, fmt::format("'{}' holds a control character", column));
      return;
    }
    if (column == "number") {
      train.number = cell.text;
      if (std::string wrong = numbers_.wrong_with(train.number, place(cell.column));
          !wrong.empty()) {
        report(cell.column, std::move(wrong));
      }
    } else if (column == "train") {
      train.train = named(cell);
    } else if (column == "route") {
      train.route = named(cell);
    } else if (column == "run") {
      train.run = named(cell);
    } else if (column == "conditions") {
      train.conditions = named(cell);
    } else if (column == "departure") {
      if (auto time = time_from(cell.text)) {
        train.departure = std::move(*time);
      } else {
        report(cell.column,
               fmt::format("'departure' is '{}'; expected a time of day, as in 05:40", cell.text));
      }
    } else {
      train.vehicles = parts_of(cell.text);
      train.vehicles_place = place(cell.column);
      std::string wrong = std::ranges::find(train.vehicles, "") != train.vehicles.end()
                              ? std::string("a vehicle number is empty; they are separated by '+'")
                              : wrong_with_vehicles(train.vehicles);
      if (!wrong.empty()) {
        report(cell.column, std::move(wrong));
      }
    }
  }

  std::string file_;
  std::istringstream stream_;
  CsvReader reader_;
  DayNumbers& numbers_;
  std::vector<DayTrain>& trains_;
  Diagnostics& diagnostics_;
  char separator_ = ',';
  std::vector<std::string_view> columns_;
};

}  // namespace

void read_day_table(const SourceText& source, DayNumbers& numbers, std::vector<DayTrain>& trains,
                    Diagnostics& diagnostics) {
  if (is_sound(source, diagnostics)) {
    TableReader(source, numbers, trains, diagnostics).read();
  }
}

}  // namespace panup
