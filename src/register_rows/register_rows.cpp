#include "register_rows/register_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>

#include "base/cell_values.h"
#include "base/listed.h"
#include "base/provenance_nodes.h"
#include "base/sha256.h"
#include "records/csv_reader.h"

namespace panup {

namespace {

constexpr std::size_t greatest_depth = 16;

constexpr std::string_view answered_column = "answered";

/// When the register answered, by a column of the answer that need not be there.
class AnsweredDays {
 public:
  void take(std::string_view cell) {
    if (cell.empty()) {
      return;
    }
    const std::string day = day_text_in(cell);
    if (day.empty()) {
      unlike_ = unlike_.empty() ? std::string(cell.substr(0, longest_told)) : unlike_;
      return;
    }
    first_ = first_.empty() ? day : std::min(first_, day);
    last_ = std::max(last_, day);
  }

  /// The day; empty where none is known.
  std::string day(const std::string& file, Diagnostics& notes) const {
    const auto note = [&](std::string text) { notes.push_back({{.file = file}, std::move(text)}); };
    if (!unlike_.empty()) {
      note(
          fmt::format("column '{}' has '{}', which begins with no day as YYYY-MM-DD: the date of "
                      "the answer is taken as not stated",
                      answered_column, one_line_of(unlike_)));
      return {};
    }
    if (first_ != last_) {
      note(fmt::format("column '{}' has days from {} to {}, and an answer has one: {} is taken",
                       answered_column, first_, last_, first_));
    }
    return first_;
  }

 private:
  static constexpr std::size_t longest_told = 60;
  std::string unlike_;
  std::string first_;
  std::string last_;
};

/// Which cell of a row each column of the file goes to, and what is said of columns.
class Columns {
 public:
  Columns(std::string file, std::span<const std::string_view> asked)
      : file_(std::move(file)), asked_(asked) {}

  std::optional<std::size_t> place_of(std::string_view name) const {
    const auto found = std::ranges::find(asked_, name);
    return found == asked_.end() ? std::nullopt
                                 : std::optional(static_cast<std::size_t>(found - asked_.begin()));
  }
  std::size_t count() const { return asked_.size(); }

  void check(const std::vector<std::string>& named, Diagnostics& mistakes,
             Diagnostics& notes) const {
    std::vector<std::string> missing;
    for (const std::string_view column : asked_) {
      const auto times = std::ranges::count(named, column);
      if (times == 0) {
        missing.push_back(fmt::format("'{}'", column));
      } else if (times > 1) {
        mistakes.push_back({{.file = file_},
                            fmt::format("column '{}' is there {} times; the query names each once",
                                        column, times)});
      }
    }
    if (!missing.empty()) {
      mistakes.push_back({{.file = file_},
                          fmt::format("column{} {} {} missing: ask the register with the query of "
                                      "docs/register.md, and leave columns of which it knows "
                                      "nothing empty",
                                      missing.size() == 1 ? "" : "s", listed(missing),
                                      missing.size() == 1 ? "is" : "are")});
    }
    for (const std::string& name : named) {
      if (!place_of(name) && name != answered_column) {
        notes.push_back(
            {{.file = file_},
             fmt::format("column '{}' is not one of the query's and was passed over", name)});
      }
    }
  }

 private:
  std::string file_;
  std::span<const std::string_view> asked_;
};

/// Takes rows out of SPARQL 1.1 Query Results JSON while it is parsed: the names of head.vars, and
/// of each of results.bindings the values.
class JsonRows : public nlohmann::json_sax<nlohmann::json> {
 public:
  explicit JsonRows(const Columns& columns) : columns_(&columns) {}

  std::vector<RegisterRow> rows;
  std::vector<std::string> named;
  AnsweredDays answered;
  std::string wrong;
  bool has_head = false;
  bool has_bindings = false;

  bool null() override { return no_value(); }
  bool boolean(bool /*value*/) override { return no_value(); }
  bool number_integer(number_integer_t /*value*/) override { return no_value(); }
  bool number_unsigned(number_unsigned_t /*value*/) override { return no_value(); }
  bool number_float(number_float_t /*value*/, const string_t& /*text*/) override {
    return no_value();
  }
  bool binary(binary_t& /*value*/) override { return no_value(); }

  bool string(string_t& value) override {
    if (within({"head", "vars", "[]"}) && path_.size() == 3) {
      named.push_back(value);
      return true;
    }
    if (in_row() && path_.size() == 5 && path_[4] == "value") {
      return take(value);
    }
    return in_row() && path_.size() == 4 ? no_value() : true;
  }

