// What is told at first sight, before permitted speeds are known.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "dynamics_sample_line.h"
#include "files/read_rule_book.h"
#include "quality/envelope.h"
#include "quality/evaluated_line.h"
#include "quality/scan_rounds.h"
#include "quality/speed_curve.h"

namespace panup {
namespace {

/// Runs whose deviation meets its limit of 20 N at 100 km/h and half the last distance, in km/h. A
/// trailing knuckle costs 10 km/h.
RunFigures made_up(const SimulationRequest& request) {
  RunFigures figures;
  figures.wave_speed_kmh = 420;
  const double limit_kmh = 100 + request.pantographs.back().behind_first_m / 2 -
                           (request.pantographs.back().knuckle == Knuckle::trailing ? 10 : 0);
  for (std::size_t i = 0; i < request.pantographs.size(); ++i) {
    figures.pantographs.push_back(
        {.mean_n = 80, .std_n = 20 * request.speed_kmh / limit_kmh, .least_unfiltered_n = 70});
  }
  return figures;
}

class FirstSight : public testing::Test {
 protected:
  FirstSight() {
    question.line = &line;
    for (const double behind_m : {0.0, 40.0, 90.0}) {
      question.pantographs.push_back(
          {.model = sample_pantograph(), .static_force_n = 70, .behind_first_m = behind_m});
    }
    question.to_kmh = 180;
  }

  RunSource runs() {
    return [this](const std::vector<SimulationRequest>& requests) {
      std::vector<RunFigures> figures;
      for (const SimulationRequest& request : requests) {
        asked.push_back(request);
        spans.push_back(request.line->spans.size());
        figures.push_back(refuses && refuses(request) ? RunFigures{} : made_up(request));
      }
      return stops_after < asked.size() ? std::nullopt : std::optional(std::move(figures));
    };
  }

