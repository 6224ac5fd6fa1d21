#include "base/provenance.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace panup {

namespace {

constexpr std::array<std::string_view, source_kinds> kind_names{"register", "document", "table",
                                                                "message", "by hand"};

/// ", imported on 2031-04-02, date of the answer not stated".
std::string import_words(const ValueSource& source, const Words& words) {
  switch (source.kind) {
    case SourceKind::register_answer:
      return words.say(", imported on {}, date of the answer not stated", source.imported);
    case SourceKind::table:
      return words.say(", imported on {}, date of the table not stated", source.imported);
    case SourceKind::message:
      return words.say(", imported on {}, date of the message not stated", source.imported);
    case SourceKind::document:
    case SourceKind::by_hand:
      break;
  }
  return words.say(", imported on {}, its own date not stated", source.imported);
}

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
  if (!source.date.empty()) {
    said += ", " + source.date;
  } else if (!source.imported.empty()) {
    said += import_words(source, words);
  }
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
