#include "files/read_network.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>

#include "files/check_route.h"
#include "files/read_line_geometry.h"
#include "files/read_provenance.h"
#include "files/read_track.h"
#include "files/read_track_parts.h"

namespace panup {

namespace {

std::vector<std::string> ids_of_lines(const Network& network) {
  std::vector<std::string> ids;
  for (const NetworkLine& line : network.lines) {
    ids.push_back(line.id);
  }
  return ids;
}

/// Reads the tables of a network, each list once, and deals out what lies along lines.
class NetworkReader {
 public:
  NetworkReader(TomlTable& root, Diagnostics& diagnostics)
      : root_(root), diagnostics_(diagnostics) {}

  Network read() {
    network_.id = root_.id("id", Need::required).value_or("");
    network_.name = root_.text("name", Need::required).value_or("");
    network_.invented = root_.flag("invented").value_or(false);
    network_.contact_line_folder = path_beside(root_.file(), root_.text("contact_line_folder"));
    network_.place = root_.place();
    sources_ = read_value_sources(root_);
    read_lines();
    read_sections_of_lines();
    const std::size_t before_separations = diagnostics_.size();
    ByLine separations = dealt_out("separation");
    for (NetworkLine& line : network_.lines) {
      line.track.separations = read_separations(separations[line.id], sources_);
    }
    const bool separations_are_right = diagnostics_.size() == before_separations;
    ByLine lowered = dealt_out("lowered");
    ByLine low_places = dealt_out("low_place");
    ByLine gradients = dealt_out("gradient");
    ByLine insulators = dealt_out("section_insulator");
    ByLine landmarks = dealt_out("landmark");
    for (NetworkLine& line : network_.lines) {
      Route& track = line.track;
      track.lowered = read_lowered(lowered[line.id]);
      track.low_places = read_low_places(low_places[line.id], sources_);
      track.gradients = read_gradients(gradients[line.id]);
      track.section_insulators = read_section_insulators(insulators[line.id]);
      read_marks(landmarks[line.id], line);
      put_in_order(track);
    }
    read_places();
    read_regions();
    read_ways();
    root_.finish();
    if (sections_are_dealt_out_) {
      for (const NetworkLine& line : network_.lines) {
        check(line, separations_are_right);
      }
    }
    return std::move(network_);
  }

 private:
  /// Entries of a list by the ids of the lines they lie on.
  using ByLine = std::map<std::string, std::vector<TomlTable>, std::less<>>;

  void read_lines() {
    IdPlaces seen;
    for (TomlTable& entry : root_.tables("line", Need::required)) {
      NetworkLine line;
      line.id = entry.id("id", Need::required).value_or("");
      line.name = entry.text("name").value_or(line.id);
      line.place = entry.place();
      if (!line.id.empty()) {
        report_if_seen(entry, line.id, seen);
      }
      entry.finish();
      network_.lines.push_back(std::move(line));
    }
  }

  /// The line that an entry names; says what is wrong with it where it is not known.
  std::optional<std::string> known_line(TomlTable& entry) {
    auto id = entry.id("line", Need::required);
    if (id && line_of(network_, *id) == nullptr) {
      entry.report_at("line", not_found_text("line", *id, ids_of_lines(network_)));
      return std::nullopt;
    }
    return id;
  }

  void read_sections_of_lines() {
    for (Section& section : read_sections(root_, sources_)) {
      const auto line = std::ranges::find(network_.lines, section.line, &NetworkLine::id);
      sections_are_dealt_out_ &= line != network_.lines.end();
      if (line != network_.lines.end()) {
        line->track.sections.push_back(std::move(section));
      } else if (section.line.empty()) {
        root_.report(section.place, fmt::format("section '{}' does not say which line it belongs "
                                                "to; state its 'line'",
                                                section.id));
      } else {
        root_.report(section.place, not_found_text("line", section.line, ids_of_lines(network_)));
      }
    }
    for (NetworkLine& line : network_.lines) {
      const bool said_twice = line_of(network_, line.id) != &line;
      if (sections_are_dealt_out_ && line.track.sections.empty() && !said_twice) {
        root_.report(line.place, fmt::format("line '{}' has no section", line.id));
      }
    }
  }

  ByLine dealt_out(std::string_view key) {
    ByLine by_line;
    for (TomlTable& entry : root_.tables(key)) {
      if (const auto line = known_line(entry)) {
        by_line[*line].push_back(entry);
      }
    }
    return by_line;
  }

  /// Marks that bind a train, or permit it something, are meant for one direction; which, nobody
  /// but the file can say.
  static void read_marks(std::vector<TomlTable>& entries, NetworkLine& line) {
    std::vector<TomlTable> rising;
    std::vector<TomlTable> falling;
    std::vector<TomlTable> both;
    for (TomlTable& entry : entries) {
      const auto direction = entry.word("direction", {"rising", "falling"});
      if (direction) {
        (*direction == "rising" ? rising : falling).push_back(entry);
        continue;
      }
      bool said = entry.has("direction");
      for (const auto& [key, what] :
           {std::pair{"board", "a board of the line"}, std::pair{"signal", "a signal"},
            std::pair{"change_on_the_move", "a place where pantographs may be changed"}}) {
        if (entry.has(key) && !entry.has("direction")) {
          said = true;
          entry.report_at(
              key, fmt::format("{} holds for one direction: state 'direction', \"rising\" or "
                               "\"falling\", of the kilometres that its trains run by",
                               what));
        }
      }
      if (!said) {
        both.push_back(entry);
      }
    }
    const std::vector<Landmark> shared = read_landmarks(both);
    line.track.landmarks = read_landmarks(rising);
    line.falling_landmarks = read_landmarks(falling);
    for (std::vector<Landmark>* const list : {&line.track.landmarks, &line.falling_landmarks}) {
      list->insert(list->end(), shared.begin(), shared.end());
    }
    Route falling_track;
    falling_track.landmarks = std::move(line.falling_landmarks);
    put_in_order(falling_track);
    line.falling_landmarks = std::move(falling_track.landmarks);
  }

