#include "plan/whereabouts.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

#include "judging/limited_rules.h"
#include "plan/pieces.h"
#include "stock/layout.h"

namespace panup {

namespace {

/// Those of one kind for a stretch. Landmarks stand in order.
BoardsByStretch boards_for(const PlanRequest& request, const std::string& name, Board board) {
  std::vector<double> kms;
  for (const Landmark& landmark : request.route.landmarks) {
    if (landmark.board == board && landmark.board_of == name) {
      kms.push_back(landmark.at_km);
    }
  }
  return kms.empty() ? BoardsByStretch() : BoardsByStretch{std::move(kms)};
}

ZoneBoards boards_of(const PlanRequest& request, const std::string& name) {
  if (rule_in_force(request.rules, RuleKind::line_boards) == nullptr) {
    return {};
  }
  return {.breaker_off = boards_for(request, name, Board::breaker_off),
          .lower = boards_for(request, name, Board::lower),
          .raise = boards_for(request, name, Board::raise),
          .breaker_on = boards_for(request, name, Board::breaker_on)};
}

std::vector<PowerlessZone> zones_of(const PlanRequest& request) {
  std::vector<PowerlessZone> zones;
  const double hindmost_km = hindmost_wire_km(request);
  for (const SeparationSection& separation : request.route.separations) {
    const bool is_met = extent_of(separation).to_km >= hindmost_km;
    if (is_met && (separation.pantograph_lowered || separation.breaker_off)) {
      const SeparationExtent extent = extent_of(separation);
      zones.push_back({.name = separation.name,
                       .from_km = extent.from_km,
                       .to_km = extent.to_km,
                       .lowered = separation.pantograph_lowered,
                       .boards = boards_of(request, separation.name)});
    }
  }
  for (const LoweredStretch& stretch : request.route.lowered) {
    if (stretch.to_km < hindmost_km) {
      continue;
    }
    zones.push_back({.name = stretch.name,
                     .from_km = stretch.from_km,
                     .to_km = stretch.to_km,
                     .lowered = true,
                     .boards = boards_of(request, stretch.name)});
  }
  std::ranges::stable_sort(zones, {}, &PowerlessZone::from_km);
  return zones;
}

/// The highest speed with pantographs down anywhere on the way: on each section the lowest that the
/// line and the rules that hold there leave.
double highest_lowered_kmh(const PlanRequest& request) {
  std::vector<const Rule*> rules;
  for (const Rule& rule : request.rules.rules) {
    if (rule.kind == RuleKind::change_while_lowered && holds_for(rule.only_for, request.train)) {
      rules.push_back(&rule);
    }
  }
  double highest = 0;
  for (const Section& section : request.route.sections) {
    double speed_kmh = section.line_speed_kmh;
    for (const Rule* const rule : rules) {
      for (const char* const name : {"lowering_speed_kmh", "raising_speed_kmh"}) {
        const auto stated =
            holds_on(rule->only_for, section) ? number_of(*rule, name) : std::optional<double>();
        speed_kmh = std::min(speed_kmh, stated.value_or(speed_kmh));
      }
    }
    highest = section.to_km < departure_km(request.route) ? highest : std::max(highest, speed_kmh);
  }
  return highest;
}

/// How far the front runs from where what is ordered behind one zone may be ordered, to where what
/// stands before the other begins.
double gap_km(double from_km, double to_km) { return to_km - from_km - rounding_km; }

/// Merges the zones of a route as far as their neighbours leave no room.
class Merging {
 public:
  Merging(const PlanRequest& request, std::vector<std::string>& notes)
      : request_(request), room_(room_of(request, false)), notes_(notes) {
    const Room other = room_of(request, true);
    room_.foremost_km = std::min(room_.foremost_km, other.foremost_km);
    room_.rearmost_km = std::max(room_.rearmost_km, other.rearmost_km);
  }

  std::vector<PowerlessZone> merged() {
    for (PowerlessZone& zone : zones_of(request_)) {
      add(std::move(zone));
    }
    return std::move(zones_);
  }

