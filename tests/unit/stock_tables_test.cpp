#include <gtest/gtest.h>

#include "stock_tables/stock_from_tables.h"

namespace panup {
namespace {

struct Read {
  StockTable table;
  Diagnostics mistakes;
};

Read read(const std::string& text, const TableKind& kind = wagon_table) {
  Read read;
  read.table = read_stock_table({.file = "t.csv", .text = text}, kind, read.mistakes);
  return read;
}

std::string first_of(const Diagnostics& mistakes) {
  return mistakes.empty() ? std::string() : to_line(mistakes.front());
}

TEST(StockTables, ColumnsAreNamedAsASpreadsheetNamesThem) {
  EXPECT_EQ(column_letters(1), "A");
  EXPECT_EQ(column_letters(26), "Z");
  EXPECT_EQ(column_letters(27), "AA");
  EXPECT_EQ(column_letters(52), "AZ");
  EXPECT_EQ(column_letters(703), "AAA");
}

TEST(StockTables, AMistakeIsToldByRowAndColumnOfTheSpreadsheet) {
  const Read all = read("\nlength_m,id\n,\n5,w\n");
  ASSERT_TRUE(all.mistakes.empty()) << first_of(all.mistakes);
  ASSERT_EQ(all.table.rows.size(), 1U) << "a row of blank cells is none";
  EXPECT_EQ(to_line(at_cell(all.table, all.table.rows[0], "id", "wrong")),
            "t.csv:4:3: row 4, column B: wrong");
  EXPECT_EQ(to_line(at_cell(all.table, all.table.rows[0], "mass_t", "wrong")),
            "t.csv:4:1: row 4: wrong")
      << "there is no such column";
}

TEST(StockTables, RowsThatFitAreReadBesideThoseThatDoNot) {
  const Read all = read("id;length_m\nw;5;6\nv;7\n\"u;8\n");
  EXPECT_EQ(all.mistakes.size(), 2U);
  ASSERT_EQ(all.table.rows.size(), 1U);
  EXPECT_EQ(all.table.cell(all.table.rows[0], "id"), "v");
}

TEST(StockTables, ACellThatSaysNothingOfWhatItIsOf) {
  Read all = read("id,length_m,highest_speed_kmh\n,5,100\n");
  StockTables tables;
  tables.wagons = all.table;
  EXPECT_FALSE(stock_from_tables(tables, {}, all.mistakes));
  EXPECT_EQ(first_of(all.mistakes),
            "t.csv:2:1: row 2, column A: 'id' is empty, so nobody can say what this row is of");
}

TEST(StockTables, NumbersAreNumbersAlone) {
  for (const auto& [text, comma, is_number] :
       {std::tuple{"5.5", false, true}, std::tuple{"5,5", false, false},
        std::tuple{"5,5", true, true}, std::tuple{"5.5", true, false},
        std::tuple{"1.005,5", true, false}, std::tuple{"5 m", false, false},
        std::tuple{"1,005,5", true, false}, std::tuple{"inf", false, false}}) {
    Read all = read(std::string("id;length_m;highest_speed_kmh\nw;") + text + ";100\n");
    StockTables tables;
    tables.wagons = all.table;
    FromTables how;
    how.decimal_comma = comma;
    EXPECT_EQ(stock_from_tables(tables, how, all.mistakes).has_value(), is_number)
        << text << " " << first_of(all.mistakes);
    EXPECT_EQ(all.mistakes.size(), is_number ? 0U : 1U) << text;
  }
}

}  // namespace
}  // namespace panup
