#include "files/read_rule_book.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "files/document.h"
#include "files/read_consents.h"

namespace panup {

namespace {

template <typename Values>
std::vector<std::string> names_of(const Values& values) {
  std::vector<std::string> names;
  for (const auto value : values) {
    names.emplace_back(name_of(value));
  }
  return names;
}

constexpr std::array strengths{Strength::forbidden,   Strength::consent_needed,
                               Strength::last_resort, Strength::prescribed,
                               Strength::speed_limit, Strength::note};
constexpr std::array standings{Standing::practice, Standing::derived, Standing::published,
                               Standing::operator_rule};

std::vector<std::string> split(std::string_view words) {
  std::vector<std::string> parts;
  while (!words.empty()) {
    const std::size_t bar = std::min(words.find('|'), words.size());
    parts.emplace_back(words.substr(0, bar));
    words.remove_prefix(std::min(bar + 1, words.size()));
  }
  return parts;
}

std::array<double, 3> read_distances(TomlTable& table, std::string_view key) {
  const auto values = table.numbers(key, {0, 1000, true}, Need::required);
  std::array<double, 3> distances{};
  if (!values) {
    return distances;
  }
  if (values->size() != distances.size()) {
    table.report_at(key,
                    fmt::format("'{}' holds {} distances; expected three, for design types A, B "
                                "and C",
                                key, values->size()));
    return distances;
  }
  std::ranges::copy(*values, distances.begin());
  return distances;
}

std::vector<SpacingRow> read_spacing(TomlTable& table) {
  std::vector<SpacingRow> rows;
  std::vector<TomlTable> entries = table.tables("spacing", Need::required);
  double before_kmh = 0;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    TomlTable& entry = entries[i];
    const bool last = i + 1 == entries.size();
    SpacingRow row;
    const auto up_to = entry.number("up_to_kmh", {1, 400}, last ? Need::optional : Need::required);
    if (last && entry.has("up_to_kmh")) {
      entry.report_at("up_to_kmh",
                      "the last row holds for all higher speeds and has no 'up_to_kmh'");
    }
    if (up_to && !last) {
      row.up_to_kmh = *up_to;
      if (*up_to <= before_kmh) {
        entry.report_at("up_to_kmh", "rows stand by rising speed");
      }
      before_kmh = *up_to;
    }
    row.ac_m = read_distances(entry, "ac_m");
    row.dc_3kv_m = read_distances(entry, "dc_3kv_m");
    row.dc_1500v_m = read_distances(entry, "dc_1500v_m");
    entry.finish();
    rows.push_back(row);
  }
  return rows;
}

/// Reads one parameter into the rule. `stated` receives its key if the entry states it.
void read_parameter(TomlTable& table, const ParameterSpec& spec, Need need, Rule& rule,
                    std::vector<std::string>& stated) {
  const std::string key(spec.key);
  if (table.has(key)) {
    stated.push_back(key);
  } else if (need == Need::optional) {
    return;
  }
  switch (spec.type) {
    case ParameterType::number:
      if (const auto value = table.number(key, {spec.least, spec.greatest}, need)) {
        rule.numbers[key] = *value;
      }
      return;
    case ParameterType::word:
      if (auto value = table.word(key, split(spec.words), need)) {
        rule.words[key] = std::move(*value);
      }
      return;
    case ParameterType::words:
      if (auto values = table.words(key, split(spec.words), need)) {
        rule.lists[key] = std::move(*values);
      }
      return;
    case ParameterType::spacing_table:
      rule.spacing = read_spacing(table);
      return;
  }
}

void read_text(TomlTable& table, std::string_view key, Need need, std::string& value,
               std::vector<std::string>& stated) {
  if (auto text = table.text(key, need)) {
    value = std::move(*text);
    stated.emplace_back(key);
  }
}

/// The kind of an entry: stated, or that of the entry it changes.
const RuleKindSpec* read_kind(TomlTable& table, const Rule* earlier) {
  if (earlier != nullptr && !table.has("kind")) {
    return &spec_of(earlier->kind);
  }
  std::vector<std::string> names;
  for (const RuleKindSpec& spec : rule_kinds()) {
    names.emplace_back(spec.name);
  }
  const auto name = table.text("kind", Need::required);
  if (!name) {
    return nullptr;
  }
  const RuleKindSpec* const spec = rule_kind_named(*name);
  if (spec == nullptr) {
    const std::string_view nearest = nearest_of(*name, names);
    table.report_at("kind", nearest.empty()
                                ? fmt::format("there is no kind of rule '{}'", *name)
                                : fmt::format("there is no kind of rule '{}'; did you mean '{}'?",
                                              *name, nearest));
    return nullptr;
  }
  if (earlier != nullptr && earlier->kind != spec->kind) {
    table.report_at("kind",
                    fmt::format("rule '{}' is of kind '{}' in {}; a later book cannot change "
                                "that",
                                earlier->id, spec_of(earlier->kind).name, earlier->book));
    return nullptr;
  }
  return spec;
}

/// The parameters that a rule has, by key.
std::vector<std::string> parameters_of(const Rule& rule) {
  std::vector<std::string> keys;
  for (const ParameterSpec& parameter : spec_of(rule.kind).parameters) {
    const std::string key(parameter.key);
    if (rule.numbers.contains(key) || rule.words.contains(key) || rule.lists.contains(key) ||
        (parameter.type == ParameterType::spacing_table && !rule.spacing.empty())) {
      keys.push_back(key);
    }
  }
  return keys;
}

/// Where an entry of a later book comes from.
struct StatedSource {
  std::optional<std::string> source;
  std::optional<Standing> standing;
};

/// Cites the later book for what it has changed, and the earlier source for the rest. A later book
/// that states every parameter anew, or nothing but where the entry comes from, is cited alone.
void cite(Rule& rule, const StatedSource& later, const std::string& book,
          const std::vector<std::string>& stated) {
  const auto states = [&stated](std::string_view key) {
    return std::ranges::find(stated, key) != stated.end();
  };
  const std::vector<std::string> parameters = parameters_of(rule);
  std::vector<std::string> changed;
  std::ranges::copy_if(stated, std::back_inserter(changed), [](const std::string& key) {
    return key != "source" && key != "standing" && key != "reason";
  });
  const bool all_anew = changed.empty()
                            ? later.source.has_value()
                            : !parameters.empty() && std::ranges::all_of(parameters, states);
  const std::string source = later.source.value_or(fmt::format("rule book \"{}\"", book));
  if (all_anew) {
    rule.first_source = source;
    rule.standing = later.standing.value_or(rule.standing);
    rule.changed.clear();
  } else {
    if (changed.empty()) {
      rule.standing = later.standing.value_or(rule.standing);
    }
    const std::string_view standing = name_of(later.standing.value_or(rule.standing));
    const bool said =
        later.standing.value_or(rule.standing) == rule.standing || source.starts_with(standing);
    std::erase_if(rule.changed, [&](const ChangedPart& part) { return states(part.key); });
    for (std::string& key : changed) {
      rule.changed.push_back({.key = std::move(key),
                              .source = said ? source : fmt::format("{}, {}", standing, source)});
    }
  }
  rule.source = cited_source(rule);
}

std::vector<std::string> kinds_that_may_be_limited() {
  std::vector<std::string> names;
  for (const RuleKindSpec& spec : rule_kinds()) {
    if (spec.may_be_limited) {
      names.emplace_back(spec.name);
    }
  }
  return names;
}

/// A list of what a rule is limited to; one that is there has something in it.
void read_limits(TomlTable& table, std::string_view key, std::vector<std::string>& values) {
  const bool of_loads = key == "loads";
  auto stated =
      of_loads ? table.words(key, {"ordinary", "dangerous", "sensitive"}) : table.texts(key);
  if (!stated) {
    return;
  }
  if (stated->empty()) {
    table.report_at(key, fmt::format("'{}' is empty; leave it out where it limits nothing", key));
  }
  values = std::move(*stated);
}

/// What the rule is limited to; it takes the place of what an earlier book limits it to.
void read_only_for(TomlTable& table, const RuleKindSpec& spec, bool is_new, Rule& rule,
                   std::vector<std::string>& stated) {
  if (!table.has("only_for")) {
    return;
  }
  stated.emplace_back("only_for");
  auto limits = table.table("only_for");
  if (!spec.may_be_limited) {
    table.report_at("only_for",
                    fmt::format("a rule of kind '{}' holds wherever the train runs; 'only_for' is "
                                "for rules of the kinds {}",
                                spec.name, quoted_list(kinds_that_may_be_limited())));
    return;
  }
  if (!limits) {
    return;
  }
  rule.only_for = {};
  read_limits(*limits, "sections", rule.only_for.sections);
  read_limits(*limits, "lines", rule.only_for.lines);
  read_limits(*limits, "classes", rule.only_for.classes);
  read_limits(*limits, "loads", rule.only_for.loads);
  const bool says_nothing =
      std::ranges::none_of(std::array{"sections", "lines", "classes", "loads"},
                           [&](const char* key) { return limits->has(key); });
  limits->finish();
  if (is_new && says_nothing) {
    table.report_at("only_for",
                    "'only_for' limits nothing; state sections, lines, classes or loads, or leave "
                    "it out");
  }
}

/// Some kinds can only warn, and one is only asked where nothing better is left.
void check_strength(const RuleKindSpec& spec, Strength strength, TomlTable& table) {
  using enum Strength;
  std::vector<Strength> possible;
  if (spec.kind == RuleKind::coasting || spec.kind == RuleKind::standing_place ||
      spec.kind == RuleKind::temperature_range) {
    possible = {consent_needed, last_resort, note};
  } else if (spec.kind == RuleKind::leave_on_the_move) {
    possible = {last_resort};
  }
  if (possible.empty() || std::ranges::find(possible, strength) != possible.end()) {
    return;
  }
  table.report_at("strength", fmt::format("a rule of kind '{}' has the strength {}", spec.name,
                                          quoted_list(names_of(possible))));
}

void read_rule(TomlTable& table, const std::string& id, const std::string& book, RuleBook& books) {
  const auto known = std::ranges::find(books.rules, id, &Rule::id);
  const bool is_new = known == books.rules.end();
  const RuleKindSpec* const spec = read_kind(table, is_new ? nullptr : &*known);
  if (spec == nullptr) {
    return;
  }
  const Need need = is_new ? Need::required : Need::optional;
  std::vector<std::string> stated;
  Rule rule = is_new ? Rule{} : *known;
  rule.id = id;
  rule.kind = spec->kind;
  read_text(table, "statement", need, rule.statement, stated);
  read_text(table, "reason", need, rule.reason, stated);
  StatedSource stated_source;
  if (auto text = table.text("source", need)) {
    stated_source.source = std::move(*text);
    stated.emplace_back("source");
  }
  if (const auto standing = table.word("standing", names_of(standings), need)) {
    stated_source.standing = *standing_named(*standing);
    stated.emplace_back("standing");
  }
  if (const auto strength = table.word("strength", names_of(strengths), need)) {
    rule.strength = *strength_named(*strength);
    check_strength(*spec, rule.strength, table);
    stated.emplace_back("strength");
  }
  if (const auto on = table.flag("on")) {
    rule.on = *on;
    stated.emplace_back("on");
    if (!*on && spec->always_on) {
      table.report_at("on", fmt::format("a rule of kind '{}' cannot be turned off", spec->name));
    }
  }
  if (const auto invented = table.flag("invented")) {
    rule.invented = *invented;
  }
  for (const ParameterSpec& parameter : spec->parameters) {
    read_parameter(table, parameter, is_new && parameter.required ? Need::required : Need::optional,
                   rule, stated);
  }
  read_only_for(table, *spec, is_new, rule, stated);
  table.finish();
  rule.place = table.place();
  if (is_new) {
    rule.first_source = stated_source.source.value_or("");
    rule.source = rule.first_source;
    rule.standing = stated_source.standing.value_or(Standing{});
    rule.book = book;
    books.rules.push_back(std::move(rule));
    return;
  }
  cite(rule, stated_source, book, stated);
  books.overrides.push_back(
      {.id = id, .earlier_book = known->book, .later_book = book, .what = std::move(stated)});
  rule.book = book;
  *known = std::move(rule);
}

/// What an entry says of the days it was released for. Of two of one id in a book no more than one
/// holds on any day.
std::optional<ReleasedEntry> read_release(TomlTable& table, const std::string& id,
                                          const std::string& book, const RuleBook& books) {
  ReleasedEntry entry{.id = id,
                      .book = book,
                      .reference = table.text("reference").value_or(""),
                      .valid = read_validity(table),
                      .counts = false,
                      .place = table.place()};
  if (!entry.valid.limited()) {
    if (!entry.reference.empty()) {
      table.report_at("reference",
                      "'reference' is of a release for some days; state 'valid_from' or "
                      "'valid_until' too");
    }
    return std::nullopt;
  }
  for (const ReleasedEntry& other : books.released) {
    if (other.id == id && other.place.file == table.file() && overlap(other.valid, entry.valid)) {
      table.report_at("id", fmt::format("rule '{}' is released for some of the same days already, "
                                        "at {}:{}:{}: {}",
                                        id, other.place.file, other.place.line, other.place.column,
                                        validity_words(other.valid)));
    }
  }
  return entry;
}

/// Whether an entry counts on the day that the book is read for.
bool counts_on(TomlTable& table, const ReleasedEntry& entry,
               const std::optional<std::string>& day) {
  if (day && day->empty()) {
    table.report_at(
        entry.valid.from.empty() ? "valid_until" : "valid_from",
        fmt::format("rule '{}': {}, and the day is not known; state 'date' in [release] "
                    "of the train file, or leave this book out",
                    entry.id, validity_words(entry.valid)));
  }
  return day && !day->empty() && entry.valid.holds_on(*day);
}

/// A book while it is read.
struct OpenBook {
  std::string name;
  const std::optional<std::string>& day;
  std::map<std::string, SourcePlace> always = {};  ///< ids of entries without a validity
};

/// Where an id stands already in the book, if that may not be.
std::optional<SourcePlace> used_at(const std::string& id, bool is_released, const OpenBook& book,
                                   const RuleBook& books, std::string_view file) {
  if (const auto found = book.always.find(id); found != book.always.end()) {
    return found->second;
  }
  const auto other = std::ranges::find_if(books.released, [&](const ReleasedEntry& entry) {
    return !is_released && entry.id == id && entry.place.file == file;
  });
  return other == books.released.end() ? std::nullopt : std::optional(other->place);
}

void read_entry(TomlTable& table, OpenBook& book, RuleBook& books) {
  const auto id = table.id("id", Need::required);
  if (!id) {
    return;
  }
  auto released = read_release(table, *id, book.name, books);
  if (const auto used = used_at(*id, released.has_value(), book, books, table.file())) {
    table.report_at("id", fmt::format("id '{}' is used already, at {}:{}:{}", *id, used->file,
                                      used->line, used->column));
    return;
  }
  if (!released) {
    book.always.emplace(*id, table.place());
    read_rule(table, *id, book.name, books);
    return;
  }
  released->counts = counts_on(table, *released, book.day);
  const bool counts = released->counts;
  RuleBook looked_at = counts ? RuleBook{} : books;  // its mistakes are told all the same
  read_rule(table, *id, book.name, counts ? books : looked_at);
  books.released.push_back(std::move(*released));
}

}  // namespace

