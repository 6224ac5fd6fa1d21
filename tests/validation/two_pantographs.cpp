/// Two pantographs on a conventional line.
/// Source: seen with independent solvers; no published source. Reference spans and droppers,
/// contact wire 10 kN and 0.89 kg/m, messenger wire 10 kN and 0.60 kg/m, reference pantographs
/// pressed with 70 N + 0.00047 v².

#include <fmt/format.h>

#include "agreement.h"
#include "reference.h"

namespace panup::validation {
namespace {

ContactLine conventional_line() {
  ContactLine line = reference_line(24);
  line.contact_wire.tension_n = 10000;
  line.contact_wire.mass_kg_per_m = 0.89;
  line.messenger_wire.tension_n = 10000;
  line.messenger_wire.mass_kg_per_m = 0.60;
  return line;
}

SimulationResult run(const ContactLine& line, double speed_kmh, const std::vector<double>& behind) {
  return result_of(
      reference_request(line, speed_kmh, 70 + 0.00047 * speed_kmh * speed_kmh, behind));
}

/// σ of the trailing pantograph over its distance from the first.
Picture over_distance(const ContactLine& line) {
  Picture picture;
  picture.name = "two-pantographs";
  picture.caption =
      "Standard deviation of the trailing one of two pantographs over their distance.";
  Diagram& diagram = picture.diagram;
  diagram.heading = "Trailing one of two, conventional line; thick: 180 km/h, thin: 140 km/h";
  diagram.x_name = "distance, m";
  diagram.y_name = "standard deviation of contact force, N";
  diagram.x_from = 8;
  diagram.x_to = 100;
  for (const double speed_kmh : {140.0, 180.0}) {
    std::vector<SimulationRequest> requests;
    const double force_n = 70 + 0.00047 * speed_kmh * speed_kmh;
    requests.push_back(reference_request(line, speed_kmh, force_n, {}));
    for (double apart_m = diagram.x_from; apart_m <= diagram.x_to; apart_m += 2) {
      requests.push_back(reference_request(line, speed_kmh, force_n, {apart_m}));
    }
    const std::vector<SimulationOutcome> outcomes = simulate_all(requests, 0);
    DiagramCurve curve{{}, {speed_kmh > 150 ? 1.1 : 0.5}};
    for (std::size_t i = 1; i < outcomes.size(); ++i) {
      curve.points.push_back(
          {requests[i].pantographs[1].behind_first_m, outcomes[i].result->pantographs[1].std_n});
    }
    diagram.curves.push_back(std::move(curve));
    const double alone = outcomes[0].result->pantographs[0].std_n;
    diagram.levels.push_back({alone, fmt::format("alone, {:g} km/h", speed_kmh)});
  }
  return picture;
}

}  // namespace

Agreement two_pantographs_without_picture() {
  Agreement agreement;
  agreement.title = "Two pantographs on a conventional line";
  agreement.statement =
      "At 12 m the trailing pantograph's standard deviation is above that of one alone by half at "
      "140 km/h "
      "and by two thirds at 180 km/h; some per cent of contact loss appear at 180 km/h at 8 to 12 "
      "m, and "
      "none for one alone; uplift at supports about doubles. Far apart and slow, each runs as one "
      "alone on a line with light damping, as real ones have; a line without any does not come to "
      "rest "
      "behind a pantograph.";
  agreement.source = "seen with independent solvers; no published source";
  const ContactLine line = conventional_line();
  Table table{"The trailing one of two, and one alone",
              {"km/h", "m apart", "σ alone, N", "σ trailing, N", "ratio", "loss alone, %",
               "loss trailing, %", "uplift alone, mm", "uplift of two, mm"},
              {}};
  const auto add = [&](std::string what, std::string unit, double ours, double least,
                       double greatest) {
    agreement.rows.push_back({std::move(what), std::move(unit), ours, least, greatest, 0});
  };
  for (const double speed_kmh : {140.0, 180.0}) {
    const SimulationResult alone = run(line, speed_kmh, {});
    for (const double apart_m : {8.0, 12.0, 20.0, 40.0, 85.0, 200.0}) {
      const SimulationResult two = run(line, speed_kmh, {apart_m});
      const PantographRun& one = alone.pantographs[0];
      const PantographRun& trailing = two.pantographs[1];
      const double ratio = trailing.std_n / one.std_n;
      const double lifted = two.max_support_uplift_mm / alone.max_support_uplift_mm;
      table.rows.push_back({fmt::format("{:g}", speed_kmh), fmt::format("{:g}", apart_m),
                            fmt::format("{:.1f}", one.std_n), fmt::format("{:.1f}", trailing.std_n),
                            fmt::format("{:.2f}", ratio),
                            fmt::format("{:.2f}", one.contact_loss_percent),
                            fmt::format("{:.2f}", trailing.contact_loss_percent),
                            fmt::format("{:.0f}", alone.max_support_uplift_mm),
                            fmt::format("{:.0f}", two.max_support_uplift_mm)});
      const std::string where = fmt::format(" at {:g} m, {:g} km/h", apart_m, speed_kmh);
      if (apart_m == 12) {
        const double theirs = speed_kmh == 140 ? 1.5 : 1.0 + 2.0 / 3;
        add("trailing σ over σ alone" + where, "1", ratio, theirs - 0.15, theirs + 0.15);
        add("uplift at supports, of two over one" + where, "1", lifted, 1.6, 2.4);
      }
      if (apart_m <= 12 && speed_kmh == 180) {
        add("contact loss of the trailing one" + where, "%", trailing.contact_loss_percent, 1, 20);
      }
    }
    add(fmt::format("contact loss of one alone at {:g} km/h", speed_kmh), "%",
        alone.pantographs[0].contact_loss_percent, 0, 0);
  }
  agreement.tables.push_back(std::move(table));
  // Without damping a line never comes to rest behind a pantograph; real ones do.
  ContactLine damped = line;
  damped.mass_damping_per_s = 0.0125;
  damped.stiffness_damping_s = 1e-4;
  Table far{"Each of two, 200 m apart, over one alone at 40 km/h: σ",
            {"damping", "front", "trailing"},
            {}};
  for (const ContactLine* on : {&line, static_cast<const ContactLine*>(&damped)}) {
    const SimulationResult alone = run(*on, 40, {});
    const SimulationResult two = run(*on, 40, {200});
    std::vector<std::string> cells{on == &line ? "none" : "α 0.0125 /s, β 0.0001 s"};
    for (const PantographRun& one : two.pantographs) {
      const double ratio = one.std_n / alone.pantographs[0].std_n;
      cells.push_back(fmt::format("{:.3f}", ratio));
      if (on == &damped) {
        add(fmt::format("σ over σ alone at 200 m, 40 km/h, light damping, the one {:g} m behind",
                        one.position_m),
            "1", ratio, 0.93, 1.07);
      }
    }
    far.rows.push_back(std::move(cells));
  }
  agreement.tables.push_back(std::move(far));
  return agreement;
}

Agreement two_pantographs() {
  Agreement agreement = two_pantographs_without_picture();
  agreement.pictures.push_back(over_distance(conventional_line()));
  return agreement;
}

}  // namespace panup::validation
