#include "base/toml_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace panup {

namespace {

/// Units that keys of this program end with, and some that others would write.
constexpr std::array<std::string_view, 25> units{
    "m",  "mm", "km",  "kmh", "ms", "ms2", "s",     "n",    "kw",  "a",  "c",  "ft", "in",
    "yd", "mi", "mph", "kn",  "kv", "v",   "hours", "mins", "kgf", "mw", "cm", "f"};

bool is_unit(std::string_view word) { return std::ranges::find(units, word) != units.end(); }

/// "length_m" → {"length", "m"}; a key without a unit keeps it empty.
std::pair<std::string_view, std::string_view> split_unit(std::string_view key) {
  const std::size_t bar = key.rfind('_');
  if (bar == std::string_view::npos || !is_unit(key.substr(bar + 1))) {
    return {key, {}};
  }
  return {key.substr(0, bar), key.substr(bar + 1)};
}

std::string unknown_key_text(std::string_view key, const std::set<std::string>& known) {
  const auto [stem, unit] = split_unit(key);
  for (const std::string& candidate : known) {
    const auto [known_stem, known_unit] = split_unit(candidate);
    if (known_stem == stem && !known_unit.empty() && known_unit != unit) {
      return unit.empty() ? fmt::format("key '{}' lacks its unit; it would be '{}'", key, candidate)
                          : fmt::format("unknown unit '{}' in key '{}'; it would be '{}'", unit,
                                        key, candidate);
    }
  }
  const std::string_view nearest = nearest_of(key, known);
  return nearest.empty() ? fmt::format("unknown key '{}'", key)
                         : fmt::format("unknown key '{}'; did you mean '{}'?", key, nearest);
}

std::string range_text(Range range) {
  if (range.above_least) {
    return fmt::format("a value above {:g}, up to {:g}", range.least, range.greatest);
  }
  return fmt::format("a value from {:g} to {:g}", range.least, range.greatest);
}

bool lies_in(double value, Range range) {
  return std::isfinite(value) && value <= range.greatest &&
         (range.above_least ? value > range.least : value >= range.least);
}

}  // namespace

namespace {

std::string unknown_word_text(std::string_view key, const std::string& value,
                              const std::vector<std::string>& known) {
  const std::string_view nearest = nearest_of(value, known);
  return nearest.empty()
             ? fmt::format("'{}' is \"{}\"; expected {}", key, value, quoted_list(known))
             : fmt::format("'{}' is \"{}\"; did you mean \"{}\"? It is one of {}", key, value,
                           nearest, quoted_list(known));
}

}  // namespace

std::string quoted_list(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    text += (i == 0 ? "" : i + 1 == words.size() ? " or " : ", ") + ("\"" + words[i] + "\"");
  }
  return text;
}

TomlTable::TomlTable(const TomlNode& node, std::string file, Diagnostics& diagnostics)
    : node_(&node),
      file_(std::move(file)),
      diagnostics_(&diagnostics),
      asked_(std::make_shared<std::set<std::string>>()) {}

void TomlTable::set_fallback(const TomlTable& fallback) {
  fallback_ = std::make_shared<const TomlTable>(fallback);
}

const TomlEntry* TomlTable::own_entry(std::string_view key) const {
  const auto* const entries = std::get_if<TomlEntries>(&node_->value);
  if (entries == nullptr) {
    return nullptr;
  }
  const auto found = std::ranges::find(*entries, key, &TomlEntry::key);
  return found == entries->end() ? nullptr : &*found;
}

const TomlEntry* TomlTable::entry(std::string_view key) const {
  const TomlEntry* const own = own_entry(key);
  return own == nullptr && fallback_ ? fallback_->entry(key) : own;
}

const TomlNode* TomlTable::find(std::string_view key, Need need) {
  asked_->emplace(key);
  const TomlEntry* const found = entry(key);
  if (found == nullptr && need == Need::required) {
    report(place(), fmt::format("key '{}' is missing", key));
  }
  return found == nullptr ? nullptr : &found->node;
}

SourcePlace TomlTable::place_of(const TomlNode& node) const {
  return {.file = file_, .line = node.line, .column = node.column};
}

