#include "files/read_stock.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/read_parsed_stock.h"
#include "files/read_provenance.h"
#include "files/read_running_data.h"

namespace panup {

namespace {

constexpr double least_pantograph_distance_m = 1;
constexpr int most_pantographs_on_a_vehicle = 8;

std::vector<PantographSupply> read_pantograph_supplies(TomlTable& table) {
  std::vector<PantographSupply> supplies;
  for (TomlTable& entry : table.tables("supply", Need::required)) {
    PantographSupply supply;
    const auto system = supply_from(entry, "system", Need::required);
    supply.supply = system.value_or(EnergySupply{});
    supply.static_force_n = entry.number("static_force_n", {20, 300}, Need::required).value_or(0);
    supply.running_current_a =
        entry.number("running_current_a", {0, 5000, true}, Need::required).value_or(0);
    supply.standstill_current_a =
        entry.number("standstill_current_a", {0, 2000, true}, Need::required).value_or(0);
    entry.finish();
    if (!system) {
      continue;
    }
    if (std::ranges::find(supplies, *system, &PantographSupply::supply) != supplies.end()) {
      entry.report_at("system", fmt::format("{} is given twice", name_of(*system)));
      continue;
    }
    supplies.push_back(supply);
  }
  return supplies;
}

/// A type of head has its width.
void read_head_type(TomlTable& table, PantographType& type) {
  const auto name = table.word("head_type", head_type_names());
  if (!name) {
    return;
  }
  type.head_type = head_type_named(*name);
  const auto [least, greatest] = widths_of(*type.head_type);
  if (type.head_width_mm > 0 && (type.head_width_mm < least || type.head_width_mm > greatest)) {
    table.report_at("head_type",
                    fmt::format("a head of type {} is {} mm wide; 'head_width_mm' is {:g}", *name,
                                least == greatest ? fmt::format("{:g}", least)
                                                  : fmt::format("{:g} to {:g}", least, greatest),
                                type.head_width_mm));
  }
}

PantographType read_pantograph(TomlTable& table, const ValueSources& sources) {
  PantographType type;
  type.id = table.id("id", Need::required).value_or("");
  type.name = table.text("name").value_or(type.id);
  type.head_width_mm = table.number("head_width_mm", {1000, 2500}, Need::required).value_or(0);
  read_head_type(table, type);
  type.working_width_mm = table.number("working_width_mm", {500, 2500});
  if (type.working_width_mm && type.head_width_mm > 0 &&
      *type.working_width_mm >= type.head_width_mm) {
    table.report_at("working_width_mm",
                    fmt::format("'working_width_mm' is {:g}; it is less than 'head_width_mm', "
                                "which is {:g}: the horns lie beside it",
                                *type.working_width_mm, type.head_width_mm));
  }
  type.strip_count = table.whole("contact_strips", 1, 8, Need::required).value_or(0);
  type.strip_length_along_track_mm = table.number("strip_length_along_track_mm", {10, 1500});
  type.greatest_current_per_strip_a = table.number("greatest_current_per_strip_a", {0, 3000, true});
  if (const auto material = table.word("strip_material", strip_material_names(), Need::required)) {
    type.strip_material = *strip_material_named(*material);
  }
  type.metallic_content_percent = table.number("metallic_content_percent", {0, 100});
  if (const auto frame = table.word("frame", {"single-arm", "diamond"}, Need::required)) {
    type.frame = *frame == "diamond" ? PantographFrame::diamond : PantographFrame::single_arm;
  }
  type.aerodynamic_n_per_kmh2 = table.number("aerodynamic_n_per_kmh2", {-0.01, 0.01});
  type.highest_speed_kmh = table.number("highest_speed_kmh", {1, 400}, Need::required).value_or(0);
  type.automatic_dropping_device =
      table.flag("automatic_dropping_device", Need::required).value_or(false);
  const auto lowest = table.number("working_height_min_m", {3, 9}, Need::required);
  const auto highest = table.number("working_height_max_m", {3, 9}, Need::required);
  type.working_height_min_m = lowest.value_or(0);
  type.working_height_max_m = highest.value_or(0);
  if (lowest && highest && *lowest >= *highest) {
    table.report_at("working_height_max_m",
                    fmt::format("'working_height_max_m' is {:g}; it is greater than "
                                "'working_height_min_m', which is {:g}",
                                *highest, *lowest));
  }
  type.raising_time_s = table.number("raising_time_s", {0.5, 60}, Need::required).value_or(0);
  type.lowering_time_s = table.number("lowering_time_s", {0.5, 60}, Need::required).value_or(0);
  type.dynamic_model = table.text("dynamic_model").value_or("");
  type.supplies = read_pantograph_supplies(table);
  type.provenance = read_provenance(table, sources);
  type.place = table.place();
  table.finish();
  return type;
}

std::optional<Cab> read_cab(TomlTable& table, std::string_view key, Need need) {
  const auto word = table.word(key, {"cab 1", "cab 2"}, need);
  if (!word) {
    return std::nullopt;
  }
  return *word == "cab 1" ? Cab::cab1 : Cab::cab2;
}

/// Which half of the roof it stands on: by the distance, and by the file where that is the middle.
Cab read_nearer_cab(TomlTable& table, double from_cab1_m, double length_m) {
  const auto stated = read_cab(table, "nearer_cab", Need::optional);
  const double middle = length_m / 2;
  if (from_cab1_m == middle) {
    if (!stated && !table.has("nearer_cab")) {
      table.report(table.place(),
                   "it stands exactly in the middle of the roof; key 'nearer_cab' says to which "
                   "half it counts");
    }
    return stated.value_or(Cab::cab1);
  }
  const Cab nearer = from_cab1_m < middle ? Cab::cab1 : Cab::cab2;
  if (stated && *stated != nearer) {
    table.report_at("nearer_cab", fmt::format("at {:g} m of {:g} m it stands nearer cab {}",
                                              from_cab1_m, length_m, static_cast<int>(nearer)));
  }
  return nearer;
}

void check_place_on_roof(TomlTable& table, double from_cab1_m, double length_m,
                         const std::vector<RoofPantograph>& roof) {
  if (length_m > 0 && from_cab1_m >= length_m) {
    table.report_at("from_cab1_m", fmt::format("it stands {:g} m from cab 1; the vehicle is {:g} m "
                                               "long",
                                               from_cab1_m, length_m));
    return;
  }
  if (roof.empty()) {
    return;
  }
  const double before = roof.back().from_cab1_m;
  if (from_cab1_m == before) {
    table.report_at("from_cab1_m",
                    fmt::format("two pantographs stand at one place, {:g} m from cab 1", before));
  } else if (from_cab1_m < before) {
    table.report_at("from_cab1_m",
                    fmt::format("pantographs stand in order from cab 1; this one, at "
                                "{:g} m, comes after one at {:g} m",
                                from_cab1_m, before));
  } else if (from_cab1_m - before < least_pantograph_distance_m) {
    table.report_at("from_cab1_m",
                    fmt::format("it stands {:g} m from the one before; at least {:g} m is needed",
                                from_cab1_m - before, least_pantograph_distance_m));
  }
}

std::vector<RoofPantograph> read_roof(TomlTable& table, double length_m, Stock& stock,
                                      PantographTypes types) {
  std::vector<RoofPantograph> roof;
  std::vector<TomlTable> entries = table.tables("pantograph", Need::required);
  if (entries.size() > most_pantographs_on_a_vehicle) {
    table.report_at("pantograph", fmt::format("{} pantographs on one vehicle; at most {}",
                                              entries.size(), most_pantographs_on_a_vehicle));
  }
  for (TomlTable& entry : entries) {
    RoofPantograph pantograph;
    pantograph.number = static_cast<int>(roof.size()) + 1;
    if (const auto id = entry.id("type", Need::required)) {
      const auto known =
          std::ranges::find(stock.pantographs, *id, [](const auto& type) { return type->id; });
      if (known != stock.pantographs.end()) {
        pantograph.type = *known;
      } else if (types == PantographTypes::among_these && stock.ids_are_complete &&
                 !stock.pantograph_ids.contains(*id)) {
        entry.report_at("type",
                        not_found_text("pantograph type", *id, ids_of(stock.pantograph_ids)));
        stock.missing_pantographs[std::string(table.file())].insert(*id);
      }
    }
    const auto from_cab1 = entry.number("from_cab1_m", {0, 500, true}, Need::required);
    const bool diamond =
        pantograph.type != nullptr && pantograph.type->frame == PantographFrame::diamond;
    const auto knuckle =
        read_cab(entry, "knuckle_towards",
                 diamond || pantograph.type == nullptr ? Need::optional : Need::required);
    if (diamond && entry.has("knuckle_towards")) {
      entry.report_at("knuckle_towards", "a diamond pantograph has no knuckle that points one way");
    }
    pantograph.knuckle_towards = knuckle.value_or(Cab::cab1);
    if (from_cab1) {
      pantograph.from_cab1_m = *from_cab1;
      check_place_on_roof(entry, *from_cab1, length_m, roof);
      pantograph.nearer_cab = read_nearer_cab(entry, *from_cab1, length_m);
    }
    entry.has("nearer_cab");
    entry.finish();
    roof.push_back(pantograph);
  }
  return roof;
}

std::vector<PowerOnSupply> read_power(TomlTable& table) {
  std::vector<PowerOnSupply> power;
  for (TomlTable& entry : table.tables("power")) {
    const auto system = supply_from(entry, "system", Need::required);
    const auto kw = entry.number("power_kw", {1, 20000}, Need::required);
    PowerOnSupply on{};
    on.auxiliary_kw = entry.number("auxiliary_kw", {0, 3000});
    on.power_factor = entry.number("power_factor", {0.3, 1});
    on.efficiency = entry.number("efficiency", {0.3, 1});
    on.greatest_current_a = entry.number("greatest_current_a", {0, 20000, true});
    if (system && !is_ac(*system) && entry.has("power_factor")) {
      entry.report_at("power_factor", fmt::format("{} has no power factor", name_of(*system)));
    }
    entry.finish();
    if (!system || !kw) {
      continue;
    }
    if (std::ranges::find(power, *system, &PowerOnSupply::supply) != power.end()) {
      entry.report_at("system", fmt::format("{} is given twice", name_of(*system)));
      continue;
    }
    on.supply = *system;
    on.power_kw = *kw;
    power.push_back(on);
  }
  return power;
}

/// Systems that a vehicle is built for although it states no power on them.
std::vector<EnergySupply> read_systems(TomlTable& table, const std::vector<PowerOnSupply>& power) {
  std::vector<EnergySupply> systems;
  for (const std::string& name :
       table.words("systems", supply_names()).value_or(std::vector<std::string>{})) {
    const auto system = energy_supply_named(name);
    if (!system) {
      continue;  // which is said already
    }
    if (std::ranges::find(power, *system, &PowerOnSupply::supply) != power.end() ||
        std::ranges::find(systems, *system) != systems.end()) {
      table.report_at("systems", fmt::format("{} is given twice; a system whose power is stated "
                                             "need not be named here",
                                             name));
      continue;
    }
    systems.push_back(*system);
  }
  return systems;
}

VehicleType read_vehicle(TomlTable& table, Stock& stock, PantographTypes types,
                         const ValueSources& sources) {
  VehicleType type;
  type.id = table.id("id", Need::required).value_or("");
  type.name = table.text("name").value_or(type.id);
  const auto kind =
      table.word("type", {"locomotive", "electric unit", "wagon group"}, Need::required);
  const double longest_m = kind == "wagon group" ? 3000 : 500;
  type.length_m = table.number("length_m", {0, longest_m, true}, Need::required).value_or(0);
  type.highest_speed_kmh = table.number("highest_speed_kmh", {1, 400}, Need::required).value_or(0);
  type.running = read_running_data(table, kind == "wagon group" ? 30'000 : 2'000);
  type.place = table.place();
  if (kind == "wagon group") {
    type.kind = VehicleKind::wagon_group;
    type.provenance = read_provenance(table, sources);
    table.finish();
    return type;
  }
  type.kind = kind == "electric unit" ? VehicleKind::electric_unit : VehicleKind::locomotive;
  type.roof_line = table.flag("roof_line", Need::required).value_or(false);
  type.roof_line_can_be_opened = table.flag("roof_line_can_be_opened").value_or(false);
  if (type.roof_line_can_be_opened && table.flag("roof_line") == false) {
    table.report_at("roof_line_can_be_opened",
                    "there is no roof line to open: 'roof_line = false'");
  }
  type.high_voltage_coupler = table.flag("high_voltage_coupler");
  type.current_limitation = table.flag("current_limitation");
  type.power = read_power(table);
  type.systems = read_systems(table, type.power);
  type.pantographs = read_roof(table, type.length_m, stock, types);
  type.provenance = read_provenance(table, sources);
  table.finish();
  return type;
}

}  // namespace

Stock read_stock(const std::vector<SourceText>& sources, Diagnostics& diagnostics,
                 PantographTypes types) {
  std::vector<ParsedStock> parsed;
  parsed.reserve(sources.size());
  for (const SourceText& source : sources) {
    parsed.push_back({.file = source.file, .root = parse_toml(source, diagnostics)});
  }
  return read_parsed_stock(parsed, diagnostics, types);
}

Stock read_parsed_stock(const std::vector<ParsedStock>& parsed, Diagnostics& diagnostics,
                        PantographTypes types) {
  Stock stock;
  std::vector<TomlTable> tables;
  for (const auto& [file, root] : parsed) {
    auto table = root ? root_of(*root, file, FileKind::stock, diagnostics) : std::nullopt;
    if (table) {
      tables.push_back(*table);
    }
  }
  stock.ids_are_complete = tables.size() == parsed.size();
  std::vector<ValueSources> sources;
  for (TomlTable& table : tables) {
    table.flag("invented");
    sources.push_back(read_value_sources(table));
    const std::string models =
        path_beside(std::string(table.file()), table.text("dynamic_model_folder"));
    for (TomlTable& entry : table.tables("pantograph")) {
      const std::size_t mistakes = diagnostics.size();
      PantographType type = read_pantograph(entry, sources.back());
      type.dynamic_model_folder = models;
      if (type.id.empty()) {
        stock.ids_are_complete = false;
      } else {
        report_if_seen(entry, type.id, stock.pantograph_ids);
      }
      if (diagnostics.size() == mistakes) {
        stock.pantographs.push_back(std::make_shared<const PantographType>(std::move(type)));
      }
    }
  }
  for (std::size_t i = 0; i < tables.size(); ++i) {
    TomlTable& table = tables[i];
    for (TomlTable& entry : table.tables("vehicle")) {
      const std::size_t mistakes = diagnostics.size();
      VehicleType type = read_vehicle(entry, stock, types, sources[i]);
      if (type.id.empty()) {
        stock.ids_are_complete = false;
      } else {
        report_if_seen(entry, type.id, stock.vehicle_ids);
      }
      const bool whole = std::ranges::all_of(
          type.pantographs, [](const RoofPantograph& roof) { return roof.type != nullptr; });
      if (diagnostics.size() == mistakes && whole) {
        stock.vehicles.push_back(std::make_shared<const VehicleType>(std::move(type)));
      }
    }
    table.finish();
  }
  return stock;
}

}  // namespace panup
