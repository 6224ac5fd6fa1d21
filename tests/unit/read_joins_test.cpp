#include <gtest/gtest.h>

#include "bad_input_cases.h"
#include "files/read_stock.h"
#include "files/read_train.h"

/// What joins pantographs on the train, and how far their strips reach: read as it stands, and on
/// the safe side where nothing is said.

namespace panup {

namespace {

std::string changed(FileKind kind, const std::string& what, const std::string& into) {
  std::string text(right_text(kind));
  return text.replace(text.find(what), what.size(), into);
}

Stock stock_of(const std::string& text) {
  Diagnostics diagnostics;
  Stock stock = read_stock({{.file = "stock.toml", .text = text}}, diagnostics);
  EXPECT_TRUE(diagnostics.empty());
  return stock;
}

TEST(Joins, OfWhichNothingIsSaidCannotBeOpenedAndStripsAreUnknown) {
  const Stock stock = stock_of(std::string(right_text(FileKind::stock)));
  EXPECT_TRUE(stock.vehicles.front()->roof_line);
  EXPECT_FALSE(stock.vehicles.front()->roof_line_can_be_opened);
  EXPECT_FALSE(stock.pantographs.front()->strip_length_along_track_mm);
}

TEST(Joins, AreReadAsTheyStand) {
  const Stock stock = stock_of(changed(FileKind::stock, "roof_line = true",
                                       "roof_line = true\nroof_line_can_be_opened = true"));
  EXPECT_TRUE(stock.vehicles.front()->roof_line_can_be_opened);
  const Stock other = stock_of(changed(FileKind::stock, "contact_strips = 2",
                                       "contact_strips = 2\nstrip_length_along_track_mm = 560"));
  EXPECT_EQ(other.pantographs.front()->strip_length_along_track_mm, 560);
  Diagnostics diagnostics;
  const auto train =
      read_train({.file = "f.toml",
                  .text = changed(FileKind::train, "[[consent]]",
                                  "[[consist]]\nvehicle = \"m10\"\nleading_cab = 1\n"
                                  "[[high_voltage_line]]\nvehicles = [2, 1]\ncan_be_opened = true\n"
                                  "[[consent]]")},
                 stock, diagnostics);
  ASSERT_TRUE(train) << to_line(diagnostics.front());
  ASSERT_EQ(train->high_voltage_lines.size(), 1U);
  EXPECT_EQ(train->high_voltage_lines.front().vehicles, (std::vector<int>{1, 2}));
  EXPECT_TRUE(train->high_voltage_lines.front().can_be_opened);
}

TEST(Joins, WhetherThereIsAHighVoltageCouplerIsKnownOnlyWhereItIsSaid) {
  EXPECT_FALSE(stock_of(std::string(right_text(FileKind::stock)))
                   .vehicles.front()
                   ->high_voltage_coupler.has_value());
  const Stock stock = stock_of(changed(FileKind::stock, "roof_line = true",
                                       "roof_line = true\nhigh_voltage_coupler = false"));
  EXPECT_EQ(stock.vehicles.front()->high_voltage_coupler, false);
  Diagnostics diagnostics;
  const std::string id = stock.vehicles.front()->id;
  EXPECT_FALSE(
      read_train({.file = "f.toml",
                  .text = changed(FileKind::train, "[[consent]]",
                                  "[[consist]]\nvehicle = \"" + id +
                                      "\"\nleading_cab = 1\n"
                                      "[[consist]]\nvehicle = \"" +
                                      id +
                                      "\"\nleading_cab = 1\n"
                                      "[[high_voltage_line]]\nvehicles = [2, 3]\n[[consent]]")},
                 stock, diagnostics));
  ASSERT_FALSE(diagnostics.empty());
  EXPECT_NE(
      to_line(diagnostics.front()).find("vehicle 2, a " + id + ", has no high-voltage coupler"),
      std::string::npos)
      << to_line(diagnostics.front());
}

}  // namespace

}  // namespace panup
