/// Why, and why not.

#include <gtest/gtest.h>

#include <algorithm>

#include "every_way.h"
#include "files/read_rule_book.h"
#include "plan/why_not.h"
#include "sanitized.h"

namespace panup::scenario {
namespace {

WhyNot ask(const Scenario& scenario, const std::vector<PantographRef>& asked, double at_km = 5) {
  return *why_not(scenario.request, scenario.plan(), asked, at_km);
}

/// What an office writes in a letter to the infrastructure manager about pantographs too close
/// together: the table is of the regulation, the speed until there is a consent of the operator.
TEST(Source, AFindingCitesTheTableItRestsOnThoughTheOperatorChangedANumberBesideIt) {
  Scenario scenario =
      Scenario().add(locomotive({.strips = 1, .supplies = {EnergySupply::dc_1500v}}));
  scenario.section().supply = EnergySupply::dc_1500v;
  scenario.section().design_type = DesignType::a;
  Diagnostics diagnostics;
  scenario.request.rules =
      add_rule_book(scenario.request.rules,
                    {.file = "operator",
                     .text = "kind = \"rule book\"\nname = \"rules of Nordvale\"\n[[rule]]\nid = "
                             "\"design-spacing\"\nsource = \"Nordvale letter 7\"\nstanding = "
                             "\"operator\"\nspeed_without_proof_kmh = 30\n"},
                    std::nullopt, diagnostics)
          .value();
  scenario.rule("runnable-first").on = false;
  const PlannedSection section = scenario.plan().sections[0];
  EXPECT_EQ(section.answer, Answer::consent_needed);
  for (const Strength strength : {Strength::consent_needed, Strength::speed_limit}) {
    const auto said = std::ranges::find_if(section.findings, [strength](const Finding& finding) {
      return finding.rule == "design-spacing" && finding.strength == strength;
    });
    ASSERT_NE(said, section.findings.end());
    EXPECT_EQ(said->source,
              "Regulation (EU) No 1301/2014, table 4.2.13 (from memory, to be confirmed); "
              "speed_without_proof_kmh: operator, Nordvale letter 7");
    EXPECT_EQ(said->standing, Standing::published);
  }
}

TEST(WhyNot, ThePlannedOneIsSaidToBeThePlans) {
  const WhyNot why = ask(Scenario().add(locomotive()), {{1, 2}});
  EXPECT_TRUE(why.is_planned);
  EXPECT_EQ(why.answer, Answer::permitted);
}

TEST(WhyNot, AForbiddenOneNamesTheRule) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).permits(2);
  const WhyNot why = ask(scenario, {{1, 1}, {1, 2}, {2, 2}});
  EXPECT_EQ(why.answer, Answer::none);
  EXPECT_EQ(why.findings[0].rule, "line-record");
  EXPECT_NE(why.summary.find("at most 2"), std::string::npos);
}

TEST(WhyNot, ASlowerOneSaysWhatItCosts) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  const WhyNot why = ask(scenario, {{1, 1}, {2, 1}});  // 19 m: 80 km/h instead of 120
  EXPECT_EQ(why.answer, Answer::permitted);
  EXPECT_EQ(why.speed_kmh, 80);
  ASSERT_TRUE(why.extra_time_s.has_value());
  // 20 km at 80 instead of 120 km/h: 300 s, less what accelerating and braking save.
  EXPECT_NEAR(*why.extra_time_s, 300, 60);
  EXPECT_NE(why.summary.find("running time"), std::string::npos);
}

TEST(WhyNot, OneThatLosesByPatternSaysSo) {
  const WhyNot why = ask(Scenario().add(locomotive()), {{1, 1}});
  EXPECT_NE(why.summary.find("prescribed pattern"), std::string::npos);
  EXPECT_EQ(*why.extra_time_s, 0);
}

TEST(WhyNot, OneThatExposesTheLoadSaysSo) {
  const WhyNot why = ask(Scenario().add(locomotive()).load(LoadNature::dangerous), {{1, 2}});
  EXPECT_NE(why.summary.find("dangerous load exposed"), std::string::npos);
}

