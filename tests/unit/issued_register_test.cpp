/// The register of issued cards: numbers that count up, nothing that can be changed, damage that is
/// found, processes that are killed or issue at once.

#include <gtest/gtest.h>
#include <sqlite3.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <thread>

#include "base/sha256.h"
#include "day/kept_answers.h"
#include "day/outcome_json.h"
#include "day/reading_bytes.h"
#include "issued/issued_table.h"
#include "sample_plan.h"
#include "wording/office_data.h"

namespace panup {
namespace {

constexpr const char* day_issued = "2031-05-13";

NewIssue new_issue(const std::string& to = "Desk", const std::string& card = "%PDF card") {
  Plan plan = sample_plan();
  return {.handed_out = {.at = "2031-05-12T03:10:00Z", .to = to, .made_by = "A. Maker"},
          .different = {"km 1.0–2.0: 80 km/h instead of 100."},
          .inputs = {{"train", "t.toml", std::string(64, 'a')}},
          .program_version = "1.2.3",
          .plan = {.outcome = outcome_of(plan),
                   .reading = reading_of(plan, {}),
                   .plan_json = R"({"train": "t"})",
                   .card_pdf = card}};
}

/// Made ready to come after what is the last issue by now.
ReadyIssue ready_by_now(IssueRegister& issues, const std::string& number,
                        NewIssue made = new_issue(), const std::string& day = day_issued) {
  const auto last = issues.last(number, day);
  EXPECT_TRUE(std::holds_alternative<std::optional<LastIssue>>(last));
  const auto& known = std::get<std::optional<LastIssue>>(last);
  return ready_issue(number, day, known ? &*known : nullptr, std::move(made));
}

AddedIssues added_to(IssueRegister& issues, const std::vector<ReadyIssue>& ready) {
  auto done = issues.add(ready);
  EXPECT_TRUE(std::holds_alternative<AddedIssues>(done)) << std::get<std::string>(done);
  return std::get<AddedIssues>(done);
}

class IssueRegisterTest : public testing::Test {
 protected:
  IssueRegisterTest() { std::filesystem::create_directories(folder); }
  ~IssueRegisterTest() override { std::filesystem::remove_all(folder); }
  IssueRegisterTest(const IssueRegisterTest&) = delete;
  IssueRegisterTest& operator=(const IssueRegisterTest&) = delete;

