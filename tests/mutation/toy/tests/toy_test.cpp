#include "toy.h"

#include <gtest/gtest.h>

// The limit itself is tried: a `<` in its place is noticed.
TEST(Fits, UpToTheLimit) {
  EXPECT_TRUE(fits(3, 3));
  EXPECT_FALSE(fits(4, 3));
}

// The limits are not tried: `<=` goes unnoticed.
TEST(Between, InTheMiddleAndFarOutside) {
  EXPECT_TRUE(is_between(5, 0, 10));
  EXPECT_FALSE(is_between(-5, 0, 10));
  EXPECT_FALSE(is_between(15, 0, 10));
}

// Nothing above the limit of 100 is tried, and no zero.
TEST(Sum, LeavesOutWhatIsNegative) { EXPECT_EQ(sum_of_positive({1, -2, 3}), 4); }

// The height is not looked at.
TEST(Square, HasItsWidthAndName) {
  const std::string name = "small";
  const Box box = square(3, name);
  EXPECT_EQ(box.width, 3);
  EXPECT_EQ(box.name, "small");
}

TEST(Words, NameTheBox) {
  EXPECT_EQ(words({.name = "small"}), "box small");
  EXPECT_EQ(words({}), "box");
}

// One step too far in the loop reads past the end, which ends the program.
TEST(FirstAbove, IsFoundOrNot) {
  EXPECT_EQ(first_above({1, 5, 9}, 4), 5);
  EXPECT_EQ(first_above({4}, 4), std::nullopt);
}
