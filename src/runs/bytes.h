#pragma once

#include <bit>
#include <cstdint>
#include <limits>
#include <string>
#include <string_view>

namespace panup {

/// Counts, figures and texts one after the other, to be read back to the last bit on any host:
/// counts have eight bytes, figures are IEEE 754 doubles, both with the least byte first; a text is
/// its size and itself.
class ByteWriter {
 public:
  void count(std::uint64_t value) {
    for (int shift = 0; shift < 64; shift += 8) {
      bytes_.push_back(static_cast<char>(value >> shift & 0xffU));
    }
  }
  template <typename... Figures>
  void figures(Figures... values) {
    static_assert(std::numeric_limits<double>::is_iec559);
    (count(std::bit_cast<std::uint64_t>(values)), ...);
  }
  void text(std::string_view value) {
    count(value.size());
    bytes_ += value;
  }

  const std::string& bytes() const { return bytes_; }

 private:
  std::string bytes_;
};

/// Takes what was written off the front of bytes, which must outlive it. Each call is false where
/// they hold no such thing, whatever sizes they state.
class ByteReader {
 public:
  explicit ByteReader(std::string_view bytes) : rest_(bytes) {}

  bool count(std::uint64_t& value) {
    if (rest_.size() < sizeof value) {
      return false;
    }
    value = 0;
    for (std::size_t i = 0; i < sizeof value; ++i) {
      value |= std::uint64_t{static_cast<unsigned char>(rest_[i])} << (8 * i);
    }
    rest_.remove_prefix(sizeof value);
    return true;
  }
  template <typename... Figures>
  bool figures(Figures&... values) {
    return (figure(values) && ...);
  }
  bool text(std::string_view& value) {
    std::uint64_t size = 0;
    if (!count(size) || size > rest_.size()) {
      return false;
    }
    value = rest_.substr(0, size);
    rest_.remove_prefix(size);
    return true;
  }

  bool at_end() const { return rest_.empty(); }

 private:
  bool figure(double& value) {
    std::uint64_t bits = 0;
    const bool is_there = count(bits);
    value = std::bit_cast<double>(bits);
    return is_there;
  }

  std::string_view rest_;
};

}  // namespace panup
