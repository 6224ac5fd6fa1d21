#pragma once

#include <compare>
#include <string>
#include <vector>

#include "base/words.h"

namespace panup {

/// What a rule is limited to. All keys that are stated have to be met; within one, any of its
/// values. A key that is not stated is empty.
struct OnlyFor {
  std::vector<std::string> sections = {};  ///< ids of sections of the route
  std::vector<std::string> lines = {};  ///< numbers or names of the lines that sections belong to
  std::vector<std::string> classes =
      {};  ///< ids of vehicle types; met by one that works in the train
  std::vector<std::string> loads = {};  ///< natures of loads, as in train files
  friend auto operator<=>(const OnlyFor&, const OnlyFor&) = default;

  bool empty() const {
    return sections.empty() && lines.empty() && classes.empty() && loads.empty();
  }
};

/// "only for line 7 or 8, class k41 and a dangerous load"; empty where nothing is stated.
std::string only_for_words(const OnlyFor& only_for, const Words& words = {});

}  // namespace panup
