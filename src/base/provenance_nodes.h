#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/provenance.h"
#include "base/toml_tree.h"

namespace panup {

/// A source as a table `[[value_source]]` describes it.
TomlNode node_of(const ValueSource& source);

/// A source with the day that is known of it. Where none is, with the day it was taken in: that one
/// is no day of its own. `taken_in`: begins with a day.
ValueSource dated(ValueSource source, const std::string& date, std::string_view taken_in);

/// The day a text begins with, as YYYY-MM-DD; nothing where it begins with none.
std::optional<TomlDate> day_in(std::string_view text);
/// The same as a text; empty where it begins with none.
std::string day_text_in(std::string_view text);

}  // namespace panup
