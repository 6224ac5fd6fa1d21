#include "plan/pieces.h"

#include <algorithm>
#include <limits>
#include <span>

#include "judging/judge.h"

namespace panup {

namespace {

/// Where the front of the train is while some of the train is in a separation section that it
/// passes with pantographs up, or under a low place.
struct FrontRange {
  std::size_t index = 0;
  double from_km = 0;
  double to_km = 0;
};

std::vector<FrontRange> separation_ranges(const PlanRequest& request,
                                          const std::vector<PowerlessZone>& zones,
                                          std::vector<std::string>& notes) {
  const double train_km = length_m(request.train) / 1000;
  std::vector<FrontRange> ranges;
  for (std::size_t i = 0; i < request.route.separations.size(); ++i) {
    const SeparationSection& separation = request.route.separations[i];
    if (separation.pantograph_lowered) {
      continue;
    }
    const SeparationExtent extent = extent_of(separation);
    if (extent.to_km < hindmost_wire_km(request)) {
      continue;
    }
    const bool passed_lowered = std::ranges::any_of(zones, [&](const PowerlessZone& zone) {
      return zone.lowered && zone.from_km <= extent.from_km && extent.to_km <= zone.to_km;
    });
    if (passed_lowered) {
      continue;
    }
    FrontRange range{.index = i, .from_km = extent.from_km, .to_km = extent.to_km + train_km};
    for (const Stop& stop : request.route.stops) {
      if (stop.reversal && range.from_km < stop.at_km && stop.at_km < range.to_km) {
        notes.push_back(request.rules.words.say(
            "At {} the train turns round while some of it is still in {}: what it joins there on "
            "its way back is not checked.",
            stop.name, separation.name));
        range.to_km = stop.at_km;
      }
    }
    ranges.push_back(range);
  }
  return ranges;
}

std::vector<FrontRange> low_place_ranges(const PlanRequest& request) {
  const double train_km = length_m(request.train) / 1000;
  std::vector<FrontRange> ranges;
  for (std::size_t i = 0; i < request.route.low_places.size(); ++i) {
    const LowPlace& place = request.route.low_places[i];
    FrontRange range{.index = i, .from_km = place.from_km, .to_km = place.to_km + train_km};
    for (const Stop& stop : request.route.stops) {
      if (stop.reversal && range.from_km < stop.at_km && stop.at_km < range.to_km) {
        // On its way back what has passed the place already comes under it once more.
        range.to_km = std::max(range.to_km, 2 * stop.at_km - range.from_km + train_km);
      }
    }
    ranges.push_back(range);
  }
  return ranges;
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

/// The places where pantographs may be changed on the move, each with the room there is for it.
struct Mark {
  std::string name;
  double at_km = 0;
  double room_km = 0;
};

/// A change has to be over before the orders for the next stretch without power begin, and begins
/// when those for the last one are over.
std::vector<Mark> marks_of(const PlanRequest& request, const std::vector<PowerlessZone>& zones,
                           const std::vector<Leg>& legs) {
  const Route& route = request.route;
  std::vector<Mark> marks;
  if (!may_change_on_the_move(request.rules)) {
    return marks;
  }
  std::size_t leg = 0;
  std::size_t zone = 0;
  for (const Landmark& landmark : route.landmarks) {
    if (!landmark.change_on_the_move || landmark.at_km < departure_km(route)) {
      continue;
    }
    while (leg + 1 < legs.size() && legs[leg + 1].start_km <= landmark.at_km) {
      ++leg;
    }
    const Room room = room_of(request, legs[leg].reversed);
    const auto begins_km = [&](const PowerlessZone& next) {
      const double speed_kmh =
          highest_line_kmh(route, next.from_km - room.length_km, next.from_km + room.length_km);
      const double seconds = 2 * room.reaction_s + room.breaker_s + room.lowering_s;
      return std::min(next.from_km + room.foremost_km - km_in(seconds, speed_kmh) - rounding_km,
                      next.boards.first_before_km() -
                          km_in(room.reaction_s + room.breaker_s, speed_kmh) - rounding_km);
    };
    const auto ends_km = [&](const PowerlessZone& last) {
      const double seconds = last.lowered ? room.reaction_s + room.raising_s : 0;
      const double raised_km =
          std::max(last.to_km + room.rearmost_km, first_behind_km(last.boards.raise)) +
          km_in(seconds, room.lowered_kmh);
      return std::max(raised_km, first_behind_km(last.boards.breaker_on)) + rounding_km;
    };
    while (zone < zones.size() && ends_km(zones[zone]) <= landmark.at_km) {
      ++zone;
    }
    double until_km = route.sections.back().to_km;
    for (std::size_t next = zone;
         next < zones.size() && zones[next].from_km < until_km + farthest_board_km; ++next) {
      until_km = std::min(until_km, begins_km(zones[next]));
    }
    for (const Stop& stop : route.stops) {
      if (stop.at_km > landmark.at_km) {
        until_km = std::min(until_km, stop.at_km);
      }
    }
    if (!marks.empty()) {
      marks.back().room_km = std::min(marks.back().room_km, landmark.at_km - marks.back().at_km);
    }
    if (until_km > landmark.at_km) {
      marks.push_back({landmark.name, landmark.at_km, until_km - landmark.at_km});
    }
  }
  return marks;
}

/// Places on the wire that some pantographs may be before and others behind: borders of sections,
/// and of zones that are passed without power.
std::vector<double> wire_borders(const Route& route, const std::vector<PowerlessZone>& zones) {
  std::vector<double> borders;
  for (std::size_t i = 1; i < route.sections.size(); ++i) {
    borders.push_back(route.sections[i].from_km);
  }
  for (const PowerlessZone& zone : zones) {
    borders.push_back(zone.from_km);
    borders.push_back(zone.to_km);
  }
  std::ranges::sort(borders);
  return borders;
}

/// Where the front is while some of the train is still behind a border, and other pantographs may
/// be up than came there; cut where each pantograph comes under other wire.
struct Tail {
  double from_km = 0;
  double to_km = 0;
  std::vector<double> cuts_km;
};

/// The train on a leg, and the borders of wire on the route.
struct TailOnLeg {
  const Leg& leg;
  double end_km = 0;
  const Layout& layout;
  const std::vector<double>& borders;

  double length_km() const { return layout.length_m / 1000; }
};

/// Cuts where each pantograph passes the border, and lengthens the tail until the last one has.
void add_border(const TailOnLeg& on, double border_km, Tail& tail) {
  for (const PlacedPantograph& placed : on.layout.pantographs) {
    const double km = front_past_km(on.leg, on.length_km(), placed.from_front_m / 1000, border_km);
    tail.to_km = std::max(tail.to_km, std::min(km, on.end_km));
    if (km > on.leg.start_km && km < on.end_km) {
      tail.cuts_km.push_back(km);
    }
  }
}

/// What the front passes meanwhile, the rest of the train passes after it.
void follow_through(const TailOnLeg& on, double from_km, Tail& tail) {
  for (auto border = std::ranges::upper_bound(on.borders, from_km);
       border != on.borders.end() && *border < tail.to_km; ++border) {
    add_border(on, *border, tail);
  }
}

/// After a reversal the whole train is still on the wire that it came under.
Tail tail_of_turned(const TailOnLeg& on) {
  const double start_km = on.leg.start_km;
  Tail tail{.from_km = start_km, .to_km = start_km, .cuts_km = {}};
  for (auto border = std::ranges::lower_bound(on.borders, start_km - on.length_km());
       border != on.borders.end() && *border < start_km; ++border) {
    add_border(on, *border, tail);
  }
  for (const PlacedPantograph& placed : on.layout.pantographs) {
    const double km = start_km + placed.from_front_m / 1000;
    tail.cuts_km.push_back(km);
    tail.to_km = std::max(tail.to_km, km);
  }
  follow_through(on, start_km, tail);
  return tail;
}

std::vector<Tail> tails_of(const PlanRequest& request, const std::vector<PowerlessZone>& zones,
                           const std::vector<Mark>& marks, const std::vector<Leg>& legs) {
  std::vector<double> changes{departure_km(request.route)};
  for (const Mark& mark : marks) {
    changes.push_back(mark.at_km);
  }
  for (const Stop& stop : request.route.stops) {
    changes.push_back(stop.at_km);
  }
  std::ranges::sort(changes);
  const std::vector<double> borders = wire_borders(request.route, zones);
  std::vector<Tail> tails;
  for (std::size_t l = 0; l < legs.size(); ++l) {
    const double end_km =
        l + 1 < legs.size() ? legs[l + 1].start_km : request.route.sections.back().to_km;
    const Layout layout = lay_out(request.train, legs[l].reversed);
    const TailOnLeg on{legs[l], end_km, layout, borders};
    if (legs[l].turned) {
      tails.push_back(tail_of_turned(on));
    }
    for (const double change : changes) {
      if (change < on.leg.start_km || change > end_km) {
        continue;
      }
      const double least_km = std::max(on.leg.start_km, change - on.length_km());
      for (auto border = std::ranges::lower_bound(borders, least_km);
           border != borders.end() && *border <= change; ++border) {
        Tail tail{.from_km = *border, .to_km = *border, .cuts_km = {}};
        add_border(on, *border, tail);
        if (tail.to_km > change) {
          follow_through(on, *border, tail);
          tails.push_back(std::move(tail));
        }
      }
    }
  }
  return tails;
}

std::vector<double> cuts(const PlanRequest& request, const std::vector<PowerlessZone>& zones,
                         const std::vector<FrontRange>& ranges, const std::vector<FrontRange>& low,
                         const std::vector<Mark>& marks, const std::vector<Tail>& tails) {
  const Route& route = request.route;
  const double from = departure_km(route);
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
  for (const PowerlessZone& zone : zones) {
    if (zone.lowered) {
      add(zone.from_km);
      add(zone.to_km);
    }
  }
  for (const Tail& tail : tails) {
    std::ranges::for_each(tail.cuts_km, add);
  }
  for (const auto* const list : {&ranges, &low}) {
    for (const FrontRange& range : *list) {
      add(range.from_km);
      add(range.to_km);
    }
  }
  for (const IceStretch& ice : request.conditions.ice) {
    add(ice.from_km);
    add(ice.to_km);
  }
  for (const Stop& stop : route.stops) {
    add(stop.at_km);
  }
  for (const Mark& mark : marks) {
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
          .landmark_within_m = number_of(*rule, "landmark_within_m").value_or(0),
          .least_gain_kmh = number_of(*rule, "least_gain_kmh").value_or(0)};
}

std::vector<Piece> cut_into_pieces(const PlanRequest& request,
                                   const std::vector<PowerlessZone>& zones,
                                   std::vector<std::string>& notes) {
  const Route& route = request.route;
  const std::vector<Leg> legs = legs_of(route);
  const std::vector<Mark> marks = marks_of(request, zones, legs);
  const std::vector<Tail> tails = tails_of(request, zones, marks, legs);
  const bool change_while_lowered =
      rule_in_force(request.rules, RuleKind::change_while_lowered) != nullptr;
  const std::vector<FrontRange> ranges = separation_ranges(request, zones, notes);
  const std::vector<FrontRange> low = low_place_ranges(request);
  const std::vector<double> kms = cuts(request, zones, ranges, low, marks, tails);
  std::vector<Piece> pieces;
  std::size_t leg = 0;
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
    while (leg + 1 < legs.size() && legs[leg + 1].start_km < middle) {
      ++leg;
    }
    piece.leg = legs[leg];
    piece.reversed = legs[leg].reversed;
    piece.tail_matters = containing(tails, middle) != tails.end();
    // A train that stands in a stretch with its front has nothing to lower for it: it cannot start.
    const auto zone = std::ranges::find_if(zones, [&](const PowerlessZone& candidate) {
      return candidate.lowered && candidate.from_km <= middle && middle <= candidate.to_km &&
             (!route.departs_km || candidate.from_km > *route.departs_km);
    });
    if (zone != zones.end()) {
      piece.lowered = true;
      piece.lowered_for = zone->name;
    }
    for (const FrontRange& range : ranges) {
      if (!piece.lowered && range.from_km <= middle && middle <= range.to_km) {
        piece.separations.push_back(range.index);
      }
    }
    for (const FrontRange& range : low) {
      if (!piece.lowered && range.from_km <= middle && middle <= range.to_km) {
        piece.low_places.push_back(range.index);
      }
    }
    if (const auto stop = place_at(route.stops, kms[i]); stop != route.stops.end()) {
      piece.entry = Passage::standstill;
      piece.entry_place = stop->name;
      piece.entered_reversed = stop->reversal && i > 0;
    } else if (i == 0) {
      piece.entry = Passage::standstill;
    } else if (pieces.back().lowered && !piece.lowered && change_while_lowered) {
      piece.entry = Passage::lowered;
      piece.entry_place = pieces.back().lowered_for;
    } else if (const auto mark = place_at(marks, kms[i]);
               mark != marks.end() && !piece.lowered && !pieces.back().lowered) {
      piece.entry = Passage::on_the_move;
      piece.entry_place = mark->name;
      piece.change_room_km = mark->room_km;
    }
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace panup
