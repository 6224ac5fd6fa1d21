#include "plan/mechanics.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "quality/input_effects.h"

namespace panup {

namespace {

/// `raised_front_first`: front first.
MechanicsQuestion question_of(const RunningTrain& train, const LineProperties& section,
                              const std::vector<std::size_t>& raised_front_first, double to_kmh,
                              std::optional<double> temperature_c) {
  MechanicsQuestion question{
      .contact_line = section.contact_line,
      .supply = *section.supply,
      .raised = {},
      .to_kmh = to_kmh,
      .temperature_c = section.temperature_c ? section.temperature_c : temperature_c};
  double first_m = 0;
  for (const std::size_t p : raised_front_first) {
    const PlacedPantograph& placed = train.pantographs[p];
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
  return question_of(judged.train, judged.section, judged.raised_front_first, to_kmh,
                     temperature_c);
}

/// All of a question but its speed.
std::string place_of(const MechanicsQuestion& question) {
  std::string text = fmt::format("{}|{}", question.contact_line, name_of(question.supply));
  if (question.temperature_c) {
    text += fmt::format("|{:g} °C", *question.temperature_c);
  }
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

/// As far as judging needs it.
ComputedSpeed said_by(const MechanicsAnswer& answer) {
  ComputedSpeed said;
  said.unknown = answer.unknown;
  if (answer.speed) {
    const PermittedSpeed& speed = *answer.speed;
    said.known = true;
    said.speed_kmh = speed.speed_kmh;
    said.fails_at_kmh = speed.fails_at_kmh;
    said.looked_to_kmh = speed.looked_to_kmh;
    said.margin = speed.margin;
    said.criterion = speed.criterion;
    said.pantograph = speed.pantograph;
    said.text = speed.text;
  }
  return said;
}

}  // namespace

MechanicsSpeeds::MechanicsSpeeds(SpeedFrom from, std::optional<double> temperature_c, Words words)
    : from_(from), temperature_c_(temperature_c), words_(std::move(words)) {}

bool MechanicsSpeeds::stands_in_for_spacing(const JudgedCase& judged) const {
  return from_ == SpeedFrom::mechanics && !judged.iced && !judged.raised.empty() &&
         judged.section.supply &&
         !unknown_.contains(place_of(question_of(judged, 0, temperature_c_)));
}

const ComputedSpeed* MechanicsSpeeds::speed_of(const JudgedCase& judged, double to_kmh,
                                               bool wanted) {
  const MechanicsQuestion question = question_of(judged, to_kmh, temperature_c_);
  const auto known = known_.find(key_of(question));
  if (known != known_.end()) {
    return &known->second.said;
  }
  if (wanted) {
    const std::lock_guard lock(asking_);
    asked_.try_emplace(key_of(question), question);
  }
  return nullptr;
}

std::vector<MechanicsQuestion> MechanicsSpeeds::take_questions() {
  std::vector<MechanicsQuestion> questions;
  for (auto& [key, question] : asked_) {
    questions.push_back(std::move(question));
  }
  asked_.clear();
  const bool settled = questions.empty();
  for (auto& [key, known] : known_) {
    if (settled && known.handed_out && !known.asked_for_more &&
        can_hang_on_inputs(*known.answer.speed)) {
      known.asked_for_more = true;
      questions.push_back(known.question);
      questions.back().settled = known.answer.speed;
    }
    known.handed_out = false;
  }
  return questions;
}

void MechanicsSpeeds::learn(const std::vector<MechanicsQuestion>& questions,
                            std::vector<MechanicsAnswer> answers) {
  for (std::size_t i = 0; i < questions.size(); ++i) {
    if (questions[i].settled) {
      known_.at(key_of(questions[i])).answer.speed = std::move(answers[i].speed);
      continue;
    }
    if (!answers[i].speed) {
      unknown_.insert_or_assign(place_of(questions[i]), answers[i].unknown);
    }
    const ComputedSpeed said = said_by(answers[i]);
    known_.insert_or_assign(
        key_of(questions[i]),
        Known{.question = questions[i], .answer = std::move(answers[i]), .said = said});
  }
}

std::optional<ForceFigures> MechanicsSpeeds::forces_of(const RunningTrain& train,
                                                       const LineProperties& section,
                                                       PantographSet raised, double to_kmh) {
  if (!section.supply || raised.empty()) {
    return std::nullopt;
  }
  std::vector<std::size_t> front_first;
  for (const std::size_t p : train.front_first) {
    if (raised.contains(p)) {
      front_first.push_back(p);
    }
  }
  const std::string place =
      place_of(question_of(train, section, front_first, to_kmh, temperature_c_)) + '|';
  Known* handed_out = nullptr;
  const PermittedSpeed* best = nullptr;
  for (auto at = known_.lower_bound(place); at != known_.end() && at->first.starts_with(place);
       ++at) {
    const auto& speed = at->second.answer.speed;
    if (!speed || speed->pantographs.size() != front_first.size()) {
      continue;
    }
    const bool fits = speed->speed_kmh <= to_kmh;
    const bool best_fits = best != nullptr && best->speed_kmh <= to_kmh;
    if (best == nullptr || (fits && (!best_fits || speed->speed_kmh > best->speed_kmh)) ||
        (!fits && !best_fits && speed->speed_kmh < best->speed_kmh)) {
      best = &*speed;
      handed_out = &at->second;
    }
  }
  if (best == nullptr) {
    return std::nullopt;
  }
  handed_out->handed_out = true;
  return ForceFigures{.speed_kmh = best->speed_kmh,
                      .raised = refs_of(train, raised),
                      .pantographs = best->pantographs,
                      .greatest_force_n = best->greatest_force_n,
                      .judged = best->judged,
                      .hangs_on = best->hangs_on ? in_words(*best->hangs_on, words_) : ""};
}

std::vector<std::string> MechanicsSpeeds::notes() const {
  std::set<std::string> notes;
  for (const auto& [key, known] : known_) {
    for (const std::string& sentence : known.answer.not_judged) {
      notes.insert(words_.say("Not judged by the mechanics: {}", sentence));
    }
    for (const std::string& sentences : known.answer.warnings) {
      notes.insert(words_.say("To doubt of a computed speed: {}", sentences));
    }
    if (known.answer.speed && known.answer.speed->hangs_on) {
      notes.insert(fmt::format("{}. {}", known.question.contact_line,
                               in_words(*known.answer.speed->hangs_on, words_)));
    }
  }
  for (const auto& [kind, why] : unknown_) {
    notes.insert(words_.say("The mechanics has no answer: {}.", why));
  }
  return {notes.begin(), notes.end()};
}

}  // namespace panup
