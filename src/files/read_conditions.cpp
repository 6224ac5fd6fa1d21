#include "files/read_conditions.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

namespace {

std::vector<IceStretch> read_ice(TomlTable& root, const Route* route) {
  std::vector<IceStretch> ice;
  if (root.is_text("ice")) {
    if (root.word("ice", {"everywhere"}) && route != nullptr) {
      ice.push_back({route->sections.front().from_km, route->sections.back().to_km});
    }
    return ice;
  }
  if (root.has("ice") && !root.is_list("ice")) {
    root.report_unlike("ice",
                       "\"everywhere\", or a list of stretches as in [{ from_km = 40, to_km = 71.5 "
                       "}]; where there is no ice, leave 'ice' out");
    return ice;
  }
  for (TomlTable& entry : root.tables("ice")) {
    const auto id = entry.id("section");
    const Need need = entry.has("section") ? Need::optional : Need::required;
    const auto from = entry.number("from_km", any_chainage_km, need);
    const auto to = entry.number("to_km", any_chainage_km, need);
    entry.finish();
    if (entry.has("section") && (entry.has("from_km") || entry.has("to_km"))) {
      entry.report(entry.place(),
                   "an entry of 'ice' is either a section or a stretch from km to km, not both");
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
      entry.report_at("section",
                      fmt::format("route '{}' has no section '{}'{}", route->id, *id,
                                  nearest.empty() ? std::string()
                                                  : fmt::format("; did you mean '{}'?", nearest)));
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

bool names_sections(const SourceText& source) {
  Diagnostics said_elsewhere;
  const auto root = parse_toml(source, said_elsewhere);
  if (!root) {
    return false;
  }
  TomlTable table(*root, source.file, said_elsewhere);
  std::vector<TomlTable> ice =
      table.is_list("ice") ? table.tables("ice") : std::vector<TomlTable>();
  return std::ranges::any_of(ice, [](TomlTable& stretch) { return stretch.has("section"); });
}

}  // namespace panup
