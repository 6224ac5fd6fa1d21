#include <gtest/gtest.h>
#include <png.h>

#include "drawing/grey_png.h"

namespace panup {
namespace {

TEST(GreyPng, HoldsEveryLevelWhereItStands) {
  const GreyImage image{3, 2, {0, 128, 255, 7, 8, 9}};
  const std::string bytes = grey_png(image);
  png_image read{};
  read.version = PNG_IMAGE_VERSION;
  ASSERT_NE(png_image_begin_read_from_memory(&read, bytes.data(), bytes.size()), 0);
  EXPECT_EQ(read.width, 3U);
  EXPECT_EQ(read.height, 2U);
  EXPECT_EQ(read.format, static_cast<png_uint_32>(PNG_FORMAT_GRAY));
  std::vector<unsigned char> levels(6);
  ASSERT_NE(png_image_finish_read(&read, nullptr, levels.data(), 0, nullptr), 0);
  EXPECT_EQ(levels, image.levels);
}

TEST(GreyPng, IsTheSameBytesForTheSameImage) {
  const GreyImage image{64, 64, std::vector<unsigned char>(64 * 64, 200)};
  EXPECT_EQ(grey_png(image), grey_png(image));
}

}  // namespace
}  // namespace panup