SourcePlace TomlTable::place() const {
  SourcePlace place = place_of(*node_);
  place.line = std::max(place.line, 1);
  place.column = std::max(place.column, 1);
  return place;
}

SourcePlace TomlTable::place_of(std::string_view key) const {
  const TomlEntry* const found = entry(key);
  return found == nullptr ? place() : place_of(found->node);
}

SourcePlace TomlTable::place_of(std::string_view key, std::size_t index) const {
  const TomlEntry* const found = entry(key);
  const auto* const array = found == nullptr ? nullptr : std::get_if<TomlArray>(&found->node.value);
  return array != nullptr && index < array->size() ? place_of((*array)[index]) : place_of(key);
}

void TomlTable::report(const SourcePlace& where, std::string what) {
  diagnostics_->push_back({where, std::move(what)});
}

void TomlTable::report_kind(const TomlNode& node, std::string_view key, std::string_view expected) {
  const bool quoted =
      std::holds_alternative<std::string>(node.value) &&
      (expected == "a number" || expected == "a whole number" || expected == "true or false");
  report(place_of(node), fmt::format("'{}' is {}; expected {}{}", key, kind_of(node), expected,
                                     quoted ? ", without quotes" : ""));
}

std::optional<double> TomlTable::checked(const TomlNode& node, std::string_view key, Range range) {
  double value = 0;
  if (const auto* const whole = std::get_if<std::int64_t>(&node.value)) {
    value = static_cast<double>(*whole);
  } else if (const auto* const real = std::get_if<double>(&node.value)) {
    value = *real;
  } else {
    report_kind(node, key, "a number");
    return std::nullopt;
  }
  if (!lies_in(value, range)) {
    report(place_of(node),
           fmt::format("'{}' is {:.9g}; expected {}", key, value, range_text(range)));
    return std::nullopt;
  }
  return value;
}

std::optional<std::string> TomlTable::checked_text(const TomlNode& node, std::string_view key) {
  const auto* const text = std::get_if<std::string>(&node.value);
  if (text == nullptr) {
    report_kind(node, key, "text in quotes");
    return std::nullopt;
  }
  if (text->find_first_not_of(' ') == std::string::npos) {
    report(place_of(node), fmt::format("'{}' is empty", key));
    return std::nullopt;
  }
  if (std::ranges::any_of(
          *text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; })) {
    report(place_of(node),
           fmt::format("'{}' holds a control character; it is one line of text, and a backslash in "
                       "\"…\" begins an escape: write a path with '/'",
                       key));
    return std::nullopt;
  }
  return *text;
}

std::optional<double> TomlTable::number(std::string_view key, Range range, Need need) {
  const TomlNode* const node = find(key, need);
  return node == nullptr ? std::nullopt : checked(*node, key, range);
}

std::optional<int> TomlTable::whole(std::string_view key, int least, int greatest, Need need) {
  const TomlNode* const node = find(key, need);
  if (node == nullptr) {
    return std::nullopt;
  }
  if (!std::holds_alternative<std::int64_t>(node->value)) {
    report_kind(*node, key, "a whole number");
    return std::nullopt;
  }
  const auto value =
      checked(*node, key, {static_cast<double>(least), static_cast<double>(greatest)});
  return value ? std::optional(static_cast<int>(*value)) : std::nullopt;
}

std::optional<bool> TomlTable::flag(std::string_view key, Need need) {
  const TomlNode* const node = find(key, need);
  if (node == nullptr) {
    return std::nullopt;
  }
  if (const bool* const value = std::get_if<bool>(&node->value)) {
    return *value;
  }
  report_kind(*node, key, "true or false");
  return std::nullopt;
}

std::optional<TomlDate> TomlTable::time_of_day(std::string_view key) {
  const TomlNode* const node = find(key, Need::optional);
  if (node == nullptr) {
    return std::nullopt;
  }
  const auto* const time = std::get_if<TomlDate>(&node->value);
  if (time == nullptr || !time->is_time) {
    report(place_of(*node),
           fmt::format("'{}' is {}; expected a time of day, as in 05:40:00, without quotes", key,
                       time == nullptr ? kind_of(*node) : "not a time alone"));
    return std::nullopt;
  }
  return *time;
}

