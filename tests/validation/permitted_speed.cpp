/// The permitted speed against a scan that leaves out no whole km/h.
/// Source: the definition of the permitted speed, the greatest below which every speed passes,
/// applied by brute force.

#include "quality/permitted_speed.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

#include "agreement.h"
#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"
#include "files/read_rule_book.h"
#include "quality/scan_rounds.h"
#include "quality/support_cases.h"
#include "rules/rule_book.h"

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

/// The last of the whole speeds before the first that fails; all pass: the greatest. Each is run in
/// the step of the rule book.
double by_brute_force(const SpeedQuestion& question, const RuleBook& rules, double from_kmh,
                      const RunSource& runs) {
  EvaluatedLines lines(5);
  CoarseRunsByLine not_asked;
  constexpr double at_once = 16;
  double last = 0;
  for (double from = from_kmh; from <= question.to_kmh; from += at_once) {
    std::vector<AskedSpeed> asked;
    for (double speed = from; speed < from + at_once && speed <= question.to_kmh; ++speed) {
      asked.push_back({&question, speed, true});
    }
    const auto judgements = judge_speeds({rules, lines, runs, not_asked}, asked);
    for (std::size_t i = 0; i < asked.size(); ++i) {
      if (!(*judgements)[i].passes) {
        return last;
      }
      last = asked[i].speed_kmh;
    }
  }
  return last;
}

/// The scan of the rule book with every run in the step of the rule book.
double by_scan_in_rule_step(const SpeedQuestion& question, const RuleBook& rules,
                            const RunSource& runs) {
  EvaluatedLines lines(5);
  CoarseRunsByLine not_asked;
  SpeedScan scan(scan_settings(mechanics_rule(rules), question.to_kmh));
  while (true) {
    std::vector<AskedSpeed> asked;
    for (const double speed : scan.wanted()) {
      asked.push_back({&question, speed, true});
    }
    if (asked.empty()) {
      return scan.result().speed_kmh;
    }
    auto judgements = *judge_speeds({rules, lines, runs, not_asked}, asked);
    for (std::size_t i = 0; i < asked.size(); ++i) {
      scan.add(asked[i].speed_kmh, std::move(judgements[i]));
    }
  }
}

struct Counted {
  std::size_t runs = 0;
  std::size_t in_rule_step = 0;
};

RunSource counting(Counted& counted, double rule_step_s) {
  return [&counted, rule_step_s, computed = computed_runs(0)](const auto& requests) {
    counted.runs += requests.size();
    counted.in_rule_step += static_cast<std::size_t>(
        std::ranges::count_if(requests, [&](const SimulationRequest& request) {
          return !request.settings.step_s || *request.settings.step_s <= rule_step_s;
        }));
    return computed(requests);
  };
}

/// Draws figures from 0 to 1, the same on every machine.
class Drawn {
 public:
  explicit Drawn(unsigned seed) : random_(seed) {}
  double between(double least, double greatest) {
    return least + (greatest - least) * static_cast<double>(random_()) /
                       static_cast<double>(std::mt19937::max());
  }
  int whole(int least, int greatest) {
    return static_cast<int>(std::floor(between(least, greatest + 0.999)));
  }

 private:
  std::mt19937 random_;
};

/// A line of equal spans, as lines for 100 to 250 km/h may be.
ContactLine drawn_line(Drawn& drawn) {
  ContactLine line;
  line.id = "drawn";
  line.invented = true;
  line.contact_wire.tension_n = drawn.between(9000, 24000);
  line.contact_wire.mass_kg_per_m = drawn.between(0.9, 1.35);
  line.messenger_wire.tension_n = drawn.between(8000, 18000);
  line.messenger_wire.mass_kg_per_m = drawn.between(0.6, 1.1);
  if (drawn.whole(0, 1) == 1) {
    line.contact_wire.bending_stiffness_nm2 = drawn.between(50, 190);
    line.messenger_wire.bending_stiffness_nm2 = drawn.between(20, 130);
  }
  line.mass_damping_per_s = drawn.between(0, 0.1);
  line.stiffness_damping_s = drawn.whole(0, 1) * drawn.between(0, 0.0005);
  Span span;
  span.length_m = drawn.between(42, 63);
  const int droppers = drawn.whole(5, 9);
  for (int i = 0; i < droppers; ++i) {
    span.droppers.push_back({.at_m = span.length_m * (i + 0.5) / droppers,
                             .stiffness_n_per_m = 100000,
                             .mass_on_contact_wire_kg = 0.2,
                             .mass_on_messenger_kg = 0.2});
  }
  Support support;
  support.encumbrance_m = drawn.between(1.1, 1.7);
  support.messenger_stiffness_n_per_m = drawn.between(50000, 500000);
  support.steady_arm_mass_kg = drawn.between(0, 1);
  constexpr int spans = 24;
  line.spans.assign(spans, span);
  line.supports.assign(spans + 1, support);
  return line;
}

