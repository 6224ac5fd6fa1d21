#pragma once

#include <cstdint>

#include "scenario.h"

namespace panup {

/// A random train on a random route with all that asks for orders close together: zones of every
/// kind 0.1 to 8 km apart, landmarks and boards at random, sections that differ in records, heads,
/// systems and speeds, stops and reversals anywhere. Every third seed has boards of the line that
/// bind. The same seed makes the same everywhere.
scenario::Scenario dense_route(std::uint64_t seed);

}  // namespace panup
