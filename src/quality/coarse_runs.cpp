#include "quality/coarse_runs.h"

#include <algorithm>
#include <cmath>

#include "rules/rule_book.h"

namespace panup {

namespace {

/// Where pairs are few, others may be further off than they: by as much again where there are just
/// enough.
double safety(int pairs) { return 1 + static_cast<double>(CoarseRuns::enough_pairs) / pairs; }
/// A margin nearer to its limit is never decided by a coarse run.
constexpr double least_tolerance = 0.02;
/// Runs that fail by more are further off, and nobody asks by how much they fail.
constexpr double of_interest = -0.1;
/// Errors grow with speed: what they are tell pairs at speeds that differ by no more than this
/// share, and where those are too few, all. Above all of them it is not known.
constexpr double alike = 1.25;
/// Contact loss begins where the unfiltered force comes to nothing, and grows steeply. Where its
/// least is above this share of the mean, no run in either step loses contact.
constexpr double far_from_loss = 0.2;

bool is_loss(const RuleBook& rules, const std::string& id) {
  const auto rule = std::ranges::find(rules.rules, id, &Rule::id);
  return rule != rules.rules.end() && rule->kind == RuleKind::contact_loss;
}

/// Of contact loss no margin can be trusted but these.
bool surely_lost(const CriterionMargin& loss, const PantographFigures& figures) {
  return loss.margin <= -1 && figures.mean_n - 3 * figures.std_n < 0;
}

bool surely_kept(const CriterionMargin& loss, const PantographFigures& figures) {
  return loss.margin >= 1 && figures.least_unfiltered_n > far_from_loss * figures.mean_n;
}

}  // namespace

void CoarseRuns::refused() { step_factor_ = step_factor_ > 1.5 ? 1.5 : 1; }

double CoarseRuns::tolerance(const std::string& rule, double speed_kmh) const {
  int of_alike = 0;
  const auto beyond = pairs_at_.lower_bound(speed_kmh * alike);
  for (auto at = pairs_at_.upper_bound(speed_kmh / alike); at != beyond; ++at) {
    of_alike += at->second;
  }
  const bool alike_will_do = of_alike >= enough_pairs;
  const auto errors = error_at_.find(rule);
  double error = 0;
  if (errors != error_at_.end()) {
    const std::map<double, double>& at_speed = errors->second;
    const auto from = alike_will_do ? at_speed.upper_bound(speed_kmh / alike) : at_speed.begin();
    const auto to = alike_will_do ? at_speed.lower_bound(speed_kmh * alike) : at_speed.end();
    for (auto at = from; at != to; ++at) {
      error = std::max(error, at->second);
    }
  }
  return std::max(least_tolerance, safety(std::max(alike_will_do ? of_alike : pairs_, 1)) * error);
}

double CoarseRuns::greatest_tolerance(double speed_kmh, const Judgement& judgement) const {
  double greatest = 0;
  for (const CriterionMargin& one : judgement.criteria) {
    greatest = std::max(greatest, tolerance(one.rule, speed_kmh));
  }
  return greatest;
}

void CoarseRuns::learn(const RuleBook& rules, double speed_kmh, const Judgement& coarse,
                       const Judgement& fine) {
  if (coarse.refused || fine.refused) {
    step_factor_ = 1;
    return;
  }
  for (std::size_t i = 0; i < fine.criteria.size(); ++i) {
    const CriterionMargin& one = fine.criteria[i];
    if (one.margin > of_interest && !is_loss(rules, one.rule)) {
      double& error = error_at_[one.rule][speed_kmh];
      error = std::max(error, std::abs(coarse.criteria[i].margin - one.margin));
    }
  }
  ++pairs_;
  ++pairs_at_[speed_kmh];
}

bool CoarseRuns::decides(const RuleBook& rules, double speed_kmh, const Judgement& coarse) const {
  if (coarse.refused || !knows_enough() || speed_kmh > alike * pairs_at_.rbegin()->first) {
    return false;
  }
  bool surely_passes = std::ranges::none_of(
      coarse.warnings, [](const Warning& warning) { return warning.doubt == Doubt::energy; });
  for (const CriterionMargin& one : coarse.criteria) {
    if (is_loss(rules, one.rule)) {
      const PantographFigures& figures =
          coarse.pantographs[static_cast<std::size_t>(one.pantograph) - 1];
      if (surely_lost(one, figures)) {
        return true;
      }
      surely_passes = surely_passes && surely_kept(one, figures);
      continue;
    }
    const double needed = tolerance(one.rule, speed_kmh);
    if (one.margin < -needed) {
      return true;
    }
    surely_passes = surely_passes && one.margin > needed;
  }
  return surely_passes;
}

}  // namespace panup
