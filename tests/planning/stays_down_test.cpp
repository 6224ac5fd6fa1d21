/// What stays down where the train departs within a route: each pantograph is moved along by hand,
/// from where the train stands, and looked at where it is. Common practice, no published source.

#include "plan/stays_down.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "plan/planning_case.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

/// The train turns round at km 10 in some cases: then its new front stands there, and what has not
/// yet passed km 10 is still under the wire that it came under, on which it runs back.
constexpr double turn_km = 10;

struct Departing {
  Scenario scenario;
  double at_km = 0;
  bool turned = false;
  double length_km = 0;
};

/// A locomotive and wagons that depart from a place about km 10.
Departing departing(std::mt19937& random) {
  const auto pick = [&random](unsigned below) { return static_cast<int>(random() % below); };
  Departing departing;
  Scenario& scenario = departing.scenario;
  scenario.add(locomotive(), pick(2) == 0 ? Cab::cab1 : Cab::cab2);
  scenario.load(LoadNature::ordinary, 50 * pick(6));
  if (pick(3) == 0) {
    scenario.add(locomotive());
  }
  departing.length_km = length_m(scenario.request.train) / 1000;
  departing.turned = pick(3) > 0;
  departing.at_km = turn_km + pick(350) / 1000.0;
  Route& route = scenario.request.route;
  route.departs_km = departing.at_km;
  if (departing.turned) {
    route.stops = {{.name = "Turn", .at_km = turn_km, .reversal = true, .place = {}}};
  }
  return departing;
}

/// Where a point so far behind the front is, once the front is at `front_km`: on the wire that the
/// train came under before it turned, or not.
struct OnWire {
  double km = 0;
  bool old = false;
};

OnWire wire_over(const Departing& departing, double behind_km, double front_km) {
  const double run_km = front_km - turn_km;
  if (departing.turned && run_km < behind_km) {
    const double at_the_turn_km = turn_km - departing.length_km + behind_km;
    return {at_the_turn_km - run_km, true};
  }
  return {front_km - behind_km, false};
}

PantographSet down_on_first_piece(const Departing& departing, std::string_view words) {
  const PlanningCase planning = prepare(departing.scenario.request);
  PantographSet down;
  for (const StaysDown& one : stays_down_on(departing.scenario.request, planning.judge(0).train(),
                                            planning.zones, planning.pieces.front())) {
    EXPECT_NE(one.because.find(words), std::string::npos) << one.because;
    down |= one.pantographs;
  }
  return down;
}

const RunningTrain& train_of(const PlanningCase& planning) { return planning.judge(0).train(); }

/// Whether it is in the zone, or comes into it, anywhere on its run from where the train stands.
/// `nearly`: or would some centimetres beside.
bool comes_under(const Departing& departing, double behind_km, double from_km, double to_km,
                 double nearly_km) {
  for (double front_km = departing.at_km; front_km < departing.at_km + 1; front_km += 0.0005) {
    const OnWire at = wire_over(departing, behind_km, front_km);
    const bool on_this_wire = !departing.turned || at.old == (from_km < turn_km);
    if (on_this_wire && at.km > from_km - nearly_km && at.km < to_km + nearly_km) {
      return true;
    }
  }
  return false;
}

TEST(DepartingBehindAZone, WhatIsInItOrHasItStillAheadStaysDownAndNothingElse) {
  std::mt19937 random(1);
  int down_somewhere = 0;
  int up_somewhere = 0;
  for (int i = 0; i < 60; ++i) {
    Departing departing = panup::scenario::departing(random);
    Route& route = departing.scenario.request.route;
    // Behind the front, on the old wire or on the new one.
    const double behind_km = (1 + static_cast<double>(random() % 300)) / 1000;
    const double long_km = (5 + static_cast<double>(random() % 60)) / 1000;
    double to_km = departing.at_km - behind_km;
    if (departing.turned && to_km - long_km < turn_km) {
      to_km = turn_km - behind_km;
      if (to_km - long_km < turn_km - departing.length_km) {
        continue;  // beyond the other end of the train
      }
    }
    const double from_km = to_km - long_km;
    route.separations = {{.name = "Gap",
                          .kind = SeparationKind::phase,
                          .from_km = from_km,
                          .length_m = 1000 * long_km,
                          .breaker_off = true,
                          .length_meaning = {},
                          .place = {}}};
    departing.scenario.rule("standing-at-a-stop").on = false;
    const PlanningCase planning = prepare(departing.scenario.request);
    const PantographSet down = down_on_first_piece(departing, "and is then in or before Gap");
    for (std::size_t p = 0; p < train_of(planning).pantographs.size(); ++p) {
      const double p_km = train_of(planning).pantographs[p].from_front_m / 1000;
      const bool comes = comes_under(departing, p_km, from_km, to_km, 0);
      if (comes != comes_under(departing, p_km, from_km, to_km, 0.001)) {
        continue;  // at its very edge
      }
      EXPECT_EQ(down.contains(p), comes) << fmt::format(
          "{}: from km {:.3f}{}, {:.1f} m behind the front, the zone km {:.3f} to "
          "{:.3f}",
          i, departing.at_km, departing.turned ? ", turned" : "", 1000 * p_km, from_km, to_km);
      (comes ? down_somewhere : up_somewhere) += 1;
    }
  }
  EXPECT_GT(down_somewhere, 20);
  EXPECT_GT(up_somewhere, 20);
}

