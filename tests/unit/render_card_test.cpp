#include <gtest/gtest.h>

#include <algorithm>

#include "base/handed_out.h"
#include "card/card.h"
#include "card/card_layout.h"
#include "drawn_texts.h"
#include "sample_plan.h"
#include "wording/fallback.h"
#include "wording/wording.h"

namespace panup {
namespace {

using Texts = std::vector<DrawnText>;

/// The texts of each sheet of a plan's card.
std::vector<Texts> sheets_of(const Plan& plan) {
  const TextSetter setter;
  const CardLayout card = arrange_card(setter, plan);
  std::vector<Texts> sheets;
  for (std::size_t i = 0; i < card.sheets.size(); ++i) {
    sheets.push_back(texts_of_sheet(card.size, i, [&card](Canvas& canvas, std::size_t sheet) {
      draw_card_sheet(canvas, card, sheet);
    }));
  }
  return sheets;
}

bool says(const std::vector<Texts>& sheets, std::string_view what) {
  return std::ranges::any_of(sheets, [what](const Texts& texts) { return says(texts, what); });
}

Plan plan_named(const std::string& name) {
  for (auto& [each, plan] : all_sample_plans()) {
    if (each == name) {
      return plan;
    }
  }
  return {};
}

class EveryCard : public testing::TestWithParam<std::string> {
 protected:
  const Plan plan = plan_named(GetParam());
  const std::vector<Texts> sheets = sheets_of(plan);
};

TEST_P(EveryCard, KeepsAllTextInsideTheMargins) {
  constexpr double margin = 20;
  for (const Texts& texts : sheets) {
    EXPECT_FALSE(texts.empty());
    for (const DrawnText& text : texts) {
      EXPECT_GE(text.ink.x, margin) << text.text;
      EXPECT_GE(text.ink.y, margin) << text.text;
      EXPECT_LE(text.ink.right(), a4_portrait.width - margin) << text.text;
      EXPECT_LE(text.ink.bottom(), a4_portrait.height - margin) << text.text;
    }
  }
}

TEST_P(EveryCard, PutsNoTextOnAnother) {
  for (const Texts& texts : sheets) {
    for (std::size_t i = 0; i < texts.size(); ++i) {
      for (std::size_t j = i + 1; j < texts.size(); ++j) {
        EXPECT_FALSE(overlap(texts[i].ink, texts[j].ink)) << texts[i].text << "\n" << texts[j].text;
      }
    }
  }
}

TEST_P(EveryCard, SetsNothingTooSmallToRead) {
  for (const Texts& texts : sheets) {
    for (const DrawnText& text : texts) {
      EXPECT_GE(text.smallest_pt, 8.5) << text.text;
    }
  }
}

TEST_P(EveryCard, CarriesCautionsMarkAndNumberOnEverySheet) {
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    EXPECT_TRUE(says(sheets[i], "Nobody goes on a roof or near a live wire"));
    EXPECT_TRUE(says(sheets[i], "DEMO – invented data"));
    EXPECT_TRUE(
        says(sheets[i], "page " + std::to_string(i + 1) + " of " + std::to_string(sheets.size())));
  }
}

TEST_P(EveryCard, SaysEveryOrderAndEveryFailure) {
  for (const Instruction& instruction : plan.instructions) {
    const std::string action = instruction.what.substr(0, instruction.what.find_first_of(",:"));
    // A speed that the row of its stretch states has no row of its own.
    const bool in_its_row = instruction.action == Action::speed && instruction.speed_kmh > 0 &&
                            says(sheets, speed_figure(instruction.speed_kmh)) &&
                            says(sheets, km_words(instruction.at_km));
    EXPECT_TRUE(in_its_row || says(sheets, action)) << action;
  }
  for (const Fallback& fallback : fallbacks_of(plan)) {
    for (const PantographRef failed : fallback.failed) {
      EXPECT_TRUE(says(sheets, to_string(failed)));
    }
  }
}

std::vector<std::string> names() {
  std::vector<std::string> names;
  for (const auto& [name, plan] : all_sample_plans()) {
    names.push_back(name);
  }
  return names;
}

INSTANTIATE_TEST_SUITE_P(Card, EveryCard, testing::ValuesIn(names()), [](const auto& tested) {
  std::string name = tested.param;
  std::ranges::replace(name, '-', '_');
  return name;
});

TEST(Card, ASimpleTrainHasOneSheet) {
  EXPECT_EQ(sheets_of(unit_pair_plan()).size(), 1U);
  EXPECT_EQ(sheets_of(diamond_plan()).size(), 1U);
  EXPECT_EQ(sheets_of(banking_plan()).size(), 1U);
}

TEST(Card, AHugePlanGoesOnOverFurtherSheets) {
  const std::vector<Texts> sheets = sheets_of(huge_plan());
  EXPECT_GT(sheets.size(), 3U);
  EXPECT_TRUE(says(sheets[1], "along the route, continued"));
  EXPECT_TRUE(says(sheets[1], "Three ahead of ore"));
}

TEST(Card, SaysThatItIsPermittedOrNot) {
  EXPECT_TRUE(says(sheets_of(sample_plan())[0], "PERMITTED"));
  for (const Texts& sheet : sheets_of(consent_plan())) {
    EXPECT_TRUE(says(sheet, "NOT TO BE RUN WITHOUT CONSENT OF THE INFRASTRUCTURE MANAGER"));
  }
  for (const Texts& sheet : sheets_of(refused_plan())) {
    EXPECT_TRUE(says(sheet, "NO PERMITTED CONFIGURATION"));
  }
  EXPECT_FALSE(says(sheets_of(refused_plan()), "Running time"));
}

TEST(Card, ALastResortIsInTheHeadline) {
  EXPECT_TRUE(says(sheets_of(sample_plan())[0], "PERMITTED, LAST RESORT ACCEPTED"));
  EXPECT_TRUE(says(sheets_of(sample_plan())[0], "Last resort on km 0.0–12.4"));
  EXPECT_FALSE(says(sheets_of(unit_pair_plan()), "LAST RESORT"));
  for (const Texts& sheet : sheets_of(consent_plan())) {
    EXPECT_TRUE(says(sheet, "LAST RESORT ACCEPTED"));
  }
}

TEST(Card, AnExposedLoadIsSaidUnderTheHeadlineAndInTheFailures) {
  EXPECT_TRUE(says(sheets_of(sample_plan())[0],
                   "The dangerous load (petrol in tank wagons) is exposed to dust and sparks of "
                   "2.1 on km 0.0–12.4."));
  Plan plan = banking_plan();
  EXPECT_FALSE(says(sheets_of(plan), "exposed"));
  for (PlannedSection& section : plan.contingencies[0].sections) {
    section.exposed = {{"petrol in tank wagons", LoadNature::dangerous, {{1, 2}}}};
  }
  for (RoadFailure& failure : plan.contingencies[0].on_the_road) {
    failure.exposed = plan.contingencies[0].sections[0].exposed;
  }
  EXPECT_TRUE(says(sheets_of(plan), "is exposed to dust and sparks of 1.2"));
}

TEST(Card, ShowsWhatTheOfficeStates) {
  Plan plan = unit_pair_plan();
  plan.train.release = {.train_number = "60412",
                        .date = "",
                        .days = "Mondays",
                        .issue = 3,
                        .made_by = "Ida Brandt",
                        .checked_by = "Ole Falk",
                        .released_by = "Runa Sand",
                        .holds_until = "2031-05-30",
                        .deviations = {}};
  const auto sheets = sheets_of(plan);
  for (const char* const stated :
       {"60412", "Mondays", "Ida Brandt", "Ole Falk", "Runa Sand", "2031-05-30"}) {
    EXPECT_TRUE(says(sheets[0], stated)) << stated;
  }
  EXPECT_TRUE(std::ranges::any_of(sheets[0], [](const DrawnText& text) {
    return text.text == "3";
  })) << "the issue";
  EXPECT_FALSE(says(sheets, "fill in"));
}

TEST(Card, WhatTheOfficeDoesNotStateIsFilledInByHand) {
  Plan plan = unit_pair_plan();
  for (const char* const name : {"Train number", "Date or days", "Issue", "Holds until", "Made by",
                                 "Checked by", "Released by"}) {
    EXPECT_TRUE(says(sheets_of(plan)[0], std::string(name) + " (fill in)")) << name;
  }
  plan.train.release.date = "2031-05-12";
  EXPECT_TRUE(says(sheets_of(plan)[0], "2031-05-12"));
  EXPECT_FALSE(says(sheets_of(plan)[0], "Date (fill in)"));
  EXPECT_FALSE(says(sheets_of(plan)[0], "Date or days"));
}

TEST(Card, EverySheetCanBeToldByTrainNumberAndIssue) {
  Plan plan = huge_plan();
  plan.train.release.train_number = "60412";
  plan.train.release.issue = 3;
  for (const Texts& sheet : sheets_of(plan)) {
    EXPECT_TRUE(says(sheet, "60412"));
  }
  EXPECT_TRUE(says(sheets_of(plan)[1], "issue 3"));
}

TEST(Card, APracticeDepartedFromIsTold_AndOneThatIsKeptIsNot) {
  Plan plan = unit_pair_plan();
  plan.sections[0].findings = {{.rule = "two-points",
                                .strength = Strength::prescribed,
                                .standing = Standing::practice,
                                .text = "Only one strip is up.",
                                .source = "common practice",
                                .because = "One strip is unreliable."}};
  plan.sections[0].findings[0].kept = true;
  EXPECT_FALSE(says(sheets_of(plan), "Only one strip is up."));
  EXPECT_TRUE(says(sheets_of(plan), "One strip is unreliable."))
      << "why it is as it is, a note says";
  plan.sections[0].findings[0].kept = false;
  EXPECT_TRUE(says(sheets_of(plan), "Not as prescribed"));
  EXPECT_TRUE(says(sheets_of(plan), "Only one strip is up."));
  EXPECT_TRUE(says(sheets_of(plan), "One strip is unreliable."));
}

TEST(Card, ALoadToBeProtectedIsSaidInAWord) {
  EXPECT_TRUE(says(sheets_of(sample_plan())[0], "DANGEROUS"));
  EXPECT_TRUE(says(sheets_of(diamond_plan())[0], "SENSITIVE"));
}

TEST(Card, AHigherSpeedIsShownWithTheChainageFromWhichItIsOrdered) {
  // The sample is still in the iced stretch with its rear when its front passes km 12.4.
  Plan plan = sample_plan();
  EXPECT_FALSE(says(sheets_of(plan), "from 12.828"));
  PlannedSection lower = plan.sections[1];
  lower.to_km = plan.sections[1].from_km = 12.828;
  lower.speed_kmh = 60;
  plan.sections.insert(plan.sections.begin() + 1, lower);
  EXPECT_TRUE(says(sheets_of(plan), "from 12.828"));
}

TEST(Card, ALimitOfPowerStandsAmongTheOrders) {
  Plan plan = sample_plan();
  Instruction order;
  order.at_km = plan.sections.back().from_km;
  order.action = Action::power;
  order.power_percent = 73;
  order.what = "No more than 73 % of power from here";
  plan.instructions.push_back(order);
  EXPECT_TRUE(says(sheets_of(plan), "No more than 73"));
}

TEST(Card, DoesNotMarkWhatIsNotInvented) {
  Plan plan = sample_plan();
  plan.train.invented = plan.route.invented = plan.conditions.invented = false;
  EXPECT_FALSE(says(sheets_of(plan), "DEMO – invented data"));
}

TEST(Card, AnOrderOfEndlessWordsStillFitsItsSheet) {
  Plan plan = banking_plan();
  for (int i = 0; i < 4000; ++i) {
    plan.instructions[0].what += " and on";
    plan.notes[0] += " and on";
  }
  for (const Texts& texts : sheets_of(plan)) {
    for (const DrawnText& text : texts) {
      EXPECT_LE(text.ink.bottom(), a4_portrait.height - 20) << text.text.substr(0, 60);
    }
  }
}

TEST(Card, AnEmptyPlanIsNoReasonToFail) {
  Plan plan;
  plan.train = sample_plan().train;
  plan.cautions = {"Local rules come first."};
  EXPECT_EQ(sheets_of(plan).size(), 1U);
}

TEST(RenderCard, GivesThePdfAndEachSheetTwice) {
  const std::vector<RenderedFile> files = render_card(banking_plan());
  ASSERT_EQ(files.size(), 3U);
  EXPECT_EQ(files[0].name, "card.pdf");
  EXPECT_TRUE(files[0].bytes.starts_with("%PDF-"));
  EXPECT_EQ(files[1].name, "card-1.svg");
  EXPECT_NE(files[1].bytes.find("<svg"), std::string::npos);
  EXPECT_EQ(files[2].name, "card-1.png");
  EXPECT_TRUE(files[2].bytes.starts_with("\x89PNG"));
}

TEST(RenderCard, GivesTheSameBytesEveryTime) {
  const std::vector<RenderedFile> once = render_card(sample_plan());
  const std::vector<RenderedFile> again = render_card(sample_plan());
  ASSERT_EQ(once.size(), again.size());
  for (std::size_t i = 0; i < once.size(); ++i) {
    EXPECT_EQ(once[i].bytes == again[i].bytes, true) << once[i].name;
  }
  EXPECT_EQ(once[0].bytes.find("CreationDate"), std::string::npos);
}

}  // namespace
}  // namespace panup
