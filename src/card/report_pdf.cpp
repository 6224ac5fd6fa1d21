
#include <algorithm>
#include <numeric>

#include "base/capitals.h"
#include "card/report.h"
#include "drawing/sheets.h"
#include "drawing/text.h"
#include "drawing/text_style.h"
#include "wording/values_words.h"
#include "wording/wording.h"

namespace panup {

namespace {

constexpr double left = 36;
constexpr double right = 565;
constexpr double page_top = 26;
constexpr double page_bottom = 24;
constexpr double cell_gap = 6;
/// Characters of text that are kept on one sheet; a longer text is cut between words.
constexpr std::size_t longest_piece = 1200;

/// A text cut into pieces that fit a sheet.
std::vector<std::string> pieces_of(const std::string& text) {
  std::vector<std::string> pieces;
  std::string_view rest = text;
  while (rest.size() > longest_piece) {
    std::size_t at = rest.rfind(' ', longest_piece);
    if (at == std::string_view::npos || at == 0) {
      at = longest_piece;
      while (at > 1 && (static_cast<unsigned char>(rest[at]) & 0xC0U) == 0x80U) {
        --at;  // not within a character
      }
    }
    pieces.emplace_back(rest.substr(0, at));
    rest.remove_prefix(at);
  }
  pieces.emplace_back(rest);
  return pieces;
}

std::string shown(const std::string& text) { return kept_together(plain(text)); }

/// Turns the blocks of a report into rows that are not divided.
class RowMaker {
 public:
  RowMaker(const TextSetter& setter, std::vector<Row>& rows)
      : setter_(setter), words_(setter.words()), rows_(rows) {}

  void operator()(const ReportHeading& heading) {
    const bool part = heading.level == 1;
    const Text text =
        setter_.set(shown(heading.text),
                    {.size_pt = part ? 12.0 : 10.0, .weight = FontWeight::bold}, right - left);
    Block block;
    block.height = text.height() + (part ? 15 : 9);
    block.stays_with_next = true;
    block.draw = [=](Canvas& canvas, double y) {
      if (part) {
        canvas.line({left, y + 7}, {right, y + 7}, {.width = 1.4});
      }
      canvas.text(text, {left, y + (part ? 10 : 6)});
    };
    add(block);
  }

  void operator()(const ReportParagraph& paragraph) {
    for (const std::string& piece : pieces_of(shown(paragraph.text))) {
      add(text_block(
          {{piece,
            {.size_pt = 9, .weight = paragraph.strong ? FontWeight::bold : FontWeight::regular}}},
          0, 3));
    }
  }

  void operator()(const ReportList& list) {
    for (const std::string& entry : list.entries) {
      add_entry(entry, {}, 0);
    }
  }

  void operator()(const ReportTable& table) {
    const double all = std::accumulate(table.shares.begin(), table.shares.end(), 0.0);
    std::vector<double> at{left};
    for (const double share : table.shares) {
      at.push_back(at.back() + share / all * (right - left));
    }
    Block head = cells(table.headings, at, small_bold, true);
    head.stays_with_next = true;
    add(head);
    for (const auto& row : table.rows) {
      const Block block = cells(row, at, small, false);
      Block under_head;
      under_head.height = head.height + block.height;
      under_head.draw = [head, block](Canvas& canvas, double y) {
        head.draw(canvas, y);
        block.draw(canvas, y + head.height);
      };
      rows_.push_back({block, under_head});
    }
    add({.height = 4, .draw = [](Canvas&, double) {}, .stays_with_next = false});
  }

  void operator()(const ReportDrawing& drawing) {
    rows_.insert(rows_.end(), drawing.rows.begin(), drawing.rows.end());
    if (drawing.rows.size() == 1) {
      rows_.back().block.stays_with_next = true;
      rows_.back().on_new_sheet.stays_with_next = true;
    }
    (*this)(ReportParagraph{drawing.caption});
  }

