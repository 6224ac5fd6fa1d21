#include "files/kept_values.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/toml_table.h"
#include "base/write_toml.h"
#include "files/read_provenance.h"

namespace panup {

namespace {

/// What names or places a table: the import finds it anew.
constexpr std::array<std::string_view, 6> naming_keys{"id",   "name",    "type",
                                                      "line", "from_km", "to_km"};

bool is_among(std::string_view word, std::span<const std::string_view> words) {
  return std::ranges::find(words, word) != words.end();
}

std::string called(const TomlEntries& table) {
  for (const std::string_view key : {"id", "name"}) {
    const auto found = std::ranges::find(table, key, &TomlEntry::key);
    const auto* const text =
        found == table.end() ? nullptr : std::get_if<std::string>(&found->node.value);
    if (text != nullptr) {
      return *text;
    }
  }
  return {};
}

std::optional<double> number_in(const TomlNode& node) {
  if (const auto* const whole = std::get_if<std::int64_t>(&node.value)) {
    return static_cast<double>(*whole);
  }
  const auto* const number = std::get_if<double>(&node.value);
  return number == nullptr ? std::nullopt : std::optional(*number);
}

/// With a point and without it is one number.
bool are_alike(const TomlNode& one, const TomlNode& other) {
  const auto number = number_in(one);
  return number ? number == number_in(other) : value_to_toml(one) == value_to_toml(other);
}

/// Adds what is to be kept of one table.
void add_kept(const KeptValue& of, const TomlEntries& entries, const Provenance& provenance,
              std::span<const SourceKind> own, std::vector<KeptValue>& kept) {
  for (const TomlEntry& entry : entries) {
    const auto source = source_of(provenance, entry.key);
    const bool says_where_from = entry.key == "source" || entry.key == "source_of";
    if (source == nullptr || says_where_from || std::ranges::find(own, source->kind) != own.end()) {
      continue;
    }
    const bool by_key = std::ranges::any_of(
        provenance.own, [&](const auto& named) { return named.first == entry.key; });
    if (!by_key && is_among(entry.key, naming_keys)) {
      continue;
    }
    KeptValue& one = kept.emplace_back(of);
    one.key = entry.key;
    one.value = entry.node;
    one.source = *source;
    one.place.line = entry.line;
    one.place.column = entry.column;
  }
}

}  // namespace

std::vector<KeptValue> kept_values(const SourceText& there, FileKind kind,
                                   std::span<const SourceKind> own,
                                   std::span<const std::string_view> lists,
                                   const TableIdentity& identity) {
  std::vector<KeptValue> kept;
  Diagnostics told_elsewhere;
  const auto root_node = parse_toml(there, told_elsewhere);
  auto root = root_node && told_elsewhere.empty()
                  ? root_of(*root_node, there.file, kind, told_elsewhere)
                  : std::nullopt;
  if (!root) {
    return kept;
  }
  const ValueSources sources = read_value_sources(*root);
  for (const TomlEntry& list : std::get<TomlEntries>(root_node->value)) {
    const auto* const nodes = std::get_if<TomlArray>(&list.node.value);
    if (nodes == nullptr || !is_among(list.key, lists)) {
      continue;
    }
    for (const TomlNode& node : *nodes) {
      const auto* const entries = std::get_if<TomlEntries>(&node.value);
      if (entries == nullptr) {
        continue;
      }
      TomlTable table(node, there.file, told_elsewhere);
      const Provenance provenance = read_provenance(table, sources);
      add_kept({.table = list.key,
                .id = identity(list.key, *entries),
                .called = called(*entries),
                .place = {.file = there.file}},
               *entries, provenance, own, kept);
    }
  }
  return kept;
}

std::vector<ValueSource> sources_of(std::vector<KeptValue>& kept,
                                    const std::set<std::string, std::less<>>& own_ids) {
  std::vector<ValueSource> sources;
  for (KeptValue& value : kept) {
    if (own_ids.contains(value.source.id)) {
      value.source.id += "-kept";
    }
    if (std::ranges::find(sources, value.source.id, &ValueSource::id) == sources.end()) {
      sources.push_back(value.source);
    }
  }
  return sources;
}

std::vector<const KeptValue*> take_over(std::vector<KeptValue>& kept, std::string_view list,
                                        std::string_view id, TomlEntries& table) {
  std::vector<const KeptValue*> other;
  for (KeptValue& value : kept) {
    if (value.table != list || value.id != id) {
      continue;
    }
    value.taken_over = true;
    const auto there = std::ranges::find(table, value.key, &TomlEntry::key);
    if (there != table.end()) {
      value.imported = there->node;
      there->node = value.value;
    } else {
      table.push_back({.key = value.key, .node = value.value});
    }
    auto by_key = std::ranges::find(table, "source_of", &TomlEntry::key);
    if (by_key == table.end()) {
      by_key = table.insert(table.end(), {.key = "source_of", .node = {.value = TomlEntries{}}});
    }
    auto& named = std::get<TomlEntries>(by_key->node.value);
    std::erase_if(named, [&](const TomlEntry& entry) { return entry.key == value.key; });
    named.push_back({.key = value.key, .node = {.value = value.source.id}});
    if (!value.imported || !are_alike(*value.imported, value.value)) {
      other.push_back(&value);
    }
  }
  return other;
}

std::string kept_words(const KeptValue& value, std::string_view import) {
  return fmt::format(
      "'{}' is {} ({}), {} {}", value.key, value_to_toml(value.value), words_of(value.source),
      import,
      value.imported ? "states " + value_to_toml(*value.imported) : std::string("states nothing"));
}

}  // namespace panup
