#include "requests/run_parts.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/same_place.h"

namespace panup {

namespace {

bool has_working_pantograph(const Train& train) {
  return std::ranges::any_of(train.consist, [](const ConsistItem& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr && !vehicle->dead_in_tow && !vehicle->type->pantographs.empty();
  });
}

std::size_t pantographs_of(const Train& train) {
  std::size_t number = 0;
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    number += vehicle == nullptr ? 0 : vehicle->type->pantographs.size();
  }
  return number;
}

/// Leaves out what lies beyond a chainage, and ends there what reaches beyond it.
template <typename Stretch>
void end_at(std::vector<Stretch>& stretches, double km) {
  std::erase_if(stretches,
                [km](const Stretch& stretch) { return stretch.from_km >= km - same_place_km; });
  for (Stretch& stretch : stretches) {
    stretch.to_km = std::min(stretch.to_km, km);
  }
}

template <typename Place>
void leave_out_beyond(std::vector<Place>& places, double km) {
  std::erase_if(places, [km](const Place& place) { return place.at_km > km + same_place_km; });
}

bool is_inside_separation(const Route& route, double km) {
  return std::ranges::any_of(route.separations, [km](const SeparationSection& separation) {
    const SeparationExtent extent = extent_of(separation);
    return extent.from_km < km - same_place_km && extent.to_km > km + same_place_km;
  });
}

/// The composed route, with the front of the train at departure, up to an end.
Route cut_route(const ComposedRoute& composed, std::optional<double> departs_km,
                std::optional<double> ends_km) {
  Route route = composed.route;
  route.departs_km = departs_km;
  if (!ends_km) {
    return route;
  }
  const double end_km = *ends_km;
  end_at(route.sections, end_km);
  if (Section& last = route.sections.back(); last.line_from_km && last.line_to_km) {
    last.line_to_km = place_on_line(composed.route, end_km)->at_km;
  }
  std::erase_if(route.separations, [end_km](const SeparationSection& separation) {
    return separation.from_km >= end_km - same_place_km;
  });
  end_at(route.lowered, end_km);
  end_at(route.low_places, end_km);
  end_at(route.gradients, end_km);
  std::erase_if(route.stops,
                [end_km](const Stop& stop) { return stop.at_km >= end_km - same_place_km; });
  leave_out_beyond(route.landmarks, end_km);
  leave_out_beyond(route.section_insulators, end_km);
  return route;
}

/// Whether vehicles can drop back from a train: they stand at its rear, work, and no roof line
/// joins them to the rest. What is against it, or empty.
std::string against_dropping_back(const ConsistChange& change, const Train& train, bool reversed) {
  std::vector<const ConsistItem*> rear_first;
  for (const ConsistItem& item : train.consist) {
    rear_first.insert(reversed ? rear_first.end() : rear_first.begin(), &item);
  }
  for (std::size_t i = 0; i < change.vehicles.size(); ++i) {
    const auto* const vehicle =
        i < rear_first.size() ? std::get_if<Vehicle>(rear_first[i]) : nullptr;
    if (vehicle == nullptr ||
        std::ranges::find(change.vehicles, vehicle->number) == change.vehicles.end()) {
      return "only what stands at the rear of the train can drop back from it";
    }
    if (vehicle->dead_in_tow) {
      return fmt::format("vehicle {} is dead in tow: it cannot drop back by itself",
                         vehicle->number);
    }
  }
  for (const HighVoltageLine& line : train.high_voltage_lines) {
    const auto leaves = [&change](int number) {
      return std::ranges::find(change.vehicles, number) != change.vehicles.end();
    };
    if (std::ranges::any_of(line.vehicles, leaves) && !std::ranges::all_of(line.vehicles, leaves)) {
      return "a high-voltage line joins what leaves to the rest of the train";
    }
  }
  return {};
}

}  // namespace

