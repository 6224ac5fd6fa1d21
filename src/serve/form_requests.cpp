#include "serve/form_requests.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "base/change_toml.h"
#include "base/utc_time.h"
#include "base/validity.h"
#include "files/form_fields.h"
#include "files/mark_by_hand.h"
#include "files/read_conditions.h"
#include "files/read_network.h"
#include "files/read_route.h"
#include "files/read_run.h"
#include "requests/check_text.h"
#include "serve/library_requests.h"
#include "serve/toml_json.h"

namespace panup {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t most_changes = 100;
constexpr std::size_t longest_way = 16;

Json field_to_json(const FormField& field) {
  Json fields = Json::array();
  for (const FormField& one : field.fields) {
    fields.push_back(field_to_json(one));
  }
  return {{"key", field.key},
          {"type", name_of(field.type)},
          {"required", field.required},
          {"unit", field.unit},
          {"range", field.range ? Json{{"least", field.range->least},
                                       {"greatest", field.range->greatest},
                                       {"above_least", field.range->above_least}}
                                : Json(nullptr)},
          {"words", field.words},
          {"names_of", field.names_of},
          {"kinds", field.kinds},
          {"only_of", field.only_of},
          {"only_in_networks", field.only_in_networks},
          {"fields", std::move(fields)}};
}

/// The keys on a way; places of lists have none.
std::vector<std::string> keys_on(const TomlPath& at) {
  std::vector<std::string> keys;
  for (const TomlStep& step : at) {
    if (const auto* const key = std::get_if<std::string>(&step)) {
      keys.push_back(*key);
    }
  }
  return keys;
}

/// The keys of the table that a way leads to, or a list of such; null where it leads to no table.
const std::vector<FormField>* fields_of_table(const std::vector<FormField>& fields,
                                              const TomlPath& at) {
  const std::vector<std::string> keys = keys_on(at);
  if (keys.empty()) {
    return &fields;
  }
  const FormField* const field = field_at(fields, keys);
  return field == nullptr || field->fields.empty() ? nullptr : &field->fields;
}

// What is asked for.

std::optional<TomlPath> read_way(RequestObject& change) {
  const nlohmann::json* const steps = change.value("at");
  if (steps == nullptr || !steps->is_array() || steps->empty() || steps->size() > longest_way) {
    change.report("at",
                  fmt::format("expected a list of keys and places, 1 to {} of them", longest_way));
    return std::nullopt;
  }
  TomlPath at;
  for (const nlohmann::json& step : *steps) {
    if (step.is_string()) {
      at.emplace_back(step.get<std::string>());
    } else if (step.is_number_unsigned()) {
      at.emplace_back(step.get<std::size_t>());
    } else {
      change.report("at", "a step is a key, or a place in a list, from 0");
      return std::nullopt;
    }
  }
  return at;
}

struct AskedChange {
  TomlPath at;
  const nlohmann::json* to = nullptr;  ///< null: it is taken out
};

/// Its changes point into the request that it was read from.
struct AskedForm {
  std::optional<SourceText> file;
  std::optional<SourceText> route;
  std::optional<SourceText> run;
  std::vector<AskedChange> changes;
  std::string day;  ///< of the changes
};

void read_form(RequestObject& request, AskedForm& asked) {
  asked.file = read_text(request, "file");
  asked.route = read_text(request, "route", Need::optional);
  asked.run = read_text(request, "run", Need::optional);
  asked.day = request.text("day", Need::optional).value_or(utc_today());
  if (!is_day(asked.day)) {
    request.report("day", "expected a day as YYYY-MM-DD");
  }
  for (RequestObject& change : request.objects("changes", most_changes)) {
    auto at = read_way(change);
    const nlohmann::json* const to = change.value("to");
    change.finish();
    if (at) {
      asked.changes.push_back({std::move(*at), to});
    }
  }
}

// The text that comes of it.

bool is_in_one_line(const std::vector<FormField>& fields, const TomlPath& at) {
  std::vector<std::string> keys = keys_on(at);
  for (; !keys.empty(); keys.pop_back()) {
    if (const FormField* const field = field_at(fields, keys);
        field != nullptr && field->in_one_line) {
      return true;
    }
  }
  return false;
}

bool make_change(const AskedChange& asked, const std::vector<FormField>& fields, SourceText& file,
                 Diagnostics& diagnostics) {
  TomlChange change{.at = asked.at,
                    .layout = is_in_one_line(fields, asked.at) ? TomlLayout::in_one_line
                                                               : TomlLayout::under_headers};
  if (asked.to != nullptr) {
    change.to = toml_of_json(*asked.to, field_at(fields, keys_on(asked.at)));
  }
  auto text = change_toml(file, change, diagnostics);
  if (text) {
    file.text = std::move(*text);
  }
  return text.has_value();
}

/// Which entry of its list each one was before one of them was taken out.
std::vector<ArrangedList> arranged_by(const AskedChange& change, const SourceText& before) {
  const auto* const place = std::get_if<std::size_t>(&change.at.back());
  Diagnostics unsaid;
  const auto root =
      place == nullptr || change.to != nullptr ? std::nullopt : parse_toml(before, unsaid);
  if (!root) {
    return {};
  }
  ArrangedList arranged{.list = TomlPath(change.at.begin(), change.at.end() - 1), .from = {}};
  const TomlNode* const node = find_value(*root, arranged.list);
  const auto* const list = node == nullptr ? nullptr : std::get_if<TomlArray>(&node->value);
  for (std::size_t i = 0; list != nullptr && i < list->size(); ++i) {
    if (i != *place) {
      arranged.from.emplace_back(i);
    }
  }
  return {std::move(arranged)};
}

/// Makes the change, and says of what a person gave here that it is by hand.
bool make_marked_change(const AskedForm& asked, const AskedChange& change, FileKind kind,
                        const std::vector<FormField>& fields, SourceText& file,
                        Diagnostics& diagnostics) {
  ChangedByHand changed{.before = file,
                        .after = {},
                        .kind = kind,
                        .arranged = arranged_by(change, file),
                        .day = asked.day};
  if (!make_change(change, fields, file, diagnostics)) {
    return false;
  }
  changed.after = file;
  auto text = mark_by_hand(changed, diagnostics);
  if (text) {
    file.text = std::move(*text);
  }
  return text.has_value();
}

// What is wrong with it, and where.

/// The way to the value, table or key that stands at a place; the deepest of several.
std::optional<TomlPath> way_to(const TomlNode& node, const SourcePlace& place, TomlPath& at) {
  std::optional<TomlPath> found;
  if (std::max(node.line, 1) == place.line && std::max(node.column, 1) == place.column) {
    found = at;
  }
  const auto look = [&](const TomlNode& below, TomlStep step) {
    at.push_back(std::move(step));
    if (auto deeper = way_to(below, place, at)) {
      found = std::move(deeper);
    }
    at.pop_back();
  };
  if (const auto* const entries = std::get_if<TomlEntries>(&node.value)) {
    for (const TomlEntry& entry : *entries) {
      look(entry.node, entry.key);
    }
    for (const TomlEntry& entry : *entries) {
      if (!found && entry.line == place.line && entry.column == place.column) {
        found = at;
        found->emplace_back(entry.key);
      }
    }
  } else if (const auto* const list = std::get_if<TomlArray>(&node.value)) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      look((*list)[i], i);
    }
  }
  return found;
}

