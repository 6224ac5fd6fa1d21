/// Several mistakes at once: each is reported, and none for another's sake.

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "bad_input_cases.h"
#include "files/read_route.h"
#include "files/read_train.h"
#include "input_texts.h"

namespace panup {

namespace {

std::string with(std::string_view line_in_right_route, std::string_view by) {
  return replaced(std::string(right_text(FileKind::route)), line_in_right_route, by);
}

/// Parts with their mistakes: "FILE:LINE:COLUMN:" taken off.
std::vector<std::string> texts_of(const Diagnostics& diagnostics) {
  std::vector<std::string> texts;
  for (const Diagnostic& diagnostic : diagnostics) {
    texts.push_back(diagnostic.text);
  }
  return texts;
}

TEST(SeveralMistakesInARoute, DoNotHideWhatIsWrongBetweenOtherEntries) {
  std::string text = with("at_km = 4", "at_km = 24\nplate = true");
  text = replaced(text, "from_km = 10\nto_km = 20", "from_km = 10.5\nto_km = 20");
  text = replaced(text, "at_km = 5", "at_km = 15.1");
  const Diagnostics said = mistakes_of(FileKind::route, text);
  EXPECT_EQ(texts_of(said),
            (std::vector<std::string>{
                "section 'a2' begins at km 10.5, after where 'a1' ends, at km 10",
                "'Mosk' lies within 'Gantry', which is passed with pantographs down: the train "
                "could not start",
                "'Mosk home signal' at km 24 lies outside the route, which runs from km 0 to 20",
                "unknown key 'plate'"}))
      << lines_of(said);
}

TEST(SeveralMistakesInARoute, SayNothingOfPlacesThatCouldNotBeRead) {
  // The end of the route, the stop and the border are not known: whether anything lies outside of
  // the route, or a system changes without a separation section, cannot be said.
  std::string text = with("from_km = 10\nto_km = 20", "from_km = 10\nto_km = \"20\"");
  text = replaced(text, "at_km = 5", "at_km = -5");
  text = replaced(text, "length_m = 200", "length_m = 20000");
  const Diagnostics said = mistakes_of(FileKind::route, text);
  EXPECT_EQ(texts_of(said),
            (std::vector<std::string>{"'to_km' is text; expected a number, without quotes",
                                      "'length_m' is 20000; expected a value above 0, up to 5000",
                                      "'at_km' is -5; expected a value from 0 to 5000"}))
      << lines_of(said);
}

TEST(SeveralMistakesInARoute, CompareAStretchWithTheFarthestBeforeIt) {
  const std::string text =
      with("[[lowered]]",
           "[[separation]]\nname = \"Inner\"\ntype = \"phase\"\nfrom_km = 15.05\nlength_m = 10\n"
           "pantograph_lowered = false\nbreaker_off = true\n"
           "[[separation]]\nname = \"Later\"\ntype = \"phase\"\nfrom_km = 15.2\nlength_m = 10\n"
           "pantograph_lowered = false\nbreaker_off = true\n[[lowered]]");
  EXPECT_EQ(texts_of(mistakes_of(FileKind::route, text)),
            (std::vector<std::string>{
                "'Inner' begins at km 15.05, within 'Gantry', which ends at km 15.3",
                "'Later' begins at km 15.2, within 'Gantry', which ends at km 15.3"}));
}

TEST(SeveralMistakesInARoute, ARecordOfAnUnknownNumberIsReportedOnce) {
  EXPECT_EQ(texts_of(mistakes_of(FileKind::route, with("{ number = 2,", "{ number = 20,"))),
            std::vector<std::string>{"'number' is 20; expected a value from 1 to 16"});
}

/// A folder with a train file and the stock file it names.
class TrainOnDisk : public testing::Test {
 protected:
  void SetUp() override {
    const auto* const test = testing::UnitTest::GetInstance()->current_test_info();
    folder_ =
        std::filesystem::temp_directory_path() / (std::string("panup-several-") + test->name());
    std::filesystem::create_directories(folder_);
    write("train.toml", std::string(right_text(FileKind::train)));
    write("stock.toml", std::string(right_text(FileKind::stock)));
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
  }

