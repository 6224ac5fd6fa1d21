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
std::string file_of(const std::string& folder, std::string name, const FileSource& files) {
  if (folder.empty() || name.empty()) {
    return {};
  }
  std::ranges::transform(name, name.begin(), [](char letter) {
    return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
  });
  const std::string path = (fs::path(folder) / (name + ".toml")).string();
  return files.has(path) ? path : std::string();
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
                                                  Diagnostics& diagnostics,
                                                  const FileSource& files) {
  const std::size_t mistakes = diagnostics.size();
  MechanicsFiles read;
  for (const Section& section : route.sections) {
    const std::string path = file_of(route.contact_line_folder, section.contact_line, files);
    if (path.empty() || read.data.lines.contains(section.contact_line)) {
      continue;
    }
    const auto source = files.load(path, diagnostics);
    auto line = source ? read_contact_line(*source, diagnostics) : std::nullopt;
    if (line && has_id(*line, section.contact_line, diagnostics)) {
      read.data.lines.emplace(section.contact_line, std::move(*line));
      read.line_paths.push_back(path);
    }
  }
  for (const PantographType* const type : pantograph_types(train)) {
    const std::string path = file_of(type->dynamic_model_folder, type->dynamic_model, files);
    if (path.empty() || read.data.pantographs.contains(type->id)) {
      continue;
    }
    const auto source = files.load(path, diagnostics);
    auto model = source ? read_pantograph_model(*source, diagnostics) : std::nullopt;
    if (model && has_id(*model, type->dynamic_model, diagnostics)) {
      read.data.pantographs.emplace(type->id, std::move(*model));
      read.pantograph_paths.push_back(path);
    }
  }
  std::ranges::sort(read.pantograph_paths);
  read.pantograph_paths.erase(std::ranges::unique(read.pantograph_paths).begin(),
                              read.pantograph_paths.end());
  return diagnostics.size() == mistakes ? std::optional(std::move(read)) : std::nullopt;
}

}  // namespace panup
