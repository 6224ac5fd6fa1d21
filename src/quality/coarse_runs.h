#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "quality/criteria.h"

namespace panup {

/// What runs in a longer step are good for, in which only what is near the pantographs moves. They
/// cost about a quarter, and their figures are a little off: by how much, pairs of runs tell, one
/// in the longer step and one in that of the rule book. What a run in the longer step leaves to
/// every limit, or lacks of one, by more than that decides; nearer to a limit the run in the rule
/// book's step is asked.
class CoarseRuns {
 public:
  /// The step in steps of the rule book; 1: a longer one is of no use.
  double step_factor() const { return step_factor_; }
  /// A run in the longer step was refused, for its grid is too coarse for the line: a shorter one
  /// is tried, in the end none.
  void refused();

  /// Takes note of a pair.
  void learn(const RuleBook& rules, double speed_kmh, const Judgement& coarse,
             const Judgement& fine);
  bool knows_enough() const { return pairs_ >= enough_pairs; }
  /// Whether the run in the rule book's step would pass or fail like this one.
  bool decides(const RuleBook& rules, double speed_kmh, const Judgement& coarse) const;
  /// What a margin must be off zero to decide.
  double tolerance(const std::string& rule, double speed_kmh) const;
  /// The greatest of those for the rules of a judgement.
  double greatest_tolerance(double speed_kmh, const Judgement& judgement) const;

  static constexpr int enough_pairs = 3;

 private:
  double step_factor_ = 2;
  // By speeds, of which there are few however many pairs there are.
  int pairs_ = 0;
  std::map<double, int> pairs_at_;
  /// Greatest difference of a margin, by rule, then by speed.
  std::map<std::string, std::map<double, double>> error_at_;
};

/// By what decides how far off they are: the line and the model of its pantographs.
class CoarseRunsByLine {
 public:
  CoarseRuns& of(const ContactLine& line, const std::string& pantograph) {
    return known_[{&line, pantograph}];
  }

 private:
  std::map<std::pair<const ContactLine*, std::string>, CoarseRuns> known_;
};

}  // namespace panup
