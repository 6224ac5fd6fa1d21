#include "day/parts_under_way.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/differing_stretches.h"
#include "base/same_place.h"
#include "drawing/text.h"
#include "driving/leaving_on_the_move.h"

namespace panup {

namespace {

using Parts = std::vector<std::optional<Plan>>;

bool leaves(const RunInput& input, std::size_t part) {
  return input.under_way[part] && !input.under_way[part]->leave.empty();
}

/// The parts that begin or end under way, as if each ran alone. Nothing where it was stopped.
std::optional<Parts> planned_alone(const RunInput& input) {
  Parts parts;
  for (std::size_t i = 0; i < input.parts.size(); ++i) {
    auto& plan = parts.emplace_back();
    if (!input.under_way[i]) {
      continue;
    }
    PlanRequest request = input.parts[i].request;
    request.route = input.under_way[i]->route;
    request.conditions = input.under_way[i]->conditions;
    plan = leaves(input, i) ? make_driven_plan(request)
                            : make_driven_part(request, input.parts[i].changes);
    if (!plan) {
      return std::nullopt;
    }
  }
  return parts;
}

/// A section between two places; nothing if none of it lies there.
std::optional<PlannedSection> section_between(const PlannedSection& section, double from_km,
                                              double to_km) {
  if (section.to_km <= from_km + same_place_km || section.from_km >= to_km - same_place_km) {
    return std::nullopt;
  }
  PlannedSection part = section;
  part.from_km = std::max(part.from_km, from_km);
  part.to_km = std::min(part.to_km, to_km);
  return part;
}

std::vector<PlannedSection> sections_between(const std::vector<PlannedSection>& sections,
                                             double from_km, double to_km) {
  std::vector<PlannedSection> between;
  for (const PlannedSection& section : sections) {
    if (auto part = section_between(section, from_km, to_km)) {
      between.push_back(std::move(*part));
    }
  }
  return between;
}

/// Whether something else is up, on any stretch, from a stand than under way.
bool something_else_is_up(const Plan& at_stands, const Plan& alone, double from_km, double to_km) {
  const auto differs = [](const PlannedSection* one,
                          const PlannedSection* other) -> std::optional<bool> {
    const bool alike = one != nullptr && other != nullptr && one->raised == other->raised &&
                       one->put_dead_in_tow == other->put_dead_in_tow &&
                       one->answer == other->answer && one->lowered_for == other->lowered_for;
    return alike ? std::nullopt : std::optional(true);
  };
  return !differing_stretches(at_stands.sections, sections_between(alone.sections, from_km, to_km),
                              differs)
              .empty();
}

/// An order at the place where vehicles leave.
Instruction order_at(const Plan& plan, double km, const std::string& place, std::string what,
                     std::string reason) {
  Instruction order;
  order.at_km = km;
  order.action = Action::shunt;
  order.on_line = place_on_line(plan.route, km);
  order.landmark = plan.words.say("at {}", place);
  if (order.on_line) {
    order.landmark +=
        ", " + plan.words.say("line {} km {:.3f}", order.on_line->line, order.on_line->at_km);
  }
  order.what = std::move(what);
  order.reason = std::move(reason);
  order.text = fmt::format("{}, {}: {}.", order.what, order.landmark, order.reason);
  return order;
}

std::string up_words(const LeftOnTheMove& left, const Words& words) {
  std::vector<std::string> names;
  for (const PantographRef ref : left.up) {
    names.push_back(to_string(ref));
  }
  return words.say_of(names.size(), "{} stays up", "{} stay up", words.listed(names));
}

Instruction drop_back_order(const Plan& plan, double km, const PartUnderWay& part,
                            const LeftOnTheMove& left) {
  const Words& words = plan.words;
  Instruction order = order_at(
      plan, km, plan.route.ends_at,
      words.say_of(part.leave_first, "{}, not coupled, drops back on the move: do not stop; {}",
                   "{}, not coupled, drop back on the move: do not stop; {}",
                   capitalised(part.leave), up_words(left, words)),
      words.say(
          "only where nothing has failed and it is agreed with the driver there, whose own affair "
          "its pantographs are from here on"));
  order.if_not_possible = words.say(
      "Stop here with all that is in the train, and report: it leaves at a stand, and the train "
      "goes on by the fallback table of its next part.");
  return order;
}

Instruction run_on_order(const Plan& plan, double km, const std::string& place,
                         const LeftOnTheMove& left) {
  const Words& words = plan.words;
  Instruction order =
      order_at(plan, km, place, words.say("Run on: {}, breakers stay on", up_words(left, words)),
               words.say("nothing is raised or lowered as the others drop back"));
  order.pantographs = left.up;
  order.vehicles = left.closed;
  return order;
}

/// The place where a part ends under way, and how the two trains are one there.
struct Joined {
  double at_km = 0;
  LeftOnTheMove left;
};

/// What is found on a stretch of a part that has been planned by itself.
std::vector<Finding> findings_between(const std::vector<PlannedSection>& sections, double from_km,
                                      double to_km) {
  std::vector<Finding> findings;
  for (const PlannedSection& section : sections_between(sections, from_km, to_km)) {
    std::ranges::copy_if(section.findings, std::back_inserter(findings), [&](const Finding& one) {
      return std::ranges::find(findings, one.text, &Finding::text) == findings.end();
    });
  }
  std::ranges::stable_sort(findings, {}, &Finding::strength);
  return findings;
}

/// No faster than the longer train ran, until what has left has dropped back.
void hold_speed(const Rule& rule, const LeftOnTheMove& left, const Words& words,
                std::vector<PlannedSection>& sections) {
  for (std::size_t i = 0; i < sections.size() && sections[i].from_km < left.held_to_km; ++i) {
    if (sections[i].speed_kmh <= left.held_kmh) {
      continue;
    }
    if (sections[i].to_km > left.held_to_km + same_place_km) {
      PlannedSection behind = sections[i];
      behind.from_km = left.held_to_km;
      sections[i].to_km = left.held_to_km;
      sections.insert(sections.begin() + static_cast<std::ptrdiff_t>(i) + 1, std::move(behind));
    }
    sections[i].speed_kmh = left.held_kmh;
    sections[i].speed_rule = rule.id;
    sections[i].speed_reason =
        words.say("what has left the train may still be close behind it, as far as km {:.2f}",
                  left.held_to_km);
  }
}

/// Margins of a part that was planned by itself, at the sections that it has under way.
void move_margins(const std::vector<PlannedSection>& by_itself,
                  const std::vector<PlannedSection>& sections,
                  std::vector<SectionMargins>& margins) {
  for (SectionMargins& margin : margins) {
    const double from_km = by_itself[margin.planned].from_km;
    const auto there = std::ranges::find_if(sections, [from_km](const PlannedSection& section) {
      return section.to_km > from_km + same_place_km;
    });
    margin.planned = static_cast<std::size_t>(there - sections.begin());
  }
}

/// A part as it is under way: what is planned alone, between its ends. Where they cut a section of
/// that plan, its findings may speak of what lies beyond; those of the part by itself, which has
/// the same up there, do not.
void put_under_way(const Rule& rule, const Plan& alone, const Joined* begins, const Joined* ends,
                   Plan& part) {
  const double from_km = begins != nullptr ? begins->at_km : departure_km(part.route);
  const double to_km = ends != nullptr ? ends->at_km : part.route.sections.back().to_km;
  const std::vector<PlannedSection> by_itself = std::move(part.sections);
  part.sections.clear();
  for (const PlannedSection& whole : alone.sections) {
    auto section = section_between(whole, from_km, to_km);
    if (!section) {
      continue;
    }
    if (section->from_km > whole.from_km || section->to_km < whole.to_km) {
      section->findings = findings_between(by_itself, section->from_km, section->to_km);
    }
    part.sections.push_back(std::move(*section));
  }
  part.instructions = begins != nullptr ? begins->left.after : alone.instructions;
  if (begins != nullptr) {
    hold_speed(rule, begins->left, part.words, part.sections);
  }
  move_margins(by_itself, part.sections, part.margins);
  if (ends != nullptr) {
    std::erase_if(part.instructions,
                  [&](const Instruction& order) { return order.at_km > to_km - same_place_km; });
  }
}

/// The train stops at a place where some were to leave it on the move.
void stop_there(const Rule& rule, const std::string& leave, const std::string& why, Plan& part) {
  const std::string& place = part.route.ends_at;
  const double km = part.route.sections.back().to_km;
  const auto first = std::ranges::find_if(part.instructions, [km](const Instruction& order) {
    return order.at_km >= km - same_place_km;
  });
  part.instructions.insert(
      first, order_at(part, km, place, part.words.say("Stop here: {} leaves at a stand", leave),
                      part.words.say("it cannot leave on the move: {}", why)));
  part.sections.back().findings.insert(
      part.sections.back().findings.begin(),
      finding_of(
          rule, rule.strength,
          part.words.say("{} cannot leave on the move at {}: {}. The train stops there, though "
                         "its run says that it passes.",
                         capitalised(leave), place, why)));
}

}  // namespace

bool run_on_where_some_leave(const RunInput& input, RunPlan& run) {
  if (std::ranges::none_of(input.under_way, [](const auto& part) { return part.has_value(); })) {
    return true;
  }
  const auto alone = planned_alone(input);
  if (!alone) {
    return false;
  }
  const RuleBook& rules = input.parts.front().request.rules;
  const Rule& rule = *std::ranges::find(rules.rules, RuleKind::leave_on_the_move, &Rule::kind);
  std::vector<std::optional<Joined>> joins(run.parts.size());
  const Words& words = rules.words;
  std::string against = rule.on ? std::string() : words.say("the rules permit it nowhere");
  for (std::size_t i = 0; i + 1 < run.parts.size() && against.empty(); ++i) {
    if (!leaves(input, i)) {
      continue;
    }
    const PlanRequest& after = input.parts[i + 1].request;
    const double at_km = run.parts[i].route.sections.back().to_km;
    auto left =
        left_on_the_move({.before = *(*alone)[i], .after = *(*alone)[i + 1], .at_km = at_km},
                         driven_rules(after.rules, after.speed_from));
    if (const auto* const why = std::get_if<std::string>(&left)) {
      against = *why;
    } else {
      joins[i] = Joined{.at_km = at_km, .left = std::move(std::get<LeftOnTheMove>(left))};
    }
    for (const std::size_t part : {i, i + 1}) {
      if (against.empty() && something_else_is_up(run.parts[part], *(*alone)[part],
                                                  departure_km(run.parts[part].route),
                                                  run.parts[part].route.sections.back().to_km)) {
        against = words.say(
            "from a stand, as after a failure, other pantographs would be up than under way");
      }
    }
  }
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    Plan& part = run.parts[i];
    if (!input.under_way[i]) {
      continue;
    }
    if (!against.empty()) {
      if (leaves(input, i)) {
        stop_there(rule, input.under_way[i]->leave, against, part);
      }
      continue;
    }
    const Joined* const begins = i > 0 && joins[i - 1] ? &*joins[i - 1] : nullptr;
    const Joined* const ends = joins[i] ? &*joins[i] : nullptr;
    put_under_way(rule, *(*alone)[i], begins, ends, part);
    if (begins != nullptr) {
      part.instructions.insert(
          part.instructions.begin(),
          run_on_order(part, begins->at_km, run.parts[i - 1].route.ends_at, begins->left));
      part.notes.push_back(words.say(
          "The train comes to the beginning of this part under way. What is done if a pantograph "
          "fails holds for a train that has stopped there."));
    }
    if (ends != nullptr) {
      part.instructions.push_back(
          drop_back_order(part, ends->at_km, *input.under_way[i], ends->left));
      part.notes.push_back(words.say(
          "{} leaves on the move only where nothing has failed: else the train stops there. The "
          "running time is reckoned with that stop.",
          capitalised(input.under_way[i]->leave)));
    }
  }
  return true;
}

}  // namespace panup
