#include <algorithm>

#include "demo_stock.h"
#include "files/read_network.h"
#include "files/read_run.h"
#include "harness.h"
#include "line/compose_route.h"

namespace {

panup::Network demo_network() {
  panup::Diagnostics diagnostics;
  auto network = panup::read_network(panup::data_file("demo/networks/nordvale.toml"), diagnostics);
  panup::require_sound(network.has_value(), diagnostics);
  return std::move(*network);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const panup::Network network = demo_network();
  static const panup::Stock stock = panup::demo_stock();
  const auto source = panup::fuzzed_source(data, size);
  panup::Diagnostics diagnostics;
  auto run = panup::read_run(source, diagnostics);
  panup::require_sound(run.has_value(), diagnostics);
  if (!run) {
    return 0;
  }
  panup::read_attached(source, stock, 2, *run, {}, diagnostics);
  std::vector<panup::WayStop> stops;
  for (const panup::RunStop& stop : run->stops) {
    const bool on_the_move = std::ranges::all_of(stop.changes, &panup::ConsistChange::on_the_move);
    if (!stop.stops() && !on_the_move) {
      panup::fail("vehicles change at a stand, or leave on the move");
    }
    stops.push_back({.at = stop.at,
                     .reversal = stop.reversal,
                     .passes = !stop.stops(),
                     .new_front_behind_m = 300,
                     .place = stop.place});
  }
  const auto way = panup::way_of(*run, network, diagnostics);
  const auto composed =
      way ? panup::compose_route(network, *way, stops, diagnostics) : std::nullopt;
  if (composed && composed->stop_kms.size() != run->stops.size()) {
    panup::fail("every stop of a run has its place on the way");
  }
  if (!composed && diagnostics.empty()) {
    panup::fail("a run has a way, or something is wrong with it");
  }
  return 0;
}