  ContactLine line = sample_line(30);
  RuleBook rules = built_in_rule_book();
  SpeedQuestion question;
  std::vector<SimulationRequest> asked;
  std::vector<std::size_t> spans;  ///< of the line of each
  std::function<bool(const SimulationRequest&)> refuses;
  std::size_t stops_after = 100000;
};

TEST_F(FirstSight, NoRunIsInTheBooksStepAndOnlyWhatIsNearMoves) {
  const auto speeds = speeds_at_first_sight({question}, rules, runs());
  ASSERT_TRUE(speeds);
  EXPECT_EQ(speeds->front().speed_kmh, 145) << "100 km/h and half of 90 m";
  ASSERT_FALSE(asked.empty());
  for (const SimulationRequest& request : asked) {
    EXPECT_GT(*request.settings.step_s, 0.002);
    EXPECT_TRUE(request.settings.near_only);
    EXPECT_FALSE(request.settings.guarded);
  }
}

TEST_F(FirstSight, RunsInTheBooksStepMoveTheWholeLineOthersWhatIsNear) {
  ASSERT_TRUE(permitted_speeds({question}, rules, runs()));
  // 5 spans, 4 for the start, 2 for the train before and beyond; 4 for the end, or 2.
  for (std::size_t i = 0; i < asked.size(); ++i) {
    const bool longer = *asked[i].settings.step_s > 0.002;
    EXPECT_EQ(asked[i].settings.near_only, longer);
    EXPECT_EQ(spans[i], 5U + 4U + 2U + 2U + (longer ? 2U : 4U));
  }
  EXPECT_EQ(std::set(spans.begin(), spans.end()).size(), 2U);
}

TEST_F(FirstSight, SmallMarginsAreNotLookedAtMoreClosely) {
  // Two per cent are left at every speed, so that the scan would look at each whole km/h.
  const RunSource near_the_limit = [this](const std::vector<SimulationRequest>& requests) {
    std::vector<RunFigures> figures;
    for (const SimulationRequest& request : requests) {
      asked.push_back(request);
      figures.push_back(made_up(request));
      for (PantographFigures& one : figures.back().pantographs) {
        one.std_n = 19.6;
      }
    }
    return std::optional(std::move(figures));
  };
  RuleBook gentle = rules;
  const auto by_mechanics =
      std::ranges::find(gentle.rules, RuleKind::speed_by_mechanics, &Rule::kind);
  by_mechanics->numbers["steepest_margin_per_kmh"] = 0.001;
  ASSERT_TRUE(speeds_at_first_sight({question}, gentle, near_the_limit));
  EXPECT_LT(asked.size(), 30U);
  asked.clear();
  ASSERT_TRUE(permitted_speeds({question}, gentle, near_the_limit));
  EXPECT_GT(asked.size(), 60U);
}

TEST_F(FirstSight, WhereNoLongerStepWillDoTheBooksIsTaken) {
  refuses = [](const SimulationRequest& request) { return *request.settings.step_s > 0.002; };
  const auto speeds = speeds_at_first_sight({question}, rules, runs());
  ASSERT_TRUE(speeds);
  EXPECT_EQ(speeds->front().speed_kmh, 145);
  EXPECT_FALSE(speeds->front().refused);
}

TEST_F(FirstSight, ThereIsNoneWhereRunsAreStopped) {
  stops_after = 5;
  EXPECT_FALSE(speeds_at_first_sight({question}, rules, runs()));
}

TEST_F(FirstSight, AnIrregularLineIsCutToItsFirstSpans) {
  line.spans[20].pre_sag_m = 0.01;
  EvaluatedLines of_the_rule = lines_for(mechanics_rule(rules), false);
  EXPECT_EQ(of_the_rule.line_for(line, 90), &line);
  EXPECT_EQ(of_the_rule.line_for(line, 90, true), &line) << "each of its spans counts";
  EvaluatedLines lines = lines_for(mechanics_rule(rules), true);
  const ContactLine* const cut = lines.line_for(line, 90, true);
  // 3 spans, 4 for the start, 2 for the end, and 2 for the train before and beyond.
  EXPECT_EQ(cut->spans.size(), 3U + 4U + 2U + 2U + 2U);
  SimulationRequest request = sample_request(*cut, 120);
  add_pantograph(request, 90);
  request.settings.near_only = true;
  const SimulationOutcome outcome = simulate(request);
  ASSERT_TRUE(outcome.result) << outcome.refusals.front().said();
  EXPECT_EQ(outcome.result->to_m - outcome.result->from_m, 3 * 50);
}

EnvelopeRequest envelope_of(const ContactLine& line, const RuleBook& rules) {
  EnvelopeRequest request;
  request.line = &line;
  request.pantograph = sample_pantograph();
  request.static_force_n = 70;
  request.knuckles = {Knuckle::leading, Knuckle::trailing};
  request.rules = &rules;
  for (int i = 0; i < 7; ++i) {
    request.spacings_m.push_back(10 + 10 * i);
    request.speeds_kmh.push_back(60 + 20 * i);
  }
  return request;
}

TEST_F(FirstSight, CellsOfAnEnvelopeComeFarApartFirstAndEachOnce) {
  const EnvelopeRequest request = envelope_of(line, rules);
  using At = std::pair<std::size_t, std::size_t>;
  std::vector<At> told;
  bool known_begun = false;
  const auto envelope = compute_envelope(
      request, runs(),
      {.at_first_sight =
           [&](std::size_t d, std::size_t v, const EnvelopeCell& cell) {
             EXPECT_FALSE(known_begun);
             told.emplace_back(d, v);
             const double limit = 90 + request.spacings_m[d] / 2;
             EXPECT_EQ(cell.passes, request.speeds_kmh[v] <= limit);
             EXPECT_EQ(cell.knuckle, Knuckle::trailing);
             EXPECT_TRUE(cell.coarse);
           },
       .known = [&](std::size_t, std::size_t, const EnvelopeCell&) { known_begun = true; }});
  ASSERT_TRUE(envelope && known_begun);
  EXPECT_EQ(told.size(), 49U);
  EXPECT_EQ(std::set<At>(told.begin(), told.end()).size(), 49U);
  // Four distances and speeds apart, then two, then neighbours.
  EXPECT_EQ(std::vector<At>(told.begin(), told.begin() + 4),
            (std::vector<At>{{0, 0}, {0, 4}, {4, 0}, {4, 4}}));
  for (std::size_t i = 4; i < 16; ++i) {
    EXPECT_EQ(told[i].first % 2 + told[i].second % 2, 0U) << i;
  }
}

TEST_F(FirstSight, AnEnvelopeIsTheSameWhetherItsCellsAreAwaitedOrNot) {
  const EnvelopeRequest request = envelope_of(line, rules);
  const auto quiet = compute_envelope(request, runs());
  const auto awaited =
      compute_envelope(request, runs(), {.at_first_sight = [](auto, auto, const auto&) {}});
  ASSERT_TRUE(quiet && awaited);
  for (std::size_t d = 0; d < 7; ++d) {
    EXPECT_EQ(quiet->permitted[d].speed_kmh, awaited->permitted[d].speed_kmh);
    EXPECT_EQ(quiet->permitted[d].text, awaited->permitted[d].text);
    for (std::size_t v = 0; v < 7; ++v) {
      EXPECT_EQ(quiet->cells[d][v].margin, awaited->cells[d][v].margin);
      EXPECT_EQ(quiet->cells[d][v].coarse, awaited->cells[d][v].coarse);
    }
  }
}

TEST_F(FirstSight, AnEnvelopeIsStoppedThereToo) {
  stops_after = 10;
  EXPECT_FALSE(compute_envelope(envelope_of(line, rules), runs(),
                                {.at_first_sight = [](auto, auto, const auto&) {}}));
}

class SpeedCurve : public FirstSight {
 protected:
  std::vector<SpeedCurvePoint> drawn(std::size_t drawn_at, std::vector<double> distances_m) {
    std::vector<SpeedCurvePoint> points;
    whole = draw_speed_curve({.question = question,
                              .drawn_at = drawn_at,
                              .distances_m = std::move(distances_m),
                              .rules = &rules},
                             runs(),
                             [&points](const SpeedCurvePoint& point) { points.push_back(point); });
    return points;
  }

