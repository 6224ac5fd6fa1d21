#include "drawing/diagram_sheets.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/handed_out.h"
#include "drawing/text_style.h"

namespace panup {

namespace {

constexpr double margin = 34;
constexpr double sheet_gap = 10;
constexpr double diagram_pixels_per_point = 2;
constexpr std::size_t rows_of_a_sheet = 3;
constexpr TextStyle title_style{.size_pt = 13, .weight = FontWeight::bold};

}  // namespace

void add_rows(DiagramSheets& sheets, const std::vector<Diagram>& diagrams) {
  const double height =
      1 / static_cast<double>(std::min(rows_of_a_sheet, std::max<std::size_t>(1, diagrams.size())));
  for (std::size_t i = 0; i < diagrams.size(); ++i) {
    const std::size_t row = i % rows_of_a_sheet;
    if (row == 0) {
      sheets.sheets.emplace_back();
    }
    sheets.sheets.back().push_back({diagrams[i], 0, height * static_cast<double>(row), 1, height});
  }
}

void draw_diagram_sheet(Canvas& canvas, const TextSetter& setter, const DiagramSheets& sheets,
                        std::size_t sheet) {
  const double width = a4_landscape.width - 2 * margin;
  const Words& words = setter.words();
  const std::string right = (sheets.invented ? invented_words(words) + "   " : std::string()) +
                            words.say("sheet {} of {}", sheet + 1, sheets.sheets.size());
  const Text corner = setter.set(right, small_bold);
  canvas.text(corner, {margin + width - corner.width(), margin - 8});
  const Text title =
      setter.set(fitted(sheets.title), title_style, width - corner.width() - 2 * sheet_gap);
  canvas.text(title, {margin, margin - 12});
  const Text subtitle = setter.set(fitted(sheets.subtitle, longest_order), small, width);
  double top = margin - 12 + title.height() + 2;
  canvas.text(subtitle, {margin, top});
  top += subtitle.height() + sheet_gap;

  const Text foot =
      setter.set(fmt::format("{}", fmt::join(cautions("result", words), " ")), small, width);
  const double bottom = a4_landscape.height - margin + 8 - foot.height();
  canvas.line({margin, bottom - 3}, {margin + width, bottom - 3}, {0.5});
  canvas.text(foot, {margin, bottom});
  const double height = bottom - sheet_gap - top;
  for (const PlacedDiagram& placed : sheets.sheets[sheet]) {
    draw_diagram(canvas, setter,
                 {margin + placed.left * width, top + placed.top * height,
                  placed.width * width - (placed.left + placed.width < 0.999 ? 2 * sheet_gap : 0),
                  placed.height * height - sheet_gap},
                 placed.diagram);
  }
}

std::vector<RenderedFile> render_diagram_sheets(const DiagramSheets& sheets) {
  const TextSetter setter(sheets.words);
  const DrawSheet draw = [&](Canvas& canvas, std::size_t sheet) {
    draw_diagram_sheet(canvas, setter, sheets, sheet);
  };
  std::vector<RenderedFile> files;
  const std::size_t count = sheets.sheets.size();
  files.push_back({sheets.name + ".pdf", sheets_to_pdf(a4_landscape, count, sheets.title, draw)});
  for (std::size_t i = 0; i < count; ++i) {
    files.push_back(
        {fmt::format("{}-{}.svg", sheets.name, i + 1), sheet_to_svg(a4_landscape, i, draw)});
    files.push_back({fmt::format("{}-{}.png", sheets.name, i + 1),
                     sheet_to_png(a4_landscape, i, diagram_pixels_per_point, draw)});
  }
  return files;
}

}  // namespace panup
