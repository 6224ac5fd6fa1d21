#include <fmt/format.h>

#include <algorithm>

#include "plan/make_plan.h"
#include "render/simulation.h"
#include "render/text_layout.h"
#include "render/text_parts.h"
#include "render/wording.h"

namespace panup {

namespace {

void add_fact(std::string& out, std::string_view name, const std::string& text) {
  out += hanging(fmt::format("{:<14}", name), plain(text), text_columns);
}

void add_line(std::string& out, const ContactLine& line) {
  const std::string length = fmt::format(", {} spans, {:g} m", line.spans.size(), length_of(line));
  add_fact(out, "Line", with_id(line.name, line.id) + length);
  if (!line.source.empty()) {
    add_fact(out, "", "source: " + line.source);
  }
}

std::string head(const SimulationReport& report) {
  std::string out;
  const bool demo = report.line.invented ||
                    std::ranges::any_of(report.pantographs, [](const RunningPantograph& one) {
                      return one.model.invented;
                    });
  if (demo) {
    out += std::string(invented_mark) + "\n\n";
  }
  add_line(out, report.line);
  int number = 0;
  for (const RunningPantograph& one : report.pantographs) {
    ++number;
    add_fact(
        out, fmt::format("Pantograph {}", number),
        fmt::format("{}, {:g} m behind the first, {:g} N at rest, knuckle {}",
                    with_id(one.model.name, one.model.id), one.behind_first_m, one.static_force_n,
                    one.knuckle == Knuckle::leading ? "leading" : "trailing"));
  }
  const SimulationResult& result = report.result;
  add_fact(out, "Speed",
           fmt::format("{:g} km/h; waves run at {:.0f} km/h along the contact wire, so {:.0f} %",
                       result.speed_kmh, result.wave_speed_kmh,
                       100 * result.speed_kmh / result.wave_speed_kmh));
  add_fact(out, "Evaluated",
           fmt::format("{:g} m to {:g} m of the line", result.from_m, result.to_m));
  return out;
}

/// One figure of all pantographs side by side.
struct FigureRow {
  std::string name;
  double PantographRun::*figure;
  int decimals;
};

std::string forces(const SimulationResult& result) {
  std::vector<TableColumn> heads{{.heading = ""}};
  for (std::size_t i = 0; i < result.pantographs.size(); ++i) {
    heads.push_back({.heading = fmt::format("{}", i + 1), .right_aligned = true, .width = 7});
  }
  heads.push_back({.heading = ""});
  const std::vector<FigureRow> figures{
      {"mean, N", &PantographRun::mean_n, 1},
      {"standard deviation σ, N", &PantographRun::std_n, 1},
      {"statistical maximum, mean + 3σ, N", &PantographRun::statistical_max_n, 1},
      {"statistical minimum, mean − 3σ, N", &PantographRun::statistical_min_n, 1},
      {"greatest, N", &PantographRun::max_n, 1},
      {"least, N", &PantographRun::min_n, 1},
      {"contact loss, % of the time", &PantographRun::contact_loss_percent, 2},
      {"longest contact loss, ms", &PantographRun::longest_contact_loss_ms, 0},
  };
  std::vector<std::vector<std::string>> rows;
  for (const FigureRow& row : figures) {
    std::vector<std::string> cells{row.name};
    for (const PantographRun& run : result.pantographs) {
      cells.push_back(fmt::format("{:.{}f}", run.*row.figure, row.decimals));
    }
    cells.emplace_back();
    rows.push_back(std::move(cells));
  }
  return "\nCONTACT FORCE of each pantograph, front first; below 20 Hz but for contact loss\n" +
         text_table(heads, rows, 2, text_columns);
}

std::string lifts(const SimulationResult& result) {
  std::string out = "\nUPLIFT OF THE CONTACT WIRE\n";
  out += fmt::format("  at supports  {:5.1f} mm at most\n", result.max_support_uplift_mm);
  out += fmt::format("  in spans     {:5.1f} mm at most\n", result.max_span_uplift_mm);
  return out;
}

std::string droppers(const SimulationResult& result) {
  std::vector<DropperSlackening> slack = result.droppers;
  std::erase_if(slack, [](const DropperSlackening& one) { return one.times == 0; });
  const double greatest =
      result.droppers.empty()
          ? 0
          : std::ranges::max(result.droppers, {}, &DropperSlackening::greatest_force_n)
                .greatest_force_n;
  std::string out = "\nDROPPERS\n";
  if (slack.empty()) {
    out += "  none goes slack";
  } else {
    const auto& longest = *std::ranges::max_element(slack, {}, &DropperSlackening::slack_ms);
    out += fmt::format("  {} of {} go slack, the one at {:.1f} m for the longest: {:.0f} ms",
                       slack.size(), result.droppers.size(), longest.at_m, longest.slack_ms);
  }
  return out + fmt::format("; greatest force {:.0f} N\n", greatest);
}

std::string reckoning(const SimulationResult& result) {
  const EnergyBalance& energy = result.energy;
  return fmt::format(
      "\nRECKONING\n"
      "  step         {:g} ms; grid {:.3f} m on the contact wire, {:.3f} m on the messenger wire\n"
      "  energy       frames {:.1f} J + train {:.1f} J = stored {:.1f} J + dissipated {:.1f} J"
      " + missing {:.2f} J\n"
      "               missing is {:.2f} % of the greatest stored\n"
      "  time         {:.1f} s simulated in {:.3f} s\n",
      1000 * result.step_s, result.contact_grid_m, result.messenger_grid_m, energy.work_of_frames_j,
      energy.work_of_traction_j, energy.stored_j, energy.dissipated_j, energy.missing_j,
      100 * energy.relative_error(), result.simulated_s, result.wall_s);
}

std::vector<std::string> notes() {
  return {
      "Stagger, wind, wear and the vehicle's own motion are not in the model; "
      "docs/mechanics.md says what is.",
      "The figures are judged by nobody here: limits of force, uplift and contact loss are the "
      "line's."};
}

std::string weather_words(const StaticReport& report) {
  const LineWeather& weather = report.weather;
  std::string words = fmt::format("{:g} °C", weather.temperature_c);
  if (weather.ice_on_contact_wire_kg_per_m > 0 || weather.ice_on_messenger_wire_kg_per_m > 0) {
    words +=
        fmt::format(", ice of {:g} kg/m on each contact wire and {:g} kg/m on the messenger wire",
                    weather.ice_on_contact_wire_kg_per_m, weather.ice_on_messenger_wire_kg_per_m);
  }
  return words;
}

}  // namespace

std::string simulation_to_text(const SimulationReport& report) {
  return head(report) + forces(report.result) + lifts(report.result) + droppers(report.result) +
         reckoning(report.result) + text_list("WARNINGS", report.result.warnings) +
         text_list("NOTES", notes()) + text_list("CAUTIONS", cautions("result")) +
         made_from(report.inputs, report.program_version);
}

std::string statics_to_text(const StaticReport& report) {
  const StaticState& state = report.state;
  std::string out;
  if (report.line.invented) {
    out += std::string(invented_mark) + "\n\n";
  }
  add_line(out, report.line);
  add_fact(out, "Weather", weather_words(report));
  add_fact(out, "Tension",
           fmt::format("contact wire {:.0f} N{}, messenger wire {:.0f} N", state.contact_tension_n,
                       report.line.contact_wires == 2 ? " (both together)" : "",
                       state.messenger_tension_n));
  // Ends differ from what lies between: a span in the middle stands for the line.
  const std::size_t span = report.line.spans.size() / 2;
  const std::vector<double> supports = support_positions(report.line);
  out += fmt::format("\nDROPPERS of span {} of {}, from its first support\n", span + 1,
                     report.line.spans.size());
  std::vector<std::vector<std::string>> rows;
  for (const StaticDropper& dropper : state.droppers) {
    if (dropper.span == static_cast<int>(span)) {
      rows.push_back(
          {fmt::format("{:.2f}", dropper.at_m - supports[span]),
           fmt::format("{:.1f}", dropper.force_n), fmt::format("{:.3f}", dropper.length_m),
           dropper.slack_m > 0 ? fmt::format("slack by {:.1f} mm", 1000 * dropper.slack_m)
                               : std::string(dropper.on_stitch_wire ? "on the stitch wire" : "")});
    }
  }
  out += text_table({{.heading = "m", .right_aligned = true, .width = 6},
                     {.heading = "force, N", .right_aligned = true},
                     {.heading = "length, m", .right_aligned = true},
                     {.heading = ""}},
                    rows, 2, text_columns);
  out += fmt::format("\nSAG in that span: contact wire {:.1f} mm, messenger wire {:.1f} mm\n",
                     1000 * state.contact_sag_m[span], 1000 * state.messenger_sag_m[span]);
  out += fmt::format("\nHEIGHTS AND ELASTICITY along it\n");
  rows.clear();
  for (const StaticPoint& point : state.points) {
    if (point.at_m > supports[span] - 1e-6 && point.at_m < supports[span + 1] + 1e-6) {
      rows.push_back({fmt::format("{:.1f}", point.at_m - supports[span]),
                      fmt::format("{:.1f}", 1000 * point.contact_wire_m),
                      fmt::format("{:.1f}", 1000 * point.messenger_wire_m),
                      fmt::format("{:.3f}", point.elasticity_mm_per_n), ""});
    }
  }
  out += text_table({{.heading = "m", .right_aligned = true, .width = 6},
                     {.heading = "contact wire, mm", .right_aligned = true},
                     {.heading = "messenger wire, mm", .right_aligned = true},
                     {.heading = "elasticity, mm/N", .right_aligned = true},
                     {.heading = ""}},
                    rows, 2, text_columns);
  double hung = 0;
  for (const StaticDropper& dropper : state.droppers) {
    hung += dropper.force_n;
  }
  out += fmt::format(
      "\nWEIGHT of the contact wire and what sits on it {:.0f} N = droppers {:.0f} N + "
      "terminations "
      "{:.0f} N + steady arms {:.0f} N\n",
      state.contact_weight_n, hung, state.termination_force_n, state.steady_arm_force_n);
  return out + text_list("CAUTIONS", cautions("result")) +
         made_from(report.inputs, report.program_version);
}

}  // namespace panup
