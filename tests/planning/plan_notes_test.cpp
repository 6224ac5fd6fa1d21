/// What a plan says of itself at its end: which entries of registers it used, what was not checked.

#include "plan/plan_notes.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "scenario.h"

namespace panup::scenario {
namespace {

std::string note_with(const PlanRequest& request, std::string_view words) {
  for (const std::string& note : general_notes(request)) {
    if (note.find(words) != std::string::npos) {
      return note;
    }
  }
  return {};
}

RegisteredDefect defect_of(const std::string& vehicle, int pantograph) {
  RegisteredDefect defect;
  defect.vehicle = vehicle;
  defect.pantograph = pantograph;
  defect.since = "2031-05-02";
  defect.file = "defects.toml";
  return defect;
}

Scenario with_numbers() {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive());
  scenario.vehicle(1).id = "K41 006";
  scenario.vehicle(2).id = "K41 007";
  scenario.request.train.defect_files = {"defects.toml"};
  return scenario;
}

TEST(NotesOfDefects, SayTheWholeEntryAndWhichPantographItMeans) {
  Scenario scenario = with_numbers();
  RegisteredDefect defect = defect_of("K41 007", 2);
  defect.until = "2031-06-01";
  defect.reference = "ND-14";
  defect.still_possible = "at 80 km/h";
  scenario.request.train.registered_defects = {defect};
  scenario.request.train.release.date = "2031-05-13";
  EXPECT_EQ(note_with(scenario.request, "Entries of"),
            "Entries of defects.toml that count for this train on 2031-05-13: 2.2 (pantograph 2 of "
            "K41 007) since 2031-05-02, until 2031-06-01, ND-14 (still possible: at 80 km/h; it "
            "stays down all the same).");
  scenario.request.train.release.date.clear();
  EXPECT_NE(note_with(scenario.request, "Entries of")
                .find("whose day is not stated, so that those of any day count"),
            std::string::npos);
}

TEST(NotesOfDefects, AreOfEachRegisterByItselfAndSayNoEntryTwice) {
  Scenario scenario = with_numbers();
  scenario.request.train.defect_files = {"defects.toml", "other.toml"};
  scenario.request.train.registered_defects = {defect_of("K41 006", 1), defect_of("K41 006", 1),
                                               defect_of("K41 007", 1)};
  EXPECT_EQ(note_with(scenario.request, "defects.toml"),
            "Entries of defects.toml that count for this train, whose day is not stated, so that "
            "those of any day count: 1.1 (pantograph 1 of K41 006) since 2031-05-02; 2.1 "
            "(pantograph 1 of K41 007) since 2031-05-02.");
  EXPECT_EQ(note_with(scenario.request, "other.toml"),
            "No entry of other.toml concerns this train.");
}

TEST(NotesOfDefects, SayOfWhichVehiclesTheRegisterCouldNotBeAsked) {
  Scenario scenario = with_numbers();
  EXPECT_EQ(note_with(scenario.request, "No number of its own"), "");
  scenario.vehicle(2).id = "vehicle 2";
  EXPECT_EQ(note_with(scenario.request, "No number of its own"),
            "No number of its own is stated for vehicle 2: no register of defects was asked about "
            "it.");
  scenario.request.train.defect_files.clear();
  EXPECT_EQ(note_with(scenario.request, "No number of its own"), "") << "no register at all";
}

TEST(NotesOfRules, NameThoseInForceWhoseNumbersAreInvented) {
  Scenario scenario = Scenario().add(locomotive());
  for (Rule& rule : scenario.request.rules.rules) {
    rule.invented = false;
  }
  EXPECT_EQ(note_with(scenario.request, "are invented"), "");
  scenario.rule("ice-speed").invented = true;
  scenario.rule("single-strip-speed").invented = true;
  EXPECT_NE(note_with(scenario.request, "are invented").find("ice-speed"), std::string::npos);
  EXPECT_NE(note_with(scenario.request, "are invented").find("single-strip-speed"),
            std::string::npos);
  scenario.rule("ice-speed").on = false;
  EXPECT_EQ(note_with(scenario.request, "are invented"),
            "Rules whose numbers are invented: single-strip-speed.");
}

TEST(NotesOfWhatIsNotChecked, NameEachThingThatNoRuleInForceLooksAt) {
  Scenario scenario = Scenario().add(locomotive());
  const auto unchecked = [&scenario] { return note_with(scenario.request, "Not checked"); };
  EXPECT_EQ(unchecked().find("current at a stand"), std::string::npos) << unchecked();
  EXPECT_NE(unchecked().find("contact force"), std::string::npos);
  scenario.rule("standstill-current").on = false;
  EXPECT_NE(unchecked().find("current at a stand"), std::string::npos);
  scenario.rule("zones-joined").on = false;
  EXPECT_NE(unchecked().find("which electrical zones"), std::string::npos);
}

}  // namespace
}  // namespace panup::scenario
