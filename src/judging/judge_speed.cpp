/// Speeds that do not come from spacing.

#include <algorithm>
#include <cmath>

#include "judging/deciding_values.h"
#include "judging/judge_parts.h"

namespace panup {

namespace {

struct NamedSpeed {
  double kmh = std::numeric_limits<double>::infinity();
  std::string whose;
  ValueOf of{};
  std::string_view id;
  const Provenance* provenance = nullptr;

  void lower_to(const NamedSpeed& other) { *this = other.kmh < kmh ? other : *this; }

  DecidingValue value(const Words& words) const {
    return {.of = of,
            .id = std::string(id),
            .key = "highest_speed_kmh",
            .source = source_words(*provenance, "highest_speed_kmh", words)};
  }
};

NamedSpeed slowest_of(const Train& train, const Words& words) {
  NamedSpeed slowest;
  if (train.highest_speed_kmh) {
    slowest.lower_to({.kmh = *train.highest_speed_kmh,
                      .whose = words.say("the train"),
                      .of = ValueOf::train,
                      .id = train.id,
                      .provenance = &train.provenance});
  }
  for (const ConsistItem& item : train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      const VehicleType& type = *vehicle->type;
      slowest.lower_to({.kmh = type.highest_speed_kmh,
                        .whose = type.name,
                        .of = ValueOf::vehicle_type,
                        .id = type.id,
                        .provenance = &type.provenance});
    } else if (const auto& load = std::get<LoadGroup>(item); load.highest_speed_kmh) {
      slowest.lower_to({.kmh = *load.highest_speed_kmh,
                        .whose = load.name,
                        .of = ValueOf::load,
                        .id = load.name,
                        .provenance = &load.provenance});
    }
  }
  return slowest;
}

/// The loads of which nobody says how fast they may run: a speed of the whole train is one of its
/// loads too.
std::vector<std::string> loads_without_speed(const Train& train) {
  std::vector<std::string> names;
  for (const ConsistItem& item : train.consist) {
    const auto* const load = std::get_if<LoadGroup>(&item);
    if (load != nullptr && !load->highest_speed_kmh && !train.highest_speed_kmh) {
      names.push_back("\"" + load->name + "\"");
    }
  }
  return names;
}

/// A load whose speed is not stated: the rule book's speed for such a one, or else it is said that
/// none was kept to.
void judge_loads_without_speed(const Rule& rule, const Train& train, Opinion& opinion) {
  const std::vector<std::string> names = loads_without_speed(train);
  if (names.empty()) {
    return;
  }
  if (const auto kmh = number_of(rule, "load_not_stated_kmh")) {
    opinion.limit(
        rule, *kmh,
        [&] {
          return LimitWords{
              opinion.words.say("Highest speed of load {} is not stated: {:g} km/h by the "
                                "rule book",
                                opinion.words.listed(names), *kmh)};
        },
        true);
    return;
  }
  opinion.say(rule, Strength::last_resort, [&] {
    return opinion.words.say(
        "Highest speed of load {} is not stated, and the rule book names none for such a load: the "
        "speeds of this plan do not allow for it. The train must not run before somebody who "
        "answers for the load has stated it.",
        opinion.words.listed(names));
  });
}

struct PressingPantograph {
  const PlacedPantograph& placed;
  std::string section_id;
  ContactForceLimit permitted;
  double static_n = 0;
  double greatest_kmh = 0;
};

std::vector<DecidingValue> values_of_force(const PressingPantograph& one, const Words& words) {
  const PantographType& type = *one.placed.type;
  std::vector<DecidingValue> values{
      {.of = ValueOf::section, .id = one.section_id, .key = "greatest_contact_force"},
      value_of(type, "supply", words)};
  if (type.aerodynamic_n_per_kmh2) {
    values.push_back(value_of(type, "aerodynamic_n_per_kmh2", words));
  }
  return values;
}

/// What is said of a force that is permitted, or not known.
void note_force(const PressingPantograph& one, const Rule& rule, Opinion& opinion) {
  const Words& words = opinion.words;
  const double permitted_n = one.permitted.at(one.greatest_kmh);
  const auto& growth = one.placed.type->aerodynamic_n_per_kmh2;
  if (!growth) {
    opinion.say(rule, Strength::note, [&] {
      return FindingWords(
          words.say("How hard {} presses at speed is not stated; the section permits a mean of "
                    "{:.0f} N at {:g} km/h. Look it up before the train runs.",
                    to_string(one.placed.ref), permitted_n, one.greatest_kmh),
          values_of_force(one, words));
    });
  } else if (one.permitted.square_n_per_kmh2 == 0) {
    opinion.say(rule, Strength::note, [&] {
      return FindingWords(
          words.say("The section permits no contact force above {:.0f} N. {} presses {:.0f} N on "
                    "average at {:g} km/h; its peaks are not known here: the mechanics gives them.",
                    permitted_n, to_string(one.placed.ref),
                    ContactForceLimit{*growth, one.static_n}.at(one.greatest_kmh),
                    one.greatest_kmh),
          values_of_force(one, words));
    });
  }
}

void judge_force_of(const PressingPantograph& one, const Rule& rule, Opinion& opinion) {
  // Without its growth at least the static force counts.
  const ContactForceLimit presses{one.placed.type->aerodynamic_n_per_kmh2.value_or(0),
                                  one.static_n};
  const double force_n = presses.at(one.greatest_kmh);
  const double permitted_n = one.permitted.at(one.greatest_kmh);
  constexpr double rounding_n = 1e-6;
  const double spare_n = one.permitted.constant_n - one.static_n;
  if (force_n <= permitted_n + rounding_n) {
    // Both grow with v² alone, so their difference is greatest at one end of the speeds.
    if (spare_n < -rounding_n) {
      opinion.forbid(rule, [&] {
        return FindingWords(
            opinion.words.say("{}: its mean contact force is {:.1f} N at a stand; permitted: "
                              "{:.1f} N. That it is permitted at {:g} km/h does not help: a train "
                              "runs through every lower speed.",
                              to_string(one.placed.ref), one.static_n, one.permitted.constant_n,
                              one.greatest_kmh),
            values_of_force(one, opinion.words));
      });
      return;
    }
    note_force(one, rule, opinion);
    return;
  }
  const double growth = presses.square_n_per_kmh2 - one.permitted.square_n_per_kmh2;
  const double permitted_kmh =
      spare_n > 0 && growth > 0 ? std::floor(std::sqrt(spare_n / growth)) : 0;
  if (permitted_kmh < 5) {
    opinion.forbid(rule, [&] {
      return FindingWords(
          opinion.words.say("{}: its mean contact force is {:.1f} N at {:g} km/h; permitted: "
                            "{:.1f} N. It is not permitted at a lower speed either.",
                            to_string(one.placed.ref), force_n, one.greatest_kmh, permitted_n),
          values_of_force(one, opinion.words));
    });
    return;
  }
  opinion.limit(rule, permitted_kmh, [&] {
    return LimitWords{
        .reason = opinion.words.say("Mean contact force of {}: {:.1f} N at {:g} km/h, where {:.1f} "
                                    "N are permitted: {:g} km/h",
                                    to_string(one.placed.ref), force_n, one.greatest_kmh,
                                    permitted_n, permitted_kmh),
        .values = values_of_force(one, opinion.words)};
  });
}

}  // namespace

