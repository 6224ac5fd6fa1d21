#pragma once

#include <string>
#include <vector>

namespace panup {

/// An image in levels of grey, a byte a pixel, row by row from the top.
struct GreyImage {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> levels;
};

/// The image as PNG (ISO/IEC 15948): one channel of eight bits. Its rows are not filtered: of a
/// drawing of lines and text on white, filtered rows take several times as long to pack and are no
/// smaller.
std::string grey_png(const GreyImage& image);

}  // namespace panup
