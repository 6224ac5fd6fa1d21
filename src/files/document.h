#pragma once
/// The room `files`: reads the user's TOML into stock, line, rule book and the data of the
/// mechanics, and says all that is wrong with it. What it hands on is right in itself; what is
/// wrong between files is found by the plan.

#include <array>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/energy_supply.h"
#include "base/toml_table.h"

namespace panup {

enum class FileKind : std::uint8_t {
  stock,
  train,
  route,
  conditions,
  rule_book,
  contact_line,
  pantograph_model,
  consents,
  measured_force,
  speed_table,
  day,
  defects,
  what_if,
  network,
  run,
  practice_cases
};

inline constexpr std::array all_file_kinds{FileKind::stock,
                                           FileKind::train,
                                           FileKind::route,
                                           FileKind::conditions,
                                           FileKind::rule_book,
                                           FileKind::contact_line,
                                           FileKind::pantograph_model,
                                           FileKind::consents,
                                           FileKind::measured_force,
                                           FileKind::speed_table,
                                           FileKind::day,
                                           FileKind::defects,
                                           FileKind::what_if,
                                           FileKind::network,
                                           FileKind::run,
                                           FileKind::practice_cases};

/// "stock", "train", "route", "conditions", "rule book", "contact line", "pantograph model",
/// "consents", "measured force", "speed table", "day", "defects", "what if",
/// "network", "run", "practice cases": the value of the top-level key `kind`.
std::string_view name_of(FileKind kind);

/// The kind a parsed file says it is; nothing, and a diagnostic, if it does not say.
std::optional<FileKind> kind_of_file(const TomlNode& root, const std::string& file,
                                     Diagnostics& diagnostics);

/// The root table of a file that has to be of kind `expected`; nothing, and a diagnostic, if not.
std::optional<TomlTable> root_of(const TomlNode& root, const std::string& file, FileKind expected,
                                 Diagnostics& diagnostics);

/// Ids with the place of each.
using IdPlaces = std::map<std::string, SourcePlace, std::less<>>;

std::vector<std::string> ids_of(const IdPlaces& places);

/// Reports an id that stands in `seen` already; else adds it.
void report_if_seen(TomlTable& table, const std::string& id, IdPlaces& seen);

/// "there is no WHAT 'ID'", with the nearest of `known` as a suggestion, if one is near.
std::string not_found_text(std::string_view what, std::string_view id,
                           const std::vector<std::string>& known);

/// Where on a route anything may be.
inline constexpr Range any_chainage_km{0, 5000};

/// What is wrong with a stretch that does not end after it begins.
std::string no_stretch_text(std::string_view what, double from_km, double to_km);

/// The names of all contact strip materials.
std::vector<std::string> strip_material_names();

/// The names of all energy supply systems.
std::vector<std::string> supply_names();

/// The energy supply system named by a key; reports an unknown one with all that are known.
std::optional<EnergySupply> supply_from(TomlTable& table, std::string_view key, Need need);

/// The path of a folder that a file names relative to itself; empty where it names none.
std::string path_beside(const std::string& file, const std::optional<std::string>& name);

}  // namespace panup
