/// What the mechanics says of a configuration's speed, in the plan. Runs are made up here; those of
/// the real mechanics are checked elsewhere.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <deque>
#include <mutex>
#include <random>

#include "plan/why_not.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

using enum EnergySupply;

double least_distance(const MechanicsQuestion& question) {
  double least = 1000;
  for (std::size_t i = 1; i < question.raised.size(); ++i) {
    least =
        std::min(least, question.raised[i].behind_first_m - question.raised[i - 1].behind_first_m);
  }
  return least;
}

/// An answer that permits `kmh`, or all that was asked where that is less.
MechanicsAnswer permits(const MechanicsQuestion& question, double kmh) {
  PermittedSpeed speed;
  speed.looked_from_kmh = 50;
  speed.looked_to_kmh = question.to_kmh;
  speed.criterion = "force-deviation";
  speed.pantograph = static_cast<int>(question.raised.size());
  speed.text = "standard deviation 22.0 N, permitted 21.0 N";
  speed.margin = 0.3;
  speed.speed_kmh = std::min(kmh, question.to_kmh);
  if (kmh < question.to_kmh) {
    speed.fails_at_kmh = kmh + 1;
    speed.edge_error_kmh = 1;
    speed.margin = -0.05;
  }
  return {.speed = speed, .unknown = {}, .not_judged = {}, .warnings = {}};
}

template <typename Speed>
MechanicsSource source(const Speed& speed_of) {
  return [speed_of](const std::vector<MechanicsQuestion>& questions) {
    std::vector<MechanicsAnswer> answers;
    for (const MechanicsQuestion& question : questions) {
      answers.push_back(permits(question, speed_of(question)));
    }
    return std::optional(answers);
  };
}

/// The same with figures of each pantograph's force.
MechanicsSource source_with_forces(double kmh) {
  return [kmh](const std::vector<MechanicsQuestion>& questions) {
    std::vector<MechanicsAnswer> answers;
    for (const MechanicsQuestion& question : questions) {
      answers.push_back(permits(question, kmh));
      answers.back().speed->pantographs.resize(question.raised.size());
    }
    return std::optional(answers);
  };
}

/// Four km/h for each metre between the raised pantographs that are closest.
double by_distance(const MechanicsQuestion& question) { return 4 * least_distance(question); }

/// A double heading whose line permits two at line speed.
Scenario double_heading(SpeedFrom from) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  scenario.section().contact_line = "T-140";
  scenario.section().line_speed_kmh = 140;
  scenario.permits(2);
  scenario.request.speed_from = from;
  scenario.request.mechanics = source(by_distance);
  return scenario;
}

const Finding& finding(const PlannedSection& section) {
  const auto found =
      std::ranges::find(section.findings, std::string("speed-by-mechanics"), &Finding::rule);
  EXPECT_NE(found, section.findings.end());
  return *found;
}

TEST(SpeedFromMechanics, BothTakesTheLowerAndNamesTheRecordThatIsNotSupported) {
  const Plan plan = double_heading(SpeedFrom::both).plan();
  const PlannedSection& section = plan.sections[0];
  EXPECT_EQ(up_on(plan), "F1 R2");  // 29 m apart, the farthest
  EXPECT_EQ(section.speed_kmh, 116);
  EXPECT_EQ(section.speed_rule, "speed-by-mechanics");
  EXPECT_EQ(finding(section).strength, Strength::speed_limit);
  EXPECT_NE(finding(section).text.find("not supported by the mechanics"), std::string::npos);
  EXPECT_NE(finding(section).text.find("29.0 m apart"), std::string::npos);
}

TEST(SpeedFromMechanics, TheFindingSaysWhatWasComputedAndWhatIsPermitted) {
  const Plan plan = double_heading(SpeedFrom::mechanics).plan();
  EXPECT_NE(finding(plan.sections[0]).text.find("standard deviation 22.0 N, permitted 21.0 N"),
            std::string::npos)
      << finding(plan.sections[0]).text;
}

