#include "register_rows/network_changes.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "base/write_toml.h"
#include "files/document.h"
#include "files/read_network.h"
#include "line/compose_route.h"
#include "register_rows/table_mark.h"

namespace panup {

namespace {

constexpr std::array<std::string_view, 5> imported_tables{"section", "separation", "gradient",
                                                          "line", "place"};

constexpr std::string_view source_list = "value_source";

bool is_one_of(std::string_view word, std::span<const std::string_view> words) {
  return std::ranges::find(words, word) != words.end();
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

const TomlEntries* table_under(const TomlEntries& table, std::string_view key) {
  const TomlNode* const node = find_under(table, key);
  return node == nullptr ? nullptr : std::get_if<TomlEntries>(&node->value);
}

std::vector<const TomlNode*> tables_under(const TomlEntries& table, std::string_view key) {
  std::vector<const TomlNode*> found;
  const TomlNode* const node = find_under(table, key);
  const auto* const list = node == nullptr ? nullptr : std::get_if<TomlArray>(&node->value);
  for (std::size_t i = 0; list != nullptr && i < list->size(); ++i) {
    if (std::holds_alternative<TomlEntries>((*list)[i].value)) {
      found.push_back(&(*list)[i]);
    }
  }
  return found;
}

/// How people call it.
std::string called(const TomlEntries& table) {
  const std::string id = text_under(table, "id");
  return id.empty() ? text_under(table, "name") : id;
}

std::vector<LineStretch> where_of(std::string_view name, const TomlEntries& table) {
  std::vector<LineStretch> where;
  if (name == "place") {
    for (const TomlNode* const on : tables_under(table, "on")) {
      const auto& entries = std::get<TomlEntries>(on->value);
      const double km = number_under(entries, "at_km").value_or(0);
      where.push_back({text_under(entries, "line"), km, km});
    }
    return where;
  }
  const std::string line = text_under(table, "line");
  const auto from = number_under(table, "from_km");
  const auto at = from ? from : number_under(table, "at_km");
  if (line.empty() || !at) {
    return where;
  }
  constexpr double metres_a_km = 1000;
  const auto length = number_under(table, "length_m");
  const auto to = number_under(table, "to_km");
  where.push_back({line, *at, to ? *to : from && length ? *at + *length / metres_a_km : *at});
  return where;
}

/// A table of one of the networks.
struct FoundTable {
  TomlEntries entries;
  int line = 0;
  int column = 0;
  std::string mark;                       ///< how an import made it; empty: nothing says so
  std::vector<std::string> from_profile;  ///< keys that are not its own
};

FoundTable found_table(std::string_view name, const TomlNode& node,
                       const std::vector<std::string_view>& lines) {
  FoundTable table{.entries = std::get<TomlEntries>(node.value),
                   .line = node.line,
                   .column = node.column,
                   .mark = mark_above(lines, node.line, name),
                   .from_profile = {}};
  return table;
}

class Comparison {
 public:
  Comparison(const std::string& file, const TomlEntries& there,
             const std::vector<std::string_view>& lines, const TomlEntries& made)
      : there_(there), lines_(lines), made_(made) {
    changes_.file = file;
  }

  NetworkChanges compare() {
    for (const std::string_view name : imported_tables) {
      for (const TomlNode* const node : tables_under(there_, name)) {
        changes_.says_how_made |= !mark_above(lines_, node->line, name).empty();
      }
    }
    compare_roots();
    for (const std::string_view name : imported_tables) {
      compare_tables(name);
    }
    for (const TomlEntry& entry : there_) {
      take_other_tables(entry);
    }
    return std::move(changes_);
  }

 private:
  SourcePlace place(int line, int column) const { return {changes_.file, line, column}; }

  void compare_roots() {
    TableChange change{.table = "network",
                       .id = text_under(there_, "id"),
                       .fate = TableFate::changed,
                       .by = StatedBy::the_register,
                       .keys = {},
                       .where = {},
                       .place = {.file = changes_.file}};
    for (const TomlEntry& entry : there_) {
      if (!is_one_of(entry.key, imported_tables) && is_plain(entry.node)) {
        compare_key(entry.key, &entry.node, find_under(made_, entry.key), StatedBy::not_known,
                    change);
      }
    }
    if (!change.keys.empty()) {
      changes_.tables.push_back(std::move(change));
    }
  }

  static bool is_plain(const TomlNode& node) {
    const auto* const list = std::get_if<TomlArray>(&node.value);
    const bool has_tables = list != nullptr && std::ranges::any_of(*list, [](const TomlNode& one) {
                              return std::holds_alternative<TomlEntries>(one.value);
                            });
    return !has_tables && !std::holds_alternative<TomlEntries>(node.value);
  }

  std::vector<FoundTable> tables_there(std::string_view name) const {
    std::vector<FoundTable> tables;
    for (const TomlNode* const node : tables_under(there_, name)) {
      FoundTable& table = tables.emplace_back(found_table(name, *node, lines_));
      const TomlEntries* const profiles = table_under(there_, "profile");
      const TomlEntries* const profile =
          profiles == nullptr || name != "section"
              ? nullptr
              : table_under(*profiles, text_under(table.entries, "profile"));
      for (std::size_t i = 0; profile != nullptr && i < profile->size(); ++i) {
        const TomlEntry& entry = (*profile)[i];
        if (find_under(table.entries, entry.key) == nullptr) {
          table.entries.push_back(entry);
          table.from_profile.push_back(entry.key);
        }
      }
    }
    return tables;
  }

  void compare_tables(std::string_view name) {
    const std::vector<const TomlNode*> made = tables_under(made_, name);
    std::multimap<std::string, std::size_t> not_found;
    for (std::size_t i = 0; i < made.size(); ++i) {
      not_found.emplace(identity_of(name, std::get<TomlEntries>(made[i]->value)), i);
    }
    std::vector<bool> found(made.size());
    for (const FoundTable& before : tables_there(name)) {
      const std::string id = identity_of(name, before.entries);
      const auto then = not_found.lower_bound(id);
      if (then == not_found.end() || then->first != id) {
        take_gone(name, before);
      } else {
        compare_two(name, before, std::get<TomlEntries>(made[then->second]->value));
        found[then->second] = true;
        not_found.erase(then);
      }
    }
    for (std::size_t i = 0; i < made.size(); ++i) {
      if (!found[i]) {
        take_new(name, std::get<TomlEntries>(made[i]->value));
      }
    }
  }

  void take_new(std::string_view name, const TomlEntries& entries) {
    changes_.tables.push_back({.table = std::string(name),
                               .id = called(entries),
                               .fate = TableFate::is_new,
                               .by = StatedBy::the_register,
                               .keys = {},
                               .where = where_of(name, entries),
                               .place = {.file = changes_.file}});
  }

  void take_gone(std::string_view name, const FoundTable& table) {
    const StatedBy by = table.mark.empty()
                            ? changes_.says_how_made ? StatedBy::somebody : StatedBy::not_known
                        : only_imported(name, table) ? StatedBy::the_register
                                                     : StatedBy::somebody;
    changes_.tables.push_back({.table = std::string(name),
                               .id = called(table.entries),
                               .fate = TableFate::gone,
                               .by = by,
                               .keys = {},
                               .where = where_of(name, table.entries),
                               .place = place(table.line, table.column)});
  }

  /// Whether all that stands in it is as an import made it.
  static bool only_imported(std::string_view name, const FoundTable& table) {
    return std::ranges::all_of(table.entries, [&](const TomlEntry& entry) {
      return as_made(name, table.mark, entry.key, &entry.node).value_or(false);
    });
  }

  void compare_two(std::string_view name, const FoundTable& before, const TomlEntries& then) {
    std::vector<LineStretch> where = where_of(name, before.entries);
    for (LineStretch& stretch : where_of(name, then)) {
      if (std::ranges::find(where, stretch) == where.end()) {
        where.push_back(std::move(stretch));
      }
    }
    TableChange change{.table = std::string(name),
                       .id = called(before.entries),
                       .fate = TableFate::changed,
                       .by = StatedBy::the_register,
                       .keys = {},
                       .where = std::move(where),
                       .place = place(before.line, before.column)};
    for (const TomlEntry& entry : before.entries) {
      const bool of_profile =
          std::ranges::find(before.from_profile, entry.key) != before.from_profile.end();
      compare_key(entry.key, &entry.node, find_under(then, entry.key),
                  of_profile ? StatedBy::somebody
                             : stated_by(as_made(name, before.mark, entry.key, &entry.node)),
                  change);
    }
    for (const TomlEntry& entry : then) {
      if (find_under(before.entries, entry.key) == nullptr) {
        compare_key(entry.key, nullptr, &entry.node,
                    stated_by(as_made(name, before.mark, entry.key, nullptr)), change);
      }
    }
    if (!change.keys.empty()) {
      changes_.tables.push_back(std::move(change));
    }
  }

  static StatedBy stated_by(const std::optional<bool>& as_made) {
    return !as_made ? StatedBy::not_known : *as_made ? StatedBy::the_register : StatedBy::somebody;
  }

  static void compare_key(const std::string& key, const TomlNode* before, const TomlNode* then,
                          StatedBy by, TableChange& change) {
    if (before != nullptr && then != nullptr && same_value(*before, *then)) {
      return;
    }
    const bool imported = is_one_of(key, keys_of_import(change.table));
    change.keys.push_back({.key = key,
                           .before = before == nullptr ? std::nullopt : std::optional(*before),
                           .then = then == nullptr ? std::nullopt : std::optional(*then),
                           .by = imported ? by : StatedBy::somebody});
  }

  /// Tables that no import writes.
  void take_other_tables(const TomlEntry& entry) {
    // What is said of sources is no value: what has one of its own is looked at where it stands.
    if (is_one_of(entry.key, imported_tables) || entry.key == source_list) {
      return;
    }
    const std::vector<const TomlNode*> then = tables_under(made_, entry.key);
    const auto take = [&](const std::string& id, const TomlEntries& table, int line, int column) {
      if (std::ranges::any_of(
              then, [&](const TomlNode* one) { return same_value(*one, {.value = table}); })) {
        return;  // it was kept
      }
      changes_.tables.push_back({.table = entry.key,
                                 .id = id,
                                 .fate = TableFate::gone,
                                 .by = StatedBy::somebody,
                                 .keys = {},
                                 .where = where_of(entry.key, table),
                                 .place = place(line, column)});
    };
    for (const TomlNode* const node : tables_under(there_, entry.key)) {
      const auto& table = std::get<TomlEntries>(node->value);
      take(called(table), table, node->line, node->column);
    }
    if (const auto* const named = std::get_if<TomlEntries>(&entry.node.value)) {
      for (const TomlEntry& one : *named) {
        if (const auto* const table = std::get_if<TomlEntries>(&one.node.value)) {
          take(one.key, *table, one.node.line, one.node.column);
        }
      }
    }
  }

  const TomlEntries& there_;
  const std::vector<std::string_view>& lines_;
  const TomlEntries& made_;
  NetworkChanges changes_;
};

/// A source that the new network has already is not put in again.
void drop_known_sources(const std::string& made, std::vector<KeptTable>& tables) {
  Diagnostics unsaid;
  const auto root = parse_toml({.file = {}, .text = made}, unsaid);
  std::set<std::string> known;
  if (root) {
    for (const TomlNode* const node :
         tables_under(std::get<TomlEntries>(root->value), source_list)) {
      known.insert(text_under(std::get<TomlEntries>(node->value), "id"));
    }
  }
  std::erase_if(tables, [&known](const KeptTable& table) {
    return table.what.table == source_list && known.contains(table.what.id);
  });
}

struct AppendedTables {
  std::string text;
  std::vector<std::pair<int, int>> lines;  ///< of each table, the first and the last; 0: dropped
};

AppendedTables append_tables(const std::string& made, const std::vector<KeptTable>& tables) {
  AppendedTables appended{.text = made, .lines = {}};
  auto line = static_cast<int>(std::ranges::count(made, '\n')) + 1;
  bool first = true;
  for (const KeptTable& table : tables) {
    if (!table.why_lost.empty()) {
      appended.lines.emplace_back(0, 0);
      continue;
    }
    std::string text = first ? "\n# Added by hand, and kept.\n" : "\n";
    first = false;
    text += to_toml({.value = TomlEntries{
                         {.key = table.what.table, .node = {.value = TomlArray{table.node}}}}});
    const int before = line;
    line += static_cast<int>(std::ranges::count(text, '\n'));
    appended.lines.emplace_back(before, line - 1);
    appended.text += text;
  }
  return appended;
}

void drop_what_is_wrong(const AppendedTables& appended, const Diagnostics& wrong,
                        std::vector<KeptTable>& tables) {
  const auto drop = [](KeptTable& table, const Diagnostic& why) {
    if (table.why_lost.empty()) {
      table.why_lost = why.text;
    }
  };
  bool found = false;
  for (const Diagnostic& one : wrong) {
    for (std::size_t i = 0; i < tables.size(); ++i) {
      const auto [first, last] = appended.lines[i];
      if (first > 0 && one.place.line >= first && one.place.line <= last) {
        drop(tables[i], one);
        found = true;
      }
    }
  }
  // It is said of what the register states: most likely a table of those kinds contradicts it.
  for (const bool imported : {true, false}) {
    for (KeptTable& table : tables) {
      if (!found && table.why_lost.empty() &&
          (!imported || is_one_of(table.what.table, imported_tables))) {
        drop(table, wrong.front());
      }
    }
    found = found || std::ranges::any_of(tables, [](const KeptTable& table) {
              return is_one_of(table.what.table, imported_tables) && !table.why_lost.empty();
            });
  }
}

}  // namespace

std::string_view name_of(StatedBy by) {
  static constexpr std::array<std::string_view, 3> names{"the register", "somebody", "not known"};
  return names.at(static_cast<std::size_t>(by));
}

std::string_view name_of(TableFate fate) {
  static constexpr std::array<std::string_view, 3> names{"new", "gone", "changed"};
  return names.at(static_cast<std::size_t>(fate));
}

bool is_lost(const KeyChange& change) { return change.by != StatedBy::the_register; }

bool is_lost(const TableChange& change) {
  return change.fate == TableFate::gone && change.by != StatedBy::the_register;
}

std::vector<KeptTable> tables_by_hand(const SourceText& there) {
  Diagnostics unsaid;
  const auto root = parse_toml(there, unsaid);
  if (!root || !unsaid.empty() || !std::holds_alternative<TomlEntries>(root->value)) {
    return {};
  }
  const auto& entries = std::get<TomlEntries>(root->value);
  const std::vector<std::string_view> lines = lines_of(there.text);
  bool says_how_made = false;
  for (const std::string_view name : imported_tables) {
    for (const TomlNode* const node : tables_under(entries, name)) {
      says_how_made |= !mark_above(lines, node->line, name).empty();
    }
  }
  std::vector<KeptTable> tables;
  const auto add = [&](const std::string& key, const TomlNode& node) {
    const auto& table = std::get<TomlEntries>(node.value);
    tables.push_back({.what = {.table = key,
                               .id = called(table),
                               .fate = TableFate::gone,
                               .by = StatedBy::somebody,
                               .keys = {},
                               .where = where_of(key, table),
                               .place = {there.file, node.line, node.column}},
                      .node = node});
  };
  std::set<std::string> sources;
  for (const TomlEntry& entry : entries) {
    const bool imported = is_one_of(entry.key, imported_tables);
    if (entry.key == source_list || (imported && !says_how_made)) {
      continue;
    }
    for (const TomlNode* const node : tables_under(entries, entry.key)) {
      if (!imported || mark_above(lines, node->line, entry.key).empty()) {
        add(entry.key, *node);
        const auto& table = std::get<TomlEntries>(node->value);
        sources.insert(text_under(table, "source"));
        if (const TomlEntries* const by_key = table_under(table, "source_of")) {
          for (const TomlEntry& one : *by_key) {
            sources.insert(text_under(*by_key, one.key));
          }
        }
      }
    }
  }
  for (const TomlNode* const node : tables_under(entries, source_list)) {
    if (sources.contains(text_under(std::get<TomlEntries>(node->value), "id"))) {
      add(std::string(source_list), *node);
    }
  }
  return tables;
}

std::string with_tables(const std::string& made, std::vector<KeptTable>& tables) {
  drop_known_sources(made, tables);
  // Each round drops what the one before found wrong; what is left after the last is not kept.
  for (std::size_t round = 0; round < tables.size() + 1; ++round) {
    const AppendedTables appended = append_tables(made, tables);
    Diagnostics wrong;
    const auto network = read_network({.file = {}, .text = appended.text}, wrong);
    for (std::size_t i = 0; network && i < network->ways.size(); ++i) {
      compose_route(*network, network->ways[i], turns_of(*network, network->ways[i]), wrong);
    }
    if (wrong.empty()) {
      return appended.text;
    }
    drop_what_is_wrong(appended, wrong, tables);
  }
  return made;
}

std::optional<NetworkChanges> network_changes(const SourceText& there, const std::string& made,
                                              Diagnostics& diagnostics,
                                              const std::vector<KeptTable>& by_hand) {
  const std::size_t mistakes = diagnostics.size();
  const auto before = parse_toml(there, diagnostics);
  if (!before || diagnostics.size() != mistakes ||
      !root_of(*before, there.file, FileKind::network, diagnostics)) {
    return std::nullopt;
  }
  const auto then =
      parse_toml({.file = "the network made of the register", .text = made}, diagnostics);
  if (!then) {
    return std::nullopt;
  }
  const std::vector<std::string_view> lines = lines_of(there.text);
  NetworkChanges changes = Comparison(there.file, std::get<TomlEntries>(before->value), lines,
                                      std::get<TomlEntries>(then->value))
                               .compare();
  for (const KeptTable& table : by_hand) {
    const auto gone = std::ranges::find_if(changes.tables, [&table](const TableChange& change) {
      return change.fate == TableFate::gone && change.place.line == table.what.place.line;
    });
    if (gone != changes.tables.end()) {
      gone->why_lost = table.why_lost;
    }
  }
  return changes;
}

}  // namespace panup
