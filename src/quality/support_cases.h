#pragma once

#include <map>
#include <string>
#include <vector>

#include "quality/permitted_speed.h"

namespace panup {

/// A line as it is reckoned: itself, where it states the stiffness of its messenger supports; else
/// once with stiff ones and once with soft ones, for that decides speeds. The lines live as long as
/// this object.
class SupportCases {
 public:
  /// One line or two, the stiff one first.
  const std::vector<const ContactLine*>& of(const ContactLine& line);

 private:
  std::map<const ContactLine*, std::vector<ContactLine>> made_;
  std::map<const ContactLine*, std::vector<const ContactLine*>> cases_;
};

/// The permitted speed of a line from those of its cases, in their order: the worst of them.
PermittedSpeed worst_of_cases(const std::vector<PermittedSpeed>& by_case);

}  // namespace panup
