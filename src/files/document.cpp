#include "files/document.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "stock/pantograph.h"

namespace panup {

std::string_view name_of(FileKind kind) {
  static constexpr std::array<std::string_view, 16> names{"stock",
                                                          "train",
                                                          "route",
                                                          "conditions",
                                                          "rule book",
                                                          "contact line",
                                                          "pantograph model",
                                                          "consents",
                                                          "measured force",
                                                          "speed table",
                                                          "day",
                                                          "defects",
                                                          "what if",
                                                          "network",
                                                          "run",
                                                          "practice cases"};
  return names.at(static_cast<std::size_t>(kind));
}

std::optional<FileKind> kind_of_file(const TomlNode& root, const std::string& file,
                                     Diagnostics& diagnostics) {
  TomlTable table(root, file, diagnostics);
  std::vector<std::string> names;
  for (const FileKind kind : all_file_kinds) {
    names.emplace_back(name_of(kind));
  }
  if (!table.has("kind")) {
    table.report(table.place(),
                 fmt::format("key 'kind' is missing; it is one of {}", quoted_list(names)));
    return std::nullopt;
  }
  const auto name = table.word("kind", names, Need::required);
  if (!name) {
    return std::nullopt;
  }
  return static_cast<FileKind>(std::ranges::find(names, *name) - names.begin());
}

std::optional<TomlTable> root_of(const TomlNode& root, const std::string& file, FileKind expected,
                                 Diagnostics& diagnostics) {
  const std::optional<FileKind> kind = kind_of_file(root, file, diagnostics);
  if (!kind) {
    return std::nullopt;
  }
  TomlTable table(root, file, diagnostics);
  table.has("kind");
  if (*kind != expected) {
    table.report_at("kind", fmt::format("this file is of kind \"{}\"; expected one of kind \"{}\"",
                                        name_of(*kind), name_of(expected)));
    return std::nullopt;
  }
  return table;
}

void report_if_seen(TomlTable& table, const std::string& id, IdPlaces& seen) {
  const auto [first, is_new] = seen.emplace(id, table.place_of("id"));
  if (!is_new) {
    const SourcePlace& place = first->second;
    table.report_at("id", fmt::format("id '{}' is used already, at {}:{}:{}", id, place.file,
                                      place.line, place.column));
  }
}

std::vector<std::string> ids_of(const IdPlaces& places) {
  std::vector<std::string> ids;
  for (const auto& [id, place] : places) {
    ids.push_back(id);
  }
  return ids;
}

std::string not_found_text(std::string_view what, std::string_view id,
                           const std::vector<std::string>& known) {
  const std::string_view nearest = nearest_of(id, known);
  return nearest.empty()
             ? fmt::format("there is no {} '{}'", what, id)
             : fmt::format("there is no {} '{}'; did you mean '{}'?", what, id, nearest);
}

/// What is wrong with a stretch that does not end after it begins.
std::string no_stretch_text(std::string_view what, double from_km, double to_km) {
  return to_km < from_km ? fmt::format("{} ends at km {:.9g}, before it begins at km {:.9g}", what,
                                       to_km, from_km)
                         : fmt::format("{} ends where it begins, at km {:.9g}", what, to_km);
}

std::vector<std::string> strip_material_names() {
  std::vector<std::string> names;
  for (int i = 0; i <= static_cast<int>(StripMaterial::sintered_copper); ++i) {
    names.emplace_back(name_of(static_cast<StripMaterial>(i)));
  }
  return names;
}

std::vector<std::string> supply_names() {
  std::vector<std::string> names;
  for (const EnergySupply supply : all_energy_supplies) {
    names.emplace_back(name_of(supply));
  }
  return names;
}

std::optional<EnergySupply> supply_from(TomlTable& table, std::string_view key, Need need) {
  const auto name = table.word(key, supply_names(), need);
  return name ? energy_supply_named(*name) : std::nullopt;
}

std::string path_beside(const std::string& file, const std::optional<std::string>& name) {
  return name ? (std::filesystem::path(file).parent_path() / *name).lexically_normal().string()
              : std::string();
}

}  // namespace panup
