#pragma once
/// The room `cli`: the program that is started as `panup`. One file a command reads its options,
/// calls the engine and prints what comes back; what a command computes is computed elsewhere.

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "base/diagnostics.h"
#include "base/words.h"
#include "drawing/json_text.h"

namespace panup {

/// Exit statuses of the program.
inline constexpr int exit_done = 0;         ///< done, and the answer is yes
inline constexpr int exit_answer_no = 1;    ///< done, but the answer is no
inline constexpr int exit_wrong_input = 2;  ///< input or command line wrong
inline constexpr int exit_fault = 3;        ///< a fault of the program or of the machine

/// Options that every command takes.
struct CommonOptions {
  std::string format = "text";
  int jobs = 0;

  bool json() const { return format == "json"; }
};

void set_version(CLI::App& program);
/// `formats`: what `--format` takes.
void add_common_options(CLI::App& command, CommonOptions& options,
                        const std::vector<std::string>& formats = {"text", "json"});
/// `--record`, which is required.
void add_record_option(CLI::App& command, std::string& record);

/// `--language`, which has English in it where it is not given.
void add_language_option(CLI::App& command, std::string& language);
/// The language of that option: one that is built in, or the file of its words. English, and at
/// least one diagnostic, where there is no such one.
Words words_of(const std::string& language, Diagnostics& diagnostics);

/// Each adds a command to the program; `status` receives its exit status when it has run.
void add_plan_command(CLI::App& program, int& status);
void add_day_command(CLI::App& program, int& status);
void add_issue_command(CLI::App& program, int& status);
void add_issued_command(CLI::App& program, int& status);
void add_failed_command(CLI::App& program, int& status);
void add_rules_command(CLI::App& program, int& status);
void add_check_command(CLI::App& program, int& status);
void add_simulate_command(CLI::App& program, int& status);
void add_measured_command(CLI::App& program, int& status);
void add_fit_command(CLI::App& program, int& status);
void add_envelope_command(CLI::App& program, int& status);
void add_speeds_command(CLI::App& program, int& status);
void add_store_command(CLI::App& program, int& status);
void add_to_network_command(CLI::App& program, int& status);
void add_from_register_command(CLI::App& program, int& status);
void add_from_tables_command(CLI::App& program, int& status);
void add_from_message_command(CLI::App& program, int& status);
void add_tables_from_register_command(CLI::App& program, int& status);
void add_serve_command(CLI::App& program, int& status);

/// Prints diagnostics to standard error, by place. True if there were any.
bool print_diagnostics(Diagnostics diagnostics);

/// Prints to standard output; reports a full disk or a closed pipe as a fault.
int print_result(const std::string& text, int status);

}  // namespace panup
