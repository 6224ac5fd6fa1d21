#pragma once

#include <nlohmann/json.hpp>

#include "base/toml_tree.h"
#include "files/form_fields.h"

namespace panup {

/// A value of a file as JSON; days and times of day become texts, as in "2031-05-12".
nlohmann::ordered_json json_of_toml(const TomlNode& node);

/// A value as a file has it, places apart. Texts become days or times of day where the key that
/// they are for, and whose value or table is given, takes such, and they are one. Keys that are
/// null are left out. `field`: null where it is not known.
TomlNode toml_of_json(const nlohmann::json& value, const FormField* field);

/// A day as YYYY-MM-DD; nothing where the text is none. Whether the calendar has it is not looked
/// at.
std::optional<TomlDate> day_of_text(std::string_view text);

}  // namespace panup
