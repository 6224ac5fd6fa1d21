#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "plan/make_plan.h"
#include "render/envelope.h"
#include "render/simulation_text_parts.h"
#include "render/text_layout.h"
#include "render/text_parts.h"
#include "render/wording.h"

namespace panup {

namespace {

std::string head(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  std::string out;
  if (envelope.invented) {
    out += std::string(invented_mark) + "\n\n";
  }
  add_calculation_fact(out, "Contact line", plain(with_id(envelope.line_name, envelope.line_id)));
  add_calculation_fact(out, "Raised", plain(raised_words(envelope)));
  add_calculation_fact(out, "Supply",
                       fmt::format("{}; static force {:g} N",
                                   envelope.supply ? name_of(*envelope.supply) : "not stated",
                                   envelope.static_force_n));
  add_calculation_fact(out, "Wave speed", fmt::format("{:.0f} km/h", envelope.wave_speed_kmh));
  add_calculation_fact(out, "Rules", fmt::format("{}", fmt::join(report.rule_books, ", then ")));
  return out;
}

/// The published speed at a distance, "80", or a dash below the least one.
std::string published_at(const PublishedSpeeds& published, double distance_m) {
  std::string words = "–";
  for (const PublishedStep& step : published.steps) {
    if (distance_m >= step.distance_m) {
      words = fmt::format("{:g}", step.speed_kmh);
    }
  }
  return words;
}

/// The speed that a share of the samples pass.
double passed_by(std::vector<double> speeds, double share) {
  std::ranges::sort(speeds, std::greater<>());
  const auto count = static_cast<double>(speeds.size());
  const auto last = static_cast<std::size_t>(std::max(1.0, std::ceil(share * count - 1e-9))) - 1;
  return speeds[std::min(last, speeds.size() - 1)];
}

std::string deciding(const PermittedSpeed& speed) {
  const std::string whose =
      speed.pantograph > 0 ? fmt::format("pantograph {}, ", speed.pantograph) : std::string();
  if (speed.refused) {
    return fmt::format("at {:g} km/h no run: {}", *speed.fails_at_kmh, speed.text);
  }
  return speed.fails_at_kmh ? fmt::format("at {:g} km/h {}{} ({})", *speed.fails_at_kmh, whose,
                                          speed.text, speed.criterion)
                            : fmt::format("all pass; least margin {:.0f} %: {}{} ({})",
                                          100 * speed.margin, whose, speed.text, speed.criterion);
}

std::string permitted_table(const Envelope& envelope) {
  std::vector<TableColumn> columns{{.heading = "m apart", .right_aligned = true},
                                   {.heading = "km/h", .right_aligned = true},
                                   {.heading = "edge", .right_aligned = true}};
  for (const PublishedSpeeds& published : envelope.published) {
    columns.push_back(
        {.heading = fmt::format("type {}", name_of(published.type)), .right_aligned = true});
  }
  const bool sampled = !envelope.samples.empty();
  if (sampled) {
    columns.push_back({.heading = "half pass", .right_aligned = true});
    columns.push_back({.heading = "all pass", .right_aligned = true});
  }
  columns.push_back({.heading = "what decides"});
  std::vector<std::vector<std::string>> rows;
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    const PermittedSpeed& speed = envelope.permitted[d];
    std::vector<std::string> row{
        envelope.count > 1 ? fmt::format("{:g}", envelope.spacings_m[d]) : "–",
        speed.speed_kmh > 0 ? fmt::format("{:g}", speed.speed_kmh) : "none",
        speed.fails_at_kmh ? fmt::format("{:g}", speed.edge_error_kmh) : "–"};
    for (const PublishedSpeeds& published : envelope.published) {
      row.push_back(published_at(published, envelope.spacings_m[d]));
    }
    if (sampled) {
      row.push_back(fmt::format("{:g}", passed_by(envelope.samples[d].permitted_speed_kmh, 0.5)));
      row.push_back(fmt::format("{:g}", passed_by(envelope.samples[d].permitted_speed_kmh, 1)));
    }
    row.push_back(plain(deciding(speed)));
    rows.push_back(std::move(row));
  }
  return "\nPERMITTED SPEED by distance" +
         std::string(envelope.published.empty()
                         ? ""
                         : ", beside the published table by design type of the line") +
         "\n" + text_table(columns, rows, 2, text_columns);
}

std::vector<std::string> band_lines(const Envelope& envelope) {
  std::vector<std::string> lines;
  for (const FailingBand& band : failing_bands(envelope)) {
    lines.push_back(fmt::format("{:g} m apart: {}, by {}", band.spacing_m,
                                band.from_kmh == band.to_kmh
                                    ? fmt::format("{:g} km/h", band.from_kmh)
                                    : fmt::format("{:g} to {:g} km/h", band.from_kmh, band.to_kmh),
                                band.criterion));
  }
  return lines;
}

}  // namespace

std::string envelope_to_text(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  std::string out = head(report);
  out += permitted_table(envelope);
  out += text_list("FAILING BANDS below faster speeds that pass, of the speeds asked for",
                   band_lines(envelope));
  out += text_list("CRITERIA in force", envelope.criteria);
  out += text_list("NOTES", notes_of(envelope));
  out += text_list("CAUTIONS", cautions("result"));
  out += made_from(report.inputs, report.program_version);
  return out;
}

}  // namespace panup
