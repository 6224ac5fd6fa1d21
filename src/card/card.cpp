#include "card/card.h"

#include <fmt/format.h>

#include "base/handed_out.h"
#include "card/card_layout.h"

namespace panup {

namespace {

constexpr double pixels_per_point = 2;  // 144 dpi: sharp on a screen, small in a file

}  // namespace

std::vector<RenderedFile> render_card(const Plan& plan) {
  const TextSetter setter(plan.words);
  const CardLayout card = arrange_card(setter, plan);
  const DrawSheet draw = [&card](Canvas& canvas, std::size_t sheet) {
    draw_card_sheet(canvas, card, sheet);
  };
  std::vector<RenderedFile> files;
  files.push_back({"card.pdf", sheets_to_pdf(card.size, card.sheets.size(),
                                             plan.train.name + ", " + plan.route.name, draw)});
  for (std::size_t i = 0; i < card.sheets.size(); ++i) {
    files.push_back({fmt::format("card-{}.svg", i + 1), sheet_to_svg(card.size, i, draw)});
    files.push_back(
        {fmt::format("card-{}.png", i + 1), sheet_to_png(card.size, i, pixels_per_point, draw)});
  }
  return files;
}

CardBook::CardBook(const std::string& title) : sheets_(a4_portrait, title) {}

void CardBook::add(const Plan& plan) {
  const TextSetter setter(plan.words);
  const CardLayout card = arrange_card(setter, plan);
  sheets_.add(card.sheets.size(),
              [&card](Canvas& canvas, std::size_t sheet) { draw_card_sheet(canvas, card, sheet); });
}

}  // namespace panup
