#pragma once

#include <istream>
#include <string>
#include <string_view>
#include <vector>

namespace panup {

/// A cell of a row with the column, in characters from 1, at which it begins.
struct CsvCell {
  std::string_view text;
  int column = 0;
};

/// What separates the cells of a table with these headings: ';' where there are more of them than
/// of ',', which else it is.
char separator_of(std::string_view headings);

/// Rows of comma-separated values, or values separated by another character, one after the other
/// (RFC 4180, but that a row ends where its line ends, in quotes too). Lines end in LF or CR LF; a
/// byte order mark is passed over. It keeps one line, and what was read ahead of it.
///
/// Why no library does this: every bad row is pointed at by line and column, and a line without end
/// may not fill the memory. The readers that stream say neither where a cell begins nor stop a
/// line.
///
///     CsvReader reader(stream);
///     while (reader.next_line()) { for (const CsvCell& cell : reader.cells(',')) … }
class CsvReader {
 public:
  explicit CsvReader(std::istream& stream);

  /// Goes on to the next line; false at the end.
  bool next_line();
  int line() const { return line_; }
  std::string_view text() const { return text_; }
  /// Whether the line was longer than `longest_line`; its text is then empty.
  bool too_long() const { return too_long_; }
  bool is_blank() const;
  /// The cells of the line, without spaces and quotes around them. They hold until the next line,
  /// or the next call.
  const std::vector<CsvCell>& cells(char separator);
  /// Whether the quotes of the line that was cut into cells do not close, or something stands
  /// behind them.
  bool quotes_wrong() const { return quotes_wrong_; }
  /// Whether reading ended because the file could not be read further.
  bool failed() const { return stream_->bad(); }

  static constexpr std::size_t longest_line = 65536;

 private:
  bool fill();
  std::size_t quoted_cell(std::size_t at, char separator);

  std::istream* stream_;
  std::vector<char> buffer_;
  std::size_t begin_ = 0;  ///< of what is not taken yet
  std::size_t end_ = 0;
  std::string_view text_;
  std::vector<CsvCell> cells_;
  std::vector<std::string> unquoted_;  ///< texts of cells with doubled quotes
  int line_ = 0;
  bool too_long_ = false;
  bool quotes_wrong_ = false;
};

}  // namespace panup
