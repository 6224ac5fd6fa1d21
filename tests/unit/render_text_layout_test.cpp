#include <gtest/gtest.h>

#include "drawing/text_layout.h"

namespace panup {
namespace {

TEST(TextLayout, CountsColumnsNotBytes) {
  EXPECT_EQ(columns_of("Aldmoor"), 7U);
  EXPECT_EQ(columns_of("Øst–Vår"), 7U);
  EXPECT_EQ(columns_of("e\u0301"), 1U) << "a combining accent takes no column";
  EXPECT_EQ(columns_of("東京"), 4U) << "wide characters take two";
  EXPECT_EQ(columns_of("\xff"), 1U) << "a byte that is no text still takes its place";
}

TEST(TextLayout, BreaksAtSpaces) {
  EXPECT_EQ(wrapped("raise the rear one", 9), (std::vector<std::string>{"raise the", "rear one"}));
  EXPECT_EQ(wrapped("", 9), std::vector<std::string>{""});
  EXPECT_EQ(wrapped("  two   blanks ", 20), std::vector<std::string>{"two blanks"});
}

TEST(TextLayout, BreaksAWordThatIsLongerThanALine) {
  EXPECT_EQ(wrapped("abcdefgh", 3), (std::vector<std::string>{"abc", "def", "gh"}));
  EXPECT_EQ(wrapped("éééé", 2), (std::vector<std::string>{"éé", "éé"})) << "between characters";
  EXPECT_EQ(wrapped("東京", 1), (std::vector<std::string>{"東", "京", ""}))
      << "a character wider than the line still goes on";
}

TEST(TextLayout, KeepsANumberWithItsUnit) {
  EXPECT_EQ(wrapped("no more than 80 km/h here", 16),
            (std::vector<std::string>{"no more than", "80 km/h here"}));
  EXPECT_EQ(wrapped("as far as km 61.7", 12), (std::vector<std::string>{"as far as", "km 61.7"}));
}

TEST(TextLayout, IndentsFurtherLinesByTheLead) {
  EXPECT_EQ(hanging("  12.4  ", "raise the rear one", 18), "  12.4  raise the\n        rear one\n");
}

TEST(TextLayout, AlignsATable) {
  const std::string table = text_table(
      {{.heading = "km", .right_aligned = true}, {.heading = "up"}, {.heading = "why"}},
      {{"0.0", "1.1 2.1", "a reason of several words"}, {"24.6", "1.2", "short"}}, 2, 30);
  EXPECT_EQ(table,
            "    km  up       why\n"
            "   0.0  1.1 2.1  a reason of\n"
            "                 several words\n"
            "  24.6  1.2      short\n");
}

}  // namespace
}  // namespace panup
