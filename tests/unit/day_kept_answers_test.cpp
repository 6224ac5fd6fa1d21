/// Answers that are kept: found while every file is as it was, and not when anything is another.

#include <gtest/gtest.h>
#include <sqlite3.h>

#include <filesystem>
#include <fstream>
#include <map>

#include "base/sha256.h"
#include "day/kept_answers.h"
#include "day/outcome_json.h"
#include "render/plan_json.h"
#include "render/run_json.h"
#include "runs/bytes.h"
#include "runs/statement.h"
#include "sample_plan.h"

namespace panup {
namespace {

class KeptAnswersTest : public testing::Test {
 protected:
  KeptAnswersTest() {
    std::filesystem::create_directories(folder);
    plan.inputs = {{"train", "t.toml", sha256_hex("t")}, {"route", "r.toml", sha256_hex("r")}};
  }
  ~KeptAnswersTest() override { std::filesystem::remove_all(folder); }
  KeptAnswersTest(const KeptAnswersTest&) = delete;
  KeptAnswersTest& operator=(const KeptAnswersTest&) = delete;

  KeptAnswers open() {
    auto opened = KeptAnswers::open(path);
    EXPECT_TRUE(std::holds_alternative<KeptAnswers>(opened)) << std::get<std::string>(opened);
    return std::move(std::get<KeptAnswers>(opened));
  }
  void keep(const std::vector<std::string>& not_there = {}) {
    KeptAnswers answers = open();
    answers.add(key, as_run(plan), outcome_of(plan), reading_of(plan, not_there));
    EXPECT_EQ(answers.failure(), "");
  }
  bool found(const std::string& under = key) {
    FilesReadOnce files(source);
    KeptAnswers answers = open();
    const auto outcome = answers.find(under, files);
    EXPECT_TRUE(!outcome || outcome_to_json(*outcome) == outcome_to_json(outcome_of(plan)));
    return outcome.has_value();
  }
  void execute(const std::string& sql) {
    sqlite3* database = nullptr;
    ASSERT_EQ(sqlite3_open(path.c_str(), &database), SQLITE_OK);
    EXPECT_EQ(sqlite3_exec(database, sql.c_str(), nullptr, nullptr, nullptr), SQLITE_OK)
        << sqlite3_errmsg(database);
    sqlite3_close(database);
  }

