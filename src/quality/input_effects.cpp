#include "quality/input_effects.h"

#include <algorithm>
#include <deque>
#include <optional>
#include <span>
#include <utility>

#include "dynamics/model_input.h"
#include "quality/scan_rounds.h"
#include "quality/support_cases.h"
#include "quality/tolerances.h"

namespace panup {

namespace {

/// An input, put at either end of its tolerance.
struct VariedInput {
  std::string name;
  std::string tolerance;
  std::vector<Sample> ends;
};

/// Of the criteria that swing, those whose figures are told: σ and what is reckoned from it, and
/// loss.
bool is_told(RuleKind kind) {
  return kind == RuleKind::force_deviation || kind == RuleKind::statistical_maximum ||
         kind == RuleKind::statistical_minimum || kind == RuleKind::contact_loss;
}

std::string share_in_words(double share, const Words& words) {
  return words.say("±{:g} %", 100 * share);
}

VariedInput tension(const Sample& data, Wire ContactLine::*wire, const char* name, double share,
                    const Words& words) {
  VariedInput input{words.named(name), share_in_words(share, words), {}};
  for (const double side : {-share, share}) {
    input.ends.push_back(data);
    Wire& varied = input.ends.back().line.*wire;
    varied.tension_deviation_n += side * varied.tension_n;
  }
  return input;
}

VariedInput static_force(const Sample& data, double by_n, const Words& words) {
  VariedInput input{words.say("the static force"), words.say("±{:g} N", by_n), {}};
  for (const double side : {-by_n, by_n}) {
    input.ends.push_back(data);
    for (RunningPantograph& one : input.ends.back().pantographs) {
      one.static_force_n = std::max(0.0, one.static_force_n + side);
    }
  }
  return input;
}

/// Several inputs of the model that are known equally well, as one.
VariedInput shares_of(const Sample& data, std::initializer_list<ModelInput> of, const char* name,
                      double share, const Words& words) {
  VariedInput input{words.named(name), share_in_words(share, words), {}};
  const bool has_some = std::ranges::any_of(
      of, [&](ModelInput one) { return value_of(one, data.line, data.pantographs) != 0; });
  if (has_some && share > 0) {
    for (const double factor : {1 - share, 1 + share}) {
      input.ends.push_back(data);
      for (const ModelInput one : of) {
        multiply(one, factor, input.ends.back().line, input.ends.back().pantographs);
      }
    }
  }
  return input;
}

VariedInput drawn(const Sample& data, const Tolerances& only, const char* name,
                  const std::string& tolerance, const Words& words) {
  VariedInput input{words.named(name), words.say("{}, drawn twice", tolerance), {}};
  constexpr std::uint64_t seed = 1;
  for (const std::uint64_t number : {0U, 1U}) {
    input.ends.push_back(draw_sample(data.line, data.pantographs, only, seed, number));
  }
  return input;
}

/// `other`: the same line with its supports as they may be too, where they are not stated.
VariedInput messenger_supports(const Sample& data, const ContactLine* other, double share,
                               const Words& words) {
  constexpr const char* name = "the stiffness of the messenger supports";
  if (other == nullptr) {
    return shares_of(data, {ModelInput::support_stiffness}, name, share, words);
  }
  VariedInput input{
      words.named(name),
      words.say("not stated, {:g} to {:g} kN/m", soft_messenger_support_n_per_m / 1000,
                stiff_messenger_support_n_per_m / 1000),
      {}};
  input.ends.push_back({*other, data.pantographs});
  return input;
}

std::vector<VariedInput> inputs_within(const Tolerances& tolerances, const Sample& data,
                                       const ContactLine* other_supports, const Words& words) {
  return {
      tension(data, &ContactLine::contact_wire, "the tension of the contact wire",
              tolerances.tension_share, words),
      tension(data, &ContactLine::messenger_wire, "the tension of the messenger wire",
              tolerances.tension_share, words),
      drawn(data, {.dropper_length_m = tolerances.dropper_length_m}, "the lengths of the droppers",
            words.say("±{:g} mm", 1000 * tolerances.dropper_length_m), words),
      drawn(data, {.span_length_m = tolerances.span_length_m}, "the places of the supports",
            words.say("±{:g} m", tolerances.span_length_m), words),
      static_force(data, tolerances.static_force_n, words),
      messenger_supports(data, other_supports, tolerances.support_stiffness_share, words),
      shares_of(data, {ModelInput::mass_damping, ModelInput::stiffness_damping},
                "the damping of the wires", tolerances.damping_share, words),
      shares_of(data, {ModelInput::steady_arm_mass}, "the mass of the steady arms",
                tolerances.steady_arm_mass_share, words),
      shares_of(data, {ModelInput::aerodynamic_factor}, "the aerodynamic factor",
                tolerances.aerodynamic_share, words)};
}

/// A speed that is looked into: its inputs, and where their runs stand in the list of all runs.
struct Looked {
  std::size_t speed = 0;
  std::vector<VariedInput> inputs;
  std::size_t first_run = 0;
};

/// The figure of the deciding pantograph; nothing where there was no run.
std::optional<double> figure_of(const PermittedSpeed& speed,
                                const std::vector<PantographFigures>& pantographs) {
  const auto place = static_cast<std::size_t>(speed.pantograph) - 1;
  if (place >= pantographs.size()) {
    return std::nullopt;
  }
  return speed.kind == RuleKind::contact_loss ? pantographs[place].contact_loss_percent
                                              : pantographs[place].std_n;
}

/// As the failing speed was judged.
std::optional<double> figure_as_judged(const PermittedSpeed& speed) {
  const auto judged = std::ranges::find(speed.judged, *speed.fails_at_kmh, &JudgedSpeed::speed_kmh);
  return judged == speed.judged.end() ? std::nullopt : figure_of(speed, judged->pantographs);
}

HangsOn of_two_widest(const PermittedSpeed& speed, double figure,
                      const std::vector<VariedInput>& inputs, std::span<const RunFigures> runs) {
  HangsOn hangs_on{.speed_kmh = *speed.fails_at_kmh,
                   .pantograph = speed.pantograph,
                   .is_loss = speed.kind == RuleKind::contact_loss,
                   .figure = figure,
                   .inputs = {}};
  std::size_t run = 0;
  for (const VariedInput& input : inputs) {
    InputEffect effect{input.name, input.tolerance, figure, figure};
    for (std::size_t end = 0; end < input.ends.size(); ++end) {
      if (const auto at_end = figure_of(speed, runs[run++].pantographs)) {
        effect.least = std::min(effect.least, *at_end);
        effect.greatest = std::max(effect.greatest, *at_end);
      }
    }
    if (effect.greatest > effect.least) {
      hangs_on.inputs.push_back(std::move(effect));
    }
  }
  std::ranges::stable_sort(hangs_on.inputs, std::ranges::greater{},
                           [](const InputEffect& one) { return one.greatest - one.least; });
  hangs_on.inputs.resize(std::min<std::size_t>(hangs_on.inputs.size(), 2));
  return hangs_on;
}

}  // namespace

bool can_hang_on_inputs(const PermittedSpeed& speed) {
  return speed.fails_at_kmh && !speed.refused && is_told(speed.kind) && figure_as_judged(speed);
}

bool find_what_speeds_hang_on(const std::vector<SpeedQuestion>& questions, const RuleBook& rules,
                              const RunSource& runs, std::vector<PermittedSpeed>& speeds) {
  const Rule* const rule = rule_in_force(rules, RuleKind::tolerances);
  if (rule == nullptr) {
    return true;
  }
  const Tolerances tolerances = tolerances_of(*rule);
  EvaluatedLines lines = lines_for(mechanics_rule(rules), false);
  SupportCases supports;
  std::deque<Looked> looked;  // the requests point into it
  std::vector<SimulationRequest> requests;
  for (std::size_t i = 0; i < speeds.size(); ++i) {
    const PermittedSpeed& speed = speeds[i];
    if (!can_hang_on_inputs(speed)) {
      continue;
    }
    const SpeedQuestion& question = questions[i];
    const std::vector<const ContactLine*>& cases = supports.of(*question.line);
    const auto as_run = [&](std::size_t one) {
      return lines.line_for(*cases[one], question.pantographs.back().behind_first_m);
    };
    const std::size_t decides = speed.by_supports && speed.by_supports->soft_decides ? 1 : 0;
    const Sample data{*as_run(decides), question.pantographs};
    const ContactLine* const other = cases.size() > 1 ? as_run(1 - decides) : nullptr;
    looked.push_back({i, inputs_within(tolerances, data, other, rules.words), requests.size()});
    for (const VariedInput& input : looked.back().inputs) {
      for (const Sample& end : input.ends) {
        requests.push_back({.line = &end.line,
                            .pantographs = end.pantographs,
                            .speed_kmh = *speed.fails_at_kmh,
                            .settings = question.settings});
      }
    }
  }
  const auto figures = run_in_rule_step(rules, runs, std::move(requests));
  if (!figures) {
    return false;
  }
  for (const Looked& one : looked) {
    PermittedSpeed& speed = speeds[one.speed];
    speed.hangs_on = of_two_widest(speed, *figure_as_judged(speed), one.inputs,
                                   std::span(*figures).subspan(one.first_run));
  }
  return true;
}

std::string in_words(const HangsOn& hangs_on, const Words& words) {
  const char* const unit = hangs_on.is_loss ? "%" : "N";
  const auto figure = [&](double value) {
    return hangs_on.is_loss ? words.say("{:.2f}", value) : words.say("{:.1f}", value);
  };
  std::string hung;
  for (const InputEffect& input : hangs_on.inputs) {
    const std::string one = words.say("{} ({}: {} to {} {})", input.input, input.tolerance,
                                      figure(input.least), figure(input.greatest), unit);
    hung = hung.empty() ? one : words.say("{} and on {}", hung, one);
  }
  const std::string is =
      hangs_on.is_loss
          ? words.say("At {:g} km/h the contact loss of pantograph {} is {} %", hangs_on.speed_kmh,
                      hangs_on.pantograph, figure(hangs_on.figure))
          : words.say("At {:g} km/h the standard deviation of the force of pantograph {} is {} N",
                      hangs_on.speed_kmh, hangs_on.pantograph, figure(hangs_on.figure));
  return hangs_on.inputs.empty()
             ? words.say("{}. Within the tolerances it hangs on no single input.", is)
             : words.say_of(hangs_on.inputs.size(),
                            "{}, and hangs most on {}. To be surer of this speed, measure that "
                            "first.",
                            "{}, and hangs most on {}. To be surer of this speed, measure these "
                            "first.",
                            is, hung);
}

}  // namespace panup
