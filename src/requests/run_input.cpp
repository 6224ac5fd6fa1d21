#include "requests/run_input.h"

#include <algorithm>

#include "base/same_place.h"
#include "files/read_conditions.h"
#include "files/read_defects.h"
#include "files/read_network.h"
#include "files/read_run.h"
#include "line/compose_route.h"
#include "line/network_conditions.h"
#include "requests/input_parts.h"
#include "requests/run_parts.h"

namespace panup {

namespace {

constexpr int one_day_s = 86400;

/// A file that another one names; that it cannot be read is said where it is named.
std::optional<SourceText> load_named(const FileNamed& named, const FileSource& files,
                                     Diagnostics& diagnostics) {
  Diagnostics of_loading;
  auto source = files.load(named.path, of_loading);
  for (const Diagnostic& mistake : of_loading) {
    diagnostics.push_back({named.place, to_line(mistake)});
  }
  return source;
}

/// What the run says of the train in place of its file; what a row of a day says goes before it.
TrainRun train_run(const RunFile& run, const std::optional<TrainRun>& row) {
  const TrainRun said{.number = run.train_number,
                      .date = run.date,
                      .days = run.days,
                      .vehicles = {},
                      .place = run.place};
  return row.value_or(said);
}

/// A train that turns back stands with its rear, as it leaves, where its front was as it came.
std::vector<WayStop> way_stops(const RunFile& run, const std::vector<RunPart>& parts) {
  const std::vector<double> lengths = lengths_leaving(run, parts);
  std::vector<WayStop> stops;
  for (std::size_t i = 0; i < run.stops.size(); ++i) {
    const RunStop& stop = run.stops[i];
    stops.push_back({.at = stop.at,
                     .reversal = stop.reversal,
                     .passes = !stop.stops(),
                     .new_front_behind_m = lengths[i],
                     .place = stop.place});
  }
  return stops;
}

std::optional<PartUnderWay> part_under_way(const RunPart& part, const ComposedRoute& composed,
                                           const Conditions& day, const Route& by_itself) {
  const bool may_end_so = !part.leave_on_the_move.empty();
  if (!part.begins_on_the_move && !may_end_so) {
    return std::nullopt;
  }
  PartUnderWay under_way{
      .leave = part.leave_on_the_move, .leave_first = part.leave_first, .alone_on = {}};
  for (const bool begins_so : {false, true}) {
    for (const bool ends_so : {false, true}) {
      if ((!begins_so && !ends_so) || (begins_so && !part.begins_on_the_move) ||
          (ends_so && !may_end_so)) {
        continue;
      }
      Route route = route_under_way(part, composed, begins_so, ends_so);
      route.name = by_itself.name;
      route.ends_at = ends_so ? "" : by_itself.ends_at;
      Conditions conditions = conditions_of(day, route);
      under_way.alone_on[begins_so ? 1 : 0][ends_so ? 1 : 0] =
          AloneOn{.route = std::move(route), .conditions = std::move(conditions)};
    }
  }
  return under_way;
}

std::vector<std::string> paths_of_stock(const RunFile& run) {
  std::vector<std::string> paths;
  for (const FileNamed& named : run.stock) {
    paths.push_back(named.path);
  }
  return paths;
}

double longest_m(const std::vector<RunPart>& parts) {
  double longest = 0;
  for (const RunPart& part : parts) {
    longest = std::max(longest, length_m(part.train));
  }
  return longest;
}

/// Of vehicles that come to the train on its way, what registers say of them.
void take_up_defects(const std::vector<std::string>& paths, const Train& train, RunFile& run,
                     const FileSource& files, Diagnostics& diagnostics,
                     std::vector<RegisteredDefect>& taken_up) {
  for (const std::string& path : paths) {
    Diagnostics said_with_the_train;
    const auto source = files.load(path, said_with_the_train);
    const auto defects = source ? read_defects(*source, said_with_the_train) : std::nullopt;
    for (RunStop& stop : run.stops) {
      for (ConsistChange& change : stop.changes) {
        Train attached;
        attached.release = train.release;
        attached.consist = std::move(change.attached);
        if (defects) {
          take_up(*defects, attached, diagnostics);
        }
        change.attached = std::move(attached.consist);
        taken_up.insert(taken_up.end(), attached.registered_defects.begin(),
                        attached.registered_defects.end());
      }
    }
  }
}

/// The train is there by all its vehicles that have been or will be in it; a part has its own.
void keep_defects_of(Train& train, const std::vector<RegisteredDefect>& all) {
  train.registered_defects.clear();
  for (const RegisteredDefect& defect : all) {
    const bool there = std::ranges::any_of(train.consist, [&defect](const ConsistItem& item) {
      const auto* const vehicle = std::get_if<Vehicle>(&item);
      return vehicle != nullptr && vehicle->id == defect.vehicle;
    });
    if (there) {
      train.registered_defects.push_back(defect);
    }
  }
}

/// The times of the timetable, by the chainage of the route. Each is as late as the one before or
/// later: past midnight they go on. `departure`: of a day's row, HH:MM:SS; may be empty.
std::vector<TimeAtKm> times_of(const RunFile& run, const ComposedRoute& composed,
                               const std::string& departure) {
  std::vector<TimeAtKm> times;
  if (!departure.empty()) {
    const auto two = [&departure](std::size_t at) { return std::stoi(departure.substr(at, 2)); };
    times.push_back({composed.route.sections.front().from_km, std::nullopt,
                     two(0) * 3600 + two(3) * 60 + two(6)});
    return times;  // of the others it is not known how they move with it
  }
  int last_s = run.departure_s.value_or(0);
  const auto after_last = [&last_s](std::optional<int> time_s) {
    if (time_s) {
      last_s = *time_s + (*time_s % one_day_s < last_s % one_day_s ? 1 : 0) * one_day_s +
               last_s / one_day_s * one_day_s;
      time_s = last_s;
    }
    return time_s;
  };
  if (run.departure_s) {
    times.push_back({composed.route.sections.front().from_km, std::nullopt, run.departure_s});
  }
  for (std::size_t i = 0; i < run.stops.size() && i < composed.stop_kms.size(); ++i) {
    const RunStop& stop = run.stops[i];
    TimeAtKm time{composed.stop_kms[i], std::nullopt, std::nullopt};
    time.arrival_s = after_last(stop.arrival_s);
    time.departure_s = after_last(stop.passing_s ? stop.passing_s : stop.departure_s);
    if (time.arrival_s || time.departure_s) {
      times.push_back(time);
    }
  }
  return times;
}

/// Names of the places where the first part begins, and where each ends.
std::vector<std::string> places_of(const RunFile& run, const std::vector<RunPart>& parts,
                                   const NetworkWay& way, const Network& network) {
  std::vector<std::string> places{place_of(network, way.from)->name};
  for (const RunPart& part : parts) {
    const std::string& at = part.to ? run.stops[*part.to].at : way.legs.back().to;
    places.push_back(place_of(network, at)->name);
  }
  return places;
}

/// The day on a way through a network.
std::optional<Conditions> read_day_on(const PlanPaths& paths, const Network& network, Route& route,
                                      const std::vector<TimeAtKm>& times, double train_length_m,
                                      const FileSource& files, Diagnostics& diagnostics) {
  if (paths.conditions.empty()) {
    Conditions conditions;
    conditions.name = paths.words.say("no conditions stated");
    return conditions;
  }
  const auto source = files.load(paths.conditions, diagnostics);
  const auto read = source ? read_network_conditions(*source, &network, diagnostics) : std::nullopt;
  return read
             ? conditions_on(*read, network, route, times, train_length_m, diagnostics, paths.words)
             : std::nullopt;
}

}  // namespace

std::size_t part_at(const RunInput& input, double km) {
  std::size_t part = 0;
  while (part + 1 < input.parts.size() &&
         km >= departure_km(input.parts[part + 1].request.route) - same_place_km) {
    ++part;
  }
  return part;
}

std::optional<RunInput> read_run_input(const PlanPaths& paths, SpeedFrom speed_from,
                                       const FileSource& files, Diagnostics& diagnostics,
                                       ParsedFiles* parsed) {
  const FileSource with_others = with_replaced(files, paths.replaced_files);
  FilesReadOnce read(with_others);
  const FileSource each_once = read.source();
  const auto source = each_once.load(paths.run_file, diagnostics);
  auto run = source ? read_run(*source, diagnostics) : std::nullopt;
  if (!run) {
    return std::nullopt;
  }
  const auto network_source = load_named(run->network, each_once, diagnostics);
  const auto network = !network_source     ? std::nullopt
                       : parsed != nullptr ? parsed->network(*network_source, diagnostics)
                                           : read_network(*network_source, diagnostics);
  std::optional<TrainFiles> train;
  if (load_named(run->train, each_once, diagnostics)) {
    BesideTrain beside = beside_train(paths, parsed);
    beside.run = train_run(*run, paths.run);
    beside.stock = paths_of_stock(*run);
    train = read_train_file(run->train.path, diagnostics, each_once, beside);
  }
  const auto day = train ? std::optional(train->train.release.date) : std::nullopt;
  auto rules = read_rule_books(paths.rules, day, diagnostics, each_once);
  if (rules) {
    rules = said_in(std::move(*rules), paths.words);
  }
  std::vector<RunPart> parts;
  if (train) {
    const std::size_t mistakes = diagnostics.size();
    read_attached(*source, train->stock, greatest_vehicle_number(train->train) + 1, *run,
                  paths.replaced_classes, diagnostics);
    std::vector<RegisteredDefect> defects = train->train.registered_defects;
    take_up_defects(paths.defects, train->train, *run, each_once, diagnostics, defects);
    if (diagnostics.size() == mistakes) {
      parts = parts_of(*run, train->train, paths.words, diagnostics);
      for (RunPart& part : parts) {
        keep_defects_of(part.train, defects);
      }
    }
    if (diagnostics.size() > mistakes) {
      train.reset();
    }
  }
  const auto way = network ? way_of(*run, *network, diagnostics) : std::nullopt;
  std::optional<ComposedRoute> composed;
  if (network && way && train) {
    composed = compose_route(*network, *way, way_stops(*run, parts), diagnostics);
  }
  std::optional<Conditions> conditions;
  if (composed) {
    conditions =
        read_day_on(paths, *network, composed->route, times_of(*run, *composed, paths.departure),
                    longest_m(parts), each_once, diagnostics);
  }
  if (!train || !composed || !conditions || !rules) {
    return std::nullopt;
  }
  Route& route = composed->route;
  route.invented = route.invented || run->invented;
  RunInput all{.id = run->id,
               .name = run->name,
               .route_name = route.name,
               .parts = {},
               .places = places_of(*run, parts, *way, *network)};
  for (RunPart& part : parts) {
    auto part_route = route_of(part, *run, *composed, diagnostics);
    if (!part_route) {
      return std::nullopt;
    }
    PlanInput& input = all.parts.emplace_back();
    input.files = files_of(paths, run->train.path, *train,
                           {{"run", paths.run_file}, {"network", run->network.path}});
    if (parts.size() > 1) {
      part_route->name += paths.words.say(", part {} of {}", all.parts.size(), parts.size());
    }
    input.request.train = std::move(part.train);
    input.request.route = std::move(*part_route);
    input.request.conditions =
        part.to ? conditions_of(*conditions, input.request.route) : *conditions;
    input.request.rules = *rules;
    input.request.speed_from = speed_from;
    input.changes = std::move(part.changes);
    if (part.to) {
      input.request.route.ends_at = all.places[all.parts.size()];
    }
    if (!read_mechanics(input, each_once, diagnostics)) {
      return std::nullopt;
    }
    take_hashes(input.files, read, paths.replaced_files);
    input.not_there = read.not_there();
    const Diagnostics between = cross_check(input.request);
    if (!between.empty()) {
      diagnostics.insert(diagnostics.end(), between.begin(), between.end());
      return std::nullopt;
    }
    all.under_way.push_back(part_under_way(part, *composed, *conditions, input.request.route));
  }
  return all;
}

std::optional<RunInput> read_train_input(const PlanPaths& paths, SpeedFrom speed_from,
                                         const FileSource& files, Diagnostics& diagnostics,
                                         ParsedFiles* parsed) {
  if (!paths.run_file.empty()) {
    return read_run_input(paths, speed_from, files, diagnostics, parsed);
  }
  auto input = read_plan_input(paths, speed_from, files, diagnostics, parsed);
  if (!input) {
    return std::nullopt;
  }
  RunInput all{.id = input->request.train.id,
               .name = input->request.train.name,
               .route_name = input->request.route.name,
               .parts = {}};
  all.parts.push_back(std::move(*input));
  return all;
}

}  // namespace panup