TEST(SpeedFromMechanics, WhatThereIsToDoubtAndWhatWasNotJudgedAreNotes) {
  Scenario scenario = double_heading(SpeedFrom::both);
  scenario.request.mechanics = [](const std::vector<MechanicsQuestion>& questions) {
    std::vector<MechanicsAnswer> answers;
    for (const MechanicsQuestion& question : questions) {
      answers.push_back(permits(question, 116));
      answers.back().warnings = {"T-140. The wave speed is near"};
      answers.back().not_judged = {"uplift"};
    }
    return std::optional(answers);
  };
  const Plan plan = scenario.plan();
  const auto said = [&plan](std::string_view note) { return std::ranges::count(plan.notes, note); };
  EXPECT_EQ(said("To doubt of a computed speed: T-140. The wave speed is near"), 1);
  EXPECT_EQ(said("Not judged by the mechanics: uplift"), 1);
}

TEST(SpeedFromMechanics, ForcesAreToldOfThePartWithoutIceAlone) {
  Scenario scenario = double_heading(SpeedFrom::both);
  scenario.request.conditions.ice = {{.from_km = 10, .to_km = 20}};
  scenario.rule("ice-speed").numbers["speed_kmh"] = 200;
  scenario.rule("ice-two-leading").on = false;
  scenario.request.mechanics = source_with_forces(116);
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.margins.size(), 2U);
  EXPECT_FALSE(plan.sections[plan.margins[0].planned].iced);
  EXPECT_TRUE(plan.margins[0].forces);
  EXPECT_TRUE(plan.sections[plan.margins[1].planned].iced);
  EXPECT_FALSE(plan.margins[1].forces) << "runs know nothing of ice on strips";
}

TEST(SpeedFromMechanics, BesideTheForcesStandsWhatTheTablesSayInEitherDirection) {
  Scenario scenario = double_heading(SpeedFrom::both);
  scenario.section().records.clear();  // design type A: 29 m apart 120 km/h
  scenario.request.route.stops = {{.name = "Terminus", .at_km = 10, .reversal = true, .place = {}}};
  scenario.request.mechanics = source_with_forces(130);
  const Plan plan = scenario.plan();
  ASSERT_EQ(plan.margins.size(), 2U);
  EXPECT_TRUE(plan.sections[plan.margins[1].planned].reversed);
  for (const SectionMargins& margins : plan.margins) {
    ASSERT_TRUE(margins.forces && margins.forces->by_tables);
    EXPECT_EQ(margins.forces->by_tables->speed_kmh, 120);
    EXPECT_EQ(margins.forces->by_tables->rule, "design-spacing");
  }
}

TEST(SpeedFromMechanics, ARecordThatIsMoreCautiousThanNeededStandsAndIsSaid) {
  Scenario scenario = double_heading(SpeedFrom::both);
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 80}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.sections[0].speed_kmh, 80);
  EXPECT_EQ(plan.sections[0].speed_rule, "line-record");
  EXPECT_NE(finding(plan.sections[0]).text.find("more cautious"), std::string::npos);
}

TEST(SpeedFromMechanics, AboveTheRecordItIsEvidenceAndConsentIsNeeded) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 80}};
  const Plan plan = scenario.plan();
  const PlannedSection& section = plan.sections[0];
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  EXPECT_EQ(up_on(plan), "F1 R2") << "no locomotive goes dead for it: at 80 km/h it runs";
  EXPECT_EQ(section.speed_kmh, 116);
  EXPECT_TRUE(says(section, "line-record", Strength::consent_needed));
  EXPECT_EQ(section.without_consent, "1.1 and 2.2 up, 80 km/h");
}

TEST(SpeedFromMechanics, UpToTheRecordItIsPermitted) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 116}};
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
}

