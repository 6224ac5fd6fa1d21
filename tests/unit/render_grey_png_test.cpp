#include <gtest/gtest.h>
#include <zlib.h>

#include "drawing/grey_png.h"

namespace panup {
namespace {

std::uint32_t number_at(std::string_view bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    value = value << 8U | static_cast<unsigned char>(bytes[at + i]);
  }
  return value;
}

/// The data of a chunk, and the place behind it; its checksum is tried.
std::string_view chunk_at(std::string_view bytes, std::size_t& at, std::string_view type) {
  const std::size_t size = number_at(bytes, at);
  EXPECT_EQ(bytes.substr(at + 4, 4), type);
  const std::string_view checked = bytes.substr(at + 4, 4 + size);
  EXPECT_EQ(
      number_at(bytes, at + 8 + size),
      crc32(0, reinterpret_cast<const Bytef*>(checked.data()), static_cast<uInt>(checked.size())));
  at += 12 + size;
  return checked.substr(4);
}

TEST(GreyPng, HoldsEveryLevelWhereItStands) {
  const GreyImage image{3, 2, {0, 128, 255, 7, 8, 9}};
  const std::string png = grey_png(image);
  EXPECT_TRUE(png.starts_with("\x89PNG\r\n\x1a\n"));
  std::size_t at = 8;
  const std::string_view header = chunk_at(png, at, "IHDR");
  EXPECT_EQ(header, std::string_view("\0\0\0\3\0\0\0\2\x08\0\0\0\0", 13));
  const std::string_view packed = chunk_at(png, at, "IDAT");
  std::string rows(8, '?');
  uLongf size = rows.size();
  ASSERT_EQ(
      uncompress(reinterpret_cast<Bytef*>(rows.data()), &size,
                 reinterpret_cast<const Bytef*>(packed.data()), static_cast<uLong>(packed.size())),
      Z_OK);
  EXPECT_EQ(rows, std::string("\0\0\x80\xff\0\7\x08\x09", 8));
  EXPECT_EQ(chunk_at(png, at, "IEND"), "");
  EXPECT_EQ(at, png.size());
}

}  // namespace
}  // namespace panup
