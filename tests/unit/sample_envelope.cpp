#include "sample_envelope.h"

#include <algorithm>
#include <array>

namespace panup {

namespace {

/// Fails above 150 km/h less what nearness costs, and in a band at 110 to 120 km/h between 20 and
/// 40 m.
double margin_at(double spacing_m, double speed_kmh) {
  const bool in_band = speed_kmh >= 110 && speed_kmh <= 120 && spacing_m >= 20 && spacing_m <= 40;
  return in_band ? -0.2 : (150 - 400 / spacing_m - speed_kmh) / 100;
}

EnvelopeCell cell_at(double spacing_m, double speed_kmh) {
  EnvelopeCell cell;
  cell.margin = std::clamp(margin_at(spacing_m, speed_kmh), -1.0, 1.0);
  cell.passes = cell.margin >= 0;
  cell.coarse = cell.margin > 0.3;
  cell.criterion = cell.margin < -0.1 ? "contact-loss" : "force-deviation";
  cell.pantograph = 2;
  return cell;
}

PermittedSpeed permitted_at(double spacing_m, const std::vector<double>& speeds_kmh) {
  PermittedSpeed permitted;
  permitted.looked_from_kmh = speeds_kmh.front();
  permitted.looked_to_kmh = speeds_kmh.back();
  permitted.step_kmh = speeds_kmh.size() > 1 ? speeds_kmh[1] - speeds_kmh[0] : 0;
  permitted.criterion = "force-deviation";
  permitted.kind = RuleKind::force_deviation;
  permitted.pantograph = 2;
  permitted.text = "standard deviation 21.0 N, permitted 20.0 N";
  permitted.margin = 0.2;
  const int steps = static_cast<int>(speeds_kmh.back() - speeds_kmh.front());
  for (int i = 0; i <= steps; ++i) {
    const double speed = speeds_kmh.front() + i;
    if (margin_at(spacing_m, speed) < 0) {
      permitted.fails_at_kmh = speed;
      permitted.edge_error_kmh = 1;
      permitted.margin = -0.05;
      break;
    }
    permitted.speed_kmh = speed;
  }
  return permitted;
}

}  // namespace

EnvelopeReport sample_envelope(std::size_t spacings, std::size_t speeds) {
  EnvelopeReport report;
  Envelope& envelope = report.envelope;
  envelope.line_id = "T-140";
  envelope.line_name = "T-140, test line";
  envelope.pantograph_id = "t-1950";
  envelope.pantograph_name = "T 1950";
  envelope.invented = true;
  envelope.line_source = "a drawing of the test";
  envelope.supply = EnergySupply::ac_15kv;
  envelope.static_force_n = 70;
  envelope.knuckles = {Knuckle::leading, Knuckle::trailing};
  envelope.wave_speed_kmh = 418;
  for (std::size_t d = 0; d < spacings; ++d) {
    envelope.spacings_m.push_back(10 +
                                  190.0 * static_cast<double>(d) /
                                      static_cast<double>(std::max<std::size_t>(spacings, 2) - 1));
  }
  for (std::size_t v = 0; v < speeds; ++v) {
    envelope.speeds_kmh.push_back(60 +
                                  100.0 * static_cast<double>(v) /
                                      static_cast<double>(std::max<std::size_t>(speeds, 2) - 1));
  }
  for (const double spacing : envelope.spacings_m) {
    std::vector<EnvelopeCell> cells;
    for (const double speed : envelope.speeds_kmh) {
      cells.push_back(cell_at(spacing, speed));
    }
    envelope.cells.push_back(std::move(cells));
    envelope.permitted.push_back(permitted_at(spacing, envelope.speeds_kmh));
    const double speed = envelope.permitted.back().speed_kmh;
    envelope.samples.push_back({{speed + 2, speed - 6, speed - 1, speed}});
  }
  PermittedSpeed& nearest = envelope.permitted.front();
  if (nearest.fails_at_kmh) {
    nearest.hangs_on = HangsOn{.speed_kmh = *nearest.fails_at_kmh,
                               .pantograph = 2,
                               .is_loss = spacings == 1,
                               .figure = 21,
                               .inputs = {{"the tension of the contact wire", "±5 %", 19.5, 22.25},
                                          {"the static force", "±5 N", 20, 21}}};
  }
  envelope.published = {{DesignType::a, {{8, 80}, {20, 120}, {85, 160}}},
                        {DesignType::b, {{8, 80}, {15, 120}, {85, 160}}},
                        {DesignType::c, {{8, 80}, {15, 120}, {35, 160}}}};
  envelope.published_source = "a published table (from memory, to be confirmed)";
  envelope.tolerances = {"tension of each wire ±5 %"};
  envelope.seed = 1;
  envelope.criteria = {"force-deviation: The deviation is small. [a standard]"};
  envelope.not_judged = {"support-uplift: T-140 states no space for uplift at its supports."};
  report.inputs = {{"line", "t-140.toml"}, {"pantograph", "t-1950.toml"}};
  report.rule_books = {"practice"};
  report.program_version = "0.0.0";
  return report;
}

EnvelopeReport sample_envelope_of_one() {
  EnvelopeReport report = sample_envelope(1, 11);
  report.envelope.count = 1;
  report.envelope.spacings_m = {0};
  report.envelope.published.clear();
  report.envelope.samples.clear();
  report.envelope.tolerances.clear();
  report.envelope.supply.reset();
  return report;
}

EnvelopeReport varied_envelope() {
  EnvelopeReport report = sample_envelope(20, 11);
  Envelope& envelope = report.envelope;
  envelope.count = 3;
  for (double& speed : envelope.speeds_kmh) {
    speed += 40;
  }
  constexpr std::array kinds{RuleKind::mean_contact_force,  RuleKind::force_deviation,
                             RuleKind::statistical_maximum, RuleKind::statistical_minimum,
                             RuleKind::contact_loss,        RuleKind::support_uplift,
                             RuleKind::wave_speed_share,    RuleKind::speed_by_mechanics};
  for (std::size_t d = 0; d < envelope.permitted.size(); ++d) {
    PermittedSpeed& permitted = envelope.permitted[d];
    permitted.kind = kinds[d % kinds.size()];
    permitted.speed_kmh += 40;
    *permitted.fails_at_kmh += 40;
    permitted.looked_from_kmh += 40;
    permitted.looked_to_kmh += 40;
    std::vector<double>& samples = envelope.samples[d].permitted_speed_kmh;
    samples.clear();
    for (int i = 0; i < 12; ++i) {
      samples.push_back(permitted.speed_kmh - 3 * i);
    }
  }
  // No speed at all at the eighth distance, nor in one of its neighbour's samples.
  envelope.cells[7].assign(envelope.speeds_kmh.size(), envelope.cells[7].back());
  envelope.permitted[7].speed_kmh = 0;
  envelope.permitted[7].fails_at_kmh = 100;
  envelope.permitted[7].edge_error_kmh = 0;
  envelope.samples[7].permitted_speed_kmh.assign(12, 0);
  envelope.samples[8].permitted_speed_kmh.back() = 0;
  // Between 130 and 140 km/h, which pass.
  envelope.permitted[11].speed_kmh = 133;
  envelope.permitted[11].fails_at_kmh = 134;
  envelope.not_judged.emplace_back("mean-force-ac-fast: no system was named.");
  return report;
}

EnvelopeReport rough_envelope() {
  EnvelopeReport report = sample_envelope(60, 100);
  std::string words;
  while (words.size() < 600) {
    words += "Longname of a line ";
  }
  report.envelope.line_name = words;
  report.envelope.pantograph_name = words;
  report.envelope.not_judged.assign(4, words);
  return report;
}

}  // namespace panup