  bool whole = false;
};

TEST_F(SpeedCurve, EndsWithThePermittedSpeedWhereThePantographStands) {
  const auto points = drawn(2, {50, 20, 80});
  EXPECT_TRUE(whole);
  ASSERT_EQ(points.size(), 4U);
  const std::vector<double> distances{50, 20, 80, 50};
  for (std::size_t i = 0; i < points.size(); ++i) {
    EXPECT_EQ(points[i].distance_m, distances[i]);
    EXPECT_EQ(points[i].at_first_sight, i < 3);
    // The last pantograph stands 40 m and the distance behind the first.
    EXPECT_EQ(points[i].permitted.speed_kmh, std::floor(100 + (40 + distances[i]) / 2)) << i;
  }
  const auto permitted = permitted_speeds({question}, rules, runs());
  EXPECT_EQ(points.back().permitted.speed_kmh, permitted->front().speed_kmh);
  EXPECT_EQ(points.back().permitted.text, permitted->front().text);
}

TEST_F(SpeedCurve, AStaticForceThatIsDoubtedIsSaidOnce) {
  question.supply = EnergySupply::ac_25kv;
  EXPECT_TRUE(drawn(1, {40}).back().permitted.warnings.empty());
  for (RunningPantograph& one : question.pantographs) {
    one.static_force_n = 40;
  }
  const auto points = drawn(1, {40});
  ASSERT_EQ(points.back().permitted.warnings.size(), 1U);
  EXPECT_EQ(points.back().permitted.warnings.front().doubt, Doubt::static_force);
}

TEST_F(SpeedCurve, PantographsBehindTheOneThatIsDrawnKeepTheirDistanceToIt) {
  drawn(1, {70});
  for (const SimulationRequest& request : asked) {
    EXPECT_EQ(request.pantographs[0].behind_first_m, 0);
    EXPECT_EQ(request.pantographs[1].behind_first_m, 70);
    EXPECT_EQ(request.pantographs[2].behind_first_m, 120);
  }
}

TEST_F(SpeedCurve, IsNotWholeWhereRunsAreStopped) {
  stops_after = 3;
  EXPECT_TRUE(drawn(1, {40}).empty());
  EXPECT_FALSE(whole);
  asked.clear();
  stops_after = 100000;
  drawn(1, {40});
  const auto last_longer = std::ranges::find_if(
      asked, [](const SimulationRequest& one) { return !one.settings.near_only; });
  stops_after = static_cast<std::size_t>(last_longer - asked.begin());
  asked.clear();
  EXPECT_EQ(drawn(1, {40}).size(), 1U) << "stopped after the first sight";
  EXPECT_FALSE(whole);
}

}  // namespace
}  // namespace panup
