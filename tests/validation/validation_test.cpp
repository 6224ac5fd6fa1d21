/// Every agreement of the mechanics, each with its source in the file that computes it.

#include <gtest/gtest.h>

#include <ostream>

#include "agreement.h"

namespace panup::validation {

void PrintTo(const NamedAgreement& agreement, std::ostream* out) { *out << agreement.name; }

namespace {

class Validation : public testing::TestWithParam<NamedAgreement> {};

TEST_P(Validation, Holds) {
  const Agreement agreement = GetParam().compute();
  ASSERT_FALSE(agreement.rows.empty());
  EXPECT_FALSE(agreement.source.empty());
  for (const Row& row : agreement.rows) {
    EXPECT_TRUE(row.holds()) << row.what << ": ours " << row.ours << ' ' << row.unit << ", theirs "
                             << row.least << " to " << row.greatest << ", allowed " << row.allowed;
  }
}

INSTANTIATE_TEST_SUITE_P(Mechanics, Validation, testing::ValuesIn(all_agreements()),
                         [](const auto& tested) { return std::string(tested.param.name); });

}  // namespace
}  // namespace panup::validation
