#include "figures/fitted.h"

#include <fmt/format.h>

#include "drawing/json_text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/simulation_text_parts.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> warnings_of(const FitOutcome& outcome) {
  std::vector<std::string> warnings;
  bool any = false;
  for (const FittedValue& value : outcome.values) {
    any = any || value.told;
  }
  if (!any) {
    return warnings;
  }
  if (!outcome.converged) {
    warnings.emplace_back("The search was ended before it came to rest: doubt the values.");
  }
  if (outcome.rows_left_out == 0) {
    warnings.emplace_back("The record is too short to leave a part of it out as a check.");
  } else if (!outcome.borne_out()) {
    warnings.emplace_back(
        "The part that was left out lies no nearer the fitted line than the one in the files: the "
        "fit is not borne out.");
  }
  return warnings;
}

std::vector<std::string> notes() {
  return {
      "Least squares of measured less simulated contact force. Every fifth pair of spans is left "
      "out of the fit, as its check.",
      "Intervals are of 95 %, and hold for this model: what it leaves out (stagger, wind, the "
      "vehicle's motion, wear, wires that hang otherwise than stated) may have gone into the "
      "values.",
      "One factor is looked for each quantity: supports that differ in the file go on differing in "
      "proportion."};
}

std::string residual_words(const FitResiduals& residuals, std::size_t rows) {
  return fmt::format("{:.2f} N before, {:.2f} N after, over {} rows", residuals.before_n,
                     residuals.after_n, rows);
}

}  // namespace

std::string fit_to_text(const FitReport& report) {
  const FitOutcome& outcome = report.outcome;
  std::string out;
  if (report.invented) {
    out += std::string(invented_mark) + "\n\n";
  }
  add_calculation_fact(out, "Record", report.record);
  add_calculation_fact(out, "Contact line", report.line);
  add_calculation_fact(out, "Fitted", residual_words(outcome.fitted, outcome.rows_fitted));
  add_calculation_fact(out, "Left out", residual_words(outcome.left_out, outcome.rows_left_out));
  add_calculation_fact(out, "Reckoned", fmt::format("in {} simulations", outcome.simulations));
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> not_told;
  for (const FittedValue& value : outcome.values) {
    const std::string name(name_of(value.quantity));
    rows.push_back({name, fmt::format("{:.4g}", value.start),
                    value.told ? fmt::format("{:.4g}", value.value) : std::string("not told"),
                    value.told ? fmt::format("{:.4g}", value.least) : std::string("–"),
                    value.told ? fmt::format("{:.4g}", value.greatest) : std::string("–"),
                    std::string(unit_of(value.quantity))});
    if (!value.told) {
      not_told.push_back(fmt::format("{}: {}; it stays as in the files.", name, value.why_not));
    }
  }
  out += "\nFITTED VALUES, with the interval in which they lie at 95 %\n" +
         text_table({{.heading = "quantity"},
                     {.heading = "in the files", .right_aligned = true},
                     {.heading = "fitted", .right_aligned = true},
                     {.heading = "from", .right_aligned = true},
                     {.heading = "to", .right_aligned = true},
                     {.heading = "unit"}},
                    rows, 2, text_columns);
  return out + text_list("THE RECORD CANNOT TELL", not_told) +
         text_list("RUNS LEFT OUT", report.runs_left_out) +
         text_list("WARNINGS", warnings_of(outcome)) + text_list("NOTES", notes()) +
         text_list("CAUTIONS", cautions("result")) +
         made_from(report.inputs, report.program_version);
}

Json fit_to_json(const FitReport& report) {
  const FitOutcome& outcome = report.outcome;
  const auto residuals = [](const FitResiduals& of, std::size_t rows) {
    return Json{{"rows", rows}, {"before_n", of.before_n}, {"after_n", of.after_n}};
  };
  Json json;
  json["program_version"] = report.program_version;
  json["record"] = report.record;
  json["line"] = report.line;
  json["invented"] = report.invented;
  Json values = Json::array();
  for (const FittedValue& value : outcome.values) {
    const auto if_told = [&](double number) { return value.told ? Json(number) : Json(nullptr); };
    values.push_back({{"quantity", name_of(value.quantity)},
                      {"unit", unit_of(value.quantity)},
                      {"in_files", value.start},
                      {"told", value.told},
                      {"value", if_told(value.value)},
                      {"least", if_told(value.least)},
                      {"greatest", if_told(value.greatest)},
                      {"why_not", value.why_not}});
  }
  json["values"] = std::move(values);
  json["fitted"] = residuals(outcome.fitted, outcome.rows_fitted);
  json["left_out"] = residuals(outcome.left_out, outcome.rows_left_out);
  json["borne_out"] = outcome.borne_out();
  json["converged"] = outcome.converged;
  json["simulations"] = outcome.simulations;
  json["runs_left_out"] = report.runs_left_out;
  json["inputs"] = inputs_to_json(report.inputs);
  json["warnings"] = warnings_of(outcome);
  json["notes"] = notes();
  json["cautions"] = cautions("result");
  return json;
}

}  // namespace panup
