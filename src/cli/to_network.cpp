#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "base/file_source.h"
#include "cli/commands.h"
#include "cli/option_checks.h"
#include "cli/output_files.h"
#include "files/route_to_network.h"

namespace panup {

namespace {

struct ToNetworkOptions {
  CommonOptions common;
  std::string route;
  std::string train;
  std::string out;
};

int run_to_network(const ToNetworkOptions& options) {
  Diagnostics diagnostics;
  const FileSource files = files_on_disk();
  const auto route = files.load(options.route, diagnostics);
  if (!files.has(options.train)) {
    diagnostics.push_back({{.file = options.train}, "there is no such file"});
  }
  std::optional<RouteTakenApart> apart;
  const std::string network = "network.toml";
  const std::string run = "run.toml";
  if (route && diagnostics.empty()) {
    apart = take_apart(*route,
                       {.network_path = options.out + "/" + network,
                        .run_path = options.out + "/" + run,
                        .train_path = options.train},
                       diagnostics);
  }
  if (print_diagnostics(diagnostics) || !apart) {
    return exit_wrong_input;
  }
  const int status = write_out(options.out, {{network, apart->network}, {run, apart->run}},
                               {options.route, options.train});
  if (status != exit_done) {
    return status;
  }
  std::string told = fmt::format("Route '{}' became a network and a run:\n", apart->id);
  for (const std::string& sentence : apart->done) {
    told += "- " + sentence + "\n";
  }
  return print_result(options.common.json() ? json_text(nlohmann::ordered_json{
                                                  {"id", apart->id}, {"done", apart->done}})
                                            : told,
                      exit_done);
}

}  // namespace

void add_to_network_command(CLI::App& program, int& status) {
  auto options = std::make_shared<ToNetworkOptions>();
  CLI::App* const command = program.add_subcommand(
      "to-network", "takes a route file apart into a network and the run of a train");
  command->add_option("--route", options->route, "the route")->required()->type_name("FILE");
  command->add_option("--train", options->train, "the train that runs")
      ->required()
      ->type_name("FILE");
  command->add_option("--out", options->out, "folder for network.toml and run.toml")
      ->required()
      ->type_name("DIR")
      ->check(not_empty());
  add_common_options(*command, options->common);
  command->callback([options, &status] { status = run_to_network(*options); });
}

}  // namespace panup
