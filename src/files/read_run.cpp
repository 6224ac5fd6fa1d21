#include "files/read_run.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"
#include "files/named_files.h"
#include "files/read_consents.h"
#include "files/read_network.h"

namespace panup {

namespace {

std::optional<int> read_time(TomlTable& table, std::string_view key) {
  const auto time = table.time_of_day(key);
  return time ? std::optional(time->hour * 3600 + time->minute * 60 + time->second) : std::nullopt;
}

/// What is attached is left to a second look, with the types of vehicles in hand.
ConsistChange read_change(TomlTable& entry) {
  ConsistChange change;
  const auto what = entry.word(
      "what", {"detach", "attach", "run round", "turn", "dead in tow", "working"}, Need::required);
  const auto kind = what ? consist_change_named(*what) : std::nullopt;
  change.kind = kind.value_or(ConsistChangeKind::working);
  change.place = entry.place();
  change.on_the_move = entry.flag("on_the_move").value_or(false);
  if (change.on_the_move && (kind != ConsistChangeKind::detach || entry.has("loads"))) {
    entry.report_at("on_the_move",
                    "only vehicles that are detached at the rear, with no wagons, leave on the "
                    "move: leave it out");
  }
  change.vehicles = entry.wholes("vehicles", 1, 999).value_or(std::vector<int>{});
  change.loads = entry.texts("loads").value_or(std::vector<std::string>{});
  const auto at = entry.word("at", {"front", "rear"});
  change.at_front = at == "front";
  const bool has_consist = entry.has("consist");
  if (kind == ConsistChangeKind::attach) {
    if (!has_consist) {
      entry.report(entry.place(), "key 'consist' is missing: what is attached, as in a train file");
    }
    if (!entry.has("at")) {
      entry.report(entry.place(),
                   "key 'at' is missing: \"front\" or \"rear\", of the train as it leaves");
    }
    for (const std::string_view key : {"vehicles", "loads"}) {
      if (entry.has(key)) {
        entry.report_at(key, fmt::format("what is attached stands in 'consist', not in '{}'", key));
      }
    }
  } else if (kind) {
    for (const std::string_view key : {"consist", "at"}) {
      if (entry.has(key)) {
        entry.report_at(key, fmt::format("only what is attached has '{}'", key));
      }
    }
    if (entry.has("loads") && kind != ConsistChangeKind::detach) {
      entry.report_at("loads", fmt::format("loads are attached or detached; \"{}\" is of vehicles",
                                           name_of(*kind)));
    }
    const bool names_loads = kind == ConsistChangeKind::detach && entry.has("loads");
    if (!entry.has("vehicles") && !names_loads) {
      entry.report(entry.place(),
                   fmt::format("key 'vehicles' is missing: the numbers of those "
                               "that it happens to{}",
                               kind == ConsistChangeKind::detach ? ", or 'loads'" : ""));
    }
  }
  entry.finish();
  return change;
}

RunStop read_stop(TomlTable& entry) {
  RunStop stop;
  stop.at = entry.id("at", Need::required).value_or("");
  stop.arrival_s = read_time(entry, "arrival");
  stop.departure_s = read_time(entry, "departure");
  stop.passing_s = read_time(entry, "passing");
  stop.reversal = entry.flag("reversal").value_or(false);
  stop.place = entry.place_of("at");
  for (const std::string_view key : {"arrival", "departure", "reversal"}) {
    if (entry.has("passing") && entry.has(key)) {
      entry.report_at(
          key, fmt::format("a train that passes does not stop: leave out 'passing' or '{}'", key));
    }
  }
  for (TomlTable& change : entry.tables("change")) {
    stop.changes.push_back(read_change(change));
    const bool on_the_move = stop.changes.back().on_the_move;
    if (entry.has("passing") && !on_the_move) {
      change.report(change.place(),
                    "a train that passes keeps its vehicles: they change at a stand, but for those "
                    "that leave it with 'on_the_move = true'");
    }
    if (on_the_move && !entry.has("passing")) {
      change.report(change.place(),
                    "vehicles leave on the move where the train passes: state 'passing', or leave "
                    "out 'on_the_move'");
    }
  }
  stop.highest_speed_kmh = entry.number("highest_speed_kmh", {1, 400});
  stop.acceleration_ms2 = entry.number("acceleration_ms2", {least_acceleration_ms2, 2});
  stop.braking_ms2 = entry.number("braking_ms2", {least_acceleration_ms2, 2});
  for (const std::string_view key : {"highest_speed_kmh", "acceleration_ms2", "braking_ms2"}) {
    if (entry.has(key) && stop.changes.empty()) {
      entry.report_at(key, fmt::format("'{}' is of a train that changes here, and nothing of it "
                                       "does; state it in the train file",
                                       key));
    }
  }
  entry.finish();
  return stop;
}

void read_way(TomlTable& root, RunFile& run) {
  run.way_place = root.place_of("way");
  run.from_place = root.place_of("from");
  if (root.has("way")) {
    run.way = root.id("way").value_or("");
    for (const std::string_view key : {"from", "legs"}) {
      if (root.has(key)) {
        root.report_at(key, fmt::format("'way' names one of the network: leave out '{}'", key));
      }
    }
    return;
  }
  if (!root.has("from") && !root.has("legs")) {
    root.report(root.place(),
                "which way the train runs is not said: 'way' names one of the network, or 'from' "
                "and 'legs' say it");
    return;
  }
  run.from = root.id("from", Need::required).value_or("");
  run.legs = read_way_legs(root, "legs", Need::required);
}

}  // namespace

std::optional<RunFile> read_run(const SourceText& source, Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  auto root =
      root_node ? root_of(*root_node, source.file, FileKind::run, diagnostics) : std::nullopt;
  if (!root) {
    return std::nullopt;
  }
  RunFile run;
  run.id = root->id("id", Need::required).value_or("");
  run.name = root->text("name").value_or(run.id);
  run.invented = root->flag("invented").value_or(false);
  run.network = read_file_name(*root, "network", Need::required).value_or(FileNamed{});
  run.train = read_file_name(*root, "train", Need::required).value_or(FileNamed{});
  run.stock = read_file_names(*root, "stock");
  run.train_number = root->text("train_number").value_or("");
  if (const auto day = root->date("date")) {
    run.date = day_text(*day);
  }
  run.days = root->text("days").value_or("");
  if (root->has("date") && root->has("days")) {
    root->report_at("days", "a train runs on one 'date' or on 'days', not both");
  }
  read_way(*root, run);
  run.departure_s = read_time(*root, "departure");
  for (TomlTable& entry : root->tables("stop")) {
    run.stops.push_back(read_stop(entry));
  }
  read_value_sources(*root);
  run.place = root->place();
  root->finish();
  return diagnostics.size() == mistakes ? std::optional(std::move(run)) : std::nullopt;
}

void read_attached(const SourceText& source, const Stock& stock, int next_number, RunFile& run,
                   const std::vector<ReplacedClass>& replaced, Diagnostics& diagnostics) {
  Diagnostics said_already;
  const auto root_node = parse_toml(source, said_already);
  if (!root_node) {
    return;
  }
  TomlTable root(*root_node, source.file, diagnostics);
  const ValueSources sources = read_value_sources(root);
  int number = next_number - 1;
  std::vector<TomlTable> stops = root.tables("stop");
  for (std::size_t i = 0; i < stops.size() && i < run.stops.size(); ++i) {
    std::vector<TomlTable> changes = stops[i].tables("change");
    for (std::size_t k = 0; k < changes.size() && k < run.stops[i].changes.size(); ++k) {
      run.stops[i].changes[k].attached =
          read_consist(changes[k].tables("consist"), stock, number, replaced, sources).items;
    }
  }
}

std::optional<NetworkWay> way_of(const RunFile& run, const Network& network,
                                 Diagnostics& diagnostics) {
  if (run.way.empty()) {
    return NetworkWay{.id = run.id,
                      .name = run.name,
                      .from = run.from,
                      .legs = run.legs,
                      .from_place = run.from_place,
                      .place = run.place};
  }
  const auto known = std::ranges::find(network.ways, run.way, &NetworkWay::id);
  if (known != network.ways.end()) {
    return *known;
  }
  std::vector<std::string> ids;
  for (const NetworkWay& way : network.ways) {
    ids.push_back(way.id);
  }
  diagnostics.push_back({run.way_place, fmt::format("network '{}': {}", network.id,
                                                    not_found_text("way", run.way, ids))});
  return std::nullopt;
}

}  // namespace panup
