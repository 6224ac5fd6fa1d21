#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/measured.h"
#include "figures/simulation_text_parts.h"

namespace panup {

namespace {

using Row = std::vector<std::string>;

std::string speed_words(const MeasuredFigures& figures) {
  return is_steady(figures) ? fmt::format("{:.0f}", figures.mean_kmh)
                            : fmt::format("{:.0f}–{:.0f}", figures.least_kmh, figures.greatest_kmh);
}

/// In a table, where there is little room.
std::string run_id(const MeasuredReport& report, const MeasuredRun& run) {
  return shortened(report.record.runs[run.run].id, 10);
}

std::string pantograph_id(const MeasuredReport& report, const MeasuredPantograph& one) {
  return plain(shortened(report.record.pantographs[one.pantograph].id, 10));
}

std::string km(double at_m, const Words& words) { return Figures(words)(at_m / 1000, 3); }

/// Mean, σ, … of a row of a table.
Row force_cells(const MeasuredFigures& figures, const Words& words) {
  const Figures figure(words);
  return {figure(figures.mean_n, 1),
          figure(figures.std_n, 1),
          figures.mean_n > 0 ? figure(figures.std_n / figures.mean_n, 2) : "–",
          figure(figures.statistical_max_n(), 0),
          figure(figures.statistical_min_n(), 0),
          figure(figures.max_n, 0),
          figure(figures.min_n, 0),
          figure(figures.contact_loss_percent, 2),
          figure(figures.longest_contact_loss_ms, 0)};
}

Row with(Row lead, const Row& cells) {
  lead.insert(lead.end(), cells.begin(), cells.end());
  lead.emplace_back();
  return lead;
}

std::string sampled_words(const MeasuredRecord& record, const Words& words) {
  return record.sampled_every_m > 0 ? words.say("every {:g} m", record.sampled_every_m)
                                    : words.say("every {:g} ms", 1000 * record.sampled_every_s);
}

std::string head(const MeasuredReport& report) {
  const MeasuredRecord& record = report.record;
  const Words& words = report.words;
  return invented_head(invented(report), words) +
         calculation_facts(
             {{words.say("Record"), with_id(record.name, record.id)},
              {words.say("Force"), filter_words(record, words)},
              {words.say("Sampled"), sampled_words(record, words)},
              {words.say("Supply"), supply_words(record.supply, words)},
              {words.say("Contact line"),
               report.line ? line_words(*report.line, words) : words.say("not stated")}});
}

std::string rows_table(const MeasuredReport& report) {
  const Words& words = report.words;
  std::vector<Row> rows;
  for (const MeasuredRun& run : report.runs) {
    for (const MeasuredPantograph& one : run.pantographs) {
      const bool first = &one == &run.pantographs.front();
      const auto of_run = [&](std::int64_t count) {
        return first ? std::to_string(count) : std::string();
      };
      rows.push_back({run_id(report, run), of_run(run.counts.rows), of_run(run.counts.missing),
                      of_run(run.counts.bad), of_run(run.counts.slow), pantograph_id(report, one),
                      std::to_string(one.whole.rows), km(one.whole.from_m, words),
                      km(one.whole.to_m, words), std::to_string(one.steps.gaps),
                      fmt::format("{:.0f}", one.steps.gap_length_m), ""});
    }
  }
  return "\n" + words.say("ROWS") + "\n" +
         text_table({{.heading = words.say("run")},
                     {.heading = words.say("rows"), .right_aligned = true},
                     {.heading = words.say("no force"), .right_aligned = true},
                     {.heading = words.say("bad"), .right_aligned = true},
                     {.heading = words.say("below 5 km/h"), .right_aligned = true},
                     {.heading = words.say("pantograph")},
                     {.heading = words.say("evaluated"), .right_aligned = true},
                     {.heading = words.say("from km"), .right_aligned = true},
                     {.heading = words.say("to km"), .right_aligned = true},
                     {.heading = words.say("gaps"), .right_aligned = true},
                     {.heading = words.say("m"), .right_aligned = true},
                     {.heading = ""}},
                    rows, 2, text_columns);
}

std::string whole_table(const MeasuredReport& report) {
  const Words& words = report.words;
  std::vector<Row> rows;
  for (const MeasuredRun& run : report.runs) {
    for (const MeasuredPantograph& one : run.pantographs) {
      rows.push_back(with({run_id(report, run), pantograph_id(report, one), speed_words(one.whole)},
                          force_cells(one.whole, words)));
    }
  }
  return "\n" +
         words.say(
             "CONTACT FORCE MEASURED, in N, low-pass filtered at {:g} Hz; contact loss as "
             "recorded",
             evaluated_low_pass_hz(report.record)) +
         "\n" +
         text_table(force_columns({{.heading = words.say("run")},
                                   {.heading = words.say("pan")},
                                   {.heading = words.say("km/h"), .right_aligned = true}},
                                  words),
                    rows, 2, text_columns);
}

/// A stretch of one pantograph, and what the criteria leave to their limits in it.
struct TellingStretch {
  const MeasuredRun* run;
  const MeasuredPantograph* pantograph;
  const StretchFigures* stretch;
  const JudgedStretch* judged;
};

std::vector<TellingStretch> stretches_by_margin(const MeasuredReport& report) {
  std::vector<TellingStretch> all;
  for (const JudgedStretch& judged : report.judged.stretches) {
    if (judged.stretch) {
      const MeasuredRun& run = report.runs[judged.run];
      const MeasuredPantograph& one = run.pantographs[judged.pantograph];
      all.push_back({&run, &one, &one.stretches[*judged.stretch], &judged});
    }
  }
  std::ranges::stable_sort(all, {}, [](const TellingStretch& one) {
    return one.judged->judgement ? one.judged->judgement->margin : 2;
  });
  return all;
}

std::string met_words(const JudgedStretch& judged, const Words& words) {
  const bool asked = judged.judgement && !judged.judgement->criteria.empty();
  return !asked                     ? words.say("not asked")
         : judged.judgement->passes ? words.say("yes")
                                    : words.say("NO");
}

std::string stretch_table(const MeasuredReport& report) {
  const Words& words = report.words;
  const auto all = stretches_by_margin(report);
  const bool lengths = !report.record.tension_lengths.empty();
  std::vector<Row> rows;
  for (const TellingStretch& one : all) {
    if (rows.size() == longest_list) {
      break;
    }
    Row row{plain(shortened(one.stretch->id, 14)), run_id(report, *one.run),
            pantograph_id(report, *one.pantograph), speed_words(one.stretch->figures)};
    Row cells = force_cells(one.stretch->figures, words);
    cells.erase(cells.begin() + 2);  // σ/mean: there is no room
    row.insert(row.end(), cells.begin(), cells.end());
    row.push_back(met_words(*one.judged, words));
    rows.push_back(std::move(row));
  }
  std::vector<TableColumn> columns =
      force_columns({{.heading = lengths ? words.say("length") : words.say("km"), .greatest = 14},
                     {.heading = words.say("run")},
                     {.heading = words.say("pan")},
                     {.heading = words.say("km/h"), .right_aligned = true}},
                    words);
  columns.erase(columns.begin() + 6);
  columns.back().heading = words.say("met");
  std::string out = "\n" +
                    (lengths ? words.say("BY TENSION LENGTH, those nearest their limits first")
                             : words.say("BY KILOMETRE, those nearest their limits first")) +
                    "\n" + text_table(columns, rows, 2, text_columns);
  if (all.size() > rows.size()) {
    out += "  " + words.say("{} of {}; JSON has all.", rows.size(), all.size()) + "\n";
  }
  return out;
}

std::string span_table(const MeasuredReport& report) {
  const Words& words = report.words;
  const Figures figure(words);
  struct OfSpan {
    const MeasuredRun* run;
    const MeasuredPantograph* pantograph;
    const SpanFigures* span;
  };
  std::vector<OfSpan> all;
  for (const MeasuredRun& run : report.runs) {
    for (const MeasuredPantograph& one : run.pantographs) {
      for (const SpanFigures& span : one.spans) {
        all.push_back({&run, &one, &span});
      }
    }
  }
  if (all.empty()) {
    return {};
  }
  std::ranges::stable_sort(all, std::ranges::greater{},
                           [](const OfSpan& one) { return one.span->figures.std_n; });
  std::vector<Row> rows;
  for (const OfSpan& one : all) {
    if (rows.size() == longest_list) {
      break;
    }
    const MeasuredFigures& figures = one.span->figures;
    rows.push_back({km(one.span->from_m, words), km(one.span->to_m, words),
                    plain(shortened(one.span->tension_length, 14)), run_id(report, *one.run),
                    pantograph_id(report, *one.pantograph), figure(figures.mean_n, 1),
                    figure(figures.std_n, 1), figure(figures.max_n, 0), km(figures.max_at_m, words),
                    figure(figures.min_n, 0), km(figures.min_at_m, words),
                    figure(figures.contact_loss_percent, 2)});
  }
  std::string out = "\n" + words.say("BY SPAN, those with the greatest standard deviation first") +
                    "\n" +
                    text_table({{.heading = words.say("from km"), .right_aligned = true},
                                {.heading = words.say("to km"), .right_aligned = true},
                                {.heading = words.say("length")},
                                {.heading = words.say("run")},
                                {.heading = words.say("pan")},
                                {.heading = words.say("mean"), .right_aligned = true},
                                {.heading = words.say("σ"), .right_aligned = true},
                                {.heading = words.say("max"), .right_aligned = true},
                                {.heading = words.say("at km"), .right_aligned = true},
                                {.heading = words.say("min"), .right_aligned = true},
                                {.heading = words.say("at km"), .right_aligned = true},
                                {.heading = words.say("loss %")}},
                               rows, 2, text_columns);
  if (all.size() > rows.size()) {
    out += "  " + words.say("{} of {}; JSON has all.", rows.size(), all.size()) + "\n";
  }
  return out;
}

Row simulated_cells(const PantographRun& run, const Words& words) {
  const Figures figure(words);
  return {figure(run.mean_n, 1),
          figure(run.std_n, 1),
          run.mean_n > 0 ? figure(run.std_n / run.mean_n, 2) : "–",
          figure(run.statistical_max_n, 0),
          figure(run.statistical_min_n, 0),
          figure(run.max_n, 0),
          figure(run.min_n, 0),
          figure(run.contact_loss_percent, 2),
          figure(run.longest_contact_loss_ms, 0)};
}

std::string compared_run(const MeasuredReport& report, const ComparedRun& compared) {
  const Words& words = report.words;
  const MeasuredRun& run = report.runs[compared.run];
  const std::string id = run_id(report, run);
  if (!compared.nothing.empty()) {
    return hanging("  ", words.say("Run {}: not simulated: {}.", id, compared.nothing),
                   text_columns);
  }
  std::vector<Row> rows;
  std::string verdicts;
  for (const ComparedPantograph& one : compared.compared) {
    const MeasuredPantograph& measured = run.pantographs[one.measured];
    const std::string pantograph = pantograph_id(report, measured);
    rows.push_back(
        with({id, pantograph, words.say("measured")}, force_cells(measured.compared, words)));
    rows.push_back(with({"", "", words.say("simulated")},
                        simulated_cells(compared.result->pantographs[one.simulated], words)));
    const double by_percent = 100 * std::abs(one.std_difference);
    const std::string counts = one.valid ? words.say("yes") : words.say("NO");
    verdicts += hanging(
        "  ",
        one.std_difference < 0
            ? words.say("Run {}, pantograph {}: the simulated standard deviation is less by "
                        "{:.0f} %; within {:.0f} % it counts as valid: {}.",
                        id, pantograph, by_percent, 100 * valid_deviation, counts)
            : words.say("Run {}, pantograph {}: the simulated standard deviation is greater by "
                        "{:.0f} %; within {:.0f} % it counts as valid: {}.",
                        id, pantograph, by_percent, 100 * valid_deviation, counts),
        text_columns);
  }
  const MeasuredFigures& stretch = run.pantographs.front().compared;
  return hanging(
             "  ",
             words.say("Run {}: km {} to {}, simulated at {:g} km/h", id, km(stretch.from_m, words),
                       km(stretch.to_m, words), compared.result->speed_kmh),
             text_columns) +
         text_table(
             force_columns(
                 {{.heading = words.say("run")}, {.heading = words.say("pan")}, {.heading = ""}},
                 words),
             rows, 2, text_columns) +
         verdicts;
}

std::string beside_simulation(const MeasuredReport& report) {
  const Words& words = report.words;
  std::string out =
      "\n" + words.say("BESIDE THE SIMULATION of the same line, speed and pantographs, in N") +
      "\n";
  if (!report.not_compared.empty()) {
    return out + hanging("  ", words.say("Not simulated: {}.", report.not_compared), text_columns);
  }
  for (const ComparedRun& one : report.compared) {
    out += compared_run(report, one);
  }
  return out;
}

std::string place_words(const MeasuredReport& report, const JudgedStretch& one) {
  const MeasuredRun& run = report.runs[one.run];
  const MeasuredPantograph& pantograph = run.pantographs[one.pantograph];
  return which_words(report, run, pantograph) + (one.stretch
                                                     ? ", " + pantograph.stretches[*one.stretch].id
                                                     : report.words.say(", the whole"));
}

std::vector<std::string> not_met_words(const MeasuredReport& report) {
  std::vector<std::string> lines;
  std::size_t more = 0;
  for (const JudgedStretch& one : report.judged.stretches) {
    if (!one.judgement) {
      continue;
    }
    for (const CriterionMargin& criterion : one.judgement->criteria) {
      if (criterion.met) {
        continue;
      }
      if (lines.size() < longest_list) {
        lines.push_back(
            fmt::format("{}: {} [{}]", place_words(report, one), criterion.text, criterion.rule));
      } else {
        ++more;
      }
    }
  }
  if (more > 0) {
    lines.push_back(report.words.say("{} more; JSON has all.", more));
  }
  return lines;
}

std::vector<std::string> not_asked_words(const MeasuredReport& report) {
  std::vector<std::string> lines = report.not_judged;
  std::size_t more = 0;
  for (const JudgedStretch& one : report.judged.stretches) {
    if (one.not_judged.empty()) {
      continue;
    }
    if (lines.size() < longest_list) {
      lines.push_back(place_words(report, one) + ": " + one.not_judged + ".");
    } else {
      ++more;
    }
  }
  if (more > 0) {
    lines.push_back(report.words.say("{} more stretches; JSON has all.", more));
  }
  return lines;
}

std::string answer(const MeasuredReport& report) {
  const Words& words = report.words;
  std::string text;
  switch (report.judged.answer) {
    case RecordAnswer::met:
      text = words.say("The criteria that were asked are met.");
      break;
    case RecordAnswer::not_met:
      text = words.say("Criteria are NOT met.");
      break;
    case RecordAnswer::not_judged:
      text = words.say("No criterion could be asked.");
      break;
  }
  if (const auto valid = simulation_valid(report)) {
    text += *valid ? words.say(" The simulation counts as valid.")
                   : words.say(
                         " The simulation does NOT count as valid: what it says of this line "
                         "is not borne out.");
  }
  return "\n" + hanging(words.say("ANSWER") + "  ", text, text_columns);
}

std::string left_out(const MeasuredReport& report) {
  std::vector<std::string> lines;
  for (const MeasuredRun& run : report.runs) {
    for (const Diagnostic& row : run.bad_rows) {
      lines.push_back(to_line(row));
    }
    const auto more = run.counts.bad - static_cast<std::int64_t>(run.bad_rows.size());
    if (more > 0) {
      lines.push_back(report.words.say("{}: {} more", report.record.runs[run.run].file, more));
    }
  }
  return text_list(report.words.say("ROWS LEFT OUT"), lines);
}

}  // namespace

std::string measured_to_text(const MeasuredReport& report) {
  const Words& words = report.words;
  return head(report) + answer(report) + rows_table(report) + whole_table(report) +
         stretch_table(report) + span_table(report) + beside_simulation(report) +
         text_list(words.say("CRITERIA NOT MET"), not_met_words(report)) +
         text_list(words.say("CRITERIA"), report.criteria) +
         text_list(words.say("NOT ASKED"), not_asked_words(report)) + left_out(report) +
         text_list(words.say("WARNINGS"), warnings_of(report)) +
         text_list(words.say("NOTES"), notes_of(report)) +
         end_of_text(report.inputs, report.program_version, words);
}

}  // namespace panup
