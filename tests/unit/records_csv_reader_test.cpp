#include <gtest/gtest.h>

#include <sstream>

#include "records/csv_reader.h"

namespace panup {
namespace {

std::vector<std::string> cells_of(const std::string& line, char separator, bool* wrong = nullptr) {
  std::istringstream stream(line);
  CsvReader reader(stream);
  std::vector<std::string> cells;
  if (reader.next_line()) {
    for (const CsvCell& cell : reader.cells(separator)) {
      cells.emplace_back(cell.text);
    }
    if (wrong != nullptr) {
      *wrong = reader.quotes_wrong();
    }
  }
  return cells;
}

using Cells = std::vector<std::string>;

TEST(CsvReader, CutsARowAtItsSeparator) {
  EXPECT_EQ(cells_of("1,2,,4,", ','), (Cells{"1", "2", "", "4", ""}));
  EXPECT_EQ(cells_of(" 1.5 ;\t2 ; ", ';'), (Cells{"1.5", "2", ""}));
  EXPECT_EQ(cells_of("a\tb\t\tc", '\t'), (Cells{"a", "b", "", "c"}));
}

TEST(CsvReader, TakesQuotesOffAndKeepsSeparatorsWithinThem) {
  EXPECT_EQ(cells_of(R"("a,b" ,"say ""no""",c)", ','), (Cells{"a,b", "say \"no\"", "c"}));
  bool wrong = false;
  cells_of(R"("a,b)", ',', &wrong);
  EXPECT_TRUE(wrong) << "quotes that do not close";
  cells_of(R"("a"b,c)", ',', &wrong);
  EXPECT_TRUE(wrong) << "something behind quotes";
  cells_of(R"("a" ,c)", ',', &wrong);
  EXPECT_FALSE(wrong);
}

TEST(CsvReader, TellsTheColumnAtWhichACellBegins) {
  std::istringstream stream("12; \"x\";  7\n");
  CsvReader reader(stream);
  ASSERT_TRUE(reader.next_line());
  const auto& cells = reader.cells(';');
  ASSERT_EQ(cells.size(), 3U);
  EXPECT_EQ(cells[0].column, 1);
  EXPECT_EQ(cells[1].column, 5);
  EXPECT_EQ(cells[2].column, 11);
}

TEST(CsvReader, EndsLinesAtLineFeedsAndPassesAByteOrderMarkOver) {
  std::istringstream stream(
      "\xEF\xBB\xBF"
      "a\r\n\n \nb");
  CsvReader reader(stream);
  std::vector<std::string> lines;
  std::vector<int> blank;
  while (reader.next_line()) {
    lines.emplace_back(reader.text());
    if (reader.is_blank()) {
      blank.push_back(reader.line());
    }
  }
  EXPECT_EQ(lines, (Cells{"a", "", " ", "b"}));
  EXPECT_EQ(blank, (std::vector<int>{2, 3}));
}

TEST(CsvReader, CountsLinesOverItsBufferAndDropsOneThatIsTooLong) {
  std::string text;
  const std::string line(997, 'x');
  for (int i = 0; i < 3000; ++i) {
    text += line + "\n";
  }
  text += std::string(3'000'000, 'y') + "\nlast\n";
  std::istringstream stream(text);
  CsvReader reader(stream);
  for (int i = 0; i < 3000; ++i) {
    ASSERT_TRUE(reader.next_line());
    ASSERT_EQ(reader.text(), line) << i;
  }
  ASSERT_TRUE(reader.next_line());
  EXPECT_TRUE(reader.too_long());
  EXPECT_EQ(reader.text(), "");
  ASSERT_TRUE(reader.next_line());
  EXPECT_FALSE(reader.too_long());
  EXPECT_EQ(reader.text(), "last");
  EXPECT_EQ(reader.line(), 3002);
  EXPECT_FALSE(reader.next_line());
}

TEST(CsvReader, TakesALineOfTheGreatestLengthAndNoLongerOne) {
  for (const std::size_t length : {CsvReader::longest_line, CsvReader::longest_line + 1}) {
    std::istringstream stream(std::string(length, 'z'));
    CsvReader reader(stream);
    ASSERT_TRUE(reader.next_line());
    EXPECT_EQ(reader.too_long(), length > CsvReader::longest_line);
    EXPECT_FALSE(reader.next_line());
  }
}

TEST(CsvReader, DropsALineThatIsTooLongThoughItsEndWasReadWithIt) {
  std::istringstream stream(std::string(CsvReader::longest_line + 1, 'z') + "\nlast\n");
  CsvReader reader(stream);
  ASSERT_TRUE(reader.next_line());
  EXPECT_TRUE(reader.too_long());
  EXPECT_EQ(reader.text(), "");
  ASSERT_TRUE(reader.next_line());
  EXPECT_FALSE(reader.too_long());
  EXPECT_EQ(reader.text(), "last");
}

TEST(CsvReader, ForgetsNoWrongQuotesForRightOnesBehindThem) {
  bool wrong = false;
  cells_of(R"("a"b,"c")", ',', &wrong);
  EXPECT_TRUE(wrong);
}

TEST(CsvReader, KeepsAnEmptyCellBetweenTabsBeforeQuotes) {
  EXPECT_EQ(cells_of("a\t\t\"b\"", '\t'), (Cells{"a", "", "b"}));
}

}  // namespace
}  // namespace panup
