/// In what two plans of a train differ, of plans made by hand; and how what is read of a plan is
/// kept.

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <tuple>

#include "base/differing_stretches.h"
#include "base/replaced_files.h"
#include "day/reading_bytes.h"
#include "day/train_change.h"
#include "sample_plan.h"

namespace panup {
namespace {

TrainChange compared(const Plan& before, const Plan& then) {
  const TrainOutcome was = outcome_of(before);
  const TrainOutcome is = outcome_of(then);
  const TrainReading read_before = reading_of(before, {});
  const TrainReading read_then = reading_of(then, {});
  return compare_trains({&was, &read_before}, {&is, &read_then});
}

Plan permitted_plan() {
  Plan plan = sample_plan();
  plan.answer = Answer::permitted;
  for (PlannedSection& section : plan.sections) {
    section.answer = Answer::permitted;
    section.findings.clear();
  }
  plan.running_time_s = 1000;
  return plan;
}

std::vector<std::string> card_parts(const Plan& then) {
  return compared(permitted_plan(), then).card_parts;
}

TEST(TrainChange, OfAPlanWithItselfIsNone) {
  for (const Plan& plan : {sample_plan(), permitted_plan()}) {
    const TrainChange change = compared(plan, plan);
    EXPECT_EQ(change.fate, TrainFate::unchanged);
    EXPECT_TRUE(change.stretches.empty() && change.orders.empty() && change.failures.empty() &&
                change.card_parts.empty() && change.last_resorts.empty());
    EXPECT_FALSE(change.card_again);
    EXPECT_EQ(change.longer_s, 0);
  }
}

TEST(TrainChange, OfWhatDecidesNothingIsNone) {
  Plan then = permitted_plan();
  then.conditions.temperature_c = -3.5;
  then.conditions.name = "One degree less";
  then.notes.emplace_back("The wind is not known.");
  then.rule_books.emplace_back("Winter supplement");
  then.inputs.push_back({"conditions", "other.toml", std::string(64, 'a')});
  EXPECT_EQ(compared(permitted_plan(), then).fate, TrainFate::unchanged);
}

TEST(TrainChange, EachThingOnTheCardIsAPartOfIt) {
  Plan then = permitted_plan();
  then.sections[0].iced = !then.sections[0].iced;
  EXPECT_EQ(card_parts(then), std::vector<std::string>{"the stretches of route"});
  EXPECT_EQ(compared(permitted_plan(), then).stretches.size(), 1U) << "ice is told too";
  then = permitted_plan();
  then.instructions[0].landmark = "at the other signal";
  EXPECT_EQ(card_parts(then), std::vector<std::string>{"the orders"});
  then = permitted_plan();
  then.train.consist.pop_back();
  EXPECT_EQ(card_parts(then), std::vector<std::string>{"the train"});
  then = permitted_plan();
  then.route.name += " by night";
  EXPECT_EQ(card_parts(then), std::vector<std::string>{"the route"});
  then = permitted_plan();
  then.running_time_s += 600;
  EXPECT_EQ(card_parts(then), std::vector<std::string>{"the answer"});
  then = permitted_plan();
  for (PlannedSection& section : then.contingencies.at(0).sections) {
    section.permitted_speed_kmh = 5;
  }
  EXPECT_EQ(card_parts(then), std::vector<std::string>{"what is done when a pantograph fails"});
  then = permitted_plan();
  Finding finding;
  finding.rule = "dust";
  finding.strength = Strength::note;
  finding.text = "The rear one is down.";
  finding.kept = false;
  then.sections[0].findings.push_back(finding);
  EXPECT_EQ(card_parts(then), std::vector<std::string>{"what is to be known"});
}

TEST(TrainChange, StretchesAreCutAtTheBordersOfBothAndJoinedWhereAlike) {
  const Plan before = permitted_plan();
  Plan then = before;
  PlannedSection second = then.sections[0];
  const double middle = (second.from_km + second.to_km) / 2;
  PlannedSection third = second;
  second.from_km = middle;
  second.to_km = (middle + third.to_km) / 2;
  third.from_km = second.to_km;
  second.speed_kmh = third.speed_kmh = 25;
  then.sections[0].to_km = middle;
  then.sections.insert(then.sections.begin() + 1, {second, third});
  const TrainChange change = compared(before, then);
  ASSERT_EQ(change.stretches.size(), 1U);
  EXPECT_EQ(change.stretches[0].from_km, middle);
  EXPECT_EQ(change.stretches[0].to_km, third.to_km);
  EXPECT_EQ(change.stretches[0].how.before->speed_kmh, before.sections[0].speed_kmh);
  EXPECT_EQ(change.stretches[0].how.then->speed_kmh, 25);
}

TEST(TrainChange, BeforeAndThenSwappedIsTheSameTheOtherWayRound) {
  const Plan before = sample_plan();
  Plan then = permitted_plan();
  then.sections[0].raised = {{1, 2}};
  then.instructions.erase(then.instructions.begin());
  then.instructions[0].at_km += 0.3;
  const TrainChange there = compared(before, then);
  const TrainChange back = compared(then, before);
  ASSERT_EQ(there.stretches.size(), back.stretches.size());
  ASSERT_FALSE(there.stretches.empty());
  for (std::size_t i = 0; i < there.stretches.size(); ++i) {
    EXPECT_EQ(there.stretches[i].from_km, back.stretches[i].from_km);
    EXPECT_EQ(there.stretches[i].to_km, back.stretches[i].to_km);
    EXPECT_EQ(there.stretches[i].how.before, back.stretches[i].how.then);
    EXPECT_EQ(there.stretches[i].how.then, back.stretches[i].how.before);
  }
  ASSERT_EQ(there.orders.size(), back.orders.size());
  for (const auto& order : there.orders) {
    const BeforeAndThen<ReadOrder> other{order.then, order.before};
    EXPECT_NE(std::ranges::find(back.orders, other), back.orders.end());
  }
  EXPECT_EQ(there.consents_newly_used, back.consents_no_longer_used);
  EXPECT_EQ(*there.longer_s, -*back.longer_s);
}

TEST(TrainChange, AnOrderIsNewDroppedElsewhereOrInOtherWords) {
  Plan before = permitted_plan();
  const auto order = [](double at_km, const std::string& what) {
    Instruction instruction;
    instruction.at_km = at_km;
    instruction.action = Action::raise;
    instruction.what = what;
    instruction.text = what + " there";
    return instruction;
  };
  before.instructions = {order(1, "Raise 1.1"), order(5, "Raise 1.2"), order(9, "Raise 2.1")};
  Plan then = before;
  then.instructions = {order(2, "Raise 1.1"), order(5, "Raise 2.2"), order(12, "Raise 3.1"),
                       order(14, "Raise 3.2")};
  const TrainChange change = compared(before, then);
  ASSERT_EQ(change.orders.size(), 5U);
  EXPECT_EQ(change.orders[0].before->at_km, 1);
  EXPECT_EQ(change.orders[0].then->at_km, 2);
  EXPECT_EQ(change.orders[1].before->what, "Raise 1.2");
  EXPECT_EQ(change.orders[1].then->what, "Raise 2.2");
  EXPECT_FALSE(change.orders[2].then);
  EXPECT_FALSE(change.orders[3].before);
  EXPECT_FALSE(change.orders[4].before);
}

TEST(TrainChange, IsCalledAfterWhatTheDeskHasToDo) {
  const Plan before = permitted_plan();
  Plan then = before;
  then.running_time_s += 0.4;
  EXPECT_NE(compared(before, then).fate, TrainFate::slower);
  then.running_time_s += 60;
  EXPECT_EQ(compared(before, then).fate, TrainFate::slower);
  EXPECT_EQ(compared(then, before).fate, TrainFate::other) << "faster";
  Finding accepted;
  accepted.rule = "r";
  accepted.strength = Strength::last_resort;
  accepted.text = "Accepted.";
  then.sections[0].findings = {accepted};
  EXPECT_EQ(compared(before, then).fate, TrainFate::last_resort);
  EXPECT_EQ(compared(then, then).fate, TrainFate::unchanged);
  Plan more = then;
  more.sections[1].findings = then.sections[0].findings;
  EXPECT_EQ(compared(then, more).fate, TrainFate::last_resort) << "on a further stretch";
  EXPECT_EQ(compared(more, then).fate, TrainFate::other);
  then.sections[0].answer = then.answer = Answer::consent_needed;
  EXPECT_EQ(compared(before, then).fate, TrainFate::consent_needed);
  then.sections[1].answer = then.answer = Answer::none;
  EXPECT_EQ(compared(before, then).fate, TrainFate::not_permitted);
  EXPECT_FALSE(compared(before, then).longer_s);
  EXPECT_EQ(compared(then, before).fate, TrainFate::other) << "permitted again";
  more = then;
  more.sections[1].speed_reason += " by night";
  EXPECT_EQ(compared(then, more).fate, TrainFate::other) << "not permitted before either";
}

TEST(TrainChange, WithoutAPlanNothingIsComparedAndTheCardIsNotKnownToHold) {
  const Plan plan = permitted_plan();
  const TrainOutcome outcome = outcome_of(plan);
  const TrainReading reading = reading_of(plan, {});
  TrainOutcome mistaken;
  mistaken.decision = Decision::input_mistake;
  for (const auto& [before, then, again] :
       {std::tuple(ComparedTrain{&outcome, &reading}, ComparedTrain{&mistaken, nullptr}, true),
        std::tuple(ComparedTrain{&mistaken, nullptr}, ComparedTrain{&outcome, &reading}, true),
        std::tuple(ComparedTrain{&mistaken, nullptr}, ComparedTrain{&mistaken, nullptr}, false)}) {
    const TrainChange change = compare_trains(before, then);
    EXPECT_EQ(change.fate, TrainFate::no_plan);
    EXPECT_EQ(change.card_again, again);
  }
}

TEST(TrainChange, OfAFailureSaysWhereWhatRemainsIsAnother) {
  const Plan before = permitted_plan();
  Plan then = before;
  ASSERT_FALSE(then.contingencies.empty());
  Contingency& contingency = then.contingencies[0];
  contingency.sections[0].raised = {{2, 2}};
  contingency.answer = Answer::none;
  const TrainChange change = compared(before, then);
  ASSERT_EQ(change.failures.size(), 1U);
  EXPECT_EQ(change.failures[0].failed, contingency.failed);
  EXPECT_EQ(change.failures[0].answer.then, Answer::none);
  ASSERT_EQ(change.failures[0].before_departure.size(), 1U);
  EXPECT_EQ(change.failures[0].before_departure[0].how.then->raised,
            (std::vector<PantographRef>{{2, 2}}));
  // Each of these alone is told.
  then = before;
  then.contingencies[0].answer = Answer::none;
  EXPECT_EQ(compared(before, then).failures.size(), 1U);
  then = before;
  then.contingencies[0].sections[0].permitted_speed_kmh += 5;
  EXPECT_EQ(compared(before, then).failures.size(), 1U);
  then = before;
  RoadFailure road;
  road.to_km = 0.1;
  road.reaches_km = 0.07;
  then.contingencies[0].on_the_road = {road};
  EXPECT_FALSE(compared(before, then).failures.at(0).on_the_road.empty());
  then.contingencies.erase(then.contingencies.begin());
  EXPECT_FALSE(compared(before, then).failures.at(0).answer.then);
}

struct Piece {
  double from_km = 0;
  double to_km = 0;
  int value = 0;
};

TEST(DifferingStretches, DoNotMindRoundingAndArePartedByWhatIsAlike) {
  const auto difference = [](const Piece* a, const Piece* b) -> std::optional<int> {
    const int was = a == nullptr ? 0 : a->value;
    const int is = b == nullptr ? 0 : b->value;
    return was == is ? std::nullopt : std::optional(is - was);
  };
  const std::vector<Piece> before{{0, 4, 1}, {4, 9, 1}};
  const std::vector<Piece> then{{0, 4 + 1e-9, 2}, {4 + 1e-9, 6, 2}, {6, 7, 1}, {7, 11, 2}};
  const auto found = differing_stretches(before, then, difference);
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0].from_km, 0);
  EXPECT_EQ(found[0].to_km, 6);
  EXPECT_EQ(found[1].from_km, 7);
  EXPECT_EQ(found[1].to_km, 9);
  EXPECT_EQ(found[2].from_km, 9);
  EXPECT_EQ(found[2].differs, 2);
  EXPECT_TRUE(differing_stretches(then, then, difference).empty());
}