void judge_restriction(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  const std::optional<double> speed = number_of(rule, "speed_kmh");
  if (!speed) {
    return;  // `cross_check` has refused the input where this would matter
  }
  if (rule.kind == RuleKind::ice_speed) {
    if (judged.iced) {
      opinion.limit(
          rule, *speed,
          [&] { return LimitWords{opinion.words.say("Iced contact wire: {:g} km/h", *speed)}; },
          true);
    }
    return;
  }
  for (std::size_t v = 0; v < judged.train.vehicles.size(); ++v) {
    if (!judged.roles[v].first_of_group) {
      continue;
    }
    int strips = 0;
    for (const std::size_t p : judged.raised_front_first) {
      const bool its_own = judged.train.vehicles[v].all.contains(p);
      strips += its_own ? judged.train.pantographs[p].type->strip_count : 0;
    }
    if (strips == 1) {
      opinion.limit(
          rule, *speed,
          [&] {
            return LimitWords{
                opinion.words.say("{} has a single contact strip on the wire: {:g} km/h",
                                  name_of(judged.train.vehicles[v]), *speed)};
          },
          true);
    }
  }
}

void judge_speed_restriction(const Rule& rule, const JudgedCase& /*judged*/, Opinion& opinion) {
  if (const std::optional<double> speed = number_of(rule, "speed_kmh")) {
    opinion.limit(rule, *speed, [&] {
      return LimitWords{opinion.words.say("Speed restriction: {:g} km/h", *speed)};
    });
  }
}

