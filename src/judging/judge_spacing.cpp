/// Number of raised pantographs, distance between them, and the speed that follows.

#include <algorithm>
#include <limits>

#include "judging/deciding_values.h"
#include "judging/judge_parts.h"
#include "line/raised_records.h"

namespace panup {

namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();

double from_front(const JudgedCase& judged, std::size_t index) {
  const std::size_t p = judged.raised_front_first[index];
  return judged.train.pantographs[p].from_front_m;
}

/// Between adjacent raised pantographs, of one vehicle or of two.
double least_distance(const JudgedCase& judged) {
  double least = unlimited;
  for (std::size_t i = 1; i < judged.raised_front_first.size(); ++i) {
    least = std::min(least, from_front(judged, i) - from_front(judged, i - 1));
  }
  return least;
}

/// The consent that permits most here; null if none covers so many at that distance.
const Consent* best_consent(const JudgedCase& judged, std::size_t number, double distance_m) {
  const Consent* best = nullptr;
  for (const Consent* const consent : judged.consents) {
    if (consent->rule.empty() && consent->number >= static_cast<int>(number) &&
        reaches(distance_m, consent->distance_m) &&
        (best == nullptr || consent->speed_kmh > best->speed_kmh)) {
      best = consent;
    }
  }
  return best;
}

LimitWords consent_limit(const Words& words, const Consent& consent, std::size_t number,
                         double distance_m) {
  return {words.say("{} raised, {:.1f} m apart: consent {} of {} names {:g} km/h", number,
                    distance_m, consent.reference, consent.given_by, consent.speed_kmh)};
}

/// Greatest speed up to which every row's distance is met; 0 if not even the first is.
double speed_by_design(const Rule& rule, EnergySupply supply, DesignType type, double distance_m) {
  double speed = 0;
  for (const SpacingRow& row : rule.spacing) {
    if (!reaches(distance_m, spacing_of(row, supply).at(static_cast<std::size_t>(type)))) {
      break;
    }
    speed = row.up_to_kmh;
  }
  return speed;
}

/// The distance that the next faster row asks for, for the words of a finding.
double next_spacing(const Rule& rule, EnergySupply supply, DesignType type, double speed_kmh) {
  for (const SpacingRow& row : rule.spacing) {
    if (row.up_to_kmh > speed_kmh) {
      return spacing_of(row, supply).at(static_cast<std::size_t>(type));
    }
  }
  return 0;
}

std::string no_record_text(const Words& words, const LineProperties& section, std::size_t number,
                           double distance_m) {
  int most = 1;
  double wanted = unlimited;
  for (const RaisedRecord& record : section.records) {
    most = std::max(most, record.number);
    if (record.number >= static_cast<int>(number)) {
      wanted = std::min(wanted, record.distance_m);
    }
  }
  if (static_cast<int>(number) > most) {
    return words.say("{} pantographs raised; the section permits at most {}.", number, most);
  }
  return words.say(
      "{} raised, {:.1f} m apart at the closest; the section's records ask for {:g} m "
      "at least.",
      number, distance_m, wanted);
}

/// What the section states under a key, and the places of the raised pantographs.
std::vector<DecidingValue> values_of_spacing(const JudgedCase& judged, const char* key,
                                             bool stated) {
  std::vector<DecidingValue> values = values_of_distances(judged);
  if (stated) {
    values.insert(values.begin(), value_of_section(judged, key));
  }
  return values;
}

/// The infrastructure manager's own word on number and distance.
void keep_to(const Rule& rule, double speed_kmh, Opinion& opinion) {
  if (speed_kmh < opinion.verdict.record_speed_kmh) {
    opinion.verdict.record_speed_kmh = speed_kmh;
    opinion.verdict.record_rule = &rule;
  }
}

void limit_by_consent(const Rule& rule, const Consent& consent, std::size_t number,
                      double distance_m, Opinion& opinion) {
  keep_to(rule, consent.speed_kmh, opinion);
  opinion.limit_by_spacing(
      rule, consent.speed_kmh,
      [&] { return consent_limit(opinion.words, consent, number, distance_m); }, true);
  if (opinion.explains()) {
    opinion.findings->back().rests_on = {consent.reference, consent.given_by};
  }
}

LimitWords record_limit(const Words& words, const RecordReading& reading, std::size_t number,
                        double distance_m) {
  const RaisedRecord& record = *reading.permits;
  const std::string up =
      number == 1 ? words.say("1 raised")
                  : words.say("{} raised, {:.1f} m apart at the closest", number, distance_m);
  if (reading.against != nullptr) {
    return {words.say("{}: the section's records contradict each other, on the safe side {:g} "
                      "km/h",
                      up, reading.speed_kmh),
            words.say("A record says \"{}\", but for the easier case another says \"{}\": the "
                      "infrastructure manager is to say which is right.",
                      words_for(record, words), words_for(*reading.against, words))};
  }
  return {number == 1 ? words.say("The section's record permits one raised pantograph at {:g} km/h",
                                  reading.speed_kmh)
                      : words.say("{}: the section's record permits {} at {:g} m and {:g} km/h", up,
                                  record.number, record.distance_m, reading.speed_kmh)};
}

/// What the records say of so many, that far apart at the closest.
void say_of_records(const Rule& rule, const JudgedCase& judged, std::size_t number, double distance,
                    Opinion& opinion) {
  if (judged.section.records.empty() || number == 0) {
    return;
  }
  const std::optional<RecordReading> reading =
      reading_of(judged.section.records, static_cast<int>(number), distance);
  if (number == 1 && !reading) {
    return;  // records of several say nothing against one alone
  }
  const Consent* const consent = number == 1 ? nullptr : best_consent(judged, number, distance);
  if (consent != nullptr && (!reading || consent->speed_kmh > reading->speed_kmh)) {
    limit_by_consent(rule, *consent, number, distance, opinion);
    return;
  }
  if (!reading) {
    opinion.forbid(rule, [&] {
      return FindingWords(no_record_text(judged.words(), judged.section, number, distance),
                          values_of_spacing(judged, "raised", true));
    });
    return;
  }
  keep_to(rule, reading->speed_kmh, opinion);
  opinion.limit_by_spacing(rule, reading->speed_kmh, [&] {
    LimitWords words = record_limit(judged.words(), *reading, number, distance);
    words.values = values_of_spacing(judged, "raised", true);
    return words;
  });
}

/// The same by the design type of a section without records.
void say_of_design(const Rule& rule, const JudgedCase& judged, std::size_t number, double distance,
                   Opinion& opinion) {
  if (!judged.section.records.empty() || number < 2 || !judged.section.supply) {
    return;
  }
  const EnergySupply supply = *judged.section.supply;
  const std::optional<DesignType> type = judged.section.design_type;
  const double by_design = type ? speed_by_design(rule, supply, *type, distance) : 0;
  const Consent* const consent = best_consent(judged, number, distance);
  if (consent != nullptr && consent->speed_kmh > by_design) {
    limit_by_consent(rule, *consent, number, distance, opinion);
    return;
  }
  if (by_design > 0) {
    opinion.limit_by_spacing(rule, by_design, [&] {
      const double next_m = next_spacing(rule, supply, *type, by_design);
      // What the reading rests on goes wherever the reading goes, onto the card too.
      LimitWords words{
          number > 2
              ? judged.words().say(
                    "{} raised, {:.1f} m apart at the closest: design type {} is built for that up "
                    "to {:g} km/h ({:g} m for more); for more than two this reading is derived",
                    number, distance, name_of(*type), by_design, next_m)
              : judged.words().say(
                    "{} raised, {:.1f} m apart at the closest: design type {} is built for that up "
                    "to {:g} km/h ({:g} m for more)",
                    number, distance, name_of(*type), by_design, next_m)};
      words.values = values_of_spacing(judged, "design_type", true);
      return words;
    });
    return;
  }
  opinion.verdict.consent_needed = true;
  opinion.say(rule, rule.strength, [&] {
    std::string text =
        type ? judged.words().say(
                   "{} raised, {:.1f} m apart at the closest: design type {} is built for "
                   "{:g} m at least. Neither yes nor no: consent of the infrastructure "
                   "manager, or evidence, is needed.",
                   number, distance, name_of(*type), next_spacing(rule, supply, *type, 0))
             : judged.words().say(
                   "{} raised, {:.1f} m apart at the closest: the section states neither "
                   "record nor design type. Neither yes nor no: consent of the "
                   "infrastructure manager, or evidence, is needed.",
                   number, distance);
    return FindingWords(std::move(text),
                        values_of_spacing(judged, "design_type", type.has_value()));
  });
  const double lowest_row = rule.spacing.empty() ? 0 : rule.spacing.front().up_to_kmh;
  const double unproven = number_of(rule, "speed_without_proof_kmh").value_or(lowest_row);
  opinion.limit_by_spacing(rule, unproven, [&] {
    return LimitWords{judged.words().say("{:g} km/h until the consent names a speed", unproven)};
  });
}

}  // namespace

