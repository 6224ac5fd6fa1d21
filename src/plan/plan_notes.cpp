#include "plan/plan_notes.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>

#include "base/words.h"
#include "judging/current.h"
#include "judging/judge.h"
#include "judging/limited_rules.h"
#include "plan/explain.h"

namespace panup {

namespace {

/// Whether the current of any vehicle is known on any system of the route.
bool any_demand_known(const PlanRequest& request) {
  const CurrentRules rules = current_rules(request.rules);
  return std::ranges::any_of(request.train.consist, [&](const ConsistItem& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr &&
           std::ranges::any_of(request.route.sections, [&](const Section& section) {
             return section.supply && running_demand(*vehicle, *section.supply, rules).has_value();
           });
  });
}

/// Where the lateral position of the wire is not judged, where no section says it or its rule is
/// off: " on a1, a2"; empty where that is the whole route, nothing where all is judged.
std::optional<std::string> lateral_position_unknown(const PlanRequest& request) {
  const bool judged = rule_in_force(request.rules, RuleKind::lateral_position) != nullptr;
  std::vector<std::string> ids;
  for (const Section& section : request.route.sections) {
    if (!judged || section.spans.empty()) {
      ids.push_back(section.id);
    }
  }
  if (ids.empty()) {
    return std::nullopt;
  }
  return ids.size() == request.route.sections.size()
             ? std::string()
             : request.rules.words.say(" on {}", fmt::to_string(fmt::join(ids, ", ")));
}

/// "14641", "more than a million".
std::string count_words(double count, const Words& words) {
  return count < 1e6 ? words.say("{:.0f}", count) : words.say("more than a million");
}

/// A word that is written in another way in the rule book and in the other files makes a rule hold
/// nowhere. So those are named.
std::string limited_rules_that_hold_nowhere(const PlanRequest& request) {
  std::string ids;
  for (const Rule& rule : request.rules.rules) {
    const bool holds = holds_for(rule.only_for, request.train) &&
                       std::ranges::any_of(request.route.sections, [&](const Section& section) {
                         return holds_on(rule.only_for, section);
                       });
    if (rule.on && !holds) {
      ids += (ids.empty() ? "" : "; ") + rule.id + " (" +
             only_for_words(rule.only_for, request.rules.words) + ")";
    }
  }
  return ids;
}

/// Which consents of a file for many trains count for this one on this route.
std::string consents_of_file(const std::string& path, const PlanRequest& request) {
  std::string references;
  for (const Consent& consent : request.train.consents) {
    if (consent.file == path && consents_somewhere(consent, request.route)) {
      references += (references.empty() ? "" : ", ") +
                    request.rules.words.say("{} of {}", consent.reference, consent.given_by);
    }
  }
  return references.empty()
             ? request.rules.words.say("No consent of {} counts for this train on this route.",
                                       path)
             : request.rules.words.say("Consents of {} that count for this train: {}.", path,
                                       references);
}

void add_notes_of_consents(const PlanRequest& request, std::vector<std::string>& notes) {
  for (const std::string& path : request.train.consent_files) {
    notes.push_back(consents_of_file(path, request));
  }
  for (const ConsentLeftOut& left_out : request.train.consents_left_out) {
    if (consents_somewhere(left_out.consent, request.route)) {
      notes.push_back(request.rules.words.say("Consent {} of {} does not count: {}.",
                                              left_out.consent.reference, left_out.consent.given_by,
                                              left_out.because));
    }
  }
}

/// "1.2 (pantograph 2 of K41 007) since 2031-05-02, ND-14".
std::string entry_words(const RegisteredDefect& defect, const Train& train, const Words& words) {
  std::string refs;
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->id == defect.vehicle) {
      refs += (refs.empty() ? "" : ", ") + to_string({vehicle->number, defect.pantograph});
    }
  }
  std::string text = words.say("{} (pantograph {} of {}) since {}", refs, defect.pantograph,
                               defect.vehicle, defect.since);
  if (!defect.until.empty()) {
    text += words.say(", until {}", defect.until);
  }
  if (!defect.reference.empty()) {
    text += ", " + defect.reference;
  }
  if (!defect.still_possible.empty()) {
    text += words.say(" (still possible: {}; it stays down all the same)", defect.still_possible);
  }
  return text;
}

/// Which entries of a register count for this train on its day.
std::string defects_of_file(const std::string& path, const Train& train, const Words& words) {
  std::vector<std::string> entries;
  for (const RegisteredDefect& defect : train.registered_defects) {
    if (defect.file != path) {
      continue;
    }
    std::string entry = entry_words(defect, train, words);
    if (std::ranges::find(entries, entry) == entries.end()) {
      entries.push_back(std::move(entry));
    }
  }
  const std::string& day = train.release.date;
  if (entries.empty()) {
    return day.empty() ? words.say("No entry of {} concerns this train.", path)
                       : words.say("No entry of {} concerns this train on {}.", path, day);
  }
  const std::string all = fmt::to_string(fmt::join(entries, "; "));
  return day.empty()
             ? words.say(
                   "Entries of {} that count for this train, whose day is not stated, so that "
                   "those "
                   "of any day count: {}.",
                   path, all)
             : words.say("Entries of {} that count for this train on {}: {}.", path, day, all);
}

/// A register speaks of vehicles by their numbers: where the train states none, no entry can be
/// known to concern it.
std::string vehicles_without_number(const Train& train) {
  std::string names;
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle != nullptr && vehicle->id == fmt::format("vehicle {}", vehicle->number)) {
      names += (names.empty() ? "" : ", ") + vehicle->id;
    }
  }
  return names;
}

