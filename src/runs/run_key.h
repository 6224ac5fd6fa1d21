#pragma once

#include <span>
#include <string>
#include <vector>

#include "dynamics/simulate.h"

namespace panup {

/// For each run a name of its content: SHA-256 (FIPS 180-4) over every figure that its result hangs
/// on and over `mechanics_fingerprint`, 32 bytes. Names, sources and places in files do not count,
/// nor does whether a history is kept. Runs of one name have one result.
std::vector<std::string> run_keys(std::span<const SimulationRequest> requests);

/// Differs between any two states of the program that might compute a run differently: its version
/// with SHA-256, in hexadecimal, over the sources of the mechanics and of what is kept of a run,
/// and over the compiler and its options.
const std::string& mechanics_fingerprint();

}  // namespace panup
