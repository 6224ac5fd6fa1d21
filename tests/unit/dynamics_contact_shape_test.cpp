#include <gtest/gtest.h>

#include "dynamics/contact_shape.h"

namespace panup {

namespace {

const std::vector<ShapeNode> three_nodes = {
    {0, 0.1, 0, -0.02}, {4, 0.05, 0.01, -0.01}, {10, 0.0, 0.004, 0.004}, {12, 0.02, 0.003, 0}};

TEST(ShapeWalk, PassesThroughItsNodesWithoutAStep) {
  for (const ShapeNode& node : three_nodes) {
    ShapeWalk walk(three_nodes);
    const double before = walk.height(node.at_m - 1e-9);
    const double at = walk.height(node.at_m);
    const double after = walk.height(node.at_m + 1e-9);
    EXPECT_NEAR(at, node.height_m, 1e-15) << node.at_m;
    EXPECT_NEAR(before, node.height_m, 1e-10) << node.at_m;
    EXPECT_NEAR(after, node.height_m, 1e-10) << node.at_m;
  }
}

TEST(ShapeWalk, LeavesAndReachesANodeOnItsSlopes) {
  constexpr double d = 1e-6;
  for (const ShapeNode& node : three_nodes) {
    ShapeWalk walk(three_nodes);
    const double before = walk.height(node.at_m - d);
    const double at = walk.height(node.at_m);
    const double after = walk.height(node.at_m + d);
    EXPECT_NEAR((at - before) / d, node.slope_before, 1e-6) << node.at_m;
    EXPECT_NEAR((after - at) / d, node.slope_after, 1e-6) << node.at_m;
  }
}

TEST(ShapeWalk, IsTheParabolaOfAStringBetweenTwoNodes) {
  const std::vector<ShapeNode> bow = {{0, 0, 0, -0.4}, {10, 0, 0.4, 0}};
  ShapeWalk walk(bow);
  for (int i = 0; i < 40; ++i) {
    const double x = 0.25 * i;
    EXPECT_NEAR(walk.height(x), -0.04 * x * (10 - x), 1e-15) << x;
  }
}

TEST(ShapeWalk, GoesOnLevelBeyondItsEnds) {
  ShapeWalk walk(three_nodes);
  EXPECT_EQ(walk.height(-5), 0.1);
  EXPECT_EQ(walk.height(40), 0.02);
}

}  // namespace

}  // namespace panup