/// The first of the fields that a message names in single quotes; null where it names none.
const FormField* field_named_in(std::string_view text, const std::vector<FormField>& fields) {
  for (std::size_t begin = text.find('\''); begin != std::string_view::npos;) {
    const std::size_t end = text.find('\'', begin + 1);
    if (end == std::string_view::npos) {
      return nullptr;
    }
    const auto found =
        std::ranges::find(fields, text.substr(begin + 1, end - begin - 1), &FormField::key);
    if (found != fields.end()) {
      return &*found;
    }
    begin = text.find('\'', end + 1);
  }
  return nullptr;
}

/// The way to the key of a form that a mistake is about; as far as there is one.
TomlPath key_of(const Diagnostic& mistake, const TomlNode& root,
                const std::vector<FormField>& fields) {
  TomlPath at;
  TomlPath way = way_to(root, mistake.place, at).value_or(TomlPath{});
  bool named_by_form = true;
  while (!way.empty() && field_at(fields, keys_on(way)) == nullptr) {
    way.pop_back();
    named_by_form = false;
  }
  if (!named_by_form) {
    return way;  // a key that no form has: what the message names is what would be right
  }
  const TomlNode* const there = find_value(root, way);
  const auto* const table = fields_of_table(fields, way);
  const bool is_table = there != nullptr && std::holds_alternative<TomlEntries>(there->value);
  if (const FormField* const named =
          is_table && table != nullptr ? field_named_in(mistake.text, *table) : nullptr) {
    way.emplace_back(std::string(named->key));
  }
  return way;
}

