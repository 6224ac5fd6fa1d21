#include "files/read_provenance.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

namespace {

constexpr std::size_t sha256_digits = 64;

std::vector<std::string> kind_words() {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < source_kinds; ++i) {
    words.emplace_back(name_of(static_cast<SourceKind>(i)));
  }
  return words;
}

bool is_digest(std::string_view text) {
  return text.size() == sha256_digits && std::ranges::all_of(text, [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

std::string day_of(TomlTable& table, std::string_view key) {
  const auto day = table.date(key);
  return day ? fmt::format("{:04}-{:02}-{:02}", day->year, day->month, day->day) : std::string();
}

ValueSource read_source(TomlTable& table) {
  ValueSource source;
  source.id = table.id("id", Need::required).value_or("");
  const auto kind = table.word("kind", kind_words(), Need::required);
  source.kind = kind ? source_kind_named(*kind).value_or(SourceKind::by_hand) : SourceKind::by_hand;
  source.name = table
                    .text("name", kind && source.kind != SourceKind::by_hand ? Need::required
                                                                             : Need::optional)
                    .value_or("");
  source.date = day_of(table, "date");
  source.imported = day_of(table, "imported");
  source.query = table.text("query").value_or("");
  if (kind && table.has("query") && source.kind != SourceKind::register_answer) {
    table.report_at("query", fmt::format("a source of kind \"{}\" is not queried; only one of kind "
                                         "\"register\" is",
                                         *kind));
  }
  source.sha256 = table.text("sha256").value_or("");
  if (!source.sha256.empty() && !is_digest(source.sha256)) {
    table.report_at("sha256", "'sha256' has 64 hexadecimal digits, in small letters");
  }
  table.finish();
  return source;
}

/// The source that the value of a key names; null, and a diagnostic, where there is none such.
std::shared_ptr<const ValueSource> source_named(TomlTable& table, std::string_view key,
                                                const ValueSources& sources) {
  const auto id = table.id(key);
  if (!id) {
    return nullptr;
  }
  const auto found = sources.by_id.find(*id);
  if (found != sources.by_id.end()) {
    return found->second;
  }
  if (sources.all_known) {
    std::vector<std::string> ids;
    for (const auto& [known, source] : sources.by_id) {
      ids.push_back(known);
    }
    table.report_at(key, not_found_text("[[value_source]]", *id, ids));
  }
  return nullptr;
}

bool says_where_from(std::string_view key) { return key == "source" || key == "source_of"; }

}  // namespace

ValueSources read_value_sources(TomlTable& root) {
  ValueSources sources;
  IdPlaces seen;
  for (TomlTable& entry : root.tables("value_source")) {
    ValueSource source = read_source(entry);
    if (source.id.empty()) {
      sources.all_known = false;
      continue;
    }
    report_if_seen(entry, source.id, seen);
    std::string id = source.id;
    sources.by_id.emplace(std::move(id), std::make_shared<const ValueSource>(std::move(source)));
  }
  sources.of_file = source_named(root, "source", sources);
  return sources;
}

Provenance read_provenance(TomlTable& table, const ValueSources& sources, const LikeTable& like) {
  Provenance provenance{.rest = sources.of_file};
  if (table.has_itself("source")) {
    provenance.rest = source_named(table, "source", sources);
  }
  if (table.has_itself("source_of")) {
    if (auto by_key = table.table("source_of")) {
      for (const std::string& key : by_key->keys()) {
        if (says_where_from(key)) {
          by_key->report_key(key,
                             fmt::format("'{}' says where values come from, and is none", key));
        } else if (!table.has_itself(key)) {
          by_key->report_key(key,
                             fmt::format("there is no key '{}' in this table whose source this "
                                         "could be",
                                         key));
        }
        if (auto source = source_named(*by_key, key, sources)) {
          provenance.own.emplace_back(key, std::move(source));
        }
      }
      by_key->finish();
    }
  }
  if (like.table != nullptr) {
    for (const std::string& key : like.table->keys()) {
      if (!says_where_from(key) && !table.has_itself(key)) {
        provenance.own.emplace_back(key, source_of(*like.provenance, key));
      }
    }
  }
  return provenance;
}

}  // namespace panup
