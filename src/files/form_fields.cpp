#include "files/form_fields.h"

#include <algorithm>
#include <array>
#include <utility>

#include "files/form_field_makers.h"

namespace panup {

std::string_view name_of(FieldType type) {
  static constexpr std::array<std::string_view, 15> names{
      "text",  "id",    "number",  "whole",  "flag",  "day",    "time",        "word",
      "texts", "words", "numbers", "wholes", "table", "tables", "named tables"};
  return names.at(static_cast<std::size_t>(type));
}

namespace {

using namespace form_fields;

// What conditions are: read_conditions.cpp.

std::vector<FormField> place_and_time() {
  std::vector<FormField> fields{naming("sections", id_field("section")),
                                number_field("from_km", 0, 5000), number_field("to_km", 0, 5000)};
  for (FormField field :
       {id_field("line"), id_field("region"), plain_field("from", FieldType::time),
        plain_field("until", FieldType::time)}) {
    field.only_in_networks = true;
    fields.push_back(std::move(field));
  }
  return fields;
}

std::vector<FormField> conditions_fields() {
  FormField ice = tables_field("ice", place_and_time());
  ice.words = {"everywhere"};
  ice.in_one_line = true;
  FormField local = tables_field(
      "local", joined({place_and_time(),
                       {plain_field("ice", FieldType::flag), number_field("wind_ms", 0, 80),
                        number_field("temperature_c", -60, 60)}}));
  local.only_in_networks = true;
  return {std::move(ice),
          number_field("wind_ms", 0, 80),
          number_field("temperature_c", -60, 60),
          std::move(local),
          required(plain_field("name", FieldType::text)),
          plain_field("invented", FieldType::flag)};
}

// What defects are: read_defects.cpp.

std::vector<FormField> defects_fields() {
  return {
      tables_field("defect", {required(naming("vehicles", plain_field("vehicle", FieldType::text))),
                              required(whole_field("pantograph", 1, 8)),
                              plain_field("still_possible", FieldType::text),
                              required(plain_field("since", FieldType::day)),
                              plain_field("until", FieldType::day),
                              plain_field("reference", FieldType::text)}),
      plain_field("name", FieldType::text), plain_field("invented", FieldType::flag)};
}

// What a train is: read_train.cpp, read_consents.cpp.

std::vector<FormField> consent_fields() {
  return {required(plain_field("reference", FieldType::text)),
          required(plain_field("given_by", FieldType::text)),
          of_kind("rule", required(naming("rules", plain_field("rule", FieldType::text)))),
          of_kind("number", required(whole_field("number", 2, 16))),
          of_kind("number", required(above_field("distance_m", 0, 1000))),
          of_kind("number", required(number_field("speed_kmh", 5, 400))),
          naming("sections", plain_field("sections", FieldType::texts)),
          plain_field("valid_from", FieldType::day),
          plain_field("valid_until", FieldType::day)};
}

FormField consents_list(std::vector<FormField> fields) {
  FormField consents = tables_field("consent", std::move(fields));
  consents.kinds = {"number", "rule"};
  return consents;
}

std::vector<FormField> consents_fields() {
  FormField consents =
      consents_list(joined({consent_fields(),
                            {plain_field("trains", FieldType::texts),
                             naming("vehicle types", plain_field("classes", FieldType::texts))}}));
  consents.required = true;
  return {std::move(consents), plain_field("name", FieldType::text),
          plain_field("invented", FieldType::flag)};
}

std::vector<FormField> consist_fields() {
  std::vector<FormField> fields{
      required(naming("vehicle types", id_field("vehicle"))),
      plain_field("id", FieldType::text),
      required(whole_field("leading_cab", 1, 2)),
      plain_field("dead_in_tow", FieldType::flag),
      wholes_field("defective_pantographs", 1, 8),
      wholes_field("kept_down_pantographs", 1, 8),
      wholes_field("kept_up_pantographs", 1, 8),
      tables_field("current",
                   {required(supply_field("system")), required(number_field("running_a", 0, 20000)),
                    required(number_field("standstill_a", 0, 5000))})};
  for (FormField& field : fields) {
    field.only_of = "vehicle";
  }
  std::vector<FormField> load{
      required(plain_field("load", FieldType::text)),
      required(word_field("nature", {"ordinary", "dangerous", "sensitive"})),
      above_field("length_m", 0, 3000),
      naming("wagon groups", id_field("wagons")),
      number_field("highest_speed_kmh", 1, 400),
      plain_field("control_car", FieldType::flag)};
  for (FormField& field : running_data(30'000)) {
    load.push_back(std::move(field));
  }
  for (FormField& field : load) {
    field.only_of = "load";
    fields.push_back(std::move(field));
  }
  return fields;
}

std::vector<FormField> train_fields() {
  FormField consist = required(tables_field("consist", consist_fields()));
  consist.kinds = {"vehicle", "load"};
  FormField release = plain_field("release", FieldType::table);
  release.fields = {
      plain_field("train_number", FieldType::text), plain_field("date", FieldType::day),
      plain_field("days", FieldType::text),         whole_field("issue", 1, 9999),
      plain_field("made_by", FieldType::text),      plain_field("checked_by", FieldType::text),
      plain_field("released_by", FieldType::text),  plain_field("holds_until", FieldType::day)};
  return {required(plain_field("name", FieldType::text)),
          required(id_field("id")),
          number_field("highest_speed_kmh", 1, 400),
          required(number_field("acceleration_ms2", 0.01, 2)),
          required(number_field("braking_ms2", 0.01, 2)),
          std::move(consist),
          consents_list(consent_fields()),
          std::move(release),
          tables_field("high_voltage_line", {required(wholes_field("vehicles", 1, 64)),
                                             plain_field("can_be_opened", FieldType::flag)}),
          tables_field("deviation", {required(plain_field("what", FieldType::text)),
                                     required(plain_field("by", FieldType::text)),
                                     required(plain_field("reason", FieldType::text))}),
          plain_field("operated_by", FieldType::text),
          required(naming("stock files", plain_field("stock", FieldType::texts))),
          naming("consent files", plain_field("consents", FieldType::texts)),
          plain_field("invented", FieldType::flag)};
}

}  // namespace

namespace form_fields {

std::vector<FormField> running_data(double greatest_mass_t) {
  return {number_field("mass_t", 0.1, greatest_mass_t), number_field("davis_a_n", 0, 500'000),
          number_field("davis_b_n_per_kmh", 0, 100'000),
          number_field("davis_c_n_per_kmh2", 0, 1'000)};
}

std::string_view unit_of(std::string_view key) {
  // The longer endings first: "_n_per_m" is no "_m".
  struct Ending {
    std::string_view of_key;
    std::string_view unit;
  };
  static constexpr std::array<Ending, 23> units{Ending{"_n_per_kmh2", "N/(km/h)²"},
                                                {"_n_per_kmh", "N/(km/h)"},
                                                {"_ns_per_m", "N s/m"},
                                                {"_n_per_m", "N/m"},
                                                {"_kg_per_m", "kg/m"},
                                                {"_per_k", "1/K"},
                                                {"_per_s", "1/s"},
                                                {"_nm2", "N m²"},
                                                {"_percent", "%"},
                                                {"permille", "‰"},
                                                {"_kmh", "km/h"},
                                                {"_ms2", "m/s²"},
                                                {"_ms", "m/s"},
                                                {"_km", "km"},
                                                {"_mm", "mm"},
                                                {"_kw", "kW"},
                                                {"_kg", "kg"},
                                                {"_m", "m"},
                                                {"_s", "s"},
                                                {"_n", "N"},
                                                {"_t", "t"},
                                                {"_a", "A"},
                                                {"_c", "°C"}};
  const auto* const found =
      std::ranges::find_if(units, [key](const Ending& unit) { return key.ends_with(unit.of_key); });
  return found == units.end() ? std::string_view() : found->unit;
}

}  // namespace form_fields

std::vector<FormField> form_fields_of(FileKind kind) {
  switch (kind) {
    case FileKind::conditions:
      return conditions_fields();
    case FileKind::defects:
      return defects_fields();
    case FileKind::train:
      return train_fields();
    case FileKind::consents:
      return consents_fields();
    case FileKind::stock:
      return form_fields::stock_fields();
    case FileKind::route:
      return form_fields::route_fields();
    case FileKind::contact_line:
      return form_fields::contact_line_fields();
    case FileKind::pantograph_model:
      return form_fields::pantograph_model_fields();
    default:
      return {};
  }
}

const FormField* field_at(const std::vector<FormField>& fields,
                          const std::vector<std::string>& keys) {
  const std::vector<FormField>* among = &fields;
  const FormField* field = nullptr;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const auto found = std::ranges::find(*among, keys[i], &FormField::key);
    if (found == among->end()) {
      return nullptr;
    }
    field = &*found;
    among = &field->fields;
    if (field->type == FieldType::named_tables) {
      ++i;  // the name
    }
  }
  return field;
}

}  // namespace panup
