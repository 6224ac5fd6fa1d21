/// What the desk looks at, taken from plans made by hand, and the order in which it is shown.

#include <gtest/gtest.h>

#include "day/day_table.h"
#include "day/outcome_json.h"
#include "sample_plan.h"

namespace panup {
namespace {

TrainOutcome with(Decision decision) {
  TrainOutcome outcome;
  outcome.decision = decision;
  return outcome;
}

DayTrain row(const std::string& number, const std::string& departure = "") {
  DayTrain train{.number = number,
                 .train = {},
                 .route = {},
                 .departure = departure,
                 .place = {},
                 .vehicles_place = {}};
  return train;
}

Finding said_by_rule(const std::string& rule, Strength strength, const std::string& text) {
  Finding made;
  made.rule = rule;
  made.strength = strength;
  made.text = text;
  return made;
}

Consent consent(const std::string& reference, const std::string& given_by) {
  Consent made;
  made.reference = reference;
  made.given_by = given_by;
  return made;
}

TEST(DeskOrder, IsByDecisionThenDepartureThenNumber) {
  DayFile day;
  day.trains = {row("1"),
                row("2", "09:00:00"),
                row("4", "07:00:00"),
                row("3", "07:00:00"),
                row("5", "23:00:00"),
                row("6", "01:00:00"),
                row("7", "22:00:00"),
                row("8", "21:00:00"),
                row("9", "20:00:00")};
  const std::vector<std::optional<TrainOutcome>> outcomes{
      with(Decision::permitted),      with(Decision::permitted),     with(Decision::permitted),
      with(Decision::permitted),      with(Decision::input_mistake), std::nullopt,
      with(Decision::consent_needed), with(Decision::last_resort),   with(Decision::none)};
  EXPECT_EQ(desk_order(day, outcomes), (std::vector<std::size_t>{4, 8, 6, 7, 3, 2, 1, 0}));
}

TEST(DepartureOrder, KeepsTheOrderOfTheFileWhereTrainsLeaveTogether) {
  DayFile day;
  day.trains = {row("1"), row("2", "09:00:00"), row("4", "07:00:00"), row("3", "07:00:00"),
                row("0")};
  EXPECT_EQ(departure_order(day), (std::vector<std::size_t>{2, 3, 1, 0, 4}));
}

TEST(Outcome, IsThatOfThePlan) {
  for (const auto& [name, plan] : all_sample_plans()) {
    SCOPED_TRACE(name);
    const TrainOutcome outcome = outcome_of(plan);
    EXPECT_EQ(outcome.decision == Decision::none, plan.answer == Answer::none);
    EXPECT_EQ(outcome.decision == Decision::consent_needed, plan.answer == Answer::consent_needed);
    EXPECT_EQ(outcome.slowest.has_value(), plan.answer != Answer::none);
    EXPECT_EQ(outcome.orders, plan.instructions.size());
    double least = 1000;
    for (const PlannedSection& section : plan.sections) {
      least = std::min(least, section.speed_kmh);
    }
    if (outcome.slowest) {
      EXPECT_EQ(outcome.slowest->speed_kmh, least);
      EXPECT_EQ(outcome.running_time_s, plan.running_time_s);
    } else {
      EXPECT_EQ(outcome.running_time_s, 0);
    }
  }
}

TEST(Outcome, SaysWhatIsForbiddenMissingAndAcceptedAndWhere) {
  Plan plan = sample_plan();
  plan.sections.resize(3);
  for (std::size_t i = 0; i < 3; ++i) {
    plan.sections[i].findings.clear();
    plan.sections[i].from_km = static_cast<double>(i);
    plan.sections[i].to_km = static_cast<double>(i + 1);
    plan.sections[i].answer = Answer::permitted;
    plan.sections[i].speed_kmh = 100 - 10 * static_cast<double>(i >= 1);
  }
  EXPECT_EQ(outcome_of(plan).decision, Decision::permitted);
  const Finding resort = said_by_rule("facing-pair", Strength::last_resort, "accepted");
  plan.sections[0].findings = {resort};
  plan.sections[1].findings = {resort, said_by_rule("note", Strength::note, "n")};
  TrainOutcome outcome = outcome_of(plan);
  EXPECT_EQ(outcome.decision, Decision::last_resort);
  EXPECT_EQ(outcome.last_resorts, (std::vector<SaidWhere>{{"facing-pair", "accepted", {{0, 2}}}}));
  EXPECT_EQ(outcome.slowest->where, (KmStretch{1, 2})) << "the first of several";
  plan.answer = plan.sections[2].answer = Answer::consent_needed;
  plan.sections[2].without_consent = "one up";
  plan.sections[2].findings = {said_by_rule("r", Strength::consent_needed, "ask")};
  outcome = outcome_of(plan);
  EXPECT_EQ(outcome.decision, Decision::consent_needed);
  EXPECT_EQ(outcome.consents_missing, (std::vector<SaidWhere>{{"r", "ask", {{2, 3}}}}));
  EXPECT_EQ(outcome.without_consent, "one up");
  plan.answer = plan.sections[0].answer = Answer::none;
  plan.sections[0].findings.push_back(said_by_rule("f", Strength::forbidden, "too wide"));
  outcome = outcome_of(plan);
  EXPECT_EQ(outcome.decision, Decision::none);
  EXPECT_EQ(outcome.forbidden, (std::vector<SaidWhere>{{"f", "too wide", {{0, 1}}}}));
  EXPECT_EQ(outcome.last_resorts, (std::vector<SaidWhere>{{"facing-pair", "accepted", {{1, 2}}}}))
      << "none is accepted where nothing is permitted";
}

TEST(Outcome, NamesTheConsentsThatAFindingRestsOn) {
  Plan plan = sample_plan();
  plan.train.consents = {consent("NV-1", "Nordvale"), consent("NV-12", "Nordvale")};
  EXPECT_TRUE(outcome_of(plan).consents_used.empty());
  plan.sections[1].findings.push_back(
      said_by_rule("r", Strength::note, "Consent NV-12 of Nordvale covers it."));
  plan.sections[1].findings.back().rests_on = {"NV-12", "Nordvale"};
  EXPECT_EQ(outcome_of(plan).consents_used, (std::vector<ConsentName>{{"NV-12", "Nordvale"}}));
}

TEST(Outcome, HashHangsOnWhatWasAskedAndOnEveryInput) {
  const Plan plan = sample_plan();
  const auto hash = [](const Plan& of) { return outcome_of(of).inputs_sha256; };
  EXPECT_EQ(hash(plan), hash(plan));
  Plan other = plan;
  other.train.release.date = "2031-06-01";
  EXPECT_NE(hash(other), hash(plan));
  other = plan;
  other.train.release.train_number += "1";
  EXPECT_NE(hash(other), hash(plan));
  other = plan;
  for (ConsistItem& item : other.train.consist) {
    if (auto* const vehicle = std::get_if<Vehicle>(&item)) {
      vehicle->id += "1";
      break;
    }
  }
  EXPECT_NE(hash(other), hash(plan));
  ASSERT_FALSE(plan.inputs.empty());
  other = plan;
  other.inputs.back().sha256 = std::string(64, 'a');
  EXPECT_NE(hash(other), hash(plan));
}

/// A way in two parts, of which the second is slower.
RunPlan in_two_parts() {
  RunPlan run{.id = "r", .name = "R", .route_name = "the whole way", .parts = {}};
  for (const int number : {0, 1}) {
    Plan part = sample_plan();
    part.route.name += number == 0 ? ", part 1 of 2" : ", part 2 of 2";
    part.answer = Answer::permitted;
    part.sections.resize(1);
    PlannedSection& section = part.sections.front();
    section.from_km = 2.0 * number;
    section.to_km = 2.0 + 3.0 * number;
    section.answer = Answer::permitted;
    section.speed_kmh = number == 0 ? 90 : 60;
    section.speed_reason = number == 0 ? "Line speed 90 km/h" : "Curve";
    section.findings.clear();
    part.running_time_s = number == 0 ? 100 : 50;
    part.instructions.resize(number == 0 ? 2 : 3);
    run.parts.push_back(std::move(part));
  }
  return run;
}

TEST(OutcomeOfParts, OfOnePartIsThatOfItsPlan) {
  for (const auto& [name, plan] : all_sample_plans()) {
    SCOPED_TRACE(name);
    const RunPlan run{.id = "r", .name = "R", .route_name = "other", .parts = {plan}};
    EXPECT_EQ(outcome_to_json(outcome_of(run)), outcome_to_json(outcome_of(plan)));
  }
}

TEST(OutcomeOfParts, AddsUpTimeAndOrdersAndHasTheLeastSpeed) {
  RunPlan run = in_two_parts();
  TrainOutcome outcome = outcome_of(run);
  EXPECT_EQ(outcome.decision, Decision::permitted);
  EXPECT_EQ(outcome.answer, "Permitted.");
  EXPECT_EQ(outcome.route_name, "the whole way");
  EXPECT_EQ(outcome.slowest, (SlowestStretch{60, {2, 5}, "Curve"}));
  EXPECT_EQ(outcome.running_time_s, 150);
  EXPECT_EQ(outcome.orders, 5U);
  std::swap(run.parts[0], run.parts[1]);
  EXPECT_EQ(outcome_of(run).slowest->speed_kmh, 60);
}

TEST(OutcomeOfParts, IsTheWorstAnswerAndSaysOfWhichPart) {
  RunPlan run = in_two_parts();
  Plan& second = run.parts[1];
  second.answer = second.sections[0].answer = Answer::consent_needed;
  second.sections[0].without_consent = "one up";
  second.sections[0].findings = {said_by_rule("r", Strength::consent_needed, "ask")};
  TrainOutcome outcome = outcome_of(run);
  EXPECT_EQ(outcome.decision, Decision::consent_needed);
  EXPECT_EQ(outcome.consents_missing, (std::vector<SaidWhere>{{"r", "ask", {{2, 5}}}}));
  EXPECT_EQ(outcome.without_consent, "one up");
  EXPECT_EQ(outcome.answer,
            "In 2 parts. Part 1, km 0.0–2.0: permitted. Part 2, km 2.0–5.0: consent needed on km "
            "2.0–5.0: of the infrastructure manager, or evidence.");
  second.answer = second.sections[0].answer = Answer::none;
  second.sections[0].findings = {said_by_rule("f", Strength::forbidden, "too wide")};
  outcome = outcome_of(run);
  EXPECT_EQ(outcome.decision, Decision::none);
  EXPECT_EQ(outcome.forbidden, (std::vector<SaidWhere>{{"f", "too wide", {{2, 5}}}}));
  EXPECT_FALSE(outcome.slowest) << "the train may not run everywhere";
  EXPECT_EQ(outcome.running_time_s, 0);
  EXPECT_EQ(outcome.orders, 5U);
  std::swap(run.parts[0], run.parts[1]);
  EXPECT_EQ(outcome_of(run).decision, Decision::none);
  EXPECT_FALSE(outcome_of(run).slowest);
}

TEST(OutcomeOfParts, SaysOnceWhatSeveralPartsSay) {
  RunPlan run = in_two_parts();
  Consent used = consent("NV-12", "Nordvale");
  ConsentLeftOut left_out{.consent = consent("NV-1", "Nordvale"), .because = "over"};
  RegisteredDefect defect;
  defect.vehicle = "K41 007";
  for (Plan& part : run.parts) {
    part.train.consents = {used};
    part.train.consents_left_out = {left_out};
    part.train.registered_defects = {defect};
    part.sections[0].findings = {said_by_rule("facing-pair", Strength::last_resort, "accepted")};
    part.sections[0].findings[0].rests_on = {"NV-12", "Nordvale"};
  }
  defect.vehicle = "M62 104";
  run.parts[1].train.registered_defects.push_back(defect);
  const TrainOutcome outcome = outcome_of(run);
  EXPECT_EQ(outcome.decision, Decision::last_resort);
  EXPECT_EQ(outcome.last_resorts, (std::vector<SaidWhere>{{"facing-pair", "accepted", {{0, 5}}}}));
  EXPECT_EQ(outcome.consents_used, (std::vector<ConsentName>{{"NV-12", "Nordvale"}}));
  EXPECT_EQ(outcome.consents_not_counting,
            (std::vector<ConsentName>{{"NV-1", "Nordvale", "over"}}));
  ASSERT_EQ(outcome.defects.size(), 2U);
  EXPECT_EQ(outcome.defects[1].vehicle, "M62 104");
}

TEST(OutcomeOfParts, NamesVehiclesThatComeOnTheWayAndEveryInput) {
  RunPlan run = in_two_parts();
  const TrainOutcome before = outcome_of(run);
  EXPECT_EQ(before.vehicles, outcome_of(run.parts[0]).vehicles) << "each once";
  Vehicle comes;
  for (const ConsistItem& item : run.parts[1].train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      comes = *vehicle;
    }
  }
  comes.number = 77;
  comes.id = "M62 104";
  run.parts[1].train.consist.emplace_back(comes);
  TrainOutcome outcome = outcome_of(run);
  std::vector<std::string> vehicles = before.vehicles;
  vehicles.emplace_back("M62 104");
  EXPECT_EQ(outcome.vehicles, vehicles);
  EXPECT_NE(outcome.inputs_sha256, before.inputs_sha256);
  const std::string with_vehicle = outcome.inputs_sha256;
  run.parts[1].inputs.push_back({"contact line", "second.toml", std::string(64, 'b')});
  outcome = outcome_of(run);
  EXPECT_NE(outcome.inputs_sha256, with_vehicle);
  EXPECT_EQ(inputs_of(run).size(), run.parts[1].inputs.size()) << "what both have stands once";
  for (Plan& part : run.parts) {
    part.train.invented = part.route.invented = part.conditions.invented = false;
  }
  EXPECT_FALSE(outcome_of(run).invented);
  run.parts[1].train.invented = true;
  EXPECT_TRUE(outcome_of(run).invented);
}

TEST(Outcome, SaysTheLineOfItsSlowestStretchWhereTheRouteDoesNotGoByItsKilometres) {
  Plan plan = in_two_parts().parts[1];
  plan.route.sections.resize(1);
  plan.route.sections[0].from_km = 0;
  plan.route.sections[0].to_km = 5;
  plan.route.sections[0].line = "3";
  plan.route.sections[0].line_from_km = 78.4;
  plan.route.sections[0].line_to_km = 73.4;
  EXPECT_EQ(outcome_of(plan).slowest->reason, "Curve, on line 3 km 76.400–73.400");
}

TEST(Outcome, SaysInWhichLanguageItIs) {
  Plan plan = sample_plan();
  EXPECT_FALSE(outcome_to_json(outcome_of(plan)).contains("language")) << "English does not";
  plan.words = built_in_words("de");
  const auto json = outcome_to_json(outcome_of(plan));
  EXPECT_EQ(json["language"], "de");
  EXPECT_EQ(outcome_from_json(json)->language, "de");
}

TEST(Outcome, GoesThroughJsonAndBack) {
  TrainOutcome outcome = outcome_of(sample_plan());
  outcome.mistakes = {{{"f", 1, 2}, "text"}};
  outcome.forbidden = {{"r", "t", {{0, 1}, {2, 3.5}}}};
  outcome.consents_used = {{"a", "b"}};
  outcome.consents_not_counting = {{"a", "b", "over"}};
  outcome.defects = {{"K41 007", 2, "ND-14", "at a stand"}};
  const auto json = outcome_to_json(outcome);
  const auto back = outcome_from_json(json);
  ASSERT_TRUE(back);
  EXPECT_EQ(outcome_to_json(*back), json);
  for (const auto& [key, value] : json.items()) {
    auto broken = json;
    broken.erase(key);
    EXPECT_FALSE(outcome_from_json(broken)) << "without " << key;
    broken = json;
    broken[key] = value.is_number() ? nlohmann::ordered_json("x") : nlohmann::ordered_json(7);
    EXPECT_FALSE(outcome_from_json(broken)) << "another " << key;
  }
}

TEST(DayTable, SaysWhichRegisteredVehiclesNoTrainHas) {
  DayFile day;
  day.date = day.name = "2031-05-13";
  day.trains = {row("1")};
  TrainOutcome outcome = with(Decision::permitted);
  outcome.vehicles = {"K41 007"};
  DayReport report{.day = &day, .outcomes = {outcome}, .registered_vehicles = {"K41 007"}};
  EXPECT_EQ(day_notes(report).size(), 1U);
  report.registered_vehicles = {"K41 099", "K41 007", "K41 098"};
  EXPECT_EQ(day_notes(report).front(),
            "Vehicles that the registers of defects name and no train of the day has: K41 098, K41 "
            "099.");
  report.outcomes[0]->decision = Decision::input_mistake;
  EXPECT_EQ(day_notes(report).front(),
            "Vehicles that the registers of defects name and no planned train of the day has: K41 "
            "007, K41 098, K41 099.");
}

TEST(DayTable, ACellThatASpreadsheetWouldTakeForAFormulaIsText) {
  DayFile day;
  day.trains = {row("1")};
  TrainOutcome outcome = with(Decision::permitted);
  outcome.train_name = "=1+1";
  outcome.route_name = "a, \"b\"";
  const std::string table = day_to_csv({.day = &day, .outcomes = {outcome}});
  EXPECT_NE(table.find("\n,1,, =1+1,,\"a, \"\"b\"\"\",permitted,"), std::string::npos) << table;
}

}  // namespace
}  // namespace panup
