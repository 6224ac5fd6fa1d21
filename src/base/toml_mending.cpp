#include "base/toml_mending.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

namespace panup {

namespace {

constexpr std::string_view blanks = " \t\r";
constexpr std::string_view digits = "0123456789";

bool is_digit(char c) { return digits.find(c) != std::string_view::npos; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_key_character(char c) { return is_letter(c) || is_digit(c) || c == '_' || c == '-'; }

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(blanks);
  const std::size_t end = text.find_last_not_of(blanks);
  return begin == std::string_view::npos ? std::string_view() : text.substr(begin, end + 1 - begin);
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  std::ranges::transform(lower, lower.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  });
  return lower;
}

/// What stands in a line in place of something else.
struct Change {
  std::size_t at = 0;
  std::size_t length = 0;
  std::string by;
  std::string text;  ///< what is wrong, and what would be right
};

/// A line's curly quotes: “ ” „ and ‘ ’ ‚, three bytes each.
bool begins_curly_quote(std::string_view text) {
  static constexpr std::array<std::string_view, 6> curly{"\xE2\x80\x9C", "\xE2\x80\x9D",
                                                         "\xE2\x80\x9E", "\xE2\x80\x98",
                                                         "\xE2\x80\x99", "\xE2\x80\x9A"};
  return std::ranges::any_of(curly,
                             [text](std::string_view quote) { return text.starts_with(quote); });
}

/// "km/h" → "kmh", "°C" → "c", "m/s²" → "ms2": a unit as keys end with it.
std::string unit_as_in_keys(std::string_view unit) {
  std::string as_key;
  for (std::size_t i = 0; i < unit.size(); ++i) {
    if (is_letter(unit[i]) || is_digit(unit[i])) {
      as_key += unit[i];
    } else if (unit.substr(i).starts_with("\xC2\xB2")) {  // ²
      as_key += '2';
    }
  }
  return lower_case(as_key);
}

/// The stretch of a number at the beginning of a text: digits, points, commas and '_', an exponent
/// behind them.
std::size_t number_length(std::string_view text) {
  std::size_t at = text.find_first_of("+-") == 0 ? 1 : 0;
  if (at >= text.size() || !is_digit(text[at])) {
    return 0;
  }
  const auto goes_on = [text](std::size_t i) {
    return i + 1 < text.size() && is_digit(text[i + 1]);
  };
  while (at < text.size() && (is_digit(text[at]) || text[at] == '_' ||
                              ((text[at] == '.' || text[at] == ',') && goes_on(at)))) {
    ++at;
  }
  const bool exponent =
      at + 1 < text.size() && (text[at] == 'e' || text[at] == 'E') &&
      (is_digit(text[at + 1]) || ((text[at + 1] == '+' || text[at + 1] == '-') && goes_on(at + 1)));
  if (exponent) {
    at += 2;
    while (at < text.size() && is_digit(text[at])) {
      ++at;
    }
  }
  return at;
}

/// A number that is not written as TOML writes it. `rest` begins with it, and ends where the value
/// has to end.
std::optional<Change> mend_number(std::string_view key, std::string_view rest) {
  const std::size_t length = number_length(rest);
  std::string_view behind = trimmed(rest.substr(length));
  const std::string_view number = rest.substr(0, length);
  const auto commas = std::ranges::count(number, ',');
  const auto points = std::ranges::count(number, '.');
  std::string right(number);
  std::string why;
  if (commas == 1 && points == 0) {
    const std::size_t comma = right.find(',');
    const bool thousands = right.size() - comma == 4;
    right[comma] = '.';
    why = fmt::format("a number has a decimal point, not a comma: {}", right);
    if (thousands) {
      std::string whole = right;
      whole.erase(comma, 1);
      why += fmt::format(", or {} if thousands were meant", whole);
    }
  } else if (commas + points > 1) {
    const std::size_t last = right.find_last_of(".,");
    std::string plain;
    for (std::size_t i = 0; i < right.size(); ++i) {
      plain += i == last ? "." : right[i] == '.' || right[i] == ',' ? "" : std::string(1, right[i]);
    }
    right = plain;
    why = "a number has one decimal point, and nothing between its thousands";
  }
  if (behind.empty()) {
    return why.empty() ? std::nullopt : std::optional(Change{0, length, right, why});
  }
  if (is_digit(behind.front())) {
    const bool thousands = behind.size() == 3 && number_length(behind) == 3 && rest[length] == ' ';
    if (!thousands) {
      return std::nullopt;
    }
    right += behind;
    return Change{0, trimmed(rest).size(), right,
                  fmt::format("a number has no spaces within it: {}", right)};
  }
  if (behind == ".") {
    return Change{0, length + 1, right,
                  fmt::format("a number does not end with its point: {}", right)};
  }
  const bool unit = is_letter(behind.front()) || behind.front() == '%' ||
                    static_cast<unsigned char>(behind.front()) >= 0x80;
  const bool other_base = number == "0" && rest.size() > 1 && is_letter(rest[1]);
  if (!unit || other_base || begins_curly_quote(behind)) {
    return std::nullopt;
  }
  const std::size_t bar = key.rfind('_');
  const bool same = bar != std::string_view::npos && key.substr(bar + 1) == unit_as_in_keys(behind);
  std::string text = why.empty() ? std::string() : why + "; and ";
  text += same ? fmt::format("the unit stands in the key, the value is the number alone: {}", right)
               : fmt::format(
                     "the value is a number alone, in the unit that stands in the key; '{}' "
                     "does not belong there",
                     behind);
  return Change{0, trimmed(rest).size(), right, text};
}

/// A word without quotes.
std::optional<Change> mend_word(std::string_view value) {
  const std::string lower = lower_case(value);
  if (value == "true" || value == "false" || value == "inf" || value == "nan") {
    return std::nullopt;
  }
  if (lower == "true" || lower == "yes" || lower == "on") {
    return Change{0, value.size(), "true", fmt::format("'{}' is written true", value)};
  }
  if (lower == "false" || lower == "no" || lower == "off") {
    return Change{0, value.size(), "false", fmt::format("'{}' is written false", value)};
  }
  std::string_view words = value;
  if (words.ends_with('"')) {
    words.remove_suffix(1);
  }
  if (words.find_first_of("\"'[]{}=\\") != std::string_view::npos) {
    return std::nullopt;
  }
  return Change{0, value.size(), fmt::format("\"{}\"", words),
                fmt::format("text stands in quotes: \"{}\"", words)};
}

/// Where text in "…" ends, its closing quote included; nothing where it does not end on the line.
std::optional<std::size_t> end_of_text(std::string_view text, bool with_escapes) {
  for (std::size_t at = 1; at < text.size(); ++at) {
    if (text[at] == '\\' && with_escapes) {
      ++at;
    } else if (text[at] == text.front()) {
      return at + 1;
    }
  }
  return std::nullopt;
}

/// Text in "…" with a backslash that begins no escape.
std::optional<Change> mend_backslashes(std::string_view text) {
  bool wrong = false;
  for (std::size_t at = text.find('\\'); at < text.size(); at = text.find('\\', at + 2)) {
    wrong = wrong || at + 1 == text.size() ||
            std::string_view("btnfr\"\\uU").find(text[at + 1]) == std::string_view::npos;
  }
  std::string right(text);
  std::ranges::replace(right, '\\', '/');
  return wrong ? std::optional(
                     Change{0, text.size(), right,
                            fmt::format("a backslash in \"…\" begins an escape; write a path with "
                                        "'/': {}",
                                        right)})
               : std::nullopt;
}

/// A day written as 30.05.2031.
std::optional<Change> mend_day(std::string_view value) {
  const std::size_t first = value.find('.');
  const std::size_t last = value.rfind('.');
  const bool three = first != std::string_view::npos && value.find('.', first + 1) == last &&
                     last > first && number_length(value) == value.size();
  if (!three || value.size() - last != 5 || first > 2 || last - first > 3) {
    return std::nullopt;
  }
  const std::string day =
      fmt::format("{}-{:0>2}-{:0>2}", value.substr(last + 1),
                  value.substr(first + 1, last - first - 1), value.substr(0, first));
  return Change{0, value.size(), day, fmt::format("a day is written as year, month, day: {}", day)};
}

/// Where a value without quotes ends: before a comment, or what goes on in a list or table.
std::size_t value_length(std::string_view rest) {
  const std::size_t number = number_length(rest);
  const std::size_t end = rest.find_first_of("#,]};", number);
  return std::min(end, rest.size());
}

/// The first thing to put right in a value, `rest` beginning with it.
std::optional<Change> mend_value(std::string_view key, std::string_view rest) {
  if (rest.front() == '"') {
    const auto end = end_of_text(rest, true);
    if (end) {
      return mend_backslashes(rest.substr(0, *end));
    }
    // "C:\lines\" does not end, for a parser: its last quote is escaped.
    const std::size_t last = rest.rfind('"');
    return last > 1 && rest[last - 1] == '\\' ? mend_backslashes(rest.substr(0, last + 1))
                                              : std::nullopt;
  }
  if (begins_curly_quote(rest)) {
    for (std::size_t at = 3; at < rest.size(); ++at) {
      if (begins_curly_quote(rest.substr(at)) || rest[at] == '"') {
        const std::string words = fmt::format("\"{}\"", rest.substr(3, at - 3));
        return Change{0, at + (rest[at] == '"' ? 1U : 3U), words,
                      fmt::format("text stands in straight quotes: {}", words)};
      }
    }
    return std::nullopt;
  }
  const std::string_view value = trimmed(rest.substr(0, value_length(rest)));
  if (value.empty()) {
    return std::nullopt;
  }
  if (value.size() < rest.size() && value_length(rest) < rest.size() &&
      rest[value_length(rest)] == ';') {
    return Change{value_length(rest), 1, "", "a value ends with its line, without ';'"};
  }
  if (value.front() == '.' && number_length(value.substr(1)) + 1 == value.size()) {
    const std::string number = fmt::format("0{}", value);
    return Change{0, value.size(), number, fmt::format("a number begins with a digit: {}", number)};
  }
  if (auto day = mend_day(value)) {
    return day;
  }
  return number_length(value) > 0   ? mend_number(key, value)
         : is_letter(value.front()) ? mend_word(value)
                                    : std::nullopt;
}

/// Whether text of several lines, in """ or ''', begins here.
bool begins_long_text(std::string_view text) {
  return text.starts_with("\"\"\"") || text.starts_with("'''");
}

/// What is to be put right at the beginning of a line: its comment, or what joins key and value.
std::optional<Change> mend_beginning(std::string_view line) {
  const std::size_t begin = line.find_first_not_of(blanks);
  if (begin == std::string_view::npos) {
    return std::nullopt;
  }
  if (line.substr(begin).starts_with("//")) {
    return Change{begin, 2, "# ", "a comment begins with '#'"};
  }
  std::size_t at = begin;
  while (at < line.size() && is_key_character(line[at])) {
    ++at;
  }
  const std::size_t joint = line.find_first_not_of(blanks, at);
  if (at > begin && joint != std::string_view::npos && line[joint] == ':') {
    return Change{joint, 1, "=", "a key and its value are joined by '=', not ':'"};
  }
  return std::nullopt;
}

struct Line {
  std::string text;
  std::vector<Change> changes;

