#include "base/source_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <vector>

namespace panup {

namespace {

/// Bytes of the UTF-8 sequence that begins at `at`; 0 if it is not valid.
std::size_t sequence_length(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned first = byte(at);
  const std::size_t length = first < 0x80                     ? 1
                             : first >= 0xC2 && first <= 0xDF ? 2
                             : first >= 0xE0 && first <= 0xEF ? 3
                             : first >= 0xF0 && first <= 0xF4 ? 4
                                                              : 0;
  if (length == 0 || at + length > text.size()) {
    return 0;
  }
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xC0U) != 0x80U) {
      return 0;
    }
  }
  const unsigned second = length > 1 ? byte(at + 1) : 0;
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool surrogate = first == 0xED && second > 0x9F;
  const bool too_large = first == 0xF4 && second > 0x8F;
  return overlong || surrogate || too_large ? 0 : length;
}

}  // namespace

std::optional<SourceText> load_text(const std::string& path, Diagnostics& diagnostics) {
  namespace fs = std::filesystem;
  const auto fail = [&](std::string text) {
    diagnostics.push_back({{.file = path}, std::move(text)});
    return std::nullopt;
  };
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status)) {
    return fail(path.find('\\') == std::string::npos
                    ? "there is no such file"
                    : "there is no such file; folders in a path are divided by '/', not by '\\'");
  }
  if (fs::is_directory(status)) {
    return fail("this is a folder, expected a file");
  }
  std::ifstream stream(path, std::ios::binary);
  SourceText source{.file = path, .text = {}};
  // In pieces, because a pipe does not say how much it holds.
  std::array<char, 65536> piece{};
  while (stream && source.text.size() <= greatest_file_bytes) {
    stream.read(piece.data(), static_cast<std::streamsize>(piece.size()));
    source.text.append(piece.data(), static_cast<std::size_t>(stream.gcount()));
  }
  if (!stream.eof() && stream.fail()) {
    return fail("it cannot be read");
  }
  if (source.text.size() > greatest_file_bytes) {
    return fail(fmt::format("it is larger than {} MB; input files are smaller",
                            greatest_file_bytes / 1'000'000));
  }
  source.text.shrink_to_fit();
  return source;
}

bool is_sound(const SourceText& source, Diagnostics& diagnostics) {
  int line = 1;
  int column = 1;
  const auto fail = [&](std::string text) {
    diagnostics.push_back({{.file = source.file, .line = line, .column = column}, std::move(text)});
    return false;
  };
  if (source.text.size() > greatest_file_bytes) {
    line = 0;
    return fail(fmt::format("it is larger than {} MB; input files are smaller",
                            greatest_file_bytes / 1'000'000));
  }
  for (std::size_t at = 0; at < source.text.size();) {
    const std::size_t length = sequence_length(source.text, at);
    if (length == 0) {
      return fail("this is not valid UTF-8; save the file as UTF-8");
    }
    if (source.text[at] == '\0') {
      return fail("there is a NUL character here; expected text");
    }
    if (source.text[at] == '\n') {
      ++line;
      column = 1;
    } else if (column++ > static_cast<int>(greatest_line_characters)) {
      --column;  // at the first character that is too many
      return fail(fmt::format("this line is longer than {} characters", greatest_line_characters));
    }
    at += length;
  }
  return true;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before_last(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) {
    last[j] = j;
  }
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, replaced});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        now[j] = std::min(now[j], before_last[j - 2] + 1);
      }
    }
    std::swap(before_last, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

}  // namespace panup