TEST(SpeedFromMechanics, AConsentIsTheManagersWordAsARecordIs) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 80}};
  scenario.request.train.consents = {{.reference = "C-1",
                                      .given_by = "the manager",
                                      .rule = {},
                                      .number = 2,
                                      .distance_m = 29,
                                      .speed_kmh = 100,
                                      .sections = {},
                                      .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  EXPECT_EQ(plan.sections[0].without_consent, "1.1 and 2.2 up, 100 km/h");
  scenario.request.train.consents[0].speed_kmh = 120;
  EXPECT_EQ(scenario.plan().answer, Answer::permitted);
}

TEST(SpeedFromMechanics, AChangeOnTheMoveKeepsToTheRecord) {
  // Two heads: one before the board, the other behind it; while both are up they are two raised,
  // and the record of two is 30 km/h, whatever the mechanics says.
  auto narrow = std::make_shared<PantographType>(*pantograph({}));
  narrow->head_width_mm = 1600;
  auto type = std::make_shared<VehicleType>(*locomotive());
  type->pantographs.back().type = narrow;
  Scenario scenario = Scenario().add(type);
  scenario.section().contact_line = "T-140";
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 30},
                                {.number = 1, .distance_m = 0, .speed_kmh = 120}};
  scenario.request.speed_from = SpeedFrom::mechanics;
  scenario.request.mechanics = source([](const MechanicsQuestion&) { return 120; });
  auto& sections = scenario.request.route.sections;
  sections.assign(3, sections.front());
  for (std::size_t i = 0; i < 3; ++i) {
    sections[i].id = fmt::format("s{}", i + 1);
    sections[i].from_km = std::array{0.0, 9.0, 11.0}.at(i);
    sections[i].to_km = std::array{9.0, 11.0, 20.0}.at(i);
  }
  sections[1].permitted_head_widths_mm = {1600, 1950};
  sections[2].permitted_head_widths_mm = {1600};
  scenario.request.route.landmarks = {
      {.name = "Board", .at_km = 9.5, .change_on_the_move = true, .place = {}}};
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  const auto slow = std::ranges::find_if(plan.instructions, [](const Instruction& instruction) {
    return instruction.action == Action::speed && instruction.speed_kmh == 30;
  });
  EXPECT_NE(slow, plan.instructions.end());
}

TEST(SpeedFromMechanics, InPlaceOfTheTableItMayBeFaster) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  scenario.section().records.clear();  // design type A at 29 m: 120 km/h
  scenario.request.mechanics = source([](const MechanicsQuestion&) { return 130; });
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::permitted);
  EXPECT_EQ(plan.sections[0].speed_kmh, 130);
}

TEST(SpeedFromMechanics, WhatTheRecordForbidsStaysForbidden) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  scenario.section().records = {{.number = 2, .distance_m = 100, .speed_kmh = 80}};
  scenario.rule("put-dead").on = false;
  EXPECT_EQ(scenario.plan().answer, Answer::none);
}

TEST(SpeedFromMechanics, FromTablesItIsNotAsked) {
  Scenario scenario = double_heading(SpeedFrom::tables);
  scenario.request.mechanics = [](const std::vector<MechanicsQuestion>&) {
    ADD_FAILURE() << "asked";
    return std::optional<std::vector<MechanicsAnswer>>();
  };
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 140);
}

TEST(SpeedFromMechanics, EvidenceIsNoConsent) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  scenario.section().records.clear();
  scenario.section().design_type.reset();
  scenario.rule("put-dead").on = false;
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.answer, Answer::consent_needed);
  EXPECT_EQ(plan.sections[0].speed_kmh, 116);
  EXPECT_NE(finding(plan.sections[0]).text.find("evidence to put to"), std::string::npos);
}

TEST(SpeedFromMechanics, WithoutAnAnswerTheTablesStandAndItIsSaid) {
  for (const SpeedFrom from : {SpeedFrom::both, SpeedFrom::mechanics}) {
    Scenario scenario = double_heading(from);
    scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 90}};
    scenario.request.mechanics = [](const std::vector<MechanicsQuestion>& questions) {
      return std::optional(std::vector<MechanicsAnswer>(
          questions.size(),
          {.speed = {}, .unknown = "there is no file", .not_judged = {}, .warnings = {}}));
    };
    const Plan plan = scenario.plan();
    EXPECT_EQ(plan.sections[0].speed_kmh, 90);
    EXPECT_EQ(plan.sections[0].speed_rule, "line-record");
    EXPECT_EQ(finding(plan.sections[0]).text, "The mechanics has no answer: there is no file.");
    EXPECT_TRUE(std::ranges::any_of(plan.notes, [](const std::string& note) {
      return note == "The mechanics has no answer: there is no file.";
    }));
  }
}

