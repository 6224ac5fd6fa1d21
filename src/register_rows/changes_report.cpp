#include "register_rows/changes_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "base/listed.h"
#include "base/write_toml.h"
#include "register_rows/table_mark.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

std::string counted(std::size_t number, std::string_view thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

std::string table_words(const TableChange& change) {
  std::string words =
      change.table == "separation" ? std::string("separation section") : change.table;
  // A separation section is called so by its name already.
  if (change.table == "separation" && change.id.find(words) != std::string::npos) {
    words = change.id;
  } else if (!change.id.empty()) {
    words += " " + change.id;
  }
  if (change.where.empty() || change.table == "place") {
    return words;
  }
  const LineStretch& where = change.where.front();
  return words + (where.from_km == where.to_km
                      ? fmt::format(", line {} km {:.9g}", where.line, where.from_km)
                      : fmt::format(", line {} km {:.9g} to {:.9g}", where.line, where.from_km,
                                    where.to_km));
}

std::string value_words(const std::optional<TomlNode>& value) {
  return value ? value_to_toml(one_form_of(*value)) : std::string("not stated");
}

/// What of a list is not in the other.
TomlArray without(const TomlArray& list, const TomlArray& other) {
  TomlArray rest;
  std::ranges::copy_if(list, std::back_inserter(rest), [&other](const TomlNode& one) {
    return std::ranges::none_of(other,
                                [&one](const TomlNode& known) { return same_value(one, known); });
  });
  return rest;
}

/// Of two lists only in what they differ.
std::string key_words(const KeyChange& change) {
  const auto* const before =
      change.before ? std::get_if<TomlArray>(&change.before->value) : nullptr;
  const auto* const then = change.then ? std::get_if<TomlArray>(&change.then->value) : nullptr;
  if (before != nullptr && then != nullptr) {
    const TomlArray out = without(*before, *then);
    const TomlArray in = without(*then, *before);
    if (!out.empty() || !in.empty()) {
      return fmt::format("'{}' {}{}{}", change.key,
                         out.empty() ? "" : "loses " + value_words(TomlNode{.value = out}),
                         out.empty() || in.empty() ? "" : " and ",
                         in.empty() ? "" : "gains " + value_words(TomlNode{.value = in}));
    }
  }
  return fmt::format("'{}' was {}, now {}", change.key, value_words(change.before),
                     value_words(change.then));
}

std::string lost_words(const KeyChange& change) {
  if (!change.before) {
    return fmt::format("'{}' was taken out, the register states {}", change.key,
                       value_words(change.then));
  }
  return fmt::format("'{}' is {}, {}", change.key, value_words(change.before),
                     change.then ? "the register states " + value_words(change.then)
                                 : "the register states nothing");
}

using KeyTest = std::function<bool(const KeyChange&)>;
using KeyWords = std::function<std::string(const KeyChange&)>;

/// A line for each table that has such keys.
void add_keys(const std::vector<TableChange>& tables, const KeyTest& test, const KeyWords& words,
              std::vector<std::string>& lines) {
  for (const TableChange& change : tables) {
    std::vector<std::string> keys;
    for (const KeyChange& key : change.keys) {
      if (test(key)) {
        keys.push_back(words(key));
      }
    }
    if (!keys.empty()) {
      lines.push_back(to_line(
          {change.place, fmt::format("{}: {}", table_words(change), fmt::join(keys, "; "))}));
    }
  }
}

void add_tables(const std::vector<TableChange>& tables, TableFate fate, StatedBy by,
                std::vector<std::string>& lines) {
  for (const TableChange& change : tables) {
    if (change.fate == fate && change.by == by) {
      const std::string why =
          change.why_lost.empty()
              ? std::string()
              : ", for with it the new network would be wrong: " + change.why_lost;
      lines.push_back(fate == TableFate::is_new
                          ? table_words(change)
                          : to_line({change.place, table_words(change) + why}));
    }
  }
}

void add_block(std::string& text, std::string_view heading, const std::vector<std::string>& lines) {
  if (lines.empty()) {
    return;
  }
  text += fmt::format("{}:\n", heading);
  for (const std::string& line : lines) {
    text += "- " + line + "\n";
  }
}

void add_lost(std::string& text, const std::vector<TableChange>& tables, StatedBy by,
              std::string_view heading) {
  std::vector<std::string> lines;
  add_tables(tables, TableFate::gone, by, lines);
  add_keys(
      tables, [by](const KeyChange& key) { return key.by == by; }, lost_words, lines);
  add_block(text, heading, lines);
}

std::string touched_words(const TouchedRun& run, const std::vector<TableChange>& tables) {
  std::vector<std::string> words;
  for (const std::size_t change : run.changes) {
    words.push_back(
        fmt::format("{} {}", table_words(tables[change]), name_of(tables[change].fate)));
  }
  std::string text =
      fmt::format("{} ({}): ", run.run.train.empty() ? "a train" : run.run.train, run.run.path);
  if (!run.doubt.empty()) {
    text += fmt::format("taken as touched, for its way is not known: {}{}", run.doubt,
                        words.empty() ? "" : "; on it ");
  }
  return text + fmt::format("{}", fmt::join(words, "; "));
}

void add_runs(std::string& text, const RunsTouched& runs, const std::vector<TableChange>& tables) {
  text += fmt::format("Trains whose way comes by what differs: {} of {}\n", runs.touched.size(),
                      runs.asked);
  for (const TouchedRun& run : runs.touched) {
    text += "- " + touched_words(run, tables) + "\n";
  }
  if (runs.elsewhere > 0) {
    text += fmt::format("Not asked, for they run through another network: {}\n",
                        counted(runs.elsewhere, "train"));
  }
  if (runs.by_route > 0) {
    text += fmt::format("Not asked, for they run by a route file: {}\n",
                        counted(runs.by_route, "train"));
  }
}

struct ToJson {
  Json operator()(bool value) const { return value; }
  Json operator()(std::int64_t value) const { return value; }
  Json operator()(double value) const { return value; }
  Json operator()(const std::string& value) const { return value; }
  Json operator()(const TomlDate& value) const { return value_to_toml({.value = value}); }
  Json operator()(const TomlArray& list) const {
    Json json = Json::array();
    for (const TomlNode& node : list) {
      json.push_back(std::visit(*this, node.value));
    }
    return json;
  }
  Json operator()(const TomlEntries& table) const {
    Json json = Json::object();
    for (const TomlEntry& entry : table) {
      json[entry.key] = std::visit(*this, entry.node.value);
    }
    return json;
  }
};

Json value_json(const std::optional<TomlNode>& value) {
  return value ? std::visit(ToJson{}, one_form_of(*value).value) : Json(nullptr);
}

Json change_json(const TableChange& change) {
  Json where = Json::array();
  for (const LineStretch& stretch : change.where) {
    where.push_back(
        {{"line", stretch.line}, {"from_km", stretch.from_km}, {"to_km", stretch.to_km}});
  }
  Json keys = Json::array();
  for (const KeyChange& key : change.keys) {
    keys.push_back({{"key", key.key},
                    {"before", value_json(key.before)},
                    {"then", value_json(key.then)},
                    {"stated_by", name_of(key.by)},
                    {"lost", is_lost(key)}});
  }
  return {{"table", change.table},
          {"id", change.id},
          {"fate", name_of(change.fate)},
          {"at_line", change.place.line > 0 ? Json(change.place.line) : Json(nullptr)},
          {"stated_by", name_of(change.by)},
          {"lost", is_lost(change)},
          {"why_lost", change.why_lost.empty() ? Json(nullptr) : Json(change.why_lost)},
          {"where", std::move(where)},
          {"keys", std::move(keys)}};
}

Json runs_json(const RunsTouched& runs) {
  Json touched = Json::array();
  for (const TouchedRun& run : runs.touched) {
    touched.push_back({{"train", run.run.train},
                       {"run", run.run.path},
                       {"doubt", run.doubt.empty() ? Json(nullptr) : Json(run.doubt)},
                       {"changes", run.changes}});
  }
  return {{"asked", runs.asked},
          {"touched", std::move(touched)},
          {"through_another_network", runs.elsewhere},
          {"by_a_route_file", runs.by_route}};
}

bool stays(const KeptTable& table) {
  return table.why_lost.empty() && table.what.table != "value_source";
}

void add_kept(const ChangesReport& report, std::string& text) {
  std::vector<std::string> lines;
  for (const KeptTable& table : report.by_hand) {
    if (stays(table)) {
      lines.push_back(to_line({table.what.place, table_words(table.what)}));
    }
  }
  add_block(text,
            "Added by hand, and kept as it stands; look at it where lines or kilometres changed",
            lines);
  lines.clear();
  for (const KeptValue& value : report.kept) {
    if (value.taken_over) {
      lines.push_back(to_line({value.place, fmt::format("{} {}: {}", value.table, value.called,
                                                        kept_words(value, "the register"))}));
    }
  }
  add_block(text, "Kept, for it does not come from the register", lines);
}

Json kept_json(const std::vector<KeptValue>& kept) {
  Json list = Json::array();
  for (const KeptValue& value : kept) {
    if (value.taken_over) {
      list.push_back({{"table", value.table},
                      {"id", value.called},
                      {"key", value.key},
                      {"at_line", value.place.line},
                      {"value", value_json(value.value)},
                      {"where_from", words_of(value.source)},
                      {"register", value_json(value.imported)}});
    }
  }
  return list;
}

Json tables_json(const std::vector<KeptTable>& tables) {
  Json list = Json::array();
  for (const KeptTable& table : tables) {
    if (stays(table)) {
      list.push_back(
          {{"table", table.what.table}, {"id", table.what.id}, {"at_line", table.what.place.line}});
    }
  }
  return list;
}

}  // namespace

