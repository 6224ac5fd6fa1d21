#include "records/row_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <string>

#include "base/listed.h"
#include "base/source_text.h"
#include "records/csv_reader.h"

namespace panup {

namespace {

constexpr double greatest_force_n = 5000;
constexpr double greatest_speed_kmh = 600;
constexpr double greatest_chainage_m = 1e8;
constexpr std::size_t most_shown = 40;

/// Where a column stands; its column and what values are multiplied by.
struct FoundColumn {
  std::size_t index = 0;
  const RecordColumn* column = nullptr;
};

struct FoundColumns {
  std::optional<FoundColumn> chainage;
  std::optional<FoundColumn> time;
  std::optional<FoundColumn> force;
  std::optional<FoundColumn> speed;
  std::optional<FoundColumn> pantograph;
  std::size_t count = 0;  ///< of all columns
};

/// Text of a file as it may stand in a message: short, in one line, ASCII where it is not sound.
std::string shown(std::string_view text) {
  std::string out;
  for (const char c : text.substr(0, most_shown)) {
    const auto byte = static_cast<unsigned char>(c);
    out += byte < 0x20 || byte >= 0x7F ? '?' : c;
  }
  return text.size() > most_shown ? out + "…" : out;
}

char separator_in(std::string_view heading) {
  constexpr std::string_view known = ";\t,";
  return *std::ranges::max_element(known, {},
                                   [&](char c) { return std::ranges::count(heading, c); });
}

/// One run's rows, being read.
class RowReader {
 public:
  RowReader(std::istream& stream, const MeasuredRecord& record, const RecordRun& run,
            RowCounts& counts, Diagnostics& mistakes, Diagnostics& bad_rows)
      : csv_(stream),
        record_(record),
        run_(run),
        counts_(counts),
        mistakes_(mistakes),
        bad_rows_(bad_rows),
        last_(record.pantographs.size()) {}

  void read(const RowTaker& take) {
    if (!read_heading()) {
      return;
    }
    while (csv_.next_line()) {
      if (csv_.line() < record_.layout.rows_from_line || csv_.is_blank()) {
        continue;
      }
      ++counts_.rows;
      RecordRow row;
      if (read_row(row)) {
        take(row);
      }
    }
    if (csv_.failed()) {
      mistakes_.push_back({{.file = run_.file}, "it cannot be read to its end"});
    } else if (counts_.rows == 0) {
      mistakes_.push_back({{.file = run_.file}, "there are no rows in it below the heading"});
    }
  }

 private:
  /// Where a pantograph was, and which way it goes.
  struct Last {
    bool seen = false;
    double chainage_m = 0;
    double time_s = 0;
  };

  bool read_heading() {
    bool there = false;
    while (!there && csv_.next_line()) {
      there = csv_.line() == record_.layout.heading_line;
    }
    if (!there) {
      mistakes_.push_back({{.file = run_.file},
                           fmt::format("it has no line {}, where its heading is said to be",
                                       record_.layout.heading_line)});
      return false;
    }
    separator_ =
        record_.layout.separator != 0 ? record_.layout.separator : separator_in(csv_.text());
    std::vector<std::string> headings;
    for (const CsvCell& cell : csv_.cells(separator_)) {
      headings.emplace_back(cell.text);
    }
    found_.count = headings.size();
    const std::size_t before = mistakes_.size();
    const RecordColumns& columns = record_.columns;
    const auto there_is = [](const std::optional<RecordColumn>& column) {
      return column ? &*column : nullptr;
    };
    find(there_is(columns.chainage), headings, found_.chainage);
    find(there_is(columns.time), headings, found_.time);
    find(&columns.force, headings, found_.force);
    find(there_is(columns.speed), headings, found_.speed);
    find(there_is(columns.pantograph), headings, found_.pantograph);
    return mistakes_.size() == before;
  }

  void find(const RecordColumn* column, const std::vector<std::string>& headings,
            std::optional<FoundColumn>& found) {
    if (column == nullptr) {
      return;
    }
    const auto at = std::ranges::find(headings, column->heading);
    if (at == headings.end()) {
      std::vector<std::string> all;
      for (const std::string& heading : headings) {
        all.push_back(fmt::format("'{}'", shown(heading)));
      }
      mistakes_.push_back({{run_.file, csv_.line(), 1},
                           fmt::format("there is no column '{}' in the heading; it has {}",
                                       shown(column->heading), listed(all))});
      return;
    }
    if (std::ranges::count(headings, column->heading) > 1) {
      mistakes_.push_back({{run_.file, csv_.line(), 1},
                           fmt::format("there are several columns '{}' in the heading; the one "
                                       "that is meant must have a name of its own",
                                       shown(column->heading))});
      return;
    }
    found = FoundColumn{static_cast<std::size_t>(at - headings.begin()), column};
  }

  bool bad(int column, std::string text) {
    ++counts_.bad;
    if (bad_rows_.size() < most_bad_rows_named) {
      bad_rows_.push_back({{run_.file, csv_.line(), column}, std::move(text)});
    }
    return false;
  }

  bool read_row(RecordRow& row) {
    if (csv_.too_long()) {
      return bad(1, fmt::format("this line is longer than {} characters", CsvReader::longest_line));
    }
    const std::vector<CsvCell>& cells = csv_.cells(separator_);
    if (csv_.quotes_wrong()) {
      return bad(1, "quotes in this row do not close, or something stands behind them");
    }
    if (cells.size() != found_.count) {
      return bad(1, fmt::format("this row has {} cell{}, the heading has {}", cells.size(),
                                cells.size() == 1 ? "" : "s", found_.count));
    }
    if (!read_pantograph(cells, row)) {
      return false;
    }
    if (!read_numbers(cells, row) || !is_in_order(cells, row) || !is_fast_enough(row)) {
      return false;
    }
    counts_.missing += row.missing ? 1 : 0;
    return true;
  }

