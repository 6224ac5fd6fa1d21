#include "requests/fit_input.h"

#include <algorithm>

#include "records/judge_record.h"
#include "requests/fitted_files.h"

namespace panup {

namespace {

/// Runs that a simulation can stand beside: at one speed, with rows where it says something.
void add_run(FitCase& fit, const MeasuredInput& input, std::size_t run,
             const ComparedStretches& stretches, std::vector<std::string>& left_out,
             Diagnostics& diagnostics) {
  const Words& words = input.rules.words;
  const MeasuredRecord& record = input.record;
  auto stream = open_rows(record.runs[run].file, diagnostics);
  const auto measured =
      stream ? evaluate_run(*stream, record, run, stretches, diagnostics) : std::nullopt;
  if (!measured) {
    return;
  }
  for (const MeasuredPantograph& one : measured->pantographs) {
    if (one.compared.rows == 0 || !is_steady(one.compared)) {
      const std::string& id = record.runs[run].id;
      left_out.push_back(
          one.compared.rows == 0
              ? words.say("run {}: no row lies where a simulation says something", id)
              : words.say("run {}: the speed varies by more than a simulation's one speed may",
                          id));
      return;
    }
  }
  if (auto again = open_rows(record.runs[run].file, diagnostics)) {
    fit.runs.push_back(fit_rows(*again, record, *measured, *input.line, stretches));
  }
}

}  // namespace

std::optional<FitReport> fit_measured(const MeasuredInput& input,
                                      const std::vector<ModelInput>& quantities, int jobs,
                                      std::string_view program_version, const FileSource& files,
                                      Diagnostics& diagnostics,
                                      std::vector<std::string>& mistakes) {
  const Words& words = input.rules.words;
  FitCase fit;
  std::string why_not;
  fit.pantographs = simulated_pantographs(input, why_not);
  if (!why_not.empty()) {
    mistakes.push_back(words.say("there is nothing to fit: {}", why_not));
    return std::nullopt;
  }
  const auto stretches = compared_stretches(input.record, *input.line, fit.pantographs);
  if (!stretches) {
    mistakes.push_back(
        input.record.contact_line_at_m
            ? words.say("there is nothing to fit: the contact line is too short for the train")
            : words.say("there is nothing to fit: the record does not say where the contact line "
                        "lies ('contact_line_at_m')"));
    return std::nullopt;
  }
  fit.line = *input.line;
  fit.quantities = quantities;
  fit.low_pass_hz = evaluated_low_pass_hz(input.record);
  fit.jobs = jobs;
  fit.words = words;
  FitReport report;
  const std::size_t before = diagnostics.size();
  for (std::size_t i = 0; i < input.record.runs.size(); ++i) {
    add_run(fit, input, i, *stretches, report.runs_left_out, diagnostics);
  }
  if (diagnostics.size() != before) {
    return std::nullopt;
  }
  if (fit.runs.empty()) {
    mistakes.insert(mistakes.end(), report.runs_left_out.begin(), report.runs_left_out.end());
    return std::nullopt;
  }
  report.outcome = fit_record(fit);
  if (!report.outcome.refused.empty()) {
    mistakes.push_back(report.outcome.refused);
    return std::nullopt;
  }
  report.record = input.record.name;
  report.line = input.line->name;
  report.invented =
      input.record.invented || input.line->invented ||
      std::ranges::any_of(input.models, [](const PantographModel& one) { return one.invented; });
  report.files = fitted_files(input, report.outcome, program_version, files);
  report.inputs = input.files;
  report.program_version = program_version;
  report.words = words;
  return report;
}

}  // namespace panup
