#include "rules/only_for.h"

#include <gtest/gtest.h>

namespace panup {
namespace {

TEST(OnlyForWords, NameAllThatARuleIsLimitedTo) {
  EXPECT_EQ(only_for_words({.lines = {"7"}}), "only for line 7");
  EXPECT_EQ(only_for_words({.sections = {"h1", "h2"}, .classes = {"k41"}}),
            "only for section h1 or h2 and class k41");
  EXPECT_EQ(only_for_words({.sections = {"h1"},
                            .lines = {"7", "8", "9"},
                            .classes = {"k41"},
                            .loads = {"dangerous", "sensitive"}}),
            "only for section h1, line 7, 8 or 9, class k41 and a dangerous or sensitive load");
  EXPECT_EQ(only_for_words({.loads = {"ordinary"}}), "only for an ordinary load");
  EXPECT_EQ(only_for_words({}), "");
}

}  // namespace
}  // namespace panup
