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

}  // namespace

std::vector<RunPart> parts_of(const RunFile& run, const Train& train, Diagnostics& diagnostics) {
  std::vector<RunPart> parts{{.train = train, .from = {}, .to = {}, .changes = {}}};
  bool reversed = false;
  for (std::size_t i = 0; i < run.stops.size(); ++i) {
    const RunStop& stop = run.stops[i];
    reversed = reversed != stop.reversal;
    if (stop.changes.empty()) {
      continue;
    }
    Train next = parts.back().train;
    for (const ConsistChange& change : stop.changes) {
      parts.back().changes.push_back(words_for(change, next));
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
  Route route = composed.route;
  if (part.from) {
    route.departs_km = composed.stop_kms[*part.from];
  }
  if (!part.to) {
    return route;
  }
  const double end_km = composed.stop_kms[*part.to];
  for (const SeparationSection& separation : route.separations) {
    const SeparationExtent extent = extent_of(separation);
    if (extent.from_km < end_km - same_place_km && extent.to_km > end_km + same_place_km) {
      diagnostics.push_back(
          {run.stops[*part.to].place,
           fmt::format("the train stands within '{}' where its vehicles change", separation.name)});
      return std::nullopt;
    }
  }
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

Conditions conditions_of(const RunPart& part, const Conditions& day, const Route& route) {
  Conditions conditions = day;
  if (part.to) {
    end_at(conditions.ice, route.sections.back().to_km);
    end_at(conditions.local, route.sections.back().to_km);
  }
  return conditions;
}

}  // namespace panup
