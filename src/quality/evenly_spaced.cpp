#include "quality/evenly_spaced.h"

#include <utility>

namespace panup {

SpeedQuestion question_of(const EvenlySpaced& spaced, double spacing_m, Knuckle knuckle) {
  SpeedQuestion question{
      .line = spaced.line, .pantographs = {}, .supply = spaced.supply, .settings = spaced.settings};
  for (int i = 0; i < spaced.count; ++i) {
    question.pantographs.push_back({.model = spaced.pantograph,
                                    .static_force_n = spaced.static_force_n,
                                    .knuckle = knuckle,
                                    .behind_first_m = i * spacing_m});
  }
  return question;
}

SpacedQuestions questions_of(const EvenlySpaced& spaced, SupportCases& supports) {
  SpacedQuestions questions;
  const std::vector<const ContactLine*>& lines = supports.of(*spaced.line);
  questions.cases = lines.size();
  questions.of_distance = spaced.knuckles.size() * lines.size();
  for (const double spacing : spaced.spacings_m) {
    for (const Knuckle knuckle : spaced.knuckles) {
      for (const ContactLine* const line : lines) {
        questions.all.push_back(question_of(spaced, spacing, knuckle));
        questions.all.back().line = line;
      }
    }
  }
  return questions;
}

WorstDirection worst_of(std::span<const SpeedScan> of_distance, const SpacedQuestions& questions) {
  std::vector<PermittedSpeed> by_case;
  std::vector<std::size_t> direction_of_case;
  for (std::size_t one = 0; one < questions.cases; ++one) {
    PermittedSpeed worst = of_distance[one].result();
    std::size_t direction = 0;
    for (std::size_t q = one + questions.cases; q < questions.of_distance; q += questions.cases) {
      PermittedSpeed other = of_distance[q].result();
      if (&worse_of(worst, other) == &other) {
        worst = std::move(other);
        direction = questions.direction(q);
      }
    }
    by_case.push_back(std::move(worst));
    direction_of_case.push_back(direction);
  }
  WorstDirection worst{worst_of_cases(by_case), 0};
  const auto& by_supports = worst.permitted.by_supports;
  worst.direction = direction_of_case[by_supports && by_supports->soft_decides ? 1 : 0];
  return worst;
}

SpeedQuestion DrawnSamples::question(const SpeedQuestion& of_data, EvaluatedLines& lines,
                                     const Tolerances& tolerances, std::uint64_t seed,
                                     std::uint64_t number) {
  const double train_m = of_data.pantographs.back().behind_first_m;
  const Sample& sample = samples_.emplace_back(draw_sample(
      *lines.line_for(*of_data.line, train_m), of_data.pantographs, tolerances, seed, number));
  SpeedQuestion drawn = of_data;
  drawn.line = &sample.line;
  drawn.line_as_it_is = true;
  drawn.drawn_from = of_data.line;
  drawn.pantographs = sample.pantographs;
  return drawn;
}

}  // namespace panup
