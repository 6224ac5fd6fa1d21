#include "pictures/separation_course.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "drawing/picture_json.h"
#include "scenario.h"

namespace panup::scenario {

namespace {

/// At km 10: phase R, 7.5 m neutral, phase S.
SeparationSection without_earth() {
  SeparationSection section;
  section.name = "The separation";
  section.kind = SeparationKind::phase;
  section.from_km = 10;
  section.length_m = 7.5;
  section.zones = {zone(ZoneKind::live, -endless, 0, "R"), zone(ZoneKind::neutral, 0, 7.5),
                   zone(ZoneKind::live, 7.5, endless, "S")};
  return section;
}

/// Nothing is stated of a high-voltage coupler.
std::shared_ptr<const VehicleType> with_coupler_not_stated(bool roof_line) {
  auto changed = std::make_shared<VehicleType>(*locomotive());
  changed->roof_line = roof_line;
  changed->high_voltage_coupler = std::nullopt;
  return changed;
}

/// A plan in which those pass it, whether or not they may.
Plan passing(const Scenario& scenario, const std::vector<PantographRef>& raised) {
  Plan plan;
  plan.train = scenario.request.train;
  plan.route.separations = {without_earth()};
  const RunningTrain running = set_running(plan.train, false);
  plan.separation_moments = {
      separation_moment(scenario.request.rules, plan.route, 0, running, set_of(running, raised))};
  PlannedSection before;
  before.to_km = 8;
  PlannedSection there;
  there.from_km = 8;
  there.to_km = 20;
  there.raised = raised;
  plan.sections = {before, there};
  return plan;
}

/// Two pantographs, 10 m apart, of one locomotive.
Plan one_locomotive(bool roof_line) {
  Scenario scenario;
  scenario.add(with_coupler_not_stated(roof_line));
  return passing(scenario, {{1, 1}, {1, 2}});
}

TEST(SeparationCourse, StagesFollowEachOtherFromTheFirstContactToTheLast) {
  const Plan plan = one_locomotive(true);
  const auto courses = separation_courses(plan);
  ASSERT_EQ(courses.size(), 1U);
  const auto& stages = courses[0].stages;
  ASSERT_GT(stages.size(), 4U);
  for (std::size_t i = 1; i < stages.size(); ++i) {
    EXPECT_DOUBLE_EQ(stages[i].swept.from_m, stages[i - 1].swept.to_m) << i;
  }
  // The first one, 4.5 m behind the front, comes to the neutral zone; the last one, 14.5 m behind
  // it, leaves it.
  const Collector& first = courses[0].moment->raised.collectors.front();
  EXPECT_NEAR(stages.front().swept.from_m, 4.5 - first.strip_extent_m / 2, 1e-5);
  EXPECT_NEAR(stages.back().swept.to_m, 7.5 + 14.5 + first.strip_extent_m / 2, 1e-5);
}

TEST(SeparationCourse, WhereTwoPhasesAreJoinedItSaysSoAndThroughWhat) {
  const Plan plan = one_locomotive(true);
  const SeparationCourse course = separation_courses(plan)[0];
  const auto& forbidden = course.moment->swept.forbidden;
  ASSERT_EQ(forbidden.size(), 1U);
  int harmful = 0;
  for (const CourseStage& stage : course.stages) {
    const auto& touched = stage.swept.touched;
    const auto on = [&touched](std::size_t collector, std::size_t zone) {
      return std::ranges::find(touched[collector], zone) != touched[collector].end();
    };
    // Front pantograph on S while the rear one is still on R.
    const bool both_phases = on(0, 2) && on(1, 0);
    EXPECT_EQ(!stage.forbidden.empty(), both_phases) << stage.swept.from_m;
    if (both_phases) {
      ++harmful;
      EXPECT_TRUE(stage.forbidden[0].starts_with("joins phase R with phase S through 1.2"))
          << stage.forbidden[0];
      EXPECT_NE(stage.forbidden[0].find("roof line"), std::string::npos);
      EXPECT_EQ(stage.forbidden.size(), 1U);
    }
  }
  EXPECT_GE(harmful, 1);
}

TEST(SeparationCourse, PantographsThatNothingJoinsDoNoHarm) {
  const Plan plan = one_locomotive(false);
  const SeparationCourse course = separation_courses(plan)[0];
  for (const CourseStage& stage : course.stages) {
    EXPECT_TRUE(stage.forbidden.empty()) << stage.swept.from_m;
  }
  ASSERT_TRUE(course.moment->moment) << "strips long enough would join the phases";
  EXPECT_GT(course.moment->moment->reserve_m, 0.5);
}

TEST(SeparationCourse, WhatOnlyAPossibleJoinDoesIsSaidAsThat) {
  Scenario scenario;
  const auto type = with_coupler_not_stated(false);
  scenario.add(type).add(type);
  const Plan plan = passing(scenario, {{1, 1}, {2, 2}});
  const SeparationCourse course = separation_courses(plan)[0];
  ASSERT_FALSE(course.moment->swept.forbidden.empty());
  EXPECT_TRUE(course.moment->known_forbidden.empty());
  int said = 0;
  for (const CourseStage& stage : course.stages) {
    for (const std::string& words : stage.forbidden) {
      ++said;
      EXPECT_TRUE(words.starts_with("if there is ")) << words;
      EXPECT_NE(words.find("joins phase R with phase S"), std::string::npos) << words;
    }
  }
  EXPECT_GT(said, 0);
}

TEST(SeparationCourse, WhatIsKnownIsNotSaidToHangOnAPossibleJoin) {
  Scenario scenario;
  const auto type = with_coupler_not_stated(true);
  scenario.add(type).add(type);
  const Plan plan = passing(scenario, {{1, 1}, {1, 2}, {2, 1}, {2, 2}});
  const SeparationCourse course = separation_courses(plan)[0];
  ASSERT_FALSE(course.moment->known_forbidden.empty());
  const ForbiddenRange& known = course.moment->known_forbidden.front();
  for (const CourseStage& stage : course.stages) {
    if (stage.swept.from_m >= known.from_m && stage.swept.to_m <= known.to_m) {
      ASSERT_FALSE(stage.forbidden.empty());
      for (const std::string& words : stage.forbidden) {
        EXPECT_FALSE(words.starts_with("if there is")) << words;
      }
    }
  }
}

TEST(SeparationCourse, JsonRefersToTheRouteAndToTheSectionInWhichItIsPassed) {
  const Plan plan = one_locomotive(true);
  const auto courses = separation_courses(plan);
  const auto json = separation_courses_to_json(courses);
  ASSERT_EQ(json.size(), 1U);
  EXPECT_EQ(json[0]["separation"], 0);
  EXPECT_EQ(json[0]["section"], 1) << "the one in which they are up";
  EXPECT_EQ(json[0]["zones"].size(), 3U);
  EXPECT_TRUE(json[0]["zones"][0]["from_m"].is_null());
  EXPECT_EQ(json[0]["zones"][0]["name"], "phase R");
  EXPECT_EQ(json[0]["zones"][1]["kind"], "neutral");
  EXPECT_EQ(json[0]["zones"][1]["to_m"], 7.5);
  EXPECT_EQ(json[0]["collectors"][1]["pantograph"], "1.2");
  EXPECT_EQ(json[0]["collectors"][1]["behind_front_m"], 14.5);
  EXPECT_EQ(json[0]["joins"][0]["collectors"], (std::vector<int>{0, 1}));
  EXPECT_EQ(json[0]["joins"][0]["only_possible"], false);
  EXPECT_EQ(json[0]["reserve_m"], 0);
  EXPECT_EQ(json[0]["said"], courses[0].said);
  const auto& stages = json[0]["stages"];
  ASSERT_EQ(stages.size(), courses[0].stages.size());
  EXPECT_EQ(stages[0]["touched"].size(), 2U);
}

TEST(SeparationCourse, APlanHandsOutWhatItSwept) {
  Scenario scenario;
  scenario.add(locomotive()).load(LoadNature::ordinary);
  scenario.request.route.separations = {without_earth()};
  const Plan plan = scenario.plan();
  const auto courses = separation_courses(plan);
  ASSERT_EQ(courses.size(), plan.separation_moments.size());
  ASSERT_FALSE(courses.empty());
  for (const SeparationCourse& course : courses) {
    EXPECT_FALSE(course.stages.empty());
    EXPECT_EQ(plan.sections[course.section].raised.size(), course.moment->raised.collectors.size());
    for (const CourseStage& stage : course.stages) {
      EXPECT_TRUE(stage.forbidden.empty()) << "it is permitted";
    }
  }
}

TEST(SeparationPicture, MarksAndPlacesSayWhatTheyBelongTo) {
  const Plan plan = one_locomotive(true);
  const Picture picture = separation_picture(plan, plan.separation_moments[0], 800);
  for (const std::string part :
       {"zone 0", "zone 1", "zone 2", "pantograph 1.1", "pantograph 1.2", "join 0"}) {
    const auto place = std::ranges::find(picture.places, part, &PicturePlace::of);
    ASSERT_NE(place, picture.places.end()) << part;
    EXPECT_GE(place->box.x, 0) << part;
    EXPECT_LE(place->box.right(), 800) << part;
    EXPECT_LE(place->box.bottom(), picture.height) << part;
  }
  for (const Mark& mark : picture.marks) {
    EXPECT_FALSE(mark.of.empty());
    if (const auto* const text = std::get_if<TextMark>(&mark.is)) {
      EXPECT_GE(text->size, 9);
    }
  }
  EXPECT_NE(picture.told.find("no reserve"), std::string::npos) << picture.told;
  // The train runs to the left: what comes later stands further left.
  const auto box = [&picture](const std::string& of) {
    return std::ranges::find(picture.places, of, &PicturePlace::of)->box;
  };
  EXPECT_LT(box("zone 2").x, box("zone 1").x);
  EXPECT_LT(box("pantograph 1.1").x, box("pantograph 1.2").x);
}

}  // namespace

}  // namespace panup::scenario