std::optional<TomlDate> TomlTable::date(std::string_view key, Need need) {
  const TomlNode* const node = find(key, need);
  if (node == nullptr) {
    return std::nullopt;
  }
  const auto* const day = std::get_if<TomlDate>(&node->value);
  if (day == nullptr || !day->is_day) {
    report(
        place_of(*node),
        fmt::format("'{}' is {}; expected a day without a time, as in 2031-05-30, without quotes",
                    key, day == nullptr ? kind_of(*node) : "not a day alone"));
    return std::nullopt;
  }
  return *day;
}

std::optional<std::string> TomlTable::text(std::string_view key, Need need) {
  const TomlNode* const node = find(key, need);
  return node == nullptr ? std::nullopt : checked_text(*node, key);
}

std::optional<std::string> TomlTable::word(std::string_view key,
                                           const std::vector<std::string>& words, Need need) {
  std::optional<std::string> value = text(key, need);
  if (!value || std::ranges::find(words, *value) != words.end()) {
    return value;
  }
  report_at(key, unknown_word_text(key, *value, words));
  return std::nullopt;
}

std::optional<std::string> TomlTable::id(std::string_view key, Need need) {
  std::optional<std::string> value = text(key, need);
  if (!value) {
    return value;
  }
  const bool clean = std::ranges::all_of(*value, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '.';
  });
  if (!clean) {
    report_at(key, fmt::format("'{}' is \"{}\"; an id is made of letters, digits, '-', '_' and '.'",
                               key, *value));
    return std::nullopt;
  }
  return value;
}

std::optional<std::vector<double>> TomlTable::numbers(std::string_view key, Range range,
                                                      Need need) {
  const TomlNode* const node = find(key, need);
  if (node == nullptr) {
    return std::nullopt;
  }
  const auto* const array = std::get_if<TomlArray>(&node->value);
  if (array == nullptr) {
    report_kind(*node, key, "a list of numbers in [ ]");
    return std::nullopt;
  }
  std::vector<double> values;
  for (const TomlNode& element : *array) {
    if (const auto value = checked(element, key, range)) {
      values.push_back(*value);
    }
  }
  return values.size() == array->size() ? std::optional(std::move(values)) : std::nullopt;
}

std::optional<std::vector<int>> TomlTable::wholes(std::string_view key, int least, int greatest) {
  const TomlNode* const node = find(key, Need::optional);
  if (node == nullptr) {
    return std::nullopt;
  }
  const auto* const array = std::get_if<TomlArray>(&node->value);
  if (array == nullptr) {
    report_kind(*node, key, "a list of whole numbers in [ ]");
    return std::nullopt;
  }
  const Range range{static_cast<double>(least), static_cast<double>(greatest)};
  std::vector<int> values;
  for (const TomlNode& element : *array) {
    if (!std::holds_alternative<std::int64_t>(element.value)) {
      report_kind(element, key, "a whole number");
    } else if (const auto value = checked(element, key, range)) {
      values.push_back(static_cast<int>(*value));
    }
  }
  return values.size() == array->size() ? std::optional(std::move(values)) : std::nullopt;
}

std::optional<std::vector<std::string>> TomlTable::texts(std::string_view key, Need need) {
  const TomlNode* const node = find(key, need);
  if (node == nullptr) {
    return std::nullopt;
  }
  const auto* const array = std::get_if<TomlArray>(&node->value);
  if (array == nullptr) {
    report_kind(*node, key, "a list of texts in [ ]");
    return std::nullopt;
  }
  std::vector<std::string> values;
  for (const TomlNode& element : *array) {
    if (auto value = checked_text(element, key)) {
      values.push_back(std::move(*value));
    }
  }
  return values.size() == array->size() ? std::optional(std::move(values)) : std::nullopt;
}

std::optional<std::vector<std::string>> TomlTable::words(std::string_view key,
                                                         const std::vector<std::string>& known,
                                                         Need need) {
  auto values = texts(key, need);
  if (!values) {
    return std::nullopt;
  }
  const auto& array = std::get<TomlArray>(entry(key)->node.value);
  for (std::size_t i = 0; i < array.size(); ++i) {
    const std::string& value = (*values)[i];
    if (std::ranges::find(known, value) == known.end()) {
      report(place_of(array[i]), unknown_word_text(key, value, known));
    }
  }
  return values;
}

