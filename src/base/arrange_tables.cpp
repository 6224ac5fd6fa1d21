#include "base/arrange_tables.h"

#include <algorithm>

namespace panup {

namespace {

enum class LineKind : std::uint8_t { blank, comment, other };

LineKind kind_of_line(const std::string& text, std::size_t begin) {
  const std::size_t first = text.find_first_not_of(" \t\r", begin);
  if (first == std::string::npos || text[first] == '\n') {
    return LineKind::blank;
  }
  return text[first] == '#' ? LineKind::comment : LineKind::other;
}

std::size_t line_before(const std::string& text, std::size_t line) {
  const std::size_t before = line < 2 ? std::string::npos : text.rfind('\n', line - 2);
  return before == std::string::npos ? 0 : before + 1;
}

std::size_t line_behind(const std::string& text, std::size_t line) {
  return std::min(text.find('\n', line), text.size() - 1) + 1;
}

/// With the comments at it, which reach no farther than its neighbours.
TomlSpan with_comments(const std::string& text, TomlSpan lines, std::size_t least) {
  while (lines.begin > least &&
         kind_of_line(text, line_before(text, lines.begin)) == LineKind::comment) {
    lines.begin = line_before(text, lines.begin);
  }
  std::size_t end = lines.end;
  while (end < text.size() && kind_of_line(text, end) == LineKind::comment) {
    end = line_behind(text, end);
  }
  // What stands right above another header is said of that.
  if (end >= text.size() || kind_of_line(text, end) == LineKind::blank) {
    lines.end = end;
  }
  return lines;
}

/// The lines of each table of a list; nothing where those of one are not together.
std::optional<std::vector<TomlSpan>> lines_of_tables(const SourceText& source,
                                                     const TomlPath& list) {
  std::vector<TomlSpan> found;
  std::vector<std::size_t> begins_behind;
  std::size_t behind = 0;
  bool in_it = false;
  for (const TomlStatement& one : outline_of(source)) {
    const bool of_it = one.at.size() > list.size() && begins_with(one.at, list);
    const bool is_first =
        of_it && one.kind == TomlStatementKind::entry && one.at.size() == list.size() + 1;
    if (is_first) {
      found.push_back(one.lines);
      begins_behind.push_back(behind);
    } else if (of_it && !in_it) {
      return std::nullopt;
    } else if (of_it) {
      found.back().end = one.lines.end;
    }
    in_it = of_it;
    behind = one.lines.end;
  }
  for (std::size_t i = 0; i < found.size(); ++i) {
    found[i] = with_comments(source.text, found[i], begins_behind[i]);
  }
  return found;
}

/// A text in pieces: tables, and what stands before, between and behind them.
struct PiecesOfText {
  std::vector<std::string> tables;
  std::vector<std::string> around;  ///< one more than tables
};

PiecesOfText cut(const std::string& text, const std::vector<TomlSpan>& tables) {
  PiecesOfText pieces;
  std::size_t at = 0;
  for (const TomlSpan& one : tables) {
    pieces.around.push_back(text.substr(at, one.begin - at));
    pieces.tables.push_back(text.substr(one.begin, one.end - one.begin));
    at = one.end;
  }
  pieces.around.push_back(text.substr(at));
  return pieces;
}

bool ends_blank(const std::string& text) {
  return text.empty() || kind_of_line(text, line_before(text, text.size())) == LineKind::blank;
}

/// Of the empty lines before and behind what has gone, those behind are left out.
void join_around(std::string& before, std::string behind) {
  if (ends_blank(before)) {
    while (!behind.empty() && kind_of_line(behind, 0) == LineKind::blank) {
      behind.erase(0, line_behind(behind, 0));
    }
  }
  before += behind;
}

/// No empty lines are left at the end of a text where there were none.
void drop_blank_end(std::string& text) {
  while (text.size() > 1 && text.back() == '\n' && ends_blank(text)) {
    text.erase(line_before(text, text.size()));
  }
}

}  // namespace

std::optional<std::string> arrange_tables(const SourceText& source, const TomlPath& list,
                                          const std::vector<ArrangedTable>& tables,
                                          const std::string& line_break) {
  const auto lines = lines_of_tables(source, list);
  if (!lines || lines->empty()) {
    return std::nullopt;
  }
  const PiecesOfText pieces = cut(source.text, *lines);
  std::vector<bool> stays(pieces.tables.size(), false);
  for (const ArrangedTable& one : tables) {
    if (one.from) {
      stays[*one.from] = true;
    }
  }
  // Those that stay stand in their new order at the places of those that stay.
  std::string text = pieces.around.front();
  std::string behind;  // what follows the last one put, and new ones at it
  std::size_t place = 0;
  const auto put = [&](std::string said) {
    if (!said.ends_with('\n')) {
      said += line_break;
    }
    text += said;
  };
  const auto go_on = [&] {
    text += behind;
    while (place < stays.size() && !stays[place]) {
      join_around(text, pieces.around[++place]);
    }
  };
  bool first = true;
  for (const ArrangedTable& one : tables) {
    if (one.from) {
      go_on();
      put(pieces.tables[*one.from]);
      behind = pieces.around[++place];
    } else if (first) {
      put(one.lines);
      text += line_break;
    } else {
      text += text.ends_with(line_break + line_break) ? "" : line_break;
      put(one.lines);
    }
    first = false;
  }
  go_on();
  if (pieces.around.back().empty()) {
    drop_blank_end(text);
  }
  return text;
}

}  // namespace panup