  static inline const std::string key = std::string(32, 'k');
  const std::filesystem::path folder =
      std::filesystem::path(testing::TempDir()) / "panup-kept-answers";
  const std::string path = (folder / "store.sqlite").string();
  Plan plan = sample_plan();
  std::map<std::string, std::string> texts{{"t.toml", "t"}, {"r.toml", "r"}};
  const FileSource source{
      .load = [this](const std::string& of, Diagnostics&) -> std::optional<SourceText> {
        const auto text = texts.find(of);
        return text == texts.end() ? std::nullopt : std::optional(SourceText{of, text->second});
      },
      .has = [this](const std::string& of) { return texts.contains(of); }};
};

TEST_F(KeptAnswersTest, OfAWayInPartsTheFilesOfEveryPartCountAndItsPlanIsThatOfTheRun) {
  RunPlan run{.id = "r", .name = "R", .route_name = "W", .parts = {plan, plan}};
  run.parts[1].inputs.push_back({"contact line", "l.toml", sha256_hex("l")});
  texts["l.toml"] = "l";
  KeptAnswers answers = open();
  answers.add(key, run, outcome_of(run), reading_of(run, {}));
  const auto is_found = [&] {
    FilesReadOnce files(source);
    return answers.find(key, files).has_value();
  };
  EXPECT_TRUE(is_found());
  EXPECT_EQ(answers.plan_of(key), run_to_json(run).dump());
  texts["l.toml"] = "other";
  EXPECT_FALSE(is_found());
}

TEST_F(KeptAnswersTest, AnAnswerIsFoundWhileItsFilesAreAsTheyWere) {
  EXPECT_FALSE(found());
  keep();
  EXPECT_TRUE(found());
  EXPECT_FALSE(found(std::string(32, 'x')));
  texts["r.toml"] = "other";
  EXPECT_FALSE(found());
  texts["r.toml"] = "r";
  EXPECT_TRUE(found());
  texts.erase("t.toml");
  EXPECT_FALSE(found());
}

TEST_F(KeptAnswersTest, AFileThatWasNotThereAndIsNowEndsIt) {
  keep({"line.toml"});
  EXPECT_TRUE(found());
  texts["line.toml"] = "";
  EXPECT_FALSE(found());
}

TEST_F(KeptAnswersTest, AnAnswerOfAnotherProgramDoesNotCount) {
  keep();
  // Its checksum is right: it was kept by a program that is another.
  sqlite3* database = nullptr;
  ASSERT_EQ(sqlite3_open(path.c_str(), &database), SQLITE_OK);
  {
    Statement select(database, "SELECT answer FROM answer");
    ASSERT_EQ(select.step(), SQLITE_ROW);
    ByteWriter whole;
    whole.text(key);
    whole.text("another");
    whole.text(select.bytes(0));
    Sha256 digest;
    digest.add(whole.bytes());
    select.reset();
    Statement update(database, "UPDATE answer SET program = 'another', checksum = ?");
    update.bind_bytes(1, digest.result());
    EXPECT_TRUE(update.run());
  }
  sqlite3_close(database);
  EXPECT_FALSE(found());
}

TEST_F(KeptAnswersTest, BytesThatWereChangedAreNotHandedOut) {
  keep();
  execute(
      "UPDATE answer SET answer = CAST(replace(CAST(answer AS TEXT), '\"orders\":', "
      "'\"orders\":1') AS BLOB)");
  EXPECT_FALSE(found());
  keep();
  EXPECT_TRUE(found());
  KeptAnswers answers = open();
  EXPECT_TRUE(answers.plan_of(key));
  execute("UPDATE answer SET plan = zeroblob(length(plan))");
  EXPECT_FALSE(answers.plan_of(key));
  EXPECT_TRUE(found()) << "the plan is not looked at for the table";
}

TEST_F(KeptAnswersTest, ThePlanIsKeptAsItsJson) {
  keep();
  EXPECT_EQ(open().plan_of(key), plan_to_json(plan).dump());
}

TEST_F(KeptAnswersTest, ALaterAnswerTakesThePlaceOfTheEarlierOne) {
  keep();
  plan.train.name = "Another";
  keep();
  EXPECT_TRUE(found());
  EXPECT_EQ(open().plan_of(key), plan_to_json(plan).dump());
}

TEST_F(KeptAnswersTest, WhatIsAnotherWaySinceItWasShownIsTold) {
  const TrainShown train{std::string(32, 't'), key};
  keep();
  EXPECT_FALSE(open().since_shown(train)) << "nothing was shown yet";
  open().note_shown({train});
  EXPECT_FALSE(open().since_shown(train)) << "it is the same";
  plan.train.name = "Another";
  keep();
  const auto since = open().since_shown(train);
  ASSERT_TRUE(since);
  EXPECT_EQ(since->shown.outcome.train_name, sample_plan().train.name);
  EXPECT_EQ(since->now.outcome.train_name, "Another");
  EXPECT_EQ(since->now.reading.card.size(), reading_of(plan, {}).card.size());
  EXPECT_FALSE(open().since_shown({std::string(32, 'u'), key})) << "of another train";
  EXPECT_FALSE(open().since_shown({train.train, std::string(32, 'x')})) << "not kept";
  open().note_shown({train});
  EXPECT_FALSE(open().since_shown(train)) << "it has been shown";
}

TEST_F(KeptAnswersTest, WhatWasShownIsNotTakenFromDamagedBytes) {
  const TrainShown train{std::string(32, 't'), key};
  for (const char* const table : {"shown_answer", "answer"}) {
    plan = sample_plan();
    keep();
    open().note_shown({train});
    plan.train.name = "Another";
    keep();
    EXPECT_TRUE(open().since_shown(train));
    execute(
        "UPDATE " + std::string(table) +
        " SET answer = CAST(replace(CAST(answer AS TEXT), '\"orders\":', '\"orders\":1') AS BLOB)");
    EXPECT_FALSE(open().since_shown(train)) << table;
  }
}

TEST(KeyOfATrain, DiffersByDayNumberAndWhatTheSpeedIsFrom) {
  const std::string key = key_of_train("d", "2031-05-13", "1", SpeedFrom::tables, {});
  EXPECT_EQ(key, key_of_train("d", "2031-05-13", "1", SpeedFrom::tables, {}));
  EXPECT_NE(key, key_of_train("e", "2031-05-13", "1", SpeedFrom::tables, {}));
  EXPECT_NE(key, key_of_train("d", "2031-05-14", "1", SpeedFrom::tables, {}));
  EXPECT_NE(key, key_of_train("d", "2031-05-13", "2", SpeedFrom::tables, {}));
  EXPECT_NE(key, key_of_train("d", "2031-05-13", "1", SpeedFrom::both, {}));
  EXPECT_NE(key, key_of_train("d", "2031-05-13", "1", SpeedFrom::tables, built_in_words("de")));
}

TEST_F(KeptAnswersTest, SomeOtherFileIsRefusedAndLeftAsItIs) {
  std::ofstream(path) << "not a store";
  EXPECT_TRUE(std::holds_alternative<std::string>(KeptAnswers::open(path)));
  std::ifstream file(path);
  EXPECT_EQ(std::string(std::istreambuf_iterator<char>(file), {}), "not a store");
}

TEST(KeyOfAnAnswer, DiffersByAllThatIsAsked) {
  const PlanPaths paths{
      .train = "t",
      .route = "r",
      .conditions = "c",
      .rules = {"b"},
      .consents = {"d"},
      .defects = {"e"},
      .run = TrainRun{.number = "1", .date = "2031-05-13", .vehicles = {"v"}, .place = {}}};
  const std::string key = key_of(paths, SpeedFrom::tables);
  EXPECT_EQ(key.size(), 32U);
  EXPECT_EQ(key_of(paths, SpeedFrom::tables), key);
  EXPECT_NE(key_of(paths, SpeedFrom::both), key);
  const auto other = [&](auto&& change) {
    PlanPaths changed = paths;
    change(changed);
    EXPECT_NE(key_of(changed, SpeedFrom::tables), key);
  };
  other([](PlanPaths& one) { one.train = "x"; });
  other([](PlanPaths& one) { one.words = built_in_words("de"); });
  other([](PlanPaths& one) { one.route = "x"; });
  other([](PlanPaths& one) { one.conditions = "x"; });
  other([](PlanPaths& one) { one.rules = {}; });
  other([](PlanPaths& one) { one.consents = {"d", "f"}; });
  other([](PlanPaths& one) { one.defects = {"x"}; });
  other([](PlanPaths& one) { one.run->number = "2"; });
  other([](PlanPaths& one) { one.run->date = "2031-05-14"; });
  other([](PlanPaths& one) { one.run->vehicles = {"w"}; });
}

}  // namespace
}  // namespace panup
