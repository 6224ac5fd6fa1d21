/// Files that are right by themselves and wrong together.

#include <gtest/gtest.h>

#include <algorithm>

#include "bad_input_cases.h"
#include "files/read_conditions.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_train.h"
#include "plan/make_plan.h"

namespace panup {

namespace {

constexpr std::string_view operator_book = R"(kind = "rule book"
name = "Operator"
[[rule]]
id = "ice-speed"
speed_kmh = 60
[[rule]]
id = "single-strip-speed"
speed_kmh = 40
[[rule]]
id = "change-while-lowered"
lowering_speed_kmh = 80
raising_speed_kmh = 70
)";

struct Texts {
  std::string train{right_text(FileKind::train)};
  std::string route{right_text(FileKind::route)};
  std::string conditions{right_text(FileKind::conditions)};
  std::string book{operator_book};
};

void replace_once(std::string& text, std::string_view what, std::string_view by) {
  const std::size_t at = text.find(what);
  ASSERT_NE(at, std::string::npos) << what;
  text.replace(at, what.size(), by);
}

std::string lines_of(Diagnostics diagnostics) {
  sort_by_place(diagnostics);
  std::string lines;
  for (const Diagnostic& diagnostic : diagnostics) {
    lines += to_line(diagnostic) + "\n";
  }
  return lines;
}

std::string cross_checked(const Texts& texts) {
  Diagnostics diagnostics;
  const Stock stock = read_stock(
      {{.file = "stock.toml", .text = std::string(right_text(FileKind::stock))}}, diagnostics);
  const auto train = read_train({.file = "train.toml", .text = texts.train}, stock, diagnostics);
  const auto route = read_route({.file = "route.toml", .text = texts.route}, diagnostics);
  const auto conditions = read_conditions({.file = "day.toml", .text = texts.conditions},
                                          route ? &*route : nullptr, diagnostics);
  const auto book =
      add_rule_book(built_in_rule_book(), {.file = "book.toml", .text = texts.book}, diagnostics);
  if (!diagnostics.empty() || !train || !route || !conditions || !book) {
    ADD_FAILURE() << "not right by itself: " << lines_of(diagnostics);
    return {};
  }
  return lines_of(cross_check({.train = *train,
                               .route = *route,
                               .conditions = *conditions,
                               .rules = *book,
                               .speed_from = SpeedFrom::tables,
                               .mechanics = {},
                               .computed_speeds = nullptr,
                               .jobs = 1}));
}

TEST(BetweenFiles, RightOnesGiveNoMistake) { EXPECT_EQ(cross_checked({}), ""); }

TEST(BetweenFiles, IceNeedsAnIceSpeed) {
  Texts texts;
  replace_once(texts.book, "[[rule]]\nid = \"ice-speed\"\nspeed_kmh = 60\n", "");
  EXPECT_EQ(cross_checked(texts),
            "day.toml:1:1: the contact wire is iced, but rule 'ice-speed' states no ice speed; add "
            "a [[rule]] with id = \"ice-speed\" and speed_kmh to the operator's rule book\n");
}

TEST(BetweenFiles, IceNeedsTheIceRuleInForce) {
  Texts texts;
  replace_once(texts.book, "speed_kmh = 60", "speed_kmh = 60\non = false");
  EXPECT_EQ(cross_checked(texts),
            "day.toml:1:1: the contact wire is iced, but no rule of kind 'ice-speed' is in force; "
            "turn it on and give it a speed_kmh in a rule book\n");
}

TEST(BetweenFiles, IceLiesOnTheRoute) {
  Texts texts;
  replace_once(texts.conditions, "from_km = 4, to_km = 7", "from_km = 30, to_km = 40");
  EXPECT_EQ(cross_checked(texts),
            "day.toml:1:1: ice from km 30 to 40 lies outside the route, which runs from km 0 to "
            "20\n");
}

TEST(BetweenFiles, ConsentsNameSectionsOfTheRoute) {
  Texts texts;
  replace_once(texts.train, "sections = [\"a1\"]", "sections = [\"a1\", \"a9\"]");
  EXPECT_EQ(cross_checked(texts),
            "train.toml:25:1: consent 'NV-1' names section 'a9', which the route does not have\n");
}

TEST(BetweenFiles, AConsentByRuleIsForOneThatAsksForConsent) {
  Texts texts;
  replace_once(texts.train, "number = 2\ndistance_m = 7.5\nspeed_kmh = 60", "rule = \"ice-speed\"");
  EXPECT_EQ(cross_checked(texts),
            "train.toml:25:1: consent 'NV-1' is for the rule 'ice-speed'; a consent can be for "
            "\"separation-unknown\", \"coasting\" or \"standing-at-a-stop\"\n");
  replace_once(texts.train, "\"ice-speed\"", "\"coasting\"");
  EXPECT_EQ(cross_checked(texts), "");
}

TEST(BetweenFiles, LoweringNeedsItsSpeeds) {
  Texts texts;
  replace_once(texts.book, "lowering_speed_kmh = 80\nraising_speed_kmh = 70\n", "on = true\n");
  const std::string said = cross_checked(texts);
  const std::string begin =
      "route.toml:33:1: 'Border' is passed with pantographs down, but rule 'change-while-lowered' "
      "states no ";
  EXPECT_NE(said.find(begin + "lowering_speed_kmh"), std::string::npos) << said;
  EXPECT_NE(said.find(begin + "raising_speed_kmh"), std::string::npos) << said;
  EXPECT_EQ(std::count(said.begin(), said.end(), '\n'), 2) << said;
}

TEST(BetweenFiles, SingleStripsNeedTheirSpeed) {
  Texts texts;
  replace_once(texts.train, "[[consent]]",
               "[[consist]]\nvehicle = \"m10\"\nleading_cab = 2\n\n[[consent]]");
  EXPECT_EQ(cross_checked(texts), "");
  replace_once(texts.book, "speed_kmh = 40", "on = true");
  EXPECT_EQ(cross_checked(texts).find("train.toml:25:1: vehicle 2 has single-strip pantographs, "
                                      "but rule 'single-strip-speed' states no speed"),
            0U)
      << cross_checked(texts);
}

TEST(BetweenFiles, TheRouteDoesNotEndWithPantographsDown) {
  Texts texts;
  replace_once(texts.route, "from_km = 15\nto_km = 15.3", "from_km = 19\nto_km = 20");
  EXPECT_EQ(cross_checked(texts),
            "route.toml:42:1: 'Gantry' is passed with pantographs down, so the route can neither "
            "begin nor end in it\n");
}

TEST(BetweenFiles, MoreWorkingVehiclesThanCanBePlannedAreRefused) {
  Texts texts;
  std::string more;
  for (int i = 0; i < 10; ++i) {
    more += "[[consist]]\nvehicle = \"m10\"\nleading_cab = 1\n\n";
  }
  replace_once(texts.train, "[[consent]]", more + "[[consent]]");
  EXPECT_EQ(cross_checked(texts),
            "train.toml:1:1: 11 working vehicles; at most 10 can be planned\n");
}

}  // namespace

}  // namespace panup
