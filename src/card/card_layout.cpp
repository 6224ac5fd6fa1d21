#include "card/card_layout.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "card/card_parts.h"

namespace panup {

namespace {

constexpr double top_margin = 28;
constexpr double bottom_margin = 24;
constexpr double bend = 10;  // radius in which the wire turns into the spine

/// A part of the card whose heading is repeated where it goes on over a further sheet.
struct Part {
  std::string title;
  bool with_columns = false;  ///< of the fallback table
  std::vector<Row> rows;
};

/// Fills sheets from top to bottom.
class Filler {
 public:
  Filler(const TextSetter& setter, const Plan& plan, CardLayout& card)
      : setter_(setter), plan_(plan), card_(card) {
    bottom_ = card.size.height - bottom_margin - card_foot(setter, plan, card.columns).height - 4;
    new_sheet();
  }

  double y() const { return y_; }
  double room() const { return bottom_ - y_; }
  /// Room of a further sheet below its head.
  double fresh_room() const {
    return bottom_ - top_margin - card_head(setter_, plan_, card_.columns, 1, 99).height;
  }
  CardSheet& sheet() { return card_.sheets.back(); }

  void place(Block block) {
    const double height = block.height;
    sheet().blocks.push_back({std::move(block), y_});
    y_ += height;
  }

  void skip(double by) { y_ += by; }

  void new_sheet() {
    card_.sheets.emplace_back();
    // The number of sheets is not known yet; the head is measured here and set at the end.
    y_ = top_margin + card_head(setter_, plan_, card_.columns, card_.sheets.size() - 1, 99).height;
  }

 private:
  const TextSetter& setter_;
  const Plan& plan_;
  CardLayout& card_;
  double y_ = 0;
  double bottom_ = 0;
};

/// The height of a row with all that it must not be parted from; of the row alone where all that is
/// more than `most`.
template <typename Rows, typename BlockOf>
double height_together(const Rows& rows, std::size_t i, double most, const BlockOf& block_of) {
  const double alone = block_of(rows[i]).height;
  double height = alone;
  while (block_of(rows[i]).stays_with_next && i + 1 < rows.size()) {
    height += block_of(rows[++i]).height;
  }
  return height <= most ? height : alone;
}

void fill_strip(const TextSetter& setter, CardLayout& card, Filler& filler) {
  const std::vector<StripRow>& rows = card.strip.rows;
  const auto block_of = [](const StripRow& row) -> const Block& { return row.row.block; };
  // A strip that goes on has a heading and a reminder above its rows.
  const double most = filler.fresh_room() - 50;
  filler.place(strip_heading(setter, card.columns, false));
  double top = filler.y();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Block* block = &rows[i].row.block;
    if (height_together(rows, i, most, block_of) > filler.room()) {
      filler.new_sheet();
      filler.place(strip_heading(setter, card.columns, true));
      top = filler.y();
      if (!rows[i].begins_stretch && i > 0) {
        filler.place(stretch_reminder(setter, card.strip, rows[i - 1], card.columns));
      }
      block = &rows[i].row.on_new_sheet;
    }
    // The spine of a stretch begins at its row; what runs down to a row belongs to the one before.
    const bool last = i + 1 == rows.size();
    filler.place(*block);
    const double to = last ? filler.y() - block->height / 2 : filler.y();
    std::vector<SpineRun>& spine = filler.sheet().spine;
    if (!spine.empty() && spine.back().stretch == rows[i].stretch && spine.back().bottom == top) {
      spine.back().bottom = to;
    } else {
      spine.push_back({top, to, rows[i].stretch});
    }
    top = filler.y();
  }
}

void fill_part(const TextSetter& setter, const CardLayout& card, const Part& part, Filler& filler) {
  if (part.rows.empty()) {
    return;
  }
  const auto block_of = [](const Row& row) -> const Block& { return row.block; };
  const auto head = [&](bool goes_on) {
    std::vector<Block> blocks{part_heading(setter, card.columns, part.title, goes_on)};
    if (part.with_columns) {
      blocks.push_back(fallback_heading(setter, card.columns));
    }
    return blocks;
  };
  const std::vector<Block> first = head(false);
  const double most = filler.fresh_room() - 50;
  double needed = height_together(part.rows, 0, most, block_of);
  for (const Block& heading : first) {
    needed += heading.height;
  }
  if (needed > filler.room()) {
    filler.new_sheet();
  }
  for (const Block& heading : first) {
    filler.place(heading);
  }
  for (std::size_t i = 0; i < part.rows.size(); ++i) {
    const Block* block = &part.rows[i].block;
    if (height_together(part.rows, i, most, block_of) > filler.room()) {
      filler.new_sheet();
      for (const Block& heading : head(true)) {
        filler.place(heading);
      }
      block = &part.rows[i].on_new_sheet;
    }
    filler.place(*block);
  }
}

std::vector<Part> parts_of(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  return {{plan.words.say("If a pantograph fails (on the road: stop, lower it)"), true,
           fallback_rows(setter, plan, columns)},
          {plan.words.say("What to know"), false, accepted_rows(setter, plan, columns)},
          {plan.words.say("Notes"), false, note_rows(setter, plan, columns)}};
}

}  // namespace

CardLayout arrange_card(const TextSetter& setter, const Plan& plan) {
  CardLayout card;
  card.strip = arrange_strip(setter, plan, card.columns);
  Filler filler(setter, plan, card);
  double wire_below = 0;
  Block train = card_train(setter, plan, card.columns, wire_below);
  card.wire_y = filler.y() + wire_below;
  filler.place(std::move(train));
  fill_strip(setter, card, filler);
  for (const Part& part : parts_of(setter, plan, card.columns)) {
    fill_part(setter, card, part, filler);
  }
  const Block foot = card_foot(setter, plan, card.columns);
  const double foot_y = card.size.height - bottom_margin - foot.height;
  for (std::size_t i = 0; i < card.sheets.size(); ++i) {
    card.sheets[i].blocks.push_back(
        {card_head(setter, plan, card.columns, i, card.sheets.size()), top_margin});
    card.sheets[i].blocks.push_back({foot, foot_y});
  }
  return card;
}

void draw_card_sheet(Canvas& canvas, const CardLayout& card, std::size_t sheet) {
  const CardSheet& drawn = card.sheets[sheet];
  const Columns& columns = card.columns;
  if (sheet == 0 && !drawn.spine.empty()) {
    // The wire above the train comes down as the spine.
    std::vector<Point> turn;
    constexpr int steps = 16;
    for (int i = 0; i <= steps; ++i) {
      const double angle = std::numbers::pi / 2 * i / steps;
      turn.push_back({columns.spine + bend * (1 - std::sin(angle)),
                      card.wire_y - wire_weight / 2 + bend * (1 - std::cos(angle))});
    }
    turn.insert(turn.begin(), {columns.body + 1, card.wire_y - wire_weight / 2});
    canvas.polyline(turn, {.width = wire_weight});
    draw_spine(canvas, columns, card.strip.stretches[drawn.spine.front().stretch].first,
               card.wire_y + bend - 0.6, drawn.spine.front().top);
  }
  for (const SpineRun& run : drawn.spine) {
    draw_spine(canvas, columns, card.strip.stretches[run.stretch].first, run.top, run.bottom);
  }
  for (const PlacedBlock& placed : drawn.blocks) {
    placed.block.draw(canvas, placed.y);
  }
}

}  // namespace panup
