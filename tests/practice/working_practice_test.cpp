/// The cases of working practice, P1 to P27, as data: the list that the page makes exercises from.
/// Source of what is expected: common practice, no published source; speeds that follow from a
/// distance rest on Regulation (EU) No 1301/2014, table 4.2.13, from memory; ice speed and speed
/// with a single contact strip are invented in the cases' own rule book.

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "files/built_in_cases.h"
#include "requests/case_input.h"
#include "requests/run_input.h"
#include "scenario.h"

namespace panup::scenario {
namespace {

constexpr int last_case = 27;

int number_of(const PracticeCase& one) { return std::stoi(one.of.substr(1)); }

std::optional<Plan> planned_case(const PracticeCase& one) {
  Diagnostics diagnostics;
  const auto input = read_train_input(paths_of_case(built_in_cases(), one), SpeedFrom::tables,
                                      files_of_cases(), diagnostics);
  for (const Diagnostic& diagnostic : diagnostics) {
    ADD_FAILURE() << to_line(diagnostic);
  }
  return input ? make_plan(input->parts.front().request) : std::nullopt;
}

bool says_of(const PlannedSection& section, const std::string& rule, bool kept) {
  return std::ranges::any_of(section.findings, [&](const Finding& finding) {
    return finding.rule == rule && finding.kept == kept &&
           (!kept || finding.strength == Strength::prescribed);
  });
}

/// Whether a facing pair was accepted, with a locomotive dead in tow as the other way.
bool offers_both(const PlannedSection& section) {
  return section.answer == Answer::permitted &&
         says(section, "facing-pair", Strength::last_resort) &&
         says(section, "put-dead", Strength::note);
}

bool answers(const PlannedSection& section, CaseAnswer expected) {
  switch (expected) {
    case CaseAnswer::permitted:
      return section.answer == Answer::permitted && !offers_both(section);
    case CaseAnswer::consent_needed:
      return section.answer == Answer::consent_needed;
    case CaseAnswer::forbidden:
      return section.answer == Answer::none;
    case CaseAnswer::both_alternatives:
      return offers_both(section);
  }
  return false;
}

std::vector<std::string> names_of(const std::vector<PantographRef>& refs) {
  std::vector<std::string> names;
  for (const PantographRef ref : refs) {
    names.push_back(std::to_string(ref.vehicle) + "." + std::to_string(ref.pantograph));
  }
  return names;
}

void expect_said(const PlannedSection& section, const PracticeCase& one) {
  for (const std::string& rule : one.keeps) {
    EXPECT_TRUE(says_of(section, rule, true)) << rule;
  }
  for (const std::string& rule : one.gives_up) {
    EXPECT_TRUE(says_of(section, rule, false)) << rule;
    EXPECT_TRUE(rule != "load-protected" || says_exposed(section));
  }
  for (const std::string& rule : one.says) {
    EXPECT_TRUE(says(section, rule)) << rule;
  }
}

void expect_as_practice_says(const Plan& plan, const PracticeCase& one) {
  for (std::size_t i = 0; i < plan.sections.size(); ++i) {
    const PlannedSection& section = plan.sections[i];
    EXPECT_EQ(up_on(plan, i), one.raised);
    if (!one.pantographs.empty()) {
      EXPECT_EQ(names_of(section.raised), one.pantographs);
    }
    EXPECT_EQ(section.put_dead_in_tow, one.put_dead_in_tow);
    EXPECT_EQ(says(section, "put-dead", Strength::last_resort), !one.put_dead_in_tow.empty());
    EXPECT_TRUE(answers(section, one.answer)) << name_of(section.answer);
    if (one.speed_kmh) {
      EXPECT_EQ(section.speed_kmh, *one.speed_kmh);
      EXPECT_EQ(section.speed_rule, one.speed_rule);
    }
    if (one.least_distance_m) {
      ASSERT_TRUE(section.least_distance_m);
      EXPECT_NEAR(*section.least_distance_m, *one.least_distance_m, 1e-9);
    }
    expect_said(section, one);
  }
}

TEST(WorkingPractice, HoldEveryCaseFromP1ToP27InOrder) {
  const std::vector<PracticeCase>& cases = built_in_cases().cases;
  EXPECT_TRUE(std::ranges::is_sorted(cases, {}, number_of));
  for (int number = 1; number <= last_case; ++number) {
    EXPECT_TRUE(std::ranges::find(cases, number, number_of) != cases.end()) << "P" << number;
  }
  EXPECT_LE(number_of(cases.back()), last_case);
}

TEST(WorkingPractice, AreMarkedAsInventedAndNameTheirSource) {
  EXPECT_TRUE(built_in_cases().invented);
  for (const PracticeCase& one : built_in_cases().cases) {
    EXPECT_TRUE(one.source.en.starts_with("common practice, no published source") ||
                one.source.en.starts_with("derived from P"))
        << one.id;
    EXPECT_EQ(one.source.en.starts_with("derived"), one.source.de.starts_with("abgeleitet"));
  }
}

TEST(WorkingPractice, ArePlannedAsPracticeSays) {
  for (const PracticeCase& one : built_in_cases().cases) {
    SCOPED_TRACE(one.id);
    const auto plan = planned_case(one);
    if (!plan) {
      ADD_FAILURE() << "not planned";
      continue;
    }
    EXPECT_TRUE(plan->train.invented && plan->route.invented);
    expect_as_practice_says(*plan, one);
  }
}

// P22, source: common practice, no published source. No operator plans so: the pattern is turned
// off, that only distance tells the configurations apart.
TEST(WorkingPractice, P22_AmongWhatElseIsEqual_TheGreatestDistanceWins) {
  Scenario scenario = Scenario().add(locomotive()).add(locomotive()).load(LoadNature::ordinary);
  for (const char* const id : {"rear-alone", "front-before-another"}) {
    scenario.rule(id).on = false;
  }
  scenario.section().line_speed_kmh = 80;
  EXPECT_EQ(up_on(scenario.plan()), "F1 R2");
  scenario.defect({1, 1});
  EXPECT_EQ(up_on(scenario.plan()), "R1 R2");
}

TEST(WorkingPractice, ReadNoFileButTheirOwn) {
  Diagnostics diagnostics;
  EXPECT_FALSE(files_of_cases().load("/etc/hostname", diagnostics));
  EXPECT_EQ(diagnostics.size(), 1U);
  EXPECT_FALSE(files_of_cases().has("practice/trains/none.toml"));
  EXPECT_TRUE(files_of_cases().has("practice/trains/p01.toml"));
}

}  // namespace
}  // namespace panup::scenario
