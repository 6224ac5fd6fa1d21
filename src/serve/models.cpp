#include "serve/models.h"

namespace panup {

namespace {

using Json = nlohmann::ordered_json;

template <typename Value>
Json or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json(nullptr);
}

template <typename List, typename Write>
Json list_of(const List& list, Write write) {
  Json json = Json::array();
  for (const auto& one : list) {
    json.push_back(write(one));
  }
  return json;
}

Json section_to_model(const Section& section) {
  return {
      {"id", section.id},
      {"name", section.name},
      {"from_km", section.from_km},
      {"to_km", section.to_km},
      {"line_speed_kmh", section.line_speed_kmh},
      {"energy_supply", section.supply ? Json(name_of(*section.supply)) : Json(nullptr)},
      {"design_type", section.design_type ? Json(name_of(*section.design_type)) : Json(nullptr)},
      {"contact_line", section.contact_line},
      {"permitted_head_widths_mm", or_null(section.permitted_head_widths_mm)}};
}

Json separation_to_model(const SeparationSection& separation) {
  return {{"name", separation.name},
          {"kind", name_of(separation.kind)},
          {"from_km", separation.from_km},
          {"to_km", separation.from_km + separation.length_m / 1000},
          {"length_m", separation.length_m},
          {"pantograph_lowered", separation.pantograph_lowered},
          {"breaker_off", separation.breaker_off}};
}

Json pantograph_to_model(const RoofPantograph& roof) {
  const PantographType& type = *roof.type;
  return {{"number", roof.number},
          {"type", type.id},
          {"name", type.name},
          {"from_cab1_m", roof.from_cab1_m},
          {"head_width_mm", type.head_width_mm},
          {"contact_strips", type.strip_count},
          {"frame", name_of(type.frame)},
          {"dynamic_model", type.dynamic_model.empty() ? Json(nullptr) : Json(type.dynamic_model)},
          {"systems",
           list_of(type.supplies, [](const PantographSupply& on) { return name_of(on.supply); })}};
}

}  // namespace

nlohmann::ordered_json route_to_model(const Route& route, const Conditions& conditions) {
  const auto stretch = [](const auto& one) {
    return Json{{"name", one.name}, {"from_km", one.from_km}, {"to_km", one.to_km}};
  };
  Json model;
  model["id"] = route.id;
  model["name"] = route.name;
  model["invented"] = route.invented;
  model["from_km"] = departure_km(route);
  model["to_km"] = route.sections.back().to_km;
  model["sections"] = list_of(route.sections, section_to_model);
  model["separations"] = list_of(route.separations, separation_to_model);
  model["lowered"] = list_of(route.lowered, stretch);
  model["low_places"] = list_of(route.low_places, [](const LowPlace& place) {
    return Json{{"name", place.name},
                {"from_km", place.from_km},
                {"to_km", place.to_km},
                {"wire_height_min_m", place.wire_height_min_m}};
  });
  model["stops"] = list_of(route.stops, [](const Stop& stop) {
    return Json{{"name", stop.name}, {"at_km", stop.at_km}, {"reversal", stop.reversal}};
  });
  model["landmarks"] = list_of(route.landmarks, [](const Landmark& mark) {
    return Json{{"name", mark.name},
                {"at_km", mark.at_km},
                {"signal", mark.signal},
                {"change_on_the_move", mark.change_on_the_move}};
  });
  model["gradients"] = list_of(route.gradients, [](const Gradient& gradient) {
    return Json{
        {"from_km", gradient.from_km}, {"to_km", gradient.to_km}, {"permille", gradient.permille}};
  });
  model["section_insulators"] =
      list_of(route.section_insulators, [](const SectionInsulator& insulator) {
        return Json{
            {"name", insulator.name}, {"at_km", insulator.at_km}, {"length_m", insulator.length_m}};
      });
  model["ice"] = list_of(conditions.ice, [](const IceStretch& ice) {
    return Json{{"from_km", ice.from_km}, {"to_km", ice.to_km}};
  });
  return model;
}

nlohmann::ordered_json vehicle_types_to_model(const Stock& stock) {
  return list_of(stock.vehicles, [](const std::shared_ptr<const VehicleType>& type) {
    return Json{{"stock", type->place.file},
                {"id", type->id},
                {"name", type->name},
                {"type", name_of(type->kind)},
                {"length_m", type->length_m},
                {"highest_speed_kmh", type->highest_speed_kmh},
                {"pantographs", list_of(type->pantographs, pantograph_to_model)}};
  });
}

}  // namespace panup
