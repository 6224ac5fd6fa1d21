#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "rules/rule_book.h"

namespace panup {

/// All rules, in order: whether on, strength, standing, statement; and what later books changed.
std::string rule_book_to_text(const RuleBook& book);
nlohmann::ordered_json rule_book_to_json(const RuleBook& book);

/// One rule with reason, source, and its parameters with their meaning.
std::string rule_to_text(const RuleBook& book, const Rule& rule);
nlohmann::ordered_json rule_to_json(const Rule& rule);

/// All kinds of rule there are: what each means, the parameters it takes with their ranges, and
/// which rules of the book are of it.
std::string rule_kinds_to_text(const RuleBook& book);
nlohmann::ordered_json rule_kinds_to_json(const RuleBook& book);

}  // namespace panup
