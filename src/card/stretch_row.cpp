#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <memory>

#include "base/capitals.h"
#include "card/strip_parts.h"
#include "drawing/text.h"
#include "drawing/text_style.h"
#include "pictures/train_drawing.h"
#include "wording/not_reached.h"
#include "wording/wording.h"

namespace panup {

namespace {

// Widths from the right edge: speed, names of what is up, picture. The words get the rest.
constexpr double row_speed_width = 66;
constexpr double up_width = 80;
constexpr double picture_width = 162;

std::string system_words(const Stretch& stretch, const Words& language) {
  std::string words = stretch.first.supply ? language.named(short_name_of(*stretch.first.supply))
                                           : language.say("system not stated");
  if (stretch.leaves_for) {
    words += " → " + language.named(short_name_of(*stretch.leaves_for));
  }
  return kept_together(words);
}

/// Of a stretch that the train runs: how fast. A dash for one that it does not reach.
std::string speed_words(const Strip& strip, const Stretch& stretch) {
  return does_not_run_because(strip.plan, stretch.first).empty()
             ? speed_figure(stretch.speed_kmh, strip.plan.words)
             : "–";
}

/// A word in a frame, or white on black.
void draw_tag(Canvas& canvas, const Text& text, Point at, bool on_black) {
  const Box box{at.x, at.y - 1, text.width() + 6, text.height() + 2};
  if (on_black) {
    canvas.fill(box);
  } else {
    canvas.frame(box, {.width = 0.9});
  }
  canvas.text(text, {at.x + 3, at.y}, on_black ? Ink::white : Ink::black);
}

/// Behind other words: the kilometres of its lines, where the route does not go by them.
std::string lines_of(const Strip& strip, const Stretch& stretch) {
  const auto lines = stretches_on_lines(strip.plan.route, stretch.from_km, stretch.to_km);
  return lines.empty() ? std::string()
                       : "  " + fitted(line_words(lines, strip.plan.words), longest_order);
}

Block lowered_block(const Strip& strip, const Stretch& stretch) {
  const Columns columns = strip.columns;
  const double width = columns.right - columns.body - 44;  // the rest is for the speed
  const std::string does_not_run = does_not_run_because(strip.plan, stretch.first);
  const Text words = strip.setter.set(
      std::vector<TextSpan>{
          {strip.plan.words.say("All down"), {.size_pt = 11.5, .weight = FontWeight::bold}},
          {"  " + strip.plan.words.say("for {}", fitted(stretch.first.lowered_for)),
           {.size_pt = 9.5}},
          {strip.plan.words.say("  km\u00a0{} · {}",
                                km_range(stretch.from_km, stretch.to_km, strip.plan.words),
                                system_words(stretch, strip.plan.words)),
           small},
          {lines_of(strip, stretch), small},
          {does_not_run.empty() ? std::string() : " · " + does_not_run, small}},
      width);
  const Text speed =
      strip.setter.set(speed_words(strip, stretch), {.size_pt = 14, .weight = FontWeight::bold},
                       std::nullopt, TextAlign::right);
  const auto km = chainage(strip, stretch.from_km, {.size_pt = 9, .weight = FontWeight::semibold});
  Block block;
  block.height = std::max(words.height(), speed.height()) + 8;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.line({columns.left, y}, {columns.right, y}, {.width = 0.9});
    const double baseline = y + 4 + words.baseline();
    km(canvas, baseline);
    canvas.text(words, {columns.body, y + 4});
    canvas.text(speed, {columns.right - speed.width(), baseline - speed.baseline()});
  };
  return block;
}

/// What stands beside the spine for a stretch: words, picture, names of what is up, speed.
struct StretchRow {
  Text system;
  Text words;  ///< below the system, or across below all else
  bool words_across = false;
  Text tag;  ///< "CONSENT NEEDED"; may be empty
  Text ice;  ///< may be empty
  TrainDrawing picture;
  Text up;
  Text speed;
  Text from;  ///< chainage from which the speed holds; may be empty
};

/// Name and reasons of a stretch, one to a line or in one go.
std::vector<TextSpan> words_on(const Strip& strip, const Stretch& stretch, bool one_to_a_line) {
  std::vector<std::string> parts;
  if (!stretch.name.empty()) {
    parts.push_back(fitted(stretch.name));
  }
  const std::string does_not_run = does_not_run_because(strip.plan, stretch.first);
  if (!does_not_run.empty()) {
    parts.push_back(capitalised(does_not_run));
  } else if (!stretch.reasons.empty()) {
    parts.push_back(capitalised(fitted(stretch.reasons, longest_order)));
  }
  const Instruction* const order = stated_by_row(strip.plan, stretch);
  if (order != nullptr && !order->landmark.empty()) {
    parts.push_back(strip.plan.words.say(
        "{} km/h from km {}, {}", speed_figure(order->speed_kmh, strip.plan.words),
        km_words(order->at_km, strip.plan.words), fitted(order->landmark, longest_order)));
  }
  if (const auto lines = stretches_on_lines(strip.plan.route, stretch.from_km, stretch.to_km);
      !lines.empty()) {
    parts.push_back(fitted(capitalised(line_words(lines, strip.plan.words)), longest_order));
  }
  if (does_not_run.empty() && stretch.speed_kmh < stretch.first.permitted_speed_kmh) {
    parts.push_back(
        strip.plan.words.say("A lower speed holds; the stretch permits {} km/h",
                             speed_figure(stretch.first.permitted_speed_kmh, strip.plan.words)));
  }
  return {{fmt::format("{}", fmt::join(parts, one_to_a_line ? "\n" : " · ")), small}};
}

double tag_height_of(const StretchRow& row) {
  return row.tag.empty() && row.ice.empty() ? 0 : std::max(row.tag.height(), row.ice.height()) + 5;
}

double height_of_upper(const StretchRow& row) {
  const double words = row.words_across ? 0 : row.words.height();
  return std::max({row.system.height() + words + tag_height_of(row), row.picture.height + 1,
                   row.up.height(), row.speed.height() + row.from.height() - 8});
}

double height_of(const StretchRow& row) {
  return height_of_upper(row) + (row.words_across ? row.words.height() + 1 : 0);
}

TrainDrawing picture_of(const Strip& strip, const PlannedSection& section) {
  TrainDrawingStyle style;
  style.width = picture_width - 6;
  style.greatest_points_per_m = 3.6;
  style.longest_load = 30;
  style.least_pantograph_scale = 4.2;
  style.wire_weight = 0.9;
  style.labelled = false;
  return arrange_train(strip.setter, strip.plan.train, strip.layouts[section.reversed ? 1 : 0],
                       section.raised, section.put_dead_in_tow, style);
}

Text up_beside(const Strip& strip, const PlannedSection& section) {
  std::string names;
  for (const PantographRef ref : section.raised) {
    names += names.empty() ? "" : "  ";
    names += to_string(ref);
  }
  std::vector<TextSpan> spans{{names, {.size_pt = 12, .weight = FontWeight::bold}}};
  if (section.least_distance_m) {
    spans.push_back(
        {strip.plan.words.say("\n{:.1f}\u00a0m apart", *section.least_distance_m), small});
  }
  if (!section.put_dead_in_tow.empty()) {
    spans.push_back({strip.plan.words.say("\n{} dead in tow",
                                          list_words(section.put_dead_in_tow, strip.plan.words)),
                     small_bold});
  }
  return strip.setter.set(spans, up_width - 8);
}

StretchRow row_of(const Strip& strip, const Stretch& stretch) {
  const PlannedSection& section = stretch.first;
  StretchRow row;
  const Columns& columns = strip.columns;
  const double left_width =
      columns.right - row_speed_width - up_width - picture_width - columns.body - 6;
  row.system = strip.setter.set(
      {{system_words(stretch, strip.plan.words), {.size_pt = 10, .weight = FontWeight::semibold}},
       {strip.plan.words.say("  km\u00a0{}",
                             km_range(stretch.from_km, stretch.to_km, strip.plan.words)),
        small}},
      left_width);
  if (section.answer == Answer::consent_needed) {
    row.tag = strip.setter.set(strip.plan.words.say("CONSENT NEEDED"), small_bold);
  }
  if (section.iced) {
    row.ice = strip.setter.set(strip.plan.words.say("ICE"), small_bold);
  }
  row.picture = picture_of(strip, section);
  row.up = up_beside(strip, section);
  row.speed =
      strip.setter.set(speed_words(strip, stretch), {.size_pt = 22, .weight = FontWeight::bold});
  if (stretch.speed_from_km) {
    row.from = strip.setter.set(
        strip.plan.words.say("from {}", km_words(*stretch.speed_from_km, strip.plan.words)),
        small_bold, row_speed_width, TextAlign::right);
  }
  // Short words fit beside the picture; long ones take less height across below it.
  row.words = strip.setter.set(words_on(strip, stretch, true), left_width);
  const Text across =
      strip.setter.set(words_on(strip, stretch, false), columns.right - columns.body);
  StretchRow other = row;
  other.words = across;
  other.words_across = true;
  return height_of(other) < height_of(row) ? other : row;
}

Block blocked_block(const Strip& strip, const Stretch& stretch) {
  const Columns columns = strip.columns;
  const Text words = strip.setter.set(strip.plan.words.say("NO PERMITTED CONFIGURATION"),
                                      {.size_pt = 12, .weight = FontWeight::bold});
  const Text where = strip.setter.set(
      strip.plan.words.say("km {} · {} · {}",
                           km_range(stretch.from_km, stretch.to_km, strip.plan.words),
                           system_words(stretch, strip.plan.words), fitted(stretch.name)) +
          lines_of(strip, stretch),
      small, columns.right - columns.body);
  const auto km = chainage(strip, stretch.from_km, {.size_pt = 9, .weight = FontWeight::semibold});
  Block block;
  block.height = words.height() + where.height() + 13;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.line({columns.left, y}, {columns.right, y}, {.width = 0.9});
    draw_tag(canvas, words, {columns.body, y + 5}, true);
    km(canvas, y + 5 + words.baseline());
    canvas.text(where, {columns.body, y + 9 + words.height()});
  };
  return block;
}

}  // namespace

