#include "render/rule_book.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/json_parts.h"
#include "wording/wording.h"

namespace panup {

namespace {

const Override* last_override(const RuleBook& book, const std::string& id) {
  const Override* last = nullptr;
  for (const Override& override : book.overrides) {
    last = override.id == id ? &override : last;
  }
  return last;
}

std::string row_words(const SpacingRow& row) {
  return fmt::format("{}: AC {} m; 3 kV DC {} m; 1.5 kV DC {} m",
                     std::isfinite(row.up_to_kmh) ? fmt::format("up to {:g} km/h", row.up_to_kmh)
                                                  : std::string("above"),
                     fmt::join(row.ac_m, " / "), fmt::join(row.dc_3kv_m, " / "),
                     fmt::join(row.dc_1500v_m, " / "));
}

std::string value_words(const Rule& rule, const ParameterSpec& spec) {
  const std::string key(spec.key);
  if (const auto number = rule.numbers.find(key); number != rule.numbers.end()) {
    return fmt::format("{:g}", number->second);
  }
  if (const auto word = rule.words.find(key); word != rule.words.end()) {
    return word->second;
  }
  if (const auto list = rule.lists.find(key); list != rule.lists.end()) {
    return fmt::format("{}", fmt::join(list->second, ", "));
  }
  return spec.type == ParameterType::spacing_table ? "by design types A / B / C:" : "not stated";
}

nlohmann::ordered_json spacing_to_json(const std::vector<SpacingRow>& rows) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const SpacingRow& row : rows) {
    nlohmann::ordered_json entry;
    entry["up_to_kmh"] = std::isfinite(row.up_to_kmh) ? nlohmann::ordered_json(row.up_to_kmh)
                                                      : nlohmann::ordered_json(nullptr);
    entry["ac_m"] = row.ac_m;
    entry["dc_3kv_m"] = row.dc_3kv_m;
    entry["dc_1500v_m"] = row.dc_1500v_m;
    list.push_back(std::move(entry));
  }
  return list;
}

/// The keys that are stated.
nlohmann::ordered_json only_for_to_json(const OnlyFor& only_for) {
  nlohmann::ordered_json entry = nlohmann::ordered_json::object();
  for (const auto& [key, values] :
       {std::pair{"sections", &only_for.sections}, std::pair{"lines", &only_for.lines},
        std::pair{"classes", &only_for.classes}, std::pair{"loads", &only_for.loads}}) {
    if (!values->empty()) {
      entry[key] = *values;
    }
  }
  return entry;
}

}  // namespace

std::string rule_book_to_text(const RuleBook& book) {
  std::vector<std::vector<std::string>> rows;
  for (const Rule& rule : book.rules) {
    std::string remark = rule.on ? "" : " (off)";
    if (const Override* const override = last_override(book, rule.id)) {
      remark += fmt::format(" [changed by {}: {}]", plain(override->later_book),
                            fmt::join(override->what, ", "));
    }
    if (!rule.only_for.empty()) {
      remark += fmt::format(" [{}]", plain(only_for_words(rule.only_for)));
    }
    if (rule.invented) {
      remark += " [numbers invented for the demo]";
    }
    rows.push_back({plain(rule.id), std::string(name_of(rule.strength)),
                    std::string(name_of(rule.standing)), plain(rule.statement) + remark});
  }
  std::string text =
      fmt::format("Rule books, the later over the earlier: {}\n\n", fmt::join(book.names, "; "));
  text += text_table({{.heading = "rule"},
                      {.heading = "strength"},
                      {.heading = "standing"},
                      {.heading = "statement"}},
                     rows, 0, text_columns);
  if (!book.released.empty()) {
    text += "\nReleased for some days\n\n";
    std::vector<std::vector<std::string>> released;
    for (const ReleasedEntry& entry : book.released) {
      released.push_back({plain(entry.id), plain(entry.book), plain(entry.reference),
                          validity_words(entry.valid), entry.counts ? "yes" : "no"});
    }
    text += text_table({{.heading = "rule"},
                        {.heading = "book"},
                        {.heading = "released by"},
                        {.heading = "validity"},
                        {.heading = "in force here"}},
                       released, 0, text_columns);
  }
  return text + "\n'panup rules ID' shows one with its reason, source and numbers.\n";
}