void judge_raised_record(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  say_of_records(rule, judged, judged.raised_front_first.size(), least_distance(judged), opinion);
}

void judge_design_spacing(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  say_of_design(rule, judged, judged.raised_front_first.size(), least_distance(judged), opinion);
}

void judge_number_and_distance(const Rule& rule, const JudgedCase& judged, std::size_t number,
                               double distance_m, Opinion& opinion) {
  if (rule.kind == RuleKind::raised_record) {
    say_of_records(rule, judged, number, distance_m, opinion);
  } else if (rule.kind == RuleKind::design_spacing) {
    say_of_design(rule, judged, number, distance_m, opinion);
  }
}

void judge_distance(const Rule& /*rule*/, const JudgedCase& judged, Opinion& opinion) {
  double least = unlimited;
  double sum = 0;
  for (std::size_t i = 1; i < judged.raised_front_first.size(); ++i) {
    const auto& pantographs = judged.train.pantographs;
    const PlacedPantograph& ahead = pantographs[judged.raised_front_first[i - 1]];
    const PlacedPantograph& behind = pantographs[judged.raised_front_first[i]];
    if (ahead.ref.vehicle != behind.ref.vehicle) {
      least = std::min(least, behind.from_front_m - ahead.from_front_m);
      sum += behind.from_front_m - ahead.from_front_m;
    }
  }
  opinion.verdict.least_distance_m = sum > 0 ? least : 0;
  opinion.verdict.distance_sum_m = sum;
}

}  // namespace panup
