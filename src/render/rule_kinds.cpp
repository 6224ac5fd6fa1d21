#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/rule_book.h"
#include "wording/wording.h"

namespace panup {

namespace {

std::string_view name_of(ParameterType type) {
  switch (type) {
    case ParameterType::number:
      return "number";
    case ParameterType::word:
      return "word";
    case ParameterType::words:
      return "list of words";
    case ParameterType::spacing_table:
      return "table";
  }
  return {};
}

std::vector<std::string> words_of(const ParameterSpec& spec) {
  std::vector<std::string> words;
  for (std::string_view rest = spec.words; !rest.empty();) {
    const std::size_t end = std::min(rest.find('|'), rest.size());
    words.emplace_back(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return words;
}

/// "required, 5 to 400", `optional, one of "leading", "following"`.
std::string values_of(const ParameterSpec& spec) {
  std::string text = spec.required ? "required" : "optional";
  switch (spec.type) {
    case ParameterType::number:
      return text + fmt::format(", {:g} to {:g}", spec.least, spec.greatest);
    case ParameterType::word:
      return text + fmt::format(", one of \"{}\"", fmt::join(words_of(spec), "\", \""));
    case ParameterType::words:
      return text + fmt::format(", a list of any of \"{}\"", fmt::join(words_of(spec), "\", \""));
    case ParameterType::spacing_table:
      return text + ", a table by rising speed";
  }
  return text;
}

std::vector<std::string> rules_of(const RuleBook& book, RuleKind kind) {
  std::vector<std::string> ids;
  for (const Rule& rule : book.rules) {
    if (rule.kind == kind) {
      ids.push_back(rule.id);
    }
  }
  return ids;
}

}  // namespace

std::string rule_kinds_to_text(const RuleBook& book) {
  std::string text =
      fmt::format("The kinds of rule, with the parameters that each takes. Books: {}\n",
                  fmt::join(book.names, "; "));
  for (const RuleKindSpec& kind : rule_kinds()) {
    text +=
        "\n" +
        hanging(fmt::format("{}  ", kind.name),
                fmt::format("{}{}{}", kind.meaning, kind.always_on ? " (cannot be turned off)" : "",
                            kind.may_be_limited ? " (may be limited with only_for)" : ""),
                text_columns);
    const std::vector<std::string> rules = rules_of(book, kind.kind);
    text += hanging(
        "  rules  ",
        rules.empty() ? std::string("none") : plain(fmt::format("{}", fmt::join(rules, ", "))),
        text_columns);
    for (const ParameterSpec& parameter : kind.parameters) {
      text += hanging(fmt::format("  {}  ", parameter.key),
                      fmt::format("{}; {}", values_of(parameter), parameter.meaning), text_columns);
    }
  }
  return text + "\n'panup rules ID' shows a rule with its reason, its source and its numbers.\n";
}

nlohmann::ordered_json rule_kinds_to_json(const RuleBook& book) {
  nlohmann::ordered_json kinds = nlohmann::ordered_json::array();
  for (const RuleKindSpec& kind : rule_kinds()) {
    nlohmann::ordered_json parameters = nlohmann::ordered_json::array();
    for (const ParameterSpec& parameter : kind.parameters) {
      nlohmann::ordered_json entry;
      entry["key"] = std::string(parameter.key);
      entry["type"] = std::string(name_of(parameter.type));
      entry["required"] = parameter.required;
      if (parameter.type == ParameterType::number) {
        entry["least"] = parameter.least;
        entry["greatest"] = parameter.greatest;
      }
      if (!parameter.words.empty()) {
        entry["words"] = words_of(parameter);
      }
      entry["meaning"] = std::string(parameter.meaning);
      parameters.push_back(std::move(entry));
    }
    nlohmann::ordered_json entry;
    entry["kind"] = std::string(kind.name);
    entry["meaning"] = std::string(kind.meaning);
    entry["always_on"] = kind.always_on;
    entry["may_be_limited"] = kind.may_be_limited;
    entry["parameters"] = std::move(parameters);
    entry["rules"] = rules_of(book, kind.kind);
    kinds.push_back(std::move(entry));
  }
  nlohmann::ordered_json document;
  document["books"] = book.names;
  document["kinds"] = std::move(kinds);
  return document;
}

}  // namespace panup
