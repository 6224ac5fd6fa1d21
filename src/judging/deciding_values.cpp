#include "judging/deciding_values.h"

#include <algorithm>

namespace panup {

namespace {

DecidingValue value(ValueOf of, const std::string& id, std::string key,
                    const Provenance& provenance, const Words& words) {
  std::string source = source_words(provenance, key, words);
  return {.of = of, .id = id, .key = std::move(key), .source = std::move(source)};
}

void add_unless_there(DecidingValue one, std::vector<DecidingValue>& values) {
  if (std::ranges::find(values, one) == values.end()) {
    values.push_back(std::move(one));
  }
}

}  // namespace

DecidingValue value_of_section(const JudgedCase& judged, std::string key) {
  return {.of = ValueOf::section, .id = judged.section_id, .key = std::move(key)};
}

DecidingValue value_of(const PantographType& type, std::string key, const Words& words) {
  return value(ValueOf::pantograph_type, type.id, std::move(key), type.provenance, words);
}

DecidingValue value_of(const VehicleType& type, std::string key, const Words& words) {
  return value(ValueOf::vehicle_type, type.id, std::move(key), type.provenance, words);
}

DecidingValue value_of(const SeparationSection& separation, std::string key, const Words& words) {
  return value(ValueOf::separation_section, separation.name, std::move(key), separation.provenance,
               words);
}

DecidingValue value_of(const LowPlace& place, std::string key, const Words& words) {
  return value(ValueOf::low_place, place.name, std::move(key), place.provenance, words);
}

std::vector<DecidingValue> values_of_fit(RuleKind kind, const LineProperties& section,
                                         const std::string& section_id, const PantographType& type,
                                         const Words& words) {
  std::vector<DecidingValue> values;
  const auto of_section = [&](bool stated, const char* key) {
    if (stated) {
      values.push_back({.of = ValueOf::section, .id = section_id, .key = key});
    }
  };
  const auto of_type = [&](bool stated, const char* key) {
    if (stated) {
      values.push_back(value_of(type, key, words));
    }
  };
  switch (kind) {
    case RuleKind::pantograph_head:
      of_section(section.permitted_heads.has_value(), "permitted_heads");
      of_section(section.permitted_head_widths_mm.has_value(), "permitted_head_widths_mm");
      of_type(section.permitted_heads && type.head_type, "head_type");
      of_type(!section.permitted_heads || !type.head_type, "head_width_mm");
      break;
    case RuleKind::contact_strip:
      of_section(section.permitted_strip_materials.has_value(), "permitted_strip_materials");
      of_section(section.greatest_metallic_content_percent.has_value(),
                 "greatest_metallic_content_percent");
      of_type(true, "strip_material");
      of_type(section.greatest_metallic_content_percent && type.metallic_content_percent,
              "metallic_content_percent");
      break;
    case RuleKind::automatic_dropping_device:
      of_section(section.automatic_dropping_device_required.has_value(),
                 "automatic_dropping_device_required");
      of_type(true, "automatic_dropping_device");
      break;
    case RuleKind::wire_height:
      of_section(section.wire_height_min_m.has_value(), "wire_height_min_m");
      of_section(section.wire_height_max_m.has_value(), "wire_height_max_m");
      of_type(true, "working_height_min_m");
      of_type(true, "working_height_max_m");
      break;
    case RuleKind::permitted_static_force:
      of_section(section.greatest_static_force_n.has_value(), "greatest_static_force_n");
      of_type(true, "supply");
      break;
    default:
      of_section(section.supply.has_value(), "system");
      of_type(true, "supply");
      break;
  }
  return values;
}

std::vector<DecidingValue> values_of_distances(const JudgedCase& judged) {
  std::vector<DecidingValue> values;
  if (judged.raised_front_first.size() < 2) {
    return values;
  }
  const RunningTrain& train = judged.train;
  const auto carrier = [&](std::size_t pantograph) {
    return std::ranges::find_if(train.vehicles, [&](const RunningVehicle& vehicle) {
      return vehicle.all.contains(pantograph);
    });
  };
  const auto first = carrier(judged.raised_front_first.front());
  const auto last = carrier(judged.raised_front_first.back());
  for (auto vehicle = first; vehicle <= last; ++vehicle) {
    const VehicleType& type = *vehicle->vehicle->type;
    if (judged.raised.intersects(vehicle->all)) {
      add_unless_there(value_of(type, "pantograph", judged.words()), values);
    }
    if (first != last) {
      add_unless_there(value_of(type, "length_m", judged.words()), values);
    }
  }
  return values;
}

}  // namespace panup
