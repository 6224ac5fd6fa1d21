#include <stdexcept>

#include "bad_input_cases.h"
#include "input_texts.h"

namespace panup {

namespace {

constexpr std::string_view right_spans =
    "line_speed_kmh = 100\n"
    "wires = [{ diameter_mm = 12, tension_n = 10000 }, { diameter_mm = 9, tension_n = 9000 }]\n"
    "span = [\n"
    "  { length_m = 65, stagger_mm = [300, -300], number = 40 },\n"
    "  { length_m = 50, stagger_mm = [250, 240], curve_radius_m = 900 },\n"
    "]\n";

constexpr std::string_view right_low_place =
    "[[low_place]]\n"
    "name = \"Mill bridge\"\n"
    "from_km = 4.1\n"
    "to_km = 4.2\n"
    "wire_height_min_m = 4.95\n\n";

BadInput in_spans(const char* name, const std::string& change, const std::string& into,
                  const std::string& text, const std::string& at = "") {
  return {
      name, FileKind::route, "line_speed_kmh = 100\n", replaced(right_spans, change, into), text,
      at};
}

BadInput in_low_place(const char* name, const std::string& change, const std::string& into,
                      const std::string& text, const std::string& at = "") {
  return {name,          FileKind::route,
          "[[lowered]]", replaced(right_low_place, change, into) + "[[lowered]]",
          text,          at};
}

}  // namespace

std::vector<BadInput> bad_geometry_cases() {
  return {
      in_spans("SpanTooLong", "length_m = 65", "length_m = @650",
               "'length_m' is 650; expected a value from 5 to 120"),
      in_spans("SpanWithoutLength", "{ length_m = 65,", "@{", "key 'length_m' is missing"),
      in_spans("SpanWithoutStagger", "{ length_m = 65, stagger_mm = [300, -300],",
               "@{ length_m = 65,", "key 'stagger_mm' is missing"),
      in_spans("RadiusInKilometres", "curve_radius_m = 900", "@curve_radius_km = 0.9",
               "...curve_radius_m"),
      in_spans("OneStagger", "[300, -300]", "@[300]",
               "'stagger_mm' has 1 values; a span has two supports"),
      in_spans("StaggerBeyondTheHead", "[300, -300]", "[300, @-3000]",
               "'stagger_mm' is -3000; expected a value from -800 to 800"),
      in_spans("CurveWithoutRadius", "curve_radius_m = 900", "curve_radius_m = @0",
               "'curve_radius_m' is 0; expected a value from 100 to 100000"),
      in_spans("NoSuchSpans", "number = 40", "number = @0",
               "'number' is 0; expected a value from 1 to 100000"),
      in_spans("MisspeltKeyOfASpan", "curve_radius_m = 900", "@curve_raduis_m = 900",
               "unknown key 'curve_raduis_m'; did you mean 'curve_radius_m'?"),
      in_spans("SpansWithoutWires",
               "wires = [{ diameter_mm = 12, tension_n = 10000 }, { diameter_mm = 9, tension_n = "
               "9000 }]\n",
               "", "key 'wires' is missing", "[[section]]\nid = \"a2\""),
      in_spans("SpansWithNoWire",
               "[{ diameter_mm = 12, tension_n = 10000 }, { diameter_mm = 9, tension_n = 9000 }]",
               "@[]", "'wires' is empty; at least one is needed"),
      in_spans("SlackWire", "tension_n = 9000", "tension_n = @9",
               "'tension_n' is 9; expected a value from 500 to 60000"),
      in_spans("WireWithoutDiameter", "{ diameter_mm = 9,", "@{", "key 'diameter_mm' is missing"),
      in_low_place("LowPlaceWithoutHeight", "wire_height_min_m = 4.95\n", "",
                   "key 'wire_height_min_m' is missing", "[[low_place]]"),
      in_low_place("LowPlaceOfNoLength", "to_km = 4.2", "to_km = @4.1",
                   "'Mill bridge' ends where it begins, at km 4.1"),
      in_low_place("LowPlaceBeyondTheRoute", "to_km = 4.2", "to_km = 40",
                   "'Mill bridge' lies from km 4.1 to 40, outside the route, which runs from km 0 "
                   "to 20",
                   "[[low_place]]"),
      in_low_place("LowPlaceUnderground", "wire_height_min_m = 4.95", "wire_height_min_m = @0.4",
                   "'wire_height_min_m' is 0.4; expected a value from 3 to 9"),
      {"WorkingWidthBeyondTheHead", FileKind::stock, "name = \"Head one\"\nhead_width_mm = 1950",
       "name = \"Head one\"\nhead_width_mm = 1950\nworking_width_mm = @1950",
       "'working_width_mm' is 1950; it is less than 'head_width_mm', which is 1950: the horns lie "
       "beside it"},
      {"WorkingWidthInMetres", FileKind::stock, "name = \"Head one\"\nhead_width_mm = 1950",
       "name = \"Head one\"\nhead_width_mm = 1950\nworking_width_mm = @1.55",
       "'working_width_mm' is 1.55; expected a value from 500 to 2500"},
  };
}

}  // namespace panup
