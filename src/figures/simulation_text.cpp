#include <algorithm>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/permitted_words.h"
#include "figures/simulation.h"
#include "figures/simulation_text_parts.h"

namespace panup {

namespace {

std::string head(const SimulationReport& report) {
  const Words& words = report.words;
  const SimulationResult& result = report.result;
  return invented_head(invented(report), words) +
         calculation_facts(
             {{words.say("Contact line"), line_words(report.line, words)},
              {words.say("Speed"),
               words.say("{:g} km/h, {:.0f} % of the contact wire's wave speed of {:.0f} km/h",
                         result.speed_kmh, 100 * result.speed_kmh / result.wave_speed_kmh,
                         result.wave_speed_kmh)},
              {words.say("Supply"), supply_words(report.supply, words)},
              {words.say("Conditions"), weather_words(report.weather, words)},
              {words.say("Evaluated"),
               words.say("{:g} m to {:g} m along the line, for each pantograph by its own place",
                         result.from_m, result.to_m)}});
}

std::string pressed_up_by(const SimulationReport& report) {
  const Words& words = report.words;
  const Figures figure(words);
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < report.pantographs.size(); ++i) {
    const RunningPantograph& one = report.pantographs[i];
    const double aerodynamic = aerodynamic_force(one.model, one.knuckle, report.result.speed_kmh);
    rows.push_back({std::to_string(i + 1), figure(one.behind_first_m, 1),
                    figure(one.static_force_n, 1), figure(aerodynamic, 1),
                    knuckle_word(one.knuckle, words),
                    plain(with_id(one.model.name, one.model.id))});
  }
  return "\n" + words.say("PANTOGRAPHS, first in front, and what presses them up") + "\n" +
         text_table({{.heading = ""},
                     {.heading = words.say("behind first m"), .right_aligned = true},
                     {.heading = words.say("static force N"), .right_aligned = true},
                     {.heading = words.say("aerodynamic N"), .right_aligned = true},
                     {.heading = words.say("knuckle")},
                     {.heading = words.say("model")}},
                    rows, 2, text_columns);
}

std::string contact_force(const SimulationResult& result, const Words& words) {
  const Figures figure(words);
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
  std::vector<TableColumn> columns = force_columns({{.heading = ""}}, words);
  columns.insert(columns.end() - 1,
                 {{.heading = words.say("head: high"), .right_aligned = true},
                  {.heading = words.say("low"), .right_aligned = true, .width = 5}});
  return "\n" +
         words.say(
             "CONTACT FORCE in N, low-pass filtered at 20 Hz; contact loss from the "
             "unfiltered force") +
         "\n" + text_table(columns, rows, 2, text_columns) +
         hanging("  ",
                 words.say("Head: highest and lowest place of the collector head in mm, against "
                           "its static height."),
                 text_columns);
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

std::string uplifts(const SimulationResult& result, const Words& words) {
  const Figures figure(words);
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
    rows[i][2] = words.say("{:g} to {:g}", spans[i].from_m, spans[i].to_m);
    rows[i][3] = figure(spans[i].at_m, 1);
    rows[i][4] = figure(spans[i].uplift_mm, 1);
  }
  std::string out =
      "\n" +
      words.say("UPLIFT of the contact wire: at supports {} mm at most, within spans {} mm",
                figure(result.max_support_uplift_mm, 1), figure(result.max_span_uplift_mm, 1)) +
      "\n";
  if (rows.empty()) {
    return out + "  " + words.say("No support lies within the evaluated stretch.") + "\n";
  }
  out += text_table({{.heading = words.say("support at m"), .right_aligned = true},
                     {.heading = words.say("uplift mm"), .right_aligned = true},
                     {.heading = words.say("  span, m"), .right_aligned = true},
                     {.heading = words.say("greatest at m"), .right_aligned = true},
                     {.heading = words.say("uplift mm"), .right_aligned = true},
                     {.heading = ""}},
                    rows, 2, text_columns);
  const std::size_t all = std::max(result.support_uplifts.size(), result.span_uplifts.size());
  return all <= longest_list
             ? out
             : out + "  " + words.say("The {} greatest of {}; JSON has all.", longest_list, all) +
                   "\n";
}

std::string droppers(const SimulationResult& result, const Words& words) {
  const Figures figure(words);
  std::vector<DropperSlackening> slack;
  double greatest_n = 0;
  for (const DropperSlackening& one : result.droppers) {
    greatest_n = std::max(greatest_n, one.greatest_force_n);
    if (one.times > 0) {
      slack.push_back(one);
    }
  }
  std::string out = "\n" +
                    words.say("DROPPERS: {} of {} slackened; greatest force in one {} N",
                              slack.size(), result.droppers.size(), figure(greatest_n, 0)) +
                    "\n";
  if (slack.empty()) {
    return out;
  }
  std::vector<std::vector<std::string>> rows;
  for (const DropperSlackening& one :
       greatest_of(slack, [](const DropperSlackening& dropper) { return dropper.slack_ms; })) {
    rows.push_back({figure(one.at_m, 1), figure(one.slack_ms, 0), std::to_string(one.times),
                    figure(one.greatest_force_n, 0), ""});
  }
  out += text_table({{.heading = words.say("dropper at m"), .right_aligned = true},
                     {.heading = words.say("slack ms"), .right_aligned = true},
                     {.heading = words.say("times"), .right_aligned = true},
                     {.heading = words.say("greatest force N"), .right_aligned = true},
                     {.heading = ""}},
                    rows, 2, text_columns);
  return slack.size() <= longest_list ? out
                                      : out + "  " +
                                            words.say("The {} slack longest of {}; JSON has all.",
                                                      longest_list, slack.size()) +
                                            "\n";
}

std::string reckoning(const SimulationResult& result, const Words& words) {
  const Figures figure(words);
  const EnergyBalance& energy = result.energy;
  std::string out = "\n" + words.say("ENERGY in J from start to end") + "\n";
  out += text_table(
      {{.heading = words.say("work of frames"), .right_aligned = true},
       {.heading = words.say("work of traction"), .right_aligned = true},
       {.heading = words.say("stored"), .right_aligned = true},
       {.heading = words.say("dissipated"), .right_aligned = true},
       {.heading = words.say("missing"), .right_aligned = true},
       {.heading = words.say("of peak stored"), .right_aligned = true},
       {.heading = ""}},
      {{figure(energy.work_of_frames_j, 2), figure(energy.work_of_traction_j, 2),
        figure(energy.stored_j, 2), figure(energy.dissipated_j, 2), figure(energy.missing_j, 4),
        figure(100 * energy.relative_error(), 3) + " %", ""}},
      2, text_columns);
  const double factor = result.wall_s > 0 ? result.simulated_s / result.wall_s : 0;
  out += hanging("\n" + words.say("RECKONED") + "  ",
                 words.say("in steps of {:g} ms; grid of {:.3f} m along the contact wire, {:.3f} m "
                           "along the messenger wire; {:.1f} s of running in {:.2f} s{}",
                           1000 * result.step_s, result.contact_grid_m, result.messenger_grid_m,
                           result.simulated_s, result.wall_s,
                           factor > 0 ? words.say(", {:.0f} times as fast as real time", factor)
                                      : std::string()),
                 text_columns);
  return out;
}

std::vector<std::string> warning_texts(const SimulationReport& report) {
  std::vector<std::string> texts;
  for (const Warning& warning : report.result.warnings) {
    texts.push_back(warning.text.said(report.words));
  }
  return texts;
}

}  // namespace

std::string simulation_to_text(const SimulationReport& report) {
  const SimulationResult& result = report.result;
  const Words& words = report.words;
  return head(report) + pressed_up_by(report) + contact_force(result, words) +
         uplifts(result, words) + droppers(result, words) + reckoning(result, words) +
         text_list(words.say("WARNINGS"), warning_texts(report)) +
         text_list(words.say("NOTES"), notes_of(report)) +
         end_of_text(report.inputs, report.program_version, words);
}

}  // namespace panup
