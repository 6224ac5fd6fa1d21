#include "register_rows/register_rows.h"

#include <gtest/gtest.h>

#include <array>
#include <sstream>

#include "register_sample.h"

namespace panup {
namespace {

constexpr std::array<std::string_view, 2> columns{"sol", "vmax"};

struct Answer {
  RegisterRows rows;
  Diagnostics mistakes;
  Diagnostics notes;
};

Answer answer(const std::string& text) {
  std::istringstream stream(text);
  Answer read;
  read.rows = read_register_rows(stream, "f", columns, read.mistakes, read.notes);
  return read;
}

using Row = std::vector<std::string>;

TEST(RegisterRows, ReadsJsonAndCsvAlike) {
  const Answer json = answer(
      R"({"head":{"link":[],"vars":["sol","vmax"]},"results":{"distinct":false,"bindings":[
         {"sol":{"type":"uri","value":"a"},"vmax":{"type":"literal","datatype":"int","value":"120"}},
         {"sol":{"type":"uri","xml:lang":"x","value":"b"}}]}})");
  const Answer csv = answer("vmax,sol\r\n120,a\r\n,\"b\"\r\n");
  for (const Answer* const read : {&json, &csv}) {
    ASSERT_TRUE(read->mistakes.empty()) << to_line(read->mistakes[0]);
    ASSERT_EQ(read->rows.rows.size(), 2U);
    EXPECT_EQ(read->rows.rows[0].cells, (Row{"a", "120"}));
    EXPECT_EQ(read->rows.rows[1].cells, (Row{"b", ""}));
    EXPECT_EQ(read->rows.rows[1].number, 2);
  }
  EXPECT_EQ(csv.rows.rows[1].line, 3);
  EXPECT_EQ(to_line(at_row("f", csv.rows.rows[1], "x")), "f:3:1: row 2: x");
  EXPECT_EQ(to_line(at_row("f", json.rows.rows[1], "x")), "f: row 2: x");
}

TEST(RegisterRows, TakeTheHeadBehindTheRowsToo) {
  const Answer read =
      answer(R"({"results":{"bindings":[{"sol":{"value":"a"}}]},"head":{"vars":["vmax","sol"]}})");
  EXPECT_TRUE(read.mistakes.empty());
  EXPECT_EQ(read.rows.rows.at(0).cells, (Row{"a", ""}));
}

TEST(RegisterRows, SayWhichColumnsAreMissingTwiceOrOfNoUse) {
  EXPECT_TRUE(says(answer("sol\na\n").mistakes, "column 'vmax' is missing"));
  EXPECT_TRUE(says(answer(R"({"head":{"vars":["sol"]},"results":{"bindings":[]}})").mistakes,
                   "column 'vmax' is missing"));
  EXPECT_TRUE(says(answer("sol,sol,vmax\n").mistakes, "column 'sol' is there 2 times"));
  const Answer more = answer("sol,vmax,mood\na,1,good\n");
  EXPECT_TRUE(more.mistakes.empty());
  EXPECT_TRUE(says(more.notes, "column 'mood' is not one of the query's"));
}

TEST(RegisterRows, RefuseWhatIsNoAnswer) {
  for (const auto& [text, wrong] : std::initializer_list<std::pair<std::string, std::string>>{
           {"", "f:1:1: the file is empty"},
           {"[]", "it begins with a list"},
           {R"({"head":{},"boolean":true})", "head.vars and results.bindings are expected"},
           {R"({"head":{"vars":["sol","vmax"]},"results":{"bindings":[{"sol":"a"}]}})",
            "row 1: this is no answer"},
           {R"({"head":{"vars":["sol","vmax"]},"results":{"bindings":[7]}})", "is no answer"},
           {R"({"head":{"vars":["sol","vmax"]},"results":{"bindings":[)", "no sound JSON"},
           {"{\"a\":" + std::string(50, '['), "nested more than 16"},
           {"sol,vmax\na\n", "f:2:1: this row has 1 cells; the heading has 2"},
           {"sol,vmax\n\"a,1\n", "f:2:1: quotes in this line do not close"},
           {"sol,vmax\n\xC3,1\n", "f:2:1: this line is not UTF-8"},
           {"sol,vmax\na," + std::string(70'000, '1') + "\n", "f:2:1: the line is longer"}}) {
    const Answer read = answer(text);
    EXPECT_TRUE(says(read.mistakes, wrong)) << text.substr(0, 60);
  }
  EXPECT_TRUE(
      says(answer(R"({"head":{"vars":["sol","vmax"]},"results":{"bindings":[{"sol":{"value":")" +
                  std::string(longest_register_cell + 1, 'a') + R"("}}]}})")
               .mistakes,
           "row 1: 'sol' is longer than"));
}

TEST(RegisterRows, OfAFileThatIsNotThereNothingIsRead) {
  Diagnostics mistakes;
  Diagnostics notes;
  load_register_rows("no/such/file", columns, mistakes, notes);
  EXPECT_TRUE(says(mistakes, "no/such/file: there is no such file"));
}

}  // namespace
}  // namespace panup
