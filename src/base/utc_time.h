#pragma once

#include <string>

namespace panup {

/// Now, in UTC as 2026-05-12T03:10:00Z.
std::string utc_now();

/// Today, in UTC as 2026-05-12.
std::string utc_today();

}  // namespace panup
