#include <fmt/format.h>

#include <algorithm>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/simulation.h"
#include "figures/simulation_text_parts.h"

namespace panup {

namespace {

std::string head(const SimulationReport& report) {
  const SimulationResult& result = report.result;
  std::string out;
  if (invented(report)) {
    out += std::string(invented_mark) + "\n\n";
  }
  add_calculation_fact(out, "Contact line", line_words(report.line));
  add_calculation_fact(
      out, "Speed",
      fmt::format("{:g} km/h, {:.0f} % of the contact wire's wave speed of {:.0f} km/h",
                  result.speed_kmh, 100 * result.speed_kmh / result.wave_speed_kmh,
                  result.wave_speed_kmh));
  add_calculation_fact(out, "Supply", report.supply ? name_of(*report.supply) : "not stated");
  add_calculation_fact(out, "Conditions", weather_words(report.weather));
  add_calculation_fact(out, "Evaluated",
                       fmt::format("{:g} m to {:g} m along the line, for each pantograph by its "
                                   "own place",
                                   result.from_m, result.to_m));
  return out;
}

std::string pressed_up_by(const SimulationReport& report) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < report.pantographs.size(); ++i) {
    const RunningPantograph& one = report.pantographs[i];
    const double aerodynamic = aerodynamic_force(one.model, one.knuckle, report.result.speed_kmh);
    rows.push_back({std::to_string(i + 1), figure(one.behind_first_m, 1),
                    figure(one.static_force_n, 1), figure(aerodynamic, 1),
                    one.knuckle == Knuckle::leading ? "leading" : "trailing",
                    plain(with_id(one.model.name, one.model.id))});
  }
  return "\nPANTOGRAPHS, first in front, and what presses them up\n" +
         text_table({{.heading = ""},
                     {.heading = "behind first m", .right_aligned = true},
                     {.heading = "static force N", .right_aligned = true},
                     {.heading = "aerodynamic N", .right_aligned = true},
                     {.heading = "knuckle"},
                     {.heading = "model"}},
                    rows, 2, text_columns);
}

std::string contact_force(const SimulationResult& result) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < result.pantographs.size(); ++i) {
    const PantographRun& run = result.pantographs[i];
    rows.push_back({std::to_string(i + 1), figure(run.mean_n, 1), figure(run.std_n, 1),
                    run.mean_n > 0 ? figure(run.std_n / run.mean_n, 2) : "–",
                    figure(run.statistical_max_n, 0), figure(run.statistical_min_n, 0),
                    figure(run.max_n, 0), figure(run.min_n, 0), figure(run.contact_loss_percent, 2),
                    figure(run.longest_contact_loss_ms, 0), figure(1000 * run.highest_head_m, 0),
                    figure(1000 * run.lowest_head_m, 0), ""});
  }
  return "\nCONTACT FORCE in N, low-pass filtered at 20 Hz; contact loss from the unfiltered "
         "force\n" +
         text_table({{.heading = ""},
                     {.heading = "mean", .right_aligned = true},
                     {.heading = "σ", .right_aligned = true},
                     {.heading = "σ/mean", .right_aligned = true},
                     {.heading = "mean+3σ", .right_aligned = true},
                     {.heading = "mean−3σ", .right_aligned = true},
                     {.heading = "max", .right_aligned = true},
                     {.heading = "min", .right_aligned = true},
                     {.heading = "loss %", .right_aligned = true},
                     {.heading = "longest ms", .right_aligned = true},
                     {.heading = "head: high", .right_aligned = true},
                     {.heading = "low", .right_aligned = true, .width = 5},
                     {.heading = ""}},
                    rows, 2, text_columns) +
         "  Head: highest and lowest place of the collector head in mm, against its static "
         "height.\n";
}

/// The greatest of a list, in their own order.
template <typename Item, typename Measure>
std::vector<Item> greatest_of(std::vector<Item> items, Measure measure) {
  if (items.size() <= longest_list) {
    return items;
  }
  std::vector<double> values(items.size());
  std::ranges::transform(items, values.begin(), measure);
  std::ranges::nth_element(values, values.begin() + longest_list - 1, std::ranges::greater{});
  const double least = values[longest_list - 1];
  std::erase_if(items, [&](const Item& item) { return measure(item) < least; });
  items.resize(std::min(items.size(), longest_list));
  return items;
}

std::string rest_in_json(std::size_t all, std::string_view what) {
  return all <= longest_list
             ? std::string()
             : fmt::format("  The {} {} of {}; JSON has all.\n", longest_list, what, all);
}

