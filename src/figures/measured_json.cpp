#include <fmt/format.h>

#include "base/handed_out.h"
#include "drawing/csv_row.h"
#include "drawing/json_text.h"
#include "figures/measured.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

Json figures_to_json(const MeasuredFigures& figures) {
  return Json{{"rows", figures.rows},
              {"from_m", figures.from_m},
              {"to_m", figures.to_m},
              {"measured_m", figures.length_m},
              {"speed_kmh", figures.mean_kmh},
              {"least_speed_kmh", figures.least_kmh},
              {"greatest_speed_kmh", figures.greatest_kmh},
              {"mean_n", figures.mean_n},
              {"std_n", figures.std_n},
              {"statistical_max_n", figures.statistical_max_n()},
              {"statistical_min_n", figures.statistical_min_n()},
              {"max_n", figures.max_n},
              {"max_at_m", figures.max_at_m},
              {"min_n", figures.min_n},
              {"min_at_m", figures.min_at_m},
              {"contact_loss_percent", figures.contact_loss_percent},
              {"contact_losses", figures.contact_losses},
              {"longest_contact_loss_ms", figures.longest_contact_loss_ms}};
}

Json judged_to_json(const JudgedStretch* judged) {
  Json json;
  const bool asked = judged != nullptr && judged->judgement && !judged->judgement->criteria.empty();
  json["met"] = asked ? Json(judged->judgement->passes) : Json(nullptr);
  json["not_judged"] = judged != nullptr ? Json(judged->not_judged) : Json("");
  Json criteria = Json::array();
  if (asked) {
    for (const CriterionMargin& one : judged->judgement->criteria) {
      criteria.push_back(
          {{"rule", one.rule}, {"met", one.met}, {"margin", one.margin}, {"text", one.text}});
    }
  }
  json["criteria"] = std::move(criteria);
  return json;
}

/// The judgements of one pantograph of one run.
class JudgedOf {
 public:
  JudgedOf(const JudgedRecord& judged, std::size_t run, std::size_t pantograph)
      : judged_(judged), run_(run), pantograph_(pantograph) {}

  const JudgedStretch* find(std::optional<std::size_t> stretch) const {
    for (const JudgedStretch& one : judged_.stretches) {
      if (one.run == run_ && one.pantograph == pantograph_ && one.stretch == stretch) {
        return &one;
      }
    }
    return nullptr;
  }

 private:
  const JudgedRecord& judged_;
  std::size_t run_;
  std::size_t pantograph_;
};

Json stretches_to_json(const std::vector<RecordStretch>& stretches) {
  Json json = Json::array();
  for (const RecordStretch& one : stretches) {
    json.push_back({{"from_m", one.from_m}, {"to_m", one.to_m}});
  }
  return json;
}

Json pantograph_to_json(const MeasuredReport& report, std::size_t run, std::size_t index) {
  const MeasuredPantograph& one = report.runs[run].pantographs[index];
  const JudgedOf judged(report.judged, run, index);
  Json json;
  json["id"] = report.record.pantographs[one.pantograph].id;
  json["whole"] = figures_to_json(one.whole);
  json["judged"] = judged_to_json(judged.find(std::nullopt));
  Json stretches = Json::array();
  for (std::size_t i = 0; i < one.stretches.size(); ++i) {
    const StretchFigures& stretch = one.stretches[i];
    stretches.push_back({{"id", stretch.id},
                         {"from_m", stretch.from_m},
                         {"to_m", stretch.to_m},
                         {"measured_share", stretch.covered()},
                         {"figures", figures_to_json(stretch.figures)},
                         {"judged", judged_to_json(judged.find(i))}});
  }
  json["stretches"] = std::move(stretches);
  Json spans = Json::array();
  for (const SpanFigures& span : one.spans) {
    spans.push_back({{"tension_length", span.tension_length},
                     {"from_m", span.from_m},
                     {"to_m", span.to_m},
                     {"figures", figures_to_json(span.figures)}});
  }
  json["spans"] = std::move(spans);
  json["gaps"] = Json{{"number", one.steps.gaps},
                      {"length_m", one.steps.gap_length_m},
                      {"first", stretches_to_json(one.steps.places)}};
  json["contact_losses"] =
      Json{{"number", one.whole.contact_losses}, {"first", stretches_to_json(one.losses)}};
  return json;
}

Json bad_rows_to_json(const Diagnostics& rows) {
  Json json = Json::array();
  for (const Diagnostic& row : rows) {
    json.push_back({{"file", row.place.file},
                    {"line", row.place.line},
                    {"column", row.place.column},
                    {"text", row.text}});
  }
  return json;
}

Json simulated_to_json(const PantographRun& run) {
  return Json{{"mean_n", run.mean_n},
              {"std_n", run.std_n},
              {"statistical_max_n", run.statistical_max_n},
              {"statistical_min_n", run.statistical_min_n},
              {"max_n", run.max_n},
              {"min_n", run.min_n},
              {"contact_loss_percent", run.contact_loss_percent},
              {"longest_contact_loss_ms", run.longest_contact_loss_ms}};
}

