#include "line/compose_route.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "base/listed.h"
#include "base/same_place.h"
#include "base/source_text.h"

namespace panup {

namespace {

/// To the millimetre, so that what is one place by two sums is one number.
double whole_mm(double km) { return std::round(km * 1e6) / 1e6; }

/// The way along one line in one direction.
struct Along {
  const NetworkLine* line = nullptr;
  double from_km = 0;   ///< of the line
  double to_km = 0;     ///< less than `from_km`: against the kilometres
  double start_km = 0;  ///< chainage of the route where it begins
  std::vector<const WayLeg*> legs;
  const NetworkPlace* ends_at = nullptr;

  bool rising() const { return to_km > from_km; }
  double least_km() const { return std::min(from_km, to_km); }
  double greatest_km() const { return std::max(from_km, to_km); }
  double end_km() const { return chainage(to_km); }
  double chainage(double km) const {
    // By its own kilometres they are what they are, to the last digit.
    return rising() && start_km == from_km ? km : whole_mm(start_km + std::abs(km - from_km));
  }
  bool has(double km) const {
    return km >= least_km() - same_place_km && km <= greatest_km() + same_place_km;
  }
};

std::string lines_words(const NetworkPlace& place) {
  std::vector<std::string> lines;
  for (const PlaceOnLine& on : place.on) {
    lines.push_back(fmt::format("'{}' at km {:.9g}", on.line, on.at_km));
  }
  return lines.empty() ? std::string("no line") : listed(lines);
}

class Composer {
 public:
  Composer(const Network& network, const NetworkWay& way, const std::vector<WayStop>& stops,
           Diagnostics& diagnostics)
      : network_(network), way_(way), stops_(stops), diagnostics_(diagnostics) {}

  std::optional<ComposedRoute> compose() {
    const std::size_t mistakes = diagnostics_.size();
    if (!find_alongs() || !place_stops()) {
      return std::nullopt;
    }
    route_.id = way_.id;
    route_.name = way_.name;
    route_.invented = network_.invented;
    route_.contact_line_folder = network_.contact_line_folder;
    route_.place = way_.place;
    const bool own_km = alongs_.size() == 1 && alongs_.front().rising();
    for (const Along& along : alongs_) {
      add_sections(along, own_km);
      add_stretches(along);
      add_places(along);
    }
    check_joints();
    check_stops();
    std::ranges::stable_sort(route_.low_places, {}, &LowPlace::from_km);
    std::ranges::stable_sort(route_.landmarks, {}, &Landmark::at_km);
    return diagnostics_.size() == mistakes
               ? std::optional(ComposedRoute{std::move(route_), std::move(stop_kms_)})
               : std::nullopt;
  }

 private:
  void report(const SourcePlace& place, std::string text) {
    diagnostics_.push_back({place, std::move(text)});
  }

  void report_unknown(std::string_view kind, const std::string& id, const SourcePlace& at,
                      const std::vector<std::string>& known) {
    const std::string_view nearest = nearest_of(id, known);
    report(at, fmt::format(
                   "network '{}' has no {} '{}'{}", network_.id, kind, id,
                   nearest.empty() ? std::string() : fmt::format("; did you mean '{}'?", nearest)));
  }

  template <typename Thing>
  static std::vector<std::string> ids_of(const std::vector<Thing>& things) {
    std::vector<std::string> ids;
    for (const Thing& thing : things) {
      ids.push_back(thing.id);
    }
    return ids;
  }

  const NetworkPlace* known_place(const std::string& id, const SourcePlace& at) {
    const NetworkPlace* const place = place_of(network_, id);
    if (place == nullptr) {
      report_unknown("place", id, at, ids_of(network_.places));
    }
    return place;
  }

  const NetworkLine* known_line(const WayLeg& leg) {
    const NetworkLine* const line = line_of(network_, leg.line);
    if (line == nullptr) {
      report_unknown("line", leg.line, leg.line_place, ids_of(network_.lines));
    }
    return line;
  }

