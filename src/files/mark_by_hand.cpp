#include "files/mark_by_hand.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "base/change_toml.h"
#include "base/provenance_nodes.h"

namespace panup {

namespace {

const TomlEntries* table_in(const TomlNode* node) {
  return node == nullptr ? nullptr : std::get_if<TomlEntries>(&node->value);
}

const TomlNode* value_in(const TomlEntries* table, std::string_view key) {
  if (table == nullptr) {
    return nullptr;
  }
  const auto found = std::ranges::find(*table, key, &TomlEntry::key);
  return found == table->end() ? nullptr : &found->node;
}

std::string text_in(const TomlEntries* table, std::string_view key) {
  const TomlNode* const node = value_in(table, key);
  const auto* const text = node == nullptr ? nullptr : std::get_if<std::string>(&node->value);
  return text == nullptr ? std::string() : *text;
}

std::optional<double> plain_number(const TomlNode& node) {
  if (const auto* const whole = std::get_if<std::int64_t>(&node.value)) {
    return static_cast<double>(*whole);
  }
  const auto* const real = std::get_if<double>(&node.value);
  return real == nullptr ? std::nullopt : std::optional(*real);
}

/// With a point and without it is one number, also within lists and tables.
bool is_same_value(const TomlNode& a, const TomlNode& b) {
  if (const auto number = plain_number(a)) {
    return number == plain_number(b);
  }
  const auto* const list = std::get_if<TomlArray>(&a.value);
  const auto* const other_list = std::get_if<TomlArray>(&b.value);
  if (list != nullptr && other_list != nullptr) {
    return std::ranges::equal(*list, *other_list, is_same_value);
  }
  const TomlEntries* const table = table_in(&a);
  const TomlEntries* const other = table_in(&b);
  if (table != nullptr && other != nullptr) {
    return table->size() == other->size() &&
           std::ranges::all_of(*table, [&](const TomlEntry& entry) {
             const TomlNode* const there = value_in(other, entry.key);
             return there != nullptr && is_same_value(entry.node, *there);
           });
  }
  return say_the_same(a, b);
}

TomlPath below(TomlPath at, TomlStep step) {
  at.push_back(std::move(step));
  return at;
}

/// The ways to the tables of a list.
void add_list(const TomlNode& root, const char* list, std::vector<TomlPath>& tables) {
  const TomlNode* const node = find_value(root, {list});
  const auto* const entries = node == nullptr ? nullptr : std::get_if<TomlArray>(&node->value);
  for (std::size_t i = 0; entries != nullptr && i < entries->size(); ++i) {
    if (table_in(&(*entries)[i]) != nullptr) {
      tables.push_back({list, i});
    }
  }
}

/// The ways to the tables that may say where their values come from.
std::vector<TomlPath> tables_with_sources(const TomlNode& root, FileKind kind) {
  std::vector<TomlPath> tables;
  const auto add = [&](const char* list) { add_list(root, list, tables); };
  switch (kind) {
    case FileKind::route:
    case FileKind::network: {
      add("section");
      add("separation");
      add("low_place");
      if (const TomlEntries* const profiles = table_in(find_value(root, {"profile"}))) {
        for (const TomlEntry& profile : *profiles) {
          if (table_in(&profile.node) != nullptr) {
            tables.push_back({"profile", profile.key});
          }
        }
      }
      break;
    }
    case FileKind::stock:
      add("pantograph");
      add("vehicle");
      break;
    case FileKind::train:
      tables.emplace_back();
      add("consist");
      break;
    default:
      break;
  }
  return tables;
}

/// Of the root of a train file: what is no value, or has its own tables to say it.
bool is_of_the_file(const TomlEntry& entry) {
  static constexpr std::array<std::string_view, 4> of_files{"kind", "stock", "consents",
                                                            "value_source"};
  const auto* const list = std::get_if<TomlArray>(&entry.node.value);
  const bool tables = list != nullptr && !list->empty() && table_in(&list->front()) != nullptr;
  return tables || table_in(&entry.node) != nullptr ||
         std::ranges::find(of_files, entry.key) != of_files.end();
}

class Marker {
 public:
  Marker(const ChangedByHand& changed, const TomlNode& before, const TomlNode& after,
         Diagnostics& diagnostics)
      : changed_(changed),
        before_(before),
        after_(after),
        diagnostics_(diagnostics),
        text_(changed.after) {}

  std::optional<std::string> mark() {
    for (const TomlPath& at : tables_with_sources(after_, changed_.kind)) {
      if (!mark_table(at)) {
        return std::nullopt;
      }
    }
    return std::move(text_.text);
  }

 private:
  /// The same table before the change; null where it is new.
  const TomlEntries* table_before(const TomlPath& at) const {
    TomlPath was;
    TomlPath is;
    for (const TomlStep& step : at) {
      const auto arranged = std::ranges::find(changed_.arranged, is, &ArrangedList::list);
      is.push_back(step);
      const auto* const place = std::get_if<std::size_t>(&step);
      if (place == nullptr || arranged == changed_.arranged.end()) {
        was.push_back(step);
        continue;
      }
      const auto from = *place < arranged->from.size() ? arranged->from[*place] : std::nullopt;
      if (!from) {
        return nullptr;
      }
      was.emplace_back(*from);
    }
    return table_in(find_value(before_, was));
  }

