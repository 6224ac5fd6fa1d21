#include <fmt/format.h>

#include <cstdio>

#include "cli/commands.h"
#include "files/read_rule_book.h"

namespace panup {

void add_common_options(CLI::App& command, CommonOptions& options) {
  command.add_option("--format", options.format, "text or json")
      ->check(CLI::IsMember({"text", "json"}))
      ->type_name("FORMAT");
  command.add_option("--jobs", options.jobs, "threads to use; 0: as many as the machine has")
      ->check(CLI::Range(0, 1024))
      ->type_name("N");
}

bool print_diagnostics(Diagnostics diagnostics) {
  sort_by_place(diagnostics);
  for (const Diagnostic& diagnostic : diagnostics) {
    fmt::print(stderr, "{}\n", to_line(diagnostic));
  }
  return !diagnostics.empty();
}

std::optional<RuleBook> read_rule_books(const std::vector<std::string>& paths,
                                        Diagnostics& diagnostics) {
  RuleBook book = built_in_rule_book();
  bool whole = true;
  for (const std::string& path : paths) {
    const auto source = load_text(path, diagnostics);
    auto longer = source ? add_rule_book(book, *source, diagnostics) : std::nullopt;
    if (longer) {
      book = std::move(*longer);
    } else {
      whole = false;
    }
  }
  return whole ? std::optional(std::move(book)) : std::nullopt;
}

int print_result(const std::string& text, int status) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (std::fflush(stdout) != 0 || !written) {
    fmt::print(stderr, "panup: the result could not be written to standard output\n");
    return exit_fault;
  }
  return status;
}

}  // namespace panup
