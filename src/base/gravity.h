#pragma once

namespace panup {

/// Standard acceleration of free fall. Source: 3rd General Conference on Weights and Measures,
/// 1901.
inline constexpr double gravity_ms2 = 9.80665;

}  // namespace panup