  void operator()(const ReportFindings& findings) {
    for (const FindingGroup& group : findings.groups) {
      Block head = text_block(
          {{capitalised(label_of(group.strength, group.kept, words_)) + ": ",
            {.size_pt = 9, .weight = FontWeight::bold}},
           {shown(words_.say("{} ({}). Source: {}.", group.rule,
                             words_.named(name_of(group.standing)), group.source) +
                  (group.because.empty() ? std::string() : words_.say(" Why: {}", group.because))),
            {.size_pt = 9}}},
          0, 2);
      head.stays_with_next = true;
      add(head);
      for (const FindingGroup::Saying& saying : group.sayings) {
        const std::string from = where_from_words(saying.values, words_);
        add_entry(saying.text + (from.empty() ? "" : words_.say(" From: {}.", from)),
                  km_list(saying.where, words_) + ": ", 10);
      }
    }
  }

  void operator()(const ReportSignatures& signatures) {
    for (const auto& [role, name] : signatures.lines) {
      const Text what = setter_.set(role, {.size_pt = 9, .weight = FontWeight::bold});
      const Text who = setter_.set(fitted(name), {.size_pt = 10}, right - left - 90);
      Block block;
      block.height = std::max(22.0, who.height() + 8);
      block.draw = [=, height = block.height](Canvas& canvas, double y) {
        const double base = y + height - 4;
        canvas.text(what, {left, base - what.height()});
        canvas.text(who, {left + 90, base - who.height()});
        canvas.line({left + 86, base}, {left + 380, base}, {.width = 0.5});
      };
      add(block);
    }
  }

 private:
  void add(const Block& block) { rows_.push_back({block, block}); }

  Block text_block(const std::vector<TextSpan>& spans, double indent, double below) const {
    const Text text = setter_.set(spans, right - left - indent);
    Block block;
    block.height = text.height() + below;
    block.draw = [=](Canvas& canvas, double y) { canvas.text(text, {left + indent, y}); };
    return block;
  }

  void add_entry(const std::string& text, const std::string& lead, double indent) {
    bool first = true;
    for (const std::string& piece : pieces_of(shown(text))) {
      std::vector<TextSpan> spans;
      if (first && !lead.empty()) {
        spans.push_back({shown(lead), {.size_pt = 9, .weight = FontWeight::semibold}});
      }
      spans.push_back({piece, {.size_pt = 9}});
      const Block words = text_block(spans, indent + 10, 3);
      Block block = words;
      const double baseline = setter_.set("x", {.size_pt = 9}).baseline();
      block.draw = [=](Canvas& canvas, double y) {
        if (first) {
          canvas.disc({left + indent + 3, y + baseline - 2.8}, 1.2);
        }
        words.draw(canvas, y);
      };
      add(block);
      first = false;
    }
  }

  Block cells(const std::vector<std::string>& texts, const std::vector<double>& at, TextStyle type,
              bool head) const {
    std::vector<Text> set;
    double height = 0;
    for (std::size_t i = 0; i < texts.size(); ++i) {
      set.push_back(
          setter_.set(fitted(texts[i], longest_text), type, at[i + 1] - at[i] - cell_gap));
      height = std::max(height, set.back().height());
    }
    Block block;
    block.height = height + 4;
    block.draw = [=](Canvas& canvas, double y) {
      for (std::size_t i = 0; i < set.size(); ++i) {
        canvas.text(set[i], {at[i], y + 1});
      }
      canvas.line({left, y + height + 3}, {right, y + height + 3}, {.width = head ? 0.9 : 0.3});
    };
    return block;
  }