  /// Follows the legs from place to place; those that go on along a line are one.
  bool find_alongs() {
    const NetworkPlace* at = known_place(way_.from, way_.from_place);
    for (const WayLeg& leg : way_.legs) {
      const NetworkLine* const line = known_line(leg);
      const NetworkPlace* const to = known_place(leg.to, leg.to_place);
      if (at == nullptr || line == nullptr || to == nullptr) {
        return false;
      }
      const auto from_km = km_on(*at, leg.line);
      const auto to_km = km_on(*to, leg.line);
      if (!from_km || !to_km) {
        const NetworkPlace& off = from_km ? *to : *at;
        report(from_km ? leg.to_place : leg.line_place,
               fmt::format("'{}' does not lie on line '{}'; it lies on {}", off.name, leg.line,
                           lines_words(off)));
        return false;
      }
      if (*from_km == *to_km) {
        report(leg.to_place, fmt::format("'{}' is where this part of the way begins", to->name));
        return false;
      }
      const bool rising = *to_km > *from_km;
      if (!alongs_.empty() && alongs_.back().line == line && alongs_.back().rising() == rising) {
        alongs_.back().to_km = *to_km;
      } else {
        alongs_.push_back({.line = line,
                           .from_km = *from_km,
                           .to_km = *to_km,
                           .start_km = 0,
                           .legs = {},
                           .ends_at = nullptr});
      }
      alongs_.back().legs.push_back(&leg);
      alongs_.back().ends_at = to;
      at = to;
    }
    if (alongs_.empty()) {
      report(way_.place, "the way has no part: it leads nowhere");
    }
    return !alongs_.empty();
  }

  /// Goes along the way from stop to stop, turns it round where the train turns, and lays the
  /// chainage along it.
  bool place_stops() {
    alongs_.front().start_km =
        alongs_.size() == 1 && alongs_.front().rising() ? alongs_.front().from_km : 0;
    auto next = stops_.begin();
    double passed_km = alongs_.front().from_km;
    for (std::size_t i = 0; i < alongs_.size(); ++i) {
      const Along& along = alongs_[i];
      const bool last = i + 1 == alongs_.size();
      const WayStop* turn = nullptr;
      while (next != stops_.end() && turn == nullptr) {
        const NetworkPlace* const place = known_place(next->at, next->place);
        if (place == nullptr) {
          return false;
        }
        const auto km = km_on(*place, along.line->id);
        const bool at_end = place == along.ends_at;
        const bool ahead =
            km && along.has(*km) &&
            (along.rising() ? *km >= passed_km - same_place_km : *km <= passed_km + same_place_km);
        if (!ahead || (next->reversal && (!at_end || last))) {
          break;
        }
        passed_km = *km;
        add_stop(*next, *place, along.chainage(*km), last && at_end);
        turn = next->reversal ? &*next : nullptr;
        ++next;
      }
      if (last) {
        break;
      }
      if (!begin_next(along, alongs_[i + 1], turn)) {
        return false;
      }
      passed_km = alongs_[i + 1].from_km;
    }
    if (next != stops_.end()) {
      const NetworkPlace* const place = known_place(next->at, next->place);
      if (place != nullptr) {
        report(next->place, missed_words(*next, *place));
      }
      return false;
    }
    return true;
  }

  std::string missed_words(const WayStop& stop, const NetworkPlace& place) const {
    const std::string behind = route_.stops.empty()
                                   ? std::string()
                                   : fmt::format(" behind '{}'", route_.stops.back().name);
    if (stop.reversal) {
      return fmt::format(
          "the train cannot leave '{}' in the other direction{}: the way neither turns back there "
          "nor leaves by another line",
          place.name, behind);
    }
    return fmt::format("'{}' does not lie on the way{}", place.name, behind);
  }

  bool begin_next(const Along& before, Along& next, const WayStop* turn) {
    next.start_km = before.end_km();
    const bool turns_back = next.line == before.line;
    if (turns_back && turn == nullptr) {
      report(next.legs.front()->to_place,
             fmt::format("the way turns back at '{}': the train needs a stop there with 'reversal "
                         "= true'",
                         before.ends_at->name));
      return false;
    }
    if (turns_back) {
      const double behind_km = turn->new_front_behind_m / 1000;
      next.from_km = whole_mm(next.from_km + (next.rising() ? behind_km : -behind_km));
      if (next.to_km == next.from_km || next.rising() == before.rising()) {
        report(turn->place,
               fmt::format("the train is {:g} m long and stands beyond the end of its way back, "
                           "km {:.9g} of line '{}'",
                           turn->new_front_behind_m, next.to_km, next.line->id));
        return false;
      }
    }
    return true;
  }

