/// Which pantograph of a vehicle is up: facing pairs, contact points, loads, the prescribed
/// pattern.

#include <algorithm>
#include <optional>

#include "judging/exposed_load.h"
#include "judging/judge_parts.h"

namespace panup {

namespace {

const PlacedPantograph& pantograph(const JudgedCase& judged, std::size_t p) {
  return judged.train.pantographs[p];
}

/// A breach of a rule that is not forbidden by nature: counts, and forbids where the book says so.
template <typename Text>
void breach(const Rule& rule, std::uint16_t& count, Opinion& opinion, const Text& text) {
  ++count;
  opinion.say_departure(rule, text);
}

bool word_is(const Rule& rule, std::string_view key, std::string_view word) {
  const auto found = rule.words.find(key);
  return found != rule.words.end() && found->second == word;
}

int strips_up(const JudgedCase& judged, PantographSet up) {
  int strips = 0;
  for (const std::size_t p : judged.raised_front_first) {
    strips += up.contains(p) ? pantograph(judged, p).type->strip_count : 0;
  }
  return strips;
}

/// Whether none of them would do by itself.
bool each_has_fewer_strips(const JudgedCase& judged, PantographSet up, int least) {
  return std::ranges::all_of(judged.raised_front_first, [&](std::size_t p) {
    return !up.contains(p) || pantograph(judged, p).type->strip_count < least;
  });
}

/// The vehicle directly behind, with nothing between; null if there is none.
const RunningVehicle* directly_behind(const RunningTrain& train, std::size_t v) {
  if (v + 1 >= train.vehicles.size() || train.vehicles[v + 1].item != train.vehicles[v].item + 1) {
    return nullptr;
  }
  return &train.vehicles[v + 1];
}

const LoadGroup& load_at(const JudgedCase& judged, std::size_t item) {
  const std::size_t index = judged.train.layout.items[item].consist_index;
  return std::get<LoadGroup>(judged.train.train->consist[index]);
}

std::string position_text(const Words& words, const RunningVehicle& vehicle,
                          const VehicleRole& role) {
  const std::string& name = name_of(vehicle);
  if (!role.protects.empty()) {
    return words.say("{}, nearest ahead of a load to be protected", name);
  }
  if (role.first_of_group && role.last_of_group) {
    return role.banking ? words.say("{}, banking", name) : words.say("{}, by itself", name);
  }
  if (role.banking) {
    return role.last_of_group ? words.say("{}, banking, the last working one", name)
                              : words.say("{}, banking, with another one behind it", name);
  }
  return role.last_of_group ? words.say("{}, the last working one", name)
                            : words.say("{}, with another one behind it", name);
}

}  // namespace

void judge_facing_pair(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  const bool about_diamonds = word_is(rule, "frames", "any diamond");
  const auto vehicle_of = [&](std::size_t p) {
    return std::ranges::find_if(judged.train.vehicles, [&](const RunningVehicle& vehicle) {
      return vehicle.all.contains(p);
    });
  };
  for (std::size_t i = 1; i < judged.raised_front_first.size(); ++i) {
    const PlacedPantograph& ahead = pantograph(judged, judged.raised_front_first[i - 1]);
    const PlacedPantograph& behind = pantograph(judged, judged.raised_front_first[i]);
    const bool any_diamond = ahead.type->frame == PantographFrame::diamond ||
                             behind.type->frame == PantographFrame::diamond;
    if (ahead.half != RoofHalf::rear || behind.half != RoofHalf::front ||
        ahead.ref.vehicle == behind.ref.vehicle || any_diamond != about_diamonds) {
      continue;
    }
    const auto first = vehicle_of(judged.raised_front_first[i - 1]);
    const auto second = vehicle_of(judged.raised_front_first[i]);
    if (second->item != first->item + 1) {
      continue;
    }
    breach(rule, opinion.verdict.facing_pairs, opinion, [&] {
      const double apart_m = behind.from_front_m - ahead.from_front_m;
      return any_diamond
                 ? judged.words().say(
                       "{} and {} face each other across the coupling, {:.1f} m apart, one of them "
                       "diamond-type.",
                       to_string(ahead.ref), to_string(behind.ref), apart_m)
                 : judged.words().say(
                       "{} and {} face each other across the coupling, {:.1f} m apart.",
                       to_string(ahead.ref), to_string(behind.ref), apart_m);
    });
  }
}

void judge_contact_points(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  const bool for_ice = rule.kind == RuleKind::ice_pantographs;
  if (for_ice && !judged.iced) {
    return;
  }
  const bool about_leading = word_is(rule, "place", "leading");
  const int least = static_cast<int>(
      number_of(rule, for_ice ? "least_raised" : "least_contact_points").value_or(1));
  for (std::size_t v = 0; v < judged.train.vehicles.size(); ++v) {
    const VehicleRole& role = judged.roles[v];
    if (!role.working || role.first_of_group != about_leading) {
      continue;
    }
    const RunningVehicle& vehicle = judged.train.vehicles[v];
    const PantographSet up = judged.raised & vehicle.all;
    const int strips = strips_up(judged, up);
    const int number = for_ice ? static_cast<int>(up.size()) : strips;
    if (number < least) {
      std::uint16_t& count = !about_leading ? opinion.verdict.following_short
                             : role.banking ? opinion.verdict.banking_short
                                            : opinion.verdict.leading_short;
      breach(rule, count, opinion, [&] {
        const std::string which = list_of(judged.train, up);
        return for_ice ? judged.words().say("{} has only {} up; ice asks for two.",
                                            name_of(vehicle), which)
                       : judged.words().say("{} has only {} up, a single contact strip.",
                                            name_of(vehicle), which);
      });
    } else if (for_ice || each_has_fewer_strips(judged, up, least)) {
      opinion.say_kept(rule, [&] {
        return for_ice ? judged.words().say("{} has {} up because of the ice.", name_of(vehicle),
                                            list_of(judged.train, up))
                       : judged.words().say("{} has {} up: {} contact strips on the wire.",
                                            name_of(vehicle), list_of(judged.train, up), strips);
      });
    }
  }
}

void judge_load_protection(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  for (std::size_t v = 0; v < judged.train.vehicles.size(); ++v) {
    const RunningVehicle& vehicle = judged.train.vehicles[v];
    const PantographSet wrong = judged.raised & vehicle.rear_half;
    for (const std::size_t item : judged.roles[v].protects) {
      const LoadGroup& load = load_at(judged, item);
      if (wrong.empty()) {
        opinion.say_kept(rule, [&] {
          return judged.words().say("{} has its rear half clear for the {} load behind it ({}).",
                                    name_of(vehicle), judged.words().named(name_of(load.nature)),
                                    load.name);
        });
        continue;
      }
      std::uint16_t& count = load.nature == LoadNature::dangerous
                                 ? opinion.verdict.exposed_dangerous
                                 : opinion.verdict.exposed_sensitive;
      breach(rule, count, opinion, [&] {
        return judged.words().say(
            "The {}: permitted where nothing better is left.",
            exposure_words({load.name, load.nature, refs_of(judged.train, wrong)}, judged.words()));
      });
    }
  }
}

PositionRule position_rule(const Rule& rule) {
  return {.place = word_is(rule, "place", "ahead of load") ? PositionRule::Place::ahead_of_load
                   : word_is(rule, "place", "last")        ? PositionRule::Place::last
                   : word_is(rule, "place", "not last")    ? PositionRule::Place::not_last
                                                           : PositionRule::Place::none,
          .front = word_is(rule, "position", "front")};
}

bool speaks_of(const PositionRule& rule, const VehicleRole& role) {
  if (!role.working) {
    return false;
  }
  if (!role.protects.empty()) {
    return rule.place == PositionRule::Place::ahead_of_load;
  }
  return rule.place ==
         (role.last_of_group ? PositionRule::Place::last : PositionRule::Place::not_last);
}

PantographSet prescribed_on(const PositionRule& rule, const JudgedCase& judged,
                            const RunningVehicle& vehicle) {
  std::optional<std::size_t> outermost;
  for (const std::size_t p : vehicle.all& judged.fit) {
    const auto from_front_m = [&](std::size_t one) {
      return judged.train.pantographs[one].from_front_m;
    };
    if (!outermost || (rule.front ? from_front_m(p) < from_front_m(*outermost)
                                  : from_front_m(p) > from_front_m(*outermost))) {
      outermost = p;
    }
  }
  return outermost ? PantographSet{*outermost} : PantographSet{};
}

void judge_prescribed_position(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  const PositionRule position = position_rule(rule);
  const PantographSet all_ordered = ordered_up(judged.train, judged.fit, judged.defective);
  for (std::size_t v = 0; v < judged.train.vehicles.size(); ++v) {
    const RunningVehicle& vehicle = judged.train.vehicles[v];
    if (!speaks_of(position, judged.roles[v])) {
      continue;
    }
    const PantographSet up = judged.raised & vehicle.all;
    const PantographSet wanted = prescribed_on(position, judged, vehicle);
    const PantographSet wrong = up ^ wanted;
    // What the train file orders up on the vehicle stands in place of what is prescribed there.
    const PantographSet ordered = all_ordered & vehicle.all;
    opinion.verdict.departures = static_cast<std::uint16_t>(
        opinion.verdict.departures + (up ^ (ordered.empty() ? wanted : ordered)).size());
    const Words& words = judged.words();
    const auto text = [&] {
      const std::string who = position_text(words, vehicle, judged.roles[v]);
      if ((judged.fit & vehicle.all).size() == 1) {
        return judged.words().say("{}: {} is its only one that fits here.", who,
                                  list_of(judged.train, wanted));
      }
      if (wrong.empty()) {
        return judged.words().say("{}: {} alone.", who, list_of(judged.train, up));
      }
      const bool by_order = (up & wrong).intersects(ordered);
      if (up.includes(wanted)) {
        const std::string alone = list_of(judged.train, wanted);
        const std::string more = list_of(judged.train, up - wanted);
        return by_order ? words.say(
                              "{}: {} alone is prescribed; {} as well, by order of the train file.",
                              who, alone, more)
                        : words.say("{}: {} alone is prescribed; {} as well.", who, alone, more);
      }
      const std::string prescribed = list_of(judged.train, wanted);
      const std::string instead = list_of(judged.train, up);
      return by_order ? words.say("{}: {} is prescribed; {} instead, by order of the train file.",
                                  who, prescribed, instead)
             : wanted.intersects(judged.defective)
                 ? words.say(
                       "{}: {} is prescribed; {} instead, because what is prescribed is defective.",
                       who, prescribed, instead)
                 : words.say("{}: {} is prescribed; {} instead.", who, prescribed, instead);
    };
    if (wrong.empty()) {
      opinion.say_kept(rule, text);
    } else {
      opinion.say_departure(rule, text);
    }
  }
}

void judge_windscreen(const Rule& /*rule*/, const JudgedCase& judged, Opinion& opinion) {
  for (std::size_t v = 0; v < judged.train.vehicles.size(); ++v) {
    if (directly_behind(judged.train, v) != nullptr) {
      opinion.verdict.dirty_windscreens =
          static_cast<std::uint16_t>(opinion.verdict.dirty_windscreens +
                                     (judged.raised & judged.train.vehicles[v].rear_half).size());
    }
  }
}

void judge_fewest_raised(const Rule& /*rule*/, const JudgedCase& judged, Opinion& opinion) {
  opinion.verdict.raised = static_cast<std::uint16_t>(judged.raised.size());
}

}  // namespace panup
