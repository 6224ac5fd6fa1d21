/// Every kind of rule is judged, or it is said where else it is asked.

#include "judging/judging_table.h"

#include <gtest/gtest.h>

#include <string>

namespace panup {
namespace {

TEST(JudgingTable, HasEveryKindOfRuleOnce) {
  ASSERT_EQ(judging_table().size(), rule_kinds().size());
  for (std::size_t i = 0; i < rule_kinds().size(); ++i) {
    EXPECT_EQ(judging_table()[i].kind, rule_kinds()[i].kind) << rule_kinds()[i].name;
  }
}

TEST(JudgingTable, AKindIsJudgedHereOrItSaysWhereElseItIsAsked) {
  for (const KindOfJudging& judging : judging_table()) {
    const bool here = judging.raised != nullptr || judging.lowered != nullptr;
    EXPECT_NE(here, !judging.elsewhere.empty()) << spec_of(judging.kind).name;
  }
}

TEST(JudgingTable, ARuleThatIsAskedAlthoughItIsOffIsAskedHere) {
  for (const KindOfJudging& judging : judging_table()) {
    EXPECT_TRUE(!judging.also_off || judging.elsewhere.empty()) << spec_of(judging.kind).name;
  }
}

}  // namespace
}  // namespace panup
