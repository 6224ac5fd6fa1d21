#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "drawing/cairo_canvas.h"

namespace panup {

/// A size of paper, in points.
struct SheetSize {
  double width = 0;
  double height = 0;
};

inline constexpr SheetSize a4_portrait{595.276, 841.89};

/// Draws one sheet, counted from 0.
using DrawSheet = std::function<void(Canvas& canvas, std::size_t sheet)>;

/// A PDF that grows by sheets, so that many drawings make one document and none has to be kept
/// until the last is drawn. The same drawings give the same bytes: no date, no name of a machine.
///
///     PdfSheets pdf(a4_portrait, "Cards");
///     pdf.add(2, draw_first);
///     pdf.add(5, draw_second);
///     const std::string bytes = pdf.finish();
class PdfSheets {
 public:
  PdfSheets(SheetSize size, const std::string& title);
  PdfSheets(const PdfSheets&) = delete;
  PdfSheets& operator=(const PdfSheets&) = delete;
  ~PdfSheets();

  /// Draws the sheets of one drawing behind those that are there.
  void add(std::size_t count, const DrawSheet& draw);
  /// The document. Nothing may be added afterwards.
  std::string finish();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// The sheets as one PDF. The same drawing gives the same bytes: no date, no name of a machine.
std::string sheets_to_pdf(SheetSize size, std::size_t count, const std::string& title,
                          const DrawSheet& draw);

/// One sheet as SVG, text as outlines, so that it looks the same everywhere.
std::string sheet_to_svg(SheetSize size, std::size_t sheet, const DrawSheet& draw);

/// One sheet as PNG in levels of grey on white, `pixels_per_point` to a point.
std::string sheet_to_png(SheetSize size, std::size_t sheet, double pixels_per_point,
                         const DrawSheet& draw);

/// The texts of one sheet with the boxes that their ink covers.
std::vector<DrawnText> texts_of_sheet(SheetSize size, std::size_t sheet, const DrawSheet& draw);

}  // namespace panup
