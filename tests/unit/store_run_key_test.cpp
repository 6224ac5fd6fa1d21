#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "dynamics_sample_line.h"
#include "runs/run_key.h"

namespace panup {
namespace {

/// A run in which every part that can be there is there.
struct Case {
  Case() : line(sample_line_with_everything(6)) {
    add_stitch_wires(line);
    request = sample_request(line, 120);
    request.line = nullptr;
    request.pantographs.push_back(request.pantographs.front());
    request.pantographs.back().behind_first_m = 20;
    request.pantographs.back().knuckle = Knuckle::trailing;
    for (RunningPantograph& one : request.pantographs) {
      one.model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.0005;
      one.model.aerodynamic_knuckle_trailing_n_per_kmh2 = 0.0007;
    }
    request.settings.step_s = 0.0013;
    request.settings.grid_m = 0.4;
    request.settings.from_m = 100;
    request.settings.to_m = 200;
    request.settings.weather_given = true;
  }

  std::string key() const {
    SimulationRequest asked = request;
    asked.line = &line;
    return run_keys(std::vector{asked}).front();
  }

  ContactLine line;
  SimulationRequest request;
};

using Places = std::vector<double*>;

// Structs are taken apart whole, so that a figure added to one cannot be forgotten here.

void add(Places& places, Wire& wire) {
  auto& [tension, mass, bending, axial, expansion, diameter, deviation] = wire;
  places.insert(places.end(),
                {&tension, &mass, &bending, &axial, &expansion, &diameter, &deviation});
}

void add(Places& places, Support& support) {
  auto& [encumbrance, stiffness, stated, mass, arm_mass, arm_stiffness, stitch] = support;
  places.insert(places.end(), {&encumbrance, &stiffness, &mass, &arm_mass, &arm_stiffness});
  if (stitch) {
    auto& [wire, length] = *stitch;
    add(places, wire);
    places.push_back(&length);
  }
}

void add(Places& places, Span& span) {
  auto& [length, pre_sag, droppers] = span;
  places.insert(places.end(), {&length, &pre_sag});
  for (Dropper& dropper : droppers) {
    auto& [at, stiffness, mass_below, mass_above, deviation] = dropper;
    places.insert(places.end(), {&at, &stiffness, &mass_below, &mass_above, &deviation});
  }
}

void add(Places& places, ContactLine& line) {
  auto& [id, name, invented, source, contact, contact_wires, messenger, termination, temperature,
         mass_damping, stiffness_damping, wire_height, uplift_space, uplift_limited, supports,
         spans, place] = line;
  wire_height = wire_height.value_or(5.5);
  add(places, contact);
  add(places, messenger);
  places.insert(places.end(), {&temperature, &mass_damping, &stiffness_damping, &*wire_height});
  for (Support& support : supports) {
    add(places, support);
  }
  for (Span& span : spans) {
    add(places, span);
  }
}

void add(Places& places, RunningPantograph& pantograph) {
  auto& [model, static_force, knuckle, behind_first] = pantograph;
  auto& [id, name, invented, source, masses, own_force, own_forces, at_height, leading, trailing,
         stiffness, place] = model;
  at_height = at_height.value_or(5.3);
  places.insert(places.end(), {&static_force, &behind_first, &stiffness, &*at_height,
                               knuckle == Knuckle::leading ? &leading : &trailing});
  for (PantographMass& mass : masses) {
    auto& [kilograms, spring, damping] = mass;
    places.insert(places.end(), {&kilograms, &spring, &damping});
  }
}

/// Every figure that a result hangs on.
Places figures_of(Case& one) {
  Places places;
  add(places, one.line);
  for (RunningPantograph& pantograph : one.request.pantographs) {
    add(places, pantograph);
  }
  auto& [step, grid, from, to, weather, weather_given, keep_trace, balance_energy, guarded,
         near_only, wire_shapes, stopped] = one.request.settings;
  auto& [temperature, contact_ice, messenger_ice] = weather;
  places.insert(places.end(), {&one.request.speed_kmh, &*step, &*grid, &*from, &*to, &temperature,
                               &contact_ice, &messenger_ice});
  return places;
}

TEST(RunKey, EveryFigureCounts) {
  std::vector<std::string> keys{Case().key()};
  Case counted;
  const std::size_t figures = figures_of(counted).size();
  EXPECT_GT(figures, 200U);
  for (std::size_t i = 0; i < figures; ++i) {
    Case changed;
    *figures_of(changed)[i] += 1;
    const std::string key = changed.key();
    EXPECT_EQ(key.size(), 32U);
    EXPECT_EQ(std::ranges::count(keys, key), 0) << "figure " << i;
    keys.push_back(key);
  }
}

TEST(RunKey, TheLastBitCounts) {
  Case changed;
  double& length = changed.line.spans[4].length_m;
  length = std::nextafter(length, 1000);
  EXPECT_NE(changed.key(), Case().key());
}

TEST(RunKey, WhatIsNoFigureOrIsNotThereCounts) {
  const std::vector<void (*)(ContactLine&, SimulationRequest&)> changes{
      [](ContactLine&, SimulationRequest&) {},
      [](ContactLine& line, SimulationRequest&) { line.contact_wires = 2; },
      [](ContactLine& line, SimulationRequest&) { line.termination = Termination::fixed; },
      [](ContactLine& line, SimulationRequest&) { line.supports[3].stitch_wire.reset(); },
      [](ContactLine& line, SimulationRequest&) { line.spans[4].droppers.pop_back(); },
      [](ContactLine& line, SimulationRequest&) {
        // The same droppers, one of them in the next span.
        line.spans[2].droppers.insert(line.spans[2].droppers.begin(),
                                      line.spans[1].droppers.back());
        line.spans[1].droppers.pop_back();
      },
      [](ContactLine& line, SimulationRequest&) {
        line.spans.pop_back();
        line.supports.pop_back();
      },
      [](ContactLine&, SimulationRequest& request) { request.pantographs.pop_back(); },
      [](ContactLine&, SimulationRequest& request) {
        request.pantographs[1].knuckle = Knuckle::leading;
      },
      [](ContactLine&, SimulationRequest& request) {
        request.pantographs[1].model.masses.pop_back();
      },
      [](ContactLine&, SimulationRequest& request) { request.settings.step_s.reset(); },
      [](ContactLine&, SimulationRequest& request) { request.settings.step_s = 0; },
      [](ContactLine&, SimulationRequest& request) { request.settings.grid_m.reset(); },
      [](ContactLine&, SimulationRequest& request) { request.settings.from_m.reset(); },
      [](ContactLine&, SimulationRequest& request) { request.settings.from_m = 0; },
      [](ContactLine&, SimulationRequest& request) { request.settings.to_m.reset(); },
      [](ContactLine&, SimulationRequest& request) { request.settings.guarded = false; },
      [](ContactLine&, SimulationRequest& request) { request.settings.near_only = true; },
      [](ContactLine&, SimulationRequest& request) { request.settings.weather_given = false; },
  };
  std::vector<std::string> keys;
  for (const auto change : changes) {
    Case changed;
    change(changed.line, changed.request);
    const std::string key = changed.key();
    EXPECT_EQ(std::ranges::count(keys, key), 0) << "change " << keys.size();
    keys.push_back(key);
  }
}

TEST(RunKey, WeatherThatIsNotGivenDoesNotCount) {
  Case plain;
  plain.request.settings.weather_given = false;
  Case other = plain;
  other.request.settings.weather.temperature_c += 5;
  EXPECT_EQ(other.key(), plain.key());
}

TEST(RunKey, NamesSourcesAndHistoriesDoNotCount) {
  Case other;
  ContactLine& line = other.line;
  SimulationRequest& request = other.request;
  line.id = "other";
  line.name = "Other";
  line.invented = !line.invented;
  line.source = "elsewhere";
  line.place.line = 77;
  line.uplift_space_mm = 123;
  line.uplift_limited_by_design = true;
  request.settings.keep_trace = true;
  request.settings.wire_shapes.emplace();
  request.pantographs[0].model.id = "other";
  request.pantographs[0].model.name = "Other";
  request.pantographs[0].model.invented = false;
  request.pantographs[0].model.source = "elsewhere";
  request.pantographs[0].model.place.line = 77;
  // The static force that presses is that of the request.
  request.pantographs[0].model.static_force_n = 123;
  request.pantographs[0].model.static_forces.push_back({});
  // With the knuckle leading, what it has when trailing is not felt.
  request.pantographs[0].model.aerodynamic_knuckle_trailing_n_per_kmh2 = 0.001;
  EXPECT_EQ(other.key(), Case().key());
}

TEST(RunKey, ARunHasOneNameAmongOthersAndByItself) {
  const ContactLine line = sample_line(12);
  const ContactLine same = sample_line(12);
  const auto keys = run_keys(
      std::vector{sample_request(line, 100), sample_request(same, 100), sample_request(line, 110)});
  EXPECT_EQ(keys[0], keys[1]);
  EXPECT_NE(keys[0], keys[2]);
  EXPECT_EQ(keys[2], run_keys(std::vector{sample_request(same, 110)}).front());
}

TEST(RunKey, TheFingerprintNamesTheVersionAndTheSources) {
  EXPECT_GT(mechanics_fingerprint().size(), 64U);
  EXPECT_NE(mechanics_fingerprint().find(' '), std::string::npos);
}

}  // namespace
}  // namespace panup