  bool start_object(std::size_t /*elements*/) override {
    if (path_.empty()) {
      path_.emplace_back();
      return true;
    }
    if (within({"results", "bindings", "[]"}) && path_.size() == 3) {
      if (rows.size() == most_register_rows) {
        wrong = fmt::format("there are more than {} rows; ask for a part of the network",
                            most_register_rows);
        return false;
      }
      rows.push_back({.cells = std::vector<std::string>(columns_->count()),
                      .number = static_cast<int>(rows.size()) + 1});
    }
    return deeper("");
  }
  bool start_array(std::size_t /*elements*/) override {
    if (path_.empty()) {
      wrong = "this is JSON, but no answer to a SPARQL query: it begins with a list";
      return false;
    }
    has_head = has_head || (path_.size() == 2 && path_[0] == "head" && path_[1] == "vars");
    has_bindings =
        has_bindings || (path_.size() == 2 && path_[0] == "results" && path_[1] == "bindings");
    return deeper("[]");
  }
  bool key(string_t& value) override {
    path_.back() = value;
    return true;
  }
  bool end_object() override {
    path_.pop_back();
    return true;
  }
  bool end_array() override {
    path_.pop_back();
    return true;
  }
  bool parse_error(std::size_t position, const std::string& /*last*/,
                   const nlohmann::json::exception& /*error*/) override {
    wrong = fmt::format("this is no sound JSON: the mistake is at byte {}", position);
    return false;
  }

 private:
  bool within(std::initializer_list<std::string_view> keys) const {
    return path_.size() >= keys.size() && std::equal(keys.begin(), keys.end(), path_.begin());
  }
  bool in_row() const { return path_.size() >= 4 && within({"results", "bindings", "[]"}); }

  /// A value where the format has none: in a row each value is an object with a text.
  bool no_value() {
    if (!in_row() && !(path_.size() == 3 && within({"results", "bindings", "[]"}))) {
      return true;
    }
    wrong = fmt::format(
        "row {}: this is no answer to a SPARQL query: each value of a row is "
        "an object with a text 'value'",
        rows.size());
    return false;
  }

  bool deeper(const char* name) {
    if (path_.size() == greatest_depth) {
      wrong = fmt::format(
          "this is no answer to a SPARQL query: brackets are nested more than {} "
          "deep",
          greatest_depth);
      return false;
    }
    path_.emplace_back(name);
    return true;
  }

  bool take(std::string& value) {
    const auto place = columns_->place_of(path_[3]);
    if (!place && path_[3] == answered_column) {
      answered.take(value);
    }
    if (!place) {
      return true;
    }
    if (value.size() > longest_register_cell) {
      wrong = fmt::format("row {}: '{}' is longer than {} bytes", rows.back().number, path_[3],
                          longest_register_cell);
      return false;
    }
    rows.back().cells[*place] = std::move(value);
    return true;
  }

