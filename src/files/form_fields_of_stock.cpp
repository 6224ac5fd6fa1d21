#include "files/form_field_makers.h"
#include "stock/head_type.h"

namespace panup::form_fields {

namespace {

std::vector<FormField> pantograph_type_fields() {
  return {
      required(id_field("id")),
      plain_field("name", FieldType::text),
      required(number_field("head_width_mm", 1000, 2500)),
      word_field("head_type", head_type_names()),
      number_field("working_width_mm", 500, 2500),
      required(whole_field("contact_strips", 1, 8)),
      number_field("strip_length_along_track_mm", 10, 1500),
      above_field("greatest_current_per_strip_a", 0, 3000),
      required(word_field("strip_material", strip_material_names())),
      number_field("metallic_content_percent", 0, 100),
      required(word_field("frame", {"single-arm", "diamond"})),
      number_field("aerodynamic_n_per_kmh2", -0.01, 0.01),
      required(number_field("highest_speed_kmh", 1, 400)),
      required(plain_field("automatic_dropping_device", FieldType::flag)),
      required(number_field("working_height_min_m", 3, 9)),
      required(number_field("working_height_max_m", 3, 9)),
      required(number_field("raising_time_s", 0.5, 60)),
      required(number_field("lowering_time_s", 0.5, 60)),
      naming("pantograph models", plain_field("dynamic_model", FieldType::text)),
      required(tables_field("supply", {required(supply_field("system")),
                                       required(number_field("static_force_n", 20, 300)),
                                       required(above_field("running_current_a", 0, 5000)),
                                       required(above_field("standstill_current_a", 0, 2000))}))};
}

std::vector<FormField> vehicle_type_fields() {
  return joined(
      {{required(id_field("id")), plain_field("name", FieldType::text),
        required(word_field("type", {"locomotive", "electric unit", "wagon group"})),
        required(above_field("length_m", 0, 500)),
        required(number_field("highest_speed_kmh", 1, 400))},
       running_data(2000),
       {plain_field("roof_line", FieldType::flag),
        plain_field("roof_line_can_be_opened", FieldType::flag),
        plain_field("current_limitation", FieldType::flag),
        plain_field("high_voltage_coupler", FieldType::flag),
        words_field("systems", supply_names()),
        tables_field(
            "power",
            {required(supply_field("system")), required(number_field("power_kw", 1, 20000)),
             number_field("auxiliary_kw", 0, 3000), number_field("power_factor", 0.3, 1),
             number_field("efficiency", 0.3, 1), above_field("greatest_current_a", 0, 20000)}),
        tables_field("pantograph", {required(naming("pantograph types", id_field("type"))),
                                    required(above_field("from_cab1_m", 0, 500)),
                                    word_field("knuckle_towards", {"cab 1", "cab 2"}),
                                    word_field("nearer_cab", {"cab 1", "cab 2"})})}});
}

}  // namespace

// What stock is: read_stock.cpp.
std::vector<FormField> stock_fields() {
  return {tables_field("vehicle", vehicle_type_fields()),
          tables_field("pantograph", pantograph_type_fields()),
          plain_field("dynamic_model_folder", FieldType::text),
          plain_field("invented", FieldType::flag)};
}

}  // namespace panup::form_fields
