#pragma once
/// What every harness here offers, by the convention of libFuzzer.

#include <cstddef>
#include <cstdint>
#include <string>

#include "base/source_text.h"

// NOLINTNEXTLINE(readability-identifier-naming): the name is libFuzzer's
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace panup {

inline SourceText fuzzed_source(const std::uint8_t* data, std::size_t size) {
  return {.file = "fuzzed", .text = std::string(data, data + size)};
}

/// Ends the run, so that the input that led here is kept or named.
[[noreturn]] void fail(const char* why);

/// Fails unless a reader gave either a value or at least one diagnostic, and each diagnostic is one
/// line with a text.
void require_sound(bool has_value, const Diagnostics& diagnostics);

}  // namespace panup
