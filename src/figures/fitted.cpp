#include "figures/fitted.h"

#include "drawing/json_text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/simulation_text_parts.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> warnings_of(const FitOutcome& outcome, const Words& words) {
  std::vector<std::string> warnings;
  bool any = false;
  for (const FittedValue& value : outcome.values) {
    any = any || value.told;
  }
  if (!any) {
    return warnings;
  }
  if (!outcome.converged) {
    warnings.push_back(words.say("The search was ended before it came to rest: doubt the values."));
  }
  if (outcome.rows_left_out == 0) {
    warnings.push_back(words.say("The record is too short to leave a part of it out as a check."));
  } else if (!outcome.borne_out()) {
    warnings.push_back(
        words.say("The part that was left out lies no nearer the fitted line than the one in the "
                  "files: the fit is not borne out."));
  }
  return warnings;
}

std::vector<std::string> notes(const Words& words) {
  return {
      words.say("Least squares of measured less simulated contact force. Every fifth pair of spans "
                "is left out of the fit, as its check."),
      words.say("Intervals are of 95 %, and hold for this model: what it leaves out (stagger, "
                "wind, the vehicle's motion, wear, wires that hang otherwise than stated) may have "
                "gone into the values."),
      words.say("One factor is looked for each quantity: supports that differ in the file go on "
                "differing in proportion.")};
}

std::string residual_words(const FitResiduals& residuals, std::size_t rows, const Words& words) {
  return words.say("{:.2f} N before, {:.2f} N after, over {} rows", residuals.before_n,
                   residuals.after_n, rows);
}

}  // namespace

std::string fit_to_text(const FitReport& report) {
  const FitOutcome& outcome = report.outcome;
  const Words& words = report.words;
  std::string out =
      invented_head(report.invented, words) +
      calculation_facts(
          {{words.say("Record"), report.record},
           {words.say("Contact line"), report.line},
           {words.say("Fitted"), residual_words(outcome.fitted, outcome.rows_fitted, words)},
           {words.say("Left out"), residual_words(outcome.left_out, outcome.rows_left_out, words)},
           {words.say("Reckoned"), words.say("in {} simulations", outcome.simulations)}});
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> not_told;
  for (const FittedValue& value : outcome.values) {
    const std::string name(name_of(value.quantity));
    rows.push_back({name, words.say("{:.4g}", value.start),
                    value.told ? words.say("{:.4g}", value.value) : words.say("not told"),
                    value.told ? words.say("{:.4g}", value.least) : std::string("–"),
                    value.told ? words.say("{:.4g}", value.greatest) : std::string("–"),
                    std::string(unit_of(value.quantity))});
    if (!value.told) {
      not_told.push_back(words.say("{}: {}; it stays as in the files.", name, value.why_not));
    }
  }
  out += "\n" + words.say("FITTED VALUES, with the interval in which they lie at 95 %") + "\n" +
         text_table({{.heading = words.say("quantity")},
                     {.heading = words.say("in the files"), .right_aligned = true},
                     {.heading = words.say("fitted"), .right_aligned = true},
                     {.heading = words.say("from"), .right_aligned = true},
                     {.heading = words.say("to"), .right_aligned = true},
                     {.heading = words.say("unit")}},
                    rows, 2, text_columns);
  return out + text_list(words.say("THE RECORD CANNOT TELL"), not_told) +
         text_list(words.say("RUNS LEFT OUT"), report.runs_left_out) +
         text_list(words.say("WARNINGS"), warnings_of(outcome, words)) +
         text_list(words.say("NOTES"), notes(words)) +
         end_of_text(report.inputs, report.program_version, words);
}

Json fit_to_json(const FitReport& report) {
  const FitOutcome& outcome = report.outcome;
  const auto residuals = [](const FitResiduals& of, std::size_t rows) {
    return Json{{"rows", rows}, {"before_n", of.before_n}, {"after_n", of.after_n}};
  };
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, report.words);
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
  json["warnings"] = warnings_of(outcome, report.words);
  json["notes"] = notes(report.words);
  json["cautions"] = cautions("result", report.words);
  return json;
}

}  // namespace panup
