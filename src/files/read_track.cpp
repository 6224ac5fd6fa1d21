#include "files/read_track.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "files/document.h"
#include "files/read_line_geometry.h"
#include "files/read_separation_zones.h"

namespace panup {

namespace {

struct Profile {
  std::string name;
  TomlTable table;
  Provenance provenance;
  bool used = false;
};

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

std::optional<std::vector<HeadType>> read_heads(TomlTable& table) {
  const auto names = table.words("permitted_heads", head_type_names());
  if (!names) {
    return std::nullopt;
  }
  std::vector<HeadType> types;
  for (const std::string& name : *names) {
    if (const auto type = head_type_named(name)) {
      types.push_back(*type);
    }
  }
  return types;
}

void read_records(TomlTable& table, Section& section) {
  for (TomlTable& entry : table.tables("raised")) {
    RaisedRecord record;
    const auto number = entry.whole("number", 1, 16, Need::required);
    record.number = number.value_or(1);
    const auto distance = entry.number("distance_m", {0, 1000, true},
                                       record.number > 1 ? Need::required : Need::optional);
    record.distance_m = distance.value_or(0);
    record.speed_kmh = entry.number("speed_kmh", {5, 400}, Need::required).value_or(0);
    if (number == 1 && entry.has("distance_m")) {
      entry.report_at("distance_m", "a record of one raised pantograph has no distance");
      record.distance_m = 0;
    }
    entry.finish();
    section.records.push_back(record);
    section.record_places.push_back(entry.place());
  }
}

std::optional<ContactForceLimit> read_contact_force(TomlTable& table) {
  auto formula = table.table("greatest_contact_force");
  if (!formula) {
    return std::nullopt;
  }
  ContactForceLimit limit;
  limit.square_n_per_kmh2 = formula->number("square_n_per_kmh2", {0, 0.01}).value_or(0);
  const auto constant = formula->number("constant_n", {20, 1000}, Need::required);
  limit.constant_n = constant.value_or(0);
  formula->finish();
  return constant ? std::optional(limit) : std::nullopt;
}

/// `need_speed`: not where a profile that might state the line speed is unknown.
Section read_section(TomlTable& table, Need need_speed) {
  Section section;
  section.id = table.id("id", Need::required).value_or("");
  section.name = table.text("name").value_or(section.id);
  section.line = table.text("line").value_or("");
  const auto from = table.number("from_km", any_chainage_km, Need::required);
  const auto to = table.number("to_km", any_chainage_km, Need::required);
  section.from_km = from.value_or(unknown_km);
  section.to_km = to.value_or(unknown_km);
  if (from && to && *to <= *from) {
    table.report_at("to_km", no_stretch_text("the section", *from, *to));
    section.to_km = unknown_km;
  }
  section.line_speed_kmh = table.number("line_speed_kmh", {5, 400}, need_speed).value_or(0);
  section.supply = supply_from(table, "system", Need::optional);
  section.permitted_heads = read_heads(table);
  section.permitted_head_widths_mm = table.numbers("permitted_head_widths_mm", {1000, 2500});
  section.permitted_strip_materials = read_strip_materials(table);
  section.greatest_metallic_content_percent =
      table.number("greatest_metallic_content_percent", {0, 100});
  section.greatest_static_force_n = table.number("greatest_static_force_n", {20, 300});
  section.greatest_contact_force = read_contact_force(table);
  section.automatic_dropping_device_required = table.flag("automatic_dropping_device_required");
  section.current_limitation_required = table.flag("current_limitation_required");
  section.separation_document = table.text("separation_document").value_or("");
  read_records(table, section);
  if (const auto type = table.word("design_type", {"A", "B", "C"})) {
    section.design_type = static_cast<DesignType>((*type)[0] - 'A');
  }
  section.contact_line = table.text("contact_line").value_or("");
  if (const auto range = table.word("temperature_range", {"T1", "T2", "T3", "Tx"})) {
    using enum TemperatureRange;
    for (const TemperatureRange one : {t1, t2, t3, tx}) {
      section.temperature_range = name_of(one) == *range ? one : section.temperature_range;
    }
  }
  section.greatest_train_current_a = table.number("greatest_train_current_a", {0, 20000, true});
  section.greatest_standstill_current_a =
      table.number("greatest_standstill_current_a", {0, 5000, true});
  section.wire_height_min_m = table.number("wire_height_min_m", {3, 9});
  section.wire_height_max_m = table.number("wire_height_max_m", {3, 9});
  if (section.wire_height_min_m && section.wire_height_max_m &&
      *section.wire_height_min_m > *section.wire_height_max_m) {
    table.report_at("wire_height_max_m",
                    fmt::format("the greatest wire height, {:.9g} m, is below the least, {:.9g} m",
                                *section.wire_height_max_m, *section.wire_height_min_m));
  }
  read_spans(table, section);
  section.place = table.place();
  return section;
}

}  // namespace

std::vector<Section> read_sections(TomlTable& root, const ValueSources& sources) {
  std::vector<Profile> profiles;
  for (auto& [name, table] : root.named_tables("profile")) {
    profiles.push_back({name, table, read_provenance(table, sources)});
  }
  std::vector<Section> sections;
  IdPlaces seen;
  std::set<std::string> known_keys;
  bool all_profiles_known = true;
  for (TomlTable& entry : root.tables("section", Need::required)) {
    Need need_speed = Need::required;
    LikeTable like;
    if (const auto name = entry.text("profile")) {
      const auto profile = std::ranges::find(profiles, *name, &Profile::name);
      if (profile != profiles.end()) {
        profile->used = true;
        entry.set_fallback(profile->table);
        like = {&profile->table, &profile->provenance};
      } else {
        all_profiles_known = false;
        need_speed = Need::optional;
        std::vector<std::string> names;
        for (const Profile& known : profiles) {
          names.push_back(known.name);
        }
        entry.report_at("profile", not_found_text("profile", *name, names));
      }
    }
    Section section = read_section(entry, need_speed);
    if (!section.id.empty()) {
      report_if_seen(entry, section.id, seen);
    }
    section.provenance = read_provenance(entry, sources, like);
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

std::vector<SeparationSection> read_separations(std::vector<TomlTable> entries,
                                                const ValueSources& sources) {
  std::vector<SeparationSection> separations;
  for (TomlTable& entry : entries) {
    SeparationSection separation;
    separation.name = entry.text("name", Need::required).value_or("");
    const auto type = entry.word("type", {"phase", "system"}, Need::required);
    separation.kind = type == "system" ? SeparationKind::system : SeparationKind::phase;
    separation.from_km =
        entry.number("from_km", any_chainage_km, Need::required).value_or(unknown_km);
    separation.length_m =
        entry.number("length_m", {0, 5000, true}, Need::required).value_or(unknown_km);
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
    separation.zones = read_separation_zones(entry, separation,
                                             type ? std::optional(separation.kind) : std::nullopt);
    separation.provenance = read_provenance(entry, sources);
    entry.finish();
    separations.push_back(std::move(separation));
  }
  return separations;
}

std::vector<LoweredStretch> read_lowered(std::vector<TomlTable> entries) {
  std::vector<LoweredStretch> stretches;
  for (TomlTable& entry : entries) {
    LoweredStretch lowered;
    lowered.name = entry.text("name", Need::required).value_or("");
    const auto from = entry.number("from_km", any_chainage_km, Need::required);
    const auto to = entry.number("to_km", any_chainage_km, Need::required);
    lowered.from_km = from.value_or(unknown_km);
    lowered.to_km = to.value_or(unknown_km);
    lowered.place = entry.place();
    if (from && to && *to <= *from) {
      entry.report_at("to_km", no_stretch_text(fmt::format("'{}'", lowered.name), *from, *to));
      lowered.to_km = unknown_km;
    }
    entry.finish();
    stretches.push_back(std::move(lowered));
  }
  return stretches;
}

std::vector<Landmark> read_landmarks(std::vector<TomlTable> entries) {
  std::vector<Landmark> landmarks;
  for (TomlTable& entry : entries) {
    Landmark landmark;
    landmark.name = entry.text("name", Need::required).value_or("");
    landmark.at_km = entry.number("at_km", any_chainage_km, Need::required).value_or(unknown_km);
    landmark.change_on_the_move = entry.flag("change_on_the_move").value_or(false);
    landmark.signal = entry.flag("signal").value_or(false);
    if (entry.has("board")) {
      if (const auto board = entry.word("board", {"breaker off", "lower", "raise", "breaker on"})) {
        landmark.board = board_named(*board);
      }
      landmark.board_of = entry.text("board_of", Need::required).value_or("");
    } else if (entry.has("board_of")) {
      entry.report_at("board_of",
                      "'board_of' without 'board': state what the board tells the "
                      "driver, \"breaker off\", \"lower\", \"raise\" or "
                      "\"breaker on\"");
    }
    landmark.place = entry.place();
    entry.finish();
    landmarks.push_back(std::move(landmark));
  }
  return landmarks;
}

/// Leaves out what could not be placed (it has been reported), and puts the rest in order.
void put_in_order(Route& route) {
  std::erase_if(route.separations, [](const SeparationSection& separation) {
    return std::isnan(separation.from_km + separation.length_m);
  });
  std::erase_if(route.lowered, [](const LoweredStretch& lowered) {
    return std::isnan(lowered.from_km + lowered.to_km);
  });
  std::erase_if(route.stops, [](const Stop& stop) { return std::isnan(stop.at_km); });
  std::erase_if(route.landmarks,
                [](const Landmark& landmark) { return std::isnan(landmark.at_km); });
  std::ranges::stable_sort(route.separations, {}, &SeparationSection::from_km);
  std::ranges::stable_sort(route.lowered, {}, &LoweredStretch::from_km);
  std::ranges::stable_sort(route.stops, {}, &Stop::at_km);
  std::ranges::stable_sort(route.landmarks, {}, &Landmark::at_km);
}

}  // namespace panup
