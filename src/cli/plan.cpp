#include "plan/plan.h"

#include <fmt/format.h>

#include <charconv>
#include <ctime>

#include "base/handed_out.h"
#include "cli/commands.h"
#include "cli/earlier_sheets.h"
#include "cli/interruption.h"
#include "cli/kept_runs.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/plan_sheets.h"
#include "cli/say.h"
#include "cli/version.h"
#include "comparison/comparison_words.h"
#include "day/plan_parts.h"
#include "driving/drive.h"
#include "plan/mechanics_answers.h"
#include "render/plan_json.h"
#include "render/plan_text.h"
#include "render/run_json.h"
#include "render/run_text.h"
#include "render/why_not.h"
#include "requests/plan_input.h"
#include "requests/run_input.h"
#include "requests/why_question.h"

namespace panup {

namespace {

struct PlanOptions {
  CommonOptions common;
  std::string train;
  std::string route;
  std::string run;
  std::string conditions;
  std::vector<std::string> rules;
  std::vector<std::string> consents;
  std::vector<std::string> defects;
  std::string out;
  std::string why_not;
  std::string against;
  std::string speed_from = "tables";
  KeptRunsOptions kept;
};

PlanPaths paths_of_options(const PlanOptions& options) {
  return {.train = options.train,
          .route = options.route,
          .run_file = options.run,
          .conditions = options.conditions,
          .rules = options.rules,
          .consents = options.consents,
          .defects = options.defects};
}

/// Reads all files, so that the mistakes of all of them are seen at once.
std::optional<PlanInput> read_input(const PlanOptions& options, Diagnostics& diagnostics) {
  auto input = read_plan_input(paths_of_options(options), *speed_from_named(options.speed_from),
                               files_on_disk(), diagnostics);
  if (input) {
    input->request.jobs = options.common.jobs;
  }
  return input;
}

/// "1.2,2.1@12.4", or "none@12.4" for all pantographs down. What is wrong with the text, or empty.
std::string read_question(std::string_view text, const PlanRequest& request,
                          WhyQuestion& question) {
  const std::size_t at = text.find('@');
  if (at == std::string_view::npos) {
    return "expected pantographs and a place, as in 1.2,2.1@12.4";
  }
  const std::string_view km = text.substr(at + 1);
  const auto [end, error] =
      std::from_chars(km.data(), km.data() + km.size(), question.at_km, std::chars_format::fixed);
  if (error != std::errc{} || end != km.data() + km.size()) {
    return fmt::format("'{}' is not a chainage in km", km);
  }
  if (std::string wrong = wrong_with_place(question.at_km, request.route); !wrong.empty()) {
    return wrong;
  }
  std::string_view rest = text.substr(0, at);
  if (rest == "none") {
    return {};
  }
  while (true) {
    const std::size_t comma = rest.find(',');
    std::string wrong = ask_for(rest.substr(0, comma), request.train, question);
    if (!wrong.empty() || comma == std::string_view::npos) {
      return wrong;
    }
    rest.remove_prefix(comma + 1);
  }
}

int answer_why_not(const PlanOptions& options, const PlanRequest& request, const Plan& plan,
                   std::optional<KeptRuns>& kept) {
  WhyQuestion question;
  const std::string wrong = read_question(options.why_not, request, question);
  if (!wrong.empty()) {
    say("panup: --why-not {}: {}\n", options.why_not, wrong);
    return exit_wrong_input;
  }
  const auto why = why_not(request, plan, question.asked, question.at_km);
  if (!why) {
    return kept->say_stopped();
  }
  return print_result(
      options.common.json() ? json_text(why_not_to_json(*why)) : why_not_to_text(plan, *why),
      why->answer == Answer::permitted ? exit_done : exit_answer_no);
}

/// The date on this machine, as YYYY-MM-DD.
std::string date_of_today() {
  const std::time_t now = std::time(nullptr);
  std::tm day{};
  localtime_r(&now, &day);
  return fmt::format("{:04}-{:02}-{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

int compare_with(const PlanOptions& options, const SaidPlan& earlier, const Plan& plan) {
  const PlanComparison comparison = compare_plans(earlier, said_by(plan), date_of_today());
  return print_result(options.common.json() ? json_text(comparison_to_json(comparison, plan))
                                            : comparison_to_text(comparison, plan),
                      comparison.still_holds() ? exit_done : exit_answer_no);
}

std::vector<std::string> inputs_of(const PlanOptions& options,
                                   const std::vector<InputFile>& inputs) {
  std::vector<std::string> paths = paths_of(inputs);
  if (!options.kept.store.empty()) {
    paths.push_back(options.kept.store);
  }
  return paths;
}

/// Plans a run, part after part.
int run_plan_of_run(const PlanOptions& options) {
  Diagnostics diagnostics;
  auto run = read_run_input(paths_of_options(options), *speed_from_named(options.speed_from),
                            files_on_disk(), diagnostics);
  if (print_diagnostics(diagnostics) || !run) {
    return exit_wrong_input;
  }
  std::optional<KeptRuns> kept;
  if (run->parts.front().request.speed_from != SpeedFrom::tables) {
    kept = KeptRuns::open(options.kept, options.common.jobs);
    if (!kept) {
      return exit_wrong_input;
    }
  }
  for (PlanInput& input : run->parts) {
    input.request.jobs = options.common.jobs;
    if (kept) {
      input.request.mechanics =
          mechanics_answers(input.mechanics.data, input.request.rules, kept->source());
      // Signals are only noted from here on, so that making the plan has to ask for them.
      input.request.stopped = interrupted;
    }
  }
  const auto planned = plan_parts(std::move(*run), program_version);
  if (!planned) {
    return kept->say_stopped();
  }
  if (kept && !kept->speaks()) {
    return exit_done;
  }
  if (!options.out.empty()) {
    if (const int status = write_sheets(options.out, card_stem, run_sheets(*planned),
                                        inputs_of(options, inputs_of(*planned)));
        status != exit_done) {
      return status;
    }
  }
  return print_result(
      options.common.json() ? json_text(run_to_json(*planned)) : run_to_text(*planned),
      answer_of(*planned) == Answer::permitted ? exit_done : exit_answer_no);
}

int run_plan(const PlanOptions& options) {
  Diagnostics diagnostics;
  auto input = read_input(options, diagnostics);
  std::optional<SaidPlan> earlier;
  if (!options.against.empty()) {
    if (const auto source = load_text(options.against, diagnostics)) {
      earlier = read_plan_json(*source, diagnostics);
    }
  }
  if (print_diagnostics(diagnostics) || !input) {
    return exit_wrong_input;
  }
  std::optional<KeptRuns> kept;
  if (input->request.speed_from != SpeedFrom::tables) {
    kept = KeptRuns::open(options.kept, options.common.jobs);
    if (!kept) {
      return exit_wrong_input;
    }
    input->request.mechanics =
        mechanics_answers(input->mechanics.data, input->request.rules, kept->source());
    // Signals are only noted from here on, so that making the plan has to ask for them.
    input->request.stopped = interrupted;
  }
  auto made = make_driven_plan(input->request);
  if (!made) {
    return kept->say_stopped();
  }
  if (kept && !kept->speaks()) {
    return exit_done;
  }
  Plan& plan = *made;
  plan.inputs = std::move(input->files);
  plan.program_version = program_version;
  if (!options.why_not.empty()) {
    return answer_why_not(options, input->request, plan, kept);
  }
  if (earlier) {
    return compare_with(options, *earlier, plan);
  }
  if (!options.out.empty()) {
    if (const int status = write_sheets(options.out, card_stem, plan_sheets(plan),
                                        inputs_of(options, plan.inputs));
        status != exit_done) {
      return status;
    }
  }
  return print_result(options.common.json() ? json_text(plan_to_json(plan)) : plan_to_text(plan),
                      plan.answer == Answer::permitted ? exit_done : exit_answer_no);
}

}  // namespace

void add_plan_command(CLI::App& program, int& status) {
  auto options = std::make_shared<PlanOptions>();
  CLI::App* const command =
      program.add_subcommand("plan", "the plan for one train along one route");
  CLI::Option* const train =
      command->add_option("--train", options->train, "the train")->type_name("FILE");
  CLI::Option* const route =
      command->add_option("--route", options->route, "the route")->type_name("FILE");
  CLI::Option* const run =
      command
          ->add_option("--run", options->run,
                       "the run of a train through a network, in the place of train and route")
          ->type_name("FILE")
          ->check(not_empty())
          ->excludes(train)
          ->excludes(route);
  command->add_option("--conditions", options->conditions, "the day's conditions")
      ->type_name("FILE");
  command
      ->add_option("--rules", options->rules,
                   "a rule book, after the built-in one; may be given several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command
      ->add_option("--consents", options->consents,
                   "a file of consents, besides those that the train file names; may be given "
                   "several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command
      ->add_option(
          "--defects", options->defects,
          "a register of defects, of which the train takes up what is on its vehicles; may "
          "be given several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  CLI::Option* const out =
      command
          ->add_option(
              "--out", options->out,
              "folder for plan.txt, plan.json, the driver's card as PDF, SVG and PNG, and the "
              "engineer's report as PDF and HTML")
          ->type_name("DIR")
          ->check(not_empty());
  command
      ->add_option("--why-not", options->why_not,
                   "why these pantographs are not up at this chainage, as in 1.2,2.1@12.4")
      ->type_name("V.P,…@KM")
      ->check(not_empty())
      ->excludes(out)
      ->excludes(run);
  command
      ->add_option("--against", options->against,
                   "a plan.json written earlier: whether what was handed out with it still holds")
      ->type_name("FILE")
      ->check(not_empty())
      ->excludes(out)
      ->excludes(run)
      ->excludes("--why-not");
  command
      ->add_option(
          "--speed-from", options->speed_from,
          "what gives the speed of the raised pantographs: tables (records, consents, "
          "design types), mechanics, or both, the lower of the two; tables where not given")
      ->type_name("WHAT")
      ->check(CLI::IsMember({"tables", "mechanics", "both"}));
  add_kept_runs_options(*command, options->kept);
  add_common_options(*command, options->common);
  command->callback([options, train, route, &status] {
    if (options->run.empty() && (options->train.empty() || options->route.empty())) {
      // Needed unless a run says both.
      train->required();
      route->required();
      throw CLI::RequiredError("--train and --route");
    }
    status = options->run.empty() ? run_plan(*options) : run_plan_of_run(*options);
  });
}

}  // namespace panup
