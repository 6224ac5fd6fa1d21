#include "serve/train_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <climits>
#include <map>
#include <optional>
#include <ranges>
#include <string_view>
#include <vector>

#include "base/change_toml.h"
#include "base/toml_tree.h"
#include "base/write_toml.h"
#include "files/mark_by_hand.h"
#include "serve/toml_json.h"

namespace panup {

namespace {

using PlainJson = nlohmann::json;
using Json = nlohmann::ordered_json;

/// Lists of tables of the file under the name that a list has on the page.
struct ListName {
  std::string_view in_file;
  std::string_view in_model;
};
constexpr std::array list_names{ListName{"high_voltage_line", "high_voltage_lines"},
                                // Before the next one, which takes its name in the model.
                                ListName{"consents", "consent_files"},
                                ListName{"consent", "consents"},
                                ListName{"deviation", "deviations"}};

/// Of which the tables know their places in the file, by its names.
constexpr std::array<std::string_view, 4> lists_of_tables{"consist", "high_voltage_line", "consent",
                                                          "deviation"};

/// The value of a key taken out of an object, or a default.
Json taken(Json& object, std::string_view key, Json otherwise) {
  const auto found = object.find(std::string(key));
  if (found == object.end()) {
    return otherwise;
  }
  Json value = std::move(*found);
  object.erase(found);
  return value;
}

/// An object with the given keys first, and behind them what else it has.
Json completed(Json object, const std::vector<std::pair<std::string_view, Json>>& defaults) {
  auto whole = Json::object();
  for (const auto& [key, otherwise] : defaults) {
    whole[std::string(key)] = taken(object, key, otherwise);
  }
  for (const auto& [key, value] : object.items()) {
    whole[key] = value;
  }
  return whole;
}

Json completed_list(Json list, const std::vector<std::pair<std::string_view, Json>>& defaults) {
  for (Json& object : list) {
    object = completed(std::move(object), defaults);
  }
  return list;
}

std::string default_id(int number) { return fmt::format("vehicle {}", number); }

Json completed_consist(Json consist) {
  const auto none = Json::array();
  int number = 0;
  for (Json& item : consist) {
    if (item.contains("vehicle")) {
      item = completed(std::move(item), {{"vehicle", ""},
                                         {"id", default_id(++number)},
                                         {"leading_cab", 1},
                                         {"dead_in_tow", false},
                                         {"defective_pantographs", none},
                                         {"kept_down_pantographs", none},
                                         {"kept_up_pantographs", none},
                                         {"current", none}});
    }
  }
  return consist;
}

/// Whether a text is "vehicle N" for a number that a vehicle of the train may have had.
bool is_default_id(const std::string& id, int vehicles) {
  constexpr std::string_view before = "vehicle ";
  if (!id.starts_with(before)) {
    return false;
  }
  int number = 0;
  const auto [end, error] =
      std::from_chars(id.data() + before.size(), id.data() + id.size(), number);
  return error == std::errc{} && end == id.data() + id.size() && number >= 1 &&
         number <= vehicles && id == default_id(number);
}

/// A value that the page has taken out has no source any more.
void leave_out_sources_of_nothing(TomlEntries& table) {
  const auto by_key = std::ranges::find(table, "source_of", &TomlEntry::key);
  auto* const sources =
      by_key == table.end() ? nullptr : std::get_if<TomlEntries>(&by_key->node.value);
  if (sources == nullptr) {
    return;
  }
  std::erase_if(*sources, [&table](const TomlEntry& entry) {
    return std::ranges::find(table, entry.key, &TomlEntry::key) == table.end();
  });
  if (sources->empty()) {
    table.erase(by_key);
  }
}

TomlNode to_node(const PlainJson& value);

/// Keys that state nothing are left out: null, and what the reader takes as given anyway.
bool goes_without_saying(std::string_view key, const PlainJson& value) {
  constexpr std::array<std::string_view, 3> flags{"invented", "dead_in_tow", "can_be_opened"};
  return value.is_null() ||
         (value.is_array() && value.empty() && key != "consist" && key != "stock") ||
         (value == false && std::ranges::find(flags, key) != flags.end());
}

TomlEntries to_entries(const PlainJson& object, const std::vector<std::string_view>& first) {
  TomlEntries entries;
  const auto add = [&entries](const std::string& key, const PlainJson& value) {
    if (!goes_without_saying(key, value)) {
      entries.push_back({.key = key, .node = to_node(value)});
    }
  };
  for (const std::string_view key : first) {
    if (const auto found = object.find(key); found != object.end()) {
      add(std::string(key), *found);
    }
  }
  for (const auto& [key, value] : object.items()) {
    if (std::ranges::find(first, key) == first.end()) {
      add(key, value);
    }
  }
  leave_out_sources_of_nothing(entries);
  return entries;
}

/// TOML has whole numbers of 64 bits with a sign.
bool is_beyond_whole_numbers(const PlainJson& value) {
  return value.is_number_unsigned() &&
         value.get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX);
}

TomlNode to_node(const PlainJson& value) {
  TomlNode node{};
  if (value.is_boolean()) {
    node.value = value.get<bool>();
  } else if (value.is_number_integer() && !is_beyond_whole_numbers(value)) {
    node.value = value.get<std::int64_t>();
  } else if (value.is_number()) {
    node.value = value.get<double>();
  } else if (value.is_string()) {
    node.value = value.get<std::string>();
  } else if (value.is_array()) {
    TomlArray list;
    for (const PlainJson& one : value) {
      list.push_back(to_node(one));
    }
    node.value = std::move(list);
  } else if (value.is_object()) {
    node.value = to_entries(value, {"vehicle",
                                    "id",
                                    "leading_cab",
                                    "dead_in_tow",
                                    "defective_pantographs",
                                    "kept_down_pantographs",
                                    "kept_up_pantographs",
                                    "load",
                                    "nature",
                                    "control_car",
                                    "length_m",
                                    "wagons",
                                    "highest_speed_kmh",
                                    "mass_t",
                                    "davis_a_n",
                                    "davis_b_n_per_kmh",
                                    "davis_c_n_per_kmh2",
                                    "system",
                                    "reference",
                                    "given_by",
                                    "number",
                                    "distance_m",
                                    "speed_kmh",
                                    "sections",
                                    "valid_from",
                                    "valid_until",
                                    "train_number",
                                    "date",
                                    "days",
                                    "issue",
                                    "made_by",
                                    "checked_by",
                                    "released_by",
                                    "holds_until",
                                    "what",
                                    "by",
                                    "reason",
                                    "vehicles",
                                    "can_be_opened"});
  } else {
    // A null in a list, which TOML has not: the reader says that this is not what it expects.
    node.value = std::string("null");
  }
  return node;
}

/// Texts of a table that are days become days.
void put_days(TomlNode& node, std::initializer_list<std::string_view> keys) {
  auto* const table = std::get_if<TomlEntries>(&node.value);
  if (table == nullptr) {
    return;
  }
  for (TomlEntry& entry : *table) {
    const auto* const text = std::get_if<std::string>(&entry.node.value);
    const bool is_day = std::ranges::find(keys, entry.key) != keys.end();
    const auto date = is_day && text != nullptr ? day_of_text(*text) : std::nullopt;
    if (date) {
      entry.node.value = *date;
    }
  }
}

void leave_out_default_ids(PlainJson& consist) {
  const auto vehicles = static_cast<int>(std::ranges::count_if(
      consist, [](const PlainJson& item) { return item.contains("vehicle"); }));
  for (PlainJson& item : consist) {
    const auto id = item.is_object() && item.contains("vehicle") ? item.find("id") : item.end();
    if (id != item.end() && id->is_string() &&
        is_default_id(id->get_ref<const std::string&>(), vehicles)) {
      item.erase(id);
    }
  }
}

using Origins = std::vector<std::optional<std::size_t>>;

/// Takes their places out of the tables of a list.
Origins taken_places(PlainJson& list) {
  Origins from;
  for (PlainJson& item : list) {
    const auto place = item.is_object() ? item.find("place") : item.end();
    const bool is_there = item.is_object() && place != item.end();
    from.push_back(is_there && place->is_number_unsigned()
                       ? std::optional(place->get<std::size_t>())
                       : std::nullopt);
    if (is_there) {
      item.erase(place);
    }
  }
  return from;
}

/// Whether the model would leave out what the file says of a key, as it goes without saying.
bool said_without_need(const TomlEntry& entry) {
  const auto* const text = std::get_if<std::string>(&entry.node.value);
  return goes_without_saying(entry.key, json_of_toml(entry.node)) ||
         (entry.key == "id" && text != nullptr && is_default_id(*text, INT_MAX));
}

/// A vehicle without an id in the file was called by its number there, which may be another by now.
void leave_out_number(TomlNode& item, const TomlNode& in_file) {
  auto* const entries = std::get_if<TomlEntries>(&item.value);
  if (entries != nullptr && find_value(in_file, {"id"}) == nullptr) {
    std::erase_if(*entries, [](const TomlEntry& entry) {
      const auto* const text = std::get_if<std::string>(&entry.node.value);
      return entry.key == "id" && text != nullptr && is_default_id(*text, INT_MAX);
    });
  }
}

/// Gives a tree made of a model what the file says alike in another way: what goes without saying,
/// 60.0 for 60, and days. `from`: of the lists of tables among its entries, which is which.
void say_as_in_file(TomlNode& node, const TomlNode& in_file,
                    const std::map<std::string, Origins>& from = {}) {
  if (auto* const entries = std::get_if<TomlEntries>(&node.value)) {
    const auto* const others = std::get_if<TomlEntries>(&in_file.value);
    for (const TomlEntry& other : others == nullptr ? TomlEntries{} : *others) {
      const auto same = std::ranges::find(*entries, other.key, &TomlEntry::key);
      if (same == entries->end()) {
        if (said_without_need(other)) {
          entries->push_back(other);
        }
        continue;
      }
      const auto origins = from.find(other.key);
      auto* const list = std::get_if<TomlArray>(&same->node.value);
      const auto* const old = std::get_if<TomlArray>(&other.node.value);
      if (origins == from.end() || list == nullptr || old == nullptr) {
        say_as_in_file(same->node, other.node);
        continue;
      }
      for (std::size_t i = 0; i < list->size(); ++i) {
        if (const auto& origin = origins->second[i]; origin && *origin < old->size()) {
          leave_out_number((*list)[i], (*old)[*origin]);
          say_as_in_file((*list)[i], (*old)[*origin]);
        }
      }
    }
  } else if (auto* const list = std::get_if<TomlArray>(&node.value)) {
    const auto* const old = std::get_if<TomlArray>(&in_file.value);
    for (std::size_t i = 0; old != nullptr && i < std::min(list->size(), old->size()); ++i) {
      say_as_in_file((*list)[i], (*old)[i]);
    }
  } else if (PlainJson(json_of_toml(node)) == PlainJson(json_of_toml(in_file))) {
    node.value = in_file.value;
  }
}

bool stand_in_order(const Origins& from) {
  for (std::size_t i = 0; i < from.size(); ++i) {
    if (from[i] != i) {
      return false;
    }
  }
  return true;
}

/// The text of a file, changed key by key until it says what a tree says.
std::optional<std::string> changed_text(SourceText source, const TomlNode& in_file,
                                        const TomlNode& to,
                                        const std::map<std::string, Origins>& from,
                                        const std::string& day, Diagnostics& diagnostics) {
  const SourceText before = source;
  const auto& entries = std::get<TomlEntries>(to.value);
  const auto make = [&](const TomlChange& change) {
    auto text = change_toml(source, change, diagnostics);
    if (text) {
      source.text = std::move(*text);
    }
    return text.has_value();
  };
  for (const TomlEntry& entry : std::get<TomlEntries>(in_file.value)) {
    if (std::ranges::find(entries, entry.key, &TomlEntry::key) == entries.end() &&
        !make({.at = {entry.key}})) {
      return std::nullopt;
    }
  }
  for (const TomlEntry& entry : entries) {
    const auto origins = from.find(entry.key);
    const TomlNode* const there = find_value(in_file, {entry.key});
    // Most of it, on most days: a text need not be read again and again to see that.
    if (there != nullptr && say_the_same(*there, entry.node) &&
        (origins == from.end() || stand_in_order(origins->second))) {
      continue;
    }
    if (!make({.at = {entry.key},
               .to = entry.node,
               .from = origins == from.end() ? Origins{} : origins->second})) {
      return std::nullopt;
    }
  }
  // Each change was held against what it was to say; this holds them all against the model.
  const auto now = parse_toml(source, diagnostics);
  if (!now || !say_the_same(*now, to)) {
    diagnostics.push_back(
        {{.file = source.file}, "the train cannot be changed in this text; change it as text"});
    return std::nullopt;
  }
  std::vector<ArrangedList> arranged;
  for (const auto& [list, origins] : from) {
    arranged.push_back({.list = {list}, .from = origins});
  }
  return mark_by_hand({.before = before,
                       .after = source,
                       .kind = FileKind::train,
                       .arranged = std::move(arranged),
                       .day = day},
                      diagnostics);
}

}  // namespace