std::vector<RunPart> parts_of(const RunFile& run, const Train& train, const Words& words,
                              Diagnostics& diagnostics) {
  std::vector<RunPart> parts{{.train = train, .from = {}, .to = {}, .changes = {}}};
  bool reversed = false;
  for (std::size_t i = 0; i < run.stops.size(); ++i) {
    const RunStop& stop = run.stops[i];
    reversed = reversed != stop.reversal;
    if (stop.changes.empty()) {
      continue;
    }
    Train next = parts.back().train;
    const bool on_the_move = stop.changes.front().on_the_move;
    for (const ConsistChange& change : stop.changes) {
      parts.back().changes.push_back(words_for(change, next, words));
      if (change.on_the_move) {
        if (std::string why = against_dropping_back(change, next, reversed); !why.empty()) {
          diagnostics.push_back({change.place, std::move(why)});
        }
        std::string& leave = parts.back().leave_on_the_move;
        parts.back().leave_first =
            leave.empty() ? change.vehicles.size() : parts.back().leave_first;
        leave += (leave.empty() ? std::string() : words.say(", then ")) +
                 vehicle_words(change.vehicles, next, words);
      }
      change_consist(change, reversed, next, diagnostics);
    }
    next.highest_speed_kmh =
        stop.highest_speed_kmh ? stop.highest_speed_kmh : next.highest_speed_kmh;
    next.acceleration_ms2 = stop.acceleration_ms2.value_or(next.acceleration_ms2);
    next.braking_ms2 = stop.braking_ms2.value_or(next.braking_ms2);
    if (pantographs_of(next) > most_pantographs) {
      diagnostics.push_back({stop.changes.back().place,
                             fmt::format("the train leaves with {} pantographs; at most {} can be "
                                         "planned",
                                         pantographs_of(next), most_pantographs)});
    }
    if (!has_working_pantograph(next)) {
      diagnostics.push_back({stop.changes.back().place,
                             "the train leaves with no working vehicle that has a pantograph"});
    }
    parts.back().to = i;
    parts.push_back({.train = std::move(next), .from = i, .to = {}, .changes = {}});
    parts.back().begins_on_the_move = on_the_move;
  }
  return parts;
}

std::vector<double> lengths_leaving(const RunFile& run, const std::vector<RunPart>& parts) {
  std::vector<double> lengths;
  std::size_t part = 0;
  for (std::size_t i = 0; i < run.stops.size(); ++i) {
    part += parts[part].to == i ? 1U : 0U;
    lengths.push_back(length_m(parts[part].train));
  }
  return lengths;
}

std::optional<Route> route_of(const RunPart& part, const RunFile& run,
                              const ComposedRoute& composed, Diagnostics& diagnostics) {
  const auto km_of = [&composed](std::optional<std::size_t> stop) {
    return stop ? std::optional(composed.stop_kms[*stop]) : std::nullopt;
  };
  for (const SeparationSection& separation : composed.route.separations) {
    const SeparationExtent extent = extent_of(separation);
    if (part.to && extent.from_km < *km_of(part.to) - same_place_km &&
        extent.to_km > *km_of(part.to) + same_place_km) {
      diagnostics.push_back(
          {run.stops[*part.to].place,
           fmt::format("the train {} within '{}' where its vehicles change",
                       part.leave_on_the_move.empty() ? "stands" : "is", separation.name)});
      return std::nullopt;
    }
  }
  return cut_route(composed, km_of(part.from), km_of(part.to));
}

Route route_under_way(const RunPart& part, const ComposedRoute& composed, bool begins_on_the_move,
                      bool ends_on_the_move) {
  const Route& whole = composed.route;
  std::optional<double> departs_km;
  std::optional<double> ends_km;
  if (part.from) {
    departs_km = composed.stop_kms[*part.from];
    if (begins_on_the_move) {
      std::optional<double> stand_km;
      for (const Stop& stop : whole.stops) {
        stand_km = stop.at_km < *departs_km - same_place_km ? std::optional(stop.at_km) : stand_km;
      }
      departs_km = stand_km;
    }
  }
  if (part.to) {
    ends_km = composed.stop_kms[*part.to];
    if (ends_on_the_move) {
      const auto stand = std::ranges::find_if(whole.stops, [&](const Stop& stop) {
        return stop.at_km > *ends_km + same_place_km && !is_inside_separation(whole, stop.at_km);
      });
      ends_km = stand == whole.stops.end() ? std::nullopt : std::optional(stand->at_km);
    }
  }
  return cut_route(composed, departs_km, ends_km);
}

Conditions conditions_of(const Conditions& day, const Route& route) {
  Conditions conditions = day;
  end_at(conditions.ice, route.sections.back().to_km);
  end_at(conditions.local, route.sections.back().to_km);
  return conditions;
}

}  // namespace panup
