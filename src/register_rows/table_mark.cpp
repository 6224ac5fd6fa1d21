#include "register_rows/table_mark.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "base/write_toml.h"

namespace panup {

namespace {

constexpr std::string_view mark_begins = "# As made: ";
/// Of each key: enough to tell a value that somebody has changed from one that nobody has.
constexpr std::size_t key_digits = 6;
constexpr std::string_view not_there = "------";

constexpr std::array<std::string_view, 4> network_keys{"kind", "id", "name", "source"};
constexpr std::array<std::string_view, 2> line_keys{"id", "name"};
constexpr std::array<std::string_view, 3> place_keys{"id", "name", "on"};
constexpr std::array<std::string_view, 21> section_keys{"id",
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
                                                        "greatest_contact_force",
                                                        "automatic_dropping_device_required",
                                                        "current_limitation_required",
                                                        "separation_document",
                                                        "greatest_train_current_a",
                                                        "greatest_standstill_current_a",
                                                        "wire_height_min_m",
                                                        "wire_height_max_m",
                                                        "temperature_range",
                                                        "raised"};
constexpr std::array<std::string_view, 9> separation_keys{
    "line",        "name",      "type",  "from_km", "length_m", "pantograph_lowered",
    "breaker_off", "length_is", "source"};
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

/// FNV-1a in 64 bits, folded: nobody forges a mark, and a network has a hundred thousand of them.
std::string digits_of(const TomlNode* node) {
  if (node == nullptr) {
    return std::string(not_there);
  }
  constexpr std::uint64_t basis = 0xcbf29ce484222325U;
  constexpr std::uint64_t prime = 0x100000001b3U;
  std::uint64_t sum = basis;
  for (const char c : value_to_toml(one_form_of(*node))) {
    sum = (sum ^ static_cast<unsigned char>(c)) * prime;
  }
  constexpr unsigned key_bits = 4 * key_digits;
  constexpr std::uint64_t mask = (std::uint64_t{1} << key_bits) - 1;
  return fmt::format("{:06x}", (sum ^ (sum >> key_bits) ^ (sum >> (2 * key_bits))) & mask);
}

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

std::string mark_of(std::string_view name, const TomlEntries& table) {
  std::string mark;
  for (const std::string_view key : keys_of_import(name)) {
    mark += digits_of(find_under(table, key));
  }
  return mark;
}

std::string mark_line(std::string_view name, const TomlEntries& table) {
  return fmt::format("{}{}\n", mark_begins, mark_of(name, table));
}

std::string mark_above(const std::vector<std::string_view>& lines, int line,
                       std::string_view name) {
  for (int above = line - 1; above >= 1 && above <= static_cast<int>(lines.size()); --above) {
    const std::string_view text = lines[static_cast<std::size_t>(above) - 1];
    if (!text.starts_with('#')) {
      break;
    }
    if (text.starts_with(mark_begins)) {
      const std::string_view mark = text.substr(mark_begins.size());
      return mark.size() == key_digits * keys_of_import(name).size() ? std::string(mark)
                                                                     : std::string();
    }
  }
  return {};
}

std::optional<bool> as_made(std::string_view name, std::string_view mark, std::string_view key,
                            const TomlNode* node) {
  const auto keys = keys_of_import(name);
  const auto found = std::ranges::find(keys, key);
  if (mark.empty() || found == keys.end()) {
    return std::nullopt;
  }
  const auto place = static_cast<std::size_t>(found - keys.begin());
  return mark.substr(place * key_digits, key_digits) == digits_of(node);
}

const TomlNode* find_under(const TomlEntries& table, std::string_view key) {
  const auto found = std::ranges::find(table, key, &TomlEntry::key);
  return found == table.end() ? nullptr : &found->node;
}

std::string text_under(const TomlEntries& table, std::string_view key) {
  const TomlNode* const node = find_under(table, key);
  const auto* const text = node == nullptr ? nullptr : std::get_if<std::string>(&node->value);
  return text == nullptr ? std::string() : *text;
}

std::optional<double> number_under(const TomlEntries& table, std::string_view key) {
  const TomlNode* const node = find_under(table, key);
  if (node == nullptr) {
    return std::nullopt;
  }
  if (const auto* const whole = std::get_if<std::int64_t>(&node->value)) {
    return static_cast<double>(*whole);
  }
  const auto* const number = std::get_if<double>(&node->value);
  return number == nullptr ? std::nullopt : std::optional(*number);
}

std::string identity_of(std::string_view name, const TomlEntries& table) {
  if (name == "separation") {
    return text_under(table, "line") + "\n" + text_under(table, "name");
  }
  if (name == "gradient") {
    return fmt::format("{}\n{:.6f}", text_under(table, "line"),
                       number_under(table, "from_km").value_or(0));
  }
  return text_under(table, "id");
}

}  // namespace panup
