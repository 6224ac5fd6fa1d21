/// Files that are right by themselves and wrong together.

#include <gtest/gtest.h>

#include <algorithm>

#include "bad_input_cases.h"
#include "files/read_conditions.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_train.h"
#include "input_texts.h"
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

std::string cross_checked(const Texts& texts) {
  Diagnostics diagnostics;
  const Stock stock = read_stock(
      {{.file = "stock.toml", .text = std::string(right_text(FileKind::stock))}}, diagnostics);
  const auto train = read_train({.file = "train.toml", .text = texts.train}, stock, diagnostics);
  const auto route = read_route({.file = "route.toml", .text = texts.route}, diagnostics);
  const auto conditions = read_conditions({.file = "day.toml", .text = texts.conditions},
                                          route ? &*route : nullptr, diagnostics);
  const auto book = add_rule_book(built_in_rule_book(), {.file = "book.toml", .text = texts.book},
                                  std::nullopt, diagnostics);
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

/// An ice speed for classes, in place of the one for all.
std::string ice_speed_for(const std::string& limits) {
  return "[[rule]]\nid = \"ice-speed\"\nspeed_kmh = 60\nonly_for = { " + limits + " }\n";
}

TEST(BetweenFiles, EveryWorkingVehicleNeedsAnIceSpeed) {
  Texts texts;
  const std::string for_all = "[[rule]]\nid = \"ice-speed\"\nspeed_kmh = 60\n";
  replace_once(texts.book, for_all, ice_speed_for("classes = [\"k41\"]"));
  EXPECT_EQ(cross_checked(texts), "");
  replace_once(texts.train, "[[consent]]",
               "[[consist]]\nvehicle = \"m10\"\nleading_cab = 2\n\n[[consent]]");
  EXPECT_EQ(cross_checked(texts),
            "day.toml:1:1: the contact wire is iced on section 'a1', but no ice speed holds there "
            "for vehicle 2, a m10; state speed_kmh in a rule of kind 'ice-speed' that holds for "
            "it\n");
  replace_once(texts.book, "[\"k41\"]", "[\"k41\", \"m10\"]");
  EXPECT_EQ(cross_checked(texts), "");
  replace_once(texts.book, "[\"k41\", \"m10\"]", "[\"k41\"]");
  replace_once(texts.train, "vehicle = \"m10\"", "vehicle = \"m10\"\ndead_in_tow = true");
  EXPECT_EQ(cross_checked(texts), "") << "what is dead in tow asks for none";
}

TEST(BetweenFiles, AnIceSpeedForOtherSectionsOrLoadsIsNone) {
  const auto said_with = [](const std::string& limits) {
    Texts texts;
    replace_once(texts.book, "[[rule]]\nid = \"ice-speed\"\nspeed_kmh = 60\n",
                 ice_speed_for(limits));
    return cross_checked(texts);
  };
  const std::string uncovered =
      "day.toml:1:1: the contact wire is iced on section 'a1', but no ice";
  EXPECT_EQ(said_with("sections = [\"a1\", \"a2\"]"), "");
  EXPECT_EQ(said_with("sections = [\"a2\"]").find(uncovered), 0U);
  EXPECT_EQ(said_with("loads = [\"dangerous\"]"), "");
  EXPECT_EQ(said_with("loads = [\"sensitive\", \"ordinary\"]").find(uncovered), 0U);
}

TEST(BetweenFiles, AVehicleWithSingleStripsNeedsASpeedForThemThatHoldsForIt) {
  Texts texts;
  replace_once(texts.train, "[[consent]]",
               "[[consist]]\nvehicle = \"m10\"\nleading_cab = 2\n\n[[consent]]");
  replace_once(texts.book, "speed_kmh = 40", "speed_kmh = 40\nonly_for = { classes = [\"m10\"] }");
  EXPECT_EQ(cross_checked(texts), "");
  replace_once(texts.book, "[\"m10\"]", "[\"k41\"]");
  EXPECT_EQ(
      cross_checked(texts),
      "train.toml:25:1: vehicle 2, a m10, has single-strip pantographs, but on section 'a1' no "
      "speed for a single contact strip holds for it; state speed_kmh in a rule of kind "
      "'single-contact-speed' that holds for it\n");
}

TEST(BetweenFiles, ARuleForALineNeedsToKnowTheLineOfEverySection) {
  Texts texts;
  texts.book +=
      "[[rule]]\nid = \"snow-on-7\"\nkind = \"speed-restriction\"\nstatement = \"Snow.\"\n"
      "reason = \"Drifts.\"\nsource = \"invented\"\nstanding = \"operator\"\n"
      "strength = \"speed limit\"\nspeed_kmh = 80\nonly_for = { lines = [\"7\"] }\n";
  replace_once(texts.route, "id = \"a1\"\n", "id = \"a1\"\nline = \"7\"\n");
  EXPECT_EQ(cross_checked(texts),
            "route.toml:27:1: rule 'snow-on-7' is only for line 7, and section 'a2' does not say "
            "which line it belongs to; state its 'line'\n");
  replace_once(texts.route, "id = \"a2\"\n", "id = \"a2\"\nline = \"8\"\n");
  EXPECT_EQ(cross_checked(texts), "");
  replace_once(texts.route, "line = \"8\"\n", "");
  replace_once(texts.book, "lines = [\"7\"]", "lines = [\"7\"], loads = [\"sensitive\"]");
  EXPECT_EQ(cross_checked(texts), "") << "it holds for no such train anyway";
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

}  // namespace

}  // namespace panup
