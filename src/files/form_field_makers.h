#pragma once
/// How the tables of form fields are written down, for those who do.

#include <string_view>
#include <utility>
#include <vector>

#include "files/form_fields.h"

namespace panup::form_fields {

/// The unit that a key ends with; empty where it has none.
std::string_view unit_of(std::string_view key);

inline FormField plain_field(std::string_view key, FieldType type) {
  FormField field;
  field.key = key;
  field.type = type;
  return field;
}

inline FormField id_field(std::string_view key) { return plain_field(key, FieldType::id); }

inline FormField ranged_field(std::string_view key, FieldType type, Range range) {
  FormField field = plain_field(key, type);
  field.unit = unit_of(key);
  field.range = range;
  return field;
}

inline FormField number_field(std::string_view key, double least, double greatest) {
  return ranged_field(key, FieldType::number, {least, greatest});
}

/// The least value itself is not permitted.
inline FormField above_field(std::string_view key, double least, double greatest) {
  return ranged_field(key, FieldType::number, {least, greatest, true});
}

inline FormField numbers_field(std::string_view key, double least, double greatest) {
  return ranged_field(key, FieldType::numbers, {least, greatest});
}

inline FormField whole_field(std::string_view key, int least, int greatest) {
  return ranged_field(key, FieldType::whole,
                      {static_cast<double>(least), static_cast<double>(greatest)});
}

inline FormField wholes_field(std::string_view key, int least, int greatest) {
  FormField field = whole_field(key, least, greatest);
  field.type = FieldType::wholes;
  return field;
}

inline FormField word_field(std::string_view key, std::vector<std::string> words) {
  FormField field = plain_field(key, FieldType::word);
  field.words = std::move(words);
  return field;
}

inline FormField words_field(std::string_view key, std::vector<std::string> words) {
  FormField field = word_field(key, std::move(words));
  field.type = FieldType::words;
  return field;
}

inline FormField supply_field(std::string_view key) { return word_field(key, supply_names()); }

inline FormField tables_field(std::string_view key, std::vector<FormField> fields) {
  FormField field = plain_field(key, FieldType::tables);
  field.fields = std::move(fields);
  return field;
}

inline FormField named_tables_field(std::string_view key, std::vector<FormField> fields) {
  FormField field = tables_field(key, std::move(fields));
  field.type = FieldType::named_tables;
  return field;
}

inline FormField required(FormField field) {
  field.required = true;
  return field;
}

inline FormField naming(std::string_view things, FormField field) {
  field.names_of = things;
  return field;
}

inline FormField of_kind(std::string_view kind, FormField field) {
  field.only_of = kind;
  return field;
}

inline FormField in_one_line(FormField field) {
  field.in_one_line = true;
  return field;
}

inline std::vector<FormField> joined(std::vector<std::vector<FormField>> lists) {
  std::vector<FormField> all;
  for (std::vector<FormField>& list : lists) {
    for (FormField& field : list) {
      all.push_back(std::move(field));
    }
  }
  return all;
}

/// Mass and running resistance.
std::vector<FormField> running_data(double greatest_mass_t);

std::vector<FormField> stock_fields();
std::vector<FormField> route_fields();
std::vector<FormField> contact_line_fields();
std::vector<FormField> pantograph_model_fields();

}  // namespace panup::form_fields
