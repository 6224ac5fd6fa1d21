#include "base/toml_nesting.h"

#include <algorithm>

namespace panup {

namespace {

/// Goes through the text from left to right, over strings and comments.
struct Scanner {
  std::string_view text;
  std::size_t at = 0;
  int brackets = 0;
  int dots = 0;  ///< since the last character that ends a key

  bool ends() const { return at >= text.size(); }
  bool sees(std::string_view word) const { return text.substr(at).starts_with(word); }
  bool sees_any_of(std::string_view characters) const {
    return !ends() && characters.find(text[at]) != std::string_view::npos;
  }
};

/// From the opening quote to behind the closing one. False if the string does not end.
bool skip_string(Scanner& scanner) {
  const char quote = scanner.text[scanner.at];
  const std::string three(3, quote);
  const bool many_lines = scanner.sees(three);
  scanner.at += many_lines ? 3 : 1;
  for (; !scanner.ends(); ++scanner.at) {
    const char c = scanner.text[scanner.at];
    if (c == '\\' && quote == '"') {
      ++scanner.at;
    } else if (c == '\n' && !many_lines) {
      return false;
    } else if (many_lines ? scanner.sees(three) : c == quote) {
      scanner.at += many_lines ? 3 : 1;
      // Up to two quotes before the closing three belong to the string.
      for (int i = 0; many_lines && i < 2 && scanner.sees_any_of({&quote, 1}); ++i) {
        ++scanner.at;
      }
      return true;
    }
  }
  return false;
}

/// Takes one character outside of strings and comments.
void take(Scanner& scanner) {
  const char c = scanner.text[scanner.at++];
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

SourcePlace place_at(const SourceText& source, std::size_t at) {
  const std::string_view before = std::string_view(source.text).substr(0, at);
  const std::string_view line = before.substr(before.rfind('\n') + 1);  // all of it without one
  const auto begins_character = [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  };
  return {.file = source.file,
          .line = static_cast<int>(std::ranges::count(before, '\n')) + 1,
          .column = static_cast<int>(std::ranges::count_if(line, begins_character)) + 1};
}

}  // namespace

std::optional<SourcePlace> first_deep_nesting(const SourceText& source) {
  Scanner scanner{.text = source.text};
  while (!scanner.ends()) {
    const char c = scanner.text[scanner.at];
    if (c == '#') {
      scanner.at = std::min(scanner.text.find('\n', scanner.at), scanner.text.size());
      continue;
    }
    if (c == '"' || c == '\'') {
      if (!skip_string(scanner)) {
        return std::nullopt;
      }
      continue;
    }
    const std::size_t here = scanner.at;
    take(scanner);
    const int keys = scanner.dots == 0 ? 0 : scanner.dots + 1;
    if (scanner.brackets + keys > greatest_nesting) {
      return place_at(source, c == '.' ? scanner.at : here);
    }
  }
  return std::nullopt;
}

}  // namespace panup
