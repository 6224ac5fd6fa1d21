#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "judging/judged_case.h"
#include "judging/opinion.h"
#include "rules/rule_book.h"

namespace panup {

/// What a rule of a kind does to a configuration: it says so to the opinion.
using JudgingFunction = void (*)(const Rule&, const JudgedCase&, Opinion&);

/// When the rules of a kind are asked; within a turn, in the order of the book.
enum class Turn : std::uint8_t {
  first,
  usual,
  late,  ///< dear to compute: what others have forbidden need not be looked at
  last,  ///< it looks at what all others said
};

/// How a kind of rule judges configurations: by a function, or elsewhere.
struct KindOfJudging {
  RuleKind kind{};
  JudgingFunction raised = nullptr;   ///< on pieces where pantographs may be up
  JudgingFunction lowered = nullptr;  ///< on pieces where all are down
  Turn turn = Turn::usual;
  bool also_off = false;       ///< asked also where the rule is off
  bool first_only = false;     ///< of several that hold here the first speaks alone
  bool of_every_wire = false;  ///< asked of each section whose wire is over some of the train
  /// What it says of some vehicles' pantographs it says of all, no less strictly.
  bool of_a_part = true;
  std::string_view elsewhere = {};  ///< where it is asked instead, if neither function is there
};

/// Every kind, in the order of the enumeration.
std::span<const KindOfJudging> judging_table();
const KindOfJudging& judging_of(RuleKind kind);

}  // namespace panup
