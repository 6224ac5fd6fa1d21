#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "figures/speed_table.h"

namespace panup {
namespace {

PermittedSpeed permitted(double speed_kmh, std::optional<double> fails_at_kmh, double margin) {
  PermittedSpeed speed;
  speed.speed_kmh = speed_kmh;
  speed.fails_at_kmh = fails_at_kmh;
  speed.looked_from_kmh = 60;
  speed.looked_to_kmh = 160;
  speed.step_kmh = 20;
  speed.edge_error_kmh = fails_at_kmh ? 1 : 0;
  speed.criterion = "force-deviation";
  speed.margin = margin;
  speed.pantograph = 2;
  speed.text = "standard deviation 25 N";
  return speed;
}

class SpeedTableReportTest : public testing::Test {
 protected:
  SpeedTableReportTest() {
    report.id = "t";
    report.name = "Table";
    report.lines = {{"L-1", "First line", "a drawing", false, 400, 10},
                    {"L-2", "Second line", "", true, 380, -5}};
    report.pantographs = {
        {"p", "Pan", "a bench", false, 70, {Knuckle::leading, Knuckle::trailing}}};
    report.supply = EnergySupply::ac_15kv;
    report.up_to_kmh = 160;
    report.samples = 10;
    report.seed = 4;
    report.table.tolerances = {"tension ±5 %"};
    report.table.not_judged = {"support-uplift: L-1 states no space."};
    const std::vector<double> samples{100, 120, 121, 122, 123, 124, 125, 126, 127, 128};
    report.table.rows = {
        {.line = 0, .pantograph = 0, .permitted = permitted(160, {}, 0.31), .samples_kmh = samples},
        {.line = 0,
         .pantograph = 0,
         .count = 2,
         .spacing_m = 12.5,
         .permitted = permitted(0, 60, -0.2),
         .knuckle = Knuckle::trailing,
         .judged = 9,
         .coarse = 4,
         .samples_kmh = samples},
        {.line = 1,
         .pantograph = 0,
         .permitted = permitted(120, 121, -0.01),
         .samples_kmh = samples}};
    PermittedSpeed& last = report.table.rows[2].permitted;
    last.warnings = {{Doubt::contact_lost, Sentence("At 100 km/h: lost.")},
                     {Doubt::energy, Sentence("At 120 km/h: x.")}};
    last.by_supports = SpeedBySupports{130, 120, true};
  }

  std::string row_of_csv(std::size_t row) const {
    std::istringstream lines(csv_text(speed_tables(report).at(0)));
    std::string line;
    for (std::size_t i = 0; i <= row; ++i) {
      std::getline(lines, line);
    }
    return line;
  }

  SpeedTableReport report;
};

TEST_F(SpeedTableReportTest, CsvHasALineForEachRowAndItsDoubtsBesideIt) {
  const std::string heading = row_of_csv(0);
  EXPECT_TRUE(heading.starts_with("row,line,pantograph,count,distance_m,permitted_speed_kmh,"))
      << heading;
  EXPECT_TRUE(
      heading.ends_with("passed_by_50_percent_of_samples_kmh,"
                        "passed_by_90_percent_of_samples_kmh,"
                        "passed_by_100_percent_of_samples_kmh,invented"))
      << heading;
  EXPECT_TRUE(row_of_csv(1).starts_with("1,L-1,p,1,,160.0,,")) << row_of_csv(1);
  EXPECT_TRUE(row_of_csv(1).ends_with(",124.0,120.0,100.0,no")) << row_of_csv(1);
  EXPECT_TRUE(row_of_csv(2).starts_with("2,L-1,p,2,12.5,0.0,60.0,")) << row_of_csv(2);
  EXPECT_TRUE(row_of_csv(3).ends_with(",yes")) << row_of_csv(3);
  EXPECT_NE(row_of_csv(3).find(",130.0,"), std::string::npos) << "with stiff supports";
  const std::vector<CsvTable> tables = speed_tables(report);
  EXPECT_EQ(csv_text(tables.at(1)),
            "row,number,doubt,text\n"
            "3,1,contact-lost,At 100 km/h: lost.\n"
            "3,2,energy,At 120 km/h: x.\n");
}

TEST_F(SpeedTableReportTest, TextSaysOfEachRowWhatDecidesAndWhatIsToBeDoubted) {
  const std::string text = speed_table_to_text(report);
  for (const char* const words :
       {"whichever is worse", "  L-1, p\n", "  L-2, p\n", "all pass; least margin 31 %", "none",
        "50 %  90 %  100 %", "L-2, p, 1 raised: At 100 km/h: lost.",
        "L-2 does not state how stiff its messenger supports are", "-5 °C",
        "Not judged: support-uplift: L-1 states no space.", "does not say where its figures",
        "4 of the 9 speeds", "Samples: 10 of each row, seed 4", "Nobody goes on a roof"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words << '\n' << text;
  }
  EXPECT_EQ(text.find("DEMO"), std::string::npos);
  report.invented = true;
  EXPECT_EQ(speed_table_to_text(report).find("DEMO"), 0U);
}

TEST_F(SpeedTableReportTest, ASpeedWithoutARunSaysWhy) {
  PermittedSpeed& speed = report.table.rows[1].permitted;
  speed.refused = true;
  speed.text = "the line is too short";
  EXPECT_NE(speed_table_to_text(report).find("at 60 km/h no run: the line is too short"),
            std::string::npos);
  EXPECT_EQ(speed_table_to_json(report)["rows"][1]["no_run"], true);
}

TEST_F(SpeedTableReportTest, WithoutSamplesNothingIsSaidOfThem) {
  report.samples = 0;
  for (SpeedTableRow& row : report.table.rows) {
    row.samples_kmh.clear();
  }
  const std::string text = speed_table_to_text(report);
  EXPECT_EQ(text.find("amples"), std::string::npos) << text;
  EXPECT_EQ(row_of_csv(0).find("percent_of_samples"), std::string::npos) << row_of_csv(0);
  EXPECT_TRUE(speed_table_to_json(report)["samples"].is_null());
}

TEST_F(SpeedTableReportTest, JsonHasNothingWhereThereIsNoDistanceNoFailureAndNoChoiceOfSupports) {
  const auto rows = speed_table_to_json(report)["rows"];
  EXPECT_TRUE(rows[0]["distance_m"].is_null());
  EXPECT_TRUE(rows[0]["fails_at_kmh"].is_null());
  EXPECT_TRUE(rows[0]["by_supports"].is_null());
  EXPECT_EQ(rows[1]["distance_m"], 12.5);
  EXPECT_EQ(rows[1]["deciding_knuckle"], "trailing");
  EXPECT_EQ(rows[2]["by_supports"]["soft_kmh"], 120);
  EXPECT_EQ(rows[2]["warnings"][0]["doubt"], "contact-lost");
}

}  // namespace
}  // namespace panup
