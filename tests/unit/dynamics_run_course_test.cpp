#include <gtest/gtest.h>

#include <cmath>

#include "dynamics/run_course.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

RunCourse course_of(const SimulationRequest& request) {
  const auto found = plan_course(request);
  if (const auto* reason = std::get_if<Sentence>(&found)) {
    ADD_FAILURE() << reason->said();
    return {};
  }
  return std::get<RunCourse>(found);
}

std::string course_refusal_of(const SimulationRequest& request) {
  const auto found = plan_course(request);
  const auto* reason = std::get_if<Sentence>(&found);
  return reason == nullptr ? "" : reason->said();
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
  EXPECT_EQ(course_refusal_of(request),
            "the stretch to be evaluated begins at 150 m, and is not clear of the start before "
            "200.0 m");
}

TEST(RunCourse, RefusesAStretchThatRunsOutOfTheLine) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.to_m = 490;
  EXPECT_EQ(
      course_refusal_of(request),
      "the stretch to be evaluated ends at 490 m; the pantographs can be followed to 471.0 m");
}

TEST(RunCourse, WarnsOfAStretchThatWavesFromTheLinesEndReach) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.to_m = 400;
  const RunCourse course = course_of(request);
  ASSERT_EQ(course.warnings.size(), 1U);
  EXPECT_NE(course.warnings[0].text.said().find("not clear of the line's end after 300.0 m"),
            std::string::npos)
      << course.warnings[0].text.said();
}

TEST(RunCourse, RefusesAStretchOfLessThanOneSpan) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 250;
  request.settings.to_m = 290;
  EXPECT_EQ(course_refusal_of(request),
            "the stretch to be evaluated, from 250 m to 290 m, is shorter than the first span");
  request.settings.to_m = 240;
  EXPECT_NE(course_refusal_of(request), "") << "it ends before it begins";
}

TEST(RunCourse, WarnsOfAStretchOfLessThanTwoSpans) {
  const ContactLine line = sample_line(9);
  const RunCourse course = course_of(sample_request(line, 144));
  ASSERT_EQ(course.warnings.size(), 1U);
  EXPECT_NE(course.warnings[0].text.said().find("Less than two spans"), std::string::npos);
}

TEST(RunCourse, NamesALineLengthThatDoesWhereThisOneIsTooShort) {
  for (const int spans : {1, 2, 3, 4, 5, 8}) {
    const ContactLine line = sample_line(spans);
    SimulationRequest request = sample_request(line, 250);
    add_pantograph(request, 170);
    const std::string reason = course_refusal_of(request);
    EXPECT_NE(reason.find("too short"), std::string::npos) << spans << ": " << reason;
    const std::size_t about = reason.find("about ");
    ASSERT_NE(about, std::string::npos) << reason;
    const double enough_m = std::stod(reason.substr(about + 6));
    const ContactLine longer = sample_line(static_cast<int>(std::ceil(enough_m / 50)));
    request.line = &longer;
    EXPECT_EQ(course_refusal_of(request), "") << spans << " spans, advised " << enough_m;
    EXPECT_LT(enough_m, 1100) << "and no more than is reasonable";
  }
}

TEST(RunCourse, FollowsThePantographsAsFarAsTheyCanBe) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  // To the middle of the last span, less a tenth of a second: 475 - 4 m.
  request.settings.to_m = 471;
  EXPECT_EQ(course_of(request).to_m, 471);
  EXPECT_NEAR(course_of(request).end_m, 475, 1e-9);
  request.settings.to_m = 471.001;
  EXPECT_NE(course_refusal_of(request), "");
}

TEST(RunCourse, IsNotWarnedOfAStretchThatIsJustClear) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 200;
  request.settings.to_m = 300;
  EXPECT_TRUE(course_of(request).warnings.empty()) << "clear of both ends, and just two spans";
  request.settings.to_m = 299;
  EXPECT_EQ(course_of(request).warnings.size(), 1U);
  request.settings.to_m = 301;
  EXPECT_EQ(course_of(request).warnings.size(), 1U);
}

TEST(RunCourse, TakesTheFirstSpanForTheLeastStretch) {
  ContactLine line = sample_line(11);
  line.spans.back().length_m = 80;
  SimulationRequest request = sample_request(line, 144);
  request.settings.from_m = 240;
  request.settings.to_m = 300;
  EXPECT_EQ(course_refusal_of(request), "") << "60 m are more than the 50 m of the first span";
  request.settings.to_m = 289.9;
  EXPECT_EQ(course_refusal_of(request),
            "the stretch to be evaluated, from 240 m to 289.9 m, is shorter than the first span");
}

TEST(RunCourse, StartsInTheMiddleOfTheFirstSpanAndReckonsWithTheMeanOne) {
  ContactLine line = sample_line(14);
  line.spans.front().length_m = 36;  // a mean of 49 m
  const RunCourse course = course_of(sample_request(line, 144));
  EXPECT_EQ(course.start_m, 18);
  EXPECT_NEAR(course.ramp_m, 2.5 * 49, 1e-9);
  // Clear from 18 + 3.5 x 49 = 189.5 m on: the support at 236 m; to 686 - 4 x 49 = 490 m: 486 m.
  EXPECT_NEAR(course.from_m, 236, 1e-9);
  EXPECT_NEAR(course.to_m, 486, 1e-9);
}

TEST(RunCourse, SaysHowLongALineWouldDo) {
  const ContactLine line = sample_line(5);
  // 250 m; clear from 200 m on, to 50 m: 250 + 2 x 50 + 150 m.
  EXPECT_EQ(course_refusal_of(sample_request(line, 144)),
            "the line of 250 m is too short: 0 m between the first and the last pantograph and "
            "what must be clear of start and end leave less than one span to evaluate; about 500 m "
            "do");
}

TEST(RisenShare, IsThePolynomialWithSteadySlopeAndCurvature) {
  // 10 t^3 - 15 t^4 + 6 t^5 at t = 1/4.
  EXPECT_NEAR(risen_share(25, 100), 10 / 64.0 - 15 / 256.0 + 6 / 1024.0, 1e-15);
}

}  // namespace

}  // namespace panup
