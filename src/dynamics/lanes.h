#pragma once

#include <cstddef>
#include <cstring>

/// Several numbers side by side, as the registers of a processor hold them. One source serves
/// several processors: the program picks when it starts.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && !defined(PANUP_SANITIZED)
#define PANUP_FOR_EACH_PROCESSOR \
  __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define PANUP_FOR_EACH_PROCESSOR
#endif

// They are handed from function to function, and all of these are inlined.
#pragma GCC diagnostic ignored "-Wpsabi"

namespace panup {

inline constexpr std::size_t lane_count = 8;

/// Eight numbers as one value: a cache line of them.
using Eight [[gnu::vector_size(64), gnu::may_alias]] = double;

/// Four numbers as one value. In memory they stand anywhere: they are copied out and in, for a
/// pointer to such a value promises the alignment of its type, and what the compiler makes of a
/// type of lesser alignment behind a reference differs between compilers. A copy is one load or
/// store.
using Four [[gnu::vector_size(32)]] = double;

/// Eight numbers of two neighbouring rows, `shift` to the right of the first.
template <int shift>
[[gnu::always_inline]] inline Eight shifted(const Eight& left, const Eight& right) {
  return __builtin_shufflevector(left, right, shift, shift + 1, shift + 2, shift + 3, shift + 4,
                                 shift + 5, shift + 6, shift + 7);
}

[[gnu::always_inline]] inline Four four(const double* values) {
  Four some;
  std::memcpy(&some, values, sizeof some);
  return some;
}

[[gnu::always_inline]] inline void add_to(double* values, const Four& more) {
  const Four some = four(values) + more;
  std::memcpy(values, &some, sizeof some);
}

[[gnu::always_inline]] inline double sum(const Four& values) {
  return (values[0] + values[1]) + (values[2] + values[3]);
}

[[gnu::always_inline]] inline double sum(const Eight& values) {
  return ((values[0] + values[1]) + (values[2] + values[3])) +
         ((values[4] + values[5]) + (values[6] + values[7]));
}

/// The sums of four values, side by side.
[[gnu::always_inline]] inline Four sums(const Four& a, const Four& b, const Four& c,
                                        const Four& d) {
  const Four ab =
      __builtin_shufflevector(a, b, 0, 4, 2, 6) + __builtin_shufflevector(a, b, 1, 5, 3, 7);
  const Four cd =
      __builtin_shufflevector(c, d, 0, 4, 2, 6) + __builtin_shufflevector(c, d, 1, 5, 3, 7);
  return __builtin_shufflevector(ab, cd, 0, 1, 4, 5) + __builtin_shufflevector(ab, cd, 2, 3, 6, 7);
}

}  // namespace panup