/// `one_of`: 1 for all cases, 4 for each fourth of them.
/// In part: two of the lines of the demo at one distance, and two of the drawn ones.
Agreement compared(bool in_part) {
  Agreement agreement;
  agreement.title = "Permitted speed against every whole km/h";
  agreement.statement =
      "The scan of the rule book goes in steps of 20 km/h, which are halved where margins are "
      "small, and asks a run in a longer step first. It finds the same speed as every whole km/h "
      "from 60 to 240, each run in the step of the rule book, on four lines at four distances "
      "that are asked together. On twenty lines that are drawn at random, with one to three "
      "pantographs, it finds the same as the same scan with every run in the step of the rule "
      "book. Either may jump a failing band with flanks steeper than the rule book allows for.";
  agreement.source = "the definition of the permitted speed, applied by brute force";
  const std::vector<Case> cases{
      {"lines/conventional-reference.toml", "demo/pantographs/ur-1950.toml", EnergySupply::ac_15kv,
       24},
      {"demo/lines/nv-140.toml", "demo/pantographs/hr-1950.toml", EnergySupply::ac_15kv, 12},
      {"demo/lines/ca-250.toml", "demo/pantographs/cr-1600.toml", EnergySupply::ac_25kv, 32},
      {"demo/lines/cd-140.toml", "demo/pantographs/cr-1600.toml", EnergySupply::dc_3kv, 18}};
  const RuleBook rules = built_in_rule_book();
  const double rule_step_s = *number_of(mechanics_rule(rules), "step_ms") / 1000;
  Table table{"Runs that it took",
              {"line", "questions", "scan", "of these in the rule's step", "to compare with"},
              {}};
  const auto compare = [&](const std::vector<SpeedQuestion>& questions, const std::string& name,
                           const auto& otherwise) {
    Counted of_scan;
    const std::vector<PermittedSpeed> ours =
        *permitted_speeds(questions, rules, counting(of_scan, rule_step_s));
    Counted of_other;
    const RunSource runs = counting(of_other, rule_step_s);
    for (std::size_t i = 0; i < questions.size(); ++i) {
      // A line that does not state its supports is judged with the worse of two.
      SupportCases supports;
      double theirs = questions[i].to_kmh;
      for (const ContactLine* const each : supports.of(*questions[i].line)) {
        SpeedQuestion question = questions[i];
        question.line = each;
        theirs = std::min(theirs, otherwise(question, runs));
      }
      agreement.rows.push_back(figure(
          fmt::format("{}, {} pantographs over {:.0f} m, {}", name, questions[i].pantographs.size(),
                      questions[i].pantographs.back().behind_first_m, ours[i].criterion),
          "km/h", ours[i].speed_kmh, theirs, 0));
    }
    table.rows.push_back({name, std::to_string(questions.size()), std::to_string(of_scan.runs),
                          std::to_string(of_scan.in_rule_step), std::to_string(of_other.runs)});
  };
  for (std::size_t at = in_part ? 1 : 0; at < cases.size(); at += in_part ? 2 : 1) {
    const Case& one = cases[at];
    const auto line = read<ContactLine>(one.line, read_contact_line_file);
    const auto model = read<PantographModel>(one.pantograph, read_pantograph_model_file);
    std::vector<SpeedQuestion> questions;
    for (const double more_m : {0.0, 25.0, 50.0, 60.0}) {
      if (in_part && more_m > 0) {
        continue;
      }
      Case with = one;
      with.distance_m += more_m;
      questions.push_back(question_of(with, line, model));
    }
    compare(questions, line.id, [&](const SpeedQuestion& question, const RunSource& runs) {
      return by_brute_force(question, rules, 60, runs);
    });
  }
  const auto model =
      read<PantographModel>("demo/pantographs/ur-1950.toml", read_pantograph_model_file);
  const unsigned one_of = in_part ? 8 : 1;
  for (unsigned seed = one_of; seed <= 20; seed += one_of) {
    Drawn drawn(seed);
    const ContactLine line = drawn_line(drawn);
    const int pantographs = drawn.whole(1, 3);
    SpeedQuestion question =
        question_of({"", "", EnergySupply::ac_15kv, drawn.between(10, 90)}, line, model);
    question.pantographs.resize(static_cast<std::size_t>(std::min(pantographs, 2)));
    if (pantographs == 3) {
      question.pantographs.push_back(question.pantographs.back());
      question.pantographs.back().behind_first_m *= 2;
    }
    compare({question}, fmt::format("drawn line {}", seed),
            [&](const SpeedQuestion& asked, const RunSource& runs) {
              return by_scan_in_rule_step(asked, rules, runs);
            });
  }
  // How many runs it took is told of all cases only.
  if (!in_part) {
    agreement.tables.push_back(std::move(table));
  }
  return agreement;
}

}  // namespace

Agreement permitted_speed() { return compared(false); }

Agreement permitted_speed_in_part() { return compared(true); }

}  // namespace panup::validation
