#include <algorithm>

#include "files/read_rule_book.h"
#include "harness.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const panup::RuleBook practice = panup::built_in_rule_book();
  const auto source = panup::fuzzed_source(data, size);
  for (const panup::RuleBook& earlier : {panup::RuleBook{}, practice}) {
    panup::Diagnostics diagnostics;
    const auto book = panup::add_rule_book(earlier, source, std::nullopt, diagnostics);
    panup::require_sound(book.has_value(), diagnostics);
    const bool off = book && std::ranges::any_of(book->rules, [](const panup::Rule& rule) {
                       return !rule.on && panup::spec_of(rule.kind).always_on;
                     });
    if (off) {
      panup::fail("a rule that is always on has been turned off");
    }
  }
  return 0;
}
