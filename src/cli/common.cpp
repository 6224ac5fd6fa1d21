#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

#include "cli/built_from.h"
#include "cli/commands.h"
#include "cli/say.h"
#include "cli/version.h"

namespace panup {

void add_record_option(CLI::App& command, std::string& record) {
  command
      .add_option("--record", record,
                  "what the record is, and where its rows stand (kind \"measured force\")")
      ->required()
      ->type_name("FILE");
}

void add_common_options(CLI::App& command, CommonOptions& options,
                        const std::vector<std::string>& formats) {
  std::string words = formats.front();
  for (std::size_t i = 1; i < formats.size(); ++i) {
    words += (i + 1 < formats.size() ? ", " : " or ") + formats[i];
  }
  command.add_option("--format", options.format, words)
      ->check(CLI::IsMember(formats))
      ->type_name("FORMAT");
  command.add_option("--jobs", options.jobs, "threads to use; 0: as many as the machine has")
      ->check(CLI::Range(0, 1024))
      ->type_name("N");
  set_version(command);
}

void set_version(CLI::App& program) {
  const std::string_view commit = built_from();
  program.set_version_flag("--version",
                           commit.empty() ? fmt::format("panup {}", program_version)
                                          : fmt::format("panup {} ({})", program_version, commit));
}

bool print_diagnostics(Diagnostics diagnostics) {
  sort_by_place(diagnostics);
  for (const Diagnostic& diagnostic : diagnostics) {
    say("{}\n", to_line(diagnostic));
  }
  return !diagnostics.empty();
}

int print_result(const std::string& text, int status) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (std::fflush(stdout) != 0 || !written) {
    say("panup: the result could not be written to standard output: {}\n", std::strerror(errno));
    return exit_fault;
  }
  return status;
}

}  // namespace panup