TEST(ReplacedFiles, AreReadFromTheOthersOnceByWhateverPathTheyAreAskedFor) {
  const std::vector<ReplacedFile> replaced{{"x/../a.toml", "b.toml"}, {"b.toml", "a.toml"}};
  EXPECT_EQ(path_read_for("a.toml", replaced), "b.toml");
  EXPECT_EQ(path_read_for("./b.toml", replaced), "a.toml");
  EXPECT_EQ(path_read_for((std::filesystem::current_path() / "a.toml").string(), replaced),
            "b.toml");
  EXPECT_EQ(path_read_for("c.toml", replaced), "c.toml");
  const FileSource named{.load =
                             [](const std::string& path, Diagnostics&) {
                               return std::optional(SourceText{path, "text of " + path});
                             },
                         .has = [](const std::string& path) { return path == "b.toml"; }};
  const FileSource source = with_replaced(named, replaced);
  Diagnostics none;
  EXPECT_EQ(source.load("a.toml", none)->file, "b.toml");
  EXPECT_EQ(source.load("a.toml", none)->text, "text of b.toml");
  EXPECT_TRUE(source.has("a.toml"));
  EXPECT_FALSE(source.has("b.toml"));
}

/// A way in two parts, the second behind the first.
RunPlan in_two_parts() {
  RunPlan run{.id = "r", .name = "R", .route_name = "W", .parts = {sample_plan(), sample_plan()}};
  const double shift_km = run.parts[0].sections.back().to_km;
  for (PlannedSection& section : run.parts[1].sections) {
    section.from_km += shift_km;
    section.to_km += shift_km;
  }
  return run;
}