  bool make(TomlPath at, std::optional<TomlNode> to) {
    auto text = change_toml(
        text_, {.at = std::move(at), .to = std::move(to), .layout = TomlLayout::in_one_line},
        diagnostics_);
    if (text) {
      text_.text = std::move(*text);
    }
    return text.has_value();
  }

  bool mark_table(const TomlPath& at) {
    const TomlEntries& table = *table_in(find_value(after_, at));
    const TomlEntries* const before = table_before(at);
    const TomlEntries* const sources = table_in(value_in(&table, "source_of"));
    if (before == nullptr && !at.empty()) {
      const bool says_itself = sources != nullptr || !text_in(&table, "source").empty();
      return says_itself || text_in(table_in(&after_), "source").empty() ||
             (make(below(at, "source"), TomlNode{.value = source_id()}) && add_source());
    }
    if (!leave_out_sources_of_nothing(at, table, sources)) {
      return false;
    }
    bool has_sources = sources != nullptr && std::ranges::any_of(*sources, [&](const auto& one) {
                         return value_in(&table, one.key) != nullptr;
                       });
    for (const TomlEntry& entry : table) {
      if (!is_given_by_hand(at, entry, table, before)) {
        continue;
      }
      const TomlNode id{.value = source_id()};
      const TomlPath by_key = below(at, "source_of");
      const bool done =
          has_sources
              ? make(below(by_key, entry.key), id)
              : make(by_key, TomlNode{.value = TomlEntries{{.key = entry.key, .node = id}}});
      if (!done || !add_source()) {
        return false;
      }
      has_sources = true;
    }
    return true;
  }

  bool leave_out_sources_of_nothing(const TomlPath& at, const TomlEntries& table,
                                    const TomlEntries* sources) {
    std::vector<std::string> gone;
    for (const TomlEntry& entry : sources == nullptr ? TomlEntries{} : *sources) {
      if (value_in(&table, entry.key) == nullptr) {
        gone.push_back(entry.key);
      }
    }
    const TomlPath by_key = below(at, "source_of");
    if (!gone.empty() && gone.size() == sources->size()) {
      return make(by_key, std::nullopt);
    }
    return std::ranges::all_of(
        gone, [&](const std::string& key) { return make(below(by_key, key), std::nullopt); });
  }

  /// Whether the value is another one, and would be said to come from where it does not. Whoever
  /// says where the new one comes from is left alone.
  bool is_given_by_hand(const TomlPath& at, const TomlEntry& entry, const TomlEntries& table,
                        const TomlEntries* before) const {
    if (entry.key == "source" || entry.key == "source_of" ||
        (at.empty() && is_of_the_file(entry))) {
      return false;
    }
    const TomlNode* const was = value_in(before, entry.key);
    if (was != nullptr && is_same_value(*was, entry.node)) {
      return false;
    }
    const std::string own = text_in(table_in(value_in(&table, "source_of")), entry.key);
    const std::string own_before = text_in(table_in(value_in(before, "source_of")), entry.key);
    if (own != own_before) {
      return false;
    }
    return !own.empty() || !text_in(&table, "source").empty() ||
           !text_in(table_in(&after_), "source").empty();
  }

  /// The id of the source "by hand" of this day: that of the file where it has one.
  const std::string& source_id() {
    if (!id_.empty()) {
      return id_;
    }
    const TomlNode* const node = find_value(after_, {"value_source"});
    const auto* const list = node == nullptr ? nullptr : std::get_if<TomlArray>(&node->value);
    source_count_ = list == nullptr ? 0 : list->size();
    const ValueSource wanted{.id = {}, .kind = SourceKind::by_hand, .date = changed_.day};
    std::vector<std::string> taken;
    for (const TomlNode& one : list == nullptr ? TomlArray{} : *list) {
      const std::string id = text_in(table_in(&one), "id");
      ValueSource same = wanted;
      same.id = id;
      if (!id.empty() && is_same_value(one, node_of(same))) {
        there_ = true;
        id_ = id;
        return id_;
      }
      taken.push_back(id);
    }
    id_ = "by-hand-" + changed_.day;
    for (int number = 2; std::ranges::find(taken, id_) != taken.end(); ++number) {
      id_ = fmt::format("by-hand-{}-{}", changed_.day, number);
    }
    return id_;
  }

  bool add_source() {
    if (there_) {
      return true;
    }
    const ValueSource source{.id = source_id(), .kind = SourceKind::by_hand, .date = changed_.day};
    there_ = true;
    auto text = change_toml(text_, {.at = {"value_source", source_count_}, .to = node_of(source)},
                            diagnostics_);
    if (text) {
      text_.text = std::move(*text);
    }
    return text.has_value();
  }

  const ChangedByHand& changed_;
  const TomlNode& before_;
  const TomlNode& after_;
  Diagnostics& diagnostics_;
  SourceText text_;
  std::string id_;
  std::size_t source_count_ = 0;
  bool there_ = false;
};

}  // namespace

std::optional<std::string> mark_by_hand(const ChangedByHand& changed, Diagnostics& diagnostics) {
  Diagnostics said_elsewhere;
  const auto before = parse_toml(changed.before, said_elsewhere);
  const auto after = parse_toml(changed.after, said_elsewhere);
  // Of a file with mistakes, or without sources, nothing says where a value comes from.
  if (!before || !after || !said_elsewhere.empty() ||
      find_value(*after, {"value_source"}) == nullptr) {
    return changed.after.text;
  }
  return Marker(changed, *before, *after, diagnostics).mark();
}

}  // namespace panup