 private:
  void add(PowerlessZone zone) {
    while (!zones_.empty()) {
      const std::size_t first = first_to_join(zone);
      if (first == zones_.size()) {
        break;
      }
      zone = joined(first, zone);
    }
    zones_.push_back(std::move(zone));
  }

  /// From which one on the zones before are one with this; their number if none is.
  std::size_t first_to_join(const PowerlessZone& zone) const {
    const std::size_t none = zones_.size();
    const PowerlessZone& before = zones_.back();
    if (!before.lowered && !zone.lowered) {
      return none;
    }
    if (zone.from_km <= before.to_km) {
      return none - 1;
    }
    if (stands_within(request_.route, before.to_km, zone.from_km)) {
      return none;
    }
    if (before.lowered) {
      const bool room = zone.lowered ? may_close(before, zone) : may_raise(before, zone);
      return room ? none : none - 1;
    }
    // With the breaker open all the way from a lowered stretch to this one, nothing need rise.
    for (std::size_t i = none - 1;; --i) {
      const PowerlessZone& next = i + 1 < none ? zones_[i + 1] : zone;
      if (may_close(zones_[i], next) ||
          stands_within(request_.route, zones_[i].to_km, next.from_km)) {
        return none;
      }
      if (zones_[i].lowered) {
        return i;
      }
      if (i == 0) {
        return none;
      }
    }
  }

  PowerlessZone joined(std::size_t first, PowerlessZone zone) {
    for (; zones_.size() > first; zones_.pop_back()) {
      const PowerlessZone& before = zones_.back();
      notes_.push_back(request_.rules.words.say(
          "Between {} and {} there is too little room to raise and lower again: the "
          "pantographs stay down in between.",
          before.name, zone.name));
      ZoneBoards boards = before.boards;
      for (const auto kind : {&ZoneBoards::breaker_off, &ZoneBoards::lower, &ZoneBoards::raise,
                              &ZoneBoards::breaker_on}) {
        std::ranges::copy(zone.boards.*kind, std::back_inserter(boards.*kind));
      }
      zone = {.name = request_.rules.words.say("{} and {}", before.name, zone.name),
              .from_km = before.from_km,
              .to_km = std::max(before.to_km, zone.to_km),
              .lowered = true,
              .merged = true,
              .boards = std::move(boards)};
    }
    return zone;
  }

  bool may_raise(const PowerlessZone& before, const PowerlessZone& after) const {
    return gap_km(std::max(before.to_km + room_.rearmost_km, first_behind_km(before.boards.raise)),
                  after.from_km + room_.foremost_km) >=
           km_in(room_.reaction_s + room_.raising_s, room_.lowered_kmh);
  }

  /// Whether there is room to raise what is down, to close, to open and to lower again.
  bool may_close(const PowerlessZone& before, const PowerlessZone& after) const {
    double seconds = 2 * (room_.reaction_s + room_.breaker_s);
    seconds += before.lowered ? room_.reaction_s + room_.raising_s : 0;
    seconds += after.lowered ? room_.reaction_s + room_.lowering_s : 0;
    const double speed_kmh = before.lowered && after.lowered
                                 ? room_.lowered_kmh
                                 : highest_line_kmh(request_.route, before.from_km, after.to_km);
    return gap_km(std::max({before.to_km + room_.rearmost_km, first_behind_km(before.boards.raise),
                            first_behind_km(before.boards.breaker_on)}),
                  std::min(after.from_km + room_.foremost_km, after.boards.first_before_km())) >=
           km_in(seconds, speed_kmh);
  }

