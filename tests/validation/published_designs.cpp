/// Published designs of contact lines, in data/lines, with the uplift that is published for them.
/// Source: Adif NAE 300/301/302 (secondary: notes on them).
///
/// S0 is the uplift at the supports and fs that within the span, at the greatest speed and at rest.
/// With which pantograph they were found is not known to us. The space for uplift is reckoned with
/// the greatest mean contact force at the line's speed (Regulation (EU) No 1301/2014, from memory):
/// so ours is one pantograph on that curve. Asserted is that the files say what the sheets say. The
/// uplift is compared and not asserted, because the sheets leave open droppers, supports and
/// masses.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "agreement.h"
#include "dynamics/statics.h"
#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "reference.h"

namespace panup::validation {
namespace {

constexpr double longest_span_m = 60;
/// Density of copper, IEC 60028 (from memory).
constexpr double copper_kg_per_m_mm2 = 8.89e-3;
/// By which a computed uplift at a support may differ from a measured one: EN 50318 (from memory).
/// For uplift within the span we know of no such figure, and take the same.
constexpr double least_difference_mm = -10;
constexpr double greatest_difference_mm = 20;
/// So slow that nothing swings.
constexpr double crawl_kmh = 10;
constexpr std::array supports_n_per_m{stiff_messenger_support_n_per_m,
                                      soft_messenger_support_n_per_m};

/// The sheet: both contact wires are alike.
struct Sheet {
  const char* file;
  double messenger_kn;
  double contact_kn;  ///< of one wire
  double contact_mm2;
  double pre_sag_permille;
};

constexpr auto sheets = std::to_array<Sheet>({{"dc3kv-160-2x107", 13.97, 10.29, 107, 0.6},
                                              {"dc3kv-160-2x120", 13.97, 11.77, 120, 0.6},
                                              {"dc3kv-ac25kv-160-2x120", 13.97, 11.77, 120, 0.6},
                                              {"dc3kv-ac25kv-200-2x120", 16.17, 14.70, 120, 0.5},
                                              {"dc3kv-220-2x150", 24.28, 18.39, 150, 0.5}});

struct PublishedUplift {
  const char* file;
  EnergySupply supply;
  double speed_kmh;
  double at_supports_mm;
  double in_span_mm;
  double in_span_at_rest_mm;
};

constexpr auto published = std::to_array<PublishedUplift>(
    {{"dc3kv-160-2x107", EnergySupply::dc_3kv, 160, 67, 98, 85},
     {"dc3kv-160-2x120", EnergySupply::dc_3kv, 160, 61, 89, 80},
     {"dc3kv-ac25kv-160-2x120", EnergySupply::dc_3kv, 160, 60, 91, 72},
     {"dc3kv-ac25kv-160-2x120", EnergySupply::ac_25kv, 160, 34, 55, 36},
     {"dc3kv-ac25kv-200-2x120", EnergySupply::dc_3kv, 200, 55, 68, 47},
     {"dc3kv-ac25kv-200-2x120", EnergySupply::ac_25kv, 200, 35, 48, 40},
     {"dc3kv-220-2x150", EnergySupply::dc_3kv, 220, 41, 42, 30}});

ContactLine line_of(const char* file) {
  Diagnostics diagnostics;
  auto line =
      read_contact_line_file(fmt::format(PANUP_DATA_FOLDER "/lines/{}.toml", file), diagnostics);
  if (!line) {
    throw std::logic_error(diagnostics.front().text);
  }
  return std::move(*line);
}

PantographModel pantograph() {
  Diagnostics diagnostics;
  auto model = read_pantograph_model_file(
      PANUP_DATA_FOLDER "/pantographs/reference-mean-force.toml", diagnostics);
  if (!model) {
    throw std::logic_error(diagnostics.front().text);
  }
  return std::move(*model);
}

StaticState at_rest(const ContactLine& line) {
  auto state = static_state(line, {.temperature_c = line.reference_temperature_c}, 21, true);
  if (auto* refusals = std::get_if<std::vector<Sentence>>(&state)) {
    throw std::logic_error(refusals->front().said());
  }
  return std::get<StaticState>(std::move(state));
}

/// In the middle of the line's middle span.
double midspan_elasticity(const ContactLine& line) {
  const StaticState state = at_rest(line);
  return state.points[line.spans.size() / 2 * 20 + 10].elasticity_mm_per_n;
}

double tension_kn(const Sheet& sheet) { return sheet.messenger_kn + 2 * sheet.contact_kn; }

const Sheet& sheet_of(const char* file) {
  for (const Sheet& sheet : sheets) {
    if (std::string_view(sheet.file) == file) {
      return sheet;
    }
  }
  throw std::logic_error(file);
}

void add_rows(Agreement& agreement, const Sheet& sheet) {
  const ContactLine line = line_of(sheet.file);
  const StaticState state = at_rest(line);
  agreement.rows.push_back(figure(fmt::format("{}: tension of all wires", line.id), "kN",
                                  (state.contact_tension_n + state.messenger_tension_n) / 1000,
                                  tension_kn(sheet), 1e-9));
  agreement.rows.push_back(figure(fmt::format("{}: pre-sag as built", line.id), "mm",
                                  1000 * state.built_sag_m[line.spans.size() / 2],
                                  sheet.pre_sag_permille * longest_span_m, 0.1));
  const double wave_kmh =
      3.6 * std::sqrt(1000 * sheet.contact_kn / (sheet.contact_mm2 * copper_kg_per_m_mm2));
  agreement.rows.push_back(figure(fmt::format("{}: wave speed", line.id), "km/h",
                                  3.6 * wave_speed(combined_contact_wire(line)), wave_kmh,
                                  1e-3 * wave_kmh));
}

/// What is published, and ours with stiff and with soft messenger supports.
struct Uplift {
  double published_mm = 0;
  std::array<double, 2> ours_mm{};

