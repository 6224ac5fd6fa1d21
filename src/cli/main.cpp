#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <csignal>
#include <exception>
#include <sstream>

#include "base/source_text.h"
#include "cli/commands.h"
#include "cli/say.h"

namespace {

/// "; did you mean 'plan'?", or else what `otherwise` says.
std::string suggestion(std::string_view word, const std::vector<std::string>& known,
                       std::string_view otherwise) {
  const std::string_view nearest = panup::nearest_of(word, known);
  return nearest.empty() ? fmt::format("; {}", otherwise)
                         : fmt::format("; did you mean '{}'?", nearest);
}

std::vector<std::string> commands_of(const CLI::App& program) {
  std::vector<std::string> names;
  for (const CLI::App* const command :
       program.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  return names;
}

/// What is wrong where the first word is not a command.
std::string no_command(const CLI::App& program, int argc, char** argv) {
  const std::vector<std::string> commands = commands_of(program);
  const std::string list = fmt::format("the commands are {}", fmt::join(commands, ", "));
  return argc < 2 ? fmt::format("a command is missing; {}", list)
                  : fmt::format("there is no command '{}'{}", argv[1],
                                suggestion(argv[1], commands, list));
}

/// Options that are missing and words that belong to none, all at once; empty where it is something
/// else that is wrong.
std::vector<std::string> missing_and_unknown(const CLI::App& command) {
  std::vector<std::string> mistakes;
  std::vector<std::string> names;
  for (const CLI::Option* const option : command.get_options()) {
    names.push_back(option->get_name());
    if (option->get_required() && option->count() == 0) {
      const std::string value =
          option->get_positional() ? std::string() : " " + option->get_type_name();
      mistakes.push_back(
          fmt::format("{}{} is missing: {}", option->get_name(), value, option->get_description()));
    }
  }
  for (const std::string& word : command.remaining(true)) {
    mistakes.push_back(word.starts_with("-") ? fmt::format("there is no option '{}'{}", word,
                                                           suggestion(word, names, "see --help"))
                                             : fmt::format("'{}' belongs to no option", word));
  }
  return mistakes;
}

/// Says all that is wrong with a command line.
void say_wrong(const CLI::App& program, const CLI::ParseError& error) {
  const auto chosen = program.get_subcommands();
  const CLI::App& command = chosen.empty() ? program : *chosen.front();
  const int code = error.get_exit_code();
  std::vector<std::string> mistakes;
  if (code == static_cast<int>(CLI::ExitCodes::RequiredError) ||
      code == static_cast<int>(CLI::ExitCodes::ExtrasError)) {
    mistakes = missing_and_unknown(command);
  }
  if (code == static_cast<int>(CLI::ExitCodes::ArgumentMismatch)) {
    const std::string_view what = error.what();  // begins with the name of the option
    const std::string name(what.substr(0, what.find(':')));
    const CLI::Option* const option = command.get_option_no_throw(name);
    if (option != nullptr) {
      mistakes.push_back(fmt::format("{} {}: its value is missing", name, option->get_type_name()));
    }
  }
  if (mistakes.empty()) {
    mistakes.emplace_back(error.what());
  }
  for (const std::string& mistake : mistakes) {
    panup::say("panup: {}\n", mistake);
  }
  panup::say("'panup{} --help' says what it takes.\n",
             chosen.empty() ? std::string() : " " + command.get_name());
}

int run_program(int argc, char** argv) {
  CLI::App program(
      "panup says which pantographs of an electric train go up, where they change, how fast the "
      "train may run with them, and what to do when one fails.",
      "panup");
  program.require_subcommand(1);
  panup::set_version(program);
  program.footer(
      "Exit status: 0 done, the answer is yes; 1 done, the answer is no; 2 the input or the "
      "command line is wrong; 3 a fault of the program.");
  int status = panup::exit_done;
  panup::add_plan_command(program, status);
  panup::add_day_command(program, status);
  panup::add_issue_command(program, status);
  panup::add_issued_command(program, status);
  panup::add_failed_command(program, status);
  panup::add_rules_command(program, status);
  panup::add_check_command(program, status);
  panup::add_simulate_command(program, status);
  panup::add_measured_command(program, status);
  panup::add_fit_command(program, status);
  panup::add_envelope_command(program, status);
  panup::add_speeds_command(program, status);
  panup::add_store_command(program, status);
  panup::add_to_network_command(program, status);
  panup::add_from_register_command(program, status);
  panup::add_from_tables_command(program, status);
  panup::add_from_message_command(program, status);
  panup::add_tables_from_register_command(program, status);
  panup::add_serve_command(program, status);
  const bool option_first = argc > 1 && argv[1][0] == '-';
  const std::vector<std::string> commands = commands_of(program);
  if (!option_first && (argc < 2 || std::ranges::find(commands, argv[1]) == commands.end())) {
    panup::say("panup: {}\n'panup --help' says what each is for.\n",
               no_command(program, argc, argv));
    return panup::exit_wrong_input;
  }
  try {
    program.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() != static_cast<int>(CLI::ExitCodes::Success)) {
      say_wrong(program, error);
      return panup::exit_wrong_input;
    }
    std::ostringstream answer;
    program.exit(error, answer, answer);
    return panup::print_result(answer.str(), panup::exit_done);
  }
  return status;
}

}  // namespace

int main(int argc, char** argv) {
  // A limit on the size of files and a reader that has gone are errors of the write that meets
  // them: it says so and puts away what was begun, instead of the signal ending the program.
  static_cast<void>(std::signal(SIGXFSZ, SIG_IGN));
  static_cast<void>(std::signal(SIGPIPE, SIG_IGN));
  try {
    return run_program(argc, argv);
  } catch (const std::exception& error) {
    panup::say("panup: a fault of the program: {}\n", error.what());
    return panup::exit_fault;
  }
}
