#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/write_toml.h"
#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "stock_tables/stock_from_tables.h"

namespace panup {

namespace {

struct FromTablesOptions {
  CommonOptions common;
  std::string pantographs;
  std::string classes;
  std::string roofs;
  std::string vehicles;
  std::string wagons;
  std::vector<std::string> stock;
  std::string out;
  bool replace = false;
  FromTables how;
};

std::optional<StockTable> load_table(const std::string& path, const TableKind& kind,
                                     std::vector<std::string>& inputs, Diagnostics& mistakes) {
  if (path.empty()) {
    return std::nullopt;
  }
  inputs.push_back(path);
  const auto source = load_text(path, mistakes);
  return source ? std::optional(read_stock_table(*source, kind, mistakes)) : std::nullopt;
}

std::string counted_things(std::size_t number, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", number, number == 1 ? one : many);
}

std::string to_text(const StockFromTables& stock) {
  std::string text = fmt::format(
      "{}, {}, {}\n", counted_things(stock.pantographs, "pantograph type", "pantograph types"),
      counted_things(stock.classes, "class", "classes"),
      counted_things(stock.wagons, "wagon group", "wagon groups"));
  text += stock.vehicles.empty() ? "" : "A train file names the vehicles so:\n";
  for (const NumberedVehicle& one : stock.vehicles) {
    text += fmt::format("- {}: vehicle = \"{}\"{}\n", one.number, one.type,
                        one.type == one.of_class
                            ? ""
                            : fmt::format(", for it differs from its class {}", one.of_class));
  }
  for (const bool taken_over : {true, false}) {
    std::string lines;
    for (const KeptValue& value : stock.kept) {
      if (value.taken_over == taken_over) {
        lines += fmt::format(
            "- {}\n", to_line({value.place, fmt::format("{} {}: {}", value.table, value.called,
                                                        kept_words(value, "the table"))}));
      }
    }
    text += lines.empty() ? ""
            : taken_over  ? "Kept, for it does not come from the tables:\n" + lines
                          : "Lost, for the tables have no such thing any more:\n" + lines;
  }
  return text;
}

nlohmann::ordered_json to_json(const StockFromTables& stock) {
  auto vehicles = nlohmann::ordered_json::array();
  for (const NumberedVehicle& one : stock.vehicles) {
    vehicles.push_back({{"number", one.number}, {"class", one.of_class}, {"vehicle", one.type}});
  }
  auto kept = nlohmann::ordered_json::array();
  for (const KeptValue& value : stock.kept) {
    kept.push_back(
        {{"table", value.table},
         {"id", value.called},
         {"key", value.key},
         {"value", value_to_toml(value.value)},
         {"where_from", words_of(value.source)},
         {"kept", value.taken_over},
         {"in_the_tables",
          value.imported ? nlohmann::ordered_json(value_to_toml(*value.imported)) : nullptr}});
  }
  return {{"pantographs", stock.pantographs},
          {"classes", stock.classes},
          {"wagons", stock.wagons},
          {"vehicles", std::move(vehicles)},
          {"kept", std::move(kept)}};
}

int run_from_tables(FromTablesOptions options) {
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
  std::vector<std::string> inputs;
  const StockTables tables{
      .pantographs = load_table(options.pantographs, pantograph_table, inputs, mistakes),
      .classes = load_table(options.classes, class_table, inputs, mistakes),
      .roofs = load_table(options.roofs, roof_table, inputs, mistakes),
      .vehicles = load_table(options.vehicles, vehicle_table, inputs, mistakes),
      .wagons = load_table(options.wagons, wagon_table, inputs, mistakes)};
  if (inputs.empty()) {
    say("panup: name at least one table: --pantographs, --classes, --roofs, --vehicles or "
        "--wagons\n");
    return exit_wrong_input;
  }
  for (const std::string& path : options.stock) {
    inputs.push_back(path);
    if (auto source = load_text(path, mistakes)) {
      options.how.stock.push_back(std::move(*source));
    }
  }
  options.how.made_at = time_or_now(options.how.made_at);
  if (std::filesystem::exists(options.out, error)) {
    Diagnostics not_read;
    const auto there = load_text(options.out, not_read);
    options.how.kept = there ? kept_of_stock(*there) : std::vector<KeptValue>{};
  }
  const auto stock = stock_from_tables(tables, options.how, mistakes);
  if (print_diagnostics(mistakes) || !stock) {
    return exit_wrong_input;
  }
  const int status = write_out(place->folder, {{place->name, stock->text}}, inputs);
  if (status != exit_done) {
    return status;
  }
  return print_result(options.common.json() ? json_text(to_json(*stock)) : to_text(*stock),
                      exit_done);
}

}  // namespace

void add_from_tables_command(CLI::App& program, int& status) {
  auto options = std::make_shared<FromTablesOptions>();
  CLI::App* const command = program.add_subcommand(
      "from-tables", "makes a stock file of tables of a spreadsheet, saved as CSV");
  for (const auto& [name, path, what] :
       {std::tuple{"--pantographs", &options->pantographs,
                   "pantograph types, a row for each energy supply system (docs/from-tables.md)"},
        std::tuple{"--classes", &options->classes,
                   "classes of vehicles, a row for each energy supply system"},
        std::tuple{"--roofs", &options->roofs, "roofs, a row for each pantograph from cab 1"},
        std::tuple{"--vehicles", &options->vehicles,
                   "single vehicles: number, class, and in what they differ from it"},
        std::tuple{"--wagons", &options->wagons, "wagon groups"}}) {
    command->add_option(name, *path, what)->type_name("FILE")->check(not_empty());
  }
  command
      ->add_option("--stock", options->stock,
                   "a stock file that has pantograph types which the roofs name")
      ->type_name("FILE");
  command->add_option("--out", options->out, "the stock file that is written")
      ->required()
      ->type_name("FILE")
      ->check(not_empty());
  command->add_flag("--replace", options->replace, "write over the file that is there");
  command
      ->add_option("--dated", options->how.dated,
                   "the day of which the tables are, as their author states it")
      ->type_name("DAY")
      ->check(day_of_calendar());
  command->add_flag("--decimal-comma", options->how.decimal_comma,
                    "numbers of the tables have a decimal comma");
  command->add_flag("--invented", options->how.invented, "marks the stock as demo data");
  command
      ->add_option("--dynamic-models", options->how.dynamic_model_folder,
                   "folder of the pantograph models, seen from the stock file")
      ->type_name("DIR")
      ->check(not_empty());
  add_time_of_import(*command, options->how.made_at);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_from_tables(*options); });
}

}  // namespace panup