Json way_to_json(const TomlPath& at) {
  Json steps = Json::array();
  for (const TomlStep& step : at) {
    std::visit([&steps](const auto& one) { steps.push_back(one); }, step);
  }
  return steps;
}

/// What the readers say, as of a file by itself; conditions are held against the route or network
/// that they are for.
Diagnostics mistakes_of(const AskedForm& asked, FileKind kind, const PlanningPlace& place) {
  const FileSource files = with_texts(files_of(place), {*asked.file});
  Diagnostics unsaid;
  Diagnostics mistakes;
  if (kind == FileKind::conditions && asked.route) {
    if (const auto route = read_route(*asked.route, unsaid)) {
      read_conditions(*asked.file, &*route, mistakes);
      return mistakes;
    }
  }
  if (kind == FileKind::conditions && asked.run) {
    const auto run = read_run(*asked.run, unsaid);
    const auto text = run ? files.load(run->network.path, unsaid) : std::nullopt;
    if (const auto network = text ? read_network(*text, unsaid) : std::nullopt) {
      read_network_conditions(*asked.file, &*network, mistakes);
      return mistakes;
    }
  }
  return mistakes_in(*asked.file, files, rule_books_of(place));
}

}  // namespace

Reply reply_to_forms() {
  Json kinds = Json::array();
  for (const FileKind kind : all_file_kinds) {
    const std::vector<FormField> fields = form_fields_of(kind);
    if (fields.empty()) {
      continue;
    }
    Json list = Json::array();
    for (const FormField& field : fields) {
      list.push_back(field_to_json(field));
    }
    kinds.push_back({{"kind", name_of(kind)}, {"fields", std::move(list)}});
  }
  return json_reply({{"kinds", std::move(kinds)}});
}

Reply reply_to_form(const std::string& body, const PlanningPlace& place) {
  Diagnostics diagnostics;
  auto json = parse_request(body, diagnostics);
  AskedForm asked;
  if (json) {
    RequestObject request(*json, "", diagnostics);
    read_form(request, asked);
    request.finish();
  }
  if (!diagnostics.empty()) {
    return malformed_reply(std::move(diagnostics));
  }
  const auto root_before = parse_toml(*asked.file, diagnostics);
  const auto kind = root_before && diagnostics.empty()
                        ? kind_of_file(*root_before, asked.file->file, diagnostics)
                        : std::nullopt;
  if (!kind) {
    return mistakes_reply(std::move(diagnostics));
  }
  const std::vector<FormField> fields = form_fields_of(*kind);
  if (fields.empty()) {
    return mistakes_reply({{{.file = asked.file->file},
                            fmt::format("there is no form for a file of kind \"{}\"; write it as "
                                        "text",
                                        name_of(*kind))}});
  }
  for (const AskedChange& change : asked.changes) {
    if (!make_marked_change(asked, change, *kind, fields, *asked.file, diagnostics)) {
      return mistakes_reply(std::move(diagnostics));
    }
  }
  const auto root = parse_toml(*asked.file, diagnostics);
  if (!root) {
    return mistakes_reply(std::move(diagnostics));
  }
  Diagnostics mistakes = mistakes_of(asked, *kind, place);
  sort_by_place(mistakes);
  Json list = Json::array();
  for (const Diagnostic& one : mistakes) {
    const bool is_here = one.place.file == asked.file->file;
    list.push_back({{"file", one.place.file},
                    {"line", one.place.line},
                    {"column", one.place.column},
                    {"text", one.text},
                    {"at", way_to_json(is_here ? key_of(one, *root, fields) : TomlPath{})}});
  }
  return json_reply({{"kind", name_of(*kind)},
                     {"text", asked.file->text},
                     {"values", json_of_toml(*root)},
                     {"mistakes", std::move(list)}});
}

}  // namespace panup