TEST(DepartingOverAnInsulator, WhatWouldGoUpInItStaysDownAndNothingElse) {
  std::mt19937 random(2);
  constexpr double stops_short_km = 0.005;
  int down_somewhere = 0;
  int up_somewhere = 0;
  for (int i = 0; i < 80; ++i) {
    const Departing departing = [&] {
      Departing one = panup::scenario::departing(random);
      one.scenario.rule("standing-at-a-stop").numbers["stops_short_m"] = 1000 * stops_short_km;
      const double middle_km = one.at_km - static_cast<double>(random() % 300) / 1000;
      one.scenario.request.route.section_insulators = {
          {.name = "Insulator",
           .at_km = middle_km,
           .length_m = static_cast<double>(2 + random() % 30),
           .place = {}}};
      return one;
    }();
    const SectionInsulator& insulator = departing.scenario.request.route.section_insulators.front();
    const double from_km = insulator.at_km - insulator.length_m / 2000;
    const double to_km = insulator.at_km + insulator.length_m / 2000;
    const PlanningCase planning = prepare(departing.scenario.request);
    const PantographSet down =
        down_on_first_piece(departing, "it would go up in Insulator, where no raised pantograph");
    for (std::size_t p = 0; p < train_of(planning).pantographs.size(); ++p) {
      // The train stands where it stands, or a little before that.
      const OnWire at = wire_over(departing, train_of(planning).pantographs[p].from_front_m / 1000,
                                  departing.at_km);
      const double least_km = at.km - (at.old ? 0 : stops_short_km);
      const double most_km = at.km + (at.old ? stops_short_km : 0);
      const bool this_wire = !departing.turned || at.old == (to_km < turn_km);
      const auto in_it = [&](double nearly_km) {
        return this_wire && most_km > from_km - nearly_km && least_km < to_km + nearly_km;
      };
      if (in_it(0.001) != in_it(-0.001) ||
          (departing.turned && from_km < turn_km && to_km > turn_km)) {
        continue;  // at its very edge, or over the end of the train
      }
      EXPECT_EQ(down.contains(p), in_it(0)) << fmt::format(
          "{}: from km {:.3f}{}, at km {:.4f}, the insulator km {:.4f} to {:.4f}", i,
          departing.at_km, departing.turned ? ", turned" : "", at.km, from_km, to_km);
      (in_it(0) ? down_somewhere : up_somewhere) += 1;
    }
  }
  EXPECT_GT(down_somewhere, 10);
  EXPECT_GT(up_somewhere, 50);
}

/// A locomotive and its train that turned round at km 10 and ran on, with one pantograph 2 m behind
/// the place where its front stood; an insulator from 4 m to 1 m before that.
TEST(DepartingOverAnInsulator, OnTheOtherWireOfTheSameChainageIsNoHindrance) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::ordinary, 300);
  Route& route = scenario.request.route;
  route.stops = {{.name = "Turn", .at_km = turn_km, .reversal = true, .place = {}}};
  route.section_insulators = {
      {.name = "Insulator", .at_km = turn_km - 0.0025, .length_m = 3, .place = {}}};
  // Reversed, the locomotive is the last of the train.
  const double front_one_km = (300 + 19 - 14.5) / 1000;
  route.departs_km = turn_km + front_one_km + 0.002;
  const PlanningCase planning = prepare(scenario.request);
  EXPECT_TRUE(stays_down_on(scenario.request, planning.judge(0).train(), planning.zones,
                            planning.pieces.front())
                  .empty());
}

TEST(DepartingBeforeAZone, WhatIsFarBehindTheFrontHasRoomAlsoWhereTheFrontStandsAtIt) {
  Scenario scenario;
  scenario.load(LoadNature::ordinary, 400).add(locomotive());
  std::get<LoadGroup>(scenario.request.train.consist.front()).control_car = true;
  Route& route = scenario.request.route;
  route.departs_km = 10;
  route.separations = {{.name = "Gap",
                        .kind = SeparationKind::phase,
                        .from_km = 10,
                        .length_m = 40,
                        .breaker_off = true,
                        .length_meaning = {},
                        .place = {}}};
  const PlanningCase planning = prepare(scenario.request);
  EXPECT_TRUE(stays_down_on(scenario.request, planning.judge(0).train(), planning.zones,
                            planning.pieces.front())
                  .empty());
}

}  // namespace
}  // namespace panup::scenario