const Instruction* stated_by_row(const Plan& plan, const Stretch& stretch) {
  if (!stretch.first.lowered_for.empty() || stretch.first.answer == Answer::none) {
    return nullptr;
  }
  const double at_km = stretch.speed_from_km.value_or(stretch.from_km);
  const auto found = std::ranges::find_if(plan.instructions, [&](const Instruction& order) {
    return order.action == Action::speed && order.at_km == at_km &&
           order.speed_kmh == stretch.speed_kmh;
  });
  return found == plan.instructions.end() ? nullptr : &*found;
}

Block stretch_block(const Strip& strip, const Stretch& stretch) {
  if (!stretch.first.lowered_for.empty()) {
    return lowered_block(strip, stretch);
  }
  if (stretch.first.answer == Answer::none) {
    return blocked_block(strip, stretch);
  }
  const Columns columns = strip.columns;
  const auto row = std::make_shared<const StretchRow>(row_of(strip, stretch));
  const auto km = chainage(strip, stretch.from_km, {.size_pt = 9, .weight = FontWeight::semibold});
  constexpr double above = 4;
  Block block;
  block.height = above + height_of(*row) + 3;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.line({columns.left, y}, {columns.right, y}, {.width = 0.9});
    const double top = y + above;
    km(canvas, top + row->system.baseline());
    canvas.text(row->system, {columns.body, top});
    double tag_x = columns.body;
    double tag_y = top + row->system.height() + 3;
    if (row->words_across) {
      canvas.text(row->words, {columns.body, top + height_of_upper(*row) + 1});
    } else {
      canvas.text(row->words, {columns.body, top + row->system.height()});
      tag_y += row->words.height();
    }
    if (!row->tag.empty()) {
      draw_tag(canvas, row->tag, {tag_x, tag_y}, true);
      tag_x += row->tag.width() + 12;
    }
    if (!row->ice.empty()) {
      draw_tag(canvas, row->ice, {tag_x, tag_y}, false);
    }
    const double up_x = columns.right - row_speed_width - up_width;
    draw_train(canvas, row->picture, {up_x - picture_width, top + 1}, up_x - picture_width);
    canvas.text(row->up, {up_x + 4, top - 1});
    canvas.text(row->speed, {columns.right - row->speed.width(), top - 4});
    if (!row->from.empty()) {
      canvas.text(row->from, {columns.right - row->from.width(), top - 8 + row->speed.height()});
    }
  };
  return block;
}

}  // namespace panup
