#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/cell_values.h"
#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "files/read_network.h"
#include "register_rows/changes_report.h"
#include "register_rows/place_separations.h"
#include "register_rows/register_to_network.h"
#include "register_rows/values.h"

namespace panup {

namespace {

struct FromRegisterOptions {
  CommonOptions common;
  std::string sections;
  std::string separations;
  std::string out;
  std::vector<std::string> starts;
  FromRegister how;
  std::string day;
  std::vector<std::string> runs;
  bool replace = false;
};

/// "LINE=KM"; says what is wrong with it.
bool take_start(const std::string& text, LineStarts& starts) {
  const std::size_t equals = text.rfind('=');
  const auto km = equals == std::string::npos
                      ? std::nullopt
                      : number_in_cell(std::string_view(text).substr(equals + 1));
  if (!km || equals == 0 || *km < 0 || *km > 5000) {
    say("panup: --start {}: expected LINE=KM, a line and a kilometre from 0 to 5000\n", text);
    return false;
  }
  if (!starts.emplace(text.substr(0, equals), *km).second) {
    say("panup: --start {}: the line has a start already\n", text);
    return false;
  }
  return true;
}

nlohmann::ordered_json to_json(const RegisterNetwork& network, const Diagnostics& notes,
                               const std::optional<ChangesReport>& changes) {
  auto lines = nlohmann::ordered_json::array();
  for (const ChainedLine& line : network.lines) {
    lines.push_back({{"id", line.id},
                     {"from_km", line.sections.front().from_km},
                     {"to_km", line.sections.back().to_km},
                     {"sections", line.sections.size()},
                     {"start_told", line.start_told}});
  }
  auto said = nlohmann::ordered_json::array();
  for (const Diagnostic& note : notes) {
    said.push_back(to_line(note));
  }
  return {{"lines", std::move(lines)},
          {"sections", network.sections},
          {"separations", network.separations},
          {"notes", std::move(said)},
          {"against", changes ? changes_to_json(*changes) : nlohmann::ordered_json(nullptr)}};
}

std::string to_text(const RegisterNetwork& network, const Diagnostics& notes,
                    const std::optional<ChangesReport>& changes) {
  std::string text = fmt::format("{} line{}, {} section{}, {} separation section{}:\n",
                                 network.lines.size(), network.lines.size() == 1 ? "" : "s",
                                 network.sections, network.sections == 1 ? "" : "s",
                                 network.separations, network.separations == 1 ? "" : "s");
  for (const ChainedLine& line : network.lines) {
    text += fmt::format("- {}: km {:.9g} to {:.9g}{}\n", line.id, line.sections.front().from_km,
                        line.sections.back().to_km,
                        line.start_told ? "" : ", counted from 0: its start is not known");
  }
  text += notes.empty() ? "" : "To be looked at:\n";
  for (const Diagnostic& note : notes) {
    text += fmt::format("- {}\n", to_line(note));
  }
  return changes ? text + changes_to_text(*changes) : text;
}

/// The runs that the command names and those of the day; nothing where the day has mistakes.
std::optional<std::vector<RunOfTrain>> runs_asked_for(const FromRegisterOptions& options,
                                                      RunsTouched& touched, Diagnostics& mistakes) {
  std::vector<RunOfTrain> runs;
  for (const std::string& path : options.runs) {
    runs.push_back({.train = {}, .path = path});
  }
  if (!options.day.empty()) {
    const auto day = read_day_file(options.day, mistakes);
    if (!day) {
      return std::nullopt;
    }
    add_runs_of(*day, runs, touched);
  }
  return runs;
}

/// What differs from the network that is there; nothing where that one cannot be read.
std::optional<ChangesReport> compared(const FromRegisterOptions& options,
                                      const RegisterNetwork& network,
                                      const std::optional<std::vector<RunOfTrain>>& runs,
                                      RunsTouched touched, Diagnostics& unreadable) {
  const auto there = load_text(options.out, unreadable);
  auto changes =
      there ? network_changes(*there, network.text, unreadable, network.by_hand) : std::nullopt;
  if (!changes) {
    return std::nullopt;
  }
  ChangesReport report{.changes = std::move(*changes),
                       .kept = network.kept,
                       .by_hand = network.by_hand,
                       .runs = std::nullopt,
                       .written = options.replace};
  if (runs) {
    Diagnostics ignored;  // with mistakes every way is in doubt, which is said of each
    const ChangedNetwork both{
        .path = options.out,
        .before = read_network(*there, ignored),
        .then = *read_network({.file = options.out, .text = network.text}, ignored),
        .changes = &report.changes};
    find_touched(both, *runs, files_on_disk(), touched);
    report.runs = std::move(touched);
  }
  return report;
}

int run_from_register(FromRegisterOptions options) {
  for (const std::string& start : options.starts) {
    if (!take_start(start, options.how.starts)) {
      return exit_wrong_input;
    }
  }
  if (id_from(options.how.id, "") != options.how.id) {
    say("panup: --id {}: an id is made of letters, digits, '-', '_' and '.'\n", options.how.id);
    return exit_wrong_input;
  }
  const auto place = file_place(options.out);
  if (!place) {
    say("panup: --out {}: this is no file that could be written\n", options.out);
    return exit_wrong_input;
  }
  std::error_code error;
  const bool is_there = std::filesystem::exists(options.out, error);
  const bool asks_for_trains = !options.day.empty() || !options.runs.empty();
  if (asks_for_trains && !is_there) {
    say("panup: --{} asks which trains come by what differs, and there is no {} that anything "
        "could differ from\n",
        options.day.empty() ? "run" : "day", options.out);
    return exit_wrong_input;
  }
  Diagnostics mistakes;
  Diagnostics notes;
  const RegisterRows sections =
      load_register_rows(options.sections, section_columns, mistakes, notes);
  const RegisterRows separations =
      load_register_rows(options.separations, separation_columns, mistakes, notes);
  options.how.made_at = time_or_now(options.how.made_at);
  if (is_there) {
    Diagnostics told_below;
    const auto there = load_text(options.out, told_below);
    options.how.by_hand = there ? tables_by_hand(*there) : std::vector<KeptTable>{};
    options.how.kept = there ? kept_of_network(*there) : std::vector<KeptValue>{};
  }
  const auto network =
      mistakes.empty() ? network_from_register(sections, separations, options.how, mistakes, notes)
                       : std::nullopt;
  RunsTouched touched;
  std::optional<std::vector<RunOfTrain>> runs;
  if (asks_for_trains) {
    runs = runs_asked_for(options, touched, mistakes);
  }
  if (print_diagnostics(mistakes) || !network) {
    return exit_wrong_input;
  }
  Diagnostics unreadable;
  const auto changes =
      is_there ? compared(options, *network, runs, touched, unreadable) : std::nullopt;
  if (is_there && !changes) {
    print_diagnostics(unreadable);
    say("panup: {} is there already and is no network that the new one could be compared with; "
        "{}\n",
        options.out, options.replace ? "it is written over" : "--replace writes over it");
    if (!options.replace) {
      return exit_wrong_input;
    }
  }
  const bool writes = !is_there || options.replace;
  if (writes) {
    const int status = write_out(place->folder, {{place->name, network->text}},
                                 {options.sections, options.separations});
    if (status != exit_done) {
      return status;
    }
  }
  const std::string told = options.common.json() ? json_text(to_json(*network, notes, changes))
                                                 : to_text(*network, notes, changes);
  const bool same = changes && changes->changes.tables.empty();
  const int status = print_result(told, writes || same ? exit_done : exit_answer_no);
  if (!writes) {
    say("panup: {} is there already{}; nothing was written, --replace writes over it\n",
        options.out, same ? " and says the same" : "");
  }
  return status;
}

}  // namespace

void add_from_register_command(CLI::App& program, int& status) {
  auto options = std::make_shared<FromRegisterOptions>();
  CLI::App* const command = program.add_subcommand(
      "from-register", "makes a network of what the infrastructure register answers");
  command
      ->add_option("--sections", options->sections,
                   "the answer to the query of sections, JSON or CSV (docs/register.md)")
      ->required()
      ->type_name("FILE");
  command
      ->add_option("--separations", options->separations,
                   "the answer to the query of separation sections, JSON or CSV")
      ->required()
      ->type_name("FILE");
  command->add_option("--out", options->out, "the network that is written")
      ->required()
      ->type_name("FILE")
      ->check(not_empty());
  command->add_flag("--replace", options->replace,
                    "write over the network that is there; without it only what differs is told");
  command
      ->add_option("--day", options->day,
                   "a day: which of its trains come by what differs from the network that is there")
      ->type_name("FILE");
  command->add_option("--run", options->runs, "the same of the run of a train")->type_name("FILE");
  command->add_option("--start", options->starts, "the kilometre at which a line begins")
      ->type_name("LINE=KM");
  command
      ->add_option("--answered", options->how.answered,
                   "the day on which the register answered, where the answers do not state it")
      ->type_name("DAY")
      ->check(day_of_calendar());
  command
      ->add_option("--track", options->how.track,
                   "the track that counts where a section has it; else the strictest of all")
      ->type_name("ID");
  command->add_option("--id", options->how.id, "id of the network")
      ->type_name("ID")
      ->default_str("register")
      ->check(not_empty());
  command->add_option("--name", options->how.name, "name of the network")
      ->type_name("TEXT")
      ->check(not_empty());
  command->add_flag("--no-other-separations", options->how.no_other_separations,
                    "sections of which the register does not say whether they have separation "
                    "sections have none; you vouch for it");
  add_time_of_import(*command, options->how.made_at);
  add_common_options(*command, options->common);
  options->how.id = "register";
  options->how.name = "From the infrastructure register";
  command->callback([options, &status] { status = run_from_register(*options); });
}

}  // namespace panup
