#include "quality/criteria.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rules/rule_book.h"

namespace panup {

namespace {

bool is_criterion(RuleKind kind) {
  switch (kind) {
    case RuleKind::mean_contact_force:
    case RuleKind::force_deviation:
    case RuleKind::statistical_maximum:
    case RuleKind::statistical_minimum:
    case RuleKind::contact_loss:
    case RuleKind::support_uplift:
    case RuleKind::wave_speed_share:
      return true;
    default:
      return false;
  }
}

bool by_system(RuleKind kind) {
  return kind == RuleKind::mean_contact_force || kind == RuleKind::statistical_maximum;
}

/// A parameter that the kind requires; the reader of rule books has made sure that it is there.
double stated(const Rule& rule, const char* key) { return *number_of(rule, key); }

/// Whether a rule speaks of the system; where none is named, only what holds on all does.
bool speaks_of(const Rule& rule, std::optional<EnergySupply> supply) {
  const auto systems = rule.lists.find("systems");
  if (systems == rule.lists.end()) {
    return true;
  }
  const auto named = [&](EnergySupply one) {
    return std::ranges::find(systems->second, name_of(one)) != systems->second.end();
  };
  return supply ? named(*supply) : std::ranges::all_of(all_energy_supplies, named);
}

bool speaks_of(const Rule& rule, double speed_kmh) {
  const auto above = number_of(rule, "above_kmh");
  const auto up_to = number_of(rule, "up_to_kmh");
  return (!above || speed_kmh > *above) && (!up_to || speed_kmh <= *up_to);
}

/// A criterion's word on one pantograph, or on the line.
struct Measured {
  double margin = 1;
  std::string text;
  double swinging_margin = margin;  ///< of a criterion that swings with speed
};

Measured judge_mean(const Words& words, const Rule& rule, double speed_kmh,
                    const PantographFigures& figures) {
  const double squared = speed_kmh * speed_kmh;
  const double upper = stated(rule, "upper_n") + stated(rule, "upper_n_per_kmh2") * squared;
  const double lower = stated(rule, "lower_n") + stated(rule, "lower_n_per_kmh2") * squared;
  const double width = std::max(upper - lower, 1.0);
  return {std::min(upper - figures.mean_n, figures.mean_n - lower) / width,
          words.say("mean contact force {:.0f} N, permitted {:.0f} to {:.0f} N", figures.mean_n,
                    lower, upper)};
}

/// So many that two figures which differ are told apart, up to three.
int decimals_for(double value, double limit) {
  int decimals = 1;
  for (double least = 0.1; decimals < 3 && std::abs(value - limit) < least; least /= 10) {
    ++decimals;
  }
  return decimals;
}

std::string with_decimals(double value, int decimals, const Words& words) {
  return decimals < 2    ? words.say("{:.1f}", value)
         : decimals == 2 ? words.say("{:.2f}", value)
                         : words.say("{:.3f}", value);
}

Measured judge_deviation(const Words& words, const Rule& rule, const RunFacts& facts,
                         const PantographFigures& figures) {
  if (facts.measured) {
    const double limit = stated(rule, "share_of_mean") * figures.mean_n;
    const int decimals = decimals_for(figures.std_n, limit);
    return {limit > 0 ? 1 - figures.std_n / limit : -1,
            words.say("standard deviation {} N, permitted {} N",
                      with_decimals(figures.std_n, decimals, words),
                      with_decimals(limit, decimals, words))};
  }
  const double raised = figures.std_n * (1 + stated(rule, "uncertainty"));
  const double limit = stated(rule, "share_of_mean") * figures.mean_n;
  const int decimals = decimals_for(raised, limit);
  return {
      limit > 0 ? 1 - raised / limit : -1,
      words.say("standard deviation {:.1f} N, with the simulation's uncertainty {} N, permitted "
                "{} N",
                figures.std_n, with_decimals(raised, decimals, words),
                with_decimals(limit, decimals, words))};
}

Measured judge_maximum(const Words& words, const Rule& rule, const PantographFigures& figures) {
  const double limit = stated(rule, "limit_n");
  const double value = figures.mean_n + 3 * figures.std_n;
  return {(limit - value) / limit,
          words.say("statistical maximum {:.0f} N, permitted {:.0f} N", value, limit)};
}

Measured judge_minimum(const Words& words, const Rule& rule, const PantographFigures& figures) {
  const double limit = stated(rule, "above_n");
  const double value = figures.mean_n - 3 * figures.std_n;
  return {figures.mean_n > 0 ? (value - limit) / figures.mean_n : -1,
          words.say("statistical minimum {:.1f} N, must stay above {:g} N", value, limit)};
}

double share_left(double value, double limit) {
  if (value <= 0) {
    return 1;
  }
  return limit > 0 ? (limit - value) / limit : -1;
}

Measured judge_loss(const Words& words, const Rule& rule, const PantographFigures& figures) {
  const double percent = stated(rule, "greatest_percent");
  const double longest = stated(rule, "longest_ms");
  const double margin = std::min(share_left(figures.contact_loss_percent, percent),
                                 share_left(figures.longest_contact_loss_ms, longest));
  // Without loss, how near it is tells the least force.
  const double share_of_mean = figures.mean_n > 0 ? figures.least_unfiltered_n / figures.mean_n : 0;
  return {
      margin,
      words.say("contact lost for {:.2f} % of the time and for {:.0f} ms at the longest, "
                "permitted {:g} % and {:g} ms",
                figures.contact_loss_percent, figures.longest_contact_loss_ms, percent, longest),
      std::min(margin, share_of_mean)};
}

Measured judge_uplift(const Words& words, const Rule& rule, const RunFacts& facts,
                      double uplift_mm) {
  const double factor =
      stated(rule, facts.uplift_limited_by_design ? "factor_where_limited" : "factor");
  const double space = *facts.uplift_space_mm;
  return {(space - factor * uplift_mm) / space,
          words.say("uplift at supports {:.0f} mm, {:g} times of which must fit in {:.0f} mm",
                    uplift_mm, factor, space)};
}

Measured judge_wave_speed(const Words& words, const Rule& rule, double speed_kmh,
                          double wave_speed_kmh) {
  const double share = stated(rule, "share");
  const double limit = share * wave_speed_kmh;
  return {(limit - speed_kmh) / limit,
          words.say("speed {:g} km/h, permitted {:.0f} km/h, which is {:.0f} % of the wave speed",
                    speed_kmh, limit, 100 * share)};
}

Measured judge_pantograph(const Words& words, const Rule& rule, const RunFacts& facts,
                          const PantographFigures& figures) {
  switch (rule.kind) {
    case RuleKind::mean_contact_force:
      return judge_mean(words, rule, facts.speed_kmh, figures);
    case RuleKind::force_deviation:
      return judge_deviation(words, rule, facts, figures);
    case RuleKind::statistical_maximum:
      return judge_maximum(words, rule, figures);
    case RuleKind::statistical_minimum:
      return judge_minimum(words, rule, figures);
    default:
      return judge_loss(words, rule, figures);
  }
}

/// Adds what a criterion says, and keeps the one with the least margin; of equals the first.
void keep_least(Judgement& judgement, const Rule& rule, int pantograph, Measured measured) {
  const double margin = std::clamp(measured.margin, -1.0, 1.0);
  // A minimum that must stay above its limit is not met at it; all others are.
  const bool met = rule.kind == RuleKind::statistical_minimum ? margin > 0 : margin >= 0;
  judgement.passes = judgement.passes && met;
  judgement.criteria.push_back({rule.id, pantograph, met, margin, measured.text});
  if (rule.kind != RuleKind::mean_contact_force && rule.kind != RuleKind::wave_speed_share) {
    judgement.swinging_margin =
        std::min(judgement.swinging_margin, std::max(measured.swinging_margin, -1.0));
  }
  if (judgement.criterion.empty() || margin < judgement.margin) {
    judgement.margin = margin;
    judgement.criterion = rule.id;
    judgement.kind = rule.kind;
    judgement.pantograph = pantograph;
    judgement.text = std::move(measured.text);
  }
}

}  // namespace

RunFacts facts_of(const ContactLine& line, std::optional<EnergySupply> supply, double speed_kmh) {
  return {.speed_kmh = speed_kmh,
          .wave_speed_kmh = 3.6 * wave_speed(combined_contact_wire(line)),
          .supply = supply,
          .uplift_space_mm = line.uplift_space_mm,
          .uplift_limited_by_design = line.uplift_limited_by_design};
}

Judgement judge_run(const RuleBook& rules, const RunFacts& facts, const RunFigures& figures) {
  Judgement judgement;
  judgement.passes = true;
  if (figures.pantographs.empty()) {
    judgement.passes = false;
    judgement.refused = true;
    judgement.margin = -1;
    const Rule* const rule = rule_in_force(rules, RuleKind::speed_by_mechanics);
    judgement.criterion = rule == nullptr ? "" : rule->id;
    judgement.kind = RuleKind::speed_by_mechanics;
    judgement.text = figures.refusals.empty() ? rules.words.say("no run")
                                              : figures.refusals.front().said(rules.words);
    return judgement;
  }
  judgement.pantographs = figures.pantographs;
  judgement.warnings = figures.warnings;
  for (const Rule& rule : rules.rules) {
    if (!rule.on || !is_criterion(rule.kind) || !speaks_of(rule, facts.supply) ||
        !speaks_of(rule, facts.speed_kmh)) {
      continue;
    }
    if (rule.kind == RuleKind::statistical_maximum) {
      const double limit_n = stated(rule, "limit_n");
      judgement.greatest_force_n = std::min(limit_n, judgement.greatest_force_n.value_or(limit_n));
    }
    if (rule.kind == RuleKind::wave_speed_share) {
      keep_least(judgement, rule, 0,
                 judge_wave_speed(rules.words, rule, facts.speed_kmh, figures.wave_speed_kmh));
    } else if (rule.kind == RuleKind::support_uplift) {
      if (facts.uplift_space_mm) {
        keep_least(judgement, rule, 0,
                   judge_uplift(rules.words, rule, facts, figures.max_support_uplift_mm));
      }
    } else {
      for (std::size_t i = 0; i < figures.pantographs.size(); ++i) {
        keep_least(judgement, rule, static_cast<int>(i) + 1,
                   judge_pantograph(rules.words, rule, facts, figures.pantographs[i]));
      }
    }
  }
  return judgement;
}

std::optional<Judgement> judge_without_run(const RuleBook& rules, const RunFacts& facts) {
  const Rule* const rule = rule_in_force(rules, RuleKind::wave_speed_share);
  if (rule == nullptr) {
    return std::nullopt;
  }
  Judgement judgement;
  judgement.passes = true;
  keep_least(judgement, *rule, 0,
             judge_wave_speed(rules.words, *rule, facts.speed_kmh, facts.wave_speed_kmh));
  return judgement.passes ? std::nullopt : std::optional(std::move(judgement));
}

std::vector<std::string> criteria_in_words(const RuleBook& rules,
                                           std::optional<EnergySupply> supply) {
  std::vector<std::string> words;
  for (const Rule& rule : rules.rules) {
    if (rule.on && is_criterion(rule.kind) && speaks_of(rule, supply)) {
      words.push_back(fmt::format("{}: {} [{}]", rule.id, rule.statement, rule.source));
    }
  }
  return words;
}

std::vector<std::string> not_judged(const RuleBook& rules, std::optional<EnergySupply> supply,
                                    const ContactLine& line) {
  std::vector<std::string> words;
  for (const Rule& rule : rules.rules) {
    if (!is_criterion(rule.kind)) {
      continue;
    }
    if (!rule.on) {
      words.push_back(rules.words.say("{}: turned off in {}.", rule.id, rule.book));
    } else if (!supply && by_system(rule.kind) && !speaks_of(rule, supply)) {
      words.push_back(
          rules.words.say("{}: it hangs on the energy supply system, and none is named.", rule.id));
    } else if (rule.kind == RuleKind::support_uplift && !line.uplift_space_mm) {
      words.push_back(
          rules.words.say("{}: {} states no space for uplift at its supports.", rule.id, line.id));
    }
  }
  return words;
}

}  // namespace panup
