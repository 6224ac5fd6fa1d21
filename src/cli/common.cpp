#include <fmt/format.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/version.h"
#include "files/read_rule_book.h"

namespace panup {

void add_common_options(CLI::App& command, CommonOptions& options) {
  command.add_option("--format", options.format, "text or json")
      ->check(CLI::IsMember({"text", "json"}))
      ->type_name("FORMAT");
  command.add_option("--jobs", options.jobs, "threads to use; 0: as many as the machine has")
      ->check(CLI::Range(0, 1024))
      ->type_name("N");
  set_version(command);
}

void set_version(CLI::App& program) {
  program.set_version_flag("--version", fmt::format("panup {}", program_version));
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

std::string json_text(const nlohmann::ordered_json& document) {
  return document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
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
