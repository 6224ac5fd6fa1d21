#include "quality/support_cases.h"

namespace panup {

const std::vector<const ContactLine*>& SupportCases::of(const ContactLine& line) {
  std::vector<const ContactLine*>& cases = cases_[&line];
  if (!cases.empty()) {
    return cases;
  }
  if (states_messenger_stiffness(line)) {
    cases = {&line};
    return cases;
  }
  std::vector<ContactLine>& made = made_[&line];
  made = {with_messenger_stiffness(line, stiff_messenger_support_n_per_m),
          with_messenger_stiffness(line, soft_messenger_support_n_per_m)};
  for (const ContactLine& with_stiffness : made) {
    cases.push_back(&with_stiffness);
  }
  return cases;
}

PermittedSpeed worst_of_cases(const std::vector<PermittedSpeed>& by_case) {
  if (by_case.size() == 1) {
    return by_case.front();
  }
  const bool soft_decides = &worse_of(by_case[0], by_case[1]) == &by_case[1];
  PermittedSpeed worst = by_case[soft_decides ? 1 : 0];
  worst.by_supports = SpeedBySupports{.stiff_kmh = by_case[0].speed_kmh,
                                      .soft_kmh = by_case[1].speed_kmh,
                                      .soft_decides = soft_decides};
  return worst;
}

std::string in_words(const SpeedBySupports& speeds, const std::string& line_id,
                     const Words& words) {
  const auto speed = [&words](double kmh) {
    return kmh > 0 ? words.say("{:g} km/h", kmh) : words.say("no speed");
  };
  return words.say(
      "{} does not state how stiff its messenger supports are: with {:g} kN/m {} would be "
      "permitted, with {:g} kN/m {}. The lower one holds.",
      line_id, stiff_messenger_support_n_per_m / 1000, speed(speeds.stiff_kmh),
      soft_messenger_support_n_per_m / 1000, speed(speeds.soft_kmh));
}

}  // namespace panup