  bool read_pantograph(const std::vector<CsvCell>& cells, RecordRow& row) {
    const auto& all = record_.pantographs;
    if (!found_.pantograph) {
      row.pantograph = static_cast<std::size_t>(
          std::ranges::find(all, true, &RecordedPantograph::measured) - all.begin());
      return true;
    }
    const CsvCell& cell = cells[found_.pantograph->index];
    const auto named = std::ranges::find(all, cell.text, &RecordedPantograph::id);
    if (named == all.end()) {
      std::vector<std::string> ids;
      for (const RecordedPantograph& one : all) {
        ids.push_back(fmt::format("'{}'", one.id));
      }
      return bad(cell.column, fmt::format("there is no pantograph '{}'; the record has {}",
                                          shown(cell.text), listed(ids)));
    }
    if (!named->measured) {
      ++counts_.others;
      return false;
    }
    row.pantograph = static_cast<std::size_t>(named - all.begin());
    return true;
  }

  std::optional<double> number(const CsvCell& cell) {
    std::string_view text = cell.text;
    if (record_.layout.decimal == ',') {
      if (text.find('.') != std::string_view::npos) {
        return std::nullopt;  // it may set thousands apart
      }
      scratch_.assign(text);
      std::ranges::replace(scratch_, ',', '.');
      text = scratch_;
    }
    if (text.starts_with('+')) {
      text.remove_prefix(1);
    }
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    return whole && std::isfinite(value) ? std::optional(value) : std::nullopt;
  }

  bool read_number(const std::vector<CsvCell>& cells, const FoundColumn& found,
                   std::string_view what, double least, double greatest, double& value) {
    const CsvCell& cell = cells[found.index];
    const auto read = number(cell);
    if (!read) {
      return bad(cell.column, fmt::format("the {} '{}' is no number; expected one as in 12{}5",
                                          what, shown(cell.text), record_.layout.decimal));
    }
    value = *read * found.column->factor;
    if (value < least || value > greatest) {
      return bad(cell.column, fmt::format("the {} is {:g}; expected {:g} to {:g}", what, value,
                                          least, greatest));
    }
    return true;
  }

  bool read_numbers(const std::vector<CsvCell>& cells, RecordRow& row) {
    if (found_.time && !read_number(cells, *found_.time, "time in s", -1e10, 1e10, row.time_s)) {
      return false;
    }
    row.speed_kmh = record_.speed_kmh.value_or(0);
    if (found_.speed &&
        !read_number(cells, *found_.speed, "speed in km/h", 0, greatest_speed_kmh, row.speed_kmh)) {
      return false;
    }
    if (found_.chainage &&
        !read_number(cells, *found_.chainage, "chainage in m", -greatest_chainage_m,
                     greatest_chainage_m, row.chainage_m)) {
      return false;
    }
    const CsvCell& force = cells[found_.force->index];
    const auto& missing = record_.layout.missing;
    row.missing = std::ranges::find(missing, force.text) != missing.end();
    if (row.missing) {
      row.force_n = std::numeric_limits<double>::quiet_NaN();
      return true;
    }
    return read_number(cells, *found_.force, "force in N", -greatest_force_n, greatest_force_n,
                       row.force_n);
  }

  /// Finds the chainage where no column has it, and holds the row against the one before.
  bool is_in_order(const std::vector<CsvCell>& cells, RecordRow& row) {
    Last& last = last_[row.pantograph];
    if (found_.time && last.seen && row.time_s <= last.time_s) {
      return bad(cells[found_.time->index].column,
                 fmt::format("the time goes from {:.9g} s back to {:.9g} s, or stands; rows come "
                             "in order of time",
                             last.time_s, row.time_s));
    }
    if (!found_.chainage) {
      row.chainage_m = last.seen
                           ? last.chainage_m + row.speed_kmh / 3.6 * (row.time_s - last.time_s)
                           : run_.begins_at_m - record_.pantographs[row.pantograph].behind_first_m;
    } else if (last.seen && row.chainage_m != last.chainage_m) {
      const double step = row.chainage_m - last.chainage_m;
      if (direction_ == 0) {
        direction_ = step > 0 ? 1 : -1;
      } else if (step * direction_ < 0) {
        return bad(cells[found_.chainage->index].column,
                   fmt::format("the chainage goes from {:.9g} m back to {:.9g} m; rows come in the "
                               "order in which the pantograph passed",
                               last.chainage_m, row.chainage_m));
      }
    }
    last = {true, row.chainage_m, row.time_s};
    return true;
  }

  bool is_fast_enough(RecordRow& row) {
    if (row.speed_kmh < least_measured_speed_kmh) {
      ++counts_.slow;
      return false;
    }
    return true;
  }

  CsvReader csv_;
  const MeasuredRecord& record_;
  const RecordRun& run_;
  RowCounts& counts_;
  Diagnostics& mistakes_;
  Diagnostics& bad_rows_;
  FoundColumns found_;
  std::vector<Last> last_;
  int direction_ = 0;
  char separator_ = ',';
  std::string scratch_;
};

}  // namespace

void read_rows(std::istream& stream, const MeasuredRecord& record, const RecordRun& run,
               const RowTaker& take, RowCounts& counts, Diagnostics& mistakes,
               Diagnostics& bad_rows) {
  RowReader(stream, record, run, counts, mistakes, bad_rows).read(take);
}

}  // namespace panup
