#pragma once
/// The room `card`: the two documents that are handed out on paper, the driver's card and the
/// engineer's report. It lays out what other rooms word and draw; nothing is judged or computed.

#include <string>
#include <vector>

#include "base/handed_out.h"
#include "drawing/sheets.h"
#include "plan/plan.h"

namespace panup {

/// The driver's card: A4 upright, to be read in a cab at night and in black and white. `card.pdf`
/// holds all sheets; `card-1.svg`, `card-1.png`, `card-2.svg`, … one each. All come from one
/// drawing; the same plan gives the same bytes on a machine with the same fonts.
std::vector<RenderedFile> render_card(const Plan& plan);

/// The cards of many plans as one PDF, one behind the other.
class CardBook {
 public:
  explicit CardBook(const std::string& title);

  void add(const Plan& plan);
  /// The document. Nothing may be added afterwards.
  std::string finish() { return sheets_.finish(); }

 private:
  PdfSheets sheets_;
};

}  // namespace panup
