/// The mechanics: bytes choose a contact line, pantographs and a run within what the readers
/// permit, and are written down as files and read. What is read either runs, to figures that have a
/// meaning, or is refused in words.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "dynamics/simulate.h"
#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "harness.h"

namespace panup {

namespace {

/// Takes choices off the front of bytes; where there are none left, the least of each.
class Choices {
 public:
  Choices(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}

  /// Both ends can be met. `bend` above 1 favours values near the least.
  double number(double least, double greatest, double bend = 1) {
    const int high = byte();
    const double share = (256 * high + byte()) / 65535.0;
    return least + (greatest - least) * std::pow(share, bend);
  }
  int whole(int least, int greatest) { return least + byte() % (greatest - least + 1); }
  bool flag() { return byte() % 2 != 0; }

 private:
  int byte() {
    if (left_ == 0) {
      return 0;
    }
    --left_;
    return *data_++;
  }
  const std::uint8_t* data_;
  std::size_t left_;
};

/// A file as it is written down, choice by choice.
struct Draft {
  Choices& choices;
  std::string text;

  void number(const char* key, double least, double greatest, double bend = 1) {
    text += fmt::format("{} = {}\n", key, choices.number(least, greatest, bend));
  }
  /// Left out as often as not.
  void maybe_number(const char* key, double least, double greatest, double bend = 1) {
    if (choices.flag()) {
      number(key, least, greatest, bend);
    }
  }
};

void add_wire(Draft& draft, const char* name, double most_bending) {
  draft.text += fmt::format("[wire.{}]\n", name);
  draft.number("tension_n", 500, 60000);
  draft.number("mass_kg_per_m", 0.05, 5);
  draft.maybe_number("bending_stiffness_nm2", 0, most_bending, 3);
  draft.number("axial_stiffness_n", 1e5, 1e9, 4);
  draft.number("thermal_expansion_per_k", 1e-6, 1e-4);
  draft.number("diameter_mm", 1, 50);
}

/// A short one, so that many fit into a second.
std::string line_text(Choices& choices) {
  Draft draft{choices, "kind = \"contact line\"\nid = \"f\"\nname = \"f\"\n"};
  draft.text += fmt::format("termination = \"{}\"\n", choices.flag() ? "fixed" : "auto-tensioned");
  draft.maybe_number("mass_damping_per_s", 0, 10, 4);
  draft.maybe_number("stiffness_damping_s", 0, 0.1, 6);
  add_wire(draft, "contact", 2000);
  add_wire(draft, "messenger", 100);
  const bool stitched = choices.flag();
  if (stitched) {
    add_wire(draft, "stitch", 0);
  }
  draft.text += "[support.regular]\n";
  draft.number("encumbrance_m", 0.1, 5);
  draft.number("messenger_stiffness_n_per_m", 1000, 1e8, 4);
  draft.number("messenger_mass_kg", 0, 200, 3);
  draft.number("steady_arm_mass_kg", 0, 50, 3);
  draft.number("steady_arm_stiffness_n_per_m", 0, 1e5, 4);
  if (stitched) {
    draft.number("stitch_wire_length_m", 2, 30);
  }
  draft.text += fmt::format("[droppers.regular]\nnumber = {}\n", choices.whole(2, 12));
  draft.number("first_m", 0.5, 20);
  draft.number("stiffness_n_per_m", 1000, 1e7, 4);
  draft.number("mass_on_contact_wire_kg", 0, 10, 4);
  draft.number("mass_on_messenger_kg", 0, 10, 4);
  const int spans = choices.whole(3, 7);
  for (int i = 0; i < spans; ++i) {
    draft.text += "[[span]]\n";
    draft.number("length_m", 20, 70);
    draft.number("pre_sag_mm", 0, 200, 3);
  }
  return draft.text;
}

std::string pantograph_text(Choices& choices) {
  Draft draft{choices, "kind = \"pantograph model\"\nid = \"p\"\nname = \"p\"\n"};
  draft.number("static_force_n", 20, 300);
  draft.number("aerodynamic_knuckle_leading_n_per_kmh2", -0.01, 0.01);
  draft.number("aerodynamic_knuckle_trailing_n_per_kmh2", -0.01, 0.01);
  draft.number("contact_stiffness_n_per_m", 1000, 1e7, 3);
  const int masses = choices.whole(1, 4);
  for (int i = 0; i < masses; ++i) {
    draft.text += "[[mass]]\n";
    draft.number("mass_kg", 0.1, 100, 2);
    draft.number("stiffness_n_per_m", 0, 1e6, 4);
    draft.number("damping_ns_per_m", 0, 10000, 3);
  }
  return draft.text;
}

void require(bool holds, const char* what) {
  if (!holds) {
    fail(what);
  }
}

template <typename... Figures>
bool finite(Figures... figures) {
  return (std::isfinite(figures) && ...);
}

void require_sound_run(const PantographRun& run) {
  require(finite(run.position_m, run.mean_n, run.std_n, run.statistical_max_n,
                 run.statistical_min_n, run.max_n, run.min_n, run.contact_loss_percent,
                 run.longest_contact_loss_ms, run.highest_head_m, run.lowest_head_m),
          "a figure of a pantograph is not finite");
  require(run.min_n <= run.mean_n && run.mean_n <= run.max_n && run.std_n >= 0,
          "the mean force lies between the least and the greatest");
  require(run.contact_loss_percent >= 0 && run.contact_loss_percent <= 100,
          "contact is lost for a share of the time");
  require(run.lowest_head_m <= run.highest_head_m, "the head's lowest place is above its highest");
  const double longest =
      run.contact_losses_ms.empty()
          ? 0
          : *std::max_element(run.contact_losses_ms.begin(), run.contact_losses_ms.end());
  require(longest == run.longest_contact_loss_ms, "the longest loss is one of the losses");
}

void require_sound_result(const SimulationResult& result, const SimulationRequest& request) {
  require(result.pantographs.size() == request.pantographs.size(),
          "each pantograph has its figures");
  std::for_each(result.pantographs.begin(), result.pantographs.end(), require_sound_run);
  require(finite(result.wave_speed_kmh, result.from_m, result.to_m, result.max_support_uplift_mm,
                 result.max_span_uplift_mm) &&
              result.from_m <= result.to_m && result.from_m >= 0 &&
              result.to_m <= length_of(*request.line) + 1e-6,
          "the evaluated stretch lies on the line");
  require(result.wave_speed_kmh > request.speed_kmh, "runs are slower than the wave");
  const EnergyBalance& energy = result.energy;
  require(finite(energy.work_of_frames_j, energy.work_of_traction_j, energy.stored_j,
                 energy.dissipated_j, energy.missing_j) &&
              energy.dissipated_j >= -1e-6 * energy.peak_stored_j,
          "damping gives no energy");
  for (const DropperSlackening& dropper : result.droppers) {
    require(finite(dropper.slack_ms, dropper.greatest_force_n) && dropper.slack_ms >= 0,
            "a dropper is slack for a time");
  }
}

/// Long enough for most of what is chosen; the rest is stopped, at the same step every time.
constexpr int most_questions = 100;

SimulationOutcome bounded_run(SimulationRequest request) {
  int asked = 0;
  request.settings.stopped = [&asked] { return ++asked > most_questions; };
  return simulate(request);
}

void run(Choices& choices, const ContactLine& line, const PantographModel& model) {
  SimulationRequest request;
  request.line = &line;
  request.speed_kmh = choices.number(20, 400);
  const int count = choices.whole(1, 3);
  double behind_m = 0;
  for (int i = 0; i < count; ++i) {
    RunningPantograph one;
    one.model = model;
    one.static_force_n = model.static_force_n.value_or(70);
    one.knuckle = choices.flag() ? Knuckle::trailing : Knuckle::leading;
    one.behind_first_m = behind_m;
    behind_m += choices.number(1, 60, 2);
    request.pantographs.push_back(one);
  }
  SimulationSettings& settings = request.settings;
  settings.step_s = choices.number(0.0005, 0.005);
  if (choices.flag()) {
    settings.from_m = choices.number(0, 200);
    settings.to_m = choices.number(0, 400);
  }
  settings.weather_given = choices.flag();
  settings.weather.temperature_c = choices.number(-60, 60);
  settings.weather.ice_on_contact_wire_kg_per_m = choices.number(0, 10, 3);
  settings.weather.ice_on_messenger_wire_kg_per_m = choices.number(0, 10, 3);
  settings.keep_trace = choices.flag();
  const SimulationOutcome outcome = bounded_run(request);
  require(outcome.result.has_value() == outcome.refusals.empty(),
          "a run has a result, or is refused in words");
  if (outcome.result) {
    require_sound_result(*outcome.result, request);
    const SimulationOutcome again = bounded_run(request);
    require(again.result &&
                again.result->pantographs.back().std_n == outcome.result->pantographs.back().std_n,
            "the same request has the same result");
  }
}

}  // namespace

}  // namespace panup

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  panup::Choices choices(data, size);
  panup::Diagnostics diagnostics;
  const auto model = panup::read_pantograph_model(
      {.file = "pantograph", .text = panup::pantograph_text(choices)}, diagnostics);
  const auto line =
      panup::read_contact_line({.file = "line", .text = panup::line_text(choices)}, diagnostics);
  panup::require_sound(model && line, diagnostics);
  if (model && line) {
    panup::run(choices, *line, *model);
  }
  return 0;
}
