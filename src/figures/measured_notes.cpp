#include <algorithm>

#include "figures/measured.h"

namespace panup {

namespace {

/// Greatest steps at which EN 50317 (from memory) takes force to be sampled.
constexpr double greatest_step_m = 0.4;
constexpr double greatest_step_s = 0.005;
constexpr double many = 0.1;
/// Share of the rows of which less is not worth a warning.
constexpr double telling_share = 0.001;

RowCounts all_rows(const MeasuredReport& report) {
  RowCounts all;
  for (const MeasuredRun& run : report.runs) {
    all.rows += run.counts.rows;
    all.missing += run.counts.missing;
    all.bad += run.counts.bad;
    all.slow += run.counts.slow;
  }
  return all;
}

void warn_of_steps(const MeasuredReport& report, std::vector<std::string>& warnings) {
  const Words& words = report.words;
  for (const MeasuredRun& run : report.runs) {
    for (const MeasuredPantograph& one : run.pantographs) {
      const RowSteps& steps = one.steps;
      const std::string which = which_words(report, run, one);
      if (static_cast<double>(steps.short_steps) > many * static_cast<double>(steps.steps)) {
        warnings.push_back(words.say(
            "Of {}, {} of {} rows stand nearer each other than half of the step that the record "
            "states: durations of contact loss, and a filter, are wrong.",
            which, steps.short_steps, steps.steps));
      }
      if (steps.too_coarse > 0) {
        warnings.push_back(
            words.say("Of {}, {} of {} rows are too far apart in time to be filtered at 20 Hz, "
                      "and are evaluated as they were recorded.",
                      which, steps.too_coarse, one.whole.rows));
      }
      const auto gaps = static_cast<double>(steps.gaps);
      if (gaps > many * static_cast<double>(one.whole.rows)) {
        warnings.push_back(
            words.say("Of {}, nearly every row stands behind a gap: is the step that the record "
                      "states right?",
                      which));
      }
    }
  }
}

}  // namespace

std::optional<bool> simulation_valid(const MeasuredReport& report) {
  std::optional<bool> valid;
  for (const ComparedRun& run : report.compared) {
    for (const ComparedPantograph& one : run.compared) {
      valid = valid.value_or(true) && one.valid;
    }
  }
  return valid;
}

bool invented(const MeasuredReport& report) {
  const bool model_invented = std::ranges::any_of(report.compared, [](const ComparedRun& run) {
    return std::ranges::any_of(run.pantographs,
                               [](const RunningPantograph& one) { return one.model.invented; });
  });
  return report.record.invented || (report.line && report.line->invented) || model_invented;
}

std::string filter_words(const MeasuredRecord& record, const Words& words) {
  const std::string recorded =
      record.recorded_low_pass_hz
          ? words.say("recorded with a low-pass filter of {:g} Hz", *record.recorded_low_pass_hz)
          : words.say("recorded unfiltered");
  return needs_filter(record) ? words.say("{}; filtered here at 20 Hz", recorded)
                              : words.say("{}; taken as it is", recorded);
}

std::string which_words(const MeasuredReport& report, const MeasuredRun& run,
                        const MeasuredPantograph& one) {
  return report.words.say("run {}, pantograph {}", report.record.runs[run.run].id,
                          report.record.pantographs[one.pantograph].id);
}

std::vector<std::string> warnings_of(const MeasuredReport& report) {
  const Words& words = report.words;
  std::vector<std::string> warnings;
  const RowCounts all = all_rows(report);
  const auto share = [&](std::int64_t rows) {
    return static_cast<double>(rows) / static_cast<double>(std::max<std::int64_t>(1, all.rows));
  };
  if (all.bad > 0) {
    warnings.push_back(words.say("{} of {} rows cannot be read and are left out; they are gaps.",
                                 all.bad, all.rows));
  }
  if (share(all.missing) > telling_share) {
    warnings.push_back(
        words.say("{:.1f} % of the rows have no force; they are gaps. Where they lie together, "
                  "what happened there is not known.",
                  100 * share(all.missing)));
  }
  const auto& cutoff = report.record.recorded_low_pass_hz;
  if (cutoff && *cutoff < evaluated_low_pass_hz({})) {
    warnings.push_back(
        words.say("The record was filtered at {:g} Hz, below the 20 Hz of EN 50317 (from "
                  "memory): its standard deviation and extremes are too small, and limits may "
                  "look kept that are not.",
                  *cutoff));
  }
  if (report.record.sampled_every_m > greatest_step_m ||
      report.record.sampled_every_s > greatest_step_s) {
    warnings.push_back(words.say(
        "The force is sampled more coarsely than every 0.4 m or 200 times a second, as EN 50317 "
        "(from memory) asks for: extremes may be missed."));
  }
  warn_of_steps(report, warnings);
  return warnings;
}

std::vector<std::string> notes_of(const MeasuredReport& report) {
  const Words& words = report.words;
  std::vector<std::string> notes;
  if (report.record.invented) {
    notes.push_back(words.say("{} is invented, for the demo.", report.record.name));
  } else if (report.record.source.empty()) {
    notes.push_back(
        words.say("The file of {} does not say who measured it, and how.", report.record.name));
  } else {
    notes.push_back(report.record.name + ": " + report.record.source + ".");
  }
  notes.push_back(words.say(
      "Every row counts alike. Contact counts as lost while the force, as it was recorded, is no "
      "greater than stated; a filter hides short losses. It is not the arcing NQ that is measured "
      "with light."));
  notes.push_back(words.say(
      "What is measured is held against the limits as it is; the calibration of the measurement "
      "(EN 50317) is not known here."));
  if (report.record.tension_lengths.empty()) {
    notes.push_back(words.say(
        "No tension lengths are stated: the record is evaluated by kilometre, and not by span."));
  }
  if (!report.compared.empty()) {
    notes.push_back(words.say(
        "A simulation counts as valid where its standard deviation is within {:.0f} % of the "
        "measured one (EN 50318, from memory). It has one speed, the mean of what was measured.",
        100 * valid_deviation));
    if (!report.record.contact_line_at_m) {
      notes.push_back(words.say(
          "Where the contact line lies is not stated ('contact_line_at_m'): the whole record is "
          "set beside a simulation of a line of its type, and not place by place."));
    }
  }
  return notes;
}

}  // namespace panup
