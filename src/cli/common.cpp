#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>

#include "base/file_source.h"
#include "cli/built_from.h"
#include "cli/commands.h"
#include "cli/option_checks.h"
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

void add_language_option(CLI::App& command, std::string& language) {
  command
      .add_option("--language", language,
                  fmt::format("what it is said in: {}, or the file of a language's words; en where "
                              "not given",
                              fmt::join(built_in_languages(), ", ")))
      ->type_name("LANGUAGE")
      ->check(not_empty());
}

Words words_of(const std::string& language, Diagnostics& diagnostics) {
  const std::vector<std::string> built_in = built_in_languages();
  if (std::ranges::find(built_in, language) != built_in.end()) {
    return built_in_words(language);
  }
  if (language.find_first_of("./") == std::string::npos) {
    diagnostics.push_back(
        {{.file = "--language"},
         fmt::format("there is no language '{}'; there are {}, and files of words, as in "
                     "words/{}.toml",
                     language, fmt::join(built_in, ", "), language)});
    return {};
  }
  const auto source = load_text(language, diagnostics);
  auto table = source ? read_words(*source, diagnostics) : nullptr;
  return table == nullptr ? Words() : Words(std::move(table));
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
