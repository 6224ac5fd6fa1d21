#pragma once

#include <string>

namespace panup {

/// Now, in UTC as 2026-05-12T03:10:00Z.
std::string utc_now();

}  // namespace panup
