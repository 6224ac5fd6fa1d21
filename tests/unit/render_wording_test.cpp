#include <gtest/gtest.h>

#include "base/capitals.h"
#include "drawing/text.h"
#include "wording/wording.h"

namespace panup {
namespace {

TEST(Wording, Chainages) {
  EXPECT_EQ(km_words(61.58), "61.580");
  EXPECT_EQ(km_brief(61.58), "61.58");
  EXPECT_EQ(km_brief(24), "24.0");
  EXPECT_EQ(km_range(0, 24.6), "0.0–24.6");
  EXPECT_EQ(km_list({{0, 24.6}, {61.7, 84.1}, {90, 91}}), "km 0.0–24.6, 61.7–84.1 and 90.0–91.0");
}

TEST(Wording, AStretchGoesOnWhereTheLastOneEnds) {
  std::vector<KmStretch> stretches;
  append(stretches, {0, 5});
  append(stretches, {5, 7});
  append(stretches, {8, 9});
  EXPECT_EQ(stretches, (std::vector<KmStretch>{{0, 7}, {8, 9}}));
}

TEST(Wording, Lists) {
  EXPECT_EQ(list_words(std::vector<PantographRef>{}), "none");
  EXPECT_EQ(list_words(std::vector<PantographRef>{{1, 1}, {2, 1}, {3, 2}}), "1.1, 2.1 and 3.2");
  EXPECT_EQ(either_words({{1, 1}, {2, 1}}), "1.1 or 2.1");
  EXPECT_EQ(with_up({{1, 1}}, {2, 3}), "1.1 up, vehicles 2 and 3 dead in tow");
}

TEST(Wording, AFindingIsLabelledByItsStrengthAndWhetherItIsKept) {
  EXPECT_EQ(label_of(Strength::prescribed, true), "as prescribed");
  EXPECT_EQ(label_of(Strength::prescribed, false), "not as prescribed");
  EXPECT_EQ(label_of(Strength::prescribed, std::nullopt), "prescribed");
  EXPECT_EQ(label_of(Strength::last_resort, false), "last resort");
}

TEST(Wording, AConsentSaysWhereAndWhenItHolds) {
  Consent consent;
  consent.reference = "NV-1";
  consent.given_by = "Nordvale Infrastructure";
  consent.rule = "coasting";
  EXPECT_EQ(consent_terms(consent), "NV-1 of Nordvale Infrastructure: rule coasting");
  consent.sections = {"a1", "a2"};
  consent.valid.from = "2031-05-01";
  EXPECT_EQ(consent_terms(consent),
            "NV-1 of Nordvale Infrastructure: rule coasting, on a1, a2, valid from 2031-05-01");
  consent.valid.until = "2031-05-31";
  consent.sections.clear();
  EXPECT_EQ(consent_terms(consent),
            "NV-1 of Nordvale Infrastructure: rule coasting, valid from 2031-05-01 until "
            "2031-05-31");
}

TEST(Wording, ASpeedIsNeverRoundedUp) {
  EXPECT_EQ(speed_figure(80), "80");
  EXPECT_EQ(speed_figure(62.5), "62.5");
  EXPECT_EQ(speed_figure(79.99), "79.9");
}

TEST(Wording, Times) {
  EXPECT_EQ(duration_words(40), "40 s");
  EXPECT_EQ(duration_words(2880), "48 min");
  EXPECT_EQ(duration_words(7500), "2 h 05 min");
  EXPECT_EQ(duration_words(3599), "1 h 00 min");
}

TEST(Wording, FirstLetters) {
  EXPECT_EQ(capitalised("permitted"), "Permitted");
  EXPECT_EQ(uncapitalised("Line speed"), "line speed");
  EXPECT_EQ(uncapitalised("AC 15 kV"), "AC 15 kV");
}

TEST(Wording, NothingThatATerminalObeysIsShown) {
  EXPECT_EQ(plain("a\x1b[31mb\nc\x7f"), "a [31mb c ");
  EXPECT_EQ(plain("x\u009by"), "x y") << "the one-character form of an escape sequence, too";
  EXPECT_EQ(plain("Øst – ü"), "Øst – ü");
}

TEST(Wording, ShortensBetweenCharacters) {
  EXPECT_EQ(shortened("Øst", 3), "Øst");
  EXPECT_EQ(shortened("Østmark", 3), "Øst…");
}

TEST(Wording, TheDay) {
  Conditions day;
  EXPECT_EQ(day_words(day), "not stated");
  day.name = "Iced morning";
  day.ice = {{26.8, 46.2}, {46.2, 49.3}};
  day.temperature_c = -5;
  EXPECT_EQ(day_words(day), "Iced morning: ice on the contact wire km 26.8–49.3, −5 °C");
}

}  // namespace
}  // namespace panup
