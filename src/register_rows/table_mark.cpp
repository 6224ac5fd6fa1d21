#include "register_rows/table_mark.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/listed.h"
#include "base/sha256.h"
#include "base/write_toml.h"

namespace panup {

namespace {

constexpr std::string_view mark_begins = "# As made: ";
constexpr std::string_view not_stated_begins = "# Not stated: ";
/// Enough to tell a table that somebody has changed from one that nobody has.
constexpr std::size_t mark_digits = 16;

constexpr std::array<std::string_view, 3> network_keys{"kind", "id", "name"};
constexpr std::array<std::string_view, 2> line_keys{"id", "name"};
constexpr std::array<std::string_view, 3> place_keys{"id", "name", "on"};
constexpr std::array<std::string_view, 19> section_keys{"id",
                                                        "name",
                                                        "line",
                                                        "from_km",
                                                        "to_km",
                                                        "line_speed_kmh",
                                                        "system",
                                                        "permitted_heads",
                                                        "permitted_strip_materials",
                                                        "greatest_metallic_content_percent",
                                                        "greatest_static_force_n",
                                                        "automatic_dropping_device_required",
                                                        "current_limitation_required",
                                                        "separation_document",
                                                        "greatest_train_current_a",
                                                        "greatest_standstill_current_a",
                                                        "wire_height_min_m",
                                                        "wire_height_max_m",
                                                        "raised"};
constexpr std::array<std::string_view, 8> separation_keys{
    "line",        "name",     "type", "from_km", "length_m", "pantograph_lowered",
    "breaker_off", "length_is"};
constexpr std::array<std::string_view, 4> gradient_keys{"line", "from_km", "to_km", "permille"};

/// Beyond it not every whole number is one that a number with a point can be.
constexpr double greatest_whole = 9e15;

struct OneForm {
  TomlNode operator()(double number) const {
    const bool whole = number == std::trunc(number) && std::abs(number) < greatest_whole;
    return whole ? TomlNode{.value = static_cast<std::int64_t>(number)} : TomlNode{.value = number};
  }
  TomlNode operator()(TomlArray& list) const {
    std::ranges::transform(list, list.begin(),
                           [](TomlNode& node) { return one_form_of(std::move(node)); });
    return {.value = std::move(list)};
  }
  TomlNode operator()(TomlEntries& table) const {
    for (TomlEntry& entry : table) {
      entry.node = one_form_of(std::move(entry.node));
    }
    std::ranges::stable_sort(table, {}, &TomlEntry::key);
    return {.value = std::move(table)};
  }
  template <typename Plain>
  TomlNode operator()(Plain& plain) const {
    return {.value = std::move(plain)};
  }
};

}  // namespace

std::span<const std::string_view> keys_of_import(std::string_view table) {
  if (table == "network") {
    return network_keys;
  }
  if (table == "line") {
    return line_keys;
  }
  if (table == "place") {
    return place_keys;
  }
  if (table == "section") {
    return section_keys;
  }
  if (table == "separation") {
    return separation_keys;
  }
  if (table == "gradient") {
    return gradient_keys;
  }
  return {};
}

TomlNode one_form_of(TomlNode node) { return std::visit(OneForm{}, node.value); }

bool same_value(const TomlNode& one, const TomlNode& other) {
  return value_to_toml(one_form_of(one)) == value_to_toml(one_form_of(other));
}

std::string mark_of(const TomlEntries& table) {
  const std::string digest = sha256_hex(value_to_toml(one_form_of({.value = table})));
  return fmt::format("{}{}\n", mark_begins, digest.substr(0, mark_digits));
}

std::string not_stated_line(const std::vector<std::string>& keys) {
  return fmt::format("{}{}\n", not_stated_begins, listed(keys));
}

TableComment comment_above(const std::vector<std::string_view>& lines, int line) {
  TableComment comment;
  for (int above = line - 1; above >= 1 && above <= static_cast<int>(lines.size()); --above) {
    std::string_view text = lines[static_cast<std::size_t>(above) - 1];
    if (!text.starts_with('#')) {
      break;
    }
    if (text.starts_with(mark_begins) && comment.mark.empty()) {
      comment.mark = text;
    }
    if (text.starts_with(not_stated_begins)) {
      text.remove_prefix(not_stated_begins.size());
      // Keys hold no space.
      while (!text.empty()) {
        const std::size_t end = std::min(text.find_first_of(", "), text.size());
        if (end > 0 && text.substr(0, end) != "and") {
          comment.not_stated.emplace_back(text.substr(0, end));
        }
        text.remove_prefix(std::min(end + 1, text.size()));
      }
    }
  }
  return comment;
}

bool as_made(std::string_view name, const TomlEntries& table, const TableComment& comment) {
  TomlEntries made;
  std::ranges::copy_if(table, std::back_inserter(made), [&](const TomlEntry& entry) {
    return std::ranges::find(keys_of_import(name), entry.key) != keys_of_import(name).end() &&
           std::ranges::find(comment.not_stated, entry.key) == comment.not_stated.end();
  });
  return mark_of(made).starts_with(comment.mark) && !comment.mark.empty();
}

}  // namespace panup
