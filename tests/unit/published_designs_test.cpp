/// The published designs of contact lines in data/lines say what their sheets say.
/// Source: Adif NAE 300/301/302 (secondary: notes on them). Masses: area by 8.89 kg/dm³ (IEC 60028,
/// from memory), strand of 150 mm² from a supplier's table (secondary).

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>
#include <string>

#include "dynamics/statics.h"
#include "files/read_contact_line.h"

namespace panup {

namespace {

struct Sheet {
  std::string id;
  double tension_kn;  ///< of all wires
  double contact_kn;  ///< of one
  double contact_mm2;
  double messenger_kg_per_m;
  double pre_sag_permille;
};

const auto sheets = std::to_array<Sheet>({{"dc3kv-160-2x107", 34.55, 10.29, 107, 1.345, 0.6},
                                          {"dc3kv-160-2x120", 37.51, 11.77, 120, 1.345, 0.6},
                                          {"dc3kv-ac25kv-160-2x120", 37.51, 11.77, 120, 1.345, 0.6},
                                          {"dc3kv-ac25kv-200-2x120", 45.57, 14.70, 120, 1.345, 0.5},
                                          {"dc3kv-220-2x150", 61.06, 18.39, 150, 1.655, 0.5}});

/// Each file is read once for all tests.
const ContactLine& line_of(const Sheet& sheet) {
  static std::map<std::string, ContactLine> lines;
  if (!lines.contains(sheet.id)) {
    Diagnostics diagnostics;
    auto line = read_contact_line_file(
        std::string(PANUP_DATA_FOLDER) + "/lines/" + sheet.id + ".toml", diagnostics);
    EXPECT_TRUE(line) << sheet.id;
    lines[sheet.id] = line.value_or(ContactLine{});
  }
  return lines[sheet.id];
}

TEST(PublishedDesigns, AreNamedByTheirIds) {
  for (const Sheet& sheet : sheets) {
    EXPECT_EQ(line_of(sheet).id, sheet.id);
  }
}

TEST(PublishedDesigns, SayThatTheirSourceIsSecondary) {
  for (const Sheet& sheet : sheets) {
    EXPECT_NE(line_of(sheet).source.find("secondary source"), std::string::npos) << sheet.id;
  }
}

TEST(PublishedDesigns, HaveTheTensionsOfTheSheet) {
  for (const Sheet& sheet : sheets) {
    const ContactLine& line = line_of(sheet);
    EXPECT_EQ(line.contact_wires, 2) << sheet.id;
    EXPECT_NEAR(line.contact_wire.tension_n, 1000 * sheet.contact_kn, 1e-6) << sheet.id;
    EXPECT_NEAR(combined_contact_wire(line).tension_n + line.messenger_wire.tension_n,
                1000 * sheet.tension_kn, 1e-6)
        << sheet.id;
  }
}

TEST(PublishedDesigns, HaveTheGeometryOfTheSheet) {
  for (const Sheet& sheet : sheets) {
    const ContactLine& line = line_of(sheet);
    EXPECT_EQ(length_of(line), 1200) << sheet.id << ": the tension length";
    EXPECT_EQ(line.contact_wire_height_m, 5.3) << sheet.id;
    for (const Support& support : line.supports) {
      EXPECT_EQ(support.encumbrance_m, 1.4) << sheet.id;
    }
    for (const Span& span : line.spans) {
      EXPECT_EQ(span.length_m, 60) << sheet.id;
      EXPECT_NEAR(span.pre_sag_m, sheet.pre_sag_permille / 1000 * 60, 1e-9) << sheet.id;
    }
  }
}

TEST(PublishedDesigns, HangWithThePreSagOfTheSheetAndNoSlackDropper) {
  for (const Sheet& sheet : sheets) {
    const ContactLine& line = line_of(sheet);
    const auto state = static_state(line, {}, 2, false);
    ASSERT_TRUE(std::holds_alternative<StaticState>(state)) << sheet.id;
    const auto& hung = std::get<StaticState>(state);
    EXPECT_NEAR(hung.built_sag_m[10], sheet.pre_sag_permille / 1000 * 60, 1e-4) << sheet.id;
    for (const StaticDropper& dropper : hung.droppers) {
      EXPECT_GT(dropper.force_n, 0) << sheet.id << ", dropper at " << dropper.at_m;
    }
  }
}

TEST(PublishedDesigns, WeighWhatTheirAreasWeigh) {
  for (const Sheet& sheet : sheets) {
    const ContactLine& line = line_of(sheet);
    EXPECT_NEAR(line.contact_wire.mass_kg_per_m, sheet.contact_mm2 * 8.89e-3, 5e-4) << sheet.id;
    EXPECT_EQ(line.messenger_wire.mass_kg_per_m, sheet.messenger_kg_per_m) << sheet.id;
  }
}

TEST(PublishedDesigns, HaveTheWaveSpeedOfTensionAndArea) {
  for (const Sheet& sheet : sheets) {
    const double closed_form = std::sqrt(1000 * sheet.contact_kn / (sheet.contact_mm2 * 8.89e-3));
    EXPECT_NEAR(wave_speed(combined_contact_wire(line_of(sheet))), closed_form, 1e-3 * closed_form)
        << sheet.id;
  }
}

/// Eight pairs 0.50 m apart in a span of 60 m, the first 5.25 m from its support, 6.50 m between.
TEST(PublishedDesigns, HaveTheDroppersThatArePublishedForOneOfThem) {
  for (const Sheet& sheet : sheets) {
    for (const Span& span : line_of(sheet).spans) {
      ASSERT_EQ(span.droppers.size(), 16U) << sheet.id;
      double at_m = 5.25;
      for (std::size_t i = 0; i < span.droppers.size(); ++i) {
        EXPECT_NEAR(span.droppers[i].at_m, at_m, 1e-9) << sheet.id;
        at_m += i % 2 == 0 ? 0.5 : 6.5;
      }
    }
  }
}

TEST(PublishedDesigns, DoNotStateWhatTheSheetsLeaveOpen) {
  for (const Sheet& sheet : sheets) {
    const ContactLine& line = line_of(sheet);
    EXPECT_FALSE(states_messenger_stiffness(line)) << sheet.id;
    EXPECT_FALSE(line.uplift_space_mm) << sheet.id;
  }
}

}  // namespace

}  // namespace panup