TEST(WhyNot, OneWithoutAPlaceToChangeSaysSo) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  Section second = scenario.section();
  scenario.section().to_km = 10;
  second.id = "s2";
  second.from_km = 10;
  second.records = {{.number = 1, .distance_m = 0, .speed_kmh = 120}};
  scenario.request.route.sections.push_back(second);
  const WhyNot why = ask(scenario, {{1, 1}, {2, 2}});
  EXPECT_EQ(why.answer, Answer::permitted);
  EXPECT_TRUE(why.summary.starts_with("It is permitted here. But there is no place on the way"))
      << why.summary;
  EXPECT_NE(
      why.summary.find("In the way of 1.1 and 2.2: section s2 (km 10.000 to 20.000), and nothing "
                       "may be changed before it."),
      std::string::npos)
      << why.summary;
  EXPECT_FALSE(why.extra_time_s) << "a stretch that is not run takes no time that could be told";
}

TEST(WhyNot, WhereItLosesIsSaidWithTheChainage) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::dangerous);
  scenario.request.route.stops = {{.name = "Stop", .at_km = 8, .reversal = false, .place = {}}};
  const WhyNot why = ask(scenario, {{1, 2}});
  EXPECT_NE(why.summary.find("the dangerous load exposed, on km 0.000 to 8.000."),
            std::string::npos)
      << why.summary;
  EXPECT_EQ(why.summary.find("also on"), std::string::npos) << "elsewhere nothing differs";
}

TEST(WhyNot, WhatStaysUpAroundThePlaceIsNoOtherThanPlannedElsewhere) {
  // Asked of km 5: between the stops at km 4 and 8 it stays up, over the border at km 6 as well.
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::dangerous);
  scenario.cut_at(6);
  for (const double km : {2.0, 4.0, 8.0}) {
    scenario.request.route.stops.push_back(
        {.name = "Stop", .at_km = km, .reversal = false, .place = {}});
  }
  const WhyNot why = ask(scenario, {{1, 2}});
  EXPECT_NE(why.summary.find("the dangerous load exposed, on km 4.000 to 8.000."),
            std::string::npos)
      << why.summary;
  EXPECT_EQ(why.summary.find("also on"), std::string::npos) << why.summary;
}

TEST(WhyNot, WhereAllAreDownNothingElseMayBe) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.route.lowered = {{.name = "Works", .from_km = 4, .to_km = 6, .place = {}}};
  const WhyNot one = ask(scenario, {{1, 1}});
  EXPECT_EQ(one.answer, Answer::none);
  EXPECT_FALSE(one.is_planned);
  EXPECT_EQ(ask(scenario, {}).answer, Answer::permitted);
}

TEST(WhyNot, OneThatTheLadderCannotTellFromThePlannedOneSaysSo) {
  Scenario scenario = Scenario().add(locomotive());
  for (const char* const id : {"rear-alone", "clean-windscreen"}) {
    scenario.rule(id).on = false;
  }
  const Plan plan = scenario.plan();
  const PantographRef other{1, up_on(plan) == "F1" ? 2 : 1};
  const WhyNot why = *why_not(scenario.request, plan, {other}, 5);
  EXPECT_FALSE(why.is_planned);
  EXPECT_EQ(why.summary,
            "It is permitted here. It is as good as the planned one; the plan had to take one of "
            "them.");
  EXPECT_EQ(*why.extra_time_s, 0);
}

/// A question searches the whole route again.
constexpr unsigned one_question_of = sanitized ? 10 : 1;

/// Of random routes, so many at a time.
class WhyNotOnRoutes : public testing::TestWithParam<unsigned> {
 protected:
  static constexpr unsigned routes = sanitized ? 20 : 25;
  static unsigned first_seed() { return 1 + routes * GetParam(); }
};

INSTANTIATE_TEST_SUITE_P(Some, WhyNotOnRoutes, testing::Range(0U, 6U));

/// Where the words name a chainage, `one` needs a consent just behind it, and `other` none.
void expect_consent_where_told(const PlanningCase& planning, const std::string& summary,
                               const std::string& words, const Way& one, const Way& other) {
  const std::size_t told = summary.find(words);
  if (told == std::string::npos) {
    return;
  }
  const double km = std::stod(summary.substr(told + words.size())) + 0.001;
  const auto needs = [&](const Way& way) {
    std::size_t piece = 0;
    while (planning.pieces[piece].to_km < km) {
      ++piece;
    }
    return way.raised[piece] != blocked && !planning.pieces[piece].lowered &&
           planning.judge(piece)
               .judge(planning.ground(piece), *way.raised[piece], {})
               .consent_needed;
  };
  EXPECT_TRUE(needs(one)) << summary;
  EXPECT_FALSE(needs(other)) << summary;
}

