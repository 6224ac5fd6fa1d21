#include "day/parts_under_way.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>
#include <variant>

#include "base/capitals.h"
#include "base/differing_stretches.h"
#include "base/same_place.h"
#include "driving/leaving_on_the_move.h"

namespace panup {

namespace {

/// By part, why what is to leave on the move where it ends cannot: then the train stops there.
/// Empty where it can, or where nothing is to.
using Against = std::vector<std::string>;

bool may_leave(const RunInput& input, std::size_t part) {
  return input.under_way[part] && !input.under_way[part]->leave.empty();
}

/// Whether some leave on the move where a part ends.
bool ends_on_the_move(const RunInput& input, const Against& against, std::size_t part) {
  return may_leave(input, part) && against[part].empty();
}

/// What a part that begins or ends under way runs on as if it ran alone; null for others.
const AloneOn* alone_on(const RunInput& input, const Against& against, std::size_t part) {
  const bool begins_so = part > 0 && ends_on_the_move(input, against, part - 1);
  const bool ends_so = ends_on_the_move(input, against, part);
  if (!begins_so && !ends_so) {
    return nullptr;
  }
  const auto& there = input.under_way[part]->alone_on[begins_so ? 1 : 0][ends_so ? 1 : 0];
  return there ? &*there : nullptr;
}

/// The plans of parts on what they run on as if each ran alone, made once each.
class PlansAlone {
 public:
  explicit PlansAlone(const RunInput& input) : input_(input) {}

  /// Null if it was stopped.
  const Plan* of(std::size_t part, const AloneOn& on, bool ends_so) {
    const auto [there, is_new] = plans_.try_emplace(&on);
    if (is_new) {
      PlanRequest request = input_.parts[part].request;
      request.route = on.route;
      request.conditions = on.conditions;
      there->second = ends_so ? make_driven_plan(request)
                              : make_driven_part(request, input_.parts[part].changes);
    }
    return there->second ? &*there->second : nullptr;
  }

 private:
  const RunInput& input_;
  std::map<const AloneOn*, std::optional<Plan>> plans_;
};

/// By part; null for those that neither begin nor end under way. Nothing if it was stopped.
using Alone = std::vector<const Plan*>;
std::optional<Alone> planned_alone(const RunInput& input, const Against& against,
                                   PlansAlone& plans) {
  Alone alone;
  for (std::size_t i = 0; i < input.parts.size(); ++i) {
    const AloneOn* const on = alone_on(input, against, i);
    alone.push_back(on == nullptr ? nullptr
                                  : plans.of(i, *on, ends_on_the_move(input, against, i)));
    if (on != nullptr && alone.back() == nullptr) {
      return std::nullopt;
    }
  }
  return alone;
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

/// How the trains of part `i` and of the next are one where it ends; or why they cannot be.
std::variant<Joined, std::string> joined(const RunInput& input, const RunPlan& run,
                                         const Alone& alone, std::size_t i) {
  const PlanRequest& after = input.parts[i + 1].request;
  const double at_km = run.parts[i].route.sections.back().to_km;
  auto left = left_on_the_move({.before = *alone[i], .after = *alone[i + 1], .at_km = at_km},
                               driven_rules(after.rules, after.speed_from));
  if (auto* const why = std::get_if<std::string>(&left)) {
    return std::move(*why);
  }
  for (const std::size_t part : {i, i + 1}) {
    if (something_else_is_up(run.parts[part], *alone[part], departure_km(run.parts[part].route),
                             run.parts[part].route.sections.back().to_km)) {
      return after.rules.words.say(
          "from a stand, as after a failure, other pantographs would be up than under way");
    }
  }
  return Joined{.at_km = at_km, .left = std::move(std::get<LeftOnTheMove>(left))};
}

using Joins = std::vector<std::optional<Joined>>;  ///< by the part that ends there

/// The first part, in order, at whose end they cannot leave on the move, which is noted in
/// `against`; false where all the others can, and `joins` says how.
bool one_more_stops(const RunInput& input, const RunPlan& run, const Alone& alone, Against& against,
                    Joins& joins) {
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    joins[i].reset();
    if (!ends_on_the_move(input, against, i)) {
      continue;
    }
    auto join = joined(input, run, alone, i);
    if (auto* const why = std::get_if<std::string>(&join)) {
      against[i] = std::move(*why);
      return true;
    }
    joins[i] = std::move(std::get<Joined>(join));
    // Nothing is done at its other end before what leaves here is clear.
    const Plan& next = run.parts[i + 1];
    const double next_km = next.route.sections.back().to_km;
    if (ends_on_the_move(input, against, i + 1) && next_km < joins[i]->left.held_to_km) {
      against[i] = next.words.say(
          "the next vehicles leave at {}, km {:.3f}, and it is not clear of these before km {:.2f}",
          next.route.ends_at, next_km, joins[i]->left.held_to_km);
      return true;
    }
  }
  return false;
}

/// What the driver is told at both ends of a part that begins or ends under way.
void tell_ends(const RunInput& input, std::size_t i, const Joined* begins, const Joined* ends,
               RunPlan& run) {
  Plan& part = run.parts[i];
  if (begins != nullptr) {
    part.instructions.insert(
        part.instructions.begin(),
        run_on_order(part, begins->at_km, run.parts[i - 1].route.ends_at, begins->left));
    part.notes.push_back(part.words.say(
        "The train comes to the beginning of this part under way. What is done if a pantograph "
        "fails holds for a train that has stopped there."));
  }
  if (ends != nullptr) {
    const PartUnderWay& under_way = *input.under_way[i];
    part.instructions.push_back(drop_back_order(part, ends->at_km, under_way, ends->left));
    part.notes.push_back(part.words.say(
        "{} leaves on the move only where nothing has failed: else the train stops there. The "
        "running time is reckoned with that stop.",
        capitalised(under_way.leave)));
  }
}

}  // namespace

bool run_on_where_some_leave(const RunInput& input, RunPlan& run) {
  if (std::ranges::none_of(input.under_way, [](const auto& part) { return part.has_value(); })) {
    return true;
  }
  const RuleBook& rules = input.parts.front().request.rules;
  const Rule& rule = *std::ranges::find(rules.rules, RuleKind::leave_on_the_move, &Rule::kind);
  Against against(run.parts.size(),
                  rule.on ? std::string() : rules.words.say("the rules permit it nowhere"));
  Joins joins(run.parts.size());
  PlansAlone plans(input);
  std::optional<Alone> alone;
  // Where the train stops at one place, the parts on both sides of it run otherwise, and the places
  // beside it are looked at anew.
  do {
    alone = planned_alone(input, against, plans);
    if (!alone) {
      return false;
    }
  } while (one_more_stops(input, run, *alone, against, joins));
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    const Joined* const begins = i > 0 && joins[i - 1] ? &*joins[i - 1] : nullptr;
    const Joined* const ends = joins[i] ? &*joins[i] : nullptr;
    if (begins != nullptr || ends != nullptr) {
      put_under_way(rule, *(*alone)[i], begins, ends, run.parts[i]);
      tell_ends(input, i, begins, ends, run);
    }
    if (may_leave(input, i) && ends == nullptr) {
      stop_there(rule, input.under_way[i]->leave, against[i], run.parts[i]);
    }
  }
  return true;
}

}  // namespace panup
