#include "base/provenance.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace panup {

namespace {

constexpr std::array<std::string_view, source_kinds> kind_names{"register", "document", "table",
                                                                "message", "by hand"};

}  // namespace

std::string_view name_of(SourceKind kind) { return kind_names.at(static_cast<std::size_t>(kind)); }

std::optional<SourceKind> source_kind_named(std::string_view name) {
  const auto* const found = std::ranges::find(kind_names, name);
  return found == kind_names.end()
             ? std::nullopt
             : std::optional(static_cast<SourceKind>(found - kind_names.begin()));
}

std::string words_of(const ValueSource& source, const Words& words) {
  std::string said = words.named(name_of(source.kind));
  said += source.name.empty() ? "" : ": " + source.name;
  said += source.date.empty() ? "" : ", " + source.date;
  said += source.query.empty() ? "" : words.say(", query of {}", source.query);
  return said;
}

std::shared_ptr<const ValueSource> source_of(const Provenance& provenance, std::string_view key) {
  for (const auto& [name, source] : provenance.own) {
    if (name == key) {
      return source;
    }
  }
  return provenance.rest;
}

std::string source_words(const Provenance& provenance, std::string_view key, const Words& words) {
  const auto source = source_of(provenance, key);
  return source == nullptr ? std::string() : words_of(*source, words);
}

}  // namespace panup