nlohmann::ordered_json train_to_model(const SourceText& source) {
  Diagnostics none;
  const auto root = parse_toml(source, none);
  Json file = root && none.empty() ? json_of_toml(*root) : Json::object();
  file.erase("kind");
  for (const std::string_view name : lists_of_tables) {
    const auto list = file.find(std::string(name));
    for (std::size_t i = 0; list != file.end() && i < list->size(); ++i) {
      (*list)[i]["place"] = i;
    }
  }
  for (const auto& [in_file, in_model] : list_names) {
    if (Json list = taken(file, in_file, nullptr); !list.is_null()) {
      file[std::string(in_model)] = std::move(list);
    }
  }
  const auto empty = Json::array();
  Json model = completed(std::move(file), {{"id", ""},
                                           {"name", ""},
                                           {"operated_by", nullptr},
                                           {"invented", false},
                                           {"stock", empty},
                                           {"highest_speed_kmh", nullptr},
                                           {"acceleration_ms2", nullptr},
                                           {"braking_ms2", nullptr},
                                           {"consist", empty},
                                           {"high_voltage_lines", empty},
                                           {"consents", empty},
                                           {"consent_files", empty},
                                           {"release", nullptr},
                                           {"deviations", empty}});
  model["consist"] = completed_consist(std::move(model["consist"]));
  model["high_voltage_lines"] = completed_list(std::move(model["high_voltage_lines"]),
                                               {{"vehicles", empty}, {"can_be_opened", false}});
  model["consents"] = completed_list(std::move(model["consents"]), {{"reference", ""},
                                                                    {"given_by", ""},
                                                                    {"rule", nullptr},
                                                                    {"number", nullptr},
                                                                    {"distance_m", nullptr},
                                                                    {"speed_kmh", nullptr},
                                                                    {"sections", empty},
                                                                    {"valid_from", nullptr},
                                                                    {"valid_until", nullptr}});
  model["read_from"] = source.text;
  if (!model["release"].is_null()) {
    model["release"] = completed(std::move(model["release"]), {{"train_number", nullptr},
                                                               {"date", nullptr},
                                                               {"days", nullptr},
                                                               {"issue", nullptr},
                                                               {"made_by", nullptr},
                                                               {"checked_by", nullptr},
                                                               {"released_by", nullptr},
                                                               {"holds_until", nullptr}});
  }
  return model;
}

