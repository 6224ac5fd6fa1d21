#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/toml_tree.h"

namespace panup {

/// Permitted values of a number.
struct Range {
  double least = 0;
  double greatest = 0;
  bool above_least = false;  ///< the least value itself is not permitted
};

enum class Need : std::uint8_t { optional, required };

/// A table of a TOML file, being read. Each accessor takes a key, checks type and range, and
/// reports a mistake at its place; it gives nothing where the key is absent or wrong, in whole or
/// in one of its elements. The keys that were asked for are the known ones: `finish` reports all
/// others, with a suggestion.
///
/// The tree and the diagnostics must outlive it. Copies share what has been asked for.
class TomlTable {
 public:
  TomlTable(const TomlNode& node, std::string file, Diagnostics& diagnostics);

  /// Keys that are absent here are looked for in `fallback`.
  void set_fallback(const TomlTable& fallback);

  std::optional<double> number(std::string_view key, Range range, Need need = Need::optional);
  std::optional<int> whole(std::string_view key, int least, int greatest,
                           Need need = Need::optional);
  std::optional<bool> flag(std::string_view key, Need need = Need::optional);
  /// A calendar day, as YYYY-MM-DD.
  std::optional<TomlDate> date(std::string_view key, Need need = Need::optional);
  /// A time of day, as HH:MM:SS.
  std::optional<TomlDate> time_of_day(std::string_view key);
  /// Not empty, without control characters.
  std::optional<std::string> text(std::string_view key, Need need = Need::optional);
  /// Text that is one of `words`.
  std::optional<std::string> word(std::string_view key, const std::vector<std::string>& words,
                                  Need need = Need::optional);
  /// Letters, digits, '-', '_' and '.'.
  std::optional<std::string> id(std::string_view key, Need need = Need::optional);
  std::optional<std::vector<double>> numbers(std::string_view key, Range range,
                                             Need need = Need::optional);
  std::optional<std::vector<int>> wholes(std::string_view key, int least, int greatest);
  std::optional<std::vector<std::string>> texts(std::string_view key, Need need = Need::optional);
  /// A list of texts, each of which is one of `known`; others are reported at their own place.
  std::optional<std::vector<std::string>> words(std::string_view key,
                                                const std::vector<std::string>& known,
                                                Need need = Need::optional);
  /// A list of tables, written as `[[key]]` or inline.
  std::vector<TomlTable> tables(std::string_view key, Need need = Need::optional);
  /// One table, written as `[key]` or inline.
  std::optional<TomlTable> table(std::string_view key);
  /// The tables of a table of tables by their names: `[key.NAME]`.
  std::vector<std::pair<std::string, TomlTable>> named_tables(std::string_view key);

  bool has(std::string_view key);
  /// Whether it states the key itself, and not the table that it is like.
  bool has_itself(std::string_view key);
  /// The keys that it states itself, in their order.
  std::vector<std::string> keys() const;
  /// Whether the value is text rather than a list or table.
  bool is_text(std::string_view key);
  bool is_list(std::string_view key);
  SourcePlace place() const;
  /// Of the value; of the table where the key is absent.
  SourcePlace place_of(std::string_view key) const;
  /// Of an element of a list; of the list where it has no such one.
  SourcePlace place_of(std::string_view key, std::size_t index) const;
  const std::string& file() const { return file_; }

  void report(const SourcePlace& where, std::string what);
  /// At the value of a key.
  void report_at(std::string_view key, std::string what) { report(place_of(key), std::move(what)); }
  /// At a key that is there, rather than at its value.
  void report_key(std::string_view key, std::string what);
  /// At the value of a key that is there: what it is, and what was expected.
  void report_unlike(std::string_view key, std::string_view expected);
  /// Reports keys that nobody asked for. `also_known` are keys that another reader has asked for.
  void finish(const std::set<std::string>& also_known = {});
  const std::set<std::string>& asked() const { return *asked_; }

 private:
  const TomlEntry* own_entry(std::string_view key) const;
  const TomlEntry* entry(std::string_view key) const;
  const TomlNode* find(std::string_view key, Need need);
  SourcePlace place_of(const TomlNode& node) const;
  std::optional<double> checked(const TomlNode& node, std::string_view key, Range range);
  std::optional<std::string> checked_text(const TomlNode& node, std::string_view key);
  void report_kind(const TomlNode& node, std::string_view key, std::string_view expected);

  const TomlNode* node_;
  std::string file_;
  Diagnostics* diagnostics_;
  std::shared_ptr<const TomlTable> fallback_;
  std::shared_ptr<std::set<std::string>> asked_;
};

/// `"a", "b" or "c"`, for messages.
std::string quoted_list(const std::vector<std::string>& words);

}  // namespace panup
