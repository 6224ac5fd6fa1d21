#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "rules/rule_book.h"

namespace panup {

/// The built-in book of practice, as text. It is the repository's `data/rules/practice.toml`.
std::string_view built_in_rule_text();

/// The name by which the built-in book is reported.
inline constexpr std::string_view built_in_rule_file = "built-in practice book";

/// Adds a book to those read before: an entry with a known id changes that entry key by key, and
/// the change is recorded; others are new. Nothing, and at least one diagnostic, if anything is
/// wrong.
///
/// An entry with a validity counts if `day`, as YYYY-MM-DD, lies within; nobody knows whether it
/// makes stricter or laxer, so that with an empty `day`, where it is not known, it is a mistake. No
/// day at all is for lists and checks: such entries are looked at, and none of them counts.
std::optional<RuleBook> add_rule_book(const RuleBook& earlier, const SourceText& source,
                                      const std::optional<std::string>& day,
                                      Diagnostics& diagnostics);

/// The built-in book by itself. It has no mistakes.
RuleBook built_in_rule_book();

}  // namespace panup
