#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "drawing/csv_table.h"
#include "stock_tables/types_from_register.h"

namespace panup {

namespace {

struct TablesFromRegisterOptions {
  CommonOptions common;
  std::string types;
  std::string out;
  bool replace = false;
};

std::string to_text(const TablesOfTypes& tables, const Diagnostics& notes) {
  std::string text = fmt::format("{} vehicle type{}. Still to be told:\n", tables.types,
                                 tables.types == 1 ? "" : "s");
  for (const std::string& sentence : tables.to_be_told) {
    text += "- " + sentence + "\n";
  }
  text += notes.empty() ? "" : "To be looked at:\n";
  for (const Diagnostic& note : notes) {
    text += fmt::format("- {}\n", to_line(note));
  }
  return text;
}

nlohmann::ordered_json to_json(const TablesOfTypes& tables, const Diagnostics& notes) {
  auto said = nlohmann::ordered_json::array();
  for (const Diagnostic& note : notes) {
    said.push_back(to_line(note));
  }
  return {{"types", tables.types}, {"to_be_told", tables.to_be_told}, {"notes", std::move(said)}};
}

int run_tables_from_register(const TablesFromRegisterOptions& options) {
  for (const char* const name : {"pantographs.csv", "classes.csv", "roofs.csv"}) {
    const std::filesystem::path path = std::filesystem::path(options.out) / name;
    std::error_code error;
    if (!options.replace && std::filesystem::exists(path, error)) {
      say("panup: {} is there already; --replace writes over it\n", path.string());
      return exit_wrong_input;
    }
  }
  Diagnostics mistakes;
  Diagnostics notes;
  const RegisterRows rows =
      load_register_rows(options.types, vehicle_type_columns, mistakes, notes);
  if (mistakes.empty() && rows.rows.empty()) {
    mistakes.push_back({{.file = options.types}, "there is no vehicle type in it"});
  }
  if (print_diagnostics(mistakes)) {
    return exit_wrong_input;
  }
  const TablesOfTypes tables = tables_of_types(rows, notes);
  std::vector<OutputFile> files;
  add_rendered(csv_files({tables.pantographs, tables.classes, tables.roofs}, {.thing = "table"}),
               files);
  const int status = write_out(options.out, files, {options.types});
  if (status != exit_done) {
    return status;
  }
  return print_result(
      options.common.json() ? json_text(to_json(tables, notes)) : to_text(tables, notes),
      exit_done);
}

}  // namespace

void add_tables_from_register_command(CLI::App& program, int& status) {
  auto options = std::make_shared<TablesFromRegisterOptions>();
  CLI::App* const command = program.add_subcommand(
      "tables-from-register",
      "makes tables for from-tables of what the vehicle register says of its types");
  command
      ->add_option("--types", options->types,
                   "the answer to the query of vehicle types, JSON or CSV (docs/from-tables.md)")
      ->required()
      ->type_name("FILE");
  command->add_option("--out", options->out, "folder for the tables")
      ->required()
      ->type_name("DIR")
      ->check(not_empty());
  command->add_flag("--replace", options->replace, "write over the tables that are there");
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_tables_from_register(*options); });
}

}  // namespace panup
