#include "plan/mechanics.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace panup {

namespace {

/// `raised_bits`: front first.
MechanicsQuestion question_of(const RunningTrain& train, const LineProperties& section,
                              const std::vector<int>& raised_bits, double to_kmh,
                              std::optional<double> temperature_c) {
  MechanicsQuestion question{.contact_line = section.contact_line,
                             .supply = *section.supply,
                             .raised = {},
                             .to_kmh = to_kmh,
                             .temperature_c = temperature_c};
  double first_m = 0;
  for (const int bit : raised_bits) {
    const PlacedPantograph& placed = train.pantographs[static_cast<std::size_t>(bit)];
    if (question.raised.empty()) {
      first_m = placed.from_front_m;
    }
    question.raised.push_back({.type = placed.type,
                               .knuckle_leading = placed.knuckle_leading,
                               .behind_first_m = placed.from_front_m - first_m});
  }
  return question;
}

MechanicsQuestion question_of(const JudgedCase& judged, double to_kmh,
                              std::optional<double> temperature_c) {
  return question_of(judged.train, judged.section, judged.raised_bits, to_kmh, temperature_c);
}

/// All of a question but its speed.
std::string place_of(const MechanicsQuestion& question) {
  std::string text = fmt::format("{}|{}", question.contact_line, name_of(question.supply));
  for (const MechanicsQuestion::Raised& raised : question.raised) {
    // Positions along a train are sums; a tenth of a millimetre is far below what is known of them.
    fmt::format_to(std::back_inserter(text), "|{} {}{:.4f}", raised.type->id,
                   raised.knuckle_leading ? 'l' : 't', raised.behind_first_m);
  }
  return text;
}

std::string key_of(const MechanicsQuestion& question) {
  return fmt::format("{}|{:a}", place_of(question), question.to_kmh);
}

/// "pantograph 2.1, ", or nothing where it is the line that decides.
std::string whose(const JudgedCase& judged, int pantograph) {
  if (pantograph < 1 || pantograph > static_cast<int>(judged.raised_bits.size())) {
    return {};
  }
  const int bit = judged.raised_bits[static_cast<std::size_t>(pantograph - 1)];
  return fmt::format("pantograph {}, ",
                     to_string(judged.train.pantographs[static_cast<std::size_t>(bit)].ref));
}

std::string distances_of(const JudgedCase& judged) {
  if (judged.raised_bits.size() < 2) {
    return "one raised";
  }
  std::string text = fmt::format("{} raised, ", judged.raised_bits.size());
  for (std::size_t i = 1; i < judged.raised_bits.size(); ++i) {
    const auto& all = judged.train.pantographs;
    const double distance = all[static_cast<std::size_t>(judged.raised_bits[i])].from_front_m -
                            all[static_cast<std::size_t>(judged.raised_bits[i - 1])].from_front_m;
    fmt::format_to(std::back_inserter(text), "{}{:.1f}", i > 1 ? " and " : "", distance);
  }
  return text + " m apart";
}

std::string failing_text(const JudgedCase& judged, const PermittedSpeed& speed) {
  return fmt::format("at {:g} km/h {}{} ({})", *speed.fails_at_kmh, whose(judged, speed.pantograph),
                     speed.text, speed.criterion);
}

}  // namespace

MechanicsSpeeds::MechanicsSpeeds(const RuleBook& rules, SpeedFrom from,
                                 std::optional<double> temperature_c)
    : rule_(rule_in_force(rules, RuleKind::speed_by_mechanics)),
      from_(from),
      temperature_c_(temperature_c) {}

OutsideRules MechanicsSpeeds::rules() {
  OutsideRules rules;
  rules.further.emplace_back(
      [this](const JudgedCase& judged, Opinion& opinion) { judge(judged, opinion); });
  if (from_ == SpeedFrom::mechanics) {
    rules.spacing_yields = [this](const JudgedCase& judged) { return may_answer(judged); };
  }
  return rules;
}

bool MechanicsSpeeds::may_answer(const JudgedCase& judged) const {
  return !judged.iced && !judged.raised_bits.empty() && judged.section.supply &&
         !unknown_.contains(place_of(question_of(judged, 0, temperature_c_)));
}

void MechanicsSpeeds::judge(const JudgedCase& judged, Opinion& opinion) {
  if (opinion.verdict.forbidden || judged.raised_bits.empty() || !judged.section.supply) {
    return;
  }
  if (judged.iced) {
    opinion.say(*rule_, Strength::note, [] {
      return std::string(
          "The mechanics was not asked: how much ice the wire carries is not known.");
    });
    return;
  }
  const MechanicsQuestion question =
      question_of(judged, opinion.verdict.other_speed_kmh, temperature_c_);
  const auto known = known_.find(key_of(question));
  if (known != known_.end()) {
    say(judged, known->second, opinion);
  } else if (opinion.explains()) {
    const std::lock_guard lock(asking_);
    asked_.try_emplace(key_of(question), question);
  }
}

