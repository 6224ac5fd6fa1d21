/// Which pantographs may be raised at all.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "judging/deciding_values.h"
#include "judging/judge_parts.h"

namespace panup {

namespace {

std::optional<std::string> head_type_mistake(const Words& words,
                                             const std::vector<HeadType>& permitted,
                                             const PantographType& type) {
  if (type.head_type && std::ranges::find(permitted, *type.head_type) != permitted.end()) {
    return std::nullopt;
  }
  std::vector<std::string_view> names;
  for (const HeadType one : permitted) {
    names.push_back(name_of(one));
  }
  return type.head_type
             ? words.say("its head is of type {}; permitted: {}", name_of(*type.head_type),
                         fmt::to_string(fmt::join(names, ", ")))
             : words.say("of which type its {:g} mm head is, is not stated; permitted: {}",
                         type.head_width_mm, fmt::to_string(fmt::join(names, ", ")));
}

std::optional<std::string> head_mistake(const Words& words, const LineProperties& section,
                                        const PantographType& type) {
  if (section.permitted_heads) {
    if (auto mistake = head_type_mistake(words, *section.permitted_heads, type)) {
      return mistake;
    }
    if (!section.permitted_head_widths_mm) {
      return std::nullopt;
    }
  }
  if (!section.permitted_head_widths_mm) {
    return words.say("the section says nothing of permitted heads, so its {:g} mm head is not",
                     type.head_width_mm);
  }
  if (std::ranges::find(*section.permitted_head_widths_mm, type.head_width_mm) ==
      section.permitted_head_widths_mm->end()) {
    std::string widths;
    for (const double width_mm : *section.permitted_head_widths_mm) {
      widths += (widths.empty() ? "" : ", ") + words.say("{:g}", width_mm);
    }
    return words.say("its head is {:g} mm wide; permitted: {} mm", type.head_width_mm, widths);
  }
  return std::nullopt;
}

/// Of strips whose material is permitted.
std::optional<std::string> metal_mistake(const Words& words, const LineProperties& section,
                                         const PantographType& type) {
  const auto& greatest = section.greatest_metallic_content_percent;
  const auto content = metallic_content_percent(type);
  if (!greatest || (content && *content <= *greatest)) {
    return std::nullopt;
  }
  return content
             ? words.say("{:g} % of its strips are metal; permitted: {:g} %", *content, *greatest)
             : words.say("how much of its strips is metal, is not stated; permitted: {:g} %",
                         *greatest);
}

std::optional<std::string> static_force_mistake(const Words& words, const LineProperties& section,
                                                const PantographType& type) {
  const PantographSupply* const on = section.supply ? supply_of(type, *section.supply) : nullptr;
  if (!section.greatest_static_force_n || on == nullptr ||
      on->static_force_n <= *section.greatest_static_force_n) {
    return std::nullopt;
  }
  return words.say("its static force is {:g} N; permitted: {:g} N", on->static_force_n,
                   *section.greatest_static_force_n);
}

std::optional<std::string> strip_mistake(const Words& words, const LineProperties& section,
                                         const PantographType& type) {
  if (!section.permitted_strip_materials) {
    return words.say("the section says nothing of strip materials, so its {} strips are not",
                     words.named(name_of(type.strip_material)));
  }
  if (std::ranges::find(*section.permitted_strip_materials, type.strip_material) !=
      section.permitted_strip_materials->end()) {
    return metal_mistake(words, section, type);
  }
  std::vector<std::string> names;
  for (const StripMaterial material : *section.permitted_strip_materials) {
    names.push_back(words.named(name_of(material)));
  }
  return words.say("its strips are of {}; permitted: {}", words.named(name_of(type.strip_material)),
                   fmt::to_string(fmt::join(names, ", ")));
}

std::optional<std::string> device_mistake(const Words& words, const LineProperties& section,
                                          const PantographType& type) {
  if (type.automatic_dropping_device ||
      !section.automatic_dropping_device_required.value_or(true)) {
    return std::nullopt;
  }
  return section.automatic_dropping_device_required
             ? words.say("it has no automatic dropping device, which the section requires")
             : words.say(
                   "it has no automatic dropping device, and the section does not say that none is "
                   "required");
}

std::optional<std::string> height_mistake(const Words& words, const LineProperties& section,
                                          const PantographType& type) {
  if (!section.wire_height_min_m || !section.wire_height_max_m) {
    return words.say("the section does not state its wire heights");
  }
  if (*section.wire_height_min_m < type.working_height_min_m ||
      *section.wire_height_max_m > type.working_height_max_m) {
    return words.say("it works from {:g} to {:g} m, the wire runs from {:g} to {:g} m",
                     type.working_height_min_m, type.working_height_max_m,
                     *section.wire_height_min_m, *section.wire_height_max_m);
  }
  return std::nullopt;
}

std::optional<std::string> supply_mistake(const Words& words, const LineProperties& section,
                                          const PantographType& type) {
  if (!section.supply) {
    return words.say("the section does not state its energy supply system");
  }
  if (supply_of(type, *section.supply) == nullptr) {
    return words.say("it is not for {}", words.named(name_of(*section.supply)));
  }
  return std::nullopt;
}

/// The vehicle that carries the pantograph.
const RunningVehicle& carrier_of(const RunningTrain& train, std::size_t pantograph) {
  return *std::ranges::find_if(train.vehicles, [&](const RunningVehicle& vehicle) {
    return vehicle.all.contains(pantograph);
  });
}

std::optional<std::string> vehicle_mistake(const Words& words, const LineProperties& section,
                                           const RunningVehicle& vehicle) {
  const VehicleType& type = *vehicle.vehicle->type;
  if (!section.supply || is_for(type, *section.supply)) {
    return std::nullopt;
  }
  return type.power.empty() && type.systems.empty()
             ? words.say("{} ({}) does not say for which systems it is built", name_of(vehicle),
                         type.name)
             : words.say("{} ({}) is not built for {}", name_of(vehicle), type.name,
                         words.named(name_of(*section.supply)));
}

std::optional<std::string> limitation_mistake(const Words& words, const LineProperties& section,
                                              const RunningVehicle& vehicle) {
  const VehicleType& type = *vehicle.vehicle->type;
  if (!section.current_limitation_required.value_or(false) ||
      type.current_limitation.value_or(false)) {
    return std::nullopt;
  }
  return type.current_limitation
             ? words.say(
                   "{} ({}) does not limit its current or power on board, which the section "
                   "requires",
                   name_of(vehicle), type.name)
             : words.say(
                   "{} ({}) does not say whether it limits its current or power on board, "
                   "which the section requires",
                   name_of(vehicle), type.name);
}

std::optional<std::string> mistake(const Words& words, RuleKind kind, const LineProperties& section,
                                   const PantographType& type) {
  switch (kind) {
    case RuleKind::pantograph_head:
      return head_mistake(words, section, type);
    case RuleKind::contact_strip:
      return strip_mistake(words, section, type);
    case RuleKind::automatic_dropping_device:
      return device_mistake(words, section, type);
    case RuleKind::wire_height:
      return height_mistake(words, section, type);
    case RuleKind::permitted_static_force:
      return static_force_mistake(words, section, type);
    default:
      return supply_mistake(words, section, type);
  }
}

/// Of the section, and of the vehicle that carries the pantograph, where it is about that.
std::vector<DecidingValue> values_of_supply(const JudgedCase& judged, std::size_t pantograph) {
  const VehicleType& type = *carrier_of(judged.train, pantograph).vehicle->type;
  std::vector<DecidingValue> values{
      {.of = ValueOf::section, .id = judged.section_id_over(pantograph), .key = "system"}};
  if (!type.power.empty()) {
    values.push_back(value_of(type, "power", judged.words()));
  }
  if (!type.systems.empty()) {
    values.push_back(value_of(type, "systems", judged.words()));
  }
  return values;
}

/// Why the vehicle has nothing up, and what that costs.
std::string put_dead_text(const JudgedCase& judged, const RunningVehicle& vehicle) {
  const PantographSet fit = judged.fit & vehicle.all;
  const Words& words = judged.words();
  std::string why = words.say("nothing else is left");
  if (const auto wrong = vehicle_mistake(judged.words(), judged.section, vehicle)) {
    why = *wrong;
  } else if (const auto unlimited = limitation_mistake(judged.words(), judged.section, vehicle)) {
    why = *unlimited;
  } else if (fit.empty()) {
    why = words.say("it has no pantograph that fits here");
  } else if ((fit - judged.defective).empty()) {
    why = words.say("all its pantographs that fit here are defective");
  }
  return judged.words().say(
      "{} goes dead in tow with its pantographs down: {}. It costs tractive effort: "
      "check the tonnage for the working locomotives.",
      name_of(vehicle), why);
}

}  // namespace

bool admits(const LineProperties& section, const PantographType& type) {
  return !head_mistake(Words(), section, type) && !strip_mistake(Words(), section, type) &&
         !device_mistake(Words(), section, type) && !height_mistake(Words(), section, type) &&
         !static_force_mistake(Words(), section, type);
}

bool follows(const PantographType& type, const LowPlace& place) {
  return type.working_height_min_m <= place.wire_height_min_m;
}

void judge_fit(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  for (const std::size_t p : judged.raised_front_first) {
    const PlacedPantograph& pantograph = judged.train.pantographs[p];
    auto wrong = mistake(judged.words(), rule.kind, judged.section_over(p), *pantograph.type);
    const bool by_pantograph = wrong.has_value();
    if (!wrong && rule.kind == RuleKind::pantograph_supply) {
      wrong = vehicle_mistake(judged.words(), judged.section_over(p), carrier_of(judged.train, p));
    }
    if (wrong) {
      opinion.forbid(rule, [&] {
        return FindingWords(judged.words().say("{}: {}.", to_string(pantograph.ref), *wrong),
                            by_pantograph ? values_of_fit(rule.kind, judged.section_over(p),
                                                          judged.section_id_over(p),
                                                          *pantograph.type, judged.words())
                                          : values_of_supply(judged, p));
      });
    }
    if (rule.kind != RuleKind::wire_height) {
      continue;
    }
    for (const LowPlace* const place : judged.low_places) {
      if (!follows(*pantograph.type, *place)) {
        opinion.forbid(rule, [&] {
          return FindingWords(
              judged.words().say(
                  "{}: it works down to {:g} m, the wire at {} comes down to {:g} m.",
                  to_string(pantograph.ref), pantograph.type->working_height_min_m, place->name,
                  place->wire_height_min_m),
              {value_of(*place, "wire_height_min_m", judged.words()),
               value_of(*pantograph.type, "working_height_min_m", judged.words())});
        });
      }
    }
  }
}

void judge_temperature(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  if (!judged.section.temperature_range || judged.raised.empty()) {
    return;
  }
  const Words& words = judged.words();
  const auto [least_c, greatest_c] = temperatures_of(*judged.section.temperature_range);
  const auto temperature_c =
      judged.section.temperature_c ? judged.section.temperature_c : judged.prepared.temperature_c;
  const auto said = [&](std::string text) {
    return FindingWords(std::move(text), {value_of_section(judged, "temperature_range")});
  };
  if (!temperature_c) {
    opinion.say(rule, Strength::note, [&] {
      return said(
          words.say("The temperature of the day is not stated; the section is built for "
                    "{:g} to {:g} °C.",
                    least_c, greatest_c));
    });
    return;
  }
  if (*temperature_c >= least_c && *temperature_c <= greatest_c) {
    return;
  }
  const auto text = [&] {
    return said(
        words.say("It is {:g} °C, and the section is built for {:g} to {:g} °C. Neither "
                  "yes nor no: whether trains run then, the infrastructure manager says.",
                  *temperature_c, least_c, greatest_c));
  };
  if (rule.strength == Strength::consent_needed) {
    ask_consent(rule, judged, opinion, text);
  } else {
    opinion.say(rule, rule.strength, text);
  }
}

void judge_width_alone(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  PantographSet by_width;
  for (const std::size_t p : judged.raised_front_first) {
    const LineProperties& section = judged.section_over(p);
    if (!section.permitted_heads &&
        !head_mistake(judged.words(), section, *judged.train.pantographs[p].type)) {
      by_width.insert(p);
    }
  }
  if (!by_width.empty()) {
    opinion.say(rule, Strength::note, [&] {
      return FindingWords(
          judged.words().say("{}: the section states permitted heads by width alone; whether it "
                             "admits this type of head was not looked at.",
                             list_of(judged.train, by_width)),
          {value_of_section(judged, "permitted_head_widths_mm")});
    });
  }
}

void judge_current_limitation(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  for (const std::size_t p : judged.raised_front_first) {
    if (const auto wrong = limitation_mistake(judged.words(), judged.section_over(p),
                                              carrier_of(judged.train, p))) {
      opinion.forbid(rule, [&] {
        const VehicleType& type = *carrier_of(judged.train, p).vehicle->type;
        std::vector<DecidingValue> values{{.of = ValueOf::section,
                                           .id = judged.section_id_over(p),
                                           .key = "current_limitation_required"}};
        if (type.current_limitation) {
          values.push_back(value_of(type, "current_limitation", judged.words()));
        }
        return FindingWords(
            judged.words().say("{}: {}.", to_string(judged.train.pantographs[p].ref), *wrong),
            std::move(values));
      });
    }
  }
}

void judge_separation_document(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  const auto working = std::ranges::count_if(
      judged.train.vehicles,
      [&](const RunningVehicle& vehicle) { return judged.raised.intersects(vehicle.all); });
  if (working > 1 && !judged.section.separation_document.empty()) {
    opinion.say(rule, rule.strength, [&] {
      return FindingWords(
          judged.words().say(
              "{} traction units work: where they may stand to one another is restricted for the "
              "separation sections here, by the document \"{}\". It was not read by this program: "
              "look it up.",
              working, judged.section.separation_document),
          {value_of_section(judged, "separation_document")});
    });
  }
}

void judge_defective(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  const PantographSet wrong = judged.raised & judged.defective;
  if (!wrong.empty()) {
    opinion.forbid(rule, [&] {
      return judged.words().say("{}: defective, stays down.", list_of(judged.train, wrong));
    });
  }
}

void judge_order(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  const PantographSet wrong = judged.raised & judged.train.kept_down;
  if (!wrong.empty()) {
    opinion.forbid(rule, [&] {
      return judged.words().say("{}: ordered by the train file to stay down.",
                                list_of(judged.train, wrong));
    });
  }
  const PantographSet missing =
      ordered_up(judged.train, judged.fit, judged.defective) - judged.raised;
  if (!missing.empty()) {
    opinion.forbid(rule, [&] {
      return judged.words().say("{}: ordered up by the train file, and fit for the section.",
                                list_of(judged.train, missing));
    });
  }
}

void judge_dead_in_tow(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  for (const RunningVehicle& vehicle : judged.train.vehicles) {
    if (!vehicle.dead) {
      continue;
    }
    const auto down = [&] {
      return judged.words().say("{} is dead in tow: its pantographs stay down.", name_of(vehicle));
    };
    if (judged.raised.intersects(vehicle.all)) {
      opinion.forbid(rule, down);
    } else {
      opinion.say(rule, Strength::note, down);
    }
  }
}

void judge_put_dead(const Rule& rule, const JudgedCase& judged, Opinion& opinion) {
  bool leading = true;
  for (std::size_t v = 0; v < judged.train.vehicles.size(); ++v) {
    const RunningVehicle& vehicle = judged.train.vehicles[v];
    if (vehicle.dead) {
      continue;
    }
    if (!judged.roles[v].working) {
      ++opinion.verdict.put_dead;
      opinion.verdict.leading_put_dead |= leading;
      if (!rule.on) {
        opinion.forbid(rule, [&] {
          return judged.words().say(
              "{} has no pantograph up, and the rule book does not let it go dead in tow.",
              name_of(vehicle));
        });
      } else if (judged.raised.empty()) {
        opinion.forbid(rule, [&] {
          return judged.words().say("{} has no pantograph up, and nothing else moves the train.",
                                    name_of(vehicle));
        });
      } else {
        opinion.say(rule, Strength::last_resort, [&] { return put_dead_text(judged, vehicle); });
      }
    }
    leading = false;
  }
}

}  // namespace panup