Json compared_to_json(const MeasuredReport& report, std::size_t run) {
  Json json;
  const bool there = run < report.compared.size();
  const ComparedRun* const compared = there ? &report.compared[run] : nullptr;
  json["not_simulated"] = there ? compared->nothing : report.not_compared;
  json["speed_kmh"] = there && compared->result ? Json(compared->result->speed_kmh) : Json(nullptr);
  Json pantographs = Json::array();
  if (there) {
    for (const ComparedPantograph& one : compared->compared) {
      const MeasuredPantograph& measured = report.runs[run].pantographs[one.measured];
      pantographs.push_back(
          {{"id", report.record.pantographs[measured.pantograph].id},
           {"model", compared->pantographs[one.simulated].model.id},
           {"measured", figures_to_json(measured.compared)},
           {"simulated", simulated_to_json(compared->result->pantographs[one.simulated])},
           {"std_difference_percent", 100 * one.std_difference},
           {"valid", one.valid}});
    }
  }
  json["pantographs"] = std::move(pantographs);
  json["warnings"] = Json::array();
  if (there && compared->result) {
    for (const Warning& warning : compared->result->warnings) {
      json["warnings"].push_back(warning.text.said(report.words));
    }
  }
  return json;
}

Json run_to_json(const MeasuredReport& report, std::size_t index) {
  const MeasuredRun& run = report.runs[index];
  Json json;
  json["id"] = report.record.runs[run.run].id;
  json["file"] = report.record.runs[run.run].file;
  json["chainage"] = run.falling ? "falling" : "rising";
  json["rows"] = Json{{"all", run.counts.rows},
                      {"without_force", run.counts.missing},
                      {"bad", run.counts.bad},
                      {"too_slow", run.counts.slow},
                      {"of_other_pantographs", run.counts.others}};
  json["bad_rows"] = bad_rows_to_json(run.bad_rows);
  Json pantographs = Json::array();
  for (std::size_t i = 0; i < run.pantographs.size(); ++i) {
    pantographs.push_back(pantograph_to_json(report, index, i));
  }
  json["pantographs"] = std::move(pantographs);
  json["simulation"] = compared_to_json(report, index);
  return json;
}

const char* answer_word(RecordAnswer answer) {
  switch (answer) {
    case RecordAnswer::met:
      return "met";
    case RecordAnswer::not_met:
      return "not met";
    case RecordAnswer::not_judged:
      break;
  }
  return "not judged";
}

}  // namespace

Json measured_to_json(const MeasuredReport& report) {
  const MeasuredRecord& record = report.record;
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, report.words);
  json["record"] =
      Json{{"id", record.id},
           {"name", record.name},
           {"invented", record.invented},
           {"source", record.source},
           {"recorded_low_pass_hz",
            record.recorded_low_pass_hz ? Json(*record.recorded_low_pass_hz) : Json(nullptr)},
           {"evaluated_low_pass_hz", evaluated_low_pass_hz(record)}};
  json["energy_supply"] = record.supply ? Json(name_of(*record.supply)) : Json(nullptr);
  json["line"] = report.line ? Json(report.line->id) : Json(nullptr);
  json["criteria"] = answer_word(report.judged.answer);
  const auto valid = simulation_valid(report);
  json["simulation_valid"] = valid ? Json(*valid) : Json(nullptr);
  Json runs = Json::array();
  for (std::size_t i = 0; i < report.runs.size(); ++i) {
    runs.push_back(run_to_json(report, i));
  }
  json["runs"] = std::move(runs);
  json["criteria_in_force"] = report.criteria;
  json["not_judged"] = report.not_judged;
  json["rule_books"] = report.rule_books;
  json["inputs"] = inputs_to_json(report.inputs);
  json["warnings"] = warnings_of(report);
  json["notes"] = notes_of(report);
  json["cautions"] = cautions("result", report.words);
  return json;
}

std::string spans_to_csv(const MeasuredReport& report) {
  std::string out =
      csv_row({"run", "pantograph", "tension_length", "from_m", "to_m", "rows", "speed_kmh",
               "mean_n", "std_n", "max_n", "min_n", "contact_loss_percent"});
  for (const MeasuredRun& run : report.runs) {
    for (const MeasuredPantograph& one : run.pantographs) {
      for (const SpanFigures& span : one.spans) {
        const MeasuredFigures& f = span.figures;
        out += csv_row({report.record.runs[run.run].id,
                        report.record.pantographs[one.pantograph].id, span.tension_length,
                        fmt::format("{:.3f}", span.from_m), fmt::format("{:.3f}", span.to_m),
                        std::to_string(f.rows), fmt::format("{:.2f}", f.mean_kmh),
                        fmt::format("{:.3f}", f.mean_n), fmt::format("{:.3f}", f.std_n),
                        fmt::format("{:.3f}", f.max_n), fmt::format("{:.3f}", f.min_n),
                        fmt::format("{:.4f}", f.contact_loss_percent)});
      }
    }
  }
  return out;
}

}  // namespace panup
