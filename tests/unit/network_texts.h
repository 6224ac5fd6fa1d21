#pragma once

#include <string_view>

namespace panup {

/// A network of two lines that meet at Mosk: line 1 comes from Harl and goes on to Norra, line 3
/// begins there by kilometre 8 and falls to Varn.
inline constexpr std::string_view right_network = R"(kind = "network"
id = "nordvale"
name = "Nordvale"
invented = true

[[line]]
id = "1"
name = "Main line"

[[line]]
id = "3"

[profile.nordvale]
system = "AC 15 kV 16.7 Hz"
permitted_head_widths_mm = [1950]
permitted_strip_materials = ["plain carbon"]
line_speed_kmh = 100

[[section]]
id = "a1"
line = "1"
profile = "nordvale"
from_km = 10
to_km = 30
wires = [{ diameter_mm = 12, tension_n = 10000 }]

[[section.span]]
length_m = 60
stagger_mm = [300, -200]

[[section]]
id = "a2"
line = "1"
profile = "nordvale"
from_km = 30
to_km = 40
line_speed_kmh = 80

[[section]]
id = "c1"
line = "3"
profile = "nordvale"
from_km = 0
to_km = 8

[[separation]]
line = "1"
name = "Orr phase separation"
type = "phase"
from_km = 20
length_m = 100
pantograph_lowered = false
breaker_off = true

[[separation.zone]]
kind = "live"
phase = "R"
to_m = -3

[[separation.zone]]
kind = "neutral"
from_m = -10
to_m = 90

[[separation.zone]]
kind = "live"
phase = "S"
from_m = 85

[[lowered]]
line = "3"
name = "Works"
from_km = 3
to_km = 3.2

[[low_place]]
line = "1"
name = "Mill bridge"
from_km = 33
to_km = 33.1
wire_height_min_m = 4.9

[[landmark]]
line = "1"
name = "Orr board"
at_km = 19.5
direction = "rising"
board = "breaker off"
board_of = "Orr phase separation"

[[landmark]]
line = "1"
name = "Orr board, other side"
at_km = 20.6
direction = "falling"
board = "breaker off"
board_of = "Orr phase separation"

[[landmark]]
line = "1"
name = "Mosk home signal"
at_km = 28
direction = "rising"
signal = true

[[landmark]]
line = "1"
name = "Orr tunnel"
at_km = 16

[[gradient]]
line = "1"
from_km = 15
to_km = 25
permille = 4

[[section_insulator]]
line = "1"
name = "Mosk insulator"
at_km = 29
length_m = 4

[[place]]
id = "harl"
name = "Harl"
on = [{ line = "1", at_km = 10 }]

[[place]]
id = "orr"
name = "Orr"
on = [{ line = "1", at_km = 22 }]

[[place]]
id = "mosk"
name = "Mosk"
on = [{ line = "1", at_km = 30 }, { line = "3", at_km = 8 }]

[[place]]
id = "norra"
name = "Norra"
on = [{ line = "1", at_km = 40 }]

[[place]]
id = "varn"
name = "Varn"
on = [{ line = "3", at_km = 0 }]

[[region]]
id = "upland"
name = "Upland"
sections = ["a2", "c1"]

[[way]]
id = "harl-norra"
name = "Harl – Norra"
from = "harl"
legs = [{ line = "1", to = "norra" }]
)";

inline constexpr std::string_view right_run = R"(kind = "run"
id = "60412"
name = "Harl – Varn, stopping"
network = "../networks/n.toml"
train = "../trains/t.toml"
train_number = "60412"
days = "Mondays to Fridays"
from = "harl"
legs = [{ line = "1", to = "mosk" }, { line = "3", to = "varn" }]
departure = 05:40:00

[[stop]]
at = "orr"
arrival = 05:50:00
departure = 05:51:00

[[stop]]
at = "mosk"
passing = 05:58:30

[[stop]]
at = "varn"
arrival = 06:10:00
)";

}  // namespace panup
