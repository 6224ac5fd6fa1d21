#include "plan/pieces.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <span>

#include "judging/judge.h"

namespace panup {

namespace {

/// A stretch with pantographs down, whatever the reason.
struct Zone {
  std::string name;
  double from_km = 0;
  double to_km = 0;
};

std::vector<Zone> lowered_zones(const Route& route) {
  std::vector<Zone> zones;
  for (const SeparationSection& separation : route.separations) {
    if (separation.pantograph_lowered) {
      const SeparationExtent extent = extent_of(separation);
      zones.push_back({separation.name, extent.from_km, extent.to_km});
    }
  }
  for (const LoweredStretch& stretch : route.lowered) {
    zones.push_back({stretch.name, stretch.from_km, stretch.to_km});
  }
  std::ranges::sort(zones, {}, &Zone::from_km);
  return zones;
}

/// How long the gap between two zones must be, in metres, so that there is room to raise and to
/// lower again. The first pantograph of the train nears the second zone when the last one has
/// hardly left the first.
double room_needed_m(const PlanRequest& request) {
  const Layout layout = lay_out(request.train, false);
  double foremost = layout.length_m;
  double rearmost = 0;
  double raising_s = 0;
  double lowering_s = 0;
  for (const PlacedPantograph& placed : layout.pantographs) {
    foremost = std::min(foremost, placed.from_front_m);
    rearmost = std::max(rearmost, placed.from_front_m);
    raising_s = std::max(raising_s, placed.type->raising_time_s);
    lowering_s = std::max(lowering_s, placed.type->lowering_time_s);
  }
  double speed_kmh = 0;
  for (const Rule& rule : request.rules.rules) {
    if (rule.kind == RuleKind::change_while_lowered) {
      speed_kmh = std::min(number_of(rule, "lowering_speed_kmh").value_or(0),
                           number_of(rule, "raising_speed_kmh").value_or(0));
    }
  }
  const DriverTimes times = driver_times(request.rules);
  const double seconds = 3 * times.reaction_s + times.breaker_s + raising_s + lowering_s;
  return std::max(0.0, rearmost - foremost) + speed_kmh / 3.6 * seconds;
}

std::vector<Zone> with_short_gaps_closed(const PlanRequest& request, std::vector<Zone> zones,
                                         std::vector<std::string>& notes) {
  const double room_m = room_needed_m(request);
  std::vector<Zone> closed;
  for (Zone& zone : zones) {
    const bool stops_between =
        !closed.empty() && std::ranges::any_of(request.route.stops, [&](const Stop& stop) {
          return stop.at_km >= closed.back().to_km && stop.at_km <= zone.from_km;
        });
    if (!closed.empty() && !stops_between && 1000 * (zone.from_km - closed.back().to_km) < room_m) {
      notes.push_back(
          fmt::format("Between {} and {} there is too little room to raise and lower again: the "
                      "pantographs stay down in between.",
                      closed.back().name, zone.name));
      closed.back().name += " and " + zone.name;
      closed.back().to_km = std::max(closed.back().to_km, zone.to_km);
    } else {
      closed.push_back(std::move(zone));
    }
  }
  return closed;
}

/// Where the front of the train is while some of the train is in a separation section that it
/// passes with pantographs up, or under a low place.
struct Reach {
  std::size_t index = 0;
  double from_km = 0;
  double to_km = 0;
};

std::vector<Reach> separation_reaches(const PlanRequest& request, std::vector<std::string>& notes) {
  const double train_km = length_m(request.train) / 1000;
  std::vector<Reach> reaches;
  for (std::size_t i = 0; i < request.route.separations.size(); ++i) {
    const SeparationSection& separation = request.route.separations[i];
    if (separation.pantograph_lowered) {
      continue;
    }
    const SeparationExtent extent = extent_of(separation);
    Reach reach{.index = i, .from_km = extent.from_km, .to_km = extent.to_km + train_km};
    for (const Stop& stop : request.route.stops) {
      if (stop.reversal && reach.from_km < stop.at_km && stop.at_km < reach.to_km) {
        notes.push_back(fmt::format(
            "At {} the train turns round while some of it is still in {}: what it joins there on "
            "its way back is not checked.",
            stop.name, separation.name));
        reach.to_km = stop.at_km;
      }
    }
    reaches.push_back(reach);
  }
  return reaches;
}

std::vector<Reach> low_place_reaches(const PlanRequest& request) {
  const double train_km = length_m(request.train) / 1000;
  std::vector<Reach> reaches;
  for (std::size_t i = 0; i < request.route.low_places.size(); ++i) {
    const LowPlace& place = request.route.low_places[i];
    Reach reach{.index = i, .from_km = place.from_km, .to_km = place.to_km + train_km};
    for (const Stop& stop : request.route.stops) {
      if (stop.reversal && reach.from_km < stop.at_km && stop.at_km < reach.to_km) {
        // On its way back what has passed the place already comes under it once more.
        reach.to_km = std::max(reach.to_km, 2 * stop.at_km - reach.from_km + train_km);
      }
    }
    reaches.push_back(reach);
  }
  return reaches;
}

template <typename Stretches>
auto containing(const Stretches& stretches, double km) {
  return std::ranges::find_if(stretches, [km](const auto& stretch) {
    return stretch.from_km <= km && km <= stretch.to_km;
  });
}

template <typename Places>
auto place_at(const Places& places, double km) {
  return std::ranges::find_if(places, [km](const auto& place) { return place.at_km == km; });
}

bool may_change_on_the_move(const RuleBook& rules) {
  const Rule* const rule = rule_in_force(rules, RuleKind::change_on_the_move);
  return rule != nullptr && number_of(*rule, "speed_kmh").has_value();
}

std::vector<double> cuts(const PlanRequest& request, const std::vector<Zone>& zones,
                         const std::vector<Reach>& reaches, const std::vector<Reach>& low,
                         const std::vector<Landmark>& marks) {
  const Route& route = request.route;
  const double from = route.sections.front().from_km;
  const double to = route.sections.back().to_km;
  std::vector<double> kms{from, to};
  const auto add = [&kms, from, to](double km) {
    if (from < km && km < to) {
      kms.push_back(km);
    }
  };
  for (const Section& section : route.sections) {
    add(section.from_km);
  }
  for (const Zone& zone : zones) {
    add(zone.from_km);
    add(zone.to_km);
  }
  for (const auto* const list : {&reaches, &low}) {
    for (const Reach& reach : *list) {
      add(reach.from_km);
      add(reach.to_km);
    }
  }
  for (const IceStretch& ice : request.conditions.ice) {
    add(ice.from_km);
    add(ice.to_km);
  }
  for (const Stop& stop : route.stops) {
    add(stop.at_km);
  }
  for (const Landmark& mark : marks) {
    add(mark.at_km);
  }
  std::ranges::sort(kms);
  const auto rest = std::ranges::unique(kms);
  kms.erase(rest.begin(), rest.end());
  return kms;
}

}  // namespace

DriverTimes driver_times(const RuleBook& rules) {
  const Rule* const rule = rule_in_force(rules, RuleKind::driver_times);
  if (rule == nullptr) {
    return {};
  }
  return {.reaction_s = number_of(*rule, "reaction_time_s").value_or(0),
          .breaker_s = number_of(*rule, "breaker_time_s").value_or(0),
          .landmark_within_m = number_of(*rule, "landmark_within_m").value_or(0)};
}

std::vector<Piece> cut_into_pieces(const PlanRequest& request, std::vector<std::string>& notes) {
  const Route& route = request.route;
  const std::vector<Zone> zones = with_short_gaps_closed(request, lowered_zones(route), notes);
  std::vector<Landmark> marks;
  if (may_change_on_the_move(request.rules)) {
    std::ranges::copy_if(route.landmarks, std::back_inserter(marks), &Landmark::change_on_the_move);
  }
  const bool change_while_lowered =
      rule_in_force(request.rules, RuleKind::change_while_lowered) != nullptr;
  const std::vector<Reach> reaches = separation_reaches(request, notes);
  const std::vector<Reach> low = low_place_reaches(request);
  const std::vector<double> kms = cuts(request, zones, reaches, low, marks);
  std::vector<Piece> pieces;
  bool reversed = false;
  std::size_t section = 0;
  for (std::size_t i = 0; i + 1 < kms.size(); ++i) {
    const double middle = (kms[i] + kms[i + 1]) / 2;
    while (section + 1 < route.sections.size() && route.sections[section].to_km < middle) {
      ++section;
    }
    Piece piece;
    piece.from_km = kms[i];
    piece.to_km = kms[i + 1];
    piece.section = section;
    piece.iced = containing(request.conditions.ice, middle) != request.conditions.ice.end();
    if (const auto zone = containing(zones, middle); zone != zones.end()) {
      piece.lowered = true;
      piece.lowered_for = zone->name;
    }
    for (const Reach& reach : reaches) {
      if (!piece.lowered && reach.from_km <= middle && middle <= reach.to_km) {
        piece.separations.push_back(reach.index);
      }
    }
    for (const Reach& reach : low) {
      if (!piece.lowered && reach.from_km <= middle && middle <= reach.to_km) {
        piece.low_places.push_back(reach.index);
      }
    }
    if (const auto stop = place_at(route.stops, kms[i]); stop != route.stops.end()) {
      piece.entry = Passage::standstill;
      piece.entry_place = stop->name;
      piece.entered_reversed = stop->reversal && i > 0;
      reversed = reversed != piece.entered_reversed;
    } else if (i == 0) {
      piece.entry = Passage::standstill;
    } else if (pieces.back().lowered && !piece.lowered && change_while_lowered) {
      piece.entry = Passage::lowered;
      piece.entry_place = pieces.back().lowered_for;
    } else if (const auto mark = place_at(marks, kms[i]);
               mark != marks.end() && !piece.lowered && !pieces.back().lowered) {
      piece.entry = Passage::on_the_move;
      piece.entry_place = mark->name;
    }
    piece.reversed = reversed;
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace panup