TEST(SpeedFromMechanics, OnAnIcedWireItIsNotAsked) {
  Scenario scenario = double_heading(SpeedFrom::both).ice();
  scenario.permits(3);
  const Plan plan = scenario.plan();
  EXPECT_EQ(finding(plan.sections[0]).strength, Strength::note);
  EXPECT_NE(finding(plan.sections[0]).text.find("ice"), std::string::npos);
}

TEST(SpeedFromMechanics, NoSpeedAtAllIsNoConfiguration) {
  Scenario scenario = double_heading(SpeedFrom::both);
  scenario.rule("put-dead").on = false;
  scenario.request.mechanics = [](const std::vector<MechanicsQuestion>& questions) {
    std::vector<MechanicsAnswer> answers;
    for (const MechanicsQuestion& question : questions) {
      answers.push_back(permits(question, 0));
      answers.back().speed->fails_at_kmh = 50;
    }
    return std::optional(answers);
  };
  EXPECT_EQ(scenario.plan().answer, Answer::none);
}

TEST(SpeedFromMechanics, WhereItIsStoppedThereIsNoPlan) {
  Scenario scenario = double_heading(SpeedFrom::both);
  scenario.request.mechanics = [](const std::vector<MechanicsQuestion>&) {
    return std::optional<std::vector<MechanicsAnswer>>();
  };
  EXPECT_FALSE(make_plan(scenario.request));
}

TEST(SpeedFromMechanics, AFailedPantographHasTheSpeedOfTheDistanceThatIsLeft) {
  const Plan plan = double_heading(SpeedFrom::both).plan();
  const auto failed =
      std::ranges::find(plan.contingencies, PantographRef{1, 1}, &Contingency::failed);
  ASSERT_NE(failed, plan.contingencies.end());
  EXPECT_EQ(failed->sections[0].speed_kmh, 76);  // R1 R2, 19 m apart
  ASSERT_FALSE(failed->on_the_road.empty());
  EXPECT_EQ(failed->on_the_road[0].speed_kmh, 76);
}

TEST(SpeedFromMechanics, TheSpeedItIsAskedForIsWhatAllElsePermits) {
  Scenario scenario = double_heading(SpeedFrom::both);
  scenario.section().records = {{.number = 2, .distance_m = 5, .speed_kmh = 80}};
  scenario.request.train.highest_speed_kmh = 110;
  scenario.request.mechanics = [](const std::vector<MechanicsQuestion>& questions) {
    std::vector<MechanicsAnswer> answers;
    for (const MechanicsQuestion& question : questions) {
      EXPECT_EQ(question.to_kmh, 110);
      EXPECT_EQ(question.contact_line, "T-140");
      EXPECT_EQ(question.supply, ac_15kv);
      answers.push_back(permits(question, 200));
    }
    return std::optional(answers);
  };
  EXPECT_EQ(scenario.plan().sections[0].speed_kmh, 80);
}

TEST(SpeedFromMechanics, KnucklesGoByTheDirectionOfTravel) {
  Scenario scenario = Scenario().add(locomotive());
  scenario.section().contact_line = "T-140";
  scenario.request.speed_from = SpeedFrom::both;
  // Each knuckle points to the middle of its locomotive: behind the front one, ahead of the rear.
  scenario.request.mechanics = source([](const MechanicsQuestion& question) {
    return question.raised.front().knuckle_leading ? 70 : 100;
  });
  const Plan plan = scenario.plan();
  EXPECT_EQ(up_on(plan), "F1");  // the prescribed rear one is slower, and time is a higher step
  EXPECT_EQ(plan.sections[0].speed_kmh, 100);
}

/// As if all configurations had been asked for from the start.
class EverythingKnown : public ComputedSpeeds {
 public:
  explicit EverythingKnown(const MechanicsSource& mechanics) : mechanics_(mechanics) {}