std::string changes_to_text(const ChangesReport& report) {
  const std::vector<TableChange>& tables = report.changes.tables;
  if (tables.empty()) {
    std::string same = fmt::format("It says the same as {}, which {} there already.\n",
                                   report.changes.file, report.written ? "was" : "is");
    add_kept(report, same);
    return same;
  }
  std::string text = fmt::format("What differs from {}, which {} there already:\n",
                                 report.changes.file, report.written ? "was" : "is");
  std::vector<std::string> lines;
  add_tables(tables, TableFate::is_new, StatedBy::the_register, lines);
  add_block(text, "New in the register", lines);
  lines.clear();
  add_tables(tables, TableFate::gone, StatedBy::the_register, lines);
  add_block(text, "Gone from the register", lines);
  lines.clear();
  add_keys(
      tables, [](const KeyChange& key) { return !is_lost(key); }, key_words, lines);
  add_block(text, "Changed in the register", lines);
  const std::string_view lost = report.written ? "and lost now" : "and lost if it is replaced";
  add_lost(text, tables, StatedBy::somebody, fmt::format("Stated by hand, {}", lost));
  add_lost(text, tables, StatedBy::not_known,
           fmt::format("Changed in the register or by hand, nothing says which; what is by hand "
                       "is lost {}",
                       report.written ? "now" : "if it is replaced"));
  add_kept(report, text);
  if (!report.changes.says_how_made) {
    text +=
        fmt::format("{} does not say what of it was made of the register.\n", report.changes.file);
  }
  if (report.runs) {
    add_runs(text, *report.runs, tables);
  }
  return text;
}

Json changes_to_json(const ChangesReport& report) {
  Json changes = Json::array();
  for (const TableChange& change : report.changes.tables) {
    changes.push_back(change_json(change));
  }
  return {{"file", report.changes.file},
          {"written", report.written},
          {"says_how_made", report.changes.says_how_made},
          {"changes", std::move(changes)},
          {"kept", kept_json(report.kept)},
          {"kept_tables", tables_json(report.by_hand)},
          {"runs", report.runs ? runs_json(*report.runs) : Json(nullptr)}};
}

}  // namespace panup