TEST(ReadingOfParts, IsOneBehindTheOther) {
  RunPlan run = in_two_parts();
  run.parts[0].inputs = {{"train", "t.toml", ""}, {"contact line", "l.toml", ""}};
  run.parts[1].inputs = {{"train", "t.toml", ""}, {"contact line", "m.toml", ""}};
  for (ConsistItem& item : run.parts[1].train.consist) {
    if (auto* const vehicle = std::get_if<Vehicle>(&item)) {
      auto type = std::make_shared<VehicleType>(*vehicle->type);
      type->id = "m99";
      vehicle->type = type;
      vehicle->in_place_of = "m98";
    }
  }
  run.parts[1].contingencies.front().answer = Answer::none;
  const TrainReading first = reading_of(run.parts[0], {"n.toml"});
  const TrainReading second = reading_of(run.parts[1], {"n.toml"});
  const TrainReading both = reading_of(run, {"n.toml"});
  EXPECT_EQ(both.sections.size(), first.sections.size() + second.sections.size());
  EXPECT_EQ(both.sections.back().to_km, second.sections.back().to_km);
  EXPECT_EQ(both.orders.size(), 2 * first.orders.size());
  EXPECT_EQ(both.files, (std::vector<std::string>{"t.toml", "l.toml", "m.toml"}));
  EXPECT_EQ(both.not_there, first.not_there);
  EXPECT_EQ(both.classes.back(), "m99");
  EXPECT_EQ(both.in_place_of, (std::vector<std::string>{"m98"}));
  ASSERT_FALSE(first.failures.empty());
  ASSERT_EQ(both.failures.size(), first.failures.size()) << "a pantograph stands once";
  EXPECT_EQ(both.failures[0].answer, Answer::none);
  EXPECT_EQ(both.failures[0].before_departure.size(),
            first.failures[0].before_departure.size() + second.failures[0].before_departure.size());
  EXPECT_EQ(both.failures[0].on_the_road.size(),
            first.failures[0].on_the_road.size() + second.failures[0].on_the_road.size());
}

