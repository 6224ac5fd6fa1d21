#include "requests/fitted_files.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/write_toml.h"

namespace panup {

namespace {

TomlNode* find(TomlNode& table, std::string_view key) {
  auto* const entries = std::get_if<TomlEntries>(&table.value);
  if (entries == nullptr) {
    return nullptr;
  }
  const auto entry = std::ranges::find(*entries, key, &TomlEntry::key);
  return entry == entries->end() ? nullptr : &entry->node;
}

void set(TomlNode& table, const std::string& key, decltype(TomlNode::value) value) {
  if (TomlNode* const there = find(table, key)) {
    there->value = std::move(value);
  } else if (auto* const entries = std::get_if<TomlEntries>(&table.value)) {
    entries->push_back({.key = key, .node = {.value = std::move(value)}});
  }
}

void multiply_number(TomlNode& table, std::string_view key, double factor) {
  TomlNode* const node = find(table, key);
  if (node == nullptr) {
    return;
  }
  const auto* const whole = std::get_if<std::int64_t>(&node->value);
  const auto* const real = std::get_if<double>(&node->value);
  if (whole != nullptr || real != nullptr) {
    node->value = factor * (whole != nullptr ? static_cast<double>(*whole) : *real);
  }
}

double factor_of(const FitOutcome& outcome, ModelInput quantity) {
  const auto value = std::ranges::find(outcome.values, quantity, &FittedValue::quantity);
  return value != outcome.values.end() && value->told ? value->value / value->start : 1;
}

/// "fitted to RECORD by panup 0.2.0: …; all else: SOURCE".
std::string source_words(const MeasuredInput& input, const FitOutcome& outcome, bool of_line,
                         std::string_view program_version, TomlNode& root) {
  std::string values;
  for (const FittedValue& value : outcome.values) {
    if (value.told && is_of_line(value.quantity) == of_line) {
      values += fmt::format("{}{} {:.4g} {} ({:.4g} to {:.4g} at 95 %)", values.empty() ? "" : ", ",
                            name_of(value.quantity), value.value, unit_of(value.quantity),
                            value.least, value.greatest);
    }
  }
  const TomlNode* const source = find(root, "source");
  const auto* const text = source != nullptr ? std::get_if<std::string>(&source->value) : nullptr;
  return fmt::format("fitted by panup {} to the record {}: {}; all else: {}", program_version,
                     input.record.id, values, text != nullptr ? *text : "not stated");
}

/// The file at a path as a tree, renamed; nothing where it cannot be read any more.
std::optional<TomlNode> renamed(const std::string& path, const MeasuredInput& input,
                                const FitOutcome& outcome, bool of_line,
                                std::string_view program_version, const FileSource& files) {
  Diagnostics unsaid;  // it was read before
  const auto source = files.load(path, unsaid);
  auto root = source ? parse_toml(*source, unsaid) : std::nullopt;
  if (root) {
    set(*root, "source", source_words(input, outcome, of_line, program_version, *root));
  }
  return root;
}

RenderedFile written(TomlNode& root, const std::string& id, const std::string& name) {
  set(root, "id", id + "-fitted");
  set(root, "name", name + ", fitted");
  std::string file = id + "-fitted.toml";
  std::ranges::transform(file, file.begin(), [](char letter) {
    return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
  });
  return {file, to_toml(root)};
}

bool told_of(const FitOutcome& outcome, bool line) {
  return std::ranges::any_of(outcome.values, [&](const FittedValue& value) {
    return value.told && is_of_line(value.quantity) == line;
  });
}

std::optional<RenderedFile> line_file(const MeasuredInput& input, const FitOutcome& outcome,
                                      std::string_view program_version, const FileSource& files) {
  auto root = renamed(input.record.contact_line, input, outcome, true, program_version, files);
  if (!root) {
    return std::nullopt;
  }
  multiply_number(*root, "mass_damping_per_s", factor_of(outcome, ModelInput::mass_damping));
  multiply_number(*root, "stiffness_damping_s", factor_of(outcome, ModelInput::stiffness_damping));
  TomlNode* const supports = find(*root, "support");
  auto* const entries = supports != nullptr ? std::get_if<TomlEntries>(&supports->value) : nullptr;
  if (entries != nullptr) {
    for (TomlEntry& support : *entries) {
      multiply_number(support.node, "messenger_stiffness_n_per_m",
                      factor_of(outcome, ModelInput::support_stiffness));
      multiply_number(support.node, "steady_arm_mass_kg",
                      factor_of(outcome, ModelInput::steady_arm_mass));
    }
  }
  return written(*root, input.line->id, input.line->name);
}

/// The static force on the record's system, where the model states one for it; else that of all.
void set_static_force(TomlNode& root, std::optional<EnergySupply> supply, double factor) {
  TomlNode* const by_system = find(root, "static_force");
  auto* const list = by_system != nullptr ? std::get_if<TomlArray>(&by_system->value) : nullptr;
  if (list != nullptr && supply) {
    for (TomlNode& one : *list) {
      const TomlNode* const system = find(one, "system");
      const auto* const name =
          system != nullptr ? std::get_if<std::string>(&system->value) : nullptr;
      if (name != nullptr && *name == name_of(*supply)) {
        multiply_number(one, "static_force_n", factor);
        return;
      }
    }
  }
  multiply_number(root, "static_force_n", factor);
}

std::optional<RenderedFile> model_file(const MeasuredInput& input, std::size_t index,
                                       const FitOutcome& outcome, std::string_view program_version,
                                       const FileSource& files) {
  const std::string& path = input.record.pantographs[index].model;
  auto root = renamed(path, input, outcome, false, program_version, files);
  if (!root) {
    return std::nullopt;
  }
  set_static_force(*root, input.record.supply, factor_of(outcome, ModelInput::static_force));
  for (const Knuckle knuckle : {Knuckle::leading, Knuckle::trailing}) {
    const bool ran = std::ranges::any_of(
        input.record.pantographs,
        [&](const RecordedPantograph& one) { return one.model == path && one.knuckle == knuckle; });
    if (ran) {
      multiply_number(*root,
                      knuckle == Knuckle::leading ? "aerodynamic_knuckle_leading_n_per_kmh2"
                                                  : "aerodynamic_knuckle_trailing_n_per_kmh2",
                      factor_of(outcome, ModelInput::aerodynamic_factor));
    }
  }
  return written(*root, input.models[index].id, input.models[index].name);
}

}  // namespace

std::vector<RenderedFile> fitted_files(const MeasuredInput& input, const FitOutcome& outcome,
                                       std::string_view program_version, const FileSource& files) {
  std::vector<RenderedFile> written_files;
  if (told_of(outcome, true)) {
    if (auto file = line_file(input, outcome, program_version, files)) {
      written_files.push_back(std::move(*file));
    }
  }
  std::vector<std::string> done;
  for (std::size_t i = 0; i < input.models.size() && told_of(outcome, false); ++i) {
    const std::string& path = input.record.pantographs[i].model;
    if (std::ranges::find(done, path) != done.end()) {
      continue;
    }
    done.push_back(path);
    if (auto file = model_file(input, i, outcome, program_version, files)) {
      written_files.push_back(std::move(*file));
    }
  }
  return written_files;
}

}  // namespace panup
