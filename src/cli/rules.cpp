#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "base/source_text.h"
#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/say.h"
#include "render/rule_book.h"
#include "requests/plan_input.h"

namespace panup {

namespace {

struct RulesOptions {
  CommonOptions common;
  std::string id;
  bool kinds = false;
  std::vector<std::string> books;
  std::string day;
};

int run_rules(const RulesOptions& options) {
  Diagnostics diagnostics;
  const auto book = read_rule_books(
      options.books, options.day.empty() ? std::nullopt : std::optional(options.day), diagnostics);
  if (print_diagnostics(diagnostics) || !book) {
    return exit_wrong_input;
  }
  if (options.kinds) {
    return print_result(
        options.common.json() ? json_text(rule_kinds_to_json(*book)) : rule_kinds_to_text(*book),
        exit_done);
  }
  if (options.id.empty()) {
    return print_result(
        options.common.json() ? json_text(rule_book_to_json(*book)) : rule_book_to_text(*book),
        exit_done);
  }
  const Rule* const rule = find_rule(*book, options.id);
  if (rule == nullptr) {
    std::vector<std::string> ids;
    for (const Rule& known : book->rules) {
      ids.push_back(known.id);
    }
    const std::string_view nearest = nearest_of(options.id, ids);
    say("panup: there is no rule '{}'{}\n", options.id,
        nearest.empty() ? std::string("; 'panup rules' lists them")
                        : fmt::format("; did you mean '{}'?", nearest));
    return exit_wrong_input;
  }
  return print_result(
      options.common.json() ? json_text(rule_to_json(*rule)) : rule_to_text(*book, *rule),
      exit_done);
}

}  // namespace

void add_rules_command(CLI::App& program, int& status) {
  auto options = std::make_shared<RulesOptions>();
  CLI::App* const command =
      program.add_subcommand("rules", "the rules in force, or one with its reason and source");
  CLI::Option* const id = command->add_option("ID", options->id, "id of a rule");
  command
      ->add_flag("--kinds", options->kinds,
                 "the kinds of rule instead, with the parameters that each takes")
      ->excludes(id);
  command
      ->add_option("--rules", options->books,
                   "a rule book, after the built-in one; may be given several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command
      ->add_option("--day", options->day,
                   "the day, as YYYY-MM-DD, on which entries that were released for some days are "
                   "in force or not; without it none of them is")
      ->type_name("DATE")
      ->check(day_of_calendar());
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_rules(*options); });
}

}  // namespace panup
