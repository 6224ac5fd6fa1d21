#pragma once

#if defined(__SSE2__)
#include <xmmintrin.h>
#endif

namespace panup {

/// While it lives, numbers too small to be normal count as zero on this thread. Waves that die away
/// ahead of the train would otherwise slow the processor down a hundredfold.
class FlushDenormals {
 public:
#if defined(__SSE2__)
  FlushDenormals() : before_(_mm_getcsr()) { _mm_setcsr(before_ | flush_and_ignore); }
  ~FlushDenormals() { _mm_setcsr(before_); }
#else
  FlushDenormals() = default;
#endif
  FlushDenormals(const FlushDenormals&) = delete;
  FlushDenormals& operator=(const FlushDenormals&) = delete;

 private:
#if defined(__SSE2__)
  static constexpr unsigned flush_and_ignore = 0x8040;
  unsigned before_;
#endif
};

}  // namespace panup