TEST(ReadingOfParts, APantographThatComesOnTheWayHasItsOwnFailures) {
  RunPlan run = in_two_parts();
  run.parts[1].contingencies.front().failed = {9, 1};
  EXPECT_EQ(reading_of(run, {}).failures.back().failed, (PantographRef{9, 1}));
}

TEST(ReadingOfParts, WhatAnyPartSaysElseIsAChange) {
  const RunPlan run = in_two_parts();
  const TrainOutcome was = outcome_of(run);
  const TrainReading before = reading_of(run, {});
  const auto change_to = [&](const RunPlan& other) {
    const TrainOutcome is = outcome_of(other);
    const TrainReading then = reading_of(other, {});
    return compare_trains({&was, &before}, {&is, &then});
  };
  EXPECT_FALSE(change_to(run).changes());
  for (const std::size_t part : {0U, 1U}) {
    RunPlan other = run;
    other.parts[part].instructions.front().text = "Something else.";
    const TrainChange change = change_to(other);
    EXPECT_EQ(change.fate, TrainFate::other);
    EXPECT_TRUE(change.card_again);
    EXPECT_EQ(change.card_parts, (std::vector<std::string>{"the orders"}));
  }
  RunPlan shorter = run;
  shorter.parts.pop_back();
  EXPECT_TRUE(change_to(shorter).card_again) << "a part that is gone";
}

TEST(KeptReading, IsTheSameWhenItIsReadBackAndNothingWhereBytesAreMissing) {
  Plan plan = sample_plan();
  plan.sections[0].least_distance_m = 7.1;
  plan.inputs = {{"train", "t.toml", ""}};
  const TrainReading reading = reading_of(plan, {"not-there.toml"});
  const std::string bytes = reading_to_bytes(reading);
  const auto back = reading_from_bytes(bytes);
  ASSERT_TRUE(back);
  EXPECT_EQ(reading_to_bytes(*back), bytes);
  EXPECT_EQ(back->sections.front().runs, reading.sections.front().runs);
  EXPECT_EQ(back->orders, reading.orders);
  EXPECT_EQ(back->card, reading.card);
  EXPECT_EQ(back->classes, reading.classes);
  EXPECT_EQ(back->files, reading.files);
  EXPECT_EQ(back->not_there, reading.not_there);
  EXPECT_EQ(back->failures.size(), reading.failures.size());
  for (std::size_t size = 0; size < bytes.size(); size += 7) {
    EXPECT_FALSE(reading_from_bytes(bytes.substr(0, size))) << size;
  }
  EXPECT_FALSE(reading_from_bytes(bytes + "x"));
  EXPECT_FALSE(reading_from_bytes(std::string(64, '\xFF')));
}

}  // namespace
}  // namespace panup
