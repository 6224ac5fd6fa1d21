#include <gtest/gtest.h>

#include <cmath>

#include "dynamics_results.h"
#include "dynamics_sample_line.h"
#include "sanitized.h"

namespace panup {

namespace {

struct Springs {
  const char* name;
  std::vector<PantographMass> masses;
  double static_force_n;
};

/// From none at the bottom to one that no pantograph has.
std::vector<Springs> many_springs() {
  return {{"one mass, no spring", {{20, 0, 100}}, 70},
          {"stiff head", {{7, 12000, 30}, {14, 20, 80}}, 60},
          {"reference", {{7.2, 4200, 10}, {15, 50, 90}}, 120},
          {"soft head, much at the bottom", {{7, 3000, 30}, {14, 120, 80}}, 70},
          {"three masses", {{4, 8000, 20}, {5, 9000, 20}, {12, 150, 80}}, 90},
          {"four masses", {{2, 9000, 10}, {5, 6000, 20}, {4, 9000, 20}, {12, 200, 80}}, 140},
          {"very stiff at the bottom", {{7, 6000, 30}, {14, 500, 120}}, 80}};
}

SimulationRequest crawling(const ContactLine& line, const Springs& springs) {
  SimulationRequest request = sample_request(line, 20);
  request.settings.step_s = 0.003;
  RunningPantograph& one = request.pantographs[0];
  one.model.masses = springs.masses;
  one.model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.00025;
  one.static_force_n = springs.static_force_n;
  return request;
}

/// The aerodynamic force at 20 km/h.
constexpr double at_a_crawl_n = 0.1;
constexpr double close_n = 0.5;

ContactLine line_of_two_sorts(int spans = 11) {
  ContactLine line = sample_line_with_everything(spans);
  line.spans[5].length_m = 40;
  line.spans[5].droppers.pop_back();
  add_stitch_wires(line);
  return line;
}

/// All of them; with sanitizers, which are slow, the first alone.
template <typename One>
std::vector<One> some(std::vector<One> all) {
  if (sanitized) {
    all.erase(all.begin() + 1, all.end());
  }
  return all;
}

TEST(FrameForce, PressesAtACrawlWithTheStaticForceWhateverTheSprings) {
  ContactLine soft = sample_line(10);
  soft.contact_wire.tension_n = 9000;
  soft.messenger_wire.tension_n = 10000;
  for (const ContactLine& line : some<ContactLine>({sample_line(10), line_of_two_sorts(), soft})) {
    for (const Springs& springs : some(many_springs())) {
      const SimulationResult result = result_of(crawling(line, springs));
      ASSERT_EQ(result.pantographs.size(), 1U);
      EXPECT_NEAR(result.pantographs[0].mean_n, springs.static_force_n + at_a_crawl_n, close_n)
          << springs.name;
    }
  }
}

TEST(FrameForce, OfEachOfTwoPantographsIsNotTakenByTheLiftOfTheOther) {
  const ContactLine line = sample_line(15);
  for (const double apart_m : some<double>({25.0, 8.0, 70.0})) {
    for (const std::size_t of : {3U, 4U}) {
      SimulationRequest request = crawling(line, many_springs()[of]);
      request.pantographs.push_back(request.pantographs[0]);
      request.pantographs[1].behind_first_m = apart_m;
      const SimulationResult result = result_of(request);
      for (const PantographRun& run : result.pantographs) {
        EXPECT_NEAR(run.mean_n, request.pantographs[0].static_force_n + at_a_crawl_n, close_n)
            << many_springs()[of].name << ", " << apart_m;
      }
    }
  }
}

TEST(FrameForce, OfAPantographBehindAnUnlikeOneIsItsOwn) {
  const ContactLine line = line_of_two_sorts(14);
  SimulationRequest request = crawling(line, many_springs()[0]);
  request.pantographs.push_back(crawling(line, many_springs()[6]).pantographs[0]);
  request.pantographs[1].behind_first_m = 25;
  const SimulationResult result = result_of(request);
  ASSERT_EQ(result.pantographs.size(), 2U);
  EXPECT_NEAR(result.pantographs[0].mean_n, 70 + at_a_crawl_n, close_n);
  EXPECT_NEAR(result.pantographs[1].mean_n, 80 + at_a_crawl_n, close_n);
}

TEST(FrameForce, FallsWithHeightFromThatAtWhichTheStaticForceIsStated) {
  ContactLine line = sample_line(11);
  const Springs springs = many_springs()[3];
  SimulationRequest request = crawling(line, springs);
  request.pantographs[0].model.static_force_at_height_m = 5.0;
  line.contact_wire_height_m = 5.5;
  request.settings.keep_trace = true;
  const SimulationResult higher = result_of(request);
  line.contact_wire_height_m = 4.9;
  const SimulationResult lower = result_of(request);
  line.contact_wire_height_m = 5.0;
  const SimulationResult there = result_of(request);
  const auto height_m = [](const SimulationResult& result) {
    double sum = 0;
    for (const double height : result.trace->pantographs[0].head_height_m) {
      sum += height;
    }
    return sum / static_cast<double>(result.trace->pantographs[0].head_height_m.size());
  };
  EXPECT_NEAR(there.pantographs[0].mean_n, 70 + at_a_crawl_n, close_n);
  // A head that presses less lifts the wire less, and gives way less at its spring of 3000 N/m.
  for (const auto& [result, above_m] : {std::pair{&higher, 0.5}, std::pair{&lower, -0.1}}) {
    const double less_n = there.pantographs[0].mean_n - result->pantographs[0].mean_n;
    EXPECT_NEAR(less_n, 120 * (above_m + height_m(*result) - height_m(there) - less_n / 3000), 0.1);
  }
  EXPECT_LT(higher.pantographs[0].mean_n, 20);
  EXPECT_GT(lower.pantographs[0].mean_n, 80);
}

TEST(FrameForce, IsTakenForThatOfALineWhichDoesNotStateItsHeightAndSaysSo) {
  const ContactLine line = sample_line(10);
  SimulationRequest request = crawling(line, many_springs()[3]);
  request.pantographs[0].model.static_force_at_height_m = 5.0;
  const SimulationResult result = result_of(request);
  EXPECT_NEAR(result.pantographs[0].mean_n, 70 + at_a_crawl_n, close_n);
  ASSERT_EQ(result.warnings.size(), 1U);
  EXPECT_EQ(result.warnings[0].doubt, Doubt::height_not_stated);
}

}  // namespace

}  // namespace panup
