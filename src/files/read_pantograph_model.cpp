#include "files/read_pantograph_model.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/gravity.h"
#include "files/document.h"

namespace panup {

namespace {

constexpr std::size_t most_masses = 4;
/// By which an inner spring may give way under what stands on it; more is no pantograph.
constexpr double greatest_deflection_m = 0.5;
constexpr Range static_force_range_n{20, 300};
/// Wind on the knuckle may press the head down too.
constexpr Range aerodynamic_range{-0.01, 0.01};

/// An inner spring, of a mass that stands on another: it must bear what is above it.
void check_inner_spring(TomlTable& entry, double stiffness, double above_kg) {
  if (stiffness == 0) {
    entry.report_at("stiffness_n_per_m",
                    "'stiffness_n_per_m' is 0; only the lowest mass may stand on no spring");
    return;
  }
  const double deflection = above_kg * gravity_ms2 / stiffness;
  if (deflection > greatest_deflection_m) {
    entry.report_at("stiffness_n_per_m",
                    fmt::format("the {:g} kg that stand on this spring press it down by {:.2f} m; "
                                "at most {:g} m is credible",
                                above_kg, deflection, greatest_deflection_m));
  }
}

std::vector<PantographMass> read_masses(TomlTable& root) {
  std::vector<TomlTable> entries = root.tables("mass", Need::required);
  if (entries.size() > most_masses) {
    root.report_at("mass",
                   fmt::format("the model has {} masses; at most {}", entries.size(), most_masses));
  }
  std::vector<PantographMass> masses;
  double above_kg = 0;
  bool all_known = true;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    TomlTable& entry = entries[i];
    const auto mass = entry.number("mass_kg", {0.1, 100}, Need::required);
    const auto stiffness = entry.number("stiffness_n_per_m", {0, 1e6}, Need::required);
    const auto damping = entry.number("damping_ns_per_m", {0, 10000}, Need::required);
    entry.finish();
    all_known = all_known && mass.has_value();
    above_kg += mass.value_or(0);
    if (i + 1 < entries.size() && all_known && stiffness) {
      check_inner_spring(entry, *stiffness, above_kg);
    }
    masses.push_back({mass.value_or(0), stiffness.value_or(0), damping.value_or(0)});
  }
  return masses;
}

std::vector<StaticForce> read_static_forces(TomlTable& root) {
  std::vector<StaticForce> forces;
  for (TomlTable& entry : root.tables("static_force")) {
    const auto system = supply_from(entry, "system", Need::required);
    const auto force = entry.number("static_force_n", static_force_range_n, Need::required);
    entry.finish();
    if (!system) {
      continue;
    }
    if (std::ranges::find(forces, *system, &StaticForce::supply) != forces.end()) {
      entry.report_at("system", fmt::format("{} is given twice", name_of(*system)));
      continue;
    }
    forces.push_back({*system, force.value_or(0)});
  }
  return forces;
}

}  // namespace

std::optional<PantographModel> read_pantograph_model(const SourceText& source,
                                                     Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  if (!root_node) {
    return std::nullopt;
  }
  auto root = root_of(*root_node, source.file, FileKind::pantograph_model, diagnostics);
  if (!root) {
    return std::nullopt;
  }
  PantographModel model;
  model.id = root->id("id", Need::required).value_or("");
  model.name = root->text("name").value_or(model.id);
  model.invented = root->flag("invented").value_or(false);
  model.source = root->text("source").value_or("");
  model.masses = read_masses(*root);
  model.static_force_n = root->number("static_force_n", static_force_range_n);
  model.static_forces = read_static_forces(*root);
  if (!root->has("static_force_n") && !root->has("static_force")) {
    root->report(root->place(),
                 "the static force is not given; key 'static_force_n' states it for every energy "
                 "supply system, [[static_force]] for one");
  }
  model.static_force_at_height_m = root->number("static_force_at_height_m", {4, 8});
  model.aerodynamic_knuckle_leading_n_per_kmh2 =
      root->number("aerodynamic_knuckle_leading_n_per_kmh2", aerodynamic_range, Need::required)
          .value_or(0);
  model.aerodynamic_knuckle_trailing_n_per_kmh2 =
      root->number("aerodynamic_knuckle_trailing_n_per_kmh2", aerodynamic_range, Need::required)
          .value_or(0);
  model.contact_stiffness_n_per_m = root->number("contact_stiffness_n_per_m", {1000, 1e7})
                                        .value_or(model.contact_stiffness_n_per_m);
  model.place = root->place();
  root->finish();
  return diagnostics.size() == mistakes ? std::optional(std::move(model)) : std::nullopt;
}

std::optional<PantographModel> read_pantograph_model_file(const std::string& path,
                                                          Diagnostics& diagnostics,
                                                          const FileSource& files) {
  const auto source = files.load(path, diagnostics);
  return source ? read_pantograph_model(*source, diagnostics) : std::nullopt;
}

}  // namespace panup