  /// Lines without the folder's name.
  std::string said() const {
    Diagnostics diagnostics;
    const bool read = read_train_file((folder_ / "train.toml").string(), diagnostics).has_value();
    EXPECT_EQ(read, diagnostics.empty());
    std::string lines = lines_of(diagnostics);
    const std::string prefix = folder_.string() + "/";
    for (std::size_t at = lines.find(prefix); at != std::string::npos; at = lines.find(prefix)) {
      lines.erase(at, prefix.size());
    }
    return lines;
  }

  std::filesystem::path folder_;
};

TEST_F(TrainOnDisk, IsReadWithItsStock) { EXPECT_EQ(said(), ""); }

TEST_F(TrainOnDisk, AMissingStockFileIsReportedWhereItIsNamedAndNothingForItsSake) {
  write("train.toml", replaced(std::string(right_text(FileKind::train)), "[\"stock.toml\"]",
                               "[\"stock.toml\", \"more.toml\", \"stock.toml\"]"));
  EXPECT_EQ(said(), "train.toml:5:24: more.toml: there is no such file\n");
}

TEST_F(TrainOnDisk, BrokenStockIsReportedAndNoTypeOfItIsMissed) {
  write("stock.toml", replaced(std::string(right_text(FileKind::stock)), "id = \"h1\"", "id = h1"));
  const std::string lines = said();
  EXPECT_TRUE(lines.starts_with("stock.toml:5:6: text stands in quotes")) << lines;
  EXPECT_EQ(std::ranges::count(lines, '\n'), 1) << lines;
}

TEST_F(TrainOnDisk, AMistakeInOneTypeDoesNotHideAnUnknownOne) {
  write("stock.toml", replaced(std::string(right_text(FileKind::stock)), "static_force_n = 70",
                               "static_force_n = 7"));
  EXPECT_EQ(said(), "stock.toml:19:18: 'static_force_n' is 7; expected a value from 20 to 300\n")
      << "the train's locomotive carries that type, and is known all the same";
  write("train.toml", replaced(std::string(right_text(FileKind::train)), "vehicle = \"k41\"",
                               "vehicle = \"k42\""));
  EXPECT_EQ(said(),
            "stock.toml:19:18: 'static_force_n' is 7; expected a value from 20 to 300\n"
            "train.toml:11:11: there is no vehicle type 'k42'; did you mean 'k41'?\n");
}

TEST_F(TrainOnDisk, NoStockAtAllIsAMistake) {
  write("train.toml", replaced(std::string(right_text(FileKind::train)), "[\"stock.toml\"]", "[]"));
  EXPECT_EQ(said(),
            "train.toml:5:9: 'stock' is empty; it names the files that have the vehicle types\n");
}

TEST(ReadStock, LeavesOutTypesThatAreNotLookedUp) {
  std::string text(right_text(FileKind::stock));
  const std::size_t vehicles = text.find("[[vehicle]]");
  const SourceText only_vehicles{.file = "v.toml",
                                 .text = "kind = \"stock\"\n" + text.substr(vehicles)};
  Diagnostics diagnostics;
  const Stock stock = read_stock({only_vehicles}, diagnostics, PantographTypes::not_looked_up);
  EXPECT_EQ(lines_of(diagnostics), "");
  ASSERT_EQ(stock.vehicles.size(), 1U) << "the wagon group has no pantographs";
  EXPECT_EQ(stock.vehicles[0]->id, "tank-20");
  read_stock({only_vehicles}, diagnostics);
  EXPECT_EQ(texts_of(diagnostics), (std::vector<std::string>{"there is no pantograph type 'h1'",
                                                             "there is no pantograph type 'h1'",
                                                             "there is no pantograph type 'd1'"}));
}

}  // namespace

}  // namespace panup
