#pragma once

#include <string>

#include "plan/plan.h"

namespace panup {

/// An instruction's text in parts, the whole of it: the action, the landmark, the reason.
struct OrderWords {
  std::string action;    ///< "Raise 1.1 and 2.1"
  std::string landmark;  ///< "at Ardel"; may be empty
  std::string reason;    ///< may be empty
};

OrderWords words_of(const Instruction& instruction);

}  // namespace panup