  const ComputedSpeed* speed_of(const JudgedCase& judged, double to_kmh, bool /*wanted*/) override {
    MechanicsQuestion question;
    question.to_kmh = to_kmh;
    double first_m = -1;
    for (const std::size_t p : judged.raised_front_first) {
      const auto& placed = judged.train.pantographs[p];
      first_m = first_m < 0 ? placed.from_front_m : first_m;
      question.raised.push_back(
          {placed.type, placed.knuckle_leading, placed.from_front_m - first_m});
    }
    ComputedSpeed said;
    said.known = true;
    const auto answers = mechanics_({question});
    said.speed_kmh = answers->front().speed->speed_kmh;
    said.fails_at_kmh = answers->front().speed->fails_at_kmh;
    said.looked_to_kmh = to_kmh;
    const std::lock_guard lock(saying_);
    return &said_.emplace_back(said);
  }
  bool stands_in_for_spacing(const JudgedCase& /*judged*/) const override { return false; }

 private:
  const MechanicsSource& mechanics_;
  std::mutex saying_;
  std::deque<ComputedSpeed> said_;
};

Plan with_everything_known(Scenario scenario, const MechanicsSource& mechanics) {
  EverythingKnown speeds(mechanics);
  scenario.request.speed_from = SpeedFrom::tables;
  scenario.request.computed_speeds = &speeds;
  return scenario.plan();
}

// The plan asks only for what it hands out; what it finds is best all the same.
TEST(SpeedFromMechanics, AskingAsNeededFindsTheSamePlanAsAskingForEverything) {
  std::mt19937 random(4);
  for (int round = 0; round < 60; ++round) {
    Scenario scenario = Scenario()
                            .add(locomotive())
                            .add(round % 3 == 0 ? four_pantograph_locomotive(true) : locomotive());
    if (round % 2 == 0) {
      scenario.add(locomotive());
    }
    scenario.permits(static_cast<int>(2 + random() % 4));
    scenario.section().contact_line = "T-140";
    scenario.request.speed_from = SpeedFrom::both;
    const auto seed = static_cast<unsigned>(random());
    const MechanicsSource mechanics = source([seed](const MechanicsQuestion& question) {
      std::size_t mixed = seed;
      for (const MechanicsQuestion::Raised& raised : question.raised) {
        mixed = mixed * 31 + static_cast<std::size_t>(raised.behind_first_m * 10) +
                (raised.knuckle_leading ? 7 : 0);
      }
      return 60.0 + static_cast<double>(std::mt19937(static_cast<unsigned>(mixed))() % 90);
    });
    scenario.request.mechanics = mechanics;
    const Plan plan = scenario.plan();
    const Plan all = with_everything_known(scenario, mechanics);
    EXPECT_EQ(up_on(plan), up_on(all)) << round;
    EXPECT_EQ(plan.sections[0].speed_kmh, all.sections[0].speed_kmh) << round;
    ASSERT_EQ(plan.contingencies.size(), all.contingencies.size());
    for (std::size_t i = 0; i < all.contingencies.size(); ++i) {
      EXPECT_EQ(plan.contingencies[i].sections[0].raised, all.contingencies[i].sections[0].raised);
      EXPECT_EQ(plan.contingencies[i].sections[0].speed_kmh,
                all.contingencies[i].sections[0].speed_kmh);
    }
  }
}

TEST(SpeedFromMechanics, ItMustNotBeOffWhereItIsAskedFor) {
  Scenario scenario = double_heading(SpeedFrom::both);
  EXPECT_TRUE(cross_check(scenario.request).empty());
  scenario.rule("speed-by-mechanics").on = false;
  EXPECT_EQ(cross_check(scenario.request).size(), 1U);
}

