#include "serve/serve.h"

#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/interruption.h"
#include "cli/kept_runs.h"
#include "cli/option_checks.h"
#include "cli/say.h"
#include "cli/version.h"
#include "serve/issue_requests.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

constexpr int usual_port = 8471;

struct ServeOptions {
  CommonOptions common;
  KeptRunsOptions kept;
  int port = usual_port;
  std::string library;
  std::vector<std::string> rules;
  std::string register_path;
};

/// The demo scenario: as it was installed with the program, or that of the sources, where the
/// program lies in the folder it was built in.
std::string usual_library() {
  std::error_code error;
  fs::path folder = fs::read_symlink("/proc/self/exe", error).parent_path();
  const fs::path installed = folder.parent_path() / "share" / "panup" / "demo";
  if (fs::is_directory(installed, error)) {
    return installed.string();
  }
  for (int up = 0; up < 3 && !folder.empty(); ++up) {
    const fs::path demo = folder / "data" / "demo";
    if (fs::is_directory(demo, error)) {
      return demo.string();
    }
    folder = folder.parent_path();
  }
  return {};
}

std::string words_of(const ServeAddress& address, bool json) {
  if (!json) {
    return fmt::format("the page is at {}\n", address.address);
  }
  return nlohmann::ordered_json{
             {"address", address.address}, {"port", address.port}, {"library", address.library}}
             .dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace) +
         "\n";
}

int run_serve(const ServeOptions& options) {
  ServeSettings settings;
  settings.library = options.library.empty() ? usual_library() : options.library;
  if (settings.library.empty()) {
    say("panup: no demo scenario lies beside the program; say where your files are, as in "
        "--library my-railway\n");
    return exit_wrong_input;
  }
  std::string wrong;
  if (const auto store = open_store(options.kept, wrong)) {
    settings.store = store->path();
  }
  if (!wrong.empty()) {
    say("panup: {}\n", wrong);
    return exit_wrong_input;
  }
  if (!options.register_path.empty()) {
    auto opened = IssueRegister::open(options.register_path);
    if (const auto* const why = std::get_if<std::string>(&opened)) {
      say("panup: {}\n", *why);
      return exit_wrong_input;
    }
    settings.issued_cards = std::make_shared<CardRegister>(
        options.register_path, std::move(std::get<IssueRegister>(opened)));
  }
  settings.rules = options.rules;
  settings.port = options.port;
  settings.jobs = options.common.jobs;
  settings.program_version = program_version;
  settings.warn = [](const std::string& text) { say("panup: {}\n", text); };
  note_interruptions();
  int status = exit_done;
  Diagnostics mistakes;
  serve(
      settings,
      [&](const ServeAddress& address) {
        status = print_result(words_of(address, options.common.json()), exit_done);
      },
      [&status] { return interrupted() || status != exit_done; }, mistakes);
  return print_diagnostics(mistakes) ? exit_wrong_input : status;
}

}  // namespace

void add_serve_command(CLI::App& program, int& status) {
  auto options = std::make_shared<ServeOptions>();
  CLI::App* const command = program.add_subcommand(
      "serve", "the page: planning in a browser on this machine, until Ctrl-C");
  command
      ->add_option(
          "--port", options->port,
          "port to listen on, on this machine alone; 8471 where not given, 0 for a free one")
      ->type_name("N")
      ->check(CLI::Range(0, 65535));
  command
      ->add_option("--library", options->library,
                   "folder of the files that the page may read and write; the demo scenario where "
                   "not given")
      ->type_name("DIR")
      ->check(not_empty());
  command
      ->add_option("--rules", options->rules,
                   "a rule book, after the built-in one and before those of the page; may be given "
                   "several times")
      ->type_name("FILE")
      ->allow_extra_args(false);
  command
      ->add_option("--register", options->register_path,
                   "the register of issued cards, as of panup issue, that the page issues cards "
                   "into; it is made where there is none; the page issues none where not given")
      ->type_name("FILE")
      ->check(not_empty());
  add_kept_runs_options(*command, options->kept);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_serve(*options); });
}

}  // namespace panup
