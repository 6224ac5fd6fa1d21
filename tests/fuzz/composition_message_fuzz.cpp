#include "demo_stock.h"
#include "files/read_network.h"
#include "files/read_train.h"
#include "harness.h"
#include "train_messages/run_from_message.h"

namespace {

/// What parts the message from the table of series in a seed.
constexpr std::string_view parting = "\n=====\n";

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const std::size_t cut = std::min(text.find(parting), text.size());
  const std::string table = cut < text.size() ? text.substr(cut + parting.size())
                                              : std::string("series,class\n0041,k41\n");
  panup::Diagnostics of_message;
  const auto message =
      panup::read_composition_message({.file = "fuzzed", .text = text.substr(0, cut)}, of_message);
  panup::require_sound(message.has_value(), of_message);
  panup::Diagnostics mistakes;
  const panup::StockTable series =
      panup::read_stock_table({.file = "series", .text = table}, panup::series_table, mistakes);
  panup::require_sound(mistakes.empty(), mistakes);
  if (!message) {
    return 0;
  }
  const panup::FromMessage how{.section = message->sections.size() > 1 ? std::size_t{2} : 0,
                               .id = {},
                               .name = {},
                               .leading_cabs = {{"1", panup::Cab::cab1},
                                                {"2", panup::Cab::cab2},
                                                {"919900410070", panup::Cab::cab1},
                                                {"919900410080", panup::Cab::cab2}},
                               .other_load = panup::LoadNature::ordinary,
                               .acceleration_ms2 = 0.2,
                               .braking_ms2 = 0.5,
                               .stock_names = {"stock.toml"},
                               .made_at = "now"};
  panup::Diagnostics of_train;
  panup::Diagnostics notes;
  const auto train =
      panup::train_from_message(*message, series, panup::demo_stock(), how, of_train, notes);
  panup::require_sound(train.has_value(), of_train);
  if (train) {
    panup::Diagnostics read_back;
    if (!panup::read_train({.file = "written", .text = train->text}, panup::demo_stock(),
                           read_back)) {
      panup::fail("what is written reads back without mistakes");
    }
  }
  static const auto network = [] {
    panup::Diagnostics of_network;
    return panup::read_network(panup::data_file("demo/networks/nordvale.toml"), of_network);
  }();
  panup::Diagnostics of_places;
  const panup::StockTable places =
      panup::read_stock_table({.file = "places", .text = "country,code,place\nXQ,00012,tarnholt\n"},
                              panup::place_table, of_places);
  panup::Diagnostics of_run;
  const auto run = panup::run_from_message(*message, series, panup::demo_stock(), how,
                                           {.network = &*network,
                                            .places = &places,
                                            .network_name = "network.toml",
                                            .train_name = "train.toml",
                                            .way = "harl-sollin"},
                                           of_run, notes);
  panup::require_sound(run.has_value(), of_run);
  return 0;
}
