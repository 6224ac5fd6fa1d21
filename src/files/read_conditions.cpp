#include "files/read_conditions.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

namespace {

/// The first key of a stretch that only conditions for a network have; empty if it has none.
std::string_view network_key_of(TomlTable& entry) {
  for (const std::string_view key : {"line", "region", "from", "until"}) {
    if (entry.has(key)) {
      return key;
    }
  }
  return {};
}

std::string for_networks_text(std::string_view key) {
  return fmt::format(
      "'{}' is for runs through a network; for a route file, state ice by its kilometres or "
      "sections, and one wind and one temperature",
      key);
}

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
    if (const std::string_view key = network_key_of(entry); !key.empty()) {
      entry.report_at(key, for_networks_text(key));
      continue;
    }
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
  if (root->has("local")) {
    root->report_at("local", for_networks_text("local"));
  }
  conditions.ice = read_ice(*root, route);
  root->finish();
  merge(conditions.ice);
  return diagnostics.size() == mistakes ? std::optional(std::move(conditions)) : std::nullopt;
}

namespace {

/// Reads the day in a network.
class NetworkConditionsReader {
 public:
  NetworkConditionsReader(TomlTable& root, const Network* network)
      : root_(root), network_(network) {}

  NetworkConditions read() {
    conditions_.name = root_.text("name", Need::required).value_or("");
    conditions_.invented = root_.flag("invented").value_or(false);
    conditions_.temperature_c = root_.number("temperature_c", {-60, 60});
    conditions_.wind_ms = root_.number("wind_ms", {0, 80});
    conditions_.place = root_.place();
    read_ice();
    for (TomlTable& entry : root_.tables("local")) {
      LocalConditions local = read_place_and_time(entry);
      local.ice = entry.flag("ice").value_or(false);
      local.temperature_c = entry.number("temperature_c", {-60, 60});
      local.wind_ms = entry.number("wind_ms", {0, 80});
      if (!entry.has("ice") && !entry.has("temperature_c") && !entry.has("wind_ms")) {
        entry.report(entry.place(),
                     "it says a place and no weather: state 'ice', 'temperature_c' or 'wind_ms'");
      }
      entry.finish();
      conditions_.local.push_back(std::move(local));
    }
    root_.finish();
    return std::move(conditions_);
  }

 private:
  void read_ice() {
    if (root_.is_text("ice")) {
      if (root_.word("ice", {"everywhere"})) {
        conditions_.local.push_back({.ice = true, .place = root_.place_of("ice")});
      }
      return;
    }
    if (root_.has("ice") && !root_.is_list("ice")) {
      root_.report_unlike("ice",
                          "\"everywhere\", or a list of stretches as in [{ line = \"7\", from_km = "
                          "40, to_km = 71.5 }]; where there is no ice, leave 'ice' out");
      return;
    }
    for (TomlTable& entry : root_.tables("ice")) {
      LocalConditions local = read_place_and_time(entry);
      local.ice = true;
      entry.finish();
      conditions_.local.push_back(std::move(local));
    }
  }

  LocalConditions read_place_and_time(TomlTable& entry) {
    LocalConditions local;
    local.place = entry.place();
    int places = 0;
    for (const std::string_view key : {"line", "section", "region"}) {
      places += entry.has(key) ? 1 : 0;
    }
    if (places > 1) {
      entry.report(entry.place(),
                   "it lies on a 'line', in a 'section' or in a 'region': state one");
    }
    local.line = known(entry, "line");
    local.section = known(entry, "section");
    local.region = known(entry, "region");
    local.from_km = entry.number("from_km", any_chainage_km);
    local.to_km = entry.number("to_km", any_chainage_km);
    if ((entry.has("from_km") || entry.has("to_km")) && !entry.has("line")) {
      entry.report(entry.place(),
                   "kilometres of a route say nothing in a network, where every line has its own: "
                   "state whose they are, as in line = \"7\"; or a 'section' or 'region'");
    } else if (places == 0 && entry.has("ice")) {
      entry.report(entry.place(),
                   "ice everywhere is 'ice = \"everywhere\"'; here, state where: 'line', 'section' "
                   "or 'region'");
    } else if (places == 0) {
      entry.report(entry.place(), "it does not say where: state 'line', 'section' or 'region'");
    }
    if (local.from_km && local.to_km && *local.to_km <= *local.from_km) {
      entry.report_at("to_km", no_stretch_text("it", *local.from_km, *local.to_km));
    }
    local.from_s = time_of(entry, "from");
    local.until_s = time_of(entry, "until");
    return local;
  }

  static std::optional<int> time_of(TomlTable& entry, std::string_view key) {
    const auto time = entry.time_of_day(key);
    return time ? std::optional(time->hour * 3600 + time->minute * 60 + time->second)
                : std::nullopt;
  }

  /// The id under a key; reports one that the network does not have.
  std::string known(TomlTable& entry, const std::string& key) {
    const auto id = entry.id(key);
    if (!id || network_ == nullptr) {
      return id.value_or("");
    }
    std::vector<std::string> ids;
    if (key == "region") {
      for (const Region& region : network_->regions) {
        ids.push_back(region.id);
      }
    }
    for (const NetworkLine& line : network_->lines) {
      if (key == "line") {
        ids.push_back(line.id);
      }
      for (const Section& section : line.track.sections) {
        if (key == "section") {
          ids.push_back(section.id);
        }
      }
    }
    if (std::ranges::find(ids, *id) == ids.end()) {
      entry.report_at(key,
                      fmt::format("network '{}': {}", network_->id, not_found_text(key, *id, ids)));
    }
    return *id;
  }

  TomlTable& root_;
  const Network* network_;
  NetworkConditions conditions_;
};

}  // namespace

std::optional<NetworkConditions> read_network_conditions(const SourceText& source,
                                                         const Network* network,
                                                         Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  auto root = root_node ? root_of(*root_node, source.file, FileKind::conditions, diagnostics)
                        : std::nullopt;
  if (!root) {
    return std::nullopt;
  }
  NetworkConditions conditions = NetworkConditionsReader(*root, network).read();
  return diagnostics.size() == mistakes ? std::optional(std::move(conditions)) : std::nullopt;
}

namespace {

/// Whether any stretch of ice is so, or there is another list of this name; whatever else is wrong
/// with the file.
template <typename Has>
bool any_ice(const SourceText& source, std::string_view other_list, const Has& has) {
  Diagnostics said_elsewhere;
  const auto root = parse_toml(source, said_elsewhere);
  if (!root) {
    return false;
  }
  TomlTable table(*root, source.file, said_elsewhere);
  return table.has(other_list) ||
         (table.is_list("ice") && std::ranges::any_of(table.tables("ice"), has));
}

}  // namespace

bool is_for_networks(const SourceText& source) {
  return any_ice(source, "local",
                 [](TomlTable& stretch) { return !network_key_of(stretch).empty(); });
}

bool names_sections(const SourceText& source) {
  return any_ice(source, {}, [](TomlTable& stretch) { return stretch.has("section"); });
}

}  // namespace panup
