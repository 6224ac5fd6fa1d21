#include "drawing/grey_png.h"

#include <png.h>

#include <cstddef>
#include <stdexcept>

namespace panup {

namespace {

/// Of a sheet, packing harder than this takes half as long again and saves a thirtieth.
constexpr int compression = 4;

[[noreturn]] void fail(png_structp /*png*/, png_const_charp what) {
  throw std::runtime_error(std::string("an image cannot be packed as PNG: ") + what);
}

void append(png_structp png, png_bytep data, std::size_t size) {
  static_cast<std::string*>(png_get_io_ptr(png))->append(reinterpret_cast<const char*>(data), size);
}

void nothing_to_flush(png_structp /*png*/) {}

struct Writer {
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, fail, nullptr);
  png_infop info = png_create_info_struct(png);

  Writer() = default;
  Writer(const Writer&) = delete;
  Writer& operator=(const Writer&) = delete;
  ~Writer() { png_destroy_write_struct(&png, &info); }
};

}  // namespace

std::string grey_png(const GreyImage& image) {
  std::string bytes;
  const Writer writer;
  if (writer.info == nullptr) {
    throw std::bad_alloc();
  }
  png_set_write_fn(writer.png, &bytes, append, nothing_to_flush);
  const auto width = static_cast<png_uint_32>(image.width);
  const auto height = static_cast<png_uint_32>(image.height);
  png_set_IHDR(writer.png, writer.info, width, height, 8, PNG_COLOR_TYPE_GRAY, PNG_INTERLACE_NONE,
               PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_set_filter(writer.png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
  png_set_compression_level(writer.png, compression);
  png_write_info(writer.png, writer.info);
  for (std::size_t y = 0; y < height; ++y) {
    png_write_row(writer.png, image.levels.data() + y * width);
  }
  png_write_end(writer.png, nullptr);
  return bytes;
}

}  // namespace panup
