#include "files/read_mechanics_data.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "files/read_contact_line.h"
#include "files/read_pantograph_model.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

/// Empty where there is no such file.
std::string file_of(const std::string& folder, std::string name) {
  if (folder.empty() || name.empty()) {
    return {};
  }
  std::ranges::transform(name, name.begin(), [](char letter) {
    return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
  });
  const fs::path path = fs::path(folder) / (name + ".toml");
  std::error_code error;
  return fs::is_regular_file(path, error) ? path.string() : std::string();
}

/// The file must be that of the name it was found by.
template <typename Data>
bool has_id(const Data& data, const std::string& name, Diagnostics& diagnostics) {
  if (data.id == name) {
    return true;
  }
  diagnostics.push_back(
      {data.place, fmt::format("this file was looked up for '{}', and has the id '{}'; id and name "
                               "of the file have to agree",
                               name, data.id)});
  return false;
}

std::set<const PantographType*> pantograph_types(const Train& train) {
  std::set<const PantographType*> types;
  for (const ConsistItem& item : train.consist) {
    if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
      for (const RoofPantograph& roof : vehicle->type->pantographs) {
        types.insert(roof.type.get());
      }
    }
  }
  return types;
}

}  // namespace

std::optional<MechanicsFiles> read_mechanics_data(const Route& route, const Train& train,
                                                  Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  MechanicsFiles files;
  for (const Section& section : route.sections) {
    const std::string path = file_of(route.contact_line_folder, section.contact_line);
    if (path.empty() || files.data.lines.contains(section.contact_line)) {
      continue;
    }
    auto line = read_contact_line_file(path, diagnostics);
    if (line && has_id(*line, section.contact_line, diagnostics)) {
      files.data.lines.emplace(section.contact_line, std::move(*line));
      files.line_paths.push_back(path);
    }
  }
  for (const PantographType* const type : pantograph_types(train)) {
    const std::string path = file_of(type->dynamic_model_folder, type->dynamic_model);
    if (path.empty() || files.data.pantographs.contains(type->id)) {
      continue;
    }
    auto model = read_pantograph_model_file(path, diagnostics);
    if (model && has_id(*model, type->dynamic_model, diagnostics)) {
      files.data.pantographs.emplace(type->id, std::move(*model));
      files.pantograph_paths.push_back(path);
    }
  }
  std::ranges::sort(files.pantograph_paths);
  files.pantograph_paths.erase(std::ranges::unique(files.pantograph_paths).begin(),
                               files.pantograph_paths.end());
  return diagnostics.size() == mistakes ? std::optional(std::move(files)) : std::nullopt;
}

}  // namespace panup
