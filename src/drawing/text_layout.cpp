#include "drawing/text_layout.h"

#include <glib.h>

#include <algorithm>

#include "drawing/text.h"

namespace panup {

namespace {

std::size_t columns_for(gunichar character) {
  if (g_unichar_iszerowidth(character) != 0) {
    return 0;
  }
  return g_unichar_iswide(character) != 0 ? 2 : 1;
}

/// The bytes of the UTF-8 character that begins `text`; a byte that begins none counts by itself.
std::size_t bytes_of_first(std::string_view text) {
  const std::size_t length =
      static_cast<unsigned char>(g_utf8_skip[static_cast<unsigned char>(text.front())]);
  return std::min(length, text.size());
}

gunichar first_of(std::string_view text) {
  const gunichar character =
      g_utf8_get_char_validated(text.data(), static_cast<gssize>(text.size()));
  const bool wrong =
      character == static_cast<gunichar>(-1) || character == static_cast<gunichar>(-2);
  return wrong ? U'?' : character;
}

std::size_t bytes_within(std::string_view text, std::size_t width) {
  std::size_t bytes = 0;
  std::size_t columns = 0;
  while (bytes < text.size()) {
    const std::string_view rest = text.substr(bytes);
    columns += columns_for(first_of(rest));
    if (columns > width) {
      break;
    }
    bytes += bytes_of_first(rest);
  }
  return bytes;
}

std::string filled(std::string_view text, std::size_t width, bool right_aligned) {
  const std::size_t columns = columns_of(text);
  const std::string blanks(width > columns ? width - columns : 0, ' ');
  return right_aligned ? blanks + std::string(text) : std::string(text) + blanks;
}

void to_plain_spaces(std::string& line) {
  constexpr std::string_view no_break = "\u00a0";
  std::string out;
  std::size_t from = 0;
  for (std::size_t at = line.find(no_break); at != std::string::npos;
       at = line.find(no_break, from)) {
    out.append(line, from, at - from);
    out += ' ';
    from = at + no_break.size();
  }
  out.append(line, from);
  line = std::move(out);
}

void trim_right(std::string& line) {
  const std::size_t last = line.find_last_not_of(' ');
  line.resize(last == std::string::npos ? 0 : last + 1);
}

std::vector<std::size_t> widths_of(const std::vector<TableColumn>& columns,
                                   const std::vector<std::vector<std::string>>& rows,
                                   std::size_t room) {
  std::vector<std::size_t> widths;
  std::size_t used = 0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    std::size_t width = columns[i].width;
    if (width == 0) {
      width = columns_of(columns[i].heading);
      for (const std::vector<std::string>& row : rows) {
        width = std::max(width, columns_of(row[i]));
      }
      width = std::min(width, columns[i].greatest);
    }
    if (i + 1 == columns.size()) {
      width = room > used + 10 ? room - used : 10;
    }
    widths.push_back(width);
    used += width + 2;
  }
  return widths;
}

}  // namespace

std::size_t columns_of(std::string_view text) {
  std::size_t columns = 0;
  while (!text.empty()) {
    columns += columns_for(first_of(text));
    text.remove_prefix(bytes_of_first(text));
  }
  return columns;
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  const std::string joined = kept_together(text);
  text = joined;
  std::vector<std::string> lines(1);
  std::size_t used = 0;
  while (!text.empty()) {
    const std::size_t gap = text.find_first_not_of(' ');
    if (gap == std::string_view::npos) {
      break;
    }
    text.remove_prefix(gap);
    std::string_view word = text.substr(0, text.find(' '));
    text.remove_prefix(word.size());
    std::size_t columns = columns_of(word);
    if (used > 0 && used + 1 + columns > width) {
      lines.emplace_back();
      used = 0;
    }
    while (columns > width) {
      const std::size_t bytes = std::max(bytes_within(word, width), bytes_of_first(word));
      lines.back() += word.substr(0, bytes);
      lines.emplace_back();
      word.remove_prefix(bytes);
      columns = columns_of(word);
    }
    if (used > 0) {
      lines.back() += ' ';
      ++used;
    }
    lines.back() += word;
    used += columns;
  }
  std::ranges::for_each(lines, to_plain_spaces);
  return lines;
}

std::string hanging(std::string_view lead, std::string_view text, std::size_t width) {
  const std::size_t indent = columns_of(lead);
  const std::size_t room = width > indent + 10 ? width - indent : 10;
  std::string out;
  for (const std::string& line : wrapped(text, room)) {
    std::string whole = (out.empty() ? std::string(lead) : std::string(indent, ' ')) + line;
    trim_right(whole);
    out += whole + '\n';
  }
  return out;
}

std::string text_table(const std::vector<TableColumn>& columns,
                       const std::vector<std::vector<std::string>>& rows, std::size_t indent,
                       std::size_t width) {
  const std::vector<std::size_t> widths = widths_of(columns, rows, width - indent);
  std::string out;
  const auto add = [&](const auto& cell_of) {
    std::vector<std::vector<std::string>> cells;
    std::size_t height = 0;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      cells.push_back(wrapped(cell_of(i), widths[i]));
      height = std::max(height, cells.back().size());
    }
    for (std::size_t line = 0; line < height; ++line) {
      std::string whole(indent, ' ');
      for (std::size_t i = 0; i < columns.size(); ++i) {
        whole += i == 0 ? "" : "  ";
        whole += filled(line < cells[i].size() ? cells[i][line] : std::string(), widths[i],
                        columns[i].right_aligned);
      }
      trim_right(whole);
      out += whole + '\n';
    }
  };
  add([&](std::size_t i) { return columns[i].heading; });
  for (const std::vector<std::string>& row : rows) {
    add([&](std::size_t i) { return row[i]; });
  }
  return out;
}

}  // namespace panup