void add_notes_of_defects(const Train& train, const Words& words, std::vector<std::string>& notes) {
  for (const std::string& path : train.defect_files) {
    notes.push_back(defects_of_file(path, train, words));
  }
  if (const std::string names = vehicles_without_number(train);
      !train.defect_files.empty() && !names.empty()) {
    notes.push_back(words.say(
        "No number of its own is stated for {}: no register of defects was asked about it.",
        names));
  }
}

/// "'ice-speed' of Winter supplement, NF-12 (it holds from 2031-11-01)".
std::string released_words(const RuleBook& rules, bool counts) {
  std::string words;
  for (const ReleasedEntry& entry : rules.released) {
    if (entry.counts == counts) {
      words += (words.empty() ? "" : "; ") +
               rules.words.say("'{}' of {}{} ({})", entry.id, entry.book,
                               entry.reference.empty() ? "" : ", " + entry.reference,
                               validity_words(entry.valid, rules.words));
    }
  }
  return words;
}

void add_notes_of_released(const PlanRequest& request, std::vector<std::string>& notes) {
  const std::string& day = request.train.release.date;
  if (const std::string words = released_words(request.rules, true); !words.empty()) {
    notes.push_back(
        request.rules.words.say("Rules released for some days that count on {}: {}.", day, words));
  }
  if (const std::string words = released_words(request.rules, false); !words.empty()) {
    notes.push_back(request.rules.words.say(
        "Rules released for other days, which do not count on {}: {}.", day, words));
  }
}

}  // namespace

std::vector<std::string> general_notes(const PlanRequest& request) {
  const Words& words = request.rules.words;
  std::vector<std::string> notes;
  if (request.train.invented || request.route.invented || request.conditions.invented) {
    notes.push_back(words.say("Demo: train, route or conditions are invented."));
  }
  const Route& route = request.route;
  if (const auto lines =
          stretches_on_lines(route, route.sections.front().from_km, route.sections.back().to_km);
      !lines.empty()) {
    notes.push_back(
        words.say("Kilometres without a line count along the way of the train, which is {}.",
                  line_words(lines, words)));
  }
  notes.insert(notes.end(), request.conditions.notes.begin(), request.conditions.notes.end());
  std::string invented;
  for (const Rule& rule : request.rules.rules) {
    if (rule.on && rule.invented) {
      invented += (invented.empty() ? "" : ", ") + rule.id;
    }
  }
  if (!invented.empty()) {
    notes.push_back(words.say("Rules whose numbers are invented: {}.", invented));
  }
  if (const std::string ids = limited_rules_that_hold_nowhere(request); !ids.empty()) {
    notes.push_back(words.say("Rules that hold nowhere for this train on this route: {}.", ids));
  }
  add_notes_of_released(request, notes);
  add_notes_of_consents(request, notes);
  add_notes_of_defects(request.train, words, notes);
  const RunningTrain train = set_running(request.train, false, words);
  if (!train.kept_down.empty()) {
    notes.push_back(
        words.say("The train file orders {} to stay down.", list_of(train, train.kept_down)));
  }
  if (!train.kept_up.empty()) {
    notes.push_back(words.say("The train file orders {} to be up wherever permitted.",
                              list_of(train, train.kept_up)));
  }
  const auto lateral_unknown = lateral_position_unknown(request);
  std::vector<std::string> unchecked;
  if (rule_in_force(request.rules, RuleKind::zones_joined) == nullptr) {
    unchecked.push_back(
        words.say("which electrical zones the raised pantographs join in separation sections"));
  }
  if (rule_in_force(request.rules, RuleKind::standstill_current) == nullptr) {
    unchecked.push_back(words.say("current at a stand"));
  }
  if (lateral_unknown) {
    unchecked.push_back(words.say("lateral position of the wire{}", *lateral_unknown));
  }
  if (request.speed_from == SpeedFrom::tables) {
    unchecked.push_back(words.say("contact force"));
  }
  std::string goes_by =
      request.speed_from == SpeedFrom::tables
          ? words.say("The plan goes by working practice and published limits.")
          : words.say(
                "The plan goes by working practice and published limits, and by the mechanics of "
                "wire and pantograph.");
  if (!unchecked.empty()) {
    goes_by += words.say(" Not checked: {}.", fmt::to_string(fmt::join(unchecked, ", ")));
  }
  notes.push_back(std::move(goes_by));
  if (!any_demand_known(request)) {
    notes.push_back(words.say(
        "What the vehicles draw is neither stated nor computed: currents are not checked."));
  }
  if (request.conditions.wind_ms && lateral_unknown) {
    notes.push_back(words.say("Wind of {:g} m/s is not judged{}: ask for the line's own limits.",
                              *request.conditions.wind_ms, *lateral_unknown));
  }
  return notes;
}

std::vector<std::string> search_notes(const PlanningCase& planning, const Way& way) {
  if (!planning.search) {
    return {};
  }
  const Search& search = *planning.search;
  std::string note = planning.words().say(
      "The train is long: on one section it has {} configurations. {} of them were judged, those "
      "that practice prefers, and this plan is the best that they make.",
      count_words(search.configurations, planning.words()), search.judged);
  if (way.cost.rungs == search.least.rungs) {
    return {note + planning.words().say(" No other can be better.")};
  }
  const Rung rung = where_they_part(search.least, way.cost);
  note += planning.words().say(
      " In what stands above {0} on the ladder no other can be better. In {0} another may be",
      words_for(rung, planning.words()));
  if (rung == Rung::time) {
    note += planning.words().say(
        ", by {} at most",
        seconds_words(static_cast<double>(way.cost[Rung::time] - search.least[Rung::time]) / 1000));
  }
  return {note + "."};
}

}  // namespace panup