  const PlanRequest& request_;
  Room room_;
  std::vector<std::string>& notes_;
  std::vector<PowerlessZone> zones_;
};

}  // namespace

double ZoneBoards::first_before_km() const {
  double first = std::numeric_limits<double>::infinity();
  for (const BoardsByStretch* const stretches : {&breaker_off, &lower}) {
    for (const std::vector<double>& boards : *stretches) {
      first = std::min(first, boards.front());
    }
  }
  return first;
}

double first_behind_km(const BoardsByStretch& boards) {
  double first = -std::numeric_limits<double>::infinity();
  for (const std::vector<double>& of_stretch : boards) {
    first = std::max(first, of_stretch.front());
  }
  return first;
}

std::vector<Leg> legs_of(const Route& route) {
  std::vector<Leg> legs{{.start_km = route.sections.front().from_km}};
  for (const Stop& stop : route.stops) {
    if (stop.reversal && stop.at_km > legs.front().start_km &&
        stop.at_km < route.sections.back().to_km) {
      legs.push_back({.start_km = stop.at_km, .turned = true, .reversed = !legs.back().reversed});
    }
  }
  // Those that were over before departure are no part of the way.
  const auto behind = std::ranges::upper_bound(legs, departure_km(route), {}, &Leg::start_km);
  legs.erase(legs.begin(), std::prev(behind));
  return legs;
}

double hindmost_wire_km(const PlanRequest& request) {
  if (!request.route.departs_km) {
    return -std::numeric_limits<double>::infinity();
  }
  const Leg leg = legs_of(request.route).front();
  const double length_km = length_m(request.train) / 1000;
  const double rear_km = *request.route.departs_km - length_km;
  return leg.turned && rear_km < leg.start_km ? leg.start_km - length_km : rear_km;
}

double place_km(const Leg& leg, double train_length_km, double behind_km, double front_km) {
  const double place = front_km - behind_km;
  return leg.turned && place < leg.start_km ? 2 * leg.start_km - train_length_km - place : place;
}

double front_past_km(const Leg& leg, double train_length_km, double behind_km, double wire_km) {
  return leg.turned && wire_km < leg.start_km
             ? 2 * leg.start_km - train_length_km + behind_km - wire_km
             : wire_km + behind_km;
}

Room room_of(const PlanRequest& request, bool reversed) {
  const Layout layout = lay_out(request.train, reversed);
  const DriverTimes times = driver_times(request.rules);
  Room room{.foremost_km = layout.length_m / 1000,
            .length_km = layout.length_m / 1000,
            .reaction_s = times.reaction_s,
            .breaker_s = times.breaker_s};
  for (const PlacedPantograph& placed : layout.pantographs) {
    room.foremost_km = std::min(room.foremost_km, placed.from_front_m / 1000);
    room.rearmost_km = std::max(room.rearmost_km, placed.from_front_m / 1000);
    room.raising_s = std::max(room.raising_s, placed.type->raising_time_s);
    room.lowering_s = std::max(room.lowering_s, placed.type->lowering_time_s);
  }
  room.lowered_kmh = highest_lowered_kmh(request);
  return room;
}

double highest_line_kmh(const Route& route, double from_km, double to_km) {
  double highest = 0;
  for (auto section = std::ranges::lower_bound(route.sections, from_km, {}, &Section::to_km);
       section != route.sections.end() && section->from_km <= to_km; ++section) {
    highest = std::max(highest, section->line_speed_kmh);
  }
  return highest;
}

std::vector<PowerlessZone> powerless_zones(const PlanRequest& request,
                                           std::vector<std::string>& notes) {
  return Merging(request, notes).merged();
}

double last_stand_km(const Route& route, double before_km) {
  double km = departure_km(route);
  for (const Stop& stop : route.stops) {
    km = stop.at_km < before_km ? std::max(km, stop.at_km) : km;
  }
  return km;
}

double reached_from_stand_kmh(const Train& train, double room_m) {
  return 3.6 * std::sqrt(2 * train.acceleration_ms2 * room_m);
}

double reachable_ms(const Train& train, double room_m, double u, double w) {
  const double a = train.acceleration_ms2;
  const double b = train.braking_ms2;
  const double without_braking = std::sqrt(u * u + 2 * a * room_m);
  if (without_braking <= w) {
    return without_braking;
  }
  const double squared = (room_m + u * u / (2 * a) + w * w / (2 * b)) / (1 / (2 * a) + 1 / (2 * b));
  return std::max({std::sqrt(squared), u, w});
}

bool stands_within(const Route& route, double from_km, double to_km) {
  const auto is_within = [&](double km) { return km >= from_km && km <= to_km; };
  return (route.departs_km && is_within(*route.departs_km)) ||
         std::ranges::any_of(route.stops, is_within, &Stop::at_km);
}

}  // namespace panup
