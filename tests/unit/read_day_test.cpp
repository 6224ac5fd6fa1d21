/// The day and its table of trains: what is read from them, and where a mistake of the table is
/// told.

#include "files/read_day.h"

#include <gtest/gtest.h>

#include <map>

#include "input_texts.h"

namespace panup {
namespace {

FileSource files_of(const std::map<std::string, std::string>& texts) {
  return {.load = [texts](const std::string& path,
                          Diagnostics& diagnostics) -> std::optional<SourceText> {
            const auto found = texts.find(path);
            if (found == texts.end()) {
              diagnostics.push_back({{.file = path}, "there is no such file"});
              return std::nullopt;
            }
            return SourceText{.file = path, .text = found->second};
          },
          .has = [texts](const std::string& path) { return texts.contains(path); }};
}

constexpr std::string_view day_with_table = R"(kind = "day"
date = 2031-05-13
conditions = "fair.toml"
rules = ["../rules/r.toml"]
table = "tables/t.csv"

[[train]]
number = "Sp 7"
train = "../trains/t1.toml"
route = "r.toml"
departure = 05:40:30
)";

std::optional<DayFile> read(const std::string& table, Diagnostics& diagnostics) {
  return read_day({.file = "days/d.toml", .text = std::string(day_with_table)},
                  files_of({{"days/tables/t.csv", table}}), diagnostics);
}

std::string said_of_table(const std::string& table) {
  Diagnostics diagnostics;
  EXPECT_FALSE(read(table, diagnostics));
  return lines_of(diagnostics);
}

TEST(ReadDay, RowsOfTheFileComeFirstAndPathsAreRelativeToWhereTheyStand) {
  Diagnostics diagnostics;
  const auto day = read(
      "number,route,train,departure,vehicles,conditions\n"
      "41,../../routes/r2.toml,t2.toml,06:05, K41 1 +K41 2,iced.toml\n\n"
      "42,r3.toml,\"t,3.toml\",,,\n",
      diagnostics);
  ASSERT_TRUE(day) << lines_of(diagnostics);
  EXPECT_EQ(day->name, "2031-05-13") << "where no name is stated";
  EXPECT_EQ(day->date, "2031-05-13");
  EXPECT_EQ(day->rules.front().path, "rules/r.toml");
  EXPECT_EQ(day->conditions->path, "days/fair.toml");
  ASSERT_EQ(day->trains.size(), 3U);
  EXPECT_EQ(day->trains[0].number, "Sp 7");
  EXPECT_EQ(day->trains[0].train.path, "trains/t1.toml");
  EXPECT_EQ(day->trains[0].departure, "05:40:30");
  EXPECT_TRUE(day->trains[0].vehicles.empty());
  EXPECT_FALSE(day->trains[0].conditions);
  const DayTrain& row = day->trains[1];
  EXPECT_EQ(row.number, "41");
  EXPECT_EQ(row.train.path, "days/tables/t2.toml");
  EXPECT_EQ(row.route.path, "routes/r2.toml");
  EXPECT_EQ(row.departure, "06:05:00");
  EXPECT_EQ(row.vehicles, (std::vector<std::string>{"K41 1", "K41 2"}));
  EXPECT_EQ(row.conditions->path, "days/tables/iced.toml");
  EXPECT_EQ(to_line({row.vehicles_place, "here"}), "days/tables/t.csv:2:40: here");
  EXPECT_EQ(day->trains[2].train.path, "days/tables/t,3.toml");
  EXPECT_EQ(day->trains[2].departure, "");
}

TEST(ReadDay, ATableMayBeSeparatedBySemicolons) {
  Diagnostics diagnostics;
  const auto day = read("number;train;route\n41;t2.toml;r.toml\n", diagnostics);
  ASSERT_TRUE(day) << lines_of(diagnostics);
  EXPECT_EQ(day->trains.back().train.path, "days/tables/t2.toml");
}

TEST(ReadDay, MistakesInTheHeadingAreToldAtTheirPlaces) {
  EXPECT_EQ(said_of_table(""),
            "days/tables/t.csv:1:1: the table is empty; its first line has the headings number, "
            "train, route and, where they are used, departure, vehicles, conditions, run\n");
  EXPECT_EQ(said_of_table("number,trian,route,colour\n"),
            "days/tables/t.csv:1:8: there is no column 'trian'; did you mean 'train'?\n"
            "days/tables/t.csv:1:20: there is no column 'colour'; the headings are number, train, "
            "route, departure, vehicles, conditions and run\n");
  EXPECT_EQ(said_of_table("number,train\n"), "days/tables/t.csv:1:1: column 'route' is missing\n");
  EXPECT_EQ(said_of_table("number,train,route,train\n"),
            "days/tables/t.csv:1:20: column 'train' stands here a second time\n");
}

TEST(ReadDay, ANumberIsThereOnceInFileAndTableTogether) {
  EXPECT_EQ(said_of_table("number,train,route\nSp_7,t.toml,r.toml\n"),
            "days/tables/t.csv:2:1: train number \"Sp_7\" stands here a second time, after "
            "days/d.toml:8:10\n");
}

TEST(ReadDay, TimesThatAreNoneAreTold) {
  for (const char* const time :
       {"24:00", "5:40", "05:60", "05:40:60", "05.40", "05:4a", "05:40:0"}) {
    EXPECT_NE(said_of_table("number,train,route,departure\n1,t,r," + std::string(time) + "\n")
                  .find("expected a time of day, as in 05:40"),
              std::string::npos)
        << time;
  }
}

TEST(ReadDay, ADayWithoutTrainsIsNone) {
  Diagnostics diagnostics;
  EXPECT_FALSE(read_day({.file = "d.toml", .text = "kind = \"day\"\ndate = 2031-05-13\n"},
                        files_of({}), diagnostics));
  EXPECT_EQ(lines_of(diagnostics),
            "d.toml:1:1: the day has no train: each begins with [[train]], or 'table' names a file "
            "of them\n");
}

TEST(ReadDay, ATableThatIsNoTextIsRefused) {
  EXPECT_NE(said_of_table("number,train,route\n1,\xFF,r\n"), "");
  EXPECT_EQ(said_of_table("number,train,route\n1,t\x01,r\n"),
            "days/tables/t.csv:2:3: 'train' holds a control character\n");
}

TEST(FolderOfANumber, HasNoSpace) { EXPECT_EQ(folder_of_number("Sp 7 b"), "Sp_7_b"); }

}  // namespace
}  // namespace panup
