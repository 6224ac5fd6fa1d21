#include "files/read_separation_zones.h"

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "files/document.h"

namespace panup {

namespace {

constexpr double endless = std::numeric_limits<double>::infinity();
constexpr double same_place_m = 1e-6;
constexpr std::size_t most_zones = 32;
/// Where a zone may begin and end: it may reach out of the section a little.
constexpr Range any_place_m{-500, 5500};

/// A zone being read, with the table it stands in.
struct Entry {
  TomlTable table;
  SeparationZone zone;
  bool read = false;  ///< its kind and both ends are known
};

std::optional<ZoneKind> zone_kind_named(const std::string& name) {
  for (const ZoneKind kind :
       {ZoneKind::live, ZoneKind::neutral, ZoneKind::earthed, ZoneKind::insulator}) {
    if (name == name_of(kind)) {
      return kind;
    }
  }
  return std::nullopt;
}

/// An end that reaches beyond the section is not stated.
std::optional<double> read_end(TomlTable& table, std::string_view key, bool open, double open_end) {
  if (!open) {
    return table.number(key, any_place_m, Need::required);
  }
  if (table.has(key)) {
    table.report_at(key, fmt::format("the {} zone reaches beyond the section: leave out '{}'",
                                     key == "from_m" ? "first" : "last", key));
  }
  return open_end;
}

void read_identity(Entry& entry, std::optional<SeparationKind> separates) {
  TomlTable& table = entry.table;
  if (!separates) {
    table.has("phase");
    table.has("system");
    return;
  }
  const bool by_system = *separates == SeparationKind::system;
  const char* const wanted = by_system ? "system" : "phase";
  const char* const other = by_system ? "phase" : "system";
  if (entry.zone.kind != ZoneKind::live) {
    for (const char* const key : {"phase", "system"}) {
      if (table.has(key)) {
        table.report_at(key, fmt::format("only a live zone has a {}; this one is {}", key,
                                         entry.zone.kind == ZoneKind::insulator
                                             ? "an insulator"
                                             : std::string(name_of(entry.zone.kind))));
      }
    }
    return;
  }
  if (table.has(other)) {
    table.report_at(other, fmt::format("a {} separates {}s: its live zones have a '{}'",
                                       name_of(*separates), wanted, wanted));
  }
  if (by_system) {
    entry.zone.supply = supply_from(table, "system", Need::required);
  } else {
    entry.zone.phase = table.id("phase", Need::required).value_or("");
  }
}

Entry read_zone(const TomlTable& table, std::optional<SeparationKind> separates, bool first,
                bool last) {
  Entry entry{.table = table, .zone = {}, .read = false};
  const auto name =
      entry.table.word("kind", {"live", "neutral", "earthed", "insulator"}, Need::required);
  const auto kind = name ? zone_kind_named(*name) : std::nullopt;
  const auto from = read_end(entry.table, "from_m", first, -endless);
  const auto to = read_end(entry.table, "to_m", last, endless);
  entry.zone.place = table.place();
  if (kind) {
    entry.zone.kind = *kind;
    read_identity(entry, separates);
    if ((first || last) && *kind != ZoneKind::live) {
      entry.table.report_at("kind",
                            fmt::format("the {} zone is the live wire {} the section: "
                                        "'kind = \"live\"'",
                                        first ? "first" : "last", first ? "before" : "behind"));
    }
  } else {
    entry.table.has("phase");
    entry.table.has("system");
  }
  entry.read = kind && from && to;
  entry.zone.from_m = from.value_or(0);
  entry.zone.to_m = to.value_or(0);
  if (from && to && *to <= *from) {
    entry.table.report_at("to_m",
                          fmt::format("the zone ends at {:.9g} m, {} it begins{}", *to,
                                      *to == *from ? "where" : "before",
                                      *to == *from ? "" : fmt::format(", at {:.9g} m", *from)));
    entry.read = false;
  }
  entry.table.finish();
  return entry;
}

/// Whether they join; says what is wrong where they do not.
bool check_joint(Entry& before, Entry& zone, std::size_t number) {
  const double gap = zone.zone.from_m - before.zone.to_m;
  const bool insulated =
      zone.zone.kind == ZoneKind::insulator || before.zone.kind == ZoneKind::insulator;
  if (zone.zone.kind == ZoneKind::insulator && before.zone.kind == ZoneKind::insulator) {
    zone.table.report_at("kind", "two insulators follow each other: make one of them");
  } else if (gap > same_place_m) {
    zone.table.report_at(
        "from_m",
        fmt::format("zone {} begins at {:.9g} m, after where zone {} ends, at {:.9g} m; what lies "
                    "between is a zone too: neutral, earthed or an insulator",
                    number, zone.zone.from_m, number - 1, before.zone.to_m));
  } else if (insulated && gap < -same_place_m) {
    zone.table.report_at(
        "from_m", fmt::format("an insulator does not overlap: zone {} begins at {:.9g} m, zone {} "
                              "ends at {:.9g} m",
                              number, zone.zone.from_m, number - 1, before.zone.to_m));
  } else if (zone.zone.from_m <= before.zone.from_m) {
    zone.table.report_at(
        "from_m",
        fmt::format("the overlap is longer than zone {}: zone {} begins at {:.9g} m, not "
                    "behind where zone {} begins, at {:.9g} m",
                    number - 1, number, zone.zone.from_m, number - 1, before.zone.from_m));
  } else if (zone.zone.to_m <= before.zone.to_m) {
    zone.table.report_at(
        "to_m", fmt::format("the overlap is longer than zone {}: it ends at {:.9g} m, not behind "
                            "where zone {} ends, at {:.9g} m",
                            number, zone.zone.to_m, number - 1, before.zone.to_m));
  } else {
    return true;
  }
  return false;
}

/// Three wires side by side.
bool check_next_but_one(Entry& before, Entry& zone, std::size_t number) {
  if (zone.zone.from_m < before.zone.to_m - same_place_m) {
    zone.table.report_at(
        "from_m",
        fmt::format("overlaps longer than the zone between: zone {} begins at {:.9g} m, before "
                    "zone {} ends, at {:.9g} m",
                    number, zone.zone.from_m, number - 2, before.zone.to_m));
    return false;
  }
  return true;
}

void check_ends_differ(Entry& first, Entry& last) {
  const bool same_phase = !first.zone.phase.empty() && first.zone.phase == last.zone.phase;
  const bool same_system = first.zone.supply && first.zone.supply == last.zone.supply;
  if (same_phase || same_system) {
    last.table.report_at(
        same_phase ? "phase" : "system",
        fmt::format("{} is on both sides: the section would separate nothing", name_of(last.zone)));
  }
}

/// The free length between the live ends can be no shorter than a maximum between outer strips, the
/// zones between them together no longer than a minimum between inner strips.
void check_length(TomlTable& table, const SeparationSection& section,
                  const std::vector<SeparationZone>& zones) {
  const double free_m = zones.back().from_m - zones.front().to_m;
  const double overall_m =
      zones.size() > 2 ? zones[zones.size() - 2].to_m - zones[1].from_m : free_m;
  const double length_m = section.length_m;
  const bool meaning_is_maximum = section.length_meaning == LengthMeaning::maximum_between_outer;
  const bool meaning_is_minimum = section.length_meaning == LengthMeaning::minimum_between_inner;
  if (meaning_is_maximum && length_m > free_m + same_place_m) {
    table.report_at("length_m",
                    fmt::format("the length and the zones disagree: {:.9g} m between outer strips "
                                "would reach over the {:.9g} m between the live zones",
                                length_m, free_m));
  } else if (meaning_is_minimum && length_m < overall_m - same_place_m) {
    table.report_at("length_m",
                    fmt::format("the length and the zones disagree: strips {:.9g} m apart would "
                                "both be within the zones between the live ones, {:.9g} m over all",
                                length_m, overall_m));
  } else if (section.length_meaning == LengthMeaning::not_stated &&
             (length_m < free_m - same_place_m || length_m > overall_m + same_place_m)) {
    table.report_at("length_m",
                    fmt::format("the length and the zones disagree: {:.9g} m is not between the "
                                "{:.9g} m from live zone to live zone and the {:.9g} m over all "
                                "zones between them",
                                length_m, free_m, overall_m));
  }
  if (zones.front().to_m > length_m || zones.back().from_m < 0) {
    table.report_at("zone",
                    "the zones do not lie in the section: places count in metres from its "
                    "'from_km'");
  }
}

}  // namespace

std::vector<SeparationZone> read_separation_zones(TomlTable& table,
                                                  const SeparationSection& section,
                                                  std::optional<SeparationKind> separates) {
  const std::vector<TomlTable> tables = table.tables("zone");
  if (tables.empty()) {
    return {};
  }
  if (tables.size() < 2 || tables.size() > most_zones) {
    table.report_at("zone", fmt::format("{} zone{}; a separation section has from 2 to {}, a live "
                                        "one at either end",
                                        tables.size(), tables.size() == 1 ? "" : "s", most_zones));
    return {};
  }
  std::vector<Entry> entries;
  std::vector<SeparationZone> zones;
  bool all_read = true;
  for (std::size_t i = 0; i < tables.size(); ++i) {
    entries.push_back(read_zone(tables[i], separates, i == 0, i + 1 == tables.size()));
    zones.push_back(entries.back().zone);
    all_read &= entries.back().read;
  }
  bool all_join = true;
  bool last_joins = true;
  for (std::size_t i = 1; i < entries.size(); ++i) {
    const bool joins =
        !entries[i - 1].read || !entries[i].read || check_joint(entries[i - 1], entries[i], i + 1);
    const bool three = i > 1 && joins && last_joins && entries[i - 2].read && entries[i].read;
    all_join &= joins && (!three || check_next_but_one(entries[i - 2], entries[i], i + 1));
    last_joins = joins;
  }
  check_ends_differ(entries.front(), entries.back());
  if (!all_read || !all_join) {
    return {};
  }
  const bool meaning_is_read =
      !table.has("length_is") || section.length_meaning != LengthMeaning::not_stated;
  if (!std::isnan(section.length_m) && meaning_is_read) {
    check_length(table, section, zones);
  }
  return zones;
}

}  // namespace panup
