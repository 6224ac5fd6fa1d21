#include "base/provenance_nodes.h"

#include <charconv>
#include <string>
#include <utility>

#include "base/validity.h"

namespace panup {

namespace {

constexpr std::size_t day_characters = 10;

int number_in(std::string_view digits) {
  int number = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), number);
  return number;
}

void add_text(std::string key, const std::string& text, TomlEntries& entries) {
  if (!text.empty()) {
    entries.push_back({.key = std::move(key), .node = {.value = text}});
  }
}

void add_day(std::string key, const std::string& text, TomlEntries& entries) {
  if (const auto day = day_in(text)) {
    entries.push_back({.key = std::move(key), .node = {.value = *day}});
  }
}

}  // namespace

ValueSource dated(ValueSource source, const std::string& date, std::string_view taken_in) {
  source.date = date;
  source.imported = date.empty() ? day_text_in(taken_in) : std::string();
  return source;
}

std::string day_text_in(std::string_view text) {
  const std::string_view day = text.substr(0, day_characters);
  return is_day(day) ? std::string(day) : std::string();
}

std::optional<TomlDate> day_in(std::string_view text) {
  const std::string day = day_text_in(text);
  if (day.empty()) {
    return std::nullopt;
  }
  return TomlDate{.is_day = true,
                  .year = number_in(std::string_view(day).substr(0, 4)),
                  .month = number_in(std::string_view(day).substr(5, 2)),
                  .day = number_in(std::string_view(day).substr(8, 2))};
}

TomlNode node_of(const ValueSource& source) {
  TomlEntries entries;
  add_text("id", source.id, entries);
  add_text("kind", std::string(name_of(source.kind)), entries);
  add_text("name", source.name, entries);
  add_day("date", source.date, entries);
  add_day("imported", source.imported, entries);
  add_text("query", source.query, entries);
  add_text("sha256", source.sha256, entries);
  return {.value = std::move(entries)};
}

}  // namespace panup
