#include <gtest/gtest.h>

#include <cmath>

#include "dynamics/run_course.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

RunCourse course_of(const SimulationRequest& request) {
  const auto found = plan_course(request);
  if (const auto* reason = std::get_if<std::string>(&found)) {
    ADD_FAILURE() << *reason;
    return {};
  }
  return std::get<RunCourse>(found);
}

std::string refusal_of(const SimulationRequest& request) {
  const auto found = plan_course(request);
  const auto* reason = std::get_if<std::string>(&found);
  return reason == nullptr ? "" : *reason;
}

void add_pantograph(SimulationRequest& request, double behind_first_m) {
  request.pantographs.push_back(request.pantographs.front());
  request.pantographs.back().behind_first_m = behind_first_m;
}

TEST(RisenShare, RisesSmoothlyFromNothingToTheWhole) {
  EXPECT_EQ(risen_share(0, 125), 0);
  EXPECT_EQ(risen_share(-3, 125), 0);
  EXPECT_DOUBLE_EQ(risen_share(62.5, 125), 0.5);
  EXPECT_EQ(risen_share(125, 125), 1);
  EXPECT_EQ(risen_share(900, 125), 1);
  double before = 0;
  for (int run = 1; run <= 125; ++run) {
    EXPECT_GT(risen_share(run, 125), before) << run;
    before = risen_share(run, 125);
  }
  // No corner and no kink at either end: it leaves them with the third power.
  EXPECT_LT(risen_share(1.25, 125), 11e-6);
  EXPECT_GT(risen_share(123.75, 125), 1 - 11e-6);
}

TEST(RunCourse, EvaluatesWholeSpansThatAreClearOfStartAndEnd) {
  const ContactLine line = sample_line(13);
  const RunCourse course = course_of(sample_request(line, 144));
  EXPECT_EQ(course.start_m, 25);
  EXPECT_EQ(course.ramp_m, 125);
  EXPECT_NEAR(course.from_m, 200, 1e-9) << "25 m and the ramp, and one span clear of it";
  EXPECT_NEAR(course.to_m, 450, 1e-9) << "four spans before the line's end";
  EXPECT_NEAR(course.end_m, 450 + 40 * 0.1, 1e-9) << "a tenth of a second more for the filter";
  EXPECT_TRUE(course.warnings.empty());
}

TEST(RunCourse, KeepsTheWholeTrainWithinTheLine) {
  const ContactLine line = sample_line(20);
  SimulationRequest request = sample_request(line, 144);
  add_pantograph(request, 130);
  const RunCourse course = course_of(request);
  EXPECT_EQ(course.start_m - 130, 25) << "the last one starts in the middle of the first span";
  EXPECT_NEAR(course.from_m, 350, 1e-9);
  // The first is that much ahead when the last one leaves the evaluated stretch, and clear then.
  EXPECT_NEAR(course.to_m, 650, 1e-9);
  EXPECT_LT(course.end_m, 1000 - 25 + 1e-9);
}

TEST(RunCourse, TakesTheStretchThatIsAskedFor) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 230;
  request.settings.to_m = 340;
  const RunCourse course = course_of(request);
  EXPECT_EQ(course.from_m, 230);
  EXPECT_EQ(course.to_m, 340);
}

TEST(RunCourse, RefusesAStretchThatIsNotClearOfTheStart) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 150;
  EXPECT_EQ(refusal_of(request),
            "the stretch to be evaluated begins at 150 m, and is not clear of the start before "
            "200.0 m");
}

TEST(RunCourse, RefusesAStretchThatRunsOutOfTheLine) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.to_m = 490;
  EXPECT_EQ(
      refusal_of(request),
      "the stretch to be evaluated ends at 490 m; the pantographs can be followed to 471.0 m");
}

TEST(RunCourse, WarnsOfAStretchThatWavesFromTheLinesEndReach) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.to_m = 400;
  const RunCourse course = course_of(request);
  ASSERT_EQ(course.warnings.size(), 1U);
  EXPECT_NE(course.warnings[0].find("not clear of the line's end after 300.0 m"), std::string::npos)
      << course.warnings[0];
}

TEST(RunCourse, RefusesAStretchOfLessThanOneSpan) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 250;
  request.settings.to_m = 290;
  EXPECT_EQ(refusal_of(request),
            "the stretch to be evaluated, from 250 m to 290 m, is shorter than the first span");
  request.settings.to_m = 240;
  EXPECT_NE(refusal_of(request), "") << "it ends before it begins";
}

TEST(RunCourse, WarnsOfAStretchOfLessThanTwoSpans) {
  const ContactLine line = sample_line(9);
  const RunCourse course = course_of(sample_request(line, 144));
  ASSERT_EQ(course.warnings.size(), 1U);
  EXPECT_NE(course.warnings[0].find("Less than two spans"), std::string::npos);
}

TEST(RunCourse, NamesALineLengthThatDoesWhereThisOneIsTooShort) {
  for (const int spans : {1, 2, 3, 4, 5, 8}) {
    const ContactLine line = sample_line(spans);
    SimulationRequest request = sample_request(line, 250);
    add_pantograph(request, 170);
    const std::string reason = refusal_of(request);
    EXPECT_NE(reason.find("too short"), std::string::npos) << spans << ": " << reason;
    const std::size_t about = reason.find("about ");
    ASSERT_NE(about, std::string::npos) << reason;
    const double enough_m = std::stod(reason.substr(about + 6));
    const ContactLine longer = sample_line(static_cast<int>(std::ceil(enough_m / 50)));
    request.line = &longer;
    EXPECT_EQ(refusal_of(request), "") << spans << " spans, advised " << enough_m;
    EXPECT_LT(enough_m, 1100) << "and no more than is reasonable";
  }
}

}  // namespace

}  // namespace panup
