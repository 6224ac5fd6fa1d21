#include "drawing/grey_png.h"

#include <zlib.h>

#include <cstdint>
#include <string_view>

namespace panup {

namespace {

/// Of a sheet, packing harder than this takes half as long again and saves a thirtieth.
constexpr int compression = 4;

void add_number(std::string& bytes, std::uint32_t value) {
  for (int shift = 24; shift >= 0; shift -= 8) {
    bytes.push_back(static_cast<char>(value >> shift & 0xffU));
  }
}

void add_chunk(std::string& bytes, std::string_view type, std::string_view data) {
  add_number(bytes, static_cast<std::uint32_t>(data.size()));
  const std::size_t checked_from = bytes.size();
  bytes += type;
  bytes += data;
  const std::string_view checked = std::string_view(bytes).substr(checked_from);
  add_number(bytes,
             static_cast<std::uint32_t>(crc32(0, reinterpret_cast<const Bytef*>(checked.data()),
                                              static_cast<uInt>(checked.size()))));
}

/// Each row behind the number of its filter, 0: none.
std::string rows_of(const GreyImage& image) {
  const auto width = static_cast<std::size_t>(image.width);
  std::string rows;
  rows.reserve((width + 1) * static_cast<std::size_t>(image.height));
  for (std::size_t y = 0; y < static_cast<std::size_t>(image.height); ++y) {
    rows.push_back('\0');
    rows.append(reinterpret_cast<const char*>(image.levels.data()) + y * width, width);
  }
  return rows;
}

std::string compressed(const std::string& rows) {
  uLongf size = compressBound(static_cast<uLong>(rows.size()));
  std::string bytes(size, '\0');
  compress2(reinterpret_cast<Bytef*>(bytes.data()), &size,
            reinterpret_cast<const Bytef*>(rows.data()), static_cast<uLong>(rows.size()),
            compression);
  bytes.resize(size);
  return bytes;
}

}  // namespace

std::string grey_png(const GreyImage& image) {
  std::string bytes = "\x89PNG\r\n\x1a\n";
  std::string header;
  add_number(header, static_cast<std::uint32_t>(image.width));
  add_number(header, static_cast<std::uint32_t>(image.height));
  constexpr std::string_view eight_bits_of_grey("\x08\0\0\0\0", 5);
  header += eight_bits_of_grey;
  add_chunk(bytes, "IHDR", header);
  add_chunk(bytes, "IDAT", compressed(rows_of(image)));
  add_chunk(bytes, "IEND", {});
  return bytes;
}

}  // namespace panup
