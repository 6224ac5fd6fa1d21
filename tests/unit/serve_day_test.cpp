#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "serve/day_requests.h"
#include "serve/day_work.h"

namespace panup {
namespace {

constexpr const char* tuesday = "days/tuesday.toml";

PlanningPlace demo_of_days() {
  std::string wrong;
  return {.library = *open_library(std::string(PANUP_DATA_FOLDER) + "/demo", wrong),
          .rules = {},
          .jobs = 1,
          .program_version = "0"};
}

WorkPlace place_without_store() { return {.planning = demo_of_days(), .answers = nullptr}; }

/// Ends the work after so many trains.
class CountedTrains : public JobProgress {
 public:
  explicit CountedTrains(std::size_t most) : most_(most) {}

  void expect(std::size_t runs) override { expected += runs; }
  void did(std::size_t runs) override { done += runs; }
  void found(JobPart part) override {
    EXPECT_EQ(part.name, "train");
    const auto json = nlohmann::json::parse(part.json);
    numbers.insert(json.at("number").get<std::string>());
  }
  bool stopped() const override { return done >= most_; }

  std::size_t expected = 0;
  std::size_t done = 0;
  std::set<std::string> numbers;

 private:
  std::size_t most_;
};

TEST(ServeDay, each_train_of_a_day_is_told_of_and_counted) {
  Diagnostics diagnostics;
  const auto work = day_work({.day = tuesday}, place_without_store(), diagnostics);
  ASSERT_TRUE(work && diagnostics.empty());
  CountedTrains progress(1000);
  std::string error;
  const auto result = (*work)(progress, error);
  ASSERT_TRUE(result);
  EXPECT_EQ(error, "");
  EXPECT_EQ(progress.expected, 40);
  EXPECT_EQ(progress.done, 40);
  EXPECT_EQ(progress.numbers.size(), 40);
  EXPECT_EQ(nlohmann::json::parse(*result).at("trains").size(), 40);
}

TEST(ServeDay, a_day_that_is_stopped_has_no_result) {
  Diagnostics diagnostics;
  const WorkPlace place = place_without_store();
  const auto day = day_work({.day = tuesday}, place, diagnostics);
  const auto what_if = what_if_work({.day = tuesday, .what_if = "days/what-if/ice-warning.toml"},
                                    place, diagnostics);
  ASSERT_TRUE(day && what_if);
  for (const auto& [work, most] : {std::pair{&*day, 3}, {&*what_if, 3}, {&*what_if, 43}}) {
    CountedTrains progress(static_cast<std::size_t>(most));
    std::string error;
    EXPECT_FALSE((*work)(progress, error));
    EXPECT_EQ(error, "it was stopped");
    EXPECT_LT(progress.done, static_cast<std::size_t>(most) + 3);
  }
}

TEST(ServeDay, answers_are_kept_while_the_server_runs_and_in_its_store) {
  constexpr std::size_t trains = 5;
  Diagnostics diagnostics;
  const auto read = read_day_of_library(tuesday, demo_of_days(), diagnostics);
  ASSERT_NE(read, nullptr);
  read->day.trains.resize(trains);
  const auto planned_twice = [&](const std::shared_ptr<KeptAnswers>& answers) {
    ASSERT_NE(answers, nullptr);
    for (const std::size_t planned : {trains, std::size_t{0}}) {
      const PlannedDay day = plan_day({.day = &read->day,
                                       .files = &read->once,
                                       .program_version = "0",
                                       .answers = answers.get()});
      EXPECT_EQ(day.planned, planned);
      EXPECT_EQ(day.kept, trains - planned);
    }
  };
  std::string warned;
  const auto warn = [&warned](const std::string& text) { warned += text; };
  planned_twice(open_answers(std::nullopt, warn));
  EXPECT_EQ(warned, "");

  const std::string folder = testing::TempDir() + "panup_serve_day";
  std::filesystem::remove_all(folder);
  planned_twice(open_answers(folder + "/kept.sqlite", warn));
  EXPECT_EQ(warned, "");
  EXPECT_GT(std::filesystem::file_size(folder + "/kept.sqlite"), 10'000);

  // What cannot be a store is said, and hinders nothing.
  planned_twice(open_answers(std::string(PANUP_DATA_FOLDER) + "/demo/days/tuesday.toml", warn));
  EXPECT_NE(warned.find("it is no store of panup; the answers of days are kept while the server"),
            std::string::npos)
      << warned;
}

TEST(ServeDay, what_is_wrong_with_a_day_is_said_before_it_is_planned) {
  const WorkPlace place = place_without_store();
  for (const auto& [day, what_if, text] :
       {std::tuple{"days/none.toml", "", "there is no such file"},
        {"trains/t03-petrol.toml", "", "of kind \"train\""},
        {tuesday, "days/none.toml", "there is no such file"},
        {tuesday, "conditions/fair-day.toml", "of kind \"conditions\""},
        {"days/none.toml", "days/what-if/ice-warning.toml", "there is no such file"}}) {
    Diagnostics diagnostics;
    EXPECT_FALSE(std::string_view(what_if).empty()
                     ? day_work({.day = day}, place, diagnostics)
                     : what_if_work({.day = day, .what_if = what_if}, place, diagnostics));
    ASSERT_FALSE(diagnostics.empty()) << day << what_if;
    EXPECT_NE(diagnostics[0].text.find(text), std::string::npos) << diagnostics[0].text;
  }
}

TEST(ServeDay, books_of_the_server_come_first_and_once) {
  PlanningPlace place = demo_of_days();
  const std::string book = std::string(PANUP_DATA_FOLDER) + "/demo/rules/nordvale-freight.toml";
  place.rules = {book};
  Diagnostics diagnostics;
  const auto once = read_day_of_library(tuesday, place, diagnostics);
  ASSERT_NE(once, nullptr);
  ASSERT_EQ(once->day.rules.size(), 1);
  EXPECT_EQ(once->day.rules[0].path, book);

  const std::string other = std::string(PANUP_DATA_FOLDER) + "/demo/rules/winter-supplement.toml";
  place.rules = {other};
  const auto both = read_day_of_library(tuesday, place, diagnostics);
  ASSERT_NE(both, nullptr);
  ASSERT_EQ(both->day.rules.size(), 2);
  EXPECT_EQ(both->day.rules[0].path, other);
}

TEST(ServeDay, a_day_is_shown_as_its_file_says_or_what_is_wrong_with_it) {
  const PlanningPlace place = demo_of_days();
  const Reply day = reply_to_day(tuesday, place);
  EXPECT_EQ(day.status, status_done);
  EXPECT_EQ(nlohmann::json::parse(day.body).at("trains").size(), 40);
  EXPECT_EQ(reply_to_day("../tuesday.toml", place).status, status_malformed);
  EXPECT_EQ(reply_to_day("days/none.toml", place).status, status_not_found);
  EXPECT_EQ(reply_to_day("rules/nordvale-freight.toml", place).status, status_mistakes);
}

}  // namespace
}  // namespace panup