  void add_stop(const WayStop& stop, const NetworkPlace& place, double at_km, bool arrives) {
    stop_kms_.push_back(at_km);
    if (at_km == alongs_.front().start_km || arrives || stop.passes) {
      return;  // departure and arrival need no entry
    }
    if (!route_.stops.empty() && route_.stops.back().at_km >= at_km - same_place_km) {
      report(stop.place, fmt::format("'{}' is at the same place as '{}'", place.name,
                                     route_.stops.back().name));
      return;
    }
    route_.stops.push_back(
        {.name = place.name, .at_km = at_km, .reversal = stop.reversal, .place = stop.place});
  }

  void add_sections(const Along& along, bool own_km) {
    std::vector<Section> sections;
    for (const Section& section : along.line->track.sections) {
      const double from = std::max(section.from_km, along.least_km());
      const double to = std::min(section.to_km, along.greatest_km());
      if (to - from <= same_place_km) {
        continue;
      }
      Section& added = sections.emplace_back(section);
      added.from_km = along.chainage(along.rising() ? from : to);
      added.to_km = along.chainage(along.rising() ? to : from);
      if (!own_km) {
        added.line_from_km = along.rising() ? from : to;
        added.line_to_km = along.rising() ? to : from;
      }
      if (!along.rising()) {
        for (SpanType& span : added.spans) {
          std::swap(span.stagger_m[0], span.stagger_m[1]);
        }
      }
    }
    if (!along.rising()) {
      std::ranges::reverse(sections);
    }
    route_.sections.insert(route_.sections.end(), sections.begin(), sections.end());
  }

  /// The part of a stretch of the line that the way has, by chainage; nothing where it has none.
  static std::optional<std::pair<double, double>> part_of(const Along& along, double from_km,
                                                          double to_km) {
    const double from = std::max(from_km, along.least_km());
    const double to = std::min(to_km, along.greatest_km());
    if (to <= from) {
      return std::nullopt;
    }
    const double one = along.chainage(from);
    const double other = along.chainage(to);
    return std::pair(std::min(one, other), std::max(one, other));
  }

  /// What is met first keeps its name; what is called the same says which it is.
  std::string name_here(const std::string& name, const std::string& line) {
    std::vector<std::string>& met = met_[name];
    const auto times = std::ranges::count(met, line);
    const bool other_line = !met.empty() && met.front() != line;
    met.push_back(line);
    return name + (other_line ? fmt::format(" (line {})", line) : std::string()) +
           (times == 0   ? std::string()
            : times == 1 ? std::string(" (second time)")
                         : fmt::format(" (time {})", times + 1));
  }

  void add_stretches(const Along& along) {
    const Route& track = along.line->track;
    named_here_.clear();
    std::vector<SeparationSection> separations;
    for (const SeparationSection& separation : track.separations) {
      const SeparationExtent extent = extent_of(separation);
      const double end_km = separation.from_km + separation.length_m / 1000;
      const double from = std::min(extent.from_km, separation.from_km);
      const double to = std::max(extent.to_km, end_km);
      if (to <= along.least_km() + same_place_km || from >= along.greatest_km() - same_place_km) {
        continue;
      }
      const double way_from = along.least_km() - same_place_km;
      const double way_to = along.greatest_km() + same_place_km;
      if (separation.from_km < way_from || end_km > way_to) {
        const double cut = separation.from_km < way_from ? along.least_km() : along.greatest_km();
        const bool begins = (cut == along.from_km);
        report(place_of_end(along, begins),
               fmt::format("'{}', km {:.9g} to {:.9g} of line '{}', is passed in part: the way {} "
                           "it, at km {:.9g}",
                           separation.name, separation.from_km, end_km, along.line->id,
                           begins ? "along the line begins in" : "leaves the line in", cut));
        continue;
      }
      SeparationSection added = along.rising() ? separation : turned_round(separation);
      added.from_km = along.chainage(along.rising() ? separation.from_km : whole_mm(end_km));
      separations.push_back(std::move(added));
    }
    std::ranges::stable_sort(separations, {}, &SeparationSection::from_km);
    std::vector<LoweredStretch> lowered;
    for (const LoweredStretch& stretch : track.lowered) {
      if (const auto part = part_of(along, stretch.from_km, stretch.to_km)) {
        lowered.push_back(stretch);
        std::tie(lowered.back().from_km, lowered.back().to_km) = *part;
      }
    }
    std::ranges::stable_sort(lowered, {}, &LoweredStretch::from_km);
    for (SeparationSection& separation : separations) {
      separation.name = named(separation.name, along);
      route_.separations.push_back(std::move(separation));
    }
    for (LoweredStretch& stretch : lowered) {
      stretch.name = named(stretch.name, along);
      route_.lowered.push_back(std::move(stretch));
    }
  }

