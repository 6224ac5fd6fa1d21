#pragma once

namespace panup {

/// Places no further apart than this are one: kilometres that should be the same differ by
/// rounding.
inline constexpr double same_place_km = 1e-6;

}  // namespace panup