nlohmann::ordered_json rule_to_json(const Rule& rule) {
  nlohmann::ordered_json entry;
  entry["id"] = rule.id;
  entry["kind"] = std::string(spec_of(rule.kind).name);
  entry["statement"] = rule.statement;
  entry["reason"] = rule.reason;
  entry["source"] = rule.source;
  entry["standing"] = std::string(name_of(rule.standing));
  entry["strength"] = std::string(name_of(rule.strength));
  entry["on"] = rule.on;
  entry["invented"] = rule.invented;
  entry["book"] = rule.book;
  nlohmann::ordered_json parameters = nlohmann::ordered_json::object();
  for (const auto& [key, value] : rule.numbers) {
    parameters[key] = value;
  }
  for (const auto& [key, value] : rule.words) {
    parameters[key] = value;
  }
  for (const auto& [key, value] : rule.lists) {
    parameters[key] = value;
  }
  if (!rule.spacing.empty()) {
    parameters["spacing"] = spacing_to_json(rule.spacing);
  }
  entry["parameters"] = std::move(parameters);
  entry["only_for"] = only_for_to_json(rule.only_for);
  return entry;
}

nlohmann::ordered_json rule_book_to_json(const RuleBook& book) {
  nlohmann::ordered_json document;
  document["books"] = book.names;
  nlohmann::ordered_json rules = nlohmann::ordered_json::array();
  for (const Rule& rule : book.rules) {
    rules.push_back(rule_to_json(rule));
  }
  document["rules"] = std::move(rules);
  nlohmann::ordered_json overrides = nlohmann::ordered_json::array();
  for (const Override& override : book.overrides) {
    overrides.push_back({{"id", override.id},
                         {"earlier_book", override.earlier_book},
                         {"later_book", override.later_book},
                         {"what", override.what}});
  }
  document["overrides"] = std::move(overrides);
  document["released"] = nlohmann::ordered_json::array();
  for (const ReleasedEntry& entry : book.released) {
    document["released"].push_back({{"id", entry.id},
                                    {"book", entry.book},
                                    {"reference", stated_or_null(entry.reference)},
                                    {"valid_from", stated_or_null(entry.valid.from)},
                                    {"valid_until", stated_or_null(entry.valid.until)},
                                    {"in_force", entry.counts}});
  }
  return document;
}

std::string rule_to_text(const RuleBook& book, const Rule& rule) {
  const RuleKindSpec& spec = spec_of(rule.kind);
  constexpr std::size_t lead = 12;
  std::string text;
  const auto line = [&text, lead](std::string_view name, const std::string& value) {
    text += hanging(fmt::format("{:<{}}", name, lead), value, text_columns);
  };
  line("rule", plain(rule.id) + (rule.on ? "" : " (off)"));
  line("statement", plain(rule.statement));
  line("reason", plain(rule.reason));
  line("source", plain(rule.source));
  line("standing", std::string(name_of(rule.standing)));
  line("strength", std::string(name_of(rule.strength)));
  line("kind", fmt::format("{}: {}{}", spec.name, spec.meaning,
                           spec.always_on ? " (cannot be turned off)" : ""));
  if (!rule.only_for.empty()) {
    line("holds", plain(only_for_words(rule.only_for)));
  }
  line("book", plain(rule.book));
  for (const Override& override : book.overrides) {
    if (override.id == rule.id) {
      line("changed", override_words(override));
    }
  }
  for (const ParameterSpec& parameter : spec.parameters) {
    line("parameter", fmt::format("{} = {}: {}", parameter.key, value_words(rule, parameter),
                                  parameter.meaning));
    if (parameter.type == ParameterType::spacing_table) {
      for (const SpacingRow& row : rule.spacing) {
        line("", row_words(row));
      }
    }
  }
  if (rule.invented) {
    line("note", "its numbers are invented for the demo");
  }
  return text;
}

}  // namespace panup