std::optional<std::string> model_to_train(const nlohmann::json& model, const std::string& file_name,
                                          const std::string& day, Diagnostics& diagnostics) {
  PlainJson file = model.is_object() ? model : PlainJson::object();
  const auto read_from = file.find("read_from");
  std::optional<SourceText> source;
  if (read_from != file.end() && read_from->is_string()) {
    source = {.file = file_name, .text = read_from->get<std::string>()};
    file.erase(read_from);
  }
  for (const auto& [in_file, in_model] : list_names | std::views::reverse) {
    const auto found = file.find(in_model);
    if (found != file.end()) {
      PlainJson list = std::move(*found);
      file.erase(found);
      file[std::string(in_file)] = std::move(list);
    }
  }
  file["kind"] = "train";
  std::map<std::string, Origins> from;
  for (const std::string_view name : lists_of_tables) {
    if (const auto list = file.find(name); list != file.end() && list->is_array()) {
      from[std::string(name)] = taken_places(*list);
    }
  }
  if (const auto consist = file.find("consist"); consist != file.end() && consist->is_array()) {
    leave_out_default_ids(*consist);
  }
  TomlEntries entries =
      to_entries(file, {"kind", "id", "name", "operated_by", "invented", "stock", "consents",
                        "highest_speed_kmh", "acceleration_ms2", "braking_ms2", "consist",
                        "high_voltage_line", "consent", "release", "deviation"});
  for (TomlEntry& entry : entries) {
    if (entry.key == "release") {
      put_days(entry.node, {"date", "holds_until"});
    }
    auto* const list = entry.key == "consent" || entry.key == "value_source"
                           ? std::get_if<TomlArray>(&entry.node.value)
                           : nullptr;
    if (list != nullptr) {
      for (TomlNode& one : *list) {
        put_days(one, {"valid_from", "valid_until", "date", "imported"});
      }
    }
  }
  TomlNode root{};
  root.value = std::move(entries);
  if (!source) {
    return to_toml(root);
  }
  const std::size_t before = diagnostics.size();
  const auto in_file = parse_toml(*source, diagnostics);
  if (!in_file || diagnostics.size() > before) {
    return std::nullopt;
  }
  say_as_in_file(root, *in_file, from);
  return changed_text(std::move(*source), *in_file, root, from, day, diagnostics);
}

}  // namespace panup
