#include "files/read_line_geometry.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

namespace {

constexpr std::size_t most_wires = 8;

std::vector<LineWire> read_wires(TomlTable& table, Need need) {
  std::vector<LineWire> wires;
  for (TomlTable& entry : table.tables("wires", need)) {
    const auto diameter = entry.number("diameter_mm", {1, 50}, Need::required);
    const auto tension = entry.number("tension_n", {500, 60000}, Need::required);
    entry.finish();
    if (diameter && tension) {
      wires.push_back({.diameter_mm = *diameter, .tension_n = *tension});
    }
  }
  if (wires.size() > most_wires) {
    table.report_at("wires", fmt::format("{} wires; at most {}", wires.size(), most_wires));
  }
  return wires;
}

}  // namespace

void read_spans(TomlTable& section_table, Section& section) {
  for (TomlTable& entry : section_table.tables("span")) {
    SpanType span;
    span.length_m = entry.number("length_m", {5, 120}, Need::required).value_or(5);
    if (const auto staggers = entry.numbers("stagger_mm", {-800, 800}, Need::required)) {
      if (staggers->size() == span.stagger_m.size()) {
        std::ranges::transform(*staggers, span.stagger_m.begin(),
                               [](double mm) { return mm / 1000; });
      } else {
        entry.report_at(
            "stagger_mm",
            fmt::format("'stagger_mm' has {} values; a span has two supports", staggers->size()));
      }
    }
    span.curve_radius_m = entry.number("curve_radius_m", {100, 100000});
    span.number = entry.whole("number", 1, 100000);
    entry.finish();
    section.spans.push_back(span);
  }
  const Need need_wires = section.spans.empty() ? Need::optional : Need::required;
  section.wires = read_wires(section_table, need_wires);
}

std::vector<LowPlace> read_low_places(std::vector<TomlTable> entries, const ValueSources& sources) {
  std::vector<LowPlace> places;
  for (TomlTable& entry : entries) {
    LowPlace place;
    place.name = entry.text("name", Need::required).value_or("");
    const auto from = entry.number("from_km", any_chainage_km, Need::required);
    const auto to = entry.number("to_km", any_chainage_km, Need::required);
    const auto height = entry.number("wire_height_min_m", {3, 9}, Need::required);
    place.provenance = read_provenance(entry, sources);
    place.place = entry.place();
    entry.finish();
    if (!from || !to || !height) {
      continue;
    }
    if (*to <= *from) {
      entry.report_at("to_km", no_stretch_text(fmt::format("'{}'", place.name), *from, *to));
      continue;
    }
    place.from_km = *from;
    place.to_km = *to;
    place.wire_height_min_m = *height;
    places.push_back(std::move(place));
  }
  std::ranges::stable_sort(places, {}, &LowPlace::from_km);
  return places;
}

}  // namespace panup
