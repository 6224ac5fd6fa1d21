#include "plan/stand_place.h"

#include <algorithm>

#include "judging/facts/standing.h"
#include "judging/facts/train_collectors.h"
#include "judging/separation_rule.h"
#include "plan/section_findings.h"
#include "plan/whereabouts.h"

namespace panup {

namespace {

constexpr int farthest_earlier_m = 2000;
/// Nobody stops farther than this before the place where the train is to stand.
constexpr double farther_m = 200;

/// Chainage before a reversal is another piece of wire to a train that has turned round.
std::vector<NoStandingStretch> met_at(const Route& route, double front_km, const Words& words) {
  std::vector<NoStandingStretch> stretches = no_standing_stretches(route, words);
  for (const Stop& stop : route.stops) {
    if (stop.reversal && stop.at_km < front_km) {
      std::erase_if(stretches,
                    [&](const NoStandingStretch& stretch) { return stretch.from_km < stop.at_km; });
    }
  }
  return stretches;
}

std::string bad_stand_words(const RaisedCollectors& raised,
                            const std::vector<NoStandingStretch>& stretches, const BadStand& bad,
                            const Words& words) {
  const std::string which = to_string(raised.collectors[bad.collector].ref);
  const std::string& where = stretches[bad.stretch].words;
  for (const HighVoltageJoin& join : raised.joins) {
    if (std::ranges::find(join.collectors, bad.collector) != join.collectors.end()) {
      return words.say("{} may stand in {}, joined with others by {}", which, where, join.name);
    }
  }
  return words.say("{} may stand in {}", which, where);
}

std::string words_for(const Stand& stand, const RaisedCollectors& raised,
                      const std::vector<NoStandingStretch>& stretches,
                      const std::vector<BadStand>& bad, double short_m, std::optional<int> earlier,
                      const Words& words) {
  std::string all;
  for (const BadStand& one : bad) {
    all += (all.empty() ? "" : "; ") + bad_stand_words(raised, stretches, one, words);
  }
  const std::string text =
      words.say("If the train stands at {}, km {:.3f}, or up to {:g} m before, {}.",
                place_words(stand, words), stand.at_km, short_m, all);
  return text +
         (earlier ? words.say(" It is clear if the train stops {} m before {}, at km {:.3f}.",
                              *earlier, place_words(stand, words), stand.at_km - *earlier / 1000.0)
                  : words.say(" No place up to {} m before keeps all of them clear.",
                              farthest_earlier_m));
}

/// `within_m`: how much farther before the place is clear too; 0 where all of it is.
std::string short_stop_words(const Stand& stand, int earlier_m, double within_m,
                             const Words& words) {
  const std::string how = within_m > 0 ? words.say("{} to {:g} m", earlier_m, earlier_m + within_m)
                                       : words.say("at least {} m", earlier_m);
  return stand.kind == StandKind::signal
             ? words.say("If {} is at stop, stop {} before it", stand.name, how)
             : words.say("Stop {} before {}", how, place_words(stand, words));
}

/// The rule for the kind of stand; null where none is in force.
const Rule* rule_for(const RuleBook& rules, StandKind kind) {
  const std::string_view place = kind == StandKind::signal ? "signal" : "stop";
  const auto rule = std::ranges::find_if(rules.rules, [&](const Rule& candidate) {
    return candidate.on && candidate.kind == RuleKind::standing_place &&
           candidate.words.at("place") == place;
  });
  return rule == rules.rules.end() ? nullptr : &*rule;
}

}  // namespace

StandPlaces check_stand_places(const PlanningCase& planning, const std::vector<Stand>& stands) {
  StandPlaces places;
  const PlanRequest& request = *planning.request;
  if (request.route.separations.empty() && request.route.section_insulators.empty()) {
    return places;
  }
  for (const Stand& stand : stands) {
    const Rule* const rule = rule_for(request.rules, stand.kind);
    if (rule == nullptr) {
      continue;
    }
    const RunningTrain& train = planning.judge(stand.ground).train();
    const RaisedCollectors raised =
        raised_collectors(train, stand.up | stand.leaves, strips_not_stated_m(request.rules));
    const std::vector<NoStandingStretch> stretches =
        met_at(request.route, stand.at_km, planning.words());
    const double short_m = number_of(*rule, "stops_short_m").value_or(0);
    const std::vector<BadStand> bad =
        bad_stands(stretches, raised.collectors, stand.at_km, short_m);
    if (bad.empty()) {
      continue;
    }
    const auto earlier =
        clear_before_m(stretches, raised.collectors, stand.at_km, short_m, farthest_earlier_m);
    places.findings.push_back(
        {.at_km = stand.at_km,
         .finding = finding_of(
             *rule, rule->strength,
             words_for(stand, raised, stretches, bad, short_m, earlier, planning.words()))});
    if (!earlier) {
      continue;  // no place would do
    }
    const double at_km = stand.at_km - *earlier / 1000.0;
    if (at_km > last_stand_km(request.route, stand.at_km)) {
      places.short_stops.push_back(
          {.at_km = at_km,
           .piece = piece_reaching(planning, at_km),
           .what = short_stop_words(
               stand, *earlier,
               bad_stands(stretches, raised.collectors, at_km, farther_m).empty() ? 0 : short_m,
               planning.words()),
           .because = planning.words().say("{} would stand in {}",
                                           to_string(raised.collectors[bad.front().collector].ref),
                                           stretches[bad.front().stretch].words)});
    }
  }
  return places;
}

}  // namespace panup