  /// The name that a stretch has on this part of the way.
  std::string named(const std::string& name, const Along& along) {
    const auto known = named_here_.find(name);
    return known != named_here_.end()
               ? known->second
               : named_here_.emplace(name, name_here(name, along.line->id)).first->second;
  }

  void add_places(const Along& along) {
    const Route& track = along.line->track;
    for (const LowPlace& place : track.low_places) {
      if (const auto part = part_of(along, place.from_km, place.to_km)) {
        route_.low_places.push_back(place);
        std::tie(route_.low_places.back().from_km, route_.low_places.back().to_km) = *part;
      }
    }
    std::vector<Gradient> gradients;
    for (const Gradient& gradient : track.gradients) {
      if (const auto part = part_of(along, gradient.from_km, gradient.to_km)) {
        gradients.push_back({.from_km = part->first,
                             .to_km = part->second,
                             .permille = along.rising() || gradient.permille == 0
                                             ? gradient.permille
                                             : -gradient.permille,
                             .place = gradient.place});
      }
    }
    std::vector<SectionInsulator> insulators;
    for (const SectionInsulator& insulator : track.section_insulators) {
      if (along.has(insulator.at_km)) {
        insulators.push_back(insulator);
        insulators.back().at_km = along.chainage(insulator.at_km);
      }
    }
    if (!along.rising()) {
      std::ranges::reverse(gradients);
      std::ranges::reverse(insulators);
    }
    route_.gradients.insert(route_.gradients.end(), gradients.begin(), gradients.end());
    route_.section_insulators.insert(route_.section_insulators.end(), insulators.begin(),
                                     insulators.end());
    for (const Landmark& landmark :
         along.rising() ? track.landmarks : along.line->falling_landmarks) {
      if (!along.has(landmark.at_km)) {
        continue;
      }
      Landmark added = landmark;
      added.at_km = along.chainage(landmark.at_km);
      if (added.board) {
        const auto stretch = named_here_.find(added.board_of);
        if (stretch == named_here_.end()) {
          continue;  // what it is for does not lie on the way
        }
        added.board_of = stretch->second;
      }
      route_.landmarks.push_back(std::move(added));
    }
  }

  /// Where the file says that a part of the way begins or ends.
  const SourcePlace& place_of_end(const Along& along, bool begins) const {
    if (!begins) {
      return along.legs.back()->to_place;
    }
    return &along == &alongs_.front() ? way_.from_place : along.legs.front()->line_place;
  }

  /// Each line is right by itself; where two meet, the system changes within a separation section.
  void check_joints() {
    for (std::size_t i = 0; i + 1 < alongs_.size(); ++i) {
      const double at_km = alongs_[i].end_km();
      const auto after = std::ranges::find_if(route_.sections, [&](const Section& section) {
        return std::abs(section.from_km - at_km) <= same_place_km;
      });
      if (after == route_.sections.end() || after == route_.sections.begin()) {
        continue;
      }
      const Section& before = *std::prev(after);
      const bool changes = before.supply && after->supply && before.supply != after->supply;
      const bool separated =
          std::ranges::any_of(route_.separations, [&](const SeparationSection& separation) {
            return separation.kind == SeparationKind::system &&
                   separation.from_km <= at_km + same_place_km &&
                   separation.from_km + separation.length_m / 1000 >= at_km - same_place_km;
          });
      if (changes && !separated) {
        report(alongs_[i + 1].legs.front()->line_place,
               fmt::format("the energy supply system changes from {} on line '{}' to {} on line "
                           "'{}' at '{}', but there is no system separation section there",
                           name_of(*before.supply), alongs_[i].line->id, name_of(*after->supply),
                           alongs_[i + 1].line->id, alongs_[i].ends_at->name));
      }
    }
  }

