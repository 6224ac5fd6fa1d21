#include "plan/ladder.h"

#include <algorithm>
#include <cmath>

namespace panup {

LadderCost cost_of(const Verdict& verdict, double length_m, const LadderTerms& terms) {
  const std::int64_t metres = std::max<std::int64_t>(1, std::llround(length_m));
  const auto shortfall = [metres](double wanted_m, double got_m) {
    return metres * std::llround(1000 * std::max(0.0, wanted_m - got_m));
  };
  LadderCost cost;
  cost[terms.runnable_first ? Rung::consent_first : Rung::consent_last_resort] =
      verdict.consent_needed && !terms.consents_granted ? metres : 0;
  cost[Rung::put_dead] = metres * verdict.put_dead;
  cost[Rung::facing_pair] = metres * verdict.facing_pairs;
  cost[Rung::leading_points] = metres * verdict.leading_short;
  cost[Rung::exposed_dangerous] = metres * verdict.exposed_dangerous;
  cost[Rung::exposed_sensitive] = metres * verdict.exposed_sensitive;
  cost[Rung::leading_put_dead] = verdict.leading_put_dead ? metres : 0;
  cost[Rung::banking_points] = metres * verdict.banking_short;
  cost[Rung::following_points] = metres * verdict.following_short;
  cost[Rung::time] = std::llround(3600.0 * length_m / verdict.speed_kmh);
  cost[Rung::current] = metres * verdict.missing_current_a;
  cost[Rung::pattern] = metres * verdict.departures;
  if (verdict.least_distance_m > 0) {
    cost[Rung::least_distance] = shortfall(terms.train_length_m, verdict.least_distance_m);
    cost[Rung::distance_sum] = shortfall(terms.train_length_m, verdict.distance_sum_m);
  }
  cost[Rung::windscreen] = metres * verdict.dirty_windscreens;
  cost[Rung::raised] = metres * verdict.raised;
  return cost;
}

LadderCost cost_of_blocked(double length_m) {
  LadderCost cost;
  cost[Rung::blocked] = std::max<std::int64_t>(1, std::llround(length_m));
  return cost;
}

LadderCost without_consents(LadderCost cost) {
  cost[Rung::consent_first] = 0;
  cost[Rung::consent_last_resort] = 0;
  return cost;
}

Rung where_they_part(const LadderCost& a, const LadderCost& b) {
  for (std::size_t i = 0; i + 1 < rung_count; ++i) {
    if (a.rungs[i] != b.rungs[i]) {
      return static_cast<Rung>(i);
    }
  }
  return Rung::standing_changes;
}

std::string words_for(Rung rung, const Words& words) {
  switch (rung) {
    case Rung::blocked:
      return words.say("a stretch without a permitted configuration");
    case Rung::consent_first:
    case Rung::consent_last_resort:
      return words.say("a consent that nobody has named");
    case Rung::put_dead:
      return words.say("a working locomotive put dead in tow");
    case Rung::current:
      return words.say("the current for full power");
    case Rung::facing_pair:
      return words.say("a facing pair across the coupling");
    case Rung::left_dangerous:
      return words.say(
          "a locomotive put dead in tow that would have kept the dangerous load protected");
    case Rung::left_sensitive:
      return words.say(
          "a locomotive put dead in tow that would have kept the sensitive load protected");
    case Rung::leading_points:
      return words.say("two contact points on the leading working locomotive");
    case Rung::exposed_dangerous:
      return words.say("the dangerous load exposed");
    case Rung::exposed_sensitive:
      return words.say("the sensitive load exposed");
    case Rung::leading_put_dead:
      return words.say("the leading locomotive put dead in tow");
    case Rung::banking_points:
      return words.say("two contact points on the first banking locomotive");
    case Rung::following_points:
      return words.say("two contact points on the following locomotives");
    case Rung::time:
      return words.say("running time");
    case Rung::moving_changes:
      return words.say("a change on the move");
    case Rung::pattern:
      return words.say("the prescribed pattern");
    case Rung::least_distance:
      return words.say("the least distance between raised pantographs of different vehicles");
    case Rung::distance_sum:
      return words.say("the sum of distances between raised pantographs of different vehicles");
    case Rung::windscreen:
      return words.say("dust on the next windscreen");
    case Rung::raised:
      return words.say("the number of pantographs up");
    case Rung::standing_changes:
      return words.say("the number of changes");
  }
  return {};
}

}  // namespace panup
