/// Cards are made before the register is taken: somebody else may issue one in between.

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <memory>

#include "issued/hand_out.h"
#include "sample_plan.h"

namespace panup {
namespace {

class MadeCardsTest : public testing::Test {
 protected:
  MadeCardsTest() {
    std::filesystem::create_directories(folder);
    day.date = "2031-05-13";
    for (const char* const number : {"1", "2"}) {
      day.trains.emplace_back().number = number;
      const auto& run = plans.emplace_back(std::make_shared<const RunPlan>(as_run(sample_plan())));
      outcomes.emplace_back(outcome_of(*run));
      readings.emplace_back(reading_of(*run, {}));
    }
  }
  ~MadeCardsTest() override { std::filesystem::remove_all(folder); }
  MadeCardsTest(const MadeCardsTest&) = delete;
  MadeCardsTest& operator=(const MadeCardsTest&) = delete;

  static HowToIssue to(const std::string& whom, bool also_holding) {
    return {.handed_out = {.at = "2031-05-12T03:10:00Z", .to = whom}, .also_holding = also_holding};
  }

  IssueRegister open() const {
    auto opened = IssueRegister::open((folder / "cards.sqlite").string());
    EXPECT_TRUE(std::holds_alternative<IssueRegister>(opened)) << std::get<std::string>(opened);
    return std::move(std::get<IssueRegister>(opened));
  }

  /// The cards of both trains, made when none was issued; then another desk issues that of the
  /// second.
  HandedOutDay overtaken(const HowToIssue& how) {
    IssueRegister issues = open();
    const std::vector<std::size_t> both{0, 1};
    MadeCards made = make_cards(planned, both, last_issues(issues, day, both).last, how);
    IssueRegister of_other_desk = open();
    EXPECT_EQ(hand_out(of_other_desk, planned, {1}, to("Other desk", false)).wrong, "");
    return issue_made(issues, planned, how, std::move(made));
  }

  const std::filesystem::path folder =
      std::filesystem::path(testing::TempDir()) / ("panup-made-" + std::to_string(::getpid()));
  DayFile day;
  std::vector<std::optional<TrainOutcome>> outcomes;
  std::vector<std::optional<TrainReading>> readings;
  std::vector<std::shared_ptr<const RunPlan>> plans;
  const DayToIssue planned{.day = day, .outcomes = outcomes, .readings = readings, .plans = plans};
};

TEST_F(MadeCardsTest, OfWhichAnotherDeskHasIssuedOneIsMadeAnewAndCountsOn) {
  const HandedOutDay done = overtaken(to("Desk", true));
  ASSERT_EQ(done.wrong, "");
  ASSERT_EQ(done.cards.size(), 2U);
  EXPECT_EQ(done.cards[0].issue->number, 1);
  EXPECT_EQ(done.cards[1].fate, CardFate::issued);
  EXPECT_EQ(done.cards[1].issue->number, 2);
  EXPECT_EQ(done.cards[1].issue->handed_out.to, "Desk");
  const auto all = std::get<std::vector<Issue>>(open().issues());
  ASSERT_EQ(all.size(), 3U);
  EXPECT_EQ(all[0].handed_out.to, "Other desk") << "nothing that was issued is written over";
}

TEST_F(MadeCardsTest, IsNotIssuedWhereTheOtherDesksCardHolds) {
  const HandedOutDay done = overtaken(to("Desk", false));
  ASSERT_EQ(done.wrong, "");
  ASSERT_EQ(done.cards.size(), 2U);
  EXPECT_EQ(done.cards[0].fate, CardFate::issued);
  EXPECT_EQ(done.cards[1].fate, CardFate::still_holds);
  EXPECT_EQ(done.cards[1].issue->handed_out.to, "Other desk");
  EXPECT_EQ(std::get<std::vector<Issue>>(open().issues()).size(), 2U);
}

}  // namespace
}  // namespace panup
