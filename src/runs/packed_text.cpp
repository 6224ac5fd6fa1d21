#include "runs/packed_text.h"

#include <zlib.h>

#include <cstdint>

#include "runs/bytes.h"

namespace panup {

namespace {

constexpr int fast = 1;
constexpr std::uint64_t greatest_text_bytes = 1'000'000'000;

}  // namespace

std::string packed_text(const std::string& text) {
  uLongf size = compressBound(static_cast<uLong>(text.size()));
  std::string bytes(size, '\0');
  compress2(reinterpret_cast<Bytef*>(bytes.data()), &size,
            reinterpret_cast<const Bytef*>(text.data()), static_cast<uLong>(text.size()), fast);
  bytes.resize(size);
  ByteWriter whole;
  whole.count(text.size());
  return whole.bytes() + bytes;
}

std::optional<std::string> unpacked_text(std::string_view bytes) {
  ByteReader reader(bytes);
  std::uint64_t count = 0;
  if (!reader.count(count) || count > greatest_text_bytes) {
    return std::nullopt;
  }
  bytes.remove_prefix(sizeof count);
  std::string text(count, '\0');
  auto size = static_cast<uLongf>(count);
  const int status =
      uncompress(reinterpret_cast<Bytef*>(text.data()), &size,
                 reinterpret_cast<const Bytef*>(bytes.data()), static_cast<uLong>(bytes.size()));
  return status == Z_OK && size == count ? std::optional(std::move(text)) : std::nullopt;
}

}  // namespace panup