  void read_places() {
    IdPlaces seen;
    for (TomlTable& entry : root_.tables("place")) {
      NetworkPlace place;
      place.id = entry.id("id", Need::required).value_or("");
      place.name = entry.text("name").value_or(place.id);
      place.place = entry.place();
      if (!place.id.empty()) {
        report_if_seen(entry, place.id, seen);
      }
      for (TomlTable& on : entry.tables("on", Need::required)) {
        const auto line = known_line(on);
        const auto km = on.number("at_km", any_chainage_km, Need::required);
        on.finish();
        if (line && km) {
          add_to(place, {*line, *km}, on);
        }
      }
      entry.finish();
      network_.places.push_back(std::move(place));
    }
  }

  void add_to(NetworkPlace& place, const PlaceOnLine& added, TomlTable& on) {
    if (km_on(place, added.line)) {
      on.report_at("line", fmt::format("'{}' lies on line '{}' already; where a line comes by "
                                       "twice there are two places",
                                       place.name, added.line));
      return;
    }
    const std::vector<Section>& sections = line_of(network_, added.line)->track.sections;
    if (sections_are_dealt_out_ && !sections.empty() &&
        (added.at_km < sections.front().from_km || added.at_km > sections.back().to_km)) {
      on.report_at("at_km", fmt::format("'{}' at km {:.9g} lies outside line '{}', which runs from "
                                        "km {:.9g} to {:.9g}",
                                        place.name, added.at_km, added.line,
                                        sections.front().from_km, sections.back().to_km));
    }
    place.on.push_back(added);
  }

  void read_regions() {
    std::vector<std::string> known;
    for (const NetworkLine& line : network_.lines) {
      for (const Section& section : line.track.sections) {
        known.push_back(section.id);
      }
    }
    IdPlaces seen;
    for (TomlTable& entry : root_.tables("region")) {
      Region region;
      region.id = entry.id("id", Need::required).value_or("");
      region.name = entry.text("name").value_or(region.id);
      if (!region.id.empty()) {
        report_if_seen(entry, region.id, seen);
      }
      region.sections =
          entry.texts("sections", Need::required).value_or(std::vector<std::string>{});
      for (std::size_t i = 0; i < region.sections.size(); ++i) {
        if (sections_are_dealt_out_ &&
            std::ranges::find(known, region.sections[i]) == known.end()) {
          entry.report(entry.place_of("sections", i),
                       not_found_text("section", region.sections[i], known));
        }
      }
      entry.finish();
      network_.regions.push_back(std::move(region));
    }
  }

  /// Whether a way is one is said when it is composed, here as there.
  void read_ways() {
    IdPlaces seen;
    for (TomlTable& entry : root_.tables("way")) {
      NetworkWay way;
      way.id = entry.id("id", Need::required).value_or("");
      way.name = entry.text("name").value_or(way.id);
      way.from = entry.id("from", Need::required).value_or("");
      way.from_place = entry.place_of("from");
      way.legs = read_way_legs(entry, "legs", Need::required);
      way.place = entry.place();
      if (!way.id.empty()) {
        report_if_seen(entry, way.id, seen);
      }
      entry.finish();
      network_.ways.push_back(std::move(way));
    }
  }

  void check(const NetworkLine& line, bool separations_are_right) {
    const std::string name = fmt::format("line '{}'", line.id);
    check_route({line.track, name}, separations_are_right, root_);
    // What holds for both directions has been looked at as one of `track`.
    std::vector<Landmark> others;
    for (const Landmark& landmark : line.falling_landmarks) {
      const bool shared = std::ranges::any_of(line.track.landmarks, [&](const Landmark& known) {
        return known.place.line == landmark.place.line &&
               known.place.column == landmark.place.column;
      });
      if (!shared) {
        others.push_back(landmark);
      }
    }
    check_falling_landmarks({line.track, name}, others, separations_are_right, root_);
  }

  TomlTable& root_;
  Diagnostics& diagnostics_;
  Network network_;
  ValueSources sources_;
  bool sections_are_dealt_out_ = true;  ///< every section has a line that is known
};

}  // namespace

std::vector<WayLeg> read_way_legs(TomlTable& table, std::string_view key, Need need) {
  std::vector<WayLeg> legs;
  for (TomlTable& entry : table.tables(key, need)) {
    const auto line = entry.id("line", Need::required);
    const auto to = entry.id("to", Need::required);
    legs.push_back({.line = line.value_or(""),
                    .to = to.value_or(""),
                    .line_place = entry.place_of("line"),
                    .to_place = entry.place_of("to")});
    entry.finish();
  }
  return legs;
}

std::optional<Network> read_network(const SourceText& source, Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root_node = parse_toml(source, diagnostics);
  auto root =
      root_node ? root_of(*root_node, source.file, FileKind::network, diagnostics) : std::nullopt;
  if (!root) {
    return std::nullopt;
  }
  Network network = NetworkReader(*root, diagnostics).read();
  return diagnostics.size() == mistakes ? std::optional(std::move(network)) : std::nullopt;
}

}  // namespace panup
