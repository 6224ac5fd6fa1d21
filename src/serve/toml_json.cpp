#include "serve/toml_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace panup {

namespace {

using Json = nlohmann::ordered_json;

struct JsonWriter {
  Json operator()(bool value) const { return value; }
  Json operator()(std::int64_t value) const { return value; }
  Json operator()(double value) const { return value; }
  Json operator()(const std::string& value) const { return value; }
  Json operator()(const TomlDate& date) const {
    if (date.is_time) {
      return fmt::format("{:02}:{:02}:{:02}", date.hour, date.minute, date.second);
    }
    return fmt::format("{:04}-{:02}-{:02}", date.year, date.month, date.day);
  }
  Json operator()(const TomlArray& list) const {
    auto json = Json::array();
    for (const TomlNode& node : list) {
      json.push_back(json_of_toml(node));
    }
    return json;
  }
  Json operator()(const TomlEntries& table) const {
    auto json = Json::object();
    for (const TomlEntry& entry : table) {
      json[entry.key] = json_of_toml(entry.node);
    }
    return json;
  }
};

bool read_number(std::string_view text, std::size_t at, std::size_t length, int& number) {
  const char* const begin = text.data() + at;
  const auto [end, error] = std::from_chars(begin, begin + length, number);
  return error == std::errc{} && end == begin + length && number >= 0;
}

/// HH:MM:SS, also without seconds.
std::optional<TomlDate> time_of_text(std::string_view text) {
  TomlDate time{.is_time = true};
  const bool right = (text.size() == 5 || text.size() == 8) && text[2] == ':' &&
                     read_number(text, 0, 2, time.hour) && read_number(text, 3, 2, time.minute) &&
                     (text.size() == 5 || (text[5] == ':' && read_number(text, 6, 2, time.second)));
  return right && time.hour < 24 && time.minute < 60 && time.second < 60 ? std::optional(time)
                                                                         : std::nullopt;
}

/// A day that no calendar has is no TOML either, and stays a text, of which the reader speaks.
bool is_in_calendar(const TomlDate& day) {
  constexpr int months = 12;
  constexpr int february = 2;
  constexpr int longest = 31;
  const bool leap = (day.year % 4 == 0 && day.year % 100 != 0) || day.year % 400 == 0;
  const bool short_month = day.month == 4 || day.month == 6 || day.month == 9 || day.month == 11;
  const int days = day.month == february ? (leap ? 29 : 28) : short_month ? 30 : longest;
  return day.month >= 1 && day.month <= months && day.day >= 1 && day.day <= days;
}

TomlNode toml_of_text(const std::string& text, const FormField* field) {
  TomlNode node{};
  node.value = text;
  if (field != nullptr && field->type == FieldType::day) {
    if (const auto day = day_of_text(text); day && is_in_calendar(*day)) {
      node.value = *day;
    }
  } else if (field != nullptr && field->type == FieldType::time) {
    if (const auto time = time_of_text(text)) {
      node.value = *time;
    }
  }
  return node;
}

}  // namespace

nlohmann::ordered_json json_of_toml(const TomlNode& node) {
  return std::visit(JsonWriter{}, node.value);
}

std::optional<TomlDate> day_of_text(std::string_view text) {
  TomlDate date{.is_day = true};
  const bool right = text.size() == 10 && text[4] == '-' && text[7] == '-' &&
                     read_number(text, 0, 4, date.year) && read_number(text, 5, 2, date.month) &&
                     read_number(text, 8, 2, date.day);
  return right ? std::optional(date) : std::nullopt;
}

TomlNode toml_of_json(const nlohmann::json& value, const FormField* field) {
  TomlNode node{};
  if (value.is_string()) {
    return toml_of_text(value.get_ref<const std::string&>(), field);
  }
  if (value.is_boolean()) {
    node.value = value.get<bool>();
  } else if (value.is_number_integer() &&
             !(value.is_number_unsigned() &&
               value.get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX))) {
    // TOML has whole numbers of 64 bits with a sign.
    node.value = value.get<std::int64_t>();
  } else if (value.is_number()) {
    node.value = value.get<double>();
  } else if (value.is_array()) {
    TomlArray list;
    for (const nlohmann::json& one : value) {
      list.push_back(toml_of_json(one, field));
    }
    node.value = std::move(list);
  } else if (value.is_object()) {
    TomlEntries entries;
    const auto add = [&](const std::string& key, const nlohmann::json& said) {
      if (said.is_null()) {
        return;
      }
      const FormField* const of_key = field == nullptr ? nullptr : field_at(field->fields, {key});
      entries.push_back({.key = key, .node = toml_of_json(said, of_key)});
    };
    // In the order of the form.
    if (field != nullptr) {
      for (const FormField& one : field->fields) {
        if (const auto found = value.find(one.key); found != value.end()) {
          add(std::string(one.key), *found);
        }
      }
    }
    for (const auto& [key, said] : value.items()) {
      if (field == nullptr || field_at(field->fields, {key}) == nullptr) {
        add(key, said);
      }
    }
    node.value = std::move(entries);
  } else {
    // A null in a list, which TOML has not: the reader says that this is not what it expects.
    node.value = std::string("null");
  }
  return node;
}

}  // namespace panup
