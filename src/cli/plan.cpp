#include "plan/plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <ctime>

#include "base/handed_out.h"
#include "cli/commands.h"
#include "cli/earlier_sheets.h"
#include "cli/kept_runs.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/plan_sheets.h"
#include "cli/ready_to_plan.h"
#include "cli/say.h"
#include "cli/version.h"
#include "comparison/comparison_words.h"
#include "day/plan_parts.h"
#include "driving/drive.h"
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
  std::string language;
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

/// A question, and the part of the train's way that it is about.
struct QuestionOfPart {
  WhyQuestion question;
  std::size_t part = 0;
};

/// Adds the pantographs that are named, as in "1.2,2.1", or none of them. What is wrong with the
/// text, or empty.
std::string read_asked(std::string_view names, const Train& train, WhyQuestion& question) {
  if (names == "none") {
    return {};
  }
  while (true) {
    const std::size_t comma = names.find(',');
    std::string wrong = ask_for(names.substr(0, comma), train, question);
    if (!wrong.empty() || comma == std::string_view::npos) {
      return wrong;
    }
    names.remove_prefix(comma + 1);
  }
}

/// "1.2,2.1@12.4", or "none@12.4" for all pantographs down. What is wrong with the text, or empty.
std::string read_question(std::string_view text, const RunInput& run, QuestionOfPart& asked) {
  const std::size_t at = text.find('@');
  if (at == std::string_view::npos) {
    return "expected pantographs and a place, as in 1.2,2.1@12.4";
  }
  const std::string_view km = text.substr(at + 1);
  double& at_km = asked.question.at_km;
  const auto [end, error] =
      std::from_chars(km.data(), km.data() + km.size(), at_km, std::chars_format::fixed);
  if (error != std::errc{} || end != km.data() + km.size()) {
    return fmt::format("'{}' is not a chainage in km", km);
  }
  if (std::string wrong = wrong_with_place(at_km, run); !wrong.empty()) {
    return wrong;
  }
  asked.part = part_at(run, at_km);
  const PlanRequest& request = run.parts[asked.part].request;
  const std::string wrong = read_asked(text.substr(0, at), request.train, asked.question);
  return wrong.empty() || run.parts.size() == 1
             ? wrong
             : fmt::format("{} on part {} of {}, which begins at km {:g}", wrong, asked.part + 1,
                           run.parts.size(), departure_km(request.route));
}

/// Plans the part that is asked about, and nothing else of the way.
int answer_why_not(const PlanOptions& options, const RunInput& run, const QuestionOfPart& asked,
                   std::optional<KeptRuns>& kept) {
  const PlanInput& part = run.parts[asked.part];
  const auto plan = make_driven_part(part.request, part.changes);
  if (!plan) {
    return kept->say_stopped();
  }
  if (kept && !kept->speaks()) {
    return exit_done;
  }
  const auto why = why_not(part.request, *plan, asked.question.asked, asked.question.at_km);
  if (!why) {
    return kept->say_stopped();
  }
  const AskedPart of{.number = asked.part + 1, .count = run.parts.size()};
  return print_result(options.common.json() ? json_text(why_not_to_json(*plan, *why, of))
                                            : why_not_to_text(*plan, *why, of),
                      why->answer == Answer::permitted ? exit_done : exit_answer_no);
}