std::vector<TomlTable> TomlTable::tables(std::string_view key, Need need) {
  const TomlNode* const node = find(key, need);
  if (node == nullptr) {
    return {};
  }
  const auto* const array = std::get_if<TomlArray>(&node->value);
  if (array == nullptr) {
    report_kind(*node, key, fmt::format("a list of tables, each begun by [[{}]]", key));
    return {};
  }
  std::vector<TomlTable> all;
  for (const TomlNode& element : *array) {
    if (std::holds_alternative<TomlEntries>(element.value)) {
      all.emplace_back(element, file_, *diagnostics_);
    } else {
      report_kind(element, key, "a table");
    }
  }
  if (all.empty() && need == Need::required) {
    report(place_of(*node), fmt::format("'{}' is empty; at least one is needed", key));
  }
  return all;
}

std::optional<TomlTable> TomlTable::table(std::string_view key) {
  const TomlNode* const node = find(key, Need::optional);
  if (node == nullptr) {
    return std::nullopt;
  }
  if (!std::holds_alternative<TomlEntries>(node->value)) {
    report_kind(*node, key, fmt::format("one table, begun by [{}]", key));
    return std::nullopt;
  }
  return TomlTable(*node, file_, *diagnostics_);
}

std::vector<std::pair<std::string, TomlTable>> TomlTable::named_tables(std::string_view key) {
  const TomlNode* const node = find(key, Need::optional);
  if (node == nullptr) {
    return {};
  }
  const auto* const entries = std::get_if<TomlEntries>(&node->value);
  if (entries == nullptr) {
    report_kind(*node, key, fmt::format("tables, each begun by [{}.NAME]", key));
    return {};
  }
  std::vector<std::pair<std::string, TomlTable>> all;
  for (const TomlEntry& entry : *entries) {
    if (std::holds_alternative<TomlEntries>(entry.node.value)) {
      all.emplace_back(entry.key, TomlTable(entry.node, file_, *diagnostics_));
    } else {
      report({.file = file_, .line = entry.line, .column = entry.column},
             fmt::format("'{}.{}' is {}; expected a table begun by [{}.{}]", key, entry.key,
                         kind_of(entry.node), key, entry.key));
    }
  }
  return all;
}

bool TomlTable::has(std::string_view key) {
  asked_->emplace(key);
  return entry(key) != nullptr;
}

bool TomlTable::has_itself(std::string_view key) {
  asked_->emplace(key);
  return own_entry(key) != nullptr;
}

std::vector<std::string> TomlTable::keys() const {
  std::vector<std::string> keys;
  if (const auto* const entries = std::get_if<TomlEntries>(&node_->value)) {
    for (const TomlEntry& entry : *entries) {
      keys.push_back(entry.key);
    }
  }
  return keys;
}

void TomlTable::report_key(std::string_view key, std::string what) {
  if (const TomlEntry* const found = own_entry(key)) {
    report({.file = file_, .line = found->line, .column = found->column}, std::move(what));
  }
}

bool TomlTable::is_text(std::string_view key) {
  const TomlNode* const node = find(key, Need::optional);
  return node != nullptr && std::holds_alternative<std::string>(node->value);
}

bool TomlTable::is_list(std::string_view key) {
  const TomlNode* const node = find(key, Need::optional);
  return node != nullptr && std::holds_alternative<TomlArray>(node->value);
}

void TomlTable::report_unlike(std::string_view key, std::string_view expected) {
  if (const TomlNode* const node = find(key, Need::optional)) {
    report_kind(*node, key, expected);
  }
}

void TomlTable::finish(const std::set<std::string>& also_known) {
  std::set<std::string> known = *asked_;
  known.insert(also_known.begin(), also_known.end());
  const auto* const entries = std::get_if<TomlEntries>(&node_->value);
  if (entries == nullptr) {
    return;
  }
  for (const TomlEntry& entry : *entries) {
    if (!known.contains(entry.key)) {
      report({.file = file_, .line = entry.line, .column = entry.column},
             unknown_key_text(entry.key, known));
    }
  }
}

}  // namespace panup
