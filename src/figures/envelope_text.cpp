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
  const Words& words = report.words;
  return invented_head(envelope.invented, words) +
         calculation_facts(
             {{words.say("Contact line"), with_id(envelope.line_name, envelope.line_id)},
              {words.say("Raised"), raised_words(envelope, words)},
              {words.say("Supply"),
               words.say("{}; static force {:g} N", supply_words(envelope.supply, words),
                         envelope.static_force_n)},
              {words.say("Conditions"), weather_words(envelope.weather, words)},
              {words.say("Wave speed"), words.say("{:.0f} km/h", envelope.wave_speed_kmh)},
              {words.say("Rules"), books_words(report.rule_books, words)}});
}

std::string distance_figure(const EnvelopeReport& report, std::size_t d) {
  return report.envelope.count > 1 ? report.words.say("{:g}", report.envelope.spacings_m[d]) : "–";
}

std::string permitted_table(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  const Words& words = report.words;
  std::vector<std::vector<std::string>> rows;
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    const PermittedSpeed& speed = envelope.permitted[d];
    rows.push_back({distance_figure(report, d), speed_figure_or_none(speed.speed_kmh, words),
                    speed.fails_at_kmh ? words.say("{:g}", speed.edge_error_kmh) : "–",
                    plain(deciding_words(speed, words))});
  }
  return "\n" +
         words.say(
             "PERMITTED SPEED by distance; edge: km/h from it to the first speed that fails") +
         "\n" +
         text_table({{.heading = words.say("m apart"), .right_aligned = true},
                     {.heading = words.say("km/h"), .right_aligned = true},
                     {.heading = words.say("edge"), .right_aligned = true},
                     {.heading = words.say("what decides")}},
                    rows, 2, text_columns);
}

std::string published_table(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  const Words& words = report.words;
  if (envelope.published.empty() || envelope.count < 2) {
    return {};
  }
  std::vector<TableColumn> columns{{.heading = words.say("m apart"), .right_aligned = true},
                                   {.heading = words.say("permitted"), .right_aligned = true}};
  for (const PublishedSpeeds& published : envelope.published) {
    columns.push_back(
        {.heading = words.say("type {}", name_of(published.type)), .right_aligned = true});
  }
  columns.push_back({.heading = ""});
  std::vector<std::vector<std::string>> rows;
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    const double permitted = envelope.permitted[d].speed_kmh;
    std::vector<std::string> row{distance_figure(report, d),
                                 speed_figure_or_none(permitted, words)};
    for (const PublishedSpeeds& published : envelope.published) {
      const auto speed = published_speed(published, envelope.spacings_m[d]);
      row.push_back(speed ? words.say("{:g}", *speed) : "–");
    }
    row.emplace_back();
    rows.push_back(std::move(row));
  }
  std::string out = "\n" +
                    words.say(
                        "COMPARED with the published table of least distances, km/h by "
                        "design type of the line") +
                    "\n" + text_table(columns, rows, 2, text_columns);
  for (const std::string& line : comparison_with_published(envelope, words)) {
    out += hanging("  ", line, text_columns);
  }
  return out;
}

std::string samples_table(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  const Words& words = report.words;
  const std::vector<SampleShare> shares = sample_shares(envelope, words);
  if (shares.empty()) {
    return {};
  }
  std::vector<TableColumn> columns{{.heading = words.say("m apart"), .right_aligned = true}};
  for (const SampleShare& share : shares) {
    columns.push_back({.heading = share.name, .right_aligned = true});
  }
  columns.push_back({.heading = ""});
  std::vector<std::vector<std::string>> rows;
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    std::vector<std::string> row{distance_figure(report, d)};
    for (const SampleShare& share : shares) {
      row.push_back(speed_figure_or_none(share.speeds_kmh[d], words));
    }
    row.emplace_back();
    rows.push_back(std::move(row));
  }
  return "\n" + words.say("SAMPLES within the tolerances, km/h") + "\n" +
         text_table(columns, rows, 2, text_columns);
}

/// "20 m apart: " in front of what is said of a distance; nothing where there is one pantograph.
std::string apart_words(const EnvelopeReport& report, double spacing_m) {
  return report.envelope.count > 1 ? report.words.say("{:g} m apart: ", spacing_m) : std::string();
}

std::vector<std::string> band_lines(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  const Words& words = report.words;
  std::vector<std::string> lines;
  for (const FailingBand& band : failing_bands(envelope)) {
    const std::string fails = band.from_kmh == band.to_kmh
                                  ? words.say("{:g} km/h", band.from_kmh)
                                  : words.say("{:g} to {:g} km/h", band.from_kmh, band.to_kmh);
    lines.push_back(words.say("{}{}, by {}; {:g} km/h passes", apart_words(report, band.spacing_m),
                              fails, band.criterion, band.passes_again_kmh));
  }
  return lines;
}

/// By distance, each sentence once with the first distance that it holds for.
std::vector<std::string> warning_lines(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  std::vector<std::string> lines;
  for (std::size_t d = 0; d < envelope.permitted.size(); ++d) {
    const PermittedSpeed& speed = envelope.permitted[d];
    const std::string at = apart_words(report, envelope.spacings_m[d]);
    if (speed.by_supports) {
      lines.push_back(at + in_words(*speed.by_supports, envelope.line_id, report.words));
    }
    for (const Warning& warning : speed.warnings) {
      lines.push_back(at + warning.text.said(report.words));
    }
  }
  return lines;
}

std::vector<std::string> hangs_on_lines(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  const Words& words = report.words;
  std::vector<std::string> lines;
  for (std::size_t d = 0; d < envelope.permitted.size(); ++d) {
    if (const auto& hangs_on = envelope.permitted[d].hangs_on) {
      lines.push_back((envelope.count > 1 ? words.say("{:g} m apart. ", envelope.spacings_m[d])
                                          : std::string()) +
                      in_words(*hangs_on, words));
    }
  }
  return lines;
}

}  // namespace

std::string envelope_to_text(const EnvelopeReport& report) {
  const Envelope& envelope = report.envelope;
  const Words& words = report.words;
  std::string out = head(report);
  out += permitted_table(report);
  out += text_list(words.say("WARNINGS"), warning_lines(report));
  out += text_list(words.say("WHAT THE SPEED HANGS ON, at the distance with the least"),
                   hangs_on_lines(report));
  out += text_list(words.say("FAILING BANDS below faster speeds that pass"), band_lines(report));
  out += published_table(report);
  out += samples_table(report);
  out += text_list(words.say("CRITERIA in force"), envelope.criteria);
  out += text_list(words.say("NOTES"), notes_of(envelope, words));
  out += end_of_text(report.inputs, report.program_version, words);
  return out;
}

}  // namespace panup
