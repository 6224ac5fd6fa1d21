#include "files/read_route.h"

#include "files/check_route.h"
#include "files/document.h"
#include "files/read_line_geometry.h"
#include "files/read_provenance.h"
#include "files/read_track.h"
#include "files/read_track_parts.h"

namespace panup {

namespace {

std::vector<Stop> read_stops(TomlTable& root) {
  std::vector<Stop> stops;
  for (TomlTable& entry : root.tables("stop")) {
    Stop stop;
    stop.name = entry.text("name", Need::required).value_or("");
    stop.at_km = entry.number("at_km", any_chainage_km, Need::required).value_or(unknown_km);
    stop.reversal = entry.flag("reversal").value_or(false);
    stop.place = entry.place();
    entry.finish();
    stops.push_back(std::move(stop));
  }
  return stops;
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
  route.contact_line_folder = path_beside(source.file, root->text("contact_line_folder"));
  const ValueSources sources = read_value_sources(*root);
  route.sections = read_sections(*root, sources);
  const std::size_t before_separations = diagnostics.size();
  route.separations = read_separations(root->tables("separation"), sources);
  const bool separations_are_right = diagnostics.size() == before_separations;
  route.lowered = read_lowered(root->tables("lowered"));
  route.low_places = read_low_places(root->tables("low_place"), sources);
  route.stops = read_stops(*root);
  route.landmarks = read_landmarks(root->tables("landmark"));
  route.gradients = read_gradients(root->tables("gradient"));
  route.section_insulators = read_section_insulators(root->tables("section_insulator"));
  root->finish();
  put_in_order(route);
  check_route({route, "the route"}, separations_are_right, *root);
  return diagnostics.size() == mistakes ? std::optional(std::move(route)) : std::nullopt;
}

}  // namespace panup