std::optional<RuleBook> add_rule_book(const RuleBook& earlier, const SourceText& source,
                                      const std::optional<std::string>& day,
                                      Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  if (!root_node) {
    return std::nullopt;
  }
  auto root = root_of(*root_node, source.file, FileKind::rule_book, diagnostics);
  if (!root) {
    return std::nullopt;
  }
  RuleBook books = earlier;
  const std::string name = root->text("name", Need::required).value_or(source.file);
  OpenBook book{.name = name, .day = day};
  for (TomlTable& entry : root->tables("rule", Need::required)) {
    read_entry(entry, book, books);
  }
  root->flag("invented");
  root->finish();
  books.names.push_back(name);
  return diagnostics.size() == mistakes ? std::optional(std::move(books)) : std::nullopt;
}

namespace {

RuleBook parsed_built_in_book() {
  Diagnostics diagnostics;
  auto book = add_rule_book(
      {}, {.file = std::string(built_in_rule_file), .text = std::string(built_in_rule_text())},
      std::nullopt, diagnostics);
  if (!book) {
    throw std::logic_error(to_line(diagnostics.front()));
  }
  return std::move(*book);
}

}  // namespace

RuleBook built_in_rule_book() {
  // It never changes, and to parse it costs half as much as to plan a train.
  static const RuleBook book = parsed_built_in_book();
  return book;
}

}  // namespace panup
