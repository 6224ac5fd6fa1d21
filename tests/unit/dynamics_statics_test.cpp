#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "dynamics/statics.h"
#include "dynamics_sample_line.h"

namespace panup {

namespace {

constexpr double gravity_ms2 = 9.80665;
constexpr LineWeather mild{.temperature_c = 10};

StaticState state_of(const ContactLine& line, const LineWeather& weather = mild,
                     bool with_elasticity = false, int points_per_span = 11) {
  const auto found = static_state(line, weather, points_per_span, with_elasticity);
  if (const auto* reasons = std::get_if<std::vector<Sentence>>(&found)) {
    ADD_FAILURE() << reasons->front().said();
    return {};
  }
  return std::get<StaticState>(found);
}

std::vector<std::string> refusals_of(const ContactLine& line, const LineWeather& weather = mild) {
  const auto found = static_state(line, weather, 11, false);
  const auto* reasons = std::get_if<std::vector<Sentence>>(&found);
  return reasons == nullptr ? std::vector<std::string>{} : said(*reasons);
}

double carried(const StaticState& state) {
  double sum = state.termination_force_n + state.steady_arm_force_n;
  for (const StaticDropper& dropper : state.droppers) {
    sum += dropper.force_n;
  }
  return sum;
}

ContactLine fixed_line(int spans) {
  ContactLine line = sample_line(spans);
  line.termination = Termination::fixed;
  for (Wire* wire : {&line.contact_wire, &line.messenger_wire}) {
    wire->axial_stiffness_n = 15e6;
    wire->thermal_expansion_per_k = 1.7e-5;
  }
  return line;
}

TEST(Statics, CarriesASymmetricLineSymmetrically) {
  ContactLine line = sample_line_with_everything(4);
  add_stitch_wires(line);
  const StaticState state = state_of(line, mild, true);
  const std::size_t count = state.droppers.size();
  ASSERT_EQ(count, 20U);
  for (std::size_t i = 0; i < count; ++i) {
    EXPECT_NEAR(state.droppers[i].force_n, state.droppers[count - 1 - i].force_n, 1e-6) << i;
    EXPECT_NEAR(state.droppers[i].length_m, state.droppers[count - 1 - i].length_m, 1e-9) << i;
  }
  for (std::size_t i = 0; i < state.points.size(); ++i) {
    const StaticPoint& a = state.points[i];
    const StaticPoint& b = state.points[state.points.size() - 1 - i];
    EXPECT_NEAR(a.contact_wire_m, b.contact_wire_m, 1e-9) << a.at_m;
    EXPECT_NEAR(a.messenger_wire_m, b.messenger_wire_m, 1e-9) << a.at_m;
    EXPECT_NEAR(a.elasticity_mm_per_n, b.elasticity_mm_per_n, 1e-8) << a.at_m;
  }
}

/// Of one span, by its points: the lowest below the line between its supports.
double lowest_below_supports(const StaticState& state, double from_m, double to_m) {
  constexpr double tolerance_m = 1e-6;
  std::vector<StaticPoint> within;
  for (const StaticPoint& point : state.points) {
    if (point.at_m > from_m - tolerance_m && point.at_m < to_m + tolerance_m) {
      within.push_back(point);
    }
  }
  double lowest = 0;
  for (const StaticPoint& point : within) {
    const double share = (point.at_m - from_m) / (to_m - from_m);
    const double chord =
        (1 - share) * within.front().contact_wire_m + share * within.back().contact_wire_m;
    lowest = std::max(lowest, chord - point.contact_wire_m);
  }
  return lowest;
}

/// Lines whose spans have 20 and 50 mm of pre-sag, and none.
std::vector<ContactLine> lines_with_pre_sag() {
  std::vector<ContactLine> lines{sample_line(5), sample_line_with_everything(5),
                                 sample_line_with_everything(5), sample_line_with_everything(5)};
  lines[2].contact_wires = 2;
  add_stitch_wires(lines[3]);
  for (ContactLine& line : lines) {
    for (Span& span : line.spans) {
      span.pre_sag_m = 0.02;
    }
    line.spans[1].pre_sag_m = 0.05;
    line.spans[2].length_m = 40;
    line.spans[2].droppers.pop_back();
    line.spans[4].pre_sag_m = 0;
  }
  return lines;
}

TEST(Statics, HasItsLowestPointByThePreSagBelowItsSupports) {
  for (const ContactLine& line : lines_with_pre_sag()) {
    const StaticState state = state_of(line, mild, false, 401);
    const std::vector<double> supports = support_positions(line);
    for (std::size_t i = 0; i < 4; ++i) {
      EXPECT_NEAR(lowest_below_supports(state, supports[i], supports[i + 1]),
                  line.spans[i].pre_sag_m, 2e-5)
          << i;
      EXPECT_NEAR(state.built_sag_m[i], line.spans[i].pre_sag_m, 2e-5) << i;
    }
  }
}

TEST(Statics, LaysTheClampsLevelWithoutPreSag) {
  const StaticState state = state_of(sample_line(3));
  for (const StaticDropper& dropper : state.droppers) {
    const auto node = std::ranges::find_if(state.contact_shape, [&](const ShapeNode& one) {
      return std::abs(one.at_m - dropper.at_m) < 1e-6;
    });
    ASSERT_NE(node, state.contact_shape.end());
    EXPECT_NEAR(node->height_m, 0, 1e-12) << dropper.at_m;
  }
}

TEST(Statics, IsBuiltWithItsPreSagAndIceComesToIt) {
  for (const ContactLine& line : lines_with_pre_sag()) {
    const StaticState built = state_of(line);
    const StaticState iced = state_of(line, {.temperature_c = 10,
                                             .ice_on_contact_wire_kg_per_m = 0.5,
                                             .ice_on_messenger_wire_kg_per_m = 0.5});
    for (std::size_t i = 0; i < built.droppers.size(); ++i) {
      EXPECT_EQ(iced.droppers[i].length_m, built.droppers[i].length_m) << i;
    }
    EXPECT_EQ(iced.built_sag_m, built.built_sag_m);
    EXPECT_GT(iced.contact_sag_m[1], built.contact_sag_m[1] + 0.01);
  }
}

TEST(Statics, RefusesPreSagWhereTheOnlyDropperStandsInMidspan) {
  ContactLine line = sample_line(25);
  for (Span& span : line.spans) {
    span.pre_sag_m = 0.02;
    span.droppers = {span.droppers[2]};
  }
  const std::vector<std::string> reasons = refusals_of(line);
  ASSERT_FALSE(reasons.empty());
  EXPECT_NE(reasons[0].find("no droppers give span"), std::string::npos) << reasons[0];
}

TEST(Statics, HangsFromEachDropperTheWireOfItsField) {
  ContactLine line = sample_line(3);
  for (Dropper& dropper : line.spans[1].droppers) {
    dropper.mass_on_contact_wire_kg = 0.3;
  }
  const StaticState state = state_of(line);
  // Without pre-sag, between neighbours at equal height and equal distance: 10 m of wire.
  EXPECT_NEAR(state.droppers[7].force_n, gravity_ms2 * (10 * 1.35 + 0.3), 1e-6);
  EXPECT_NEAR(state.droppers[2].force_n, gravity_ms2 * 10 * 1.35, 1e-6);
}

TEST(Statics, TakesLoadFromTheInnerDroppersByPreSag) {
  ContactLine line = sample_line(3);
  double inner_before = state_of(line).droppers[7].force_n;
  double outer_before = state_of(line).droppers[5].force_n;
  for (const double pre_sag : {0.02, 0.05, 0.07}) {
    for (Span& span : line.spans) {
      span.pre_sag_m = pre_sag;
    }
    const StaticState state = state_of(line);
    const auto height = [&](std::size_t dropper) {
      return std::ranges::find_if(state.contact_shape,
                                  [&](const ShapeNode& one) {
                                    return std::abs(one.at_m - state.droppers[dropper].at_m) < 1e-6;
                                  })
          ->height_m;
    };
    // Where the wire's chords meet at an angle, its tension takes that much.
    const double angle = (height(6) + height(8) - 2 * height(7)) / 10;
    EXPECT_NEAR(state.droppers[7].force_n, 10 * gravity_ms2 * 1.35 - 20000 * angle, 1e-6);
    EXPECT_LT(state.droppers[7].force_n, inner_before);
    EXPECT_GT(state.droppers[5].force_n, outer_before);
    inner_before = state.droppers[7].force_n;
    outer_before = state.droppers[5].force_n;
  }
}

TEST(Statics, CarriesTheWholeWeightOfTheContactWire) {
  ContactLine line = sample_line_with_everything(4);
  add_stitch_wires(line);
  for (const double ice : {0.0, 0.5}) {
    const StaticState state = state_of(line, {.temperature_c = 10,
                                              .ice_on_contact_wire_kg_per_m = ice,
                                              .ice_on_messenger_wire_kg_per_m = ice});
    EXPECT_NEAR(carried(state), state.contact_weight_n, 1e-6);
    EXPECT_NEAR(state.contact_weight_n, gravity_ms2 * (200 * (1.35 + ice) + 20 * 0.3 + 3 * 0.8),
                1e-9);
  }
}

TEST(Statics, HangsTheSameWhetherBuiltOrFoundFromItsDropperLengths) {
  ContactLine line = sample_line_with_everything(3);
  add_stitch_wires(line);
  const StaticState built = state_of(line);
  // A breath of ice, and the line is no longer taken as built.
  const StaticState found =
      state_of(line, {.temperature_c = 10, .ice_on_contact_wire_kg_per_m = 1e-9});
  for (std::size_t i = 0; i < built.droppers.size(); ++i) {
    EXPECT_NEAR(found.droppers[i].force_n, built.droppers[i].force_n, 1e-5) << i;
    EXPECT_EQ(found.droppers[i].slack_m, 0);
  }
  for (std::size_t i = 0; i < built.points.size(); ++i) {
    EXPECT_NEAR(found.points[i].contact_wire_m, built.points[i].contact_wire_m, 1e-8);
    EXPECT_NEAR(found.points[i].messenger_wire_m, built.points[i].messenger_wire_m, 1e-8);
  }
}

TEST(Statics, RefusesADropperThatWouldHaveToPush) {
  ContactLine line = sample_line(3);
  line.spans[1].pre_sag_m = 0.3;  // T · 8 s/L² is more than the wire weighs
  const std::vector<std::string> reasons = refusals_of(line);
  ASSERT_FALSE(reasons.empty());
  EXPECT_NE(reasons[0].find("dropper at 15.00 m of span 2 would have to push"), std::string::npos)
      << reasons[0];
}

TEST(Statics, RefusesAnEncumbranceTooSmallForTheMessengersSag) {
  ContactLine line = sample_line(3);
  for (Support& support : line.supports) {
    support.encumbrance_m = 0.42;
  }
  const std::vector<std::string> reasons = refusals_of(line);
  for (const char* place : {"25.00 m of span 1", "25.00 m of span 2", "25.00 m of span 3"}) {
    EXPECT_TRUE(std::ranges::any_of(reasons, [&](const std::string& reason) {
      return reason.find(std::string("the dropper at ") + place) != std::string::npos;
    })) << place;
  }
}

TEST(Statics, RefusesATensionSoLowThatTheWiresCannotHang) {
  ContactLine line = sample_line(3);
  line.messenger_wire.tension_n = 500;
  EXPECT_FALSE(refusals_of(line).empty());
}

TEST(Statics, SagsAndPullsMoreWithIce) {
  const ContactLine line = sample_line_with_everything(3);
  StaticState before = state_of(line);
  for (const double ice : {0.2, 0.5, 1.0}) {
    const StaticState state = state_of(line, {.temperature_c = -5,
                                              .ice_on_contact_wire_kg_per_m = ice,
                                              .ice_on_messenger_wire_kg_per_m = ice});
    for (std::size_t span = 0; span < 3; ++span) {
      EXPECT_GT(state.contact_sag_m[span], before.contact_sag_m[span]);
      EXPECT_GT(state.messenger_sag_m[span], before.messenger_sag_m[span]);
    }
    // Each alone may lose to its neighbour, as the sag takes over some load; together they gain.
    EXPECT_GT(carried(state), carried(before));
    EXPECT_GT(state.droppers[5].force_n, before.droppers[5].force_n);
    before = state;
  }
}

TEST(Statics, LeavesTheMiddleDroppersSlackUnderAnIcyMessengerWire) {
  const ContactLine line = sample_line(3);
  // Both wires come down by δ; the contact wire needs no dropper in midspan once its own bow
  // carries it, T · 8 δ/L² > m′ g, that is with δ above 0.2 m or ice of more than 2.4 kg/m.
  const StaticState taut =
      state_of(line, {.temperature_c = 10, .ice_on_messenger_wire_kg_per_m = 1.5});
  for (const StaticDropper& dropper : taut.droppers) {
    EXPECT_GT(dropper.force_n, 0) << dropper.at_m;
    EXPECT_EQ(dropper.slack_m, 0) << dropper.at_m;
  }
  const StaticState state =
      state_of(line, {.temperature_c = 10, .ice_on_messenger_wire_kg_per_m = 6});
  EXPECT_EQ(state.droppers[7].force_n, 0);
  EXPECT_GT(state.droppers[7].slack_m, 0);
  EXPECT_GT(state.droppers[5].force_n, 0) << "those beside the support carry the more";
  EXPECT_GT(state.droppers[5].force_n, taut.droppers[5].force_n);
  for (const StaticDropper& dropper : state.droppers) {
    EXPECT_EQ(dropper.force_n == 0, dropper.slack_m > 0) << dropper.at_m;
    EXPECT_GE(dropper.force_n, 0) << dropper.at_m;
  }
  EXPECT_NEAR(carried(state), state.contact_weight_n, 1e-6);
}

TEST(Statics, TightensAFixedTerminationInTheCold) {
  const ContactLine line = fixed_line(4);
  const StaticState mild_state = state_of(line);
  const StaticState cold = state_of(line, {.temperature_c = -20});
  const StaticState hot = state_of(line, {.temperature_c = 40});
  EXPECT_EQ(mild_state.contact_tension_n, 20000);
  EXPECT_EQ(mild_state.messenger_tension_n, 16000);
  EXPECT_GT(cold.contact_tension_n, 20000);
  EXPECT_GT(cold.messenger_tension_n, 16000);
  EXPECT_LT(hot.contact_tension_n, 20000);
  EXPECT_LT(hot.messenger_tension_n, 16000);
  EXPECT_LT(cold.messenger_sag_m[1], mild_state.messenger_sag_m[1]);
  EXPECT_GT(hot.messenger_sag_m[1], mild_state.messenger_sag_m[1]);
}

TEST(Statics, RefusesOtherWeatherWhereAFixedWiresFiguresAreMissing) {
  ContactLine line = fixed_line(3);
  line.messenger_wire.axial_stiffness_n = 0;
  EXPECT_TRUE(refusals_of(line).empty()) << "at the reference temperature nothing is missing";
  const std::vector<std::string> reasons = refusals_of(line, {.temperature_c = -20});
  ASSERT_EQ(reasons.size(), 1U);
  EXPECT_NE(reasons[0].find("messenger wire's axial stiffness"), std::string::npos) << reasons[0];
}

TEST(Statics, KeepsTheTensionOfAnAutoTensionedLine) {
  const ContactLine line = sample_line(3);
  for (const double celsius : {-30.0, 45.0}) {
    const StaticState state = state_of(line, {.temperature_c = celsius});
    EXPECT_EQ(state.contact_tension_n, 20000);
    EXPECT_EQ(state.messenger_tension_n, 16000);
    EXPECT_NEAR(state.droppers[7].force_n, state_of(line).droppers[7].force_n, 1e-6);
  }
}

TEST(Statics, TakesTwinContactWiresAsOneOfTwiceTheMassAndTension) {
  ContactLine twin = sample_line_with_everything(3);
  twin.contact_wires = 2;
  ContactLine one = twin;
  one.contact_wires = 1;
  one.contact_wire = combined_contact_wire(twin);
  EXPECT_EQ(one.contact_wire.tension_n, 40000);
  const StaticState a = state_of(twin, mild, true);
  const StaticState b = state_of(one, mild, true);
  EXPECT_EQ(a.contact_tension_n, b.contact_tension_n);
  EXPECT_EQ(a.contact_weight_n, b.contact_weight_n);
  for (std::size_t i = 0; i < a.droppers.size(); ++i) {
    EXPECT_EQ(a.droppers[i].force_n, b.droppers[i].force_n);
  }
  for (std::size_t i = 0; i < a.points.size(); ++i) {
    EXPECT_EQ(a.points[i].messenger_wire_m, b.points[i].messenger_wire_m);
    EXPECT_EQ(a.points[i].elasticity_mm_per_n, b.points[i].elasticity_mm_per_n);
  }
}

TEST(Statics, PutsIceOnEachOfTwoContactWires) {
  ContactLine twin = sample_line(2);
  twin.contact_wires = 2;
  const StaticState state =
      state_of(twin, {.temperature_c = 10, .ice_on_contact_wire_kg_per_m = 0.4});
  EXPECT_NEAR(state.contact_weight_n, gravity_ms2 * 100 * 2 * (1.35 + 0.4), 1e-9);
}

TEST(Statics, TendsToAStringAsBendingStiffnessVanishes) {
  ContactLine line = sample_line(3);
  const StaticState string = state_of(line, mild, true, 26);
  double before_m = 1;
  double before_mm_per_n = 1;
  for (const double stiffness : {100.0, 10.0, 1.0}) {
    line.contact_wire.bending_stiffness_nm2 = stiffness;
    line.messenger_wire.bending_stiffness_nm2 = stiffness;
    const StaticState beam = state_of(line, mild, true, 26);
    double apart_m = 0;
    double apart_mm_per_n = 0;
    for (std::size_t i = 0; i < string.points.size(); ++i) {
      apart_m = std::max(apart_m,
                         std::abs(beam.points[i].contact_wire_m - string.points[i].contact_wire_m));
      apart_mm_per_n = std::max(apart_mm_per_n, std::abs(beam.points[i].elasticity_mm_per_n -
                                                         string.points[i].elasticity_mm_per_n));
    }
    EXPECT_LT(apart_m, 0.6 * before_m) << stiffness;
    EXPECT_LT(apart_mm_per_n, 0.6 * before_mm_per_n) << stiffness;
    // A force presses a bend of half-width λ = √(EI/T) where a string has a kink: λ/2T each newton,
    // there and at the droppers beside it.
    EXPECT_LT(apart_mm_per_n, 1000 * 2 * std::sqrt(stiffness / 20000) / 20000) << stiffness;
    before_m = apart_m;
    before_mm_per_n = apart_mm_per_n;
  }
}

TEST(Statics, HangsABendingWireWhateverTheDistancesOfItsDroppers) {
  // Where nodes come closer by doubling from 0.05 m, those of both sides meet in a gap of 0.4, 0.8,
  // 1.6, 3.2 or 6.4 m. Points stand beside droppers at every distance, down to a hair.
  for (const double gap : {0.8, 1.6, 3.2, 6.4}) {
    const int droppers = static_cast<int>(50 / gap);
    for (const double off : {0.0, 1e-12, -1e-9, 1e-5, 0.0011}) {
      ContactLine line = sample_line(3);
      line.contact_wire.bending_stiffness_nm2 = 500;
      line.messenger_wire.bending_stiffness_nm2 = 200;
      for (Span& span : line.spans) {
        span.length_m = gap * droppers;
        span.droppers.clear();
        for (int i = 0; i < droppers; ++i) {
          span.droppers.push_back({.at_m = gap * (i + 0.5) + off, .stiffness_n_per_m = 100000});
        }
      }
      for (const int points : {2, 2 * droppers + 1}) {
        const StaticState state = state_of(
            line, {.temperature_c = 10, .ice_on_contact_wire_kg_per_m = 0.1}, true, points);
        EXPECT_NEAR(carried(state) / state.contact_weight_n, 1, 1e-6) << gap << ' ' << off;
        for (const StaticPoint& point : state.points) {
          EXPECT_LT(point.elasticity_mm_per_n, 1) << gap << ' ' << off;
          EXPECT_GE(point.elasticity_mm_per_n, 0) << gap << ' ' << off;
        }
      }
    }
  }
}

TEST(Statics, EvensTheElasticityWithStitchWires) {
  const ContactLine plain = sample_line(3);
  ContactLine stitched = plain;
  add_stitch_wires(stitched);
  const auto elasticity = [](const ContactLine& line) {
    const StaticState state = state_of(line, mild, true, 21);
    std::vector<double> of_middle_span;
    for (const StaticPoint& point : state.points) {
      if (point.at_m >= 50 - 1e-6 && point.at_m <= 100 + 1e-6) {
        of_middle_span.push_back(point.elasticity_mm_per_n);
      }
    }
    return of_middle_span;
  };
  const std::vector<double> without = elasticity(plain);
  const std::vector<double> with = elasticity(stitched);
  ASSERT_EQ(without.size(), 21U);
  ASSERT_EQ(with.size(), 21U);
  EXPECT_GT(with.front(), without.front()) << "softer at the support";
  const auto unevenness = [](const std::vector<double>& values) {
    const auto [least, greatest] = std::ranges::minmax_element(values);
    return (*greatest - *least) / (*greatest + *least);
  };
  EXPECT_LT(unevenness(with), unevenness(without));
}

TEST(Statics, HangsDroppersWithinAStitchWireFromIt) {
  ContactLine line = sample_line(3);
  add_stitch_wires(line);
  for (const StaticDropper& dropper : state_of(line).droppers) {
    const double x = dropper.at_m - 50 * dropper.span;
    const bool beside_inner_support = (x == 5 && dropper.span > 0) || (x == 45 && dropper.span < 2);
    EXPECT_EQ(dropper.on_stitch_wire, beside_inner_support) << dropper.at_m;
  }
}

TEST(Statics, IsStiffestAtTheSupportsAndFirmAtTheEnds) {
  const StaticState state = state_of(sample_line(3), mild, true, 11);
  EXPECT_EQ(state.points.front().elasticity_mm_per_n, 0);
  EXPECT_EQ(state.points.back().elasticity_mm_per_n, 0);
  double at_support = 0;
  double in_midspan = 0;
  for (const StaticPoint& point : state.points) {
    at_support = std::abs(point.at_m - 50) < 1e-6 ? point.elasticity_mm_per_n : at_support;
    in_midspan = std::abs(point.at_m - 75) < 1e-6 ? point.elasticity_mm_per_n : in_midspan;
  }
  EXPECT_GT(at_support, 0);
  EXPECT_GT(in_midspan, 1.5 * at_support);
}

TEST(ContactShape, IsContinuousWithKinksWhereForcesAct) {
  ContactLine line = sample_line(2);
  for (Dropper& dropper : line.spans[0].droppers) {
    dropper.mass_on_contact_wire_kg = 0.3;
  }
  const StaticState state = state_of(line);
  for (std::size_t i = 1; i + 1 < state.contact_shape.size(); ++i) {
    const ShapeNode& node = state.contact_shape[i];
    double force = 0;
    for (const StaticDropper& dropper : state.droppers) {
      if (std::abs(dropper.at_m - node.at_m) < 1e-6) {
        force = dropper.force_n - (dropper.span == 0 ? gravity_ms2 * 0.3 : 0);
      }
    }
    // T (w′ before − w′ after) is what holds the string up there.
    EXPECT_NEAR(20000 * (node.slope_before - node.slope_after), force, 1e-6) << node.at_m;
  }
}

TEST(ContactShape, HasNoKinkWhereTheWireBends) {
  const StaticState state = state_of(sample_line_with_everything(2));
  for (const ShapeNode& node : state.contact_shape) {
    EXPECT_EQ(node.slope_before, node.slope_after) << node.at_m;
  }
}

TEST(ContactShape, HoldsWeightOverTensionBetweenTheDroppersOfAString) {
  // Between two nodes w″ = m′ g/T.
  const StaticState state = state_of(sample_line(2));
  for (std::size_t i = 0; i + 1 < state.contact_shape.size(); ++i) {
    const ShapeNode& a = state.contact_shape[i];
    const ShapeNode& b = state.contact_shape[i + 1];
    EXPECT_NEAR(b.slope_before - a.slope_after, gravity_ms2 * 1.35 / 20000 * (b.at_m - a.at_m),
                1e-12);
    EXPECT_NEAR((b.slope_before + a.slope_after) / 2 * (b.at_m - a.at_m), b.height_m - a.height_m,
                1e-12);
  }
}

}  // namespace

}  // namespace panup
