#include "comparison/compare_plans.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "base/capitals.h"
#include "base/differing_stretches.h"
#include "base/handed_out.h"
#include "base/listed.h"
#include "wording/wording.h"

namespace panup {

namespace {

using Json = nlohmann::json;

class Changes {
 public:
  void ends(std::string what, std::string text) {
    list_.push_back({std::move(what), true, std::move(text)});
  }
  void told(std::string what, std::string text) {
    list_.push_back({std::move(what), false, std::move(text)});
  }
  std::vector<PlanChange> take() { return std::move(list_); }

 private:
  std::vector<PlanChange> list_;
};

std::string configuration_words(const SaidSection& section) {
  if (section.answer == name_of(Answer::none)) {
    return "no permitted configuration";
  }
  std::string words =
      section.raised.empty() ? "none up" : fmt::format("{} up", fmt::join(section.raised, ", "));
  if (!section.put_dead_in_tow.empty()) {
    words += fmt::format(", vehicle {} dead in tow", fmt::join(section.put_dead_in_tow, ", "));
  }
  if (!section.lowered_for.empty()) {
    words += ", for " + section.lowered_for;
  }
  return section.answer == name_of(Answer::consent_needed) ? words + ", consent needed" : words;
}

/// What of a stretch differs; empty where nothing does.
std::string difference(const SaidSection* then, const SaidSection* now) {
  if (then == now) {
    return {};  // neither plans it
  }
  if (then == nullptr || now == nullptr) {
    return then == nullptr ? "not planned then" : "not planned now";
  }
  const std::string up_then = configuration_words(*then);
  const std::string up_now = configuration_words(*now);
  std::string text;
  if (up_then != up_now) {
    text = fmt::format("{} then, {} now", up_then, up_now);
  }
  if (then->speed_kmh != now->speed_kmh) {
    text += fmt::format("{}{} km/h then, {} km/h now", text.empty() ? "" : "; ",
                        speed_figure(then->speed_kmh), speed_figure(now->speed_kmh));
  }
  return text;
}

void compare_sections(const SaidPlan& then, const SaidPlan& now, Changes& changes) {
  const auto said = [](const SaidSection* was,
                       const SaidSection* is) -> std::optional<std::string> {
    std::string words = difference(was, is);
    return words.empty() ? std::nullopt : std::optional(std::move(words));
  };
  for (const auto& stretch : differing_stretches(then.sections, now.sections, said)) {
    changes.ends("section", fmt::format("km {}: {}.", km_range(stretch.from_km, stretch.to_km),
                                        stretch.differs));
  }
}

template <typename Thing>
std::vector<Thing> without(const std::vector<Thing>& all, const std::vector<Thing>& taken) {
  std::vector<Thing> left;
  for (const Thing& thing : all) {
    if (std::ranges::find(taken, thing) == taken.end()) {
      left.push_back(thing);
    }
  }
  return left;
}

std::string instruction_words(const SaidInstruction& instruction) {
  return fmt::format(
      "at km {}: {}{}", km_brief(instruction.at_km), instruction.text,
      instruction.if_not_possible.empty()
          ? std::string()
          : fmt::format(" If not possible: {}", uncapitalised(instruction.if_not_possible)));
}

void compare_instructions(const SaidPlan& then, const SaidPlan& now, Changes& changes) {
  if (then.instructions == now.instructions) {
    return;
  }
  const auto gone = without(then.instructions, now.instructions);
  const auto added = without(now.instructions, then.instructions);
  for (const SaidInstruction& instruction : gone) {
    changes.ends("instruction", "No longer said, " + instruction_words(instruction));
  }
  for (const SaidInstruction& instruction : added) {
    changes.ends("instruction", "New, " + instruction_words(instruction));
  }
  if (gone.empty() && added.empty()) {
    changes.ends("instruction", "The instructions come in another order.");
  }
}

void compare_contingencies(const SaidPlan& then, const SaidPlan& now, Changes& changes) {
  const auto what_if = [](const SaidPlan& plan, const std::string& failed) {
    const auto found = std::ranges::find(plan.contingencies, failed, &SaidContingency::failed);
    return found == plan.contingencies.end() ? Json() : found->what;
  };
  std::set<std::string> all;
  for (const SaidPlan* const plan : {&then, &now}) {
    for (const SaidContingency& contingency : plan->contingencies) {
      all.insert(contingency.failed);
    }
  }
  for (const std::string& failed : all) {
    if (what_if(then, failed) != what_if(now, failed)) {
      changes.ends("contingency",
                   fmt::format("What is done if {} fails is not what it was.", failed));
    }
  }
}

/// Findings of these strengths stand on the card.
bool stands_on_card(const SaidFinding& finding) {
  return finding.strength == name_of(Strength::forbidden) ||
         finding.strength == name_of(Strength::consent_needed) ||
         finding.strength == name_of(Strength::last_resort);
}

void compare_findings(const SaidPlan& then, const SaidPlan& now, Changes& changes) {
  const auto say = [&](const SaidFinding& finding, std::string_view how) {
    const std::string text = fmt::format("{}, {} ({}): {} Source: {}.", how, finding.rule,
                                         finding.strength, finding.text, finding.source);
    if (stands_on_card(finding)) {
      changes.ends("finding", text);
    } else {
      changes.told("finding", text);
    }
  };
  for (const SaidFinding& finding : without(then.findings, now.findings)) {
    say(finding, "No longer said");
  }
  for (const SaidFinding& finding : without(now.findings, then.findings)) {
    say(finding, "New");
  }
}

void compare_inputs(const SaidPlan& then, const SaidPlan& now, Changes& changes) {
  std::vector<InputFile> left = now.inputs;
  std::vector<InputFile> unmatched;
  const auto take = [&left](const auto& matches) {
    const auto found = std::ranges::find_if(left, matches);
    const bool any = found != left.end();
    if (any) {
      left.erase(found);
    }
    return any;
  };
  for (const InputFile& input : then.inputs) {
    if (input.sha256.empty() || !take([&](const InputFile& other) {
          return other.role == input.role && other.sha256 == input.sha256;
        })) {
      unmatched.push_back(input);
    }
  }
  for (const InputFile& input : unmatched) {
    const bool same_path = take([&](const InputFile& other) {
      return other.role == input.role && other.path == input.path;
    });
    if (!same_path) {
      changes.told("input", fmt::format("Not used any longer: {} {}.", input.role, input.path));
    } else if (input.sha256.empty()) {
      changes.told("input", fmt::format("{} {}: the earlier plan has no hash of it.",
                                        capitalised(input.role), input.path));
    } else {
      changes.told("input", fmt::format("{} {} has other contents than then.",
                                        capitalised(input.role), input.path));
    }
  }
  for (const InputFile& input : left) {
    changes.told("input",
                 fmt::format("Not part of the earlier plan: {} {}.", input.role, input.path));
  }
}

void compare_validity(const SaidPlan& then, const SaidPlan& now, std::string_view today,
                      Changes& changes) {
  if (!then.holds_until.empty() && then.holds_until < today) {
    changes.ends("validity",
                 fmt::format("It was to hold until {}; today is {}.", then.holds_until, today));
  }
  if (then.answer != now.answer) {
    changes.ends("answer",
                 fmt::format("The answer was “{}”, and is “{}”.", then.answer, now.answer));
  } else if (now.answer != name_of(Answer::permitted)) {
    changes.ends("answer", fmt::format("The answer is “{}”, as it was then.", now.answer));
  }
}

std::vector<PlanChange> changes_of_part(const SaidPlan& earlier, const SaidPlan& now,
                                        std::string_view today) {
  Changes changes;
  compare_validity(earlier, now, today, changes);
  if (earlier.train != now.train) {
    changes.ends("train", "The train is not the one it was made for, or is described differently.");
  }
  if (earlier.route != now.route) {
    changes.ends("route", "The route is not the one it was made for, or runs differently.");
  }
  if (earlier.conditions != now.conditions) {
    changes.ends("conditions", "The conditions of the day are not those it was made for.");
  }
  compare_sections(earlier, now, changes);
  compare_instructions(earlier, now, changes);
  compare_contingencies(earlier, now, changes);
  compare_findings(earlier, now, changes);
  compare_inputs(earlier, now, changes);
  if (earlier.rule_books != now.rule_books) {
    changes.told("rule book",
                 fmt::format("Rule books then: {}. Now: {}.", fmt::join(earlier.rule_books, ", "),
                             fmt::join(now.rule_books, ", ")));
  }
  if (earlier.speed_from != now.speed_from) {
    changes.told("program", fmt::format("Speeds came from “{}”, and come from “{}”.",
                                        earlier.speed_from, now.speed_from));
  }
  if (earlier.program_version != now.program_version) {
    changes.told("program", fmt::format("Version of panup then: {}. Now: {}.",
                                        earlier.program_version, now.program_version));
  }
  for (const std::string& note : without(earlier.notes, now.notes)) {
    changes.told("note", "No longer noted: " + note);
  }
  for (const std::string& note : without(now.notes, earlier.notes)) {
    changes.told("note", "New note: " + note);
  }
  return changes.take();
}

/// "in 2 parts, km 0.0–14.0 and 14.0–62.0", or "in one part, km 0.0–62.0".
std::string parts_words(const SaidRun& run) {
  std::vector<std::string> stretches;
  for (const SaidPlan& part : run) {
    stretches.push_back(km_range(part.sections.front().from_km, part.sections.back().to_km));
  }
  return run.size() == 1 ? "in one part, km " + stretches.front()
                         : fmt::format("in {} parts, km {}", run.size(), listed(stretches));
}

/// What is so of every part is said once, of all of them.
void say_once(std::vector<PlanChange>& changes, std::size_t parts) {
  std::vector<PlanChange> kept;
  for (PlanChange& change : changes) {
    const auto same = [&change](const PlanChange& other) {
      return other.what == change.what && other.text == change.text;
    };
    if (std::ranges::any_of(
            kept, [&](const PlanChange& other) { return other.part == 0 && same(other); })) {
      continue;
    }
    const bool of_all = static_cast<std::size_t>(std::ranges::count_if(changes, same)) == parts;
    change.part = of_all ? 0 : change.part;
    kept.push_back(change);
  }
  changes = std::move(kept);
}

}  // namespace

PlanComparison compare_plans(const SaidRun& earlier, const SaidRun& now, std::string_view today) {
  if (earlier.size() != now.size()) {
    return {{{.what = "parts",
              .ends_it = true,
              .text = fmt::format("It was planned {}, and is planned {}: vehicles of the train "
                                  "change elsewhere.",
                                  parts_words(earlier), parts_words(now))}}};
  }
  std::vector<PlanChange> changes;
  for (std::size_t i = 0; i < now.size(); ++i) {
    for (PlanChange& change : changes_of_part(earlier[i], now[i], today)) {
      change.part = i + 1;
      changes.push_back(std::move(change));
    }
  }
  say_once(changes, now.size());
  std::ranges::stable_sort(changes, std::ranges::greater{}, &PlanChange::ends_it);
  return {std::move(changes)};
}

}  // namespace panup
