#include "base/toml_guard.h"

#include <fmt/format.h>

#include <algorithm>

namespace panup {

namespace {

bool is_ascii(char c) { return static_cast<unsigned char>(c) < 0x80U; }

bool begins_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

/// Goes through the text from left to right.
struct Scanner {
  std::string_view text;
  std::size_t at = 0;
  int brackets = 0;
  int dots = 0;      ///< since the last character that ends a key
  char last = '\n';  ///< taken outside of comments, blanks apart; a quote for a string

  bool ends() const { return at >= text.size(); }
  bool sees(std::string_view word) const { return text.substr(at).starts_with(word); }
  bool sees_any_of(std::string_view characters) const {
    return !ends() && characters.find(text[at]) != std::string_view::npos;
  }
  bool sees_ascii() const { return ends() || is_ascii(text[at]); }
};

enum class StringEnd : std::uint8_t {
  closed,  ///< the scanner stands behind the closing quote
  open,    ///< there is no closing quote; the parser will not go on behind it
  unfit,   ///< the scanner stands at a character that the parser would not survive
};

/// From the opening quote on.
StringEnd skip_string(Scanner& scanner) {
  const char quote = scanner.text[scanner.at];
  const std::string three(3, quote);
  const bool many_lines = scanner.sees(three);
  scanner.at += many_lines ? 3 : 1;
  while (!scanner.ends()) {
    const char c = scanner.text[scanner.at];
    if (c == '\\' && quote == '"') {
      ++scanner.at;
      if (many_lines && scanner.sees_any_of(" \t\r\n")) {
        while (scanner.sees_any_of(" \t\r\n")) {
          ++scanner.at;
        }
        if (!scanner.sees_ascii()) {
          return StringEnd::unfit;
        }
        continue;
      }
      if (many_lines && !scanner.sees_ascii()) {
        return StringEnd::unfit;
      }
    } else if (c == '\n' && !many_lines) {
      return StringEnd::open;
    } else if (many_lines ? scanner.sees(three) : c == quote) {
      scanner.at += many_lines ? 3 : 1;
      // Up to two quotes before the closing three belong to the string.
      for (int i = 0; many_lines && i < 2 && scanner.sees_any_of({&quote, 1}); ++i) {
        ++scanner.at;
      }
      return StringEnd::closed;
    }
    ++scanner.at;
  }
  return StringEnd::open;
}

/// Whether a text in quotes may begin here: as a key, a part of one, or a value.
bool begins_text(const Scanner& scanner) {
  constexpr std::string_view before_text = "\n=.,[{";
  return before_text.find(scanner.last) != std::string_view::npos;
}

/// Takes one character outside of strings and comments.
void take(Scanner& scanner) {
  const char c = scanner.text[scanner.at++];
  scanner.last = c == ' ' || c == '\t' || c == '\r' ? scanner.last : c;
  if (c == '.') {
    ++scanner.dots;
  } else if (c == '[' || c == '{') {
    ++scanner.brackets;
    scanner.dots = 0;
  } else if (c == ']' || c == '}') {
    --scanner.brackets;
    scanner.dots = 0;
  } else if (c == '\n' || c == '=' || c == ',') {
    scanner.dots = 0;
  }
}

Diagnostic at_place(const SourceText& source, std::size_t at, std::string text) {
  const std::string_view before = std::string_view(source.text).substr(0, at);
  const std::string_view line = before.substr(before.rfind('\n') + 1);  // all of it without one
  return {{.file = source.file,
           .line = static_cast<int>(std::ranges::count(before, '\n')) + 1,
           .column = static_cast<int>(std::ranges::count_if(line, begins_character)) + 1},
          std::move(text)};
}

/// The character that begins at a place, for messages: 'é' (U+00E9). Its number is said because it
/// may be one that cannot be seen.
std::string character_at(std::string_view text, std::size_t at) {
  std::size_t end = at + 1;
  const auto first = static_cast<unsigned char>(text[at]);
  std::uint32_t code = first & (first >= 0xF0 ? 0x07U : first >= 0xE0 ? 0x0FU : 0x1FU);
  for (; end < text.size() && !begins_character(text[end]); ++end) {
    code = (code << 6U) | (static_cast<unsigned char>(text[end]) & 0x3FU);
  }
  return fmt::format("'{}' (U+{:04X})", text.substr(at, end - at), code);
}

}  // namespace

std::optional<Diagnostic> unfit_to_parse(const SourceText& source) {
  Scanner scanner{.text = source.text};
  if (scanner.sees("\xEF\xBB\xBF")) {  // a byte order mark
    scanner.at += 3;
  }
  while (!scanner.ends()) {
    const char c = scanner.text[scanner.at];
    if (c == '#') {
      scanner.at = std::min(scanner.text.find('\n', scanner.at), scanner.text.size());
    } else if (c == '"' || c == '\'') {
      if (!begins_text(scanner)) {
        return at_place(source, scanner.at,
                        "this is not TOML: a quote stands behind something else; text in quotes "
                        "is a whole value, and a comma parts it from the next");
      }
      scanner.last = c;
      switch (skip_string(scanner)) {
        case StringEnd::closed:
          break;
        case StringEnd::open:
          return std::nullopt;
        case StringEnd::unfit:
          return at_place(source, scanner.at,
                          fmt::format("{} cannot come straight after a backslash, nor begin the "
                                      "line after one; put the text on one line",
                                      character_at(source.text, scanner.at)));
      }
    } else if (!is_ascii(c)) {
      return at_place(source, scanner.at,
                      fmt::format("this is not TOML: {} stands outside of quotes",
                                  character_at(source.text, scanner.at)));
    } else {
      const std::size_t here = scanner.at;
      take(scanner);
      const int keys = scanner.dots == 0 ? 0 : scanner.dots + 1;
      if (scanner.brackets + keys > greatest_nesting) {
        return at_place(source, c == '.' ? scanner.at : here,
                        fmt::format("this is nested more than {} deep; input files are flat",
                                    greatest_nesting));
      }
    }
  }
  return std::nullopt;
}

}  // namespace panup
