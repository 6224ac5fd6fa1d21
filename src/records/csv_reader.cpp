#include "records/csv_reader.h"

#include <algorithm>
#include <cstring>

namespace panup {

namespace {

constexpr std::size_t buffer_bytes = 16 * CsvReader::longest_line;

bool is_space(char c) { return c == ' ' || c == '\t'; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_space(text.front())) {
    text.remove_prefix(1);
  }
  while (!text.empty() && is_space(text.back())) {
    text.remove_suffix(1);
  }
  return text;
}

int column_of(std::size_t at) { return static_cast<int>(at) + 1; }

}  // namespace

char separator_of(std::string_view headings) {
  return std::ranges::count(headings, ';') > std::ranges::count(headings, ',') ? ';' : ',';
}

CsvReader::CsvReader(std::istream& stream) : stream_(&stream), buffer_(buffer_bytes) {
  fill();
  constexpr std::string_view mark = "\xEF\xBB\xBF";
  if (std::string_view(buffer_.data(), end_).starts_with(mark)) {
    begin_ = mark.size();
  }
}

/// Moves what is left to the front and reads on behind it; false where nothing was added.
bool CsvReader::fill() {
  std::memmove(buffer_.data(), buffer_.data() + begin_, end_ - begin_);
  end_ -= begin_;
  begin_ = 0;
  if (!*stream_ || end_ == buffer_.size()) {
    return false;
  }
  stream_->read(buffer_.data() + end_, static_cast<std::streamsize>(buffer_.size() - end_));
  const auto added = static_cast<std::size_t>(stream_->gcount());
  end_ += added;
  return added > 0;
}

bool CsvReader::next_line() {
  too_long_ = false;
  quotes_wrong_ = false;
  std::size_t looked_at = begin_;
  while (true) {
    const char* const from = buffer_.data() + looked_at;
    const auto* const newline = static_cast<const char*>(std::memchr(from, '\n', end_ - looked_at));
    if (newline == nullptr) {
      if (end_ - begin_ > longest_line) {
        too_long_ = true;  // its beginning is of no more use
        begin_ = end_;
      }
      const bool more = fill();
      looked_at = begin_;
      if (more) {
        continue;
      }
      if (begin_ == end_ && !too_long_) {
        return false;
      }
    }
    const std::size_t at =
        newline == nullptr ? end_ : static_cast<std::size_t>(newline - buffer_.data());
    text_ = std::string_view(buffer_.data() + begin_, at - begin_);
    if (!text_.empty() && text_.back() == '\r') {
      text_.remove_suffix(1);
    }
    too_long_ = too_long_ || text_.size() > longest_line;
    if (too_long_) {
      text_ = {};
    }
    begin_ = newline != nullptr ? at + 1 : end_;
    ++line_;
    return true;
  }
}

bool CsvReader::is_blank() const { return !too_long_ && trimmed(text_).empty(); }

/// Takes the cell whose quotes open at `at`; gives where its separator or the line's end is.
std::size_t CsvReader::quoted_cell(std::size_t at, char separator) {
  const int column = column_of(at);
  std::string& cell = unquoted_.emplace_back();
  std::size_t next = at + 1;
  bool closed = false;
  while (next < text_.size() && !closed) {
    if (text_[next] != '"') {
      cell += text_[next];
    } else if (next + 1 < text_.size() && text_[next + 1] == '"') {
      cell += '"';
      ++next;
    } else {
      closed = true;
    }
    ++next;
  }
  const std::size_t end = std::min(text_.find(separator, next), text_.size());
  quotes_wrong_ = quotes_wrong_ || !closed || !trimmed(text_.substr(next, end - next)).empty();
  cells_.push_back({cell, column});
  return end;
}

const std::vector<CsvCell>& CsvReader::cells(char separator) {
  cells_.clear();
  unquoted_.clear();
  // Their texts must stay where they are while more are added.
  unquoted_.reserve(static_cast<std::size_t>(std::ranges::count(text_, '"')));
  quotes_wrong_ = false;
  std::size_t at = 0;
  while (true) {
    std::size_t first = at;
    while (first < text_.size() && is_space(text_[first]) && text_[first] != separator) {
      ++first;
    }
    std::size_t end = 0;
    if (first < text_.size() && text_[first] == '"') {
      end = quoted_cell(first, separator);
    } else {
      end = std::min(text_.find(separator, at), text_.size());
      cells_.push_back({trimmed(text_.substr(at, end - at)), column_of(first)});
    }
    if (end == text_.size()) {
      return cells_;
    }
    at = end + 1;
  }
}

}  // namespace panup
