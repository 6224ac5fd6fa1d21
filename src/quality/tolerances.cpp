#include "quality/tolerances.h"

#include <algorithm>
#include <random>

#include "dynamics/model_input.h"
#include "rules/rule_book.h"

namespace panup {

namespace {

/// Even over ±1. The distributions of the standard library differ between its makers.
class EvenDraw {
 public:
  EvenDraw(std::uint64_t seed, std::uint64_t number) {
    // Of each, it takes the lower 32 bits.
    std::seed_seq sequence{seed, seed >> 32U, number, number >> 32U};
    engine_.seed(sequence);
  }

  double operator()() {
    constexpr double scale = 0x1p-52;
    return static_cast<double>(engine_() >> 11U) * scale - 1;
  }

 private:
  std::mt19937_64 engine_;
};

void move_supports(ContactLine& line, double by_m, EvenDraw& draw) {
  double before = 0;
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    Span& span = line.spans[i];
    // The line's ends stay, and no support moves past its neighbour's droppers.
    const double most = std::min(by_m, 0.2 * span.length_m);
    const double after = i + 1 < line.spans.size() ? most * draw() : 0;
    const double ratio = (span.length_m + after - before) / span.length_m;
    span.length_m *= ratio;
    for (Dropper& dropper : span.droppers) {
      dropper.at_m *= ratio;
    }
    before = after;
  }
}

}  // namespace

Tolerances tolerances_of(const Rule& rule) {
  return {.tension_share = *number_of(rule, "tension_share"),
          .dropper_length_m = *number_of(rule, "dropper_length_mm") / 1000,
          .static_force_n = *number_of(rule, "static_force_n"),
          .span_length_m = *number_of(rule, "span_length_m"),
          .support_stiffness_share = *number_of(rule, "support_stiffness_share"),
          .damping_share = *number_of(rule, "damping_share"),
          .steady_arm_mass_share = *number_of(rule, "steady_arm_mass_share"),
          .aerodynamic_share = *number_of(rule, "aerodynamic_share")};
}

std::vector<std::string> in_words(const Tolerances& tolerances, const Words& words) {
  return {words.say("tension of each wire ±{:g} %", 100 * tolerances.tension_share),
          words.say("length of each dropper ±{:g} mm", 1000 * tolerances.dropper_length_m),
          words.say("static force of each pantograph ±{:g} N", tolerances.static_force_n),
          words.say("place of each support ±{:g} m", tolerances.span_length_m),
          words.say("stiffness of messenger supports ±{:g} %",
                    100 * tolerances.support_stiffness_share),
          words.say("damping of the wires ±{:g} %", 100 * tolerances.damping_share),
          words.say("mass of steady arms ±{:g} %", 100 * tolerances.steady_arm_mass_share),
          words.say("aerodynamic factor ±{:g} %", 100 * tolerances.aerodynamic_share)};
}

Sample draw_sample(const ContactLine& line, const std::vector<RunningPantograph>& pantographs,
                   const Tolerances& tolerances, std::uint64_t seed, std::uint64_t number) {
  EvenDraw draw(seed, number);
  Sample sample{line, pantographs};
  for (Wire* const wire : {&sample.line.contact_wire, &sample.line.messenger_wire}) {
    wire->tension_deviation_n = tolerances.tension_share * wire->tension_n * draw();
  }
  for (RunningPantograph& pantograph : sample.pantographs) {
    pantograph.static_force_n =
        std::max(0.0, pantograph.static_force_n + tolerances.static_force_n * draw());
  }
  move_supports(sample.line, tolerances.span_length_m, draw);
  for (Span& span : sample.line.spans) {
    for (Dropper& dropper : span.droppers) {
      dropper.length_deviation_m = tolerances.dropper_length_m * draw();
    }
  }
  const auto vary = [&](double share, std::initializer_list<ModelInput> inputs) {
    const double factor = 1 + share * draw();
    for (const ModelInput input : inputs) {
      multiply(input, factor, sample.line, sample.pantographs);
    }
  };
  vary(tolerances.support_stiffness_share, {ModelInput::support_stiffness});
  vary(tolerances.damping_share, {ModelInput::mass_damping, ModelInput::stiffness_damping});
  vary(tolerances.steady_arm_mass_share, {ModelInput::steady_arm_mass});
  vary(tolerances.aerodynamic_share, {ModelInput::aerodynamic_factor});
  return sample;
}

}  // namespace panup