std::string uplifts(const SimulationResult& result) {
  const auto supports =
      greatest_of(result.support_uplifts, [](const SupportUplift& one) { return one.uplift_mm; });
  const auto spans =
      greatest_of(result.span_uplifts, [](const SpanUplift& one) { return one.uplift_mm; });
  std::vector<std::vector<std::string>> rows(std::max(supports.size(), spans.size()),
                                             std::vector<std::string>(6));
  for (std::size_t i = 0; i < supports.size(); ++i) {
    rows[i][0] = figure(supports[i].at_m, 1);
    rows[i][1] = figure(supports[i].uplift_mm, 1);
  }
  for (std::size_t i = 0; i < spans.size(); ++i) {
    rows[i][2] = fmt::format("{:g} to {:g}", spans[i].from_m, spans[i].to_m);
    rows[i][3] = figure(spans[i].at_m, 1);
    rows[i][4] = figure(spans[i].uplift_mm, 1);
  }
  const std::string out =
      fmt::format("\nUPLIFT of the contact wire: at supports {} mm at most, within spans {} mm\n",
                  figure(result.max_support_uplift_mm, 1), figure(result.max_span_uplift_mm, 1));
  if (rows.empty()) {
    return out + "  No support lies within the evaluated stretch.\n";
  }
  return out +
         text_table({{.heading = "support at m", .right_aligned = true},
                     {.heading = "uplift mm", .right_aligned = true},
                     {.heading = "  span, m", .right_aligned = true},
                     {.heading = "greatest at m", .right_aligned = true},
                     {.heading = "uplift mm", .right_aligned = true},
                     {.heading = ""}},
                    rows, 2, text_columns) +
         rest_in_json(std::max(result.support_uplifts.size(), result.span_uplifts.size()),
                      "greatest");
}

std::string droppers(const SimulationResult& result) {
  std::vector<DropperSlackening> slack;
  double greatest_n = 0;
  for (const DropperSlackening& one : result.droppers) {
    greatest_n = std::max(greatest_n, one.greatest_force_n);
    if (one.times > 0) {
      slack.push_back(one);
    }
  }
  std::string out = fmt::format("\nDROPPERS: {} of {} slackened; greatest force in one {} N\n",
                                slack.size(), result.droppers.size(), figure(greatest_n, 0));
  if (slack.empty()) {
    return out;
  }
  std::vector<std::vector<std::string>> rows;
  for (const DropperSlackening& one :
       greatest_of(slack, [](const DropperSlackening& dropper) { return dropper.slack_ms; })) {
    rows.push_back({figure(one.at_m, 1), figure(one.slack_ms, 0), std::to_string(one.times),
                    figure(one.greatest_force_n, 0), ""});
  }
  return out +
         text_table({{.heading = "dropper at m", .right_aligned = true},
                     {.heading = "slack ms", .right_aligned = true},
                     {.heading = "times", .right_aligned = true},
                     {.heading = "greatest force N", .right_aligned = true},
                     {.heading = ""}},
                    rows, 2, text_columns) +
         rest_in_json(slack.size(), "slack longest");
}

std::string reckoning(const SimulationResult& result) {
  const EnergyBalance& energy = result.energy;
  std::string out = "\nENERGY in J from start to end\n";
  out += text_table(
      {{.heading = "work of frames", .right_aligned = true},
       {.heading = "work of traction", .right_aligned = true},
       {.heading = "stored", .right_aligned = true},
       {.heading = "dissipated", .right_aligned = true},
       {.heading = "missing", .right_aligned = true},
       {.heading = "of peak stored", .right_aligned = true},
       {.heading = ""}},
      {{figure(energy.work_of_frames_j, 2), figure(energy.work_of_traction_j, 2),
        figure(energy.stored_j, 2), figure(energy.dissipated_j, 2), figure(energy.missing_j, 4),
        figure(100 * energy.relative_error(), 3) + " %", ""}},
      2, text_columns);
  const double factor = result.wall_s > 0 ? result.simulated_s / result.wall_s : 0;
  out += hanging(
      "\nRECKONED  ",
      fmt::format("in steps of {:g} ms; grid of {:.3f} m along the contact wire, {:.3f} m "
                  "along the messenger wire; {:.1f} s of running in {:.2f} s{}",
                  1000 * result.step_s, result.contact_grid_m, result.messenger_grid_m,
                  result.simulated_s, result.wall_s,
                  factor > 0 ? fmt::format(", {:.0f} times as fast as real time", factor) : ""),
      text_columns);
  return out;
}

std::vector<std::string> warning_texts(const SimulationResult& result) {
  std::vector<std::string> texts;
  for (const Warning& warning : result.warnings) {
    texts.push_back(warning.text);
  }
  return texts;
}

}  // namespace

std::string simulation_to_text(const SimulationReport& report) {
  const SimulationResult& result = report.result;
  return head(report) + pressed_up_by(report) + contact_force(result) + uplifts(result) +
         droppers(result) + reckoning(result) + text_list("WARNINGS", warning_texts(result)) +
         text_list("NOTES", notes_of(report)) + text_list("CAUTIONS", cautions("result")) +
         made_from(report.inputs, report.program_version);
}

}  // namespace panup
