#include "plan/standing_findings.h"

#include <fmt/format.h>

#include <algorithm>

#include "checks/standing.h"
#include "checks/train_collectors.h"
#include "plan/coasting_findings.h"

namespace panup {

namespace {

constexpr int farthest_earlier_m = 2000;

struct StandingPlace {
  std::string name;
  double at_km = 0;
  bool is_stop = false;
};

std::vector<StandingPlace> standing_places(const Route& route) {
  std::vector<StandingPlace> places;
  for (const Stop& stop : route.stops) {
    places.push_back({.name = stop.name, .at_km = stop.at_km, .is_stop = true});
  }
  const double end_km = route.sections.back().to_km;
  if (route.stops.empty() || route.stops.back().at_km < end_km) {
    places.push_back({.name = "the end of the route", .at_km = end_km, .is_stop = true});
  }
  for (const Landmark& landmark : route.landmarks) {
    if (landmark.signal) {
      places.push_back({.name = landmark.name, .at_km = landmark.at_km, .is_stop = false});
    }
  }
  return places;
}

/// What is up while the train stands with its front at `km`, as bits.
PantographSet set_at(const PlanningCase& planning, const Way& way, const StandingPlace& place) {
  const std::size_t arriving = piece_reaching(planning, place.at_km);
  const auto set_on = [&](std::size_t piece) {
    return planning.pieces[piece].lowered || way.raised[piece] == blocked_set ? 0
                                                                              : way.raised[piece];
  };
  PantographSet set = set_on(arriving);
  if (place.is_stop && arriving + 1 < planning.pieces.size() &&
      planning.pieces[arriving].to_km == place.at_km) {
    set |= set_on(arriving + 1);
  }
  return set;
}

/// Chainage before a reversal is another piece of wire to a train that has turned round.
std::vector<NoStandingStretch> met_at(const Route& route, double front_km) {
  std::vector<NoStandingStretch> stretches = no_standing_stretches(route);
  for (const Stop& stop : route.stops) {
    if (stop.reversal && stop.at_km < front_km) {
      std::erase_if(stretches,
                    [&](const NoStandingStretch& stretch) { return stretch.from_km < stop.at_km; });
    }
  }
  return stretches;
}

std::string joined_words(const RaisedCollectors& raised, std::size_t collector) {
  for (const HighVoltageJoin& join : raised.joins) {
    if (std::ranges::find(join.collectors, collector) != join.collectors.end()) {
      return fmt::format(", joined with others by {}", join.name);
    }
  }
  return {};
}

std::string words_for(const StandingPlace& place, const RaisedCollectors& raised,
                      const std::vector<NoStandingStretch>& stretches,
                      const std::vector<BadStand>& bad, double short_m) {
  std::string text = fmt::format("If the train stands at {}, km {:.3f}, or up to {:g} m before, ",
                                 place.name, place.at_km, short_m);
  for (std::size_t i = 0; i < bad.size(); ++i) {
    text += fmt::format("{}{} may stand in {}{}", i > 0 ? "; " : "",
                        to_string(raised.collectors[bad[i].collector].ref),
                        stretches[bad[i].stretch].words, joined_words(raised, bad[i].collector));
  }
  const auto earlier =
      clear_before_m(stretches, raised.collectors, place.at_km, short_m, farthest_earlier_m);
  return text + (earlier ? fmt::format(". It is clear if the train stops {} m before {}, at km "
                                       "{:.3f}.",
                                       *earlier, place.name, place.at_km - *earlier / 1000.0)
                         : fmt::format(". No place up to {} m before keeps all of them clear.",
                                       farthest_earlier_m));
}

}  // namespace

void add_standing_findings(const PlanningCase& planning, const Way& way,
                           std::vector<PlannedSection>& sections) {
  const PlanRequest& request = *planning.request;
  if (request.route.separations.empty() && request.route.section_insulators.empty()) {
    return;
  }
  for (const StandingPlace& place : standing_places(request.route)) {
    const std::string_view kind = place.is_stop ? "stop" : "signal";
    const auto rule = std::ranges::find_if(request.rules.rules, [&](const Rule& candidate) {
      return candidate.on && candidate.kind == RuleKind::standing_place &&
             candidate.words.at("place") == kind;
    });
    if (rule == request.rules.rules.end()) {
      continue;
    }
    const RunningTrain& train = planning.judge(piece_reaching(planning, place.at_km)).train();
    const RaisedCollectors raised =
        raised_collectors(train, set_at(planning, way, place), strips_not_stated_m(request.rules));
    const std::vector<NoStandingStretch> stretches = met_at(request.route, place.at_km);
    const double short_m = number_of(*rule, "stops_short_m").value_or(0);
    const std::vector<BadStand> bad =
        bad_stands(stretches, raised.collectors, place.at_km, short_m);
    if (!bad.empty()) {
      add_finding_at(place.at_km,
                     {.rule = rule->id,
                      .strength = rule->strength,
                      .standing = rule->standing,
                      .text = words_for(place, raised, stretches, bad, short_m),
                      .source = rule->source},
                     sections);
    }
  }
}

}  // namespace panup
