#include "files/read_route.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

namespace {

constexpr Range any_km{0, 5000};
constexpr double same_place_km = 1e-6;

struct Profile {
  std::string name;
  TomlTable table;
  bool used = false;
};

/// What is wrong with a stretch that does not end after it begins.
std::string no_stretch_text(std::string_view what, double from_km, double to_km) {
  return to_km < from_km ? fmt::format("{} ends at km {:.9g}, before it begins at km {:.9g}", what,
                                       to_km, from_km)
                         : fmt::format("{} ends where it begins, at km {:.9g}", what, to_km);
}

std::optional<std::vector<StripMaterial>> read_strip_materials(TomlTable& table) {
  const auto names = table.words("permitted_strip_materials", strip_material_names());
  if (!names) {
    return std::nullopt;
  }
  std::vector<StripMaterial> materials;
  for (const std::string& name : *names) {
    if (const auto material = strip_material_named(name)) {
      materials.push_back(*material);
    }
  }
  return materials;
}

std::vector<RaisedRecord> read_records(TomlTable& table) {
  std::vector<RaisedRecord> records;
  for (TomlTable& entry : table.tables("raised")) {
    RaisedRecord record;
    record.number = entry.whole("number", 1, 16, Need::required).value_or(1);
    const auto distance = entry.number("distance_m", {0, 1000, true},
                                       record.number > 1 ? Need::required : Need::optional);
    record.distance_m = distance.value_or(0);
    record.speed_kmh = entry.number("speed_kmh", {5, 400}, Need::required).value_or(0);
    if (record.number == 1 && entry.has("distance_m")) {
      entry.report_at("distance_m", "a record of one raised pantograph has no distance");
      record.distance_m = 0;
    }
    entry.finish();
    records.push_back(record);
  }
  return records;
}

/// `need_speed`: not where a profile that might state the line speed is unknown.
Section read_section(TomlTable& table, Need need_speed) {
  Section section;
  section.id = table.id("id", Need::required).value_or("");
  section.name = table.text("name").value_or(section.id);
  const auto from = table.number("from_km", any_km, Need::required);
  const auto to = table.number("to_km", any_km, Need::required);
  section.from_km = from.value_or(0);
  section.to_km = to.value_or(0);
  if (from && to && *to <= *from) {
    table.report_at("to_km", no_stretch_text("the section", *from, *to));
  }
  section.line_speed_kmh = table.number("line_speed_kmh", {5, 400}, need_speed).value_or(0);
  section.supply = supply_from(table, "system", Need::optional);
  section.permitted_head_widths_mm = table.numbers("permitted_head_widths_mm", {1000, 2500});
  section.permitted_strip_materials = read_strip_materials(table);
  section.automatic_dropping_device_required = table.flag("automatic_dropping_device_required");
  section.records = read_records(table);
  if (const auto type = table.word("design_type", {"A", "B", "C"})) {
    section.design_type = static_cast<DesignType>((*type)[0] - 'A');
  }
  section.contact_line = table.text("contact_line").value_or("");
  section.greatest_train_current_a = table.number("greatest_train_current_a", {0, 20000, true});
  section.wire_height_min_m = table.number("wire_height_min_m", {3, 9});
  section.wire_height_max_m = table.number("wire_height_max_m", {3, 9});
  if (section.wire_height_min_m && section.wire_height_max_m &&
      *section.wire_height_min_m > *section.wire_height_max_m) {
    table.report_at("wire_height_max_m",
                    fmt::format("the greatest wire height, {:.9g} m, is below the least, {:.9g} m",
                                *section.wire_height_max_m, *section.wire_height_min_m));
  }
  section.place = table.place();
  return section;
}

std::vector<Section> read_sections(TomlTable& root) {
  std::vector<Profile> profiles;
  for (auto& [name, table] : root.named_tables("profile")) {
    profiles.push_back({name, table});
  }
  std::vector<Section> sections;
  std::vector<std::pair<std::string, SourcePlace>> seen;
  std::set<std::string> known_keys;
  bool all_profiles_known = true;
  for (TomlTable& entry : root.tables("section", Need::required)) {
    Need need_speed = Need::required;
    if (const auto name = entry.text("profile")) {
      const auto profile = std::ranges::find(profiles, *name, &Profile::name);
      if (profile != profiles.end()) {
        profile->used = true;
        entry.set_fallback(profile->table);
      } else {
        all_profiles_known = false;
        need_speed = Need::optional;
        std::vector<std::string> names;
        for (const Profile& known : profiles) {
          names.push_back(known.name);
        }
        const std::string_view nearest = nearest_of(*name, names);
        entry.report_at("profile", nearest.empty()
                                       ? fmt::format("there is no profile '{}'", *name)
                                       : fmt::format("there is no profile '{}'; did you mean '{}'?",
                                                     *name, nearest));
      }
    }
    Section section = read_section(entry, need_speed);
    if (!section.id.empty()) {
      report_if_seen(entry, section.id, seen);
    }
    known_keys = entry.asked();
    entry.finish();
    sections.push_back(std::move(section));
  }
  for (const char* const own : {"id", "name", "from_km", "to_km", "profile"}) {
    known_keys.erase(own);
  }
  for (Profile& profile : profiles) {
    if (!profile.used && all_profiles_known) {
      profile.table.report(profile.table.place(),
                           fmt::format("profile '{}' is used by no section", profile.name));
    }
    profile.table.finish(known_keys);
  }
  return sections;
}

void check_joints(TomlTable& root, const std::vector<Section>& sections) {
  for (std::size_t i = 1; i < sections.size(); ++i) {
    const double gap = sections[i].from_km - sections[i - 1].to_km;
    if (std::abs(gap) > same_place_km) {
      root.report(sections[i].place,
                  fmt::format("section '{}' begins at km {:.9g}, {} where '{}' ends, at km {:.9g}",
                              sections[i].id, sections[i].from_km, gap > 0 ? "after" : "before",
                              sections[i - 1].id, sections[i - 1].to_km));
    }
  }
}

std::vector<SeparationSection> read_separations(TomlTable& root) {
  std::vector<SeparationSection> separations;
  for (TomlTable& entry : root.tables("separation")) {
    SeparationSection separation;
    separation.name = entry.text("name", Need::required).value_or("");
    const auto type = entry.word("type", {"phase", "system"}, Need::required);
    separation.kind = type == "system" ? SeparationKind::system : SeparationKind::phase;
    separation.from_km = entry.number("from_km", any_km, Need::required).value_or(0);
    separation.length_m = entry.number("length_m", {0, 5000, true}, Need::required).value_or(0);
    separation.pantograph_lowered =
        entry.flag("pantograph_lowered", Need::required).value_or(false);
    separation.breaker_off = entry.flag("breaker_off", Need::required).value_or(true);
    if (separation.pantograph_lowered && !separation.breaker_off) {
      entry.report_at("breaker_off",
                      "where pantographs are lowered the breaker is off: 'breaker_off = true'");
    }
    if (const auto meaning = entry.word(
            "length_is", {"minimum between inner strips", "maximum between outer strips"})) {
      separation.length_meaning = meaning->starts_with("minimum")
                                      ? LengthMeaning::minimum_between_inner
                                      : LengthMeaning::maximum_between_outer;
    }
    separation.place = entry.place();
    entry.finish();
    separations.push_back(std::move(separation));
  }
  return separations;
}

/// A stretch of any kind, to check that it lies within the route and beside the others.
struct Stretch {
  std::string name;
  double from_km = 0;
  double to_km = 0;
  SourcePlace place;
};

void check_stretches(TomlTable& root, const Route& route) {
  const double from = route.sections.front().from_km;
  const double to = route.sections.back().to_km;
  std::vector<Stretch> stretches;
  for (const SeparationSection& separation : route.separations) {
    stretches.push_back({separation.name, separation.from_km,
                         separation.from_km + separation.length_m / 1000, separation.place});
  }
  for (const LoweredStretch& lowered : route.lowered) {
    stretches.push_back({lowered.name, lowered.from_km, lowered.to_km, lowered.place});
  }
  for (const Stretch& stretch : stretches) {
    if (stretch.from_km < from || stretch.to_km > to + same_place_km) {
      root.report(
          stretch.place,
          fmt::format("'{}' lies from km {:.9g} to {:.9g}, outside the route, which runs from km "
                      "{:.9g} to {:.9g}",
                      stretch.name, stretch.from_km, stretch.to_km, from, to));
    }
  }
  std::ranges::stable_sort(stretches, {}, &Stretch::from_km);
  for (std::size_t i = 1; i < stretches.size(); ++i) {
    if (stretches[i].from_km < stretches[i - 1].to_km - same_place_km) {
      root.report(stretches[i].place,
                  fmt::format("'{}' begins at km {:.9g}, within '{}', which ends at km {:.9g}",
                              stretches[i].name, stretches[i].from_km, stretches[i - 1].name,
                              stretches[i - 1].to_km));
    }
  }
}

void check_places(TomlTable& root, const Route& route) {
  const double from = route.sections.front().from_km;
  const double to = route.sections.back().to_km;
  const auto check_inside = [&](const std::string& name, double at_km, const SourcePlace& place) {
    if (at_km < from || at_km > to) {
      root.report(place,
                  fmt::format("'{}' at km {:.9g} lies outside the route, which runs from km {:.9g} "
                              "to {:.9g}",
                              name, at_km, from, to));
    }
  };
  for (const Landmark& landmark : route.landmarks) {
    check_inside(landmark.name, landmark.at_km, landmark.place);
  }
  for (std::size_t i = 0; i < route.stops.size(); ++i) {
    const Stop& stop = route.stops[i];
    check_inside(stop.name, stop.at_km, stop.place);
    if (stop.reversal && (stop.at_km == from || stop.at_km == to)) {
      root.report(stop.place, fmt::format("'{}' is at an end of the route; there is nothing to "
                                          "reverse to",
                                          stop.name));
    }
    if (i > 0 && stop.at_km == route.stops[i - 1].at_km) {
      root.report(stop.place, fmt::format("'{}' is at the same place as '{}'", stop.name,
                                          route.stops[i - 1].name));
    }
    for (const LoweredStretch& lowered : route.lowered) {
      if (stop.at_km > lowered.from_km && stop.at_km < lowered.to_km) {
        root.report(stop.place,
                    fmt::format("'{}' lies within '{}', which is passed with pantographs "
                                "down: the train could not start",
                                stop.name, lowered.name));
      }
    }
    for (const SeparationSection& separation : route.separations) {
      if (separation.pantograph_lowered && stop.at_km > separation.from_km &&
          stop.at_km < separation.from_km + separation.length_m / 1000) {
        root.report(stop.place,
                    fmt::format("'{}' lies within '{}', which is passed with pantographs "
                                "down: the train could not start",
                                stop.name, separation.name));
      }
    }
  }
}

void check_systems(TomlTable& root, const Route& route) {
  for (std::size_t i = 1; i < route.sections.size(); ++i) {
    const Section& before = route.sections[i - 1];
    const Section& after = route.sections[i];
    const bool joined = std::abs(after.from_km - before.to_km) <= same_place_km;
    if (!before.supply || !after.supply || before.supply == after.supply || !joined) {
      continue;
    }
    const bool separated =
        std::ranges::any_of(route.separations, [&](const SeparationSection& separation) {
          return separation.kind == SeparationKind::system &&
                 separation.from_km <= after.from_km + same_place_km &&
                 separation.from_km + separation.length_m / 1000 >= after.from_km - same_place_km;
        });
    if (!separated) {
      root.report(
          after.place,
          fmt::format("the energy supply system changes from {} to {} at km {:.9g}, but there is "
                      "no system separation section there",
                      name_of(*before.supply), name_of(*after.supply), after.from_km));
    }
  }
}

std::vector<IceStretch> read_ice(TomlTable& root, const Route* route) {
  std::vector<IceStretch> ice;
  if (root.is_text("ice")) {
    if (root.word("ice", {"everywhere"}) && route != nullptr) {
      ice.push_back({route->sections.front().from_km, route->sections.back().to_km});
    }
    return ice;
  }
  for (TomlTable& entry : root.tables("ice")) {
    const auto id = entry.id("section");
    const Need need = entry.has("section") ? Need::optional : Need::required;
    const auto from = entry.number("from_km", any_km, need);
    const auto to = entry.number("to_km", any_km, need);
    entry.finish();
    if (entry.has("section") && (entry.has("from_km") || entry.has("to_km"))) {
      entry.report(entry.place(), "iced is either a section or a stretch from km to km, not both");
    } else if (from && to && *to <= *from) {
      entry.report_at("to_km", no_stretch_text("the ice", *from, *to));
    } else if (from && to) {
      ice.push_back({*from, *to});
    } else if (id && route != nullptr) {
      const auto section = std::ranges::find(route->sections, *id, &Section::id);
      if (section != route->sections.end()) {
        ice.push_back({section->from_km, section->to_km});
        continue;
      }
      std::vector<std::string> ids;
      for (const Section& known : route->sections) {
        ids.push_back(known.id);
      }
      const std::string_view nearest = nearest_of(*id, ids);
      entry.report_at(
          "section",
          nearest.empty()
              ? fmt::format("the route has no section '{}'", *id)
              : fmt::format("the route has no section '{}'; did you mean '{}'?", *id, nearest));
    }
  }
  return ice;
}

void merge(std::vector<IceStretch>& ice) {
  std::ranges::sort(ice, {}, &IceStretch::from_km);
  std::vector<IceStretch> merged;
  for (const IceStretch& stretch : ice) {
    if (!merged.empty() && stretch.from_km <= merged.back().to_km) {
      merged.back().to_km = std::max(merged.back().to_km, stretch.to_km);
    } else {
      merged.push_back(stretch);
    }
  }
  ice = std::move(merged);
}

}  // namespace

