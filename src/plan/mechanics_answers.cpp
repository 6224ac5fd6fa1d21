#include "plan/mechanics_answers.h"

#include <fmt/format.h>

#include "quality/criteria.h"
#include "quality/input_effects.h"

namespace panup {

namespace {

/// The question in figures, or why it cannot be asked.
struct Prepared {
  SpeedQuestion question;
  std::string unknown;
};

Prepared prepare_question(const MechanicsData& data, const MechanicsQuestion& question,
                          const Words& words) {
  Prepared prepared;
  if (question.contact_line.empty()) {
    prepared.unknown = words.say("the section names no contact line type");
    return prepared;
  }
  const auto line = data.lines.find(question.contact_line);
  if (line == data.lines.end()) {
    prepared.unknown =
        words.say("there is no file of the contact line type {}", question.contact_line);
    return prepared;
  }
  prepared.question.line = &line->second;
  prepared.question.supply = question.supply;
  prepared.question.to_kmh = question.to_kmh;
  // Where weights keep the tension, the wires hang alike in any temperature.
  if (question.temperature_c && line->second.termination == Termination::fixed) {
    prepared.question.settings.weather_given = true;
    prepared.question.settings.weather.temperature_c = *question.temperature_c;
  }
  for (const MechanicsQuestion::Raised& raised : question.raised) {
    const auto model = data.pantographs.find(raised.type->id);
    const PantographSupply* const supply = supply_of(*raised.type, question.supply);
    if (model == data.pantographs.end() || supply == nullptr) {
      prepared.unknown =
          words.say("there is no mechanical model of the pantograph type {}", raised.type->name);
      return prepared;
    }
    prepared.question.pantographs.push_back(
        {.model = model->second,
         .static_force_n = supply->static_force_n,
         .knuckle = raised.knuckle_leading ? Knuckle::leading : Knuckle::trailing,
         .behind_first_m = raised.behind_first_m});
  }
  return prepared;
}

void add_warnings(MechanicsAnswer& answer, const PermittedSpeed& speed,
                  const SpeedQuestion& question, const Words& words) {
  if (speed.by_supports) {
    answer.warnings.push_back(in_words(*speed.by_supports, question.line->id, words));
  }
  for (const Warning& warning : speed.warnings) {
    answer.warnings.push_back(fmt::format("{}. {}", question.line->id, warning.text.said(words)));
  }
  for (const RunningPantograph& one : question.pantographs) {
    const auto warning = question.supply && speed.speed_kmh > 0
                             ? static_force_warning(*question.supply, one.static_force_n)
                             : std::nullopt;
    if (warning) {
      answer.warnings.push_back(fmt::format("{}. {}", one.model.id, warning->text.said(words)));
    }
  }
}

}  // namespace

MechanicsSource mechanics_answers(const MechanicsData& data, const RuleBook& rules,
                                  RunSource runs) {
  return [&data, &rules, runs = std::move(runs)](const std::vector<MechanicsQuestion>& questions)
             -> std::optional<std::vector<MechanicsAnswer>> {
    std::vector<MechanicsAnswer> answers(questions.size());
    std::vector<SpeedQuestion> asked;
    std::vector<std::size_t> answer_of;
    std::vector<SpeedQuestion> settled;
    std::vector<PermittedSpeed> settled_speeds;
    std::vector<std::size_t> settled_answer_of;
    for (std::size_t i = 0; i < questions.size(); ++i) {
      Prepared prepared = prepare_question(data, questions[i], rules.words);
      if (questions[i].settled) {
        settled.push_back(std::move(prepared.question));
        settled_speeds.push_back(*questions[i].settled);
        settled_answer_of.push_back(i);
      } else if (prepared.unknown.empty()) {
        answers[i].not_judged = not_judged(rules, questions[i].supply, *prepared.question.line);
        asked.push_back(std::move(prepared.question));
        answer_of.push_back(i);
      } else {
        answers[i].unknown = std::move(prepared.unknown);
      }
    }
    auto speeds = permitted_speeds(asked, rules, runs);
    if (!speeds || !find_what_speeds_hang_on(settled, rules, runs, settled_speeds)) {
      return std::nullopt;
    }
    for (std::size_t i = 0; i < settled.size(); ++i) {
      answers[settled_answer_of[i]].speed = std::move(settled_speeds[i]);
    }
    for (std::size_t i = 0; i < asked.size(); ++i) {
      MechanicsAnswer& answer = answers[answer_of[i]];
      // Where slower runs pass, the speed of the last of them is one.
      if ((*speeds)[i].refused && (*speeds)[i].speed_kmh <= 0) {
        answer.unknown = (*speeds)[i].text;
      } else {
        add_warnings(answer, (*speeds)[i], asked[i], rules.words);
        answer.speed = std::move((*speeds)[i]);
      }
    }
    return answers;
  };
}

}  // namespace panup
