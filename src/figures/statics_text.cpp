#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/handed_out.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/simulation.h"
#include "figures/simulation_text_parts.h"

namespace panup {

namespace {

/// Sorts of span whose droppers are told in the text.
constexpr std::size_t most_sorts = 10;

/// Spans that hang alike, and their droppers.
struct SortOfSpan {
  std::vector<int> spans;  ///< counted from 0, rising
  std::vector<StaticDropper> droppers;
  double length_m = 0;
  double begins_at_m = 0;  ///< the first of them
  double pre_sag_m = 0;    ///< asked for
  double built_sag_m = 0;  ///< got
  double contact_sag_m = 0;
  double messenger_sag_m = 0;
};

/// Alike but for the last figure that the text tells.
bool alike(const SortOfSpan& a, const SortOfSpan& b) {
  const auto near = [](double x, double y, double by) { return std::abs(x - y) < by; };
  return near(a.length_m, b.length_m, 0.005) && near(a.contact_sag_m, b.contact_sag_m, 0.00015) &&
         near(a.pre_sag_m, b.pre_sag_m, 0.00005) && near(a.built_sag_m, b.built_sag_m, 0.00015) &&
         near(a.messenger_sag_m, b.messenger_sag_m, 0.0015) &&
         std::ranges::equal(
             a.droppers, b.droppers, [&](const StaticDropper& x, const StaticDropper& y) {
               return near(x.at_m - a.begins_at_m, y.at_m - b.begins_at_m, 0.005) &&
                      near(x.force_n, y.force_n, 0.15) && near(x.length_m, y.length_m, 0.0015) &&
                      near(x.slack_m, y.slack_m, 0.0005) && x.on_stitch_wire == y.on_stitch_wire;
             });
}

std::vector<SortOfSpan> sorts_of_spans(const StaticReport& report) {
  const std::vector<double> supports = support_positions(report.line);
  std::vector<SortOfSpan> sorts;
  auto dropper = report.state.droppers.begin();
  for (std::size_t i = 0; i < report.line.spans.size(); ++i) {
    SortOfSpan one;
    one.spans = {static_cast<int>(i)};
    one.length_m = report.line.spans[i].length_m;
    one.begins_at_m = supports[i];
    one.pre_sag_m = report.line.spans[i].pre_sag_m;
    one.built_sag_m = report.state.built_sag_m[i];
    one.contact_sag_m = report.state.contact_sag_m[i];
    one.messenger_sag_m = report.state.messenger_sag_m[i];
    for (; dropper != report.state.droppers.end() && dropper->span == static_cast<int>(i);
         ++dropper) {
      one.droppers.push_back(*dropper);
    }
    const auto same =
        std::ranges::find_if(sorts, [&](const SortOfSpan& sort) { return alike(sort, one); });
    if (same != sorts.end()) {
      same->spans.push_back(static_cast<int>(i));
    } else {
      sorts.push_back(std::move(one));
    }
  }
  return sorts;
}

/// "1", "2 to 15 and 21": counted from 1.
std::string span_numbers(const std::vector<int>& spans, const Words& words) {
  std::vector<std::string> runs;
  for (std::size_t i = 0; i < spans.size();) {
    std::size_t last = i;
    while (last + 1 < spans.size() && spans[last + 1] == spans[last] + 1) {
      ++last;
    }
    runs.push_back(last == i ? fmt::format("{}", spans[i] + 1)
                             : words.say("{} to {}", spans[i] + 1, spans[last] + 1));
    i = last + 1;
  }
  return words.listed(runs);
}

std::string head(const StaticReport& report) {
  const Words& words = report.words;
  const Figures figure(words);
  const StaticState& state = report.state;
  double by_droppers = 0;
  for (const StaticDropper& dropper : state.droppers) {
    by_droppers += dropper.force_n;
  }
  const std::string weight =
      report.weather.ice_on_contact_wire_kg_per_m > 0
          ? words.say("contact wire with clamps and steady arms and ice {:.1f} N",
                      state.contact_weight_n)
          : words.say("contact wire with clamps and steady arms {:.1f} N", state.contact_weight_n);
  return invented_head(report.line.invented, words) +
         calculation_facts(
             {{words.say("Contact line"), line_words(report.line, words)},
              {words.say("Conditions"),
               weather_words(report.weather, words) +
                   words.say("; built for {} °C", figure(report.line.reference_temperature_c, 0))},
              {words.say("Tension"),
               report.line.contact_wires > 1
                   ? words.say("both contact wires together {:.0f} N, messenger wire {:.0f} N",
                               state.contact_tension_n, state.messenger_tension_n)
                   : words.say("contact wire {:.0f} N, messenger wire {:.0f} N",
                               state.contact_tension_n, state.messenger_tension_n)},
              {words.say("Weight"),
               words.say("{}; carried by droppers {:.1f} N, by steady arms {} N, by the wire's "
                         "ends {} N",
                         weight, by_droppers, figure(state.steady_arm_force_n, 1),
                         figure(state.termination_force_n, 1))}});
}

std::string spans(const std::vector<SortOfSpan>& sorts, const Words& words) {
  const Figures figure(words);
  std::vector<std::vector<std::string>> rows;
  for (const SortOfSpan& sort : sorts) {
    double force = 0;
    const auto slack = std::ranges::count_if(
        sort.droppers, [](const StaticDropper& dropper) { return dropper.force_n <= 0; });
    for (const StaticDropper& dropper : sort.droppers) {
      force += dropper.force_n;
    }
    rows.push_back({figure(sort.length_m, 1), figure(1000 * sort.pre_sag_m, 1),
                    figure(1000 * sort.built_sag_m, 1), figure(1000 * sort.contact_sag_m, 1),
                    figure(1000 * sort.messenger_sag_m, 0), std::to_string(sort.droppers.size()),
                    std::to_string(slack), figure(force, 1), span_numbers(sort.spans, words)});
  }
  return "\n" +
         words.say(
             "SPANS that hang alike; sag of the contact wire below its supports: asked, "
             "built, now") +
         "\n" +
         text_table({{.heading = words.say("length m"), .right_aligned = true},
                     {.heading = words.say("pre-sag asked mm"), .right_aligned = true},
                     {.heading = words.say("built"), .right_aligned = true},
                     {.heading = words.say("sag now"), .right_aligned = true},
                     {.heading = words.say("messenger mm"), .right_aligned = true},
                     {.heading = words.say("droppers"), .right_aligned = true},
                     {.heading = words.say("slack"), .right_aligned = true},
                     {.heading = words.say("force N"), .right_aligned = true},
                     {.heading = words.say("spans")}},
                    rows, 2, text_columns);
}

std::string droppers(const std::vector<SortOfSpan>& sorts, const Words& words) {
  const Figures figure(words);
  std::vector<std::vector<std::string>> rows;
  const std::size_t told = std::min(sorts.size(), most_sorts);
  for (std::size_t i = 0; i < told; ++i) {
    const SortOfSpan& sort = sorts[i];
    std::string who = span_numbers(sort.spans, words);
    for (const StaticDropper& dropper : sort.droppers) {
      rows.push_back(
          {std::exchange(who, ""), figure(dropper.at_m - sort.begins_at_m, 2),
           figure(dropper.force_n, 1), figure(dropper.length_m, 3),
           dropper.slack_m > 0 ? figure(1000 * dropper.slack_m, 1) : "–",
           dropper.on_stitch_wire ? words.say("stitch wire") : words.say("messenger wire")});
    }
  }
  if (rows.empty()) {
    return "\n" + words.say("DROPPERS: none") + "\n";
  }
  std::string out =
      "\n" + words.say("DROPPERS at rest, by their place from the span's first support") + "\n" +
      text_table({{.heading = words.say("spans"), .greatest = 30},
                  {.heading = words.say("at m"), .right_aligned = true},
                  {.heading = words.say("force N"), .right_aligned = true},
                  {.heading = words.say("length m"), .right_aligned = true},
                  {.heading = words.say("slack mm"), .right_aligned = true},
                  {.heading = words.say("hangs from")}},
                 rows, 2, text_columns);
  if (told < sorts.size()) {
    out += "  " +
           words.say("Of the first {} sorts of span out of {}; JSON has all.", told, sorts.size()) +
           "\n";
  }
  return out;
}

/// Spans whose elasticity has the same figures.
struct ElasticitySort {
  std::vector<std::string> figures;
  std::vector<int> spans;
};

std::string elasticity(const StaticReport& report) {
  const Words& words = report.words;
  const Figures figure(words);
  const std::vector<double> supports = support_positions(report.line);
  std::vector<ElasticitySort> sorts;
  for (std::size_t i = report.points_from_span; i < report.points_to_span; ++i) {
    constexpr double tie = 1e-4;  // of two places alike in a span, the first is told
    const StaticPoint* least = nullptr;
    const StaticPoint* greatest = nullptr;
    for (const StaticPoint& point : report.points) {
      if (!lies_in(point.at_m, supports[i], supports[i + 1])) {
        continue;
      }
      // Next to the line's ends, which are held, nothing is lifted.
      if (point.elasticity_mm_per_n <= 0) {
        continue;
      }
      if (least == nullptr || point.elasticity_mm_per_n < (1 - tie) * least->elasticity_mm_per_n) {
        least = &point;
      }
      if (greatest == nullptr ||
          point.elasticity_mm_per_n > (1 + tie) * greatest->elasticity_mm_per_n) {
        greatest = &point;
      }
    }
    if (least == nullptr) {
      continue;
    }
    const double low = least->elasticity_mm_per_n;
    const double high = greatest->elasticity_mm_per_n;
    std::vector<std::string> figures{figure(low, 3), figure(least->at_m - supports[i], 1),
                                     figure(high, 3), figure(greatest->at_m - supports[i], 1),
                                     figure(100 * (high - low) / (high + low), 0)};
    const auto same = std::ranges::find(sorts, figures, &ElasticitySort::figures);
    if (same != sorts.end()) {
      same->spans.push_back(static_cast<int>(i));
    } else {
      sorts.push_back({std::move(figures), {static_cast<int>(i)}});
    }
  }
  const bool whole = report.points_to_span - report.points_from_span == report.line.spans.size();
  const std::string heading =
      whole
          ? words.say("ELASTICITY of the contact wire in mm/N")
          : words.say("ELASTICITY of the contact wire in mm/N, of spans in the middle of the line");
  std::vector<std::vector<std::string>> rows;
  for (const ElasticitySort& sort : sorts) {
    rows.push_back(sort.figures);
    rows.back().push_back(span_numbers(sort.spans, words));
  }
  return "\n" + heading + "\n" +
         text_table({{.heading = words.say("least"), .right_aligned = true},
                     {.heading = words.say("at m"), .right_aligned = true},
                     {.heading = words.say("greatest"), .right_aligned = true},
                     {.heading = words.say("at m"), .right_aligned = true},
                     {.heading = words.say("unevenness %"), .right_aligned = true},
                     {.heading = words.say("spans")}},
                    rows, 2, text_columns) +
         hanging(
             "  ",
             words.say("Unevenness: (greatest − least) / (greatest + least). At the line's ends "
                       "the wire is held."),
             text_columns);
}

}  // namespace

std::string statics_to_text(const StaticReport& report) {
  const Words& words = report.words;
  const std::vector<SortOfSpan> sorts = sorts_of_spans(report);
  return head(report) + spans(sorts, words) + droppers(sorts, words) + elasticity(report) +
         text_list(words.say("NOTES"), notes_of(report)) +
         end_of_text(report.inputs, report.program_version, words);
}

}  // namespace panup