// The forces that the plan hands out are those of the run at its speed.
TEST(SpeedFromMechanics, ThePlanCarriesTheForcesOfTheFastestRunThatPasses) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  scenario.request.mechanics = [](const std::vector<MechanicsQuestion>& questions) {
    std::vector<MechanicsAnswer> answers;
    for (const MechanicsQuestion& question : questions) {
      MechanicsAnswer answer = permits(question, by_distance(question));
      answer.speed->judged = {{.speed_kmh = answer.speed->speed_kmh,
                               .passes = true,
                               .pantographs = {},
                               .criteria = {{.rule = "force-deviation",
                                             .pantograph = 2,
                                             .met = true,
                                             .margin = 0.25,
                                             .text = "standard deviation"}},
                               .refused = {}}};
      for (std::size_t i = 0; i < question.raised.size(); ++i) {
        answer.speed->pantographs.push_back({.mean_n = answer.speed->speed_kmh,
                                             .std_n = static_cast<double>(i),
                                             .max_n = 0,
                                             .min_n = 0,
                                             .contact_loss_percent = 0,
                                             .longest_contact_loss_ms = 0});
      }
      answers.push_back(std::move(answer));
    }
    return std::optional(answers);
  };
  const Plan plan = scenario.plan();
  ASSERT_TRUE(plan.margins[0].forces);
  const ForceFigures& forces = *plan.margins[0].forces;
  EXPECT_EQ(forces.speed_kmh, plan.sections[0].speed_kmh);
  EXPECT_EQ(forces.raised, plan.sections[0].raised);
  ASSERT_EQ(forces.pantographs.size(), 2U);
  EXPECT_EQ(forces.pantographs[0].mean_n, plan.sections[0].speed_kmh);
  EXPECT_EQ(forces.pantographs[1].std_n, 1);
  ASSERT_EQ(forces.judged.size(), 1U);
  EXPECT_EQ(forces.judged[0].criteria[0].rule, "force-deviation");
  // What the line's own records or the table say is told beside what was computed.
  ASSERT_TRUE(forces.by_tables);
  Scenario by_tables = double_heading(SpeedFrom::tables);
  const std::vector<PantographRef> raised = plan.sections[0].raised;
  const auto why = why_not(by_tables.request, by_tables.plan(), raised, 1);
  EXPECT_EQ(forces.by_tables->speed_kmh, why->speed_kmh);
  EXPECT_NE(find_rule(scenario.request.rules, forces.by_tables->rule), nullptr);
}

TEST(SpeedFromMechanics, WhatASpeedHangsOnIsAskedOfWhatIsHandedOutAndOnlyThen) {
  Scenario scenario = double_heading(SpeedFrom::mechanics);
  int rounds_after = 0;
  std::vector<MechanicsQuestion> settled;
  scenario.request.mechanics = [&](const std::vector<MechanicsQuestion>& questions) {
    std::vector<MechanicsAnswer> answers;
    for (const MechanicsQuestion& question : questions) {
      if (question.settled) {
        settled.push_back(question);
        MechanicsAnswer answer;
        answer.speed = question.settled;
        answer.speed->hangs_on = HangsOn{.speed_kmh = 117,
                                         .pantograph = 2,
                                         .figure = 22,
                                         .inputs = {{"the static force", "±5 N", 21, 23}}};
        answers.push_back(std::move(answer));
        continue;
      }
      rounds_after += settled.empty() ? 0 : 1;
      MechanicsAnswer answer = permits(question, by_distance(question));
      answer.speed->kind = RuleKind::force_deviation;
      answer.speed->pantographs.resize(question.raised.size());
      if (answer.speed->fails_at_kmh) {
        answer.speed->judged = {{.speed_kmh = *answer.speed->fails_at_kmh,
                                 .passes = false,
                                 .pantographs = answer.speed->pantographs,
                                 .criteria = {},
                                 .refused = {}}};
      }
      answers.push_back(std::move(answer));
    }
    return std::optional(answers);
  };
  const Plan plan = scenario.plan();
  EXPECT_EQ(plan.sections[0].speed_kmh, 116) << "the answer changes no speed";
  EXPECT_EQ(rounds_after, 0);
  ASSERT_EQ(settled.size(), 1U) << "failures are not looked into, nor what lost";
  EXPECT_EQ(settled[0].settled->fails_at_kmh, 117);
  EXPECT_EQ(settled[0].raised.back().behind_first_m, 29);
  const std::string words = "hangs most on the static force (±5 N: 21.0 to 23.0 N)";
  EXPECT_NE(plan.margins[0].forces->hangs_on.find(words), std::string::npos);
  EXPECT_TRUE(std::ranges::any_of(plan.notes, [&](const std::string& note) {
    return note.starts_with("T-140. At 117 km/h") && note.find(words) != std::string::npos;
  }));
}

TEST(SpeedFromMechanics, APlanFromTablesCarriesNoForces) {
  EXPECT_FALSE(double_heading(SpeedFrom::tables).plan().margins[0].forces);
}

}  // namespace
}  // namespace panup::scenario
