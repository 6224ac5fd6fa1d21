/// Entries of rule books that were released for some days: in force on those, and on no other.

#include <gtest/gtest.h>

#include "base/validity.h"
#include "files/read_rule_book.h"

namespace panup {
namespace {

std::string entry(const std::string& id, const std::string& keys) {
  return "[[rule]]\nid = \"" + id + "\"\nsource = \"release\"\n" + keys + "\n";
}

struct ReadBook {
  std::optional<RuleBook> book;
  std::string said;

  double ice_kmh() const {
    return number_of(*find_rule(*book, "ice-speed"), "speed_kmh").value_or(0);
  }
};

/// A register of entries after the built-in book, in which the ice speed has no number.
ReadBook on(const std::optional<std::string>& day, const std::string& entries) {
  Diagnostics diagnostics;
  ReadBook read{
      .book = add_rule_book(built_in_rule_book(),
                            {.file = "released.toml",
                             .text = "kind = \"rule book\"\nname = \"Released\"\n" + entries},
                            day, diagnostics),
      .said = {}};
  for (const Diagnostic& diagnostic : diagnostics) {
    read.said += to_line(diagnostic) + "\n";
  }
  return read;
}

const std::string in_may = entry("ice-speed",
                                 "speed_kmh = 50\nreference = \"R-7\"\nvalid_from = 2031-05-01\n"
                                 "valid_until = 2031-05-31");

TEST(ReleasedRules, AreInForceFromTheirFirstDayToTheirLast) {
  for (const auto& [day, kmh] : {std::pair{"2031-04-30", 0}, std::pair{"2031-05-01", 50},
                                 std::pair{"2031-05-31", 50}, std::pair{"2031-06-01", 0}}) {
    const ReadBook read = on(day, in_may);
    ASSERT_TRUE(read.book) << read.said;
    EXPECT_EQ(read.ice_kmh(), kmh) << day;
    EXPECT_EQ(read.book->overrides.size(), kmh > 0 ? 1U : 0U) << day;
    ASSERT_EQ(read.book->released.size(), 1U);
    const ReleasedEntry& released = read.book->released.front();
    EXPECT_EQ(released.counts, kmh > 0) << day;
    EXPECT_EQ(released.id, "ice-speed");
    EXPECT_EQ(released.book, "Released");
    EXPECT_EQ(released.reference, "R-7");
    EXPECT_EQ(released.valid, (Validity{"2031-05-01", "2031-05-31"}));
  }
}

TEST(ReleasedRules, OneWithoutALastDayGoesOnAndOneWithoutAFirstHasAlwaysHeld) {
  const std::string from = entry("ice-speed", "speed_kmh = 50\nvalid_from = 2031-05-01");
  EXPECT_EQ(on("2099-01-01", from).ice_kmh(), 50);
  EXPECT_EQ(on("2031-04-30", from).ice_kmh(), 0);
  const std::string until = entry("ice-speed", "speed_kmh = 50\nvalid_until = 2031-05-31");
  EXPECT_EQ(on("1999-01-01", until).ice_kmh(), 50);
  EXPECT_EQ(on("2031-06-01", until).ice_kmh(), 0);
}

TEST(ReleasedRules, ARuleThatIsNewIsThereOnItsDaysOnly) {
  const std::string own =
      "[[rule]]\nid = \"works\"\nkind = \"speed-restriction\"\nstatement = \"s\"\nreason = "
      "\"r\"\nsource = \"q\"\nstanding = \"operator\"\nstrength = \"speed limit\"\nspeed_kmh = 30\n"
      "valid_from = 2031-05-13\nvalid_until = 2031-05-13\n";
  EXPECT_NE(find_rule(*on("2031-05-13", own).book, "works"), nullptr);
  EXPECT_EQ(find_rule(*on("2031-05-14", own).book, "works"), nullptr);
}

/// One may make stricter or laxer; so that not knowing the day there is no safe side.
TEST(ReleasedRules, WhereTheDayIsNotKnownIsAMistakeAtTheEntry) {
  const ReadBook read = on("", in_may);
  EXPECT_FALSE(read.book);
  EXPECT_EQ(read.said,
            "released.toml:8:14: rule 'ice-speed': it holds from 2031-05-01 to 2031-05-31, and the "
            "day is not known; state 'date' in [release] of the train file, or leave this book "
            "out\n");
  EXPECT_TRUE(on("", entry("ice-speed", "speed_kmh = 50")).book) << "it holds on every day";
}

TEST(ReleasedRules, InListsAndChecksNoneCountsAndItsMistakesAreTold) {
  EXPECT_EQ(on(std::nullopt, in_may).ice_kmh(), 0);
  for (const std::optional<std::string>& day :
       {std::optional<std::string>(), std::optional<std::string>("2031-12-24")}) {
    const ReadBook read = on(day, entry("ice-speed",
                                        "speed_kmh = -1\nvalid_from = 2031-05-01\nvalid_until = "
                                        "2031-05-31"));
    EXPECT_FALSE(read.book);
    EXPECT_NE(read.said.find("speed_kmh"), std::string::npos) << read.said;
  }
}

TEST(ReleasedRules, OneIdMayBeReleasedForSeveralTimesThatDoNotMeet) {
  const auto summer = [](const std::string& from) {
    return entry("ice-speed", "speed_kmh = 50\nvalid_until = 2031-05-31") +
           entry("ice-speed", "speed_kmh = 70\nvalid_from = " + from);
  };
  EXPECT_EQ(on("2031-05-31", summer("2031-06-01")).ice_kmh(), 50);
  EXPECT_EQ(on("2031-06-01", summer("2031-06-01")).ice_kmh(), 70);
  const ReadBook both = on("2031-12-24", summer("2031-05-31"));
  EXPECT_FALSE(both.book);
  EXPECT_NE(both.said.find("rule 'ice-speed' is released for some of the same days already, at "
                           "released.toml:3:1: it holds until 2031-05-31"),
            std::string::npos)
      << both.said;
}

TEST(ReleasedRules, AnEntryThatAlwaysHoldsStandsBesideNoneOfItsIdThatWasReleased) {
  const std::string always = entry("ice-speed", "speed_kmh = 60");
  for (const std::string& both : {always + in_may, in_may + always, always + always}) {
    for (const char* const day : {"2031-05-13", "2031-12-24"}) {
      const ReadBook read = on(day, both);
      EXPECT_FALSE(read.book);
      EXPECT_NE(read.said.find("id 'ice-speed' is used already, at released.toml:3:1"),
                std::string::npos)
          << read.said;
    }
  }
}

TEST(ReleasedRules, AReferenceWithoutAnyDayIsAMistake) {
  EXPECT_NE(on("2031-05-13", entry("ice-speed", "speed_kmh = 50\nreference = \"R-7\""))
                .said.find("'reference' is of a release for some days"),
            std::string::npos);
}

TEST(Day, IsOneOfTheCalendar) {
  for (const char* const day : {"2031-05-13", "2032-02-29", "0001-01-01"}) {
    EXPECT_TRUE(is_day(day)) << day;
  }
  for (const char* const none :
       {"2031-02-29", "2031-13-01", "2031-00-10", "2031-05-32", "2031-5-13", "2031-05-13 ",
        "13.05.2031", "", "2031x05-13", "2O31-05-13"}) {
    EXPECT_FALSE(is_day(none)) << none;
  }
}

}  // namespace
}  // namespace panup
