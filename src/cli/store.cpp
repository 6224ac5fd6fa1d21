#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/say.h"
#include "runs/run_key.h"
#include "runs/run_store.h"

namespace panup {

namespace {

struct StoreOptions {
  CommonOptions common;
  std::string store;
  std::optional<double> shrink_mb;
  bool clear = false;
};

constexpr double bytes_of_mb = 1e6;

int wrong_store(const std::string& text, int status = exit_wrong_input) {
  say("panup: {}\n", text);
  return status;
}

std::string counted(std::int64_t runs) {
  return fmt::format("{} run{}", runs, runs == 1 ? "" : "s");
}

std::string to_text(const StoreContents& contents) {
  std::string text = fmt::format(
      "store  {}\nkept   {}, {}{:.2f} MB\n", contents.path, counted(contents.runs),
      contents.answers > 0
          ? fmt::format("{} answer{} of days, ", contents.answers, contents.answers == 1 ? "" : "s")
          : std::string(),
      static_cast<double>(contents.bytes) / bytes_of_mb);
  if (contents.most_recent_use) {
    text += fmt::format("used   {} the longest ago, {} most recently\n", *contents.least_recent_use,
                        *contents.most_recent_use);
  }
  for (const RunsOfProgram& program : contents.by_program) {
    text += fmt::format("       {} by {}\n", counted(program.runs),
                        program.fingerprint == mechanics_fingerprint()
                            ? std::string("this program")
                            : "another: version " + program.fingerprint);
  }
  return text;
}

nlohmann::ordered_json to_json(const StoreContents& contents) {
  nlohmann::ordered_json json;
  json["store"] = contents.path;
  json["runs"] = contents.runs;
  json["answers"] = contents.answers;
  json["bytes"] = contents.bytes;
  json["least_recent_use"] = contents.least_recent_use
                                 ? nlohmann::ordered_json(*contents.least_recent_use)
                                 : nlohmann::ordered_json();
  json["most_recent_use"] = contents.most_recent_use
                                ? nlohmann::ordered_json(*contents.most_recent_use)
                                : nlohmann::ordered_json();
  json["programs"] = nlohmann::ordered_json::array();
  for (const RunsOfProgram& program : contents.by_program) {
    json["programs"].push_back({{"fingerprint", program.fingerprint},
                                {"runs", program.runs},
                                {"is_this", program.fingerprint == mechanics_fingerprint()}});
  }
  return json;
}

int run_store(const StoreOptions& options) {
  const auto path = options.store.empty() ? default_store_path() : std::optional(options.store);
  if (!path) {
    return wrong_store("no folder for caches is known; name the file with --store");
  }
  std::error_code error;
  const bool is_there = std::filesystem::exists(*path, error);
  if (error) {
    return wrong_store(fmt::format("store {}: it cannot be looked at: {}", *path, error.message()));
  }
  if (!is_there) {
    StoreContents none;
    none.path = *path;
    return print_result(options.common.json()
                            ? json_text(to_json(none))
                            : fmt::format("store  {}\nkept   nothing yet\n", *path),
                        exit_done);
  }
  auto opened = RunStore::open(*path);
  if (const auto* const text = std::get_if<std::string>(&opened)) {
    return wrong_store(*text);
  }
  auto& store = std::get<RunStore>(opened);
  if (!store.note().empty()) {
    say("panup: {}\n", store.note());
  }
  if (options.clear || options.shrink_mb) {
    const auto dropped =
        options.clear ? store.clear()
                      : store.shrink(static_cast<std::int64_t>(*options.shrink_mb * bytes_of_mb));
    if (const auto* const text = std::get_if<std::string>(&dropped)) {
      return wrong_store(*text, exit_fault);
    }
    say("dropped: {}\n", counted(std::get<std::int64_t>(dropped)));
  }
  const auto contents = store.contents();
  if (const auto* const text = std::get_if<std::string>(&contents)) {
    return wrong_store(*text, exit_fault);
  }
  const auto& found = std::get<StoreContents>(contents);
  return print_result(options.common.json() ? json_text(to_json(found)) : to_text(found),
                      exit_done);
}

}  // namespace

void add_store_command(CLI::App& program, int& status) {
  auto options = std::make_shared<StoreOptions>();
  CLI::App* const command =
      program.add_subcommand("store", "what computed runs are kept, and room made among them");
  command
      ->add_option("--store", options->store,
                   "the file; where not given, the one in the user's folder for caches")
      ->type_name("FILE")
      ->check(not_empty());
  CLI::Option* const shrink =
      command
          ->add_option(
              "--shrink", options->shrink_mb,
              "drop answers of days, then runs, the longest unused first, until the file has "
              "no more megabytes than this")
          ->type_name("MB")
          ->check(number_from(0, 1e6));
  command->add_flag("--clear", options->clear, "drop all runs, and all answers of days")
      ->excludes(shrink);
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_store(*options); });
}

}  // namespace panup