TEST_P(WhyNotOnRoutes, WhereAConsentDiffersElsewhereNoTimeIsTold) {
  int differ = 0;
  unsigned question = 0;
  for (unsigned seed = first_seed(); seed < first_seed() + routes; ++seed) {
    Scenario scenario = RandomCase(seed).make();
    Section& section = scenario.request.route.sections[seed % 3];
    section.design_type.reset();
    section.records.clear();
    const PlanningCase planning = prepare(scenario.request);
    const Plan plan = scenario.plan();
    for (std::size_t piece = 0; piece < planning.pieces.size(); ++piece) {
      const double km = (planning.pieces[piece].from_km + planning.pieces[piece].to_km) / 2;
      for (const JudgedSet& judged : planning.grounds[planning.ground_of_piece[piece]]) {
        if (question++ % one_question_of != 0) {
          continue;
        }
        const WhyNot why = *why_not(scenario.request, plan,
                                    refs_of(planning.judge(piece).train(), judged.raised), km);
        if (why.summary.find("It needs consent also on") != std::string::npos ||
            why.summary.find("It needs no consent, where") != std::string::npos) {
          ++differ;
          EXPECT_FALSE(why.extra_time_s) << "seed " << seed << " km " << km << why.summary;
          const PantographSet defective = planning.judges[0].train().defective;
          const Way asked = find_way(planning, defective, Forced{piece, judged.raised});
          const Way best = find_way(planning, defective);
          expect_consent_where_told(planning, why.summary, "It needs consent also on km ", asked,
                                    best);
          expect_consent_where_told(planning, why.summary,
                                    "It needs no consent, where the plan does, on km ", best,
                                    asked);
        }
      }
    }
  }
  EXPECT_GT(differ, sanitized ? -1 : 0) << "with sanitizers few are asked";
}

/// Against a search over all ways.
TEST_P(WhyNotOnRoutes, LessTimeIsToldOnlyWithTheHigherStepThatIsLostForIt) {
  unsigned question = 0;
  int told = 0;
  int less = 0;
  int not_told = 0;
  for (unsigned seed = first_seed(); seed < first_seed() + routes; ++seed) {
    const Scenario scenario = RandomCase(seed).make();
    const PlanningCase planning = prepare(scenario.request);
    const LadderCost best = Exhaustive{planning}.search();
    const Plan plan = scenario.plan();
    for (std::size_t piece = 0; piece < planning.pieces.size(); ++piece) {
      if (planning.pieces[piece].lowered) {
        continue;
      }
      const double km = (planning.pieces[piece].from_km + planning.pieces[piece].to_km) / 2;
      for (const JudgedSet& judged : planning.grounds[planning.ground_of_piece[piece]]) {
        const RunningTrain& train = planning.judge(piece).train();
        if (judged.raised.intersects(train.defective) || question++ % one_question_of != 0) {
          continue;
        }
        const WhyNot why = *why_not(scenario.request, plan, refs_of(train, judged.raised), km);
        not_told += why.extra_time_s ? 0 : 1;
        if (!why.extra_time_s) {
          continue;
        }
        ++told;
        const auto with = Exhaustive{planning, Forced{piece, judged.raised}}.search_forced();
        ASSERT_TRUE(with) << "seed " << seed << " km " << km;
        EXPECT_EQ((*with)[Rung::blocked], best[Rung::blocked]) << "seed " << seed << " km " << km;
        EXPECT_NEAR(*why.extra_time_s,
                    static_cast<double>((*with)[Rung::time] - best[Rung::time]) / 1000, 1e-9)
            << "seed " << seed << " km " << km;
        const Rung lost = where_they_part(best, *with);
        if (*why.extra_time_s < 0) {
          ++less;
          EXPECT_LT(lost, Rung::time) << "seed " << seed << " km " << km;
          EXPECT_NE(why.summary.find(words_for(lost)), std::string::npos)
              << "seed " << seed << " km " << km << ": " << why.summary;
        }
      }
    }
  }
  // The cases are worth something only if all kinds are among them.
  EXPECT_GT(told, 20);
  EXPECT_GT(less, 0);
  EXPECT_GT(not_told, 0);
}

TEST(WhyNot, WherePantographsAreDownItSaysWhatFor) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.request.route.lowered = {{.name = "Works", .from_km = 4, .to_km = 6, .place = {}}};
  EXPECT_NE(ask(scenario, {{1, 1}}).summary.find("Works"), std::string::npos);
  EXPECT_TRUE(ask(scenario, {}).is_planned);
}

TEST(WhyNot, NothingUpMovesNothing) {
  EXPECT_EQ(ask(Scenario().add(locomotive()), {}).answer, Answer::none);
}

