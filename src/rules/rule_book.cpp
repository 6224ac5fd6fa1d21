#include "rules/rule_book.h"

#include <algorithm>

namespace panup {

namespace {

constexpr std::array<std::string_view, 6> strength_names{
    "forbidden", "consent needed", "last resort", "prescribed", "speed limit", "note"};
constexpr std::array<std::string_view, 4> standing_names{"practice", "derived", "published",
                                                         "operator"};

template <typename Enum, std::size_t Size>
std::optional<Enum> value_named(const std::array<std::string_view, Size>& names,
                                std::string_view name) {
  const auto* const found = std::ranges::find(names, name);
  if (found == names.end()) {
    return std::nullopt;
  }
  return static_cast<Enum>(found - names.begin());
}

}  // namespace

std::string_view name_of(Strength strength) {
  return strength_names.at(static_cast<std::size_t>(strength));
}

std::optional<Strength> strength_named(std::string_view name) {
  return value_named<Strength>(strength_names, name);
}

std::string_view name_of(Standing standing) {
  return standing_names.at(static_cast<std::size_t>(standing));
}

std::optional<Standing> standing_named(std::string_view name) {
  return value_named<Standing>(standing_names, name);
}

std::string cited_source(const Rule& rule) {
  std::string cited = rule.first_source;
  std::vector<std::string_view> said;
  for (const ChangedPart& part : rule.changed) {
    if (std::ranges::find(said, part.source) != said.end()) {
      continue;
    }
    said.push_back(part.source);
    std::string keys;
    for (const ChangedPart& other : rule.changed) {
      if (other.source == part.source) {
        keys += (keys.empty() ? "" : ", ") + other.key;
      }
    }
    cited += "; " + keys + ": " + part.source;
  }
  return cited;
}

RuleBook said_in(RuleBook book, const Words& words) {
  book.words = words;
  for (Rule& rule : book.rules) {
    rule.statement = words.named(rule.statement);
    rule.reason = words.named(rule.reason);
    rule.first_source = words.named(rule.first_source);
    for (ChangedPart& part : rule.changed) {
      part.source = words.named(part.source);
    }
    rule.source = cited_source(rule);
  }
  return book;
}

const Rule* find_rule(const RuleBook& book, std::string_view id) {
  const auto found = std::ranges::find(book.rules, id, &Rule::id);
  return found == book.rules.end() ? nullptr : &*found;
}

const Rule* rule_in_force(const RuleBook& rules, RuleKind kind) {
  const auto found = std::ranges::find_if(
      rules.rules, [kind](const Rule& rule) { return rule.on && rule.kind == kind; });
  return found == rules.rules.end() ? nullptr : &*found;
}

std::optional<double> number_of(const Rule& rule, std::string_view key) {
  const auto found = rule.numbers.find(key);
  return found == rule.numbers.end() ? std::nullopt : std::optional(found->second);
}

const std::array<double, 3>& spacing_of(const SpacingRow& row, EnergySupply supply) {
  if (is_ac(supply)) {
    return row.ac_m;
  }
  return supply == EnergySupply::dc_3kv ? row.dc_3kv_m : row.dc_1500v_m;
}

}  // namespace panup
