/// The permitted speed against a scan that leaves out no whole km/h.
/// Source: the definition of the permitted speed, the greatest below which every speed passes,
/// applied by brute force.

#include "quality/permitted_speed.h"

#include <fmt/format.h>

#include <stdexcept>

#include "agreement.h"
#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "files/read_rule_book.h"
#include "quality/scan_rounds.h"

namespace panup::validation {
namespace {

struct Case {
  std::string line;
  std::string pantograph;
  EnergySupply supply{};
  double distance_m = 0;
};

template <typename Data, typename Read>
Data read(const std::string& path, const Read& read_file) {
  Diagnostics diagnostics;
  auto data = read_file(std::string(PANUP_DATA_FOLDER "/") + path, diagnostics, files_on_disk());
  if (!data) {
    throw std::runtime_error(to_line(diagnostics.front()));
  }
  return std::move(*data);
}

SpeedQuestion question_of(const Case& of, const ContactLine& line, const PantographModel& model) {
  const double force_n = static_force_of(model, of.supply).value();
  SpeedQuestion question;
  question.line = &line;
  question.supply = of.supply;
  for (const double behind_m : {0.0, of.distance_m}) {
    question.pantographs.push_back({.model = model,
                                    .static_force_n = force_n,
                                    .knuckle = Knuckle::trailing,
                                    .behind_first_m = behind_m});
  }
  question.to_kmh = 240;
  return question;
}

/// The last of the whole speeds before the first that fails, all of them run; all pass: the last.
double by_brute_force(const SpeedQuestion& question, const RuleBook& rules, double from_kmh,
                      const RunSource& runs) {
  EvaluatedLines lines(5);
  std::vector<AskedSpeed> asked;
  for (double speed = from_kmh; speed <= question.to_kmh; ++speed) {
    asked.push_back({&question, speed});
  }
  const auto judgements = judge_speeds({rules, lines, runs}, asked);
  double last = 0;
  for (std::size_t i = 0; i < asked.size() && (*judgements)[i].passes; ++i) {
    last = asked[i].speed_kmh;
  }
  return last;
}

}  // namespace

Agreement permitted_speed() {
  Agreement agreement;
  agreement.title = "Permitted speed against every whole km/h";
  agreement.statement =
      "The scan of the rule book, in steps of 20 km/h that are halved where margins are small, "
      "finds "
      "the same speed as a scan of every whole km/h from 60 to 240, on three lines with two "
      "pantographs.";
  agreement.source = "the definition of the permitted speed, applied by brute force";
  const std::vector<Case> cases{
      {"lines/conventional-reference.toml", "demo/pantographs/ur-1950.toml", EnergySupply::ac_15kv,
       24},
      {"demo/lines/ca-250.toml", "demo/pantographs/cr-1600.toml", EnergySupply::ac_25kv, 32},
      {"demo/lines/cd-140.toml", "demo/pantographs/cr-1600.toml", EnergySupply::dc_3kv, 18}};
  const RuleBook rules = built_in_rule_book();
  Table table{"Runs that it took", {"line", "m apart", "scan", "every whole km/h"}, {}};
  for (const Case& one : cases) {
    const auto line = read<ContactLine>(one.line, read_contact_line_file);
    const auto model = read<PantographModel>(one.pantograph, read_pantograph_model_file);
    const SpeedQuestion question = question_of(one, line, model);
    std::size_t count = 0;
    const RunSource runs = [&count, computed = computed_runs(0)](const auto& requests) {
      count += requests.size();
      return computed(requests);
    };
    const PermittedSpeed ours = permitted_speeds({question}, rules, runs)->front();
    const std::size_t of_scan = count;
    const double theirs = by_brute_force(question, rules, ours.looked_from_kmh, runs);
    agreement.rows.push_back(
        figure(fmt::format("{}, {:g} m apart, {}", line.id, one.distance_m, ours.criterion), "km/h",
               ours.speed_kmh, theirs, 0));
    table.rows.push_back({line.id, fmt::format("{:g}", one.distance_m), std::to_string(of_scan),
                          std::to_string(count - of_scan)});
  }
  agreement.tables.push_back(std::move(table));
  return agreement;
}

}  // namespace panup::validation
