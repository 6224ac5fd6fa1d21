#include "files/read_pantograph_model.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "bad_input_cases.h"
#include "input_texts.h"

namespace panup {

namespace {

PantographModel right_model() {
  Diagnostics diagnostics;
  auto model = read_pantograph_model(
      {.file = "f.toml", .text = std::string(right_text(FileKind::pantograph_model))}, diagnostics);
  EXPECT_EQ(lines_of(diagnostics), "");
  return model.value_or(PantographModel{});
}

TEST(ReadPantographModel, KeepsMassesWithTheHeadFirst) {
  const PantographModel model = right_model();
  EXPECT_EQ(model.id, "pm-1");
  EXPECT_EQ(model.name, "Model one");
  EXPECT_EQ(model.source, "invented");
  ASSERT_EQ(model.masses.size(), 3U);
  EXPECT_EQ(model.masses[0].mass_kg, 6);
  EXPECT_EQ(model.masses[0].stiffness_n_per_m, 7000);
  EXPECT_EQ(model.masses[0].damping_ns_per_m, 12);
  EXPECT_EQ(model.masses[2].stiffness_n_per_m, 0) << "the lowest may stand on no spring";
  EXPECT_EQ(model.contact_stiffness_n_per_m, 60000);
}

TEST(ReadPantographModel, KeepsTheStaticForceOfEachSystem) {
  const PantographModel model = right_model();
  EXPECT_EQ(static_force_of(model, EnergySupply::dc_3kv), 100);
  EXPECT_EQ(static_force_of(model, EnergySupply::dc_1500v), 110);
  EXPECT_EQ(static_force_of(model, EnergySupply::ac_15kv), 70);
  EXPECT_EQ(static_force_of(model, std::nullopt), 70);
}

TEST(ReadPantographModel, TellsTheTwoDirectionsOfTheKnuckleApart) {
  const PantographModel model = right_model();
  EXPECT_DOUBLE_EQ(aerodynamic_force(model, Knuckle::leading, 100), 4);
  EXPECT_DOUBLE_EQ(aerodynamic_force(model, Knuckle::trailing, 100), 6);
}

TEST(ReadPantographModel, ReadsTheReferenceModelAsItIsRemembered) {
  Diagnostics diagnostics;
  const auto model = read_pantograph_model_file(
      std::string(PANUP_DATA_FOLDER) + "/pantographs/reference-en50318-2002.toml", diagnostics);
  ASSERT_TRUE(model) << lines_of(diagnostics);
  ASSERT_EQ(model->masses.size(), 2U);
  EXPECT_EQ(model->masses[0].mass_kg, 7.2);
  EXPECT_EQ(model->masses[0].stiffness_n_per_m, 4200);
  EXPECT_EQ(model->masses[0].damping_ns_per_m, 10);
  EXPECT_EQ(model->masses[1].mass_kg, 15);
  EXPECT_EQ(model->masses[1].stiffness_n_per_m, 50);
  EXPECT_EQ(model->masses[1].damping_ns_per_m, 90);
  EXPECT_EQ(static_force_of(*model, EnergySupply::ac_25kv), 120);
  EXPECT_EQ(aerodynamic_force(*model, Knuckle::leading, 300), 0);
  EXPECT_EQ(model->contact_stiffness_n_per_m, 50000);
}

/// EN 50367 (secondary): 70 N on AC, 110 N on DC 3 kV, and 0.00097 v²; DC 1.5 kV, 140 N: Decision
/// 2011/274/EU (secondary).
TEST(ReadPantographModel, PressesAsThePublishedCurvesSay) {
  Diagnostics diagnostics;
  const auto model = read_pantograph_model_file(
      std::string(PANUP_DATA_FOLDER) + "/pantographs/reference-mean-force.toml", diagnostics);
  ASSERT_TRUE(model) << lines_of(diagnostics);
  for (const auto& [supply, static_n] :
       {std::pair{EnergySupply::ac_15kv, 70.0}, std::pair{EnergySupply::ac_25kv, 70.0},
        std::pair{EnergySupply::dc_3kv, 110.0}, std::pair{EnergySupply::dc_1500v, 140.0}}) {
    EXPECT_EQ(static_force_of(*model, supply), static_n) << name_of(supply);
  }
  for (const Knuckle knuckle : {Knuckle::leading, Knuckle::trailing}) {
    EXPECT_NEAR(aerodynamic_force(*model, knuckle, 200), 38.8, 1e-9);
  }
}

TEST(ReadPantographModel, ReadsEveryModelThatIsShipped) {
  int files = 0;
  for (const auto* const folder : {"/pantographs", "/demo/pantographs"}) {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(PANUP_DATA_FOLDER) + folder)) {
      Diagnostics diagnostics;
      const auto model = read_pantograph_model_file(entry.path().string(), diagnostics);
      ASSERT_TRUE(model) << lines_of(diagnostics);
      EXPECT_FALSE(model->source.empty()) << entry.path() << " says where its figures come from";
      ++files;
    }
  }
  EXPECT_GE(files, 5);
}

TEST(ReadPantographModel, NeedsSomeStaticForce) {
  constexpr std::string_view head = "kind = \"pantograph model\"\nid = \"m\"\n";
  constexpr std::string_view body =
      "aerodynamic_knuckle_leading_n_per_kmh2 = 0\naerodynamic_knuckle_trailing_n_per_kmh2 = 0\n"
      "[[mass]]\nmass_kg = 15\nstiffness_n_per_m = 50\ndamping_ns_per_m = 90\n";
  const auto read = [&](std::string_view first, std::string_view last) {
    Diagnostics diagnostics;
    const auto model = read_pantograph_model(
        {.file = "f.toml",
         .text = std::string(head) + std::string(first) + std::string(body) + std::string(last)},
        diagnostics);
    EXPECT_EQ(model.has_value(), diagnostics.empty());
    return lines_of(diagnostics);
  };
  EXPECT_EQ(read("static_force_n = 70\n", ""), "");
  EXPECT_EQ(read("", "[[static_force]]\nsystem = \"DC 3 kV\"\nstatic_force_n = 100\n"), "");
  EXPECT_EQ(read("", ""),
            "f.toml:1:1: the static force is not given; key 'static_force_n' states it for every "
            "energy supply system, [[static_force]] for one\n");
}

TEST(ReadPantographModel, ReportsAllMistakesAtOnce) {
  Diagnostics diagnostics;
  const std::string text =
      "kind = \"pantograph model\"\nid = \"m\"\nstatic_force_n = inf\n"
      "aerodynamic_knuckle_leading_n_per_kmh2 = 0\naerodynamic_knuckle_trailing_n_per_kmh2 = nan\n"
      "[[mass]]\nmas_kg = 15\nstiffness_n_per_m = 50\ndamping_ns_per_m = 90\n";
  EXPECT_FALSE(read_pantograph_model({.file = "f.toml", .text = text}, diagnostics));
  sort_by_place(diagnostics);
  EXPECT_EQ(lines_of(diagnostics),
            "f.toml:3:18: 'static_force_n' is inf; expected a value from 20 to 300\n"
            "f.toml:5:43: 'aerodynamic_knuckle_trailing_n_per_kmh2' is nan; expected a value from "
            "-0.01 to 0.01\n"
            "f.toml:6:1: key 'mass_kg' is missing\n"
            "f.toml:7:1: unknown key 'mas_kg'; did you mean 'mass_kg'?\n");
}

}  // namespace

}  // namespace panup
