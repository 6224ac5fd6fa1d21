#include "render/json_parts.h"

#include <algorithm>

#include "drawing/json_text.h"
#include "stock/layout.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

Json order_to_json(const Vehicle& vehicle, int pantograph) {
  const auto among = [pantograph](const std::vector<int>& numbers) {
    return std::ranges::find(numbers, pantograph) != numbers.end();
  };
  return among(vehicle.kept_down) ? Json("down")
         : among(vehicle.kept_up) ? Json("up")
                                  : Json(nullptr);
}

Json pantograph_to_json(const Vehicle& vehicle, const PlacedPantograph& placed,
                        const RoofPantograph& roof) {
  Json json;
  json["name"] = to_string(placed.ref);
  json["number"] = placed.ref.pantograph;
  json["from_cab1_m"] = roof.from_cab1_m;
  json["from_front_m"] = placed.from_front_m;
  json["half"] = placed.half == RoofHalf::front ? "front" : "rear";
  json["defective"] = placed.defective;
  json["ordered"] = order_to_json(vehicle, placed.ref.pantograph);
  json["type"] = placed.type->id;
  json["type_name"] = placed.type->name;
  json["frame"] = name_of(placed.type->frame);
  json["knuckle"] = placed.type->frame == PantographFrame::diamond ? Json(nullptr)
                    : placed.knuckle_leading                       ? Json("leading")
                                                                   : Json("trailing");
  json["contact_strips"] = placed.type->strip_count;
  json["head_width_mm"] = placed.type->head_width_mm;
  Json supplies = Json::array();
  for (const PantographSupply& supply : placed.type->supplies) {
    supplies.push_back(name_of(supply.supply));
  }
  json["energy_supplies"] = std::move(supplies);
  return json;
}

Json vehicle_to_json(const Vehicle& vehicle, const PlacedItem& place, const Layout& layout) {
  Json json;
  json["number"] = vehicle.number;
  json["id"] = vehicle.id;
  json["type"] = vehicle.type->id;
  json["type_name"] = vehicle.type->name;
  json["kind"] = name_of(vehicle.type->kind);
  json["front_m"] = place.front_m;
  json["length_m"] = vehicle.type->length_m;
  json["leading_cab"] = vehicle.leading_cab == Cab::cab1 ? 1 : 2;
  json["dead_in_tow"] = vehicle.dead_in_tow;
  Json pantographs = Json::array();
  for (const RoofPantograph& roof : vehicle.type->pantographs) {
    for (const PlacedPantograph& placed : layout.pantographs) {
      if (placed.ref == PantographRef{vehicle.number, roof.number}) {
        pantographs.push_back(pantograph_to_json(vehicle, placed, roof));
      }
    }
  }
  json["pantographs"] = std::move(pantographs);
  return json;
}

Json load_to_json(const LoadGroup& load, const PlacedItem& place) {
  Json json;
  json["name"] = load.name;
  json["nature"] = name_of(load.nature);
  json["front_m"] = place.front_m;
  json["length_m"] = load.length_m;
  json["highest_speed_kmh"] = optional_to_json(load.highest_speed_kmh);
  return json;
}

Json values_to_json(const std::vector<DecidingValue>& values) {
  Json json = Json::array();
  for (const DecidingValue& value : values) {
    json.push_back(Json{{"of", name_of(value.of)},
                        {"id", value.id},
                        {"key", value.key},
                        {"where_from", stated_or_null(value.source)}});
  }
  return json;
}

Json consents_to_json(const std::vector<Consent>& consents) {
  Json json = Json::array();
  for (const Consent& consent : consents) {
    const bool by_rule = !consent.rule.empty();
    json.push_back(Json{{"reference", consent.reference},
                        {"given_by", consent.given_by},
                        {"rule", by_rule ? Json(consent.rule) : Json(nullptr)},
                        {"number", by_rule ? Json(nullptr) : Json(consent.number)},
                        {"distance_m", by_rule ? Json(nullptr) : Json(consent.distance_m)},
                        {"speed_kmh", by_rule ? Json(nullptr) : Json(consent.speed_kmh)},
                        {"sections", consent.sections},
                        {"valid_from", stated_or_null(consent.valid.from)},
                        {"valid_until", stated_or_null(consent.valid.until)},
                        {"file", stated_or_null(consent.file)}});
  }
  return json;
}

}  // namespace

Json stated_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json diagnostics_to_json(const Diagnostics& diagnostics) {
  Json list = Json::array();
  for (const Diagnostic& diagnostic : diagnostics) {
    list.push_back({{"file", diagnostic.place.file},
                    {"line", diagnostic.place.line},
                    {"column", diagnostic.place.column},
                    {"text", diagnostic.text}});
  }
  return list;
}

Json refs_to_json(const std::vector<PantographRef>& refs) {
  Json json = Json::array();
  for (const PantographRef ref : refs) {
    json.push_back(to_string(ref));
  }
  return json;
}

Json findings_to_json(const std::vector<Finding>& findings) {
  Json json = Json::array();
  for (const Finding& finding : findings) {
    Json entry;
    entry["rule"] = finding.rule;
    entry["strength"] = name_of(finding.strength);
    entry["standing"] = name_of(finding.standing);
    entry["kept"] = finding.kept ? Json(*finding.kept) : Json(nullptr);
    entry["text"] = finding.text;
    entry["source"] = finding.source;
    entry["because"] = finding.because;
    entry["values"] = values_to_json(finding.values);
    json.push_back(std::move(entry));
  }
  return json;
}

Json exposed_to_json(const std::vector<ExposedLoad>& exposed) {
  Json json = Json::array();
  for (const ExposedLoad& load : exposed) {
    json.push_back(Json{{"load", load.load},
                        {"nature", name_of(load.nature)},
                        {"pantographs", refs_to_json(load.to)}});
  }
  return json;
}

Json train_to_json(const Train& train) {
  const Layout layout = lay_out(train, false);
  Json json;
  json["id"] = train.id;
  json["name"] = train.name;
  json["operated_by"] = train.operated_by;
  json["invented"] = train.invented;
  json["length_m"] = layout.length_m;
  json["highest_speed_kmh"] = optional_to_json(train.highest_speed_kmh);
  json["acceleration_ms2"] = train.acceleration_ms2;
  json["braking_ms2"] = train.braking_ms2;
  Json vehicles = Json::array();
  Json loads = Json::array();
  for (const PlacedItem& place : layout.items) {
    const ConsistItem& item = train.consist[place.consist_index];
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      vehicles.push_back(vehicle_to_json(*vehicle, place, layout));
    } else {
      loads.push_back(load_to_json(std::get<LoadGroup>(item), place));
    }
  }
  json["vehicles"] = std::move(vehicles);
  json["loads"] = std::move(loads);
  json["consents"] = consents_to_json(train.consents);
  return json;
}

}  // namespace panup
