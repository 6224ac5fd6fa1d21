#include "quality/envelope.h"

#include <algorithm>
#include <span>

#include "quality/input_effects.h"
#include "quality/scan_rounds.h"
#include "rules/rule_book.h"

namespace panup {

namespace {

EnvelopeCell cell_of(const Judgement& judgement, Knuckle knuckle) {
  return {.passes = judgement.passes,
          .margin = judgement.margin,
          .criterion = judgement.criterion,
          .pantograph = judgement.pantograph,
          .knuckle = knuckle,
          .coarse = judgement.coarse};
}

/// Whether `a` decides against `b`: it fails and `b` passes, or its margin is smaller.
bool is_worse(const EnvelopeCell& a, const EnvelopeCell& b) {
  return a.passes != b.passes ? !a.passes : a.margin < b.margin;
}

/// The worst of the judgements of one distance at one speed; `judgement_of` gives that of each of
/// its questions.
template <class JudgementOf>
EnvelopeCell worst_cell(const EnvelopeRequest& request, const SpacedQuestions& questions,
                        const JudgementOf& judgement_of) {
  EnvelopeCell worst;
  for (std::size_t q = 0; q < questions.of_distance; ++q) {
    EnvelopeCell cell = cell_of(judgement_of(q), request.knuckles[questions.direction(q)]);
    if (q == 0 || is_worse(cell, worst)) {
      worst = std::move(cell);
    }
  }
  return worst;
}

struct CellPlace {
  std::size_t distance = 0;
  std::size_t speed = 0;
};

/// All cells, those that lie `coarsest` apart first, then those half as far, down to neighbours.
std::vector<CellPlace> spread(std::size_t distances, std::size_t speeds) {
  constexpr std::size_t coarsest = 4;
  std::vector<CellPlace> places;
  for (std::size_t apart = coarsest; apart > 0; apart /= 2) {
    for (std::size_t d = 0; d < distances; d += apart) {
      for (std::size_t v = 0; v < speeds; v += apart) {
        const std::size_t before = 2 * apart;
        if (apart == coarsest || d % before != 0 || v % before != 0) {
          places.push_back({d, v});
        }
      }
    }
  }
  return places;
}

/// Tells of every cell at first sight.
bool look_at_cells(const EnvelopeRequest& request, const RunSource& runs,
                   const SpacedQuestions& questions, const CellKnown& tell) {
  constexpr std::size_t at_once = 16;  // what takes longer is seen later
  EvaluatedLines lines = lines_for(mechanics_rule(*request.rules), true);
  CoarseRunsByLine coarse;
  const Judging judging{*request.rules, lines, runs, coarse, true};
  const std::vector<CellPlace> places =
      spread(request.spacings_m.size(), request.speeds_kmh.size());
  for (std::size_t from = 0; from < places.size(); from += at_once) {
    const std::span batch =
        std::span(places).subspan(from, std::min(at_once, places.size() - from));
    std::vector<AskedSpeed> asked;
    for (const CellPlace& place : batch) {
      for (std::size_t q = 0; q < questions.of_distance; ++q) {
        asked.push_back({&questions.all[place.distance * questions.of_distance + q],
                         request.speeds_kmh[place.speed]});
      }
    }
    const auto judgements = judge_speeds(judging, asked);
    if (!judgements) {
      return false;
    }
    for (std::size_t i = 0; i < batch.size(); ++i) {
      tell(batch[i].distance, batch[i].speed,
           worst_cell(request, questions, [&](std::size_t q) -> const Judgement& {
             return (*judgements)[i * questions.of_distance + q];
           }));
    }
  }
  return true;
}

/// Judges the questions of a distance at every speed, and hands the judgements to their scans.
bool fill_cells(const EnvelopeRequest& request, const Judging& judging,
                const SpacedQuestions& questions, std::size_t distance,
                std::vector<SpeedScan>& scans, Envelope& envelope) {
  const std::size_t first = distance * questions.of_distance;
  std::vector<AskedSpeed> asked;
  for (std::size_t q = 0; q < questions.of_distance; ++q) {
    for (const double speed : request.speeds_kmh) {
      asked.push_back({&questions.all[first + q], speed});
    }
  }
  auto judgements = judge_speeds(judging, asked);
  if (!judgements) {
    return false;
  }
  const std::size_t speeds = request.speeds_kmh.size();
  for (std::size_t v = 0; v < speeds; ++v) {
    const auto judgement_of = [&](std::size_t q) -> Judgement& {
      return (*judgements)[q * speeds + v];
    };
    envelope.cells[distance][v] = worst_cell(request, questions, judgement_of);
    for (std::size_t q = 0; q < questions.of_distance; ++q) {
      scans[first + q].add(request.speeds_kmh[v], std::move(judgement_of(q)));
    }
  }
  return true;
}

/// Judges every distance at every speed, distance by distance whether somebody waits for cells or
/// not: what is learnt of runs in a longer step hangs on the order.
bool fill_all_cells(const EnvelopeRequest& request, const Judging& judging,
                    const SpacedQuestions& questions, std::vector<SpeedScan>& scans,
                    Envelope& envelope, const CellKnown& known) {
  envelope.cells.assign(request.spacings_m.size(),
                        std::vector<EnvelopeCell>(request.speeds_kmh.size()));
  for (std::size_t d = 0; d < request.spacings_m.size(); ++d) {
    if (!fill_cells(request, judging, questions, d, scans, envelope)) {
      return false;
    }
    for (std::size_t v = 0; known && v < request.speeds_kmh.size(); ++v) {
      known(d, v, envelope.cells[d][v]);
    }
  }
  return true;
}

std::vector<PublishedSpeeds> published_speeds(const Rule& rule, EnergySupply supply,
                                              double greatest_kmh) {
  std::vector<PublishedSpeeds> all;
  for (const DesignType type : {DesignType::a, DesignType::b, DesignType::c}) {
    PublishedSpeeds speeds{.type = type, .steps = {}};
    double distance = 0;
    for (const SpacingRow& row : rule.spacing) {
      distance = std::max(distance, spacing_of(row, supply).at(static_cast<std::size_t>(type)));
      const double up_to = std::min(row.up_to_kmh, greatest_kmh);
      if (!speeds.steps.empty() && speeds.steps.back().distance_m == distance) {
        speeds.steps.back().speed_kmh = up_to;
      } else {
        speeds.steps.push_back({distance, up_to});
      }
    }
    all.push_back(std::move(speeds));
  }
  return all;
}

std::span<const SpeedScan> of_distance(const std::vector<SpeedScan>& scans,
                                       const SpacedQuestions& questions, std::size_t distance) {
  return std::span(scans).subspan(distance * questions.of_distance, questions.of_distance);
}

/// The permitted speed of every sample at every distance.
bool scan_samples(const EnvelopeRequest& request, const Judging& judging,
                  const SpacedQuestions& questions, const ScanSettings& settings,
                  Envelope& envelope) {
  const Rule& rule = *rule_in_force(*request.rules, RuleKind::tolerances);
  const Tolerances tolerances = tolerances_of(rule);
  envelope.tolerances = in_words(tolerances, request.rules->words);
  envelope.samples.resize(request.spacings_m.size());
  for (int number = 0; number < request.samples; ++number) {
    DrawnSamples drawn;
    std::vector<SpeedQuestion> sampled;
    for (const SpeedQuestion& question : questions.all) {
      sampled.push_back(drawn.question(question, judging.lines, tolerances, request.seed,
                                       static_cast<std::uint64_t>(number)));
    }
    std::vector<SpeedScan> scans(sampled.size(), SpeedScan(settings));
    if (!finish_scans(judging, sampled, scans)) {
      return false;
    }
    for (std::size_t d = 0; d < request.spacings_m.size(); ++d) {
      envelope.samples[d].permitted_speed_kmh.push_back(
          worst_of(of_distance(scans, questions, d), questions).permitted.speed_kmh);
    }
  }
  return true;
}

/// Says of the distance with the least permitted speed, of those where inputs can be named, which
/// two it hangs on. Of every distance it would cost as much as the envelope.
bool add_what_it_hangs_on(const EnvelopeRequest& request, const RunSource& runs,
                          const std::vector<std::size_t>& directions, Envelope& envelope) {
  std::optional<std::size_t> least;
  for (std::size_t d = 0; d < envelope.permitted.size(); ++d) {
    const PermittedSpeed& permitted = envelope.permitted[d];
    if (can_hang_on_inputs(permitted) &&
        (!least || permitted.speed_kmh < envelope.permitted[*least].speed_kmh)) {
      least = d;
    }
  }
  if (!least) {
    return true;
  }
  const SpeedQuestion question =
      question_of(request, request.spacings_m[*least], request.knuckles[directions[*least]]);
  std::vector<PermittedSpeed> speeds{envelope.permitted[*least]};
  if (!find_what_speeds_hang_on({question}, *request.rules, runs, speeds)) {
    return false;
  }
  envelope.permitted[*least] = std::move(speeds.front());
  return true;
}

Envelope headed(const EnvelopeRequest& request) {
  Envelope envelope;
  envelope.line_id = request.line->id;
  envelope.line_name = request.line->name;
  envelope.pantograph_id = request.pantograph.id;
  envelope.pantograph_name = request.pantograph.name;
  envelope.line_source = request.line->source;
  envelope.pantograph_source = request.pantograph.source;
  envelope.weather = request.settings.weather;
  if (!request.settings.weather_given) {
    envelope.weather = {.temperature_c = request.line->reference_temperature_c};
  }
  envelope.invented = request.line->invented || request.pantograph.invented;
  envelope.supply = request.supply;
  envelope.static_force_n = request.static_force_n;
  envelope.count = request.count;
  envelope.knuckles = request.knuckles;
  envelope.wave_speed_kmh = facts_of(*request.line, request.supply, 0).wave_speed_kmh;
  envelope.spacings_m = request.spacings_m;
  envelope.speeds_kmh = request.speeds_kmh;
  envelope.seed = request.seed;
  envelope.criteria = criteria_in_words(*request.rules, request.supply);
  envelope.not_judged = not_judged(*request.rules, request.supply, *request.line);
  const Rule* const published = rule_in_force(*request.rules, RuleKind::design_spacing);
  if (published != nullptr && request.supply) {
    envelope.published = published_speeds(*published, *request.supply, request.speeds_kmh.back());
    envelope.published_source = published->source;
  }
  return envelope;
}

}  // namespace

std::optional<Envelope> compute_envelope(const EnvelopeRequest& request, const RunSource& runs,
                                         const CellsAwaited& awaited) {
  const Rule& rule = mechanics_rule(*request.rules);
  EvaluatedLines lines = lines_for(rule, false);
  CoarseRunsByLine coarse;
  const Judging judging{*request.rules, lines, runs, coarse};
  ScanSettings settings = scan_settings(rule, request.speeds_kmh.back());
  settings.speeds_kmh = request.speeds_kmh;
  SupportCases supports;
  const SpacedQuestions questions = questions_of(request, supports);
  std::vector<SpeedScan> scans(questions.all.size(), SpeedScan(settings));
  Envelope envelope = headed(request);
  if (awaited.at_first_sight && !look_at_cells(request, runs, questions, awaited.at_first_sight)) {
    return std::nullopt;
  }
  if (!fill_all_cells(request, judging, questions, scans, envelope, awaited.known) ||
      !finish_scans(judging, questions.all, scans)) {
    return std::nullopt;
  }
  std::vector<std::size_t> directions;
  for (std::size_t d = 0; d < request.spacings_m.size(); ++d) {
    WorstDirection worst = worst_of(of_distance(scans, questions, d), questions);
    envelope.permitted.push_back(std::move(worst.permitted));
    directions.push_back(worst.direction);
    add_static_force_warnings(envelope.permitted.back(), questions.all[d * questions.of_distance]);
  }
  if (!add_what_it_hangs_on(request, runs, directions, envelope)) {
    return std::nullopt;
  }
  if (request.samples > 0 && !scan_samples(request, judging, questions, settings, envelope)) {
    return std::nullopt;
  }
  return envelope;
}

}  // namespace panup