TEST(Why, ADepartureFromThePatternSaysWhatWouldBeWrongWithIt) {
  const Plan plan = Scenario()
                        .add(locomotive())
                        .add(locomotive())
                        .load(LoadNature::dangerous)
                        .defect({1, 1})
                        .plan();
  bool said = false;
  for (const Finding& finding : plan.sections[0].findings) {
    said |= finding.text ==
            "Why not 2.1 alone on locomotive 2: it would lose at this step of the ladder: a "
            "facing pair across the coupling.";
  }
  EXPECT_TRUE(said);
}

TEST(Why, EveryFindingHasASourceAndTheReasonOfItsRule) {
  const Plan plan = Scenario()
                        .add(locomotive({.strips = 1}))
                        .add(locomotive())
                        .load(LoadNature::dangerous)
                        .ice()
                        .plan();
  for (const Finding& finding : plan.sections[0].findings) {
    EXPECT_FALSE(finding.source.empty()) << finding.text;
    EXPECT_FALSE(finding.text.empty());
    EXPECT_FALSE(finding.because.empty()) << finding.text;
  }
}

TEST(Why, TheRearOneIsUpBecauseWhatFlies) {
  const Plan plan = Scenario().add(locomotive()).plan();
  const auto& findings = plan.sections[0].findings;
  const auto rear = std::ranges::find(findings, "rear-alone", &Finding::rule);
  ASSERT_NE(rear, findings.end());
  EXPECT_NE(rear->because.find("fly backwards"), std::string::npos) << rear->because;
}

TEST(Why, AnOperatorsOwnReasonStandsInItsPlace) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.rule("rear-alone").reason = "The roof of class L is not painted.";
  const Plan plan = scenario.plan();
  const auto& findings = plan.sections[0].findings;
  const auto rear = std::ranges::find(findings, "rear-alone", &Finding::rule);
  ASSERT_NE(rear, findings.end());
  EXPECT_EQ(rear->because, "The roof of class L is not painted.");
}

TEST(RuleBooks, EveryPracticeOfTheBuiltInBookHasStatementReasonAndSource) {
  const RuleBook book = built_in_rule_book();
  EXPECT_GE(book.rules.size(), 29U);
  for (const Rule& rule : book.rules) {
    EXPECT_FALSE(rule.statement.empty()) << rule.id;
    EXPECT_FALSE(rule.reason.empty()) << rule.id;
    EXPECT_FALSE(rule.source.empty()) << rule.id;
    EXPECT_FALSE(rule.invented) << rule.id;
    if (rule.standing == Standing::practice) {
      EXPECT_NE(rule.source.find("practice"), std::string::npos) << rule.id;
    }
  }
}

TEST(RuleBooks, ARuleThatIsOffIsNotAsked) {
  Scenario scenario = Scenario().add(locomotive()).load(LoadNature::dangerous);
  scenario.rule("load-protected").on = false;
  EXPECT_EQ(up_on(scenario.plan()), "R1");
}

TEST(RuleBooks, AnOperatorMayForbidWhatPracticeAvoids) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).defect({1, 1}).defect({2, 2});
  scenario.rule("facing-pair").strength = Strength::forbidden;
  EXPECT_EQ(up_on(scenario.plan()), "R1");
}

TEST(CrossCheck, WhatIsWrongBetweenTheFiles) {
  Scenario scenario = Scenario().add(locomotive({.strips = 1}));
  scenario.rule("single-strip-speed").numbers.clear();
  EXPECT_EQ(cross_check(scenario.request).size(), 1U);
  scenario.rule("single-strip-speed").on = false;
  EXPECT_TRUE(cross_check(scenario.request).empty());
  scenario.request.route.lowered = {{.name = "Works", .from_km = 4, .to_km = 6, .place = {}}};
  scenario.rule("change-while-lowered").numbers.clear();
  EXPECT_EQ(cross_check(scenario.request).size(), 2U);
  scenario.request.conditions.ice = {{30, 40}};
  EXPECT_EQ(cross_check(scenario.request).size(), 3U);
  scenario.request.train.consents = {{.reference = "C",
                                      .given_by = "M",
                                      .rule = {},
                                      .number = 2,
                                      .distance_m = 10,
                                      .speed_kmh = 60,
                                      .sections = {"nowhere"},
                                      .place = {}}};
  EXPECT_EQ(cross_check(scenario.request).size(), 4U);
}

}  // namespace
}  // namespace panup::scenario