void judge_propelling(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (!wagons_lead(judged.train)) {
    return;
  }
  if (const std::optional<double> speed = number_of(rule, "speed_kmh")) {
    opinion.limit(
        rule, *speed,
        [&] {
          return LimitWords{opinion.words.say("Wagons lead, no cab ahead: {:g} km/h", *speed)};
        },
        true);
    return;
  }
  const auto text = [&] {
    return judged.words().say(
        "Wagons lead, no cab ahead, and the rule book names no speed for propelling. Neither yes "
        "nor no: who looks ahead, and how fast the train may run, is for the infrastructure "
        "manager and the operator to say.");
  };
  ask_consent(rule, judged, opinion, text);
}

void judge_highest_speed(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (rule.kind == RuleKind::line_speed) {
    opinion.limit(rule, judged.section.line_speed_kmh, [&] {
      return LimitWords{
          .reason = opinion.words.say("Line speed {:g} km/h", judged.section.line_speed_kmh),
          .values = {value_of_section(judged, "line_speed_kmh")}};
    });
    return;
  }
  if (rule.kind == RuleKind::vehicle_speed) {
    const NamedSpeed slowest = slowest_of(*judged.train.train, judged.words());
    opinion.limit(rule, slowest.kmh, [&] {
      return LimitWords{
          .reason = opinion.words.say("Highest speed of {}: {:g} km/h", slowest.whose, slowest.kmh),
          .values = {slowest.value(judged.words())}};
    });
    judge_loads_without_speed(rule, *judged.train.train, opinion);
    return;
  }
  for (const std::size_t p : judged.raised_front_first) {
    const PlacedPantograph& placed = judged.train.pantographs[p];
    opinion.limit(rule, placed.type->highest_speed_kmh, [&] {
      return LimitWords{.reason = opinion.words.say(
                            "Highest speed of pantograph {} ({}): {:g} km/h", to_string(placed.ref),
                            placed.type->name, placed.type->highest_speed_kmh),
                        .values = {value_of(*placed.type, "highest_speed_kmh", judged.words())}};
    });
  }
}

void judge_contact_force(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  for (const std::size_t p : judged.raised_front_first) {
    const PlacedPantograph& placed = judged.train.pantographs[p];
    const LineProperties& section = judged.section_over(p);
    const PantographSupply* const on =
        section.supply ? supply_of(*placed.type, *section.supply) : nullptr;
    if (section.greatest_contact_force && on != nullptr) {
      const double greatest_kmh =
          std::min(judged.section.line_speed_kmh, placed.type->highest_speed_kmh);
      judge_force_of({.placed = placed,
                      .section_id = judged.section_id_over(p),
                      .permitted = *section.greatest_contact_force,
                      .static_n = on->static_force_n,
                      .greatest_kmh = greatest_kmh},
                     rule, opinion);
    }
  }
}

void judge_lowered_speed(const Rule& rule, const JudgedCase& /*judged*/, Opinion& opinion) {
  if (const auto speed = number_of(rule, "lowering_speed_kmh")) {
    opinion.limit(rule, *speed, [&] {
      return LimitWords{
          opinion.words.say("Pantographs are lowered at no more than {:g} km/h", *speed)};
    });
  }
  if (const auto speed = number_of(rule, "raising_speed_kmh")) {
    opinion.limit(rule, *speed, [&] {
      return LimitWords{
          opinion.words.say("Pantographs are raised at no more than {:g} km/h", *speed)};
    });
  }
}

}  // namespace panup
