#include <csignal>
#include <exception>
#include <sstream>

#include "cli/commands.h"
#include "cli/say.h"

namespace {

int run(int argc, char** argv) {
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
  panup::add_rules_command(program, status);
  panup::add_check_command(program, status);
  panup::add_simulate_command(program, status);
  panup::add_envelope_command(program, status);
  panup::add_store_command(program, status);
  panup::add_serve_command(program, status);
  try {
    program.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    const bool asked_for = error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success);
    std::ostringstream answer;
    std::ostringstream mistake;
    program.exit(error, answer, mistake);
    panup::say(mistake.view());
    return panup::print_result(answer.str(),
                               asked_for ? panup::exit_done : panup::exit_wrong_input);
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
    return run(argc, argv);
  } catch (const std::exception& error) {
    panup::say("panup: a fault of the program: {}\n", error.what());
    return panup::exit_fault;
  }
}