std::optional<Route> read_route(const SourceText& source, Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  if (!root_node) {
    return std::nullopt;
  }
  auto root = root_of(*root_node, source.file, FileKind::route, diagnostics);
  if (!root) {
    return std::nullopt;
  }
  Route route;
  route.id = root->id("id", Need::required).value_or("");
  route.name = root->text("name", Need::required).value_or("");
  route.invented = root->flag("invented").value_or(false);
  route.place = root->place();
  route.sections = read_sections(*root);
  route.separations = read_separations(*root);
  for (TomlTable& entry : root->tables("lowered")) {
    LoweredStretch lowered;
    lowered.name = entry.text("name", Need::required).value_or("");
    const auto from = entry.number("from_km", any_km, Need::required);
    const auto to = entry.number("to_km", any_km, Need::required);
    lowered.from_km = from.value_or(0);
    lowered.to_km = to.value_or(0);
    lowered.place = entry.place();
    if (from && to && *to <= *from) {
      entry.report_at("to_km", no_stretch_text(fmt::format("'{}'", lowered.name), *from, *to));
    }
    entry.finish();
    route.lowered.push_back(std::move(lowered));
  }
  for (TomlTable& entry : root->tables("stop")) {
    Stop stop;
    stop.name = entry.text("name", Need::required).value_or("");
    stop.at_km = entry.number("at_km", any_km, Need::required).value_or(0);
    stop.reversal = entry.flag("reversal").value_or(false);
    stop.place = entry.place();
    entry.finish();
    route.stops.push_back(std::move(stop));
  }
  for (TomlTable& entry : root->tables("landmark")) {
    Landmark landmark;
    landmark.name = entry.text("name", Need::required).value_or("");
    landmark.at_km = entry.number("at_km", any_km, Need::required).value_or(0);
    landmark.change_on_the_move = entry.flag("change_on_the_move").value_or(false);
    landmark.place = entry.place();
    entry.finish();
    route.landmarks.push_back(std::move(landmark));
  }
  root->finish();
  std::ranges::stable_sort(route.separations, {}, &SeparationSection::from_km);
  std::ranges::stable_sort(route.lowered, {}, &LoweredStretch::from_km);
  std::ranges::stable_sort(route.stops, {}, &Stop::at_km);
  std::ranges::stable_sort(route.landmarks, {}, &Landmark::at_km);
  if (diagnostics.size() == mistakes) {
    // Only places that have been read right can be compared with one another.
    check_joints(*root, route.sections);
    check_stretches(*root, route);
    check_places(*root, route);
    check_systems(*root, route);
  }
  return diagnostics.size() == mistakes ? std::optional(std::move(route)) : std::nullopt;
}

std::optional<Conditions> read_conditions(const SourceText& source, const Route* route,
                                          Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  if (!root_node) {
    return std::nullopt;
  }
  auto root = root_of(*root_node, source.file, FileKind::conditions, diagnostics);
  if (!root) {
    return std::nullopt;
  }
  Conditions conditions;
  conditions.name = root->text("name", Need::required).value_or("");
  conditions.invented = root->flag("invented").value_or(false);
  conditions.temperature_c = root->number("temperature_c", {-60, 60});
  conditions.wind_ms = root->number("wind_ms", {0, 80});
  conditions.place = root->place();
  conditions.ice = read_ice(*root, route);
  root->finish();
  merge(conditions.ice);
  return diagnostics.size() == mistakes ? std::optional(std::move(conditions)) : std::nullopt;
}

}  // namespace panup
