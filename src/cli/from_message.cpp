#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/cell_values.h"
#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "cli/say.h"
#include "files/read_network.h"
#include "files/read_train.h"
#include "train_messages/run_from_message.h"

namespace panup {

namespace {

struct FromMessageOptions {
  CommonOptions common;
  std::string message;
  std::string series;
  std::vector<std::string> stock;
  std::string out;
  bool replace = false;
  std::vector<std::string> cabs;
  std::string other_load;
  std::string lengths_in = "cm";
  std::string run;
  std::string network;
  std::string places;
  std::string way;
  FromMessage how;
};

/// "VEHICLE=CAB"; says what is wrong with it.
bool take_cab(const std::string& text, FromMessage& how) {
  const std::size_t equals = text.rfind('=');
  const std::string vehicle = digits_of(std::string_view(text).substr(0, equals));
  const std::string cab = equals == std::string::npos ? "" : text.substr(equals + 1);
  if (vehicle.empty() || (cab != "1" && cab != "2")) {
    say("panup: --cab {}: expected VEHICLE=1 or VEHICLE=2, a vehicle number of 12 digits or, from "
        "the front, 1, 2, …\n",
        text);
    return false;
  }
  if (!how.leading_cabs.emplace(vehicle, cab == "1" ? Cab::cab1 : Cab::cab2).second) {
    say("panup: --cab {}: the vehicle has a cab already\n", text);
    return false;
  }
  return true;
}

/// As a file in `folder` names it.
std::string seen_from(const std::string& folder, const std::string& path) {
  namespace fs = std::filesystem;
  return fs::absolute(path)
      .lexically_normal()
      .lexically_proximate(fs::absolute(folder).lexically_normal())
      .generic_string();
}

nlohmann::ordered_json to_json(const TrainFromMessage& train, const Diagnostics& notes) {
  auto said = nlohmann::ordered_json::array();
  for (const Diagnostic& note : notes) {
    said.push_back(to_line(note));
  }
  return {{"id", train.id},
          {"name", train.name},
          {"vehicles", train.vehicles},
          {"wagons", train.wagons},
          {"notes", std::move(said)}};
}

std::string to_text(const TrainFromMessage& train, const Diagnostics& notes) {
  std::string text =
      fmt::format("{}: {} vehicle{}, {} wagon{}\n", train.name, train.vehicles,
                  train.vehicles == 1 ? "" : "s", train.wagons, train.wagons == 1 ? "" : "s");
  text += notes.empty() ? "" : "To be looked at:\n";
  for (const Diagnostic& note : notes) {
    text += fmt::format("- {}\n", to_line(note));
  }
  return text;
}

/// Takes up what the options state; says what is wrong with it.
bool take_up(FromMessageOptions& options) {
  for (const std::string& text : options.cabs) {
    if (!take_cab(text, options.how)) {
      return false;
    }
  }
  if (id_from(options.how.id, "") != options.how.id) {
    say("panup: --id {}: an id is made of letters, digits, '-', '_' and '.'\n", options.how.id);
    return false;
  }
  if (!options.other_load.empty()) {
    options.how.other_load =
        options.other_load == "ordinary" ? LoadNature::ordinary : LoadNature::sensitive;
  }
  options.how.metres_per_length_unit = options.lengths_in == "m"    ? 1
                                       : options.lengths_in == "cm" ? 0.01
                                                                    : 0.001;
  options.how.made_at = time_or_now(options.how.made_at);
  return true;
}

/// Where the files go; nothing, and why it is said, where they cannot.
std::optional<FilePlace> place_to_write(const FromMessageOptions& options) {
  auto place = file_place(options.out);
  if (!place) {
    say("panup: --out {}: this is no file that could be written\n", options.out);
    return std::nullopt;
  }
  const auto of_run = options.run.empty() ? place : file_place(options.run);
  if (!of_run || of_run->folder != place->folder ||
      (!options.run.empty() && of_run->name == place->name)) {
    say("panup: --run {}: expected another file in the folder of --out {}\n", options.run,
        options.out);
    return std::nullopt;
  }
  for (const std::string& path : {options.out, options.run}) {
    std::error_code error;
    if (!path.empty() && !options.replace && std::filesystem::exists(path, error)) {
      say("panup: {} is there already; --replace writes over it\n", path);
      return std::nullopt;
    }
  }
  return place;
}

/// What the files that a run needs say.
struct ReadForRun {
  std::optional<Network> network;
  std::optional<StockTable> places;
};

std::optional<StockTable> read_table(const std::string& path, const TableKind& kind,
                                     std::vector<std::string>& inputs, Diagnostics& mistakes) {
  inputs.push_back(path);
  const auto text = load_text(path, mistakes);
  return text ? std::optional(read_stock_table(*text, kind, mistakes)) : std::nullopt;
}

ReadForRun read_for_run(const FromMessageOptions& options, std::vector<std::string>& inputs,
                        Diagnostics& mistakes) {
  if (options.run.empty()) {
    return {};
  }
  inputs.push_back(options.network);
  const auto text = load_text(options.network, mistakes);
  return {.network = text ? read_network(*text, mistakes) : std::nullopt,
          .places = read_table(options.places, place_table, inputs, mistakes)};
}

/// The files that are made: of the train, and of the run where one is asked for.
struct MadeOfMessage {
  TrainFromMessage train;
  std::vector<OutputFile> files;
};

std::optional<MadeOfMessage> make_files(const FromMessageOptions& options,
                                        const CompositionMessage& message, const StockTable& series,
                                        const Stock& stock, const ReadForRun& for_run,
                                        const FilePlace& place, Diagnostics& mistakes,
                                        Diagnostics& notes) {
  if (options.run.empty()) {
    const auto train = train_from_message(message, series, stock, options.how, mistakes, notes);
    return train ? std::optional(MadeOfMessage{*train, {{place.name, train->text}}}) : std::nullopt;
  }
  const auto run = run_from_message(message, series, stock, options.how,
                                    {.network = &*for_run.network,
                                     .places = &*for_run.places,
                                     .network_name = seen_from(place.folder, options.network),
                                     .train_name = place.name,
                                     .way = options.way},
                                    mistakes, notes);
  return run ? std::optional(MadeOfMessage{
                   run->train,
                   {{place.name, run->train.text}, {file_place(options.run)->name, run->text}}})
             : std::nullopt;
}

int make_of_message(FromMessageOptions options) {
  if (!take_up(options)) {
    return exit_wrong_input;
  }
  const auto place = place_to_write(options);
  if (!place) {
    return exit_wrong_input;
  }
  Diagnostics mistakes;
  Diagnostics notes;
  std::vector<std::string> inputs{options.message};
  const auto text = load_text(options.message, mistakes);
  const auto message = text ? read_composition_message(*text, mistakes) : std::nullopt;
  const auto series = read_table(options.series, series_table, inputs, mistakes);
  std::vector<SourceText> stock_texts;
  for (const std::string& path : options.stock) {
    inputs.push_back(path);
    options.how.stock_names.push_back(seen_from(place->folder, path));
    if (auto source = load_text(path, mistakes)) {
      stock_texts.push_back(std::move(*source));
    }
  }
  const Stock stock = read_stock(stock_texts, mistakes);
  tell_missing_pantographs(stock, "state it with a further --stock", mistakes);
  const ReadForRun for_run = read_for_run(options, inputs, mistakes);
  const auto made =
      mistakes.empty() && message && series
          ? make_files(options, *message, *series, stock, for_run, *place, mistakes, notes)
          : std::nullopt;
  if (print_diagnostics(mistakes) || !made) {
    return exit_wrong_input;
  }
  const int status = write_out(place->folder, made->files, inputs);
  if (status != exit_done) {
    return status;
  }
  sort_by_place(notes);
  return print_result(
      options.common.json() ? json_text(to_json(made->train, notes)) : to_text(made->train, notes),
      exit_done);
}

}  // namespace

void add_from_message_command(CLI::App& program, int& status) {
  auto options = std::make_shared<FromMessageOptions>();
  CLI::App* const command = program.add_subcommand(
      "from-message", "makes a train file of a train composition message of TAF TSI");
  command
      ->add_option("--message", options->message,
                   "the message, an XML file (docs/from-messages.md)")
      ->required()
      ->type_name("FILE")
      ->check(not_empty());
  command
      ->add_option("--series", options->series,
                   "a table as CSV: which class of the stock a series of the vehicle number is")
      ->required()
      ->type_name("FILE")
      ->check(not_empty());
  command
      ->add_option("--series-dated", options->how.series_dated,
                   "the day of which the table of series is, as its author states it")
      ->type_name("DAY")
      ->check(day_of_calendar());
  command->add_option("--stock", options->stock, "a stock file that the train is made of")
      ->required()
      ->type_name("FILE");
  command->add_option("--out", options->out, "the train file that is written")
      ->required()
      ->type_name("FILE")
      ->check(not_empty());
  command->add_flag("--replace", options->replace, "write over the file that is there");
  command
      ->add_option("--section", options->how.section,
                   "section of the journey, counted from 1; needed where there are several")
      ->type_name("N")
      ->check(CLI::Range(std::size_t{1}, most_journey_sections));
  CLI::Option* const run =
      command
          ->add_option("--run", options->run,
                       "the run of the whole journey, a file beside the train; needs --network, "
                       "--places and --way")
          ->type_name("FILE")
          ->check(not_empty())
          ->excludes("--section");
  for (const auto& [name, text, type, what] :
       {std::tuple{"--network", &options->network, "FILE",
                   "the network that the run leads through"},
        std::tuple{"--places", &options->places, "FILE",
                   "a table as CSV: which place of the network a location of the message is"},
        std::tuple{"--way", &options->way, "ID", "the way of the network that the train runs"}}) {
    CLI::Option* const option = command->add_option(name, *text, what);
    option->type_name(type)->check(not_empty())->needs(run);
    run->needs(option);
  }
  command
      ->add_option("--cab", options->cabs,
                   "the cab at the front of a vehicle: its number, or its place among the vehicles "
                   "from the front, and 1 or 2")
      ->type_name("VEHICLE=CAB");
  command
      ->add_option("--other-load", options->other_load,
                   "what the wagons are that have no dangerous goods: ordinary or sensitive")
      ->type_name("NATURE")
      ->check(CLI::IsMember({"ordinary", "sensitive"}));
  command->add_option("--acceleration", options->how.acceleration_ms2, "of the train, m/s²")
      ->required()
      ->type_name("MS2")
      ->check(number_from(least_acceleration_ms2, 2));
  command->add_option("--braking", options->how.braking_ms2, "of the train, m/s²")
      ->required()
      ->type_name("MS2")
      ->check(number_from(least_acceleration_ms2, 2));
  command
      ->add_option("--wagon-lengths-in", options->lengths_in,
                   "the unit of LengthOverBuffers: m, cm or mm; cm where it is not stated")
      ->type_name("UNIT")
      ->check(CLI::IsMember({"m", "cm", "mm"}));
  command->add_option("--id", options->how.id, "id of the train; else its number")
      ->type_name("ID")
      ->check(not_empty());
  command->add_option("--name", options->how.name, "name of the train; else its number and its way")
      ->type_name("TEXT")
      ->check(not_empty());
  command->add_flag("--invented", options->how.invented, "marks the train as demo data");
  add_time_of_import(*command, options->how.made_at);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = make_of_message(*options); });
}

}  // namespace panup