  IssueRegister open() const {
    auto opened = IssueRegister::open(path);
    EXPECT_TRUE(std::holds_alternative<IssueRegister>(opened)) << std::get<std::string>(opened);
    return std::move(std::get<IssueRegister>(opened));
  }
  Issue add(const std::string& number, const std::string& to = "Desk",
            const std::string& day = day_issued) const {
    IssueRegister issues = open();
    return added_to(issues, {ready_by_now(issues, number, new_issue(to), day)}).issues.at(0);
  }
  std::vector<Issue> issues() const {
    auto all = open().issues();
    EXPECT_TRUE(std::holds_alternative<std::vector<Issue>>(all)) << std::get<std::string>(all);
    return std::get<std::vector<Issue>>(all);
  }
  /// What the database answers to a statement; empty where it does it.
  std::string executed(const std::string& sql) const {
    sqlite3* database = nullptr;
    EXPECT_EQ(sqlite3_open(path.c_str(), &database), SQLITE_OK);
    const bool done = sqlite3_exec(database, sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK;
    std::string answer = done ? std::string() : sqlite3_errmsg(database);
    sqlite3_close(database);
    return answer;
  }
  /// As somebody would who has the file and means it.
  void tamper(const std::string& sql) const {
    ASSERT_EQ(executed("DROP TRIGGER nothing_is_changed; DROP TRIGGER nothing_is_deleted; DROP "
                       "TRIGGER all_in_order; " +
                       sql),
              "");
  }

  const std::filesystem::path folder =
      std::filesystem::path(testing::TempDir()) / ("panup-issued-" + std::to_string(::getpid()));
  const std::string path = (folder / "cards.sqlite").string();
};

TEST_F(IssueRegisterTest, CountsTheIssuesOfEachTrainAndDay) {
  EXPECT_EQ(add("1").number, 1);
  EXPECT_EQ(add("2").number, 1);
  EXPECT_EQ(add("1").number, 2);
  EXPECT_EQ(add("1", "Desk", "2031-05-14").number, 1);
  const std::vector<Issue> all = issues();
  ASSERT_EQ(all.size(), 4U);
  EXPECT_EQ(all[2].train_number, "1");
  EXPECT_EQ(all[2].place, 3);
  EXPECT_EQ(all[3].day, "2031-05-14");
}

TEST_F(IssueRegisterTest, GivesBackWhatWasIssued) {
  const Issue added = add("1", "Driver, room 4");
  const std::vector<Issue> all = issues();
  ASSERT_EQ(all.size(), 1U);
  const Issue& issue = all.front();
  EXPECT_EQ(issue.handed_out.to, "Driver, room 4");
  EXPECT_EQ(issue.handed_out.at, "2031-05-12T03:10:00Z");
  EXPECT_EQ(issue.handed_out.made_by, "A. Maker");
  EXPECT_EQ(issue.different, new_issue().different);
  ASSERT_EQ(issue.inputs.size(), 1U);
  EXPECT_EQ(issue.inputs[0].path, "t.toml");
  EXPECT_EQ(issue.inputs[0].sha256, std::string(64, 'a'));
  EXPECT_EQ(issue.card_sha256, sha256_hex("%PDF card"));
  EXPECT_EQ(issue.checksum, added.checksum);
  IssueRegister issues = open();
  EXPECT_EQ(issues.card_of(issue).bytes, "%PDF card");
  EXPECT_EQ(issues.plan_of(issue).bytes, R"({"train": "t"})");
  auto last = issues.last("1", day_issued);
  const auto& found = std::get<std::optional<LastIssue>>(last);
  ASSERT_TRUE(found);
  const NewIssue made = new_issue();
  EXPECT_EQ(outcome_to_json(found->outcome), outcome_to_json(made.plan.outcome));
  EXPECT_EQ(reading_to_bytes(found->reading), reading_to_bytes(made.plan.reading));
  auto none = issues.last("2", day_issued);
  EXPECT_FALSE(std::get<std::optional<LastIssue>>(none));
}

TEST_F(IssueRegisterTest, AddsNothingWhereAnotherIssueCameMeanwhile) {
  add("1");
  IssueRegister issues = open();
  const std::vector<ReadyIssue> ready{ready_by_now(issues, "2"), ready_by_now(issues, "1"),
                                      ready_by_now(issues, "3")};
  EXPECT_EQ(ready[1].issue.number, 2);
  add("1", "Somebody else");
  add("3", "Somebody else");
  const AddedIssues added = added_to(issues, ready);
  EXPECT_EQ(added.overtaken, (std::vector<std::size_t>{1, 2}));
  EXPECT_TRUE(added.issues.empty());
  EXPECT_EQ(this->issues().size(), 3U) << "neither of those, nor the one that was not overtaken";
  EXPECT_EQ(this->issues().back().handed_out.to, "Somebody else");
}

TEST_F(IssueRegisterTest, AddsNothingBehindAnIssueOfAnotherRegister) {
  add("1", "Desk");
  IssueRegister issues = open();
  const std::vector<ReadyIssue> ready{ready_by_now(issues, "1")};
  std::filesystem::remove(path);
  add("1", "Another desk");
  IssueRegister other = open();
  EXPECT_EQ(added_to(other, ready).overtaken.size(), 1U) << "it has the number, and is not the one";
}

TEST_F(IssueRegisterTest, KeepsAllOfSeveralOrNone) {
  IssueRegister issues = open();
  // The same train twice: the second does not come after what is the last one then.
  const std::vector<ReadyIssue> twice{ready_by_now(issues, "1"), ready_by_now(issues, "1")};
  EXPECT_EQ(added_to(issues, twice).overtaken, std::vector<std::size_t>{1});
  EXPECT_TRUE(this->issues().empty());
  const AddedIssues both = added_to(issues, {ready_by_now(issues, "1"), ready_by_now(issues, "2")});
  EXPECT_EQ(both.issues.size(), 2U);
  EXPECT_EQ(both.issues[1].place, 2);
  EXPECT_EQ(this->issues().size(), 2U);
}

TEST_F(IssueRegisterTest, LetsNobodyChangeOrDelete) {
  add("1");
  add("2");
  const std::string before = issues().back().checksum;
  EXPECT_EQ(executed("UPDATE issue SET issued_to = 'nobody'"), "issued cards are not changed");
  EXPECT_EQ(executed("DELETE FROM issue WHERE place = 2"), "issued cards are not deleted");
  EXPECT_EQ(executed("INSERT OR REPLACE INTO issue SELECT * FROM issue WHERE place = 2"),
            "issued cards are added in order");
  for (const char* const wrong :
       {"place + 2, train_number, day, 7", "place + 5, train_number, day, 2"}) {
    EXPECT_EQ(executed("INSERT INTO issue SELECT " + std::string(wrong) +
                       ", issued_at, issued_to, made_by, checked_by, released_by, holds_until, "
                       "train_name, route_name, decision, answer, different, inputs, program, "
                       "compared_sha256, plan_sha256, card_sha256, checksum, compared, plan, card "
                       "FROM issue WHERE place = 1"),
              "issued cards are added in order")
        << wrong;
  }
  EXPECT_EQ(issues().back().checksum, before);
}

TEST_F(IssueRegisterTest, FindsWhatWasTamperedWith) {
  for (const char* const sql :
       {"UPDATE issue SET issued_to = 'nobody' WHERE place = 2",
        "UPDATE issue SET number = 4 WHERE place = 2",
        "UPDATE issue SET inputs = '[]' WHERE place = 2",
        "UPDATE issue SET card_sha256 = plan_sha256 WHERE place = 2",
        "DELETE FROM issue WHERE place = 2",
        "DELETE FROM issue WHERE place = 2; UPDATE issue SET place = 2 WHERE place = 3"}) {
    std::filesystem::remove(path);
    add("1");
    add("2");
    add("3");
    tamper(sql);
    auto all = open().issues();
    ASSERT_TRUE(std::holds_alternative<std::string>(all)) << sql;
    EXPECT_NE(std::get<std::string>(all).find("put in at place 2"), std::string::npos)
        << std::get<std::string>(all);
    EXPECT_EQ(open().damage().size(), 1U) << sql;
  }
}

TEST_F(IssueRegisterTest, FindsLargePartsThatWereTamperedWith) {
  for (const char* const column : {"card", "plan", "compared"}) {
    std::filesystem::remove(path);
    const Issue issue = add("1");
    EXPECT_TRUE(open().damage().empty());
    tamper("UPDATE issue SET " + std::string(column) + " = 'other'");
    const std::vector<std::string> damage = open().damage();
    ASSERT_EQ(damage.size(), 1U) << column;
    EXPECT_NE(damage[0].find(std::string(column) + " of issue 1 for train 1"), std::string::npos)
        << damage[0];
    EXPECT_EQ(open().card_of(issue).wrong.empty(), std::string(column) != "card");
    EXPECT_EQ(open().plan_of(issue).wrong.empty(), std::string(column) != "plan");
    const auto last = open().last("1", day_issued);
    EXPECT_EQ(std::holds_alternative<std::string>(last), std::string(column) == "compared");
  }
}

TEST_F(IssueRegisterTest, IssuesNothingBehindAnIssueThatWasTamperedWith) {
  add("1");
  IssueRegister issues = open();
  const std::vector<ReadyIssue> ready{ready_by_now(issues, "1")};
  tamper("UPDATE issue SET issued_to = 'nobody'");
  EXPECT_TRUE(std::holds_alternative<std::string>(issues.last("1", day_issued)));
  EXPECT_TRUE(std::holds_alternative<std::string>(issues.add(ready)))
      << "also where it was made before";
}

TEST_F(IssueRegisterTest, TakesNoOtherFileForARegister) {
  std::ofstream(path) << "a letter";
  EXPECT_EQ(std::get<std::string>(IssueRegister::open(path)),
            "register of issued cards " + path + ": it is no register of issued cards of panup");
  std::filesystem::remove(path);
  ASSERT_TRUE(std::holds_alternative<KeptAnswers>(KeptAnswers::open(path)));
  EXPECT_NE(std::get<std::string>(IssueRegister::open(path)).find("it is no register"),
            std::string::npos)
      << "a store of runs may be cleared, a register never";
  std::filesystem::remove(path);
  add("1");
  EXPECT_NE(std::get<std::string>(KeptAnswers::open(path)).find("it is no store of panup"),
            std::string::npos);
}

TEST_F(IssueRegisterTest, LeavesTheWholeIssueOrNoneWhereAProcessIsKilled) {
  constexpr int rounds = 15;
  std::size_t told = 0;
  open();
  for (int round = 0; round < rounds; ++round) {
    std::array<int, 2> ends{};
    ASSERT_EQ(::pipe(ends.data()), 0);
    const pid_t child = ::fork();
    if (child == 0) {
      IssueRegister issues = open();
      for (int i = 0;; ++i) {
        added_to(issues, {ready_by_now(issues, std::to_string(i % 3),
                                       new_issue("Desk", std::string(200'000, 'c')))});
        if (::write(ends[1], "i", 1) != 1) {
          ::_exit(1);
        }
      }
    }
    char one = 0;
    for (int i = 0; i <= round % 3; ++i) {
      ASSERT_EQ(::read(ends[0], &one, 1), 1);
      ++told;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(round));
    ::kill(child, SIGKILL);
    ::waitpid(child, nullptr, 0);
    ::close(ends[1]);
    while (::read(ends[0], &one, 1) == 1) {
      ++told;
    }
    ::close(ends[0]);
    EXPECT_TRUE(open().damage().empty());
    // One may have been kept and not told of.
    EXPECT_GE(issues().size(), told);
    EXPECT_LE(issues().size(), told + static_cast<std::size_t>(round) + 1);
  }
}

TEST_F(IssueRegisterTest, GivesNoNumberTwiceWhereProcessesIssueAtOnce) {
  constexpr int processes = 4;
  constexpr int each = 10;
  std::vector<pid_t> children;
  open();
  for (int i = 0; i < processes; ++i) {
    const pid_t child = ::fork();
    if (child == 0) {
      IssueRegister issues = open();
      for (int n = 0; n < each;) {
        const auto added = issues.add(std::vector<ReadyIssue>{ready_by_now(issues, "1")});
        if (std::holds_alternative<std::string>(added)) {
          ::_exit(1);
        }
        n += std::get<AddedIssues>(added).issues.empty() ? 0 : 1;  // else overtaken: once more
      }
      ::_exit(0);
    }
    children.push_back(child);
  }
  for (const pid_t child : children) {
    int status = 0;
    ::waitpid(child, &status, 0);
    EXPECT_EQ(status, 0);
  }
  const std::vector<Issue> all = issues();
  ASSERT_EQ(all.size(), static_cast<std::size_t>(processes * each));
  for (std::size_t i = 0; i < all.size(); ++i) {
    EXPECT_EQ(all[i].number, static_cast<int>(i) + 1);
  }
  EXPECT_TRUE(open().damage().empty());
}

LastIssue last_of(const Plan& plan) {
  return {.issue = {}, .outcome = outcome_of(plan), .reading = reading_of(plan, {})};
}

CardValidity standing_with(const LastIssue& last, const Plan& now, const std::string& today) {
  // As it is asked for: in the language of the plan now.
  const TrainOutcome outcome = outcome_of(now);
  const TrainReading reading = reading_of(now, {});
  return standing_of(last, {.outcome = &outcome, .reading = &reading}, today, now.words);
}

TEST(ACardThatWasIssued, HoldsWhateverDecidesNothing) {
  const Plan plan = consent_plan();
  Plan now = plan;
  now.conditions.temperature_c = -3.5;
  now.inputs.push_back({"conditions", "other.toml", std::string(64, 'a')});
  now.program_version = "next";
  const CardValidity standing = standing_with(last_of(plan), now, day_issued);
  EXPECT_TRUE(standing.holds);
  EXPECT_TRUE(standing.why.empty());
}

TEST(ACardThatWasIssued, HoldsNoMoreWhereSomethingOnItIsAnother) {
  const Plan plan = consent_plan();
  Plan now = plan;
  now.sections.front().speed_kmh -= 10;
  now.sections.front().permitted_speed_kmh -= 10;
  const CardValidity standing = standing_with(last_of(plan), now, day_issued);
  EXPECT_FALSE(standing.holds);
  ASSERT_FALSE(standing.why.empty());
  EXPECT_NE(standing.why.front().find("instead of"), std::string::npos) << standing.why.front();
}

TEST(ACardThatWasIssued, HoldsNoMoreAfterItsLastDayOrWithoutAPlan) {
  const Plan plan = consent_plan();
  LastIssue last = last_of(plan);
  last.issue.handed_out.holds_until = day_issued;
  EXPECT_TRUE(standing_with(last, plan, day_issued).holds);
  EXPECT_EQ(standing_with(last, plan, "2031-05-14").why,
            std::vector<std::string>{"It held until 2031-05-13."});
  TrainOutcome none;
  none.decision = Decision::input_mistake;
  const CardValidity standing =
      standing_of(last, {.outcome = &none, .reading = nullptr}, day_issued);
  EXPECT_FALSE(standing.holds) << "it is not known to";
}

TEST(ACardThatWasIssued, IsNotHeldAgainstAPlanInAnotherLanguage) {
  LastIssue last = last_of(consent_plan());
  last.issue.handed_out.holds_until = day_issued;
  Plan now = consent_plan();
  now.words = built_in_words("de");
  const CardValidity standing = standing_with(last, now, day_issued);
  EXPECT_FALSE(standing.holds) << "it is not known to";
  EXPECT_TRUE(standing.in_another_language);
  EXPECT_FALSE(standing.change.card_again) << "texts of two languages are not compared";
  ASSERT_EQ(standing.why.size(), 1U);
  EXPECT_NE(standing.why.front().find("in der Sprache „en“"), std::string::npos)
      << standing.why.front();
  EXPECT_EQ(standing_with(last, now, "2031-05-14").why.size(), 2U) << "nor after its last day";
  EXPECT_TRUE(standing_with(last_of(now), now, day_issued).holds) << "in its own it is compared";
  TrainOutcome none;
  none.decision = Decision::input_mistake;
  EXPECT_FALSE(standing_of(last, {.outcome = &none, .reading = nullptr}, day_issued, now.words)
                   .in_another_language)
      << "without a plan there is nothing to compare";
}

TEST(ACardThatWasIssued, ShowsAFewDifferencesAndHowManyMore) {
  const Plan plan = consent_plan();
  Plan now = plan;
  for (PlannedSection& section : now.sections) {
    section.speed_kmh -= 1;
    section.permitted_speed_kmh -= 1;
  }
  now.instructions.clear();
  now.running_time_s += 100;
  now.contingencies.clear();
  const CardValidity standing = standing_with(last_of(plan), now, day_issued);
  ASSERT_EQ(standing.why.size(), 7U);
  EXPECT_TRUE(standing.why.back().starts_with("And ")) << standing.why.back();
}

TEST(ACardThatReplacesAnother, SaysSoInPlainWords) {
  Release release;
  release.issue = 3;
  EXPECT_EQ(replaces_words(release), "");
  release.replaces = ReplacedIssue{
      .issue = 2, .issued_on = "2026-05-02", .different = {"80 km/h instead of 100.", "Ice."}};
  EXPECT_EQ(replaces_words(release),
            "Issue 3. Replaces issue 2 of 2 May 2026. Different: 80 km/h instead of 100. Ice.");
  release.replaces->issued_on = "2026-12-31";
  EXPECT_NE(replaces_words(release).find("of 31 December 2026."), std::string::npos);
}

}  // namespace
}  // namespace panup
