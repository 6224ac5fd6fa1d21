#pragma once

#include <string>
#include <string_view>

namespace panup {

/// A phase separation section without a mistake, as it may stand in the right route.
inline constexpr std::string_view right_phase_separation = R"([[separation]]
name = "Moor"
type = "phase"
from_km = 7
length_m = 100
pantograph_lowered = false
breaker_off = true
length_is = "maximum between outer strips"
[[separation.zone]]
kind = "live"
phase = "R"
to_m = 0
[[separation.zone]]
kind = "neutral"
from_m = -2
to_m = 60
[[separation.zone]]
kind = "insulator"
from_m = 60
to_m = 61
[[separation.zone]]
kind = "earthed"
from_m = 61
to_m = 103
[[separation.zone]]
kind = "live"
phase = "S"
from_m = 101

)";

/// Zones of the system separation section that the right route has: they follow its last key.
inline constexpr std::string_view right_system_zones = R"(length_is = "minimum between inner strips"
zone = [
  { kind = "live", system="AC 15 kV 16.7 Hz", to_m = 0 },
  { kind = "neutral", from_m = 0, to_m = 200 },
  { kind = "live", system="DC 3 kV", from_m = 200 },
]
)";

}  // namespace panup
