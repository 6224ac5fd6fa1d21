#pragma once

#include <string>

#include "judging/facts/separation.h"
#include "judging/facts/separation_length.h"
#include "judging/judged_case.h"

namespace panup {

/// A separation section being passed in a configuration, for the texts of findings.
struct SeparationPassage {
  const SeparationSection& section;
  const JudgedCase& judged;
  const RaisedCollectors& raised;
};

/// Which zones are joined, by what and where, and what would help. The sweep forbids.
std::string forbidden_words(const SeparationPassage& passage, const Sweep& swept);
/// That it passes unless there is a high-voltage line, which the files do not say.
std::string unknown_join_words(const SeparationPassage& passage, const Sweep& swept);
/// That it passes, and how closely.
std::string passing_words(const SeparationPassage& passage);
/// What the length says.
std::string length_words(const SeparationPassage& passage, const LengthJudgement& judgement);

}  // namespace panup
