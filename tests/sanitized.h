#pragma once

namespace panup {

/// Sanitizers make a test some thirty times slower. What repeats a case does so less often then;
/// the Release tests of `./check --all` take the full number.
#ifdef PANUP_SANITIZED
inline constexpr bool sanitized = true;
#else
inline constexpr bool sanitized = false;
#endif

}  // namespace panup
