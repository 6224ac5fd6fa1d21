#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/utc_time.h"
#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
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

nlohmann::ordered_json to_json(const RegisterNetwork& network, const Diagnostics& notes) {
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
          {"notes", std::move(said)}};
}

std::string to_text(const RegisterNetwork& network, const Diagnostics& notes) {
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
  return text;
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
  if (!options.replace && std::filesystem::exists(options.out, error)) {
    say("panup: {} is there already; --replace writes over it\n", options.out);
    return exit_wrong_input;
  }
  Diagnostics mistakes;
  Diagnostics notes;
  const RegisterRows sections =
      load_register_rows(options.sections, section_columns, mistakes, notes);
  const RegisterRows separations =
      load_register_rows(options.separations, separation_columns, mistakes, notes);
  options.how.made_at = utc_now();
  const auto network =
      mistakes.empty() ? network_from_register(sections, separations, options.how, mistakes, notes)
                       : std::nullopt;
  if (print_diagnostics(mistakes) || !network) {
    return exit_wrong_input;
  }
  const int status = write_out(place->folder, {{place->name, network->text}},
                               {options.sections, options.separations});
  if (status != exit_done) {
    return status;
  }
  return print_result(
      options.common.json() ? json_text(to_json(*network, notes)) : to_text(*network, notes),
      exit_done);
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
  command->add_flag("--replace", options->replace, "write over the network that is there");
  command->add_option("--start", options->starts, "the kilometre at which a line begins")
      ->type_name("LINE=KM");
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
  add_common_options(*command, options->common);
  options->how.id = "register";
  options->how.name = "From the infrastructure register";
  command->callback([options, &status] { status = run_from_register(*options); });
}

}  // namespace panup
