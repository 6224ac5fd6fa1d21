#include "serve/job_work.h"

#include "day/plan_parts.h"
#include "figures/envelope.h"
#include "figures/simulation.h"
#include "figures/thinned_trace.h"
#include "figures/wire_shapes_json.h"
#include "quality/speed_curve.h"
#include "serve/looked_up_runs.h"

namespace panup {

namespace {

using Json = nlohmann::ordered_json;

void report(Diagnostics& diagnostics, const std::vector<std::string>& mistakes) {
  for (const std::string& text : mistakes) {
    diagnostics.push_back({{.file = std::string(request_name)}, text});
  }
}

RunsWatch watch_of(JobProgress& progress) {
  return {.stopped = [&progress] { return progress.stopped(); },
          .expect = [&progress](std::size_t runs) { progress.expect(runs); },
          .did = [&progress](std::size_t runs) { progress.did(runs); }};
}

std::vector<double> dropper_positions(const ContactLine& line) {
  std::vector<double> positions;
  double from_m = 0;
  for (const Span& span : line.spans) {
    for (const Dropper& dropper : span.droppers) {
      positions.push_back(from_m + dropper.at_m);
    }
    from_m += span.length_m;
  }
  return positions;
}

Json simulation_answer(const SimulationReport& report) {
  Json answer;
  answer["simulation"] = simulation_to_json(report);
  answer["trace"] = thinned_trace_to_json(thinned_trace(report.result.trace.value_or(Trace{})));
  answer["supports_m"] = support_positions(report.line);
  answer["droppers_m"] = dropper_positions(report.line);
  answer["wire"] =
      report.result.wire_shapes ? wire_shapes_to_json(*report.result.wire_shapes) : Json(nullptr);
  return answer;
}

CellKnown telling_of_cells(JobProgress& progress, bool at_first_sight) {
  return [&progress, at_first_sight](std::size_t spacing, std::size_t speed,
                                     const EnvelopeCell& cell) {
    progress.found({"cell", compact_json({{"spacing", spacing},
                                          {"speed", speed},
                                          {"passes", cell.passes},
                                          {"margin", cell.margin},
                                          {"criterion", cell.criterion},
                                          {"at_first_sight", at_first_sight}})});
  };
}

Json point_to_json(const SpeedCurvePoint& point, const Words& words) {
  const PermittedSpeed& permitted = point.permitted;
  Json warnings = Json::array();
  for (const Warning& warning : permitted.warnings) {
    warnings.push_back(warning.text.said(words));
  }
  return {{"distance_m", point.distance_m},
          {"speed_kmh", permitted.speed_kmh},
          {"fails_at_kmh", permitted.fails_at_kmh ? Json(*permitted.fails_at_kmh) : Json(nullptr)},
          {"criterion", permitted.criterion},
          {"pantograph", permitted.pantograph},
          {"text", permitted.text},
          {"warnings", std::move(warnings)},
          {"at_first_sight", point.at_first_sight}};
}

std::string joined(const std::vector<std::string>& sentences) {
  std::string text;
  for (const std::string& sentence : sentences) {
    text += (text.empty() ? "" : "; ") + sentence;
  }
  return text;
}

}  // namespace

std::optional<JobWork> simulation_work(const AskedSimulation& asked, const WorkPlace& place,
                                       Diagnostics& diagnostics) {
  const FileSource files = with_texts(files_of(place.planning), asked.texts);
  auto read = read_simulation_input(asked.line, asked.models, files, diagnostics);
  if (!read) {
    return std::nullopt;
  }
  const auto input = std::make_shared<const SimulationInput>(std::move(*read));
  std::vector<std::string> mistakes;
  SimulationRequest request = request_of(asked.run, *input, "under 'system'", mistakes);
  request.settings.keep_trace = true;
  if (asked.wire_shapes) {
    request.settings.wire_shapes.emplace();
  }
  if (const std::string text = too_long(request); !text.empty()) {
    mistakes.push_back(text);
  }
  report(diagnostics, mistakes);
  if (!diagnostics.empty()) {
    return std::nullopt;
  }
  return [input, request, run = asked.run, version = place.planning.program_version](
             JobProgress& progress, std::string& error) -> std::optional<std::string> {
    progress.expect(1);
    SimulationRequest stoppable = request;
    stoppable.settings.stopped = [&progress] { return progress.stopped(); };
    SimulationOutcome outcome = simulate(stoppable);
    if (!outcome.result) {
      error = joined(said(outcome.refusals, run.words));
      return std::nullopt;
    }
    progress.did(1);
    return compact_json(
        simulation_answer(report_of(run, *input, request, std::move(*outcome.result), version)));
  };
}

std::optional<JobWork> envelope_work(const AskedEnvelope& asked, const WorkPlace& place,
                                     Diagnostics& diagnostics) {
  const FileSource files = with_texts(files_of(place.planning), asked.texts);
  auto read = read_envelope_input(asked.line, asked.pantograph, place.planning.rules, files,
                                  diagnostics, asked.words);
  if (!read) {
    return std::nullopt;
  }
  const auto input = std::make_shared<const EnvelopeInput>(std::move(*read));
  std::vector<std::string> mistakes;
  EnvelopeRequest request;
  request.supply = asked.supply;
  request.count = asked.count;
  request.knuckles = knuckles_named(asked.knuckle, input->pantograph);
  request.spacings_m = asked.spacings_m;
  request.speeds_kmh = asked.speeds_kmh;
  set_input(request, *input, "under 'system'", mistakes);
  report(diagnostics, mistakes);
  if (!diagnostics.empty()) {
    return std::nullopt;
  }
  return [input, request, place](JobProgress& progress,
                                 std::string& error) -> std::optional<std::string> {
    LookedUpRuns runs(place.planning, watch_of(progress));
    auto envelope = compute_envelope(request, runs.source(),
                                     {.at_first_sight = telling_of_cells(progress, true),
                                      .known = telling_of_cells(progress, false)});
    if (!envelope) {
      error = "it was stopped";
      return std::nullopt;
    }
    return compact_json(
        envelope_to_json(report_of(*input, std::move(*envelope), place.planning.program_version)));
  };
}

std::optional<JobWork> speed_curve_work(const AskedSpeedCurve& asked, const WorkPlace& place,
                                        Diagnostics& diagnostics) {
  const AskedSimulation& stands = asked.stands;
  const FileSource files = with_texts(files_of(place.planning), stands.texts);
  auto read = read_simulation_input(stands.line, stands.models, files, diagnostics);
  auto rules = read_rule_books(place.planning.rules, std::string(), diagnostics, files);
  if (!read || !rules) {
    return std::nullopt;
  }
  struct Input {
    SimulationInput files;
    RuleBook rules;
  };
  const auto input =
      std::make_shared<const Input>(std::move(*read), said_in(std::move(*rules), stands.run.words));
  std::vector<std::string> mistakes;
  const SimulationRequest run = request_of(stands.run, input->files, "under 'system'", mistakes);
  for (std::string& missing : rules_missing(input->rules, false)) {
    mistakes.push_back(std::move(missing));
  }
  report(diagnostics, mistakes);
  if (!diagnostics.empty()) {
    return std::nullopt;
  }
  const SpeedCurveRequest request{.question = {.line = &input->files.line,
                                               .pantographs = run.pantographs,
                                               .supply = stands.run.supply,
                                               .settings = run.settings,
                                               .to_kmh = stands.run.speed_kmh},
                                  .drawn_at = asked.drawn_at,
                                  .distances_m = asked.distances_m,
                                  .rules = &input->rules};
  return [input, request, place](JobProgress& progress,
                                 std::string& error) -> std::optional<std::string> {
    LookedUpRuns runs(place.planning, watch_of(progress));
    Json points = Json::array();
    const bool whole = draw_speed_curve(request, runs.source(), [&](const SpeedCurvePoint& point) {
      points.push_back(point_to_json(point, input->rules.words));
      progress.found({"point", compact_json(points.back())});
    });
    if (!whole) {
      error = "it was stopped";
      return std::nullopt;
    }
    return compact_json(
        {{"points", std::move(points)}, {"cautions", cautions("result", input->rules.words)}});
  };
}

std::optional<JobWork> plan_work(const AskedPlan& asked, const WorkPlace& place,
                                 Diagnostics& diagnostics) {
  auto read = read_asked_input(asked, place.planning, diagnostics);
  if (!read) {
    return std::nullopt;
  }
  const auto input = std::make_shared<RunInput>(std::move(*read));
  return [input, place, asked](JobProgress& progress,
                               std::string& error) -> std::optional<std::string> {
    LookedUpRuns runs(place.planning, watch_of(progress));
    make_ready(*input, runs, [&progress] { return progress.stopped(); });
    const auto plan = plan_parts(*input, place.planning.program_version);
    if (!plan) {
      error = "it was stopped";
      return std::nullopt;
    }
    return compact_json(plan_answer(*plan, input->places, asked));
  };
}

}  // namespace panup
