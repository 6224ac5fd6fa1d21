#pragma once

namespace panup {

/// Sanitizers make a test some thirty times slower. What repeats a case does so less often then;
/// the Release tests of `./check --all` take the full number.
#ifdef PANUP_SANITIZED
inline constexpr bool sanitized = true;
#else
inline constexpr bool sanitized = false;
#endif

/// Likewise where only what changed is asked.
#ifdef PANUP_SPARING
inline constexpr bool sparing = true;
#else
inline constexpr bool sparing = false;
#endif

}  // namespace panup
