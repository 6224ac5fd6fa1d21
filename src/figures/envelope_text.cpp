#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "figures/envelope.h"
#include "figures/permitted_words.h"
#include "figures/simulation.h"
#include "figures/simulation_text_parts.h"

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
  add_calculation_fact(out, "Conditions", weather_words(envelope.weather));
  add_calculation_fact(out, "Wave speed", fmt::format("{:.0f} km/h", envelope.wave_speed_kmh));
  add_calculation_fact(out, "Rules", fmt::format("{}", fmt::join(report.rule_books, ", then ")));
  return out;
}

std::string distance_figure(const Envelope& envelope, std::size_t d) {
  return envelope.count > 1 ? fmt::format("{:g}", envelope.spacings_m[d]) : "–";
}

std::string permitted_table(const Envelope& envelope) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    const PermittedSpeed& speed = envelope.permitted[d];
    rows.push_back({distance_figure(envelope, d), speed_figure_or_none(speed.speed_kmh),
                    speed.fails_at_kmh ? fmt::format("{:g}", speed.edge_error_kmh) : "–",
                    plain(deciding_words(speed))});
  }
  return "\nPERMITTED SPEED by distance; edge: km/h from it to the first speed that fails\n" +
         text_table({{.heading = "m apart", .right_aligned = true},
                     {.heading = "km/h", .right_aligned = true},
                     {.heading = "edge", .right_aligned = true},
                     {.heading = "what decides"}},
                    rows, 2, text_columns);
}

std::string published_table(const Envelope& envelope) {
  if (envelope.published.empty() || envelope.count < 2) {
    return {};
  }
  std::vector<TableColumn> columns{{.heading = "m apart", .right_aligned = true},
                                   {.heading = "permitted", .right_aligned = true}};
  for (const PublishedSpeeds& published : envelope.published) {
    columns.push_back(
        {.heading = fmt::format("type {}", name_of(published.type)), .right_aligned = true});
  }
  columns.push_back({.heading = ""});
  std::vector<std::vector<std::string>> rows;
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    const double permitted = envelope.permitted[d].speed_kmh;
    std::vector<std::string> row{distance_figure(envelope, d), speed_figure_or_none(permitted)};
    for (const PublishedSpeeds& published : envelope.published) {
      const auto speed = published_speed(published, envelope.spacings_m[d]);
      row.push_back(speed ? fmt::format("{:g}", *speed) : "–");
    }
    row.emplace_back();
    rows.push_back(std::move(row));
  }
  std::string out =
      "\nCOMPARED with the published table of least distances, km/h by design type of the line\n" +
      text_table(columns, rows, 2, text_columns);
  for (const std::string& line : comparison_with_published(envelope)) {
    out += hanging("  ", line, text_columns);
  }
  return out;
}

std::string samples_table(const Envelope& envelope) {
  const std::vector<SampleShare> shares = sample_shares(envelope);
  if (shares.empty()) {
    return {};
  }
  std::vector<TableColumn> columns{{.heading = "m apart", .right_aligned = true}};
  for (const SampleShare& share : shares) {
    columns.push_back({.heading = share.name, .right_aligned = true});
  }
  columns.push_back({.heading = ""});
  std::vector<std::vector<std::string>> rows;
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    std::vector<std::string> row{distance_figure(envelope, d)};
    for (const SampleShare& share : shares) {
      row.push_back(speed_figure_or_none(share.speeds_kmh[d]));
    }
    row.emplace_back();
    rows.push_back(std::move(row));
  }
  return "\nSAMPLES within the tolerances, km/h\n" + text_table(columns, rows, 2, text_columns);
}

std::vector<std::string> band_lines(const Envelope& envelope) {
  std::vector<std::string> lines;
  for (const FailingBand& band : failing_bands(envelope)) {
    const std::string fails = band.from_kmh == band.to_kmh
                                  ? fmt::format("{:g} km/h", band.from_kmh)
                                  : fmt::format("{:g} to {:g} km/h", band.from_kmh, band.to_kmh);
    lines.push_back(fmt::format(
        "{}{}, by {}; {:g} km/h passes",
        envelope.count > 1 ? fmt::format("{:g} m apart: ", band.spacing_m) : std::string(), fails,
        band.criterion, band.passes_again_kmh));
  }
  return lines;
}

/// By distance, each sentence once with the first distance that it holds for.
std::vector<std::string> warning_lines(const Envelope& envelope) {
  std::vector<std::string> lines;
  for (std::size_t d = 0; d < envelope.permitted.size(); ++d) {
    const PermittedSpeed& speed = envelope.permitted[d];
    const std::string at =
        envelope.count > 1 ? fmt::format("{:g} m apart: ", envelope.spacings_m[d]) : std::string();
    if (speed.by_supports) {
      lines.push_back(at + in_words(*speed.by_supports, envelope.line_id));
    }
    for (const Warning& warning : speed.warnings) {
      lines.push_back(at + warning.text);
    }
  }
  return lines;
}

std::vector<std::string> hangs_on_lines(const Envelope& envelope) {
  std::vector<std::string> lines;
  for (std::size_t d = 0; d < envelope.permitted.size(); ++d) {
    if (const auto& hangs_on = envelope.permitted[d].hangs_on) {
      lines.push_back((envelope.count > 1 ? fmt::format("{:g} m apart. ", envelope.spacings_m[d])
                                          : std::string()) +
                      in_words(*hangs_on));
    }
  }
  return lines;
}

}  // namespace

std::string envelope_to_text(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  std::string out = head(report);
  out += permitted_table(envelope);
  out += text_list("WARNINGS", warning_lines(envelope));
  out += text_list("WHAT THE SPEED HANGS ON, at the distance with the least",
                   hangs_on_lines(envelope));
  out += text_list("FAILING BANDS below faster speeds that pass", band_lines(envelope));
  out += published_table(envelope);
  out += samples_table(envelope);
  out += text_list("CRITERIA in force", envelope.criteria);
  out += text_list("NOTES", notes_of(envelope));
  out += text_list("CAUTIONS", cautions("result"));
  out += made_from(report.inputs, report.program_version);
  return out;
}

}  // namespace panup