  const TextSetter& setter_;
  const Words& words_;
  std::vector<Row>& rows_;
};

/// Train, route, mark and page on every sheet; title and answer on the first.
Block head_of(const TextSetter& setter, const Report& report, std::size_t sheet,
              std::size_t sheets) {
  const Text page =
      setter.set(report.words.say("engineer’s report, page {} of {}", sheet + 1, sheets),
                 {.size_pt = 9, .weight = FontWeight::bold});
  const Text mark = setter.set(report.mark, {.size_pt = 9, .weight = FontWeight::bold});
  const bool first = sheet == 0;
  std::vector<TextSpan> spans;
  if (first) {
    spans.push_back({report.title + "\n", {.size_pt = 17, .weight = FontWeight::bold}});
  }
  spans.push_back({fitted(report.train, 160) + "\n",
                   {.size_pt = first ? 12.0 : 9.0, .weight = FontWeight::semibold}});
  spans.push_back({fitted(report.route, 160), {.size_pt = first ? 11.0 : 9.0}});
  const Text names = setter.set(spans, right - left - 170);
  const double corner = page.height() + (report.mark.empty() ? 0 : mark.height() + 8);
  const double names_height = std::max(names.height(), corner) + 4;
  const bool refused = !report.permitted;
  Text answer;
  if (first || refused) {
    answer = setter.set(shown(report.answer), {.size_pt = 10.5, .weight = FontWeight::bold},
                        right - left - 12);
  }
  const double answer_height = first || refused ? answer.height() + 10 : 0;
  Block block;
  block.height = names_height + answer_height + 4;
  block.draw = [=, marked = !report.mark.empty()](Canvas& canvas, double y) {
    canvas.text(names, {left, y});
    canvas.text(page, {right - page.width(), y});
    if (marked) {
      canvas.frame(
          {right - mark.width() - 8, y + page.height() + 3, mark.width() + 8, mark.height() + 3},
          {.width = 0.9});
      canvas.text(mark, {right - mark.width() - 4, y + page.height() + 4.5});
    }
    if (answer_height > 0) {
      const Box bar{left, y + names_height, right - left, answer_height - 4};
      if (refused) {
        canvas.fill(bar);
      } else {
        canvas.frame(bar, {.width = 0.9});
      }
      canvas.text(answer, {left + 6, bar.y + 3}, refused ? Ink::white : Ink::black);
    } else {
      canvas.line({left, y + names_height}, {right, y + names_height}, {.width = 0.5});
    }
  };
  return block;
}

struct PlacedRow {
  Block block;
  double y = 0;
};

/// Rows on sheets; one that must not be parted from the next goes on with it.
std::vector<std::vector<PlacedRow>> arrange(const TextSetter& setter, const Report& report,
                                            const std::vector<Row>& rows) {
  std::vector<std::vector<PlacedRow>> sheets(1);
  const double bottom = a4_portrait.height - page_bottom;
  const double further_top = page_top + head_of(setter, report, 1, 999).height;
  double y = page_top + head_of(setter, report, 0, 999).height;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    double together = rows[i].block.height;
    for (std::size_t next = i; rows[next].block.stays_with_next && next + 1 < rows.size();) {
      together += rows[++next].block.height;
    }
    if (together > bottom - further_top) {
      together = rows[i].block.height;
    }
    const bool fresh = y + together > bottom && !sheets.back().empty();
    if (fresh) {
      sheets.emplace_back();
      y = further_top;
    }
    const Block& block = fresh ? rows[i].on_new_sheet : rows[i].block;
    sheets.back().push_back({block, y});
    y += block.height;
  }
  return sheets;
}

}  // namespace

std::string report_to_pdf(const TextSetter& setter, const Report& report) {
  std::vector<Row> rows;
  RowMaker maker(setter, rows);
  for (const ReportBlock& block : report.blocks) {
    std::visit(maker, block);
  }
  const auto sheets = arrange(setter, report, rows);
  return sheets_to_pdf(a4_portrait, sheets.size(), report.title + ": " + plain(report.train),
                       [&](Canvas& canvas, std::size_t sheet) {
                         head_of(setter, report, sheet, sheets.size()).draw(canvas, page_top);
                         for (const PlacedRow& row : sheets[sheet]) {
                           row.block.draw(canvas, row.y);
                         }
                       });
}

}  // namespace panup
