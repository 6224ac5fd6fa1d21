#include "files/read_practice_cases.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

namespace {

constexpr std::string_view places_on_roof = "FRMU";

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// "P1", "P27".
bool names_case(std::string_view text) {
  return text.size() >= 2 && text.size() <= 3 && text.front() == 'P' && text[1] != '0' &&
         std::ranges::all_of(text.substr(1), is_digit);
}

/// "F1", "R2".
bool names_raised(std::string_view word) {
  return word.size() == 2 && places_on_roof.find(word.front()) != std::string_view::npos &&
         is_digit(word.back()) && word.back() != '0';
}

/// "F1 R2", "none".
bool says_raised(std::string_view text) {
  if (text == "none") {
    return true;
  }
  for (std::size_t at = 0;;) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    if (!names_raised(text.substr(at, end - at))) {
      return false;
    }
    if (end == text.size()) {
      return true;
    }
    at = end + 1;
  }
}

FileNamed read_named(TomlTable& table, std::string_view key) {
  return read_file_name(table, key, Need::required).value_or(FileNamed{});
}

InLanguages read_in_languages(TomlTable& table, std::string_view key) {
  InLanguages said;
  if (auto languages = table.table(key)) {
    said.en = languages->text("en", Need::required).value_or("");
    said.de = languages->text("de", Need::required).value_or("");
    languages->finish();
  } else if (!table.has(key)) {
    table.report(table.place(), fmt::format("key '{}' is missing", key));
  }
  return said;
}

void read_speed(TomlTable& table, PracticeCase& one) {
  one.speed_kmh = table.number("speed_kmh", {1, 500});
  one.speed_rule = table.id("speed_rule").value_or("");
  if (table.has("speed_kmh") != table.has("speed_rule")) {
    table.report(table.place(),
                 "'speed_kmh' and 'speed_rule' go together: state both, or none of them");
  }
}

PracticeCase read_case(TomlTable& table, const InLanguages& source_of_all, IdPlaces& seen) {
  PracticeCase one;
  one.place = table.place();
  one.id = table.id("id", Need::required).value_or("");
  if (!one.id.empty()) {
    report_if_seen(table, one.id, seen);
  }
  one.of = table.text("of", Need::required).value_or("");
  if (!one.of.empty() && !names_case(one.of)) {
    table.report_at("of", fmt::format("'of' is \"{}\"; expected the number of a case of working "
                                      "practice, as in \"P6\"",
                                      one.of));
  }
  one.title = read_in_languages(table, "title");
  one.source = table.has("source") ? read_in_languages(table, "source") : source_of_all;
  one.train = read_named(table, "train");
  one.route = read_named(table, "route");
  one.conditions = read_file_name(table, "conditions", Need::optional);
  one.raised = table.text("raised", Need::required).value_or("");
  if (!one.raised.empty() && !says_raised(one.raised)) {
    table.report_at("raised",
                    fmt::format("'raised' is \"{}\"; expected \"none\", or what is up, as in \"F1 "
                                "R2\": F front, R rear, M between, U the only one, and the number "
                                "of the working locomotive",
                                one.raised));
  }
  one.pantographs = table.texts("pantographs").value_or(std::vector<std::string>{});
  one.put_dead_in_tow = table.wholes("put_dead_in_tow", 1, 99).value_or(std::vector<int>{});
  const std::vector<std::string> answers(case_answer_names.begin(), case_answer_names.end());
  if (const auto answer = table.word("answer", answers, Need::required)) {
    one.answer = static_cast<CaseAnswer>(std::ranges::find(answers, *answer) - answers.begin());
  }
  read_speed(table, one);
  one.least_distance_m = table.number("least_distance_m", {0, 1000});
  one.keeps = table.texts("keeps").value_or(std::vector<std::string>{});
  one.gives_up = table.texts("gives_up").value_or(std::vector<std::string>{});
  one.says = table.texts("says").value_or(std::vector<std::string>{});
  table.finish();
  return one;
}

}  // namespace

std::optional<PracticeCases> read_practice_cases(const SourceText& source,
                                                 Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root = parse_toml(source, diagnostics);
  auto table =
      root ? root_of(*root, source.file, FileKind::practice_cases, diagnostics) : std::nullopt;
  if (!table) {
    return std::nullopt;
  }
  PracticeCases cases;
  cases.name = table->text("name", Need::required).value_or("");
  cases.invented = table->flag("invented").value_or(false);
  cases.source = read_in_languages(*table, "source");
  cases.rules = read_file_names(*table, "rules");
  IdPlaces seen;
  for (TomlTable& entry : table->tables("case", Need::required)) {
    cases.cases.push_back(read_case(entry, cases.source, seen));
  }
  table->finish();
  return diagnostics.size() == mistakes ? std::optional(std::move(cases)) : std::nullopt;
}

std::vector<FileNamed> files_named_by(const PracticeCases& cases) {
  std::vector<FileNamed> named = cases.rules;
  for (const PracticeCase& one : cases.cases) {
    named.push_back(one.train);
    named.push_back(one.route);
    if (one.conditions) {
      named.push_back(*one.conditions);
    }
  }
  return named;
}

}  // namespace panup