  bool is_near(std::size_t supports) const {
    const double difference = ours_mm[supports] - published_mm;
    return difference >= least_difference_mm && difference <= greatest_difference_mm;
  }
};

struct Uplifts {
  Uplift at_supports;
  Uplift in_span;
  Uplift in_span_at_rest;
};

SimulationRequest request_on(const ContactLine& line, const PantographModel& model,
                             EnergySupply supply, double speed_kmh) {
  SimulationRequest request;
  request.line = &line;
  request.speed_kmh = speed_kmh;
  request.pantographs.push_back({model, static_force_of(model, supply).value()});
  request.settings.balance_energy = false;
  return request;
}

/// For each that is published, four runs side by side.
std::vector<Uplifts> computed_uplifts(const PantographModel& model) {
  std::vector<ContactLine> lines;
  for (const PublishedUplift& theirs : published) {
    for (const double n_per_m : supports_n_per_m) {
      lines.push_back(with_messenger_stiffness(line_of(theirs.file), n_per_m));
      lines.push_back(lines.back());
      lines.back().spans.resize(10);
      lines.back().supports.resize(11);
    }
  }
  std::vector<SimulationRequest> requests;
  for (std::size_t i = 0; i < lines.size(); i += 2) {
    const PublishedUplift& theirs = published[i / 4];
    requests.push_back(request_on(lines[i], model, theirs.supply, theirs.speed_kmh));
    requests.push_back(request_on(lines[i + 1], model, theirs.supply, crawl_kmh));
    requests.back().settings.from_m = 4 * longest_span_m;
    requests.back().settings.to_m = 5 * longest_span_m;
  }
  const std::vector<SimulationOutcome> outcomes = simulate_all(requests, 0);
  std::vector<Uplifts> all;
  for (std::size_t i = 0; i < outcomes.size(); i += 4) {
    const PublishedUplift& theirs = published[i / 4];
    Uplifts uplifts{
        {theirs.at_supports_mm, {}}, {theirs.in_span_mm, {}}, {theirs.in_span_at_rest_mm, {}}};
    for (const std::size_t supports : {0U, 1U}) {
      const SimulationOutcome& fast = outcomes[i + 2 * supports];
      const SimulationOutcome& slow = outcomes[i + 2 * supports + 1];
      for (const SimulationOutcome* outcome : {&fast, &slow}) {
        if (!outcome->result) {
          throw std::logic_error(outcome->refusals.front().said());
        }
      }
      uplifts.at_supports.ours_mm[supports] = fast.result->max_support_uplift_mm;
      uplifts.in_span.ours_mm[supports] = fast.result->max_span_uplift_mm;
      uplifts.in_span_at_rest.ours_mm[supports] = slow.result->max_span_uplift_mm;
    }
    all.push_back(uplifts);
  }
  return all;
}

std::string judged(const Uplift& uplift) {
  const bool stiff = uplift.is_near(0);
  const bool soft = uplift.is_near(1);
  return stiff && soft ? "within"
         : stiff       ? "with 500 kN/m alone"
         : soft        ? "with 50 kN/m alone"
                       : "**outside**";
}

void add_row(Table& table, const PublishedUplift& theirs, double speed_kmh, const Uplift& uplift) {
  table.rows.push_back({theirs.file, std::string(name_of(theirs.supply)),
                        fmt::format("{:g}", speed_kmh), fmt::format("{:g}", uplift.published_mm),
                        fmt::format("{:.1f}", uplift.ours_mm[0]),
                        fmt::format("{:.1f}", uplift.ours_mm[1]),
                        fmt::format("{:.1f}, {:.1f}", uplift.ours_mm[0] - uplift.published_mm,
                                    uplift.ours_mm[1] - uplift.published_mm),
                        judged(uplift)});
}

double published_elasticity(const PantographModel& model, const PublishedUplift& theirs) {
  return theirs.in_span_at_rest_mm / static_force_of(model, theirs.supply).value();
}

struct Elasticities {
  double least = 0;
  double greatest = 0;
};

/// Of the designs of 2 × 120 mm² for 160 km/h, which have the same wires, tensions and pre-sag.
Elasticities published_for_like_designs(const PantographModel& model) {
  std::vector<double> all;
  for (const PublishedUplift& theirs : published) {
    if (std::string_view(theirs.file).ends_with("160-2x120")) {
      all.push_back(published_elasticity(model, theirs));
    }
  }
  return {std::ranges::min(all), std::ranges::max(all)};
}

/// The published uplift at rest as an elasticity, beside ours.
Table elasticities(const PantographModel& model) {
  Table table{
      "The published uplift within the span at rest over the static force, beside our elasticity "
      "in midspan under a small force (500 kN/m), which is the same on either system; k = span / "
      "(elasticity × tension of all wires), about 3.5 to 4 in handbooks (from memory)",
      {"design", "system", "published, mm/N", "ours, mm/N", "k published", "k ours"},
      {}};
  for (const PublishedUplift& theirs : published) {
    const double tension_n = 1000 * tension_kn(sheet_of(theirs.file));
    const double published_mm_per_n = published_elasticity(model, theirs);
    const double ours_mm_per_n = midspan_elasticity(
        with_messenger_stiffness(line_of(theirs.file), stiff_messenger_support_n_per_m));
    const auto k = [&](double mm_per_n) {
      return fmt::format("{:.2f}", 1000 * longest_span_m / (mm_per_n * tension_n));
    };
    table.rows.push_back({theirs.file, std::string(name_of(theirs.supply)),
                          fmt::format("{:.3f}", published_mm_per_n),
                          fmt::format("{:.3f}", ours_mm_per_n), k(published_mm_per_n),
                          k(ours_mm_per_n)});
  }
  return table;
}

}  // namespace

Agreement published_designs() {
  Agreement agreement;
  agreement.title = "Published designs of contact lines";
  agreement.source = "Adif NAE 300/301/302 (secondary source: notes on them)";
  for (const Sheet& sheet : sheets) {
    add_rows(agreement, sheet);
  }
  const std::vector<std::string> heads{"design",
                                       "system",
                                       "km/h",
                                       "published, mm",
                                       "ours, 500 kN/m, mm",
                                       "50 kN/m, mm",
                                       "ours less published, mm",
                                       "in range"};
  const PantographModel model = pantograph();
  Table at_supports{
      "Greatest uplift at a support (S0) at the greatest speed, with messenger supports of 500 and "
      "of 50 kN/m; range: −10 to +20 mm",
      heads,
      {}};
  Table in_span{
      "Greatest uplift within the span (fs) in the same runs; range: the same, ours", heads, {}};
  Table at_rest{fmt::format("Greatest uplift within the span (fs) at rest, ours at {:g} km/h with "
                            "droppers slackening; range: the same, ours",
                            crawl_kmh),
                heads,
                {}};
  int near = 0;
  int near_with_one = 0;
  int far = 0;
  const std::vector<Uplifts> all = computed_uplifts(model);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const PublishedUplift& theirs = published[i];
    add_row(at_supports, theirs, theirs.speed_kmh, all[i].at_supports);
    add_row(in_span, theirs, theirs.speed_kmh, all[i].in_span);
    add_row(at_rest, theirs, 0, all[i].in_span_at_rest);
    for (const Uplift* uplift : {&all[i].at_supports, &all[i].in_span, &all[i].in_span_at_rest}) {
      const bool stiff = uplift->is_near(0);
      const bool soft = uplift->is_near(1);
      ++(stiff && soft ? near : stiff || soft ? near_with_one : far);
    }
  }
  const Elasticities alike = published_for_like_designs(model);
  agreement.statement = fmt::format(
      "Five published designs with twin contact wires, in data/lines. Asserted is that the files "
      "say what the sheets say: tensions, pre-sag, and the wave speed that follows from tension, "
      "area and the density of copper. Uplift is compared and not asserted: the sheets do not say "
      "with which pantograph it was found, how far the supports give way, nor, but for the last "
      "one, how the droppers stand. Ours is that of one pantograph with a mean contact force of "
      "110 N on DC 3 kV, 70 N on AC, and 0.00097 v² (data/pantographs/reference-mean-force.toml). "
      "The range is what EN 50318 (from memory) asks of a computed uplift at a support against a "
      "measured one, −10 to +20 mm; for uplift within the span we know of none, and take the same. "
      "Of {} published figures ours are in range for {}, for {} with one of the two supports, and "
      "outside for {}. No figure of ours was fitted. What is published does not follow from the "
      "stated wires and forces alone: with wires of 2 × 120 mm² at the same tensions and pre-sag "
      "the last table has published elasticities of {:.2f} to {:.2f} mm/N.",
      near + near_with_one + far, near, near_with_one, far, alike.least, alike.greatest);
  agreement.tables = {std::move(at_supports), std::move(in_span), std::move(at_rest),
                      elasticities(model)};
  return agreement;
}

}  // namespace panup::validation