  void make(Change change) {
    text.replace(change.at, change.length, change.by);
    changes.push_back(std::move(change));
  }
};

/// The key that ends before '=' at a place of a line.
std::string_view key_before(std::string_view line, std::size_t equals) {
  const std::string_view before = trimmed(line.substr(0, equals));
  std::size_t begin = before.size();
  while (begin > 0 && is_key_character(before[begin - 1])) {
    --begin;
  }
  return before.substr(begin);
}

/// Puts a line right; returns what closes a text of several lines that begins in it, if one does.
std::string_view mend_line(Line& line) {
  if (auto change = mend_beginning(line.text)) {
    line.make(std::move(*change));
  }
  for (std::size_t at = 0; at < line.text.size() && line.text[at] != '#';) {
    const std::string_view rest = std::string_view(line.text).substr(at);
    if (begins_long_text(rest)) {
      const std::string_view quotes = rest.front() == '"' ? "\"\"\"" : "'''";
      const std::size_t end = rest.find(quotes, 3);
      if (end == std::string_view::npos) {
        return quotes;
      }
      at += end + 3;
    } else if (rest.front() == '"' || rest.front() == '\'') {
      if (rest.front() == '"') {
        if (auto change = mend_value({}, rest)) {
          change->at += at;
          line.make(std::move(*change));
        }
      }
      const std::string_view now = std::string_view(line.text).substr(at);
      at += end_of_text(now, now.front() == '"').value_or(now.size());
    } else if (rest.front() == '=') {
      const std::size_t value = line.text.find_first_not_of(blanks, at + 1);
      const bool text =
          value != std::string::npos && (line.text[value] == '"' || line.text[value] == '\'');
      if (value != std::string::npos && !text) {
        if (auto change =
                mend_value(key_before(line.text, at), std::string_view(line.text).substr(value))) {
          change->at += value;
          line.make(std::move(*change));
        }
      }
      ++at;
    } else {
      ++at;
    }
  }
  return {};
}

}  // namespace

MendedText mend_toml(const SourceText& source) {
  MendedText mended;
  std::string_view rest = source.text;
  std::string_view closing;  // of a text of several lines that we are in
  for (int number = 1; !rest.empty(); ++number) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    Line line{.text = std::string(rest.substr(0, end)), .changes = {}};
    if (!closing.empty()) {
      if (line.text.find(closing) != std::string::npos) {
        closing = {};  // what stands behind it on the same line is looked over
      }
    } else {
      closing = mend_line(line);
    }
    for (Change& change : line.changes) {
      const auto before = rest.substr(0, std::min(change.at, end));
      const auto characters = std::ranges::count_if(
          before, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
      mended.mistakes.push_back(
          {{.file = source.file, .line = number, .column = static_cast<int>(characters) + 1},
           std::move(change.text)});
    }
    mended.text += line.text;
    if (end < rest.size()) {
      mended.text += '\n';
    }
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return mended;
}

}  // namespace panup
