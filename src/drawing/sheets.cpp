#include "drawing/sheets.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <cmath>
#include <memory>
#include <string_view>

#include "drawing/grey_png.h"

namespace panup {

namespace {

using Surface = std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)>;
using Context = std::unique_ptr<cairo_t, decltype(&cairo_destroy)>;

cairo_status_t append_bytes(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

Surface owned(cairo_surface_t* surface) { return {surface, &cairo_surface_destroy}; }

Context context_on(const Surface& surface) { return {cairo_create(surface.get()), &cairo_destroy}; }

/// The image in levels of grey: the drawing has no colour.
GreyImage in_grey(cairo_surface_t* image) {
  cairo_surface_flush(image);
  GreyImage grey{cairo_image_surface_get_width(image), cairo_image_surface_get_height(image), {}};
  const unsigned char* const from = cairo_image_surface_get_data(image);
  const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(image));
  const auto width = static_cast<std::size_t>(grey.width);
  grey.levels.reserve(width * static_cast<std::size_t>(grey.height));
  for (std::size_t y = 0; y < static_cast<std::size_t>(grey.height); ++y) {
    for (std::size_t x = 0; x < width; ++x) {
      grey.levels.push_back(from[y * stride + 4 * x + 1]);
    }
  }
  return grey;
}

/// cairo numbers the surfaces of a process through, and writes the number into an SVG; taken out,
/// the same drawing gives the same bytes.
std::string without_surface_numbers(const std::string& svg) {
  constexpr std::string_view mark = "\"surface";
  std::string out;
  std::size_t from = 0;
  for (std::size_t at = svg.find(mark); at != std::string::npos; at = svg.find(mark, from)) {
    at += mark.size();
    out.append(svg, from, at - from);
    from = svg.find_first_not_of("0123456789", at);
  }
  return out.append(svg, from);
}

}  // namespace

struct PdfSheets::State {
  std::string bytes;
  Surface surface;
};

PdfSheets::PdfSheets(SheetSize size, const std::string& title)
    : state_(std::make_unique<State>(State{{}, owned(nullptr)})) {
  state_->surface = owned(
      cairo_pdf_surface_create_for_stream(&append_bytes, &state_->bytes, size.width, size.height));
  cairo_surface_t* const surface = state_->surface.get();
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
}

PdfSheets::~PdfSheets() = default;

void PdfSheets::add(std::size_t count, const DrawSheet& draw) {
  const Context context = context_on(state_->surface);
  CairoCanvas canvas(context.get());
  for (std::size_t sheet = 0; sheet < count; ++sheet) {
    draw(canvas, sheet);
    cairo_show_page(context.get());
  }
}

std::string PdfSheets::finish() {
  cairo_surface_finish(state_->surface.get());
  return std::move(state_->bytes);
}

std::string sheets_to_pdf(SheetSize size, std::size_t count, const std::string& title,
                          const DrawSheet& draw) {
  PdfSheets pdf(size, title);
  pdf.add(count, draw);
  return pdf.finish();
}

std::string sheet_to_svg(SheetSize size, std::size_t sheet, const DrawSheet& draw) {
  std::string bytes;
  const Surface surface =
      owned(cairo_svg_surface_create_for_stream(&append_bytes, &bytes, size.width, size.height));
  {
    const Context context = context_on(surface);
    CairoCanvas canvas(context.get());
    canvas.fill(Box{0, 0, size.width, size.height}, Ink::white);
    draw(canvas, sheet);
  }
  cairo_surface_finish(surface.get());
  return without_surface_numbers(bytes);
}

std::string sheet_to_png(SheetSize size, std::size_t sheet, double pixels_per_point,
                         const DrawSheet& draw) {
  const auto pixels = [pixels_per_point](double points) {
    return static_cast<int>(std::ceil(points * pixels_per_point));
  };
  const Surface surface = owned(
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels(size.width), pixels(size.height)));
  {
    const Context context = context_on(surface);
    cairo_scale(context.get(), pixels_per_point, pixels_per_point);
    CairoCanvas canvas(context.get());
    canvas.fill(Box{0, 0, size.width + 1, size.height + 1}, Ink::white);
    draw(canvas, sheet);
  }
  return grey_png(in_grey(surface.get()));
}

std::vector<DrawnText> texts_of_sheet(SheetSize size, std::size_t sheet, const DrawSheet& draw) {
  std::vector<DrawnText> texts;
  const cairo_rectangle_t extents{0, 0, size.width, size.height};
  const Surface surface =
      owned(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extents));
  const Context context = context_on(surface);
  CairoCanvas canvas(context.get(), &texts);
  draw(canvas, sheet);
  return texts;
}

}  // namespace panup
