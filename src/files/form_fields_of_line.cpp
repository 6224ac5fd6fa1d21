#include "files/form_field_makers.h"
#include "stock/head_type.h"

namespace panup::form_fields {

namespace {

FormField chainage(std::string_view key) { return required(number_field(key, 0, 5000)); }

FormField name_field() { return required(plain_field("name", FieldType::text)); }

/// What a section states of its line, itself or by a profile.
std::vector<FormField> line_data_fields() {
  FormField contact_force = plain_field("greatest_contact_force", FieldType::table);
  contact_force.fields = {number_field("square_n_per_kmh2", 0, 0.01),
                          required(number_field("constant_n", 20, 1000))};
  return {number_field("line_speed_kmh", 5, 400),
          supply_field("system"),
          words_field("permitted_heads", head_type_names()),
          numbers_field("permitted_head_widths_mm", 1000, 2500),
          words_field("permitted_strip_materials", strip_material_names()),
          word_field("design_type", {"A", "B", "C"}),
          naming("contact lines", plain_field("contact_line", FieldType::text)),
          in_one_line(tables_field(
              "raised", {required(whole_field("number", 1, 16)), above_field("distance_m", 0, 1000),
                         required(number_field("speed_kmh", 5, 400))})),
          word_field("temperature_range", {"T1", "T2", "T3", "Tx"}),
          above_field("greatest_train_current_a", 0, 20000),
          above_field("greatest_standstill_current_a", 0, 5000),
          number_field("wire_height_min_m", 3, 9),
          number_field("wire_height_max_m", 3, 9),
          number_field("greatest_metallic_content_percent", 0, 100),
          number_field("greatest_static_force_n", 20, 300),
          in_one_line(std::move(contact_force)),
          plain_field("automatic_dropping_device_required", FieldType::flag),
          plain_field("current_limitation_required", FieldType::flag),
          plain_field("separation_document", FieldType::text),
          in_one_line(tables_field("wires", {required(number_field("diameter_mm", 1, 50)),
                                             required(number_field("tension_n", 500, 60000))})),
          tables_field("span", {required(number_field("length_m", 5, 120)),
                                required(numbers_field("stagger_mm", -800, 800)),
                                number_field("curve_radius_m", 100, 100000),
                                whole_field("number", 1, 100000)}),
          plain_field("line", FieldType::text)};
}

FormField separation_list() {
  return tables_field(
      "separation",
      {name_field(), required(word_field("type", {"phase", "system"})), chainage("from_km"),
       required(above_field("length_m", 0, 5000)),
       required(plain_field("pantograph_lowered", FieldType::flag)),
       required(plain_field("breaker_off", FieldType::flag)),
       word_field("length_is", {"minimum between inner strips", "maximum between outer strips"}),
       tables_field("zone",
                    {required(word_field("kind", {"live", "neutral", "earthed", "insulator"})),
                     id_field("phase"), supply_field("system"), number_field("from_m", -500, 5500),
                     number_field("to_m", -500, 5500)})});
}

std::vector<FormField> wire_fields() {
  return {required(number_field("tension_n", 500, 60000)),
          required(number_field("mass_kg_per_m", 0.05, 5)),
          number_field("bending_stiffness_nm2", 0, 2000),
          number_field("axial_stiffness_n", 1e5, 1e9),
          number_field("thermal_expansion_per_k", 1e-6, 1e-4),
          number_field("diameter_mm", 1, 50),
          whole_field("number", 1, 2)};
}

}  // namespace

// What a route is: read_route.cpp, read_track.cpp, read_track_parts.cpp, read_line_geometry.cpp.
std::vector<FormField> route_fields() {
  std::vector<FormField> section =
      joined({{required(id_field("id")), plain_field("name", FieldType::text), chainage("from_km"),
               chainage("to_km"), naming("profiles", plain_field("profile", FieldType::text))},
              line_data_fields()});
  return {name_field(),
          required(id_field("id")),
          required(tables_field("section", std::move(section))),
          named_tables_field("profile", line_data_fields()),
          separation_list(),
          tables_field("lowered", {name_field(), chainage("from_km"), chainage("to_km")}),
          tables_field("low_place", {name_field(), chainage("from_km"), chainage("to_km"),
                                     required(number_field("wire_height_min_m", 3, 9))}),
          tables_field("stop",
                       {name_field(), chainage("at_km"), plain_field("reversal", FieldType::flag)}),
          tables_field("landmark",
                       {name_field(), chainage("at_km"), plain_field("signal", FieldType::flag),
                        plain_field("change_on_the_move", FieldType::flag),
                        word_field("board", {"breaker off", "lower", "raise", "breaker on"}),
                        plain_field("board_of", FieldType::text)}),
          tables_field("gradient", {chainage("from_km"), chainage("to_km"),
                                    required(number_field("permille", -120, 120))}),
          tables_field("section_insulator", {name_field(), chainage("at_km"),
                                             required(above_field("length_m", 0, 500))}),
          plain_field("contact_line_folder", FieldType::text),
          plain_field("invented", FieldType::flag)};
}

// What a contact line is: read_contact_line.cpp, read_line_parts.cpp.
std::vector<FormField> contact_line_fields() {
  std::vector<FormField> support{number_field("encumbrance_m", 0.1, 5),
                                 number_field("messenger_stiffness_n_per_m", 1000, 1e8),
                                 number_field("messenger_mass_kg", 0, 200),
                                 number_field("steady_arm_mass_kg", 0, 50),
                                 number_field("steady_arm_stiffness_n_per_m", 0, 1e5),
                                 number_field("stitch_wire_length_m", 0, 60),
                                 naming("support", plain_field("like", FieldType::text))};
  std::vector<FormField> droppers{whole_field("number", 2, 100),
                                  number_field("first_m", 0.5, 60),
                                  numbers_field("at_m", 0.5, 119.5),
                                  number_field("stiffness_n_per_m", 1000, 1e7),
                                  number_field("mass_on_contact_wire_kg", 0, 10),
                                  number_field("mass_on_messenger_kg", 0, 10),
                                  naming("droppers", plain_field("like", FieldType::text))};
  return {required(id_field("id")),
          plain_field("name", FieldType::text),
          required(word_field("termination", {"auto-tensioned", "fixed"})),
          number_field("reference_temperature_c", -40, 60),
          named_tables_field("wire", wire_fields()),
          named_tables_field("support", std::move(support)),
          named_tables_field("droppers", std::move(droppers)),
          required(tables_field(
              "span", {required(number_field("length_m", 5, 120)),
                       required(number_field("pre_sag_mm", 0, 200)), whole_field("repeat", 1, 500),
                       naming("support", plain_field("support", FieldType::text)),
                       naming("droppers", plain_field("droppers", FieldType::text))})),
          naming("support", plain_field("last_support", FieldType::text)),
          number_field("mass_damping_per_s", 0, 10),
          number_field("stiffness_damping_s", 0, 0.1),
          number_field("contact_wire_height_m", 4, 8),
          number_field("uplift_space_mm", 20, 1000),
          plain_field("uplift_limited_by_design", FieldType::flag),
          plain_field("source", FieldType::text),
          plain_field("invented", FieldType::flag)};
}

// What a pantograph model is: read_pantograph_model.cpp.
std::vector<FormField> pantograph_model_fields() {
  return {required(id_field("id")),
          plain_field("name", FieldType::text),
          number_field("static_force_n", 20, 300),
          tables_field("static_force", {required(supply_field("system")),
                                        required(number_field("static_force_n", 20, 300))}),
          number_field("static_force_at_height_m", 4, 8),
          required(number_field("aerodynamic_knuckle_leading_n_per_kmh2", -0.01, 0.01)),
          required(number_field("aerodynamic_knuckle_trailing_n_per_kmh2", -0.01, 0.01)),
          number_field("contact_stiffness_n_per_m", 1000, 1e7),
          required(tables_field("mass", {required(number_field("mass_kg", 0.1, 100)),
                                         required(number_field("stiffness_n_per_m", 0, 1e6)),
                                         required(number_field("damping_ns_per_m", 0, 10000))})),
          plain_field("source", FieldType::text),
          plain_field("invented", FieldType::flag)};
}

}  // namespace panup::form_fields