void MechanicsSpeeds::say(const JudgedCase& judged, const MechanicsAnswer& answer,
                          Opinion& opinion) const {
  if (!answer.speed) {
    opinion.say(*rule_, Strength::note,
                [&] { return fmt::format("The mechanics has no answer: {}.", answer.unknown); });
    return;
  }
  const PermittedSpeed& speed = *answer.speed;
  const double by_tables = opinion.verdict.spacing_speed_kmh;
  const std::string tables =
      opinion.verdict.spacing_rule == nullptr ? std::string() : opinion.verdict.spacing_rule->id;
  if (!speed.fails_at_kmh) {
    opinion.say(*rule_, Strength::note, [&] {
      std::string text = fmt::format(
          "By the mechanics, {}: every speed computed up to {:g} km/h passes; the least margin is "
          "{:.0f} % ({}{}).",
          distances_of(judged), speed.looked_to_kmh, 100 * speed.margin,
          whose(judged, speed.pantograph), speed.criterion);
      if (opinion.verdict.consent_needed) {
        text += " That is evidence to put to the infrastructure manager, and no consent.";
      } else if (by_tables < speed.looked_to_kmh) {
        text += fmt::format(" The {:g} km/h of {} are more cautious than these criteria need.",
                            by_tables, tables);
      }
      return text;
    });
    return;
  }
  if (speed.speed_kmh <= 0) {
    opinion.forbid(*rule_, [&] {
      return fmt::format("By the mechanics, {}: {}; no speed below it was computed.",
                         distances_of(judged), failing_text(judged, speed));
    });
    return;
  }
  const auto words = [&] {
    LimitWords limit{
        fmt::format("By the mechanics, {}: {:g} km/h", distances_of(judged), speed.speed_kmh),
        fmt::format("What decides: {}.", failing_text(judged, speed))};
    if (opinion.verdict.consent_needed) {
      limit.further += " That is evidence to put to the infrastructure manager, and no consent.";
    } else if (by_tables < speed.speed_kmh) {
      limit.further += fmt::format(
          " The {:g} km/h of {} are more cautious than these criteria need.", by_tables, tables);
    } else if (by_tables <= speed.looked_to_kmh) {
      limit.further +=
          fmt::format(" The {:g} km/h of {}, {:g} km/h more, are not supported by the mechanics.",
                      by_tables, tables, by_tables - speed.speed_kmh);
    }
    return limit;
  };
  opinion.limit(*rule_, speed.speed_kmh, words, true);
}

std::vector<MechanicsQuestion> MechanicsSpeeds::take_questions() {
  std::vector<MechanicsQuestion> questions;
  for (auto& [key, question] : asked_) {
    questions.push_back(std::move(question));
  }
  asked_.clear();
  return questions;
}

void MechanicsSpeeds::learn(const std::vector<MechanicsQuestion>& questions,
                            std::vector<MechanicsAnswer> answers) {
  for (std::size_t i = 0; i < questions.size(); ++i) {
    if (!answers[i].speed) {
      unknown_.insert_or_assign(place_of(questions[i]), answers[i].unknown);
    }
    known_.insert_or_assign(key_of(questions[i]), std::move(answers[i]));
  }
}

std::optional<ForceFigures> MechanicsSpeeds::forces_of(const RunningTrain& train,
                                                       const LineProperties& section,
                                                       PantographSet raised, double to_kmh) const {
  if (!section.supply || raised == 0) {
    return std::nullopt;
  }
  std::vector<int> bits;
  for (const int bit : train.front_first) {
    if ((raised >> bit & 1U) != 0) {
      bits.push_back(bit);
    }
  }
  const std::string place =
      place_of(question_of(train, section, bits, to_kmh, temperature_c_)) + '|';
  const PermittedSpeed* best = nullptr;
  for (auto at = known_.lower_bound(place); at != known_.end() && at->first.starts_with(place);
       ++at) {
    const auto& speed = at->second.speed;
    if (!speed || speed->pantographs.size() != bits.size()) {
      continue;
    }
    const bool fits = speed->speed_kmh <= to_kmh;
    const bool best_fits = best != nullptr && best->speed_kmh <= to_kmh;
    if (best == nullptr || (fits && (!best_fits || speed->speed_kmh > best->speed_kmh)) ||
        (!fits && !best_fits && speed->speed_kmh < best->speed_kmh)) {
      best = &*speed;
    }
  }
  if (best == nullptr) {
    return std::nullopt;
  }
  return ForceFigures{.speed_kmh = best->speed_kmh,
                      .raised = refs_of(train, raised),
                      .pantographs = best->pantographs,
                      .greatest_force_n = best->greatest_force_n};
}

std::vector<std::string> MechanicsSpeeds::notes() const {
  std::set<std::string> notes;
  for (const auto& [key, answer] : known_) {
    for (const std::string& sentence : answer.not_judged) {
      notes.insert("Not judged by the mechanics: " + sentence);
    }
  }
  for (const auto& [kind, why] : unknown_) {
    notes.insert("The mechanics has no answer: " + why + ".");
  }
  return {notes.begin(), notes.end()};
}

}  // namespace panup
