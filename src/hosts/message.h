#pragma once

#include <cstdint>
#include <cstring>
#include <optional>
#include <string>
#include <string_view>

namespace panup {

/// Numbers and texts one after the other, for processes on hosts of one kind.
class MessageWriter {
 public:
  void number(std::uint64_t value) {
    bytes_.append(reinterpret_cast<const char*>(&value), sizeof value);
  }
  void text(std::string_view value) {
    number(value.size());
    bytes_.append(value);
  }
  const std::string& bytes() const { return bytes_; }

 private:
  std::string bytes_;
};

/// Reads them back; nothing beyond the end.
class MessageReader {
 public:
  explicit MessageReader(std::string_view bytes) : rest_(bytes) {}

  std::optional<std::uint64_t> number() {
    std::uint64_t value = 0;
    if (rest_.size() < sizeof value) {
      return std::nullopt;
    }
    std::memcpy(&value, rest_.data(), sizeof value);
    rest_.remove_prefix(sizeof value);
    return value;
  }
  std::optional<std::string_view> text() {
    const auto size = number();
    if (!size || *size > rest_.size()) {
      return std::nullopt;
    }
    const std::string_view value = rest_.substr(0, *size);
    rest_.remove_prefix(*size);
    return value;
  }
  bool at_end() const { return rest_.empty(); }

 private:
  std::string_view rest_;
};

}  // namespace panup
