#include "judging/facts/pantograph_set.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <type_traits>
#include <unordered_set>
#include <vector>

namespace panup {
namespace {

std::vector<std::size_t> members_of(PantographSet set) { return {set.begin(), set.end()}; }

/// The same set kept by the standard library.
std::set<std::size_t> model_of(unsigned number) {
  std::set<std::size_t> model;
  for (std::size_t i = 0; i < 6; ++i) {
    if ((number >> i & 1U) != 0) {
      model.insert(i);
    }
  }
  return model;
}

PantographSet made_of(const std::set<std::size_t>& model) {
  PantographSet set;
  for (const std::size_t member : model) {
    set.insert(member);
  }
  return set;
}

std::vector<std::size_t> listed(const std::set<std::size_t>& model) {
  return {model.begin(), model.end()};
}

template <typename Combine>
std::vector<std::size_t> combined(const std::set<std::size_t>& a, const std::set<std::size_t>& b,
                                  const Combine& combine) {
  std::vector<std::size_t> members;
  combine(a, b, std::back_inserter(members));
  return members;
}

TEST(PantographSet, IsNoNumber) {
  static_assert(!std::is_convertible_v<PantographSet, int>);
  static_assert(!std::is_convertible_v<PantographSet, bool>);
  static_assert(!std::is_convertible_v<int, PantographSet>);
  static_assert(!std::is_convertible_v<std::uint64_t, PantographSet>);
  static_assert(std::is_trivially_copyable_v<PantographSet>);
  static_assert(sizeof(PantographSet) == 8);
}

TEST(PantographSet, IsEmptyFromTheBeginning) {
  EXPECT_TRUE(PantographSet().empty());
  EXPECT_EQ(PantographSet().size(), 0U);
  EXPECT_EQ(members_of({}), std::vector<std::size_t>{});
}

TEST(PantographSet, HoldsUpToTheGreatestMember) {
  PantographSet set{0, PantographSet::capacity - 1};
  EXPECT_EQ(members_of(set), (std::vector<std::size_t>{0, 63}));
  set.erase(63);
  EXPECT_EQ(set, PantographSet{0});
}

TEST(PantographSet, AgreesWithTheStandardLibraryOnAllPairsOfSetsOfSix) {
  for (unsigned i = 0; i < 64; ++i) {
    const std::set<std::size_t> a = model_of(i);
    const PantographSet x = made_of(a);
    ASSERT_EQ(members_of(x), listed(a));
    ASSERT_EQ(x.size(), a.size());
    ASSERT_EQ(x.empty(), a.empty());
    for (std::size_t member = 0; member < 6; ++member) {
      std::set<std::size_t> with = a;
      with.insert(member);
      std::set<std::size_t> without = a;
      without.erase(member);
      ASSERT_EQ(x.contains(member), a.contains(member));
      ASSERT_EQ(members_of(x.with(member)), listed(with));
      ASSERT_EQ(members_of(x.without(member)), listed(without));
    }
    for (unsigned j = 0; j < 64; ++j) {
      const std::set<std::size_t> b = model_of(j);
      const PantographSet y = made_of(b);
      const auto common = combined(a, b, std::ranges::set_intersection);
      ASSERT_EQ(members_of(x | y), combined(a, b, std::ranges::set_union));
      ASSERT_EQ(members_of(x & y), common);
      ASSERT_EQ(members_of(x - y), combined(a, b, std::ranges::set_difference));
      ASSERT_EQ(members_of(x ^ y), combined(a, b, std::ranges::set_symmetric_difference));
      ASSERT_EQ(x.intersects(y), !common.empty());
      ASSERT_EQ(x.includes(y), std::ranges::includes(a, b));
      ASSERT_EQ(x == y, i == j);
      // By the greatest member first.
      ASSERT_EQ(x < y, std::lexicographical_compare(a.rbegin(), a.rend(), b.rbegin(), b.rend()));
    }
  }
}

TEST(PantographSet, AssignmentsDoWhatTheOperatorsDo) {
  const PantographSet a{0, 2, 5};
  const PantographSet b{2, 3};
  PantographSet set = a;
  EXPECT_EQ(set |= b, a | b);
  set = a;
  EXPECT_EQ(set &= b, a & b);
  set = a;
  EXPECT_EQ(set -= b, a - b);
}

TEST(PantographSet, SubsetsAreAllOfThemOnceAndInOrder) {
  const PantographSet of{1, 4, 5};
  std::vector<PantographSet> wanted;
  for (unsigned i = 0; i < 64; ++i) {
    if (of.includes(made_of(model_of(i)))) {
      wanted.push_back(made_of(model_of(i)));
    }
  }
  std::ranges::sort(wanted);
  EXPECT_EQ(of.subsets(), wanted);
  EXPECT_EQ(PantographSet().subsets(), std::vector<PantographSet>{PantographSet()});
}

TEST(PantographSet, SubsetsHaveNoMoreMembersThanAskedFor) {
  const std::vector<PantographSet> wanted{PantographSet{}, PantographSet{0}, PantographSet{3},
                                          PantographSet{7}};
  EXPECT_EQ((PantographSet{0, 3, 7}.subsets(1)), wanted);
}

TEST(PantographSet, CanBeLookedUpByItsHash) {
  const std::unordered_set<PantographSet> sets{PantographSet{1, 2}, PantographSet{3}};
  EXPECT_TRUE(sets.contains(PantographSet{2, 1}));
  EXPECT_FALSE(sets.contains(PantographSet{1}));
}

}  // namespace
}  // namespace panup
