#include "records/judge_record.h"

#include <fmt/format.h>

namespace panup {

namespace {

/// Why a record cannot be asked this; empty if it can.
std::string unknown_to_record(const Rule& rule, const ContactLine* line, const Words& words) {
  if (rule.kind == RuleKind::support_uplift) {
    return words.say("uplift is not in a record of force");
  }
  return rule.kind == RuleKind::wave_speed_share && line == nullptr
             ? words.say("no contact line is named")
             : std::string();
}

/// The book without what a record cannot be asked.
RuleBook asked_of_record(const RuleBook& rules, const ContactLine* line) {
  RuleBook asked = rules;
  std::erase_if(asked.rules, [&](const Rule& rule) {
    return !unknown_to_record(rule, line, rules.words).empty();
  });
  return asked;
}

RunFigures figures_of(const MeasuredFigures& measured, double wave_speed_kmh) {
  RunFigures figures;
  figures.pantographs.push_back({.mean_n = measured.mean_n,
                                 .std_n = measured.std_n,
                                 .max_n = measured.max_n,
                                 .min_n = measured.min_n,
                                 .contact_loss_percent = measured.contact_loss_percent,
                                 .longest_contact_loss_ms = measured.longest_contact_loss_ms});
  figures.wave_speed_kmh = wave_speed_kmh;
  return figures;
}

std::string unsteady(const MeasuredFigures& figures, const Words& words) {
  return words.say(
      "speed from {:.0f} to {:.0f} km/h; limits hang on the speed, and are asked where it varies "
      "by no more than {:g} km/h",
      figures.least_kmh, figures.greatest_kmh, steady_speed_kmh);
}

}  // namespace

bool is_steady(const MeasuredFigures& figures) {
  return figures.greatest_kmh - figures.least_kmh <= steady_speed_kmh;
}

JudgedRecord judge_record(const RuleBook& rules, const MeasuredRecord& record,
                          const std::vector<MeasuredRun>& runs, const ContactLine* line) {
  const RuleBook asked = asked_of_record(rules, line);
  const double wave_kmh = line != nullptr ? 3.6 * wave_speed(combined_contact_wire(*line)) : 0;
  JudgedRecord judged;
  bool any = false;
  bool all_met = true;
  const auto judge = [&](JudgedStretch one, const MeasuredFigures& figures, double covered) {
    if (!is_steady(figures)) {
      one.not_judged = unsteady(figures, rules.words);
    } else if (covered < least_covered) {
      one.not_judged =
          rules.words.say("{:.0f} % of it was measured; asked where {:.0f} % and more were",
                          100 * covered, 100 * least_covered);
    } else {
      RunFacts facts;
      facts.speed_kmh = figures.mean_kmh;
      facts.wave_speed_kmh = wave_kmh;
      facts.supply = record.supply;
      facts.measured = true;
      one.judgement = judge_run(asked, facts, figures_of(figures, wave_kmh));
      any = any || !one.judgement->criteria.empty();
      all_met = all_met && one.judgement->passes;
    }
    judged.stretches.push_back(std::move(one));
  };
  for (std::size_t i = 0; i < runs.size(); ++i) {
    for (std::size_t k = 0; k < runs[i].pantographs.size(); ++k) {
      const MeasuredPantograph& one = runs[i].pantographs[k];
      judge({.run = i, .pantograph = k, .stretch = {}, .judgement = {}, .not_judged = {}},
            one.whole, 1);
      for (std::size_t s = 0; s < one.stretches.size(); ++s) {
        judge({.run = i, .pantograph = k, .stretch = s, .judgement = {}, .not_judged = {}},
              one.stretches[s].figures, one.stretches[s].covered());
      }
    }
  }
  judged.answer = !any      ? RecordAnswer::not_judged
                  : all_met ? RecordAnswer::met
                            : RecordAnswer::not_met;
  return judged;
}

std::vector<std::string> criteria_of_record(const RuleBook& rules, const MeasuredRecord& record,
                                            const ContactLine* line) {
  return criteria_in_words(asked_of_record(rules, line), record.supply);
}

std::vector<std::string> not_judged_of_record(const RuleBook& rules, const MeasuredRecord& record,
                                              const ContactLine* line) {
  std::vector<std::string> sentences;
  for (const Rule& rule : rules.rules) {
    const std::string why = unknown_to_record(rule, line, rules.words);
    if (rule.on && !why.empty()) {
      sentences.push_back(fmt::format("{}: {}.", rule.id, why));
    }
  }
  const ContactLine nothing;
  const std::vector<std::string> others =
      not_judged(asked_of_record(rules, line), record.supply, line != nullptr ? *line : nothing);
  sentences.insert(sentences.end(), others.begin(), others.end());
  return sentences;
}

}  // namespace panup