/// The date on this machine, as YYYY-MM-DD.
std::string date_of_today() {
  const std::time_t now = std::time(nullptr);
  std::tm day{};
  localtime_r(&now, &day);
  return fmt::format("{:04}-{:02}-{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

int compare_with(const PlanOptions& options, const SaidRun& earlier, const RunPlan& plan) {
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

/// Hands out the plan: of a train on a route as that of any train, of a run with all its parts.
int hand_out(const PlanOptions& options, const RunPlan& planned) {
  const bool is_run = !options.run.empty();
  if (!options.out.empty()) {
    if (const int status = write_sheets(options.out, card_stem,
                                        is_run ? run_sheets(planned) : train_sheets(planned),
                                        inputs_of(options, inputs_of(planned)));
        status != exit_done) {
      return status;
    }
  }
  return print_result(options.common.json()
                          ? json_text(is_run ? run_to_json(planned) : train_plan_to_json(planned))
                          : run_to_text(planned),
                      answer_of(planned) == Answer::permitted ? exit_done : exit_answer_no);
}

/// What is compared with an earlier plan is said as that is.
Words words_of_options(const PlanOptions& options, const std::optional<SaidRun>& earlier,
                       Diagnostics& diagnostics) {
  const std::string said_in = earlier ? earlier->front().language : "en";
  const std::vector<std::string> built_in = built_in_languages();
  const bool known = std::ranges::find(built_in, said_in) != built_in.end();
  if (options.language.empty() && known) {
    return built_in_words(said_in);
  }
  Words words = options.language.empty() ? Words() : words_of(options.language, diagnostics);
  if (earlier && words.language() != said_in) {
    diagnostics.push_back(
        {{.file = options.against},
         fmt::format("its texts are in the language '{}': {} says what it is held "
                     "against in another",
                     said_in, options.language.empty() ? "panup" : "--language")});
  }
  return words;
}

/// Plans a train, part after part.
int run_plan(const PlanOptions& options) {
  Diagnostics diagnostics;
  // Reads all files, so that the mistakes of all of them are seen at once.
  const SpeedFrom speed_from = *speed_from_named(options.speed_from);
  std::optional<SaidRun> earlier;
  if (!options.against.empty()) {
    if (const auto source = load_text(options.against, diagnostics)) {
      earlier = read_plan_json(*source, diagnostics);
    }
  }
  PlanPaths paths = paths_of_options(options);
  paths.words = words_of_options(options, earlier, diagnostics);
  auto run = read_train_input(paths, speed_from, files_on_disk(), diagnostics);
  if (print_diagnostics(diagnostics) || !run) {
    return exit_wrong_input;
  }
  QuestionOfPart asked;
  if (!options.why_not.empty()) {
    if (const std::string wrong = read_question(options.why_not, *run, asked); !wrong.empty()) {
      say("panup: --why-not {}: {}\n", options.why_not, wrong);
      return exit_wrong_input;
    }
  }
  std::optional<KeptRuns> kept;
  if (!open_runs(speed_from, options.kept, options.common.jobs, kept)) {
    return exit_wrong_input;
  }
  for (PlanInput& input : run->parts) {
    make_ready(input, options.common.jobs, kept);
  }
  if (!options.why_not.empty()) {
    return answer_why_not(options, *run, asked, kept);
  }
  const auto planned = plan_parts(std::move(*run), program_version);
  if (!planned) {
    return kept->say_stopped();
  }
  if (kept && !kept->speaks()) {
    return exit_done;
  }
  return earlier ? compare_with(options, *earlier, *planned) : hand_out(options, *planned);
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
  CLI::Option* const out = command
                               ->add_option("--out", options->out,
                                            "folder for plan.txt, plan.json, sections and orders "
                                            "as CSV, the driver's card as PDF, SVG "
                                            "and PNG, and the engineer's report as PDF and HTML")
                               ->type_name("DIR")
                               ->check(not_empty());
  command
      ->add_option("--why-not", options->why_not,
                   "why these pantographs are not up at this chainage, as in 1.2,2.1@12.4")
      ->type_name("V.P,…@KM")
      ->check(not_empty())
      ->excludes(out);
  command
      ->add_option("--against", options->against,
                   "a plan.json or run.json written earlier: whether what was handed out with it "
                   "still holds")
      ->type_name("FILE")
      ->check(not_empty())
      ->excludes(out)
      ->excludes("--why-not");
  command
      ->add_option(
          "--speed-from", options->speed_from,
          "what gives the speed of the raised pantographs: tables (records, consents, "
          "design types), mechanics, or both, the lower of the two; tables where not given")
      ->type_name("WHAT")
      ->check(CLI::IsMember({"tables", "mechanics", "both"}));
  add_language_option(*command, options->language);
  add_kept_runs_options(*command, options->kept);
  add_common_options(*command, options->common);
  command->callback([options, train, route, &status] {
    if (options->run.empty() && (options->train.empty() || options->route.empty())) {
      // Needed unless a run says both.
      train->required();
      route->required();
      throw CLI::RequiredError("--train and --route");
    }
    status = run_plan(*options);
  });
}

}  // namespace panup