  const Columns* columns_;
  /// The keys that lead to where the parser is, one a depth: "[]" in a list.
  std::vector<std::string> path_;
};

void read_json(std::istream& stream, const Columns& columns, RegisterRows& answer,
               Diagnostics& mistakes, Diagnostics& notes) {
  JsonRows taker(columns);
  const bool parsed = nlohmann::json::sax_parse(stream, &taker);
  if (parsed && taker.wrong.empty() && (!taker.has_head || !taker.has_bindings)) {
    taker.wrong =
        "this is JSON, but no answer to a SPARQL query: head.vars and results.bindings are "
        "expected";
  }
  if (!parsed || !taker.wrong.empty()) {
    mistakes.push_back(
        {{.file = answer.file}, taker.wrong.empty() ? "it cannot be read" : taker.wrong});
    return;
  }
  columns.check(taker.named, mistakes, notes);
  answer.rows = std::move(taker.rows);
  answer.answered = taker.answered.day(answer.file, notes);
}

/// The bytes of the character at the beginning; 0 where it is not UTF-8.
std::size_t utf8_length(std::string_view text) {
  const auto first = static_cast<unsigned char>(text[0]);
  const std::size_t length = first < 0x80   ? 1
                             : first < 0xC2 ? 0
                             : first < 0xE0 ? 2
                             : first < 0xF0 ? 3
                             : first < 0xF5 ? 4
                                            : 0;
  if (length == 0 || length > text.size()) {
    return 0;
  }
  for (std::size_t i = 1; i < length; ++i) {
    if ((static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80) {
      return 0;
    }
  }
  const auto second = length > 1 ? static_cast<unsigned char>(text[1]) : 0U;
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool no_character = (first == 0xED && second > 0x9F) || (first == 0xF4 && second > 0x8F);
  return overlong || no_character ? 0 : length;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const std::size_t length = utf8_length(text);
    if (length == 0) {
      return false;
    }
    text.remove_prefix(length);
  }
  return true;
}

void read_csv(std::istream& stream, const Columns& columns, RegisterRows& answer,
              Diagnostics& mistakes, Diagnostics& notes) {
  CsvReader reader(stream);
  std::vector<std::optional<std::size_t>> places;
  std::optional<std::size_t> answered_at;
  AnsweredDays answered;
  const auto report = [&](std::string text) {
    mistakes.push_back({{answer.file, std::max(reader.line(), 1), 1}, std::move(text)});
  };
  while (reader.next_line()) {
    if (reader.too_long()) {
      report(fmt::format("the line is longer than {} bytes", CsvReader::longest_line));
      return;
    }
    if (reader.is_blank()) {
      continue;
    }
    const std::vector<CsvCell>& cells = reader.cells(',');
    if (reader.quotes_wrong()) {
      report(
          "quotes in this line do not close, or something stands behind them; a value with a "
          "line break in it cannot be read from CSV: take JSON");
      return;
    }
    if (!is_utf8(reader.text())) {
      report("this line is not UTF-8");
      return;
    }
    if (places.empty()) {
      std::vector<std::string> named;
      for (const CsvCell& cell : cells) {
        if (cell.text == answered_column) {
          answered_at = named.size();
        }
        named.emplace_back(cell.text);
        places.push_back(columns.place_of(cell.text));
      }
      columns.check(named, mistakes, notes);
      if (!mistakes.empty()) {
        return;
      }
      continue;
    }
    if (cells.size() != places.size()) {
      report(fmt::format("this row has {} cells; the heading has {}", cells.size(), places.size()));
      return;
    }
    if (answer.rows.size() == most_register_rows) {
      report(fmt::format("there are more than {} rows; ask for a part of the network",
                         most_register_rows));
      return;
    }
    RegisterRow row{.cells = std::vector<std::string>(columns.count()),
                    .number = static_cast<int>(answer.rows.size()) + 1,
                    .line = reader.line()};
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (places[i]) {
        row.cells[*places[i]] = cells[i].text;
      }
    }
    if (answered_at) {
      answered.take(cells[*answered_at].text);
    }
    answer.rows.push_back(std::move(row));
  }
  if (places.empty()) {
    report("the file is empty; the answer to a SPARQL query as JSON or CSV is expected");
  }
  answer.answered = answered.day(answer.file, notes);
}

}  // namespace

RegisterRows read_register_rows(std::istream& stream, const std::string& file,
                                std::span<const std::string_view> columns, Diagnostics& mistakes,
                                Diagnostics& notes) {
  RegisterRows answer{.file = file, .sha256 = {}, .rows = {}};
  const Columns asked(file, columns);
  Diagnostics wrong;
  if ((stream >> std::ws).peek() == '{' || stream.peek() == '[') {
    read_json(stream, asked, answer, wrong, notes);
  } else {
    stream.clear();
    stream.seekg(0);
    read_csv(stream, asked, answer, wrong, notes);
  }
  if (wrong.empty() && stream.bad()) {
    wrong.push_back({{.file = file}, "it cannot be read to its end"});
  }
  mistakes.insert(mistakes.end(), wrong.begin(), wrong.end());
  return answer;
}

RegisterRows load_register_rows(const std::string& path, std::span<const std::string_view> columns,
                                Diagnostics& mistakes, Diagnostics& notes) {
  std::ifstream stream(path, std::ios::binary);
  Sha256 digest;
  std::vector<char> bytes(65536);
  while (stream.read(bytes.data(), static_cast<std::streamsize>(bytes.size())) ||
         stream.gcount() > 0) {
    digest.add({bytes.data(), static_cast<std::size_t>(stream.gcount())});
  }
  const bool read = stream.is_open() && stream.eof() && !stream.bad();
  stream.clear();
  if (!read || !stream.seekg(0)) {
    mistakes.push_back({{.file = path}, "there is no such file, or it cannot be read"});
    return {.file = path, .sha256 = {}, .rows = {}};
  }
  RegisterRows rows = read_register_rows(stream, path, columns, mistakes, notes);
  constexpr std::string_view hexadecimal = "0123456789abcdef";
  for (const char byte : digest.result()) {
    rows.sha256 += hexadecimal[static_cast<unsigned char>(byte) >> 4U];
    rows.sha256 += hexadecimal[static_cast<unsigned char>(byte) & 0xFU];
  }
  return rows;
}

Diagnostic at_row(const std::string& file, const RegisterRow& row, std::string_view text) {
  return {{.file = file, .line = row.line, .column = row.line > 0 ? 1 : 0},
          fmt::format("row {}: {}", row.number, text)};
}

}  // namespace panup