  void check_stops() {
    const auto cannot_start = [&](const Stop& stop, const std::string& name) {
      report(stop.place, fmt::format("'{}' lies within '{}', which is passed with pantographs "
                                     "down: the train could not start",
                                     stop.name, name));
    };
    for (const Stop& stop : route_.stops) {
      for (const LoweredStretch& lowered : route_.lowered) {
        if (stop.at_km > lowered.from_km && stop.at_km < lowered.to_km) {
          cannot_start(stop, lowered.name);
        }
      }
      for (const SeparationSection& separation : route_.separations) {
        if (separation.pantograph_lowered && stop.at_km > separation.from_km &&
            stop.at_km < separation.from_km + separation.length_m / 1000) {
          cannot_start(stop, separation.name);
        }
      }
    }
  }

  const Network& network_;
  const NetworkWay& way_;
  const std::vector<WayStop>& stops_;
  Diagnostics& diagnostics_;
  std::vector<Along> alongs_;
  Route route_;
  std::vector<double> stop_kms_;
  std::map<std::string, std::vector<std::string>> met_;  ///< lines by names of stretches passed
  std::map<std::string, std::string> named_here_;        ///< on the part of the way in hand
};

}  // namespace

SeparationSection turned_round(const SeparationSection& separation) {
  SeparationSection turned = separation;
  turned.from_km = separation.from_km + separation.length_m / 1000;
  for (SeparationZone& zone : turned.zones) {
    const double from_m = separation.length_m - zone.to_m;
    zone.to_m = separation.length_m - zone.from_m;
    zone.from_m = from_m;
  }
  std::ranges::reverse(turned.zones);
  return turned;
}

std::vector<WayStop> turns_of(const Network& network, const NetworkWay& way) {
  std::vector<WayStop> turns;
  const auto km_at = [&network](const std::string& id, const std::string& line) {
    const NetworkPlace* const place = place_of(network, id);
    return place == nullptr ? std::nullopt : km_on(*place, line);
  };
  for (std::size_t i = 0; i + 1 < way.legs.size(); ++i) {
    const WayLeg& leg = way.legs[i];
    const auto from_km = km_at(i == 0 ? way.from : way.legs[i - 1].to, leg.line);
    const auto at_km = km_at(leg.to, leg.line);
    const auto to_km = km_at(way.legs[i + 1].to, leg.line);
    if (leg.line == way.legs[i + 1].line && from_km && at_km && to_km &&
        (*at_km > *from_km) != (*to_km > *at_km)) {
      turns.push_back({.at = leg.to, .reversal = true, .place = leg.to_place});
    }
  }
  return turns;
}

const NetworkLine* line_of(const Network& network, const std::string& id) {
  const auto found = std::ranges::find(network.lines, id, &NetworkLine::id);
  return found == network.lines.end() ? nullptr : &*found;
}

const NetworkPlace* place_of(const Network& network, const std::string& id) {
  const auto found = std::ranges::find(network.places, id, &NetworkPlace::id);
  return found == network.places.end() ? nullptr : &*found;
}

std::optional<double> km_on(const NetworkPlace& place, const std::string& line) {
  const auto found = std::ranges::find(place.on, line, &PlaceOnLine::line);
  return found == place.on.end() ? std::nullopt : std::optional(found->at_km);
}

std::optional<ComposedRoute> compose_route(const Network& network, const NetworkWay& way,
                                           const std::vector<WayStop>& stops,
                                           Diagnostics& diagnostics) {
  return Composer(network, way, stops, diagnostics).compose();
}

}  // namespace panup
