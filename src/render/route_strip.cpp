#include "render/route_strip.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "render/order_words.h"
#include "render/train_drawing.h"
#include "render/wording.h"

namespace panup {

namespace {

constexpr double thin = 0.4;
constexpr double small_pt = 8.5;
constexpr double picture_width = 162;
constexpr double up_width = 80;
constexpr double speed_width = 66;
constexpr std::size_t longest_name = 240;
constexpr std::size_t longest_order = 600;

constexpr TextStyle small{.size_pt = small_pt};
constexpr TextStyle small_bold{.size_pt = small_pt, .weight = FontWeight::bold};

/// What the functions below share.
struct Strip {
  const TextSetter& setter;
  const Plan& plan;
  const Columns& columns;
  std::vector<Stretch> stretches;
  std::vector<Layout> layouts;  ///< in the direction at departure, and in the other
};

std::string fit(const std::string& text, std::size_t longest = longest_name) {
  return kept_together(plain(shortened(text, longest)));
}

/// The chainage left of the spine, its tick on it. Returns what draws both at a baseline.
std::function<void(Canvas&, double)> chainage(const Strip& strip, double km, TextStyle style) {
  const Text text = strip.setter.set(km_words(km), style);
  const Columns columns = strip.columns;
  return [text, columns](Canvas& canvas, double baseline) {
    canvas.text(text, {columns.spine - 9 - text.width(), baseline - text.baseline()});
  };
}

std::string system_words(const Stretch& stretch) {
  std::string words = stretch.first.supply ? std::string(short_name_of(*stretch.first.supply))
                                           : "system not stated";
  if (stretch.leaves_for) {
    words += " → " + std::string(short_name_of(*stretch.leaves_for));
  }
  return kept_together(words);
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

Block lowered_block(const Strip& strip, const Stretch& stretch) {
  const Columns columns = strip.columns;
  const double width = columns.right - columns.body - 44;  // the rest is for the speed
  const Text words = strip.setter.set(
      std::vector<TextSpan>{
          {"All down", {.size_pt = 11.5, .weight = FontWeight::bold}},
          {fmt::format("  for {}", fit(stretch.first.lowered_for)), {.size_pt = 9.5}},
          {fmt::format("  km\u00a0{} · {}", km_range(stretch.from_km, stretch.to_km),
                       system_words(stretch)),
           small}},
      width);
  const Text speed =
      strip.setter.set(speed_figure(stretch.first.speed_kmh),
                       {.size_pt = 14, .weight = FontWeight::bold}, std::nullopt, TextAlign::right);
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
  Text words;
  Text tag;  ///< "CONSENT NEEDED"; may be empty
  Text ice;  ///< may be empty
  TrainDrawing picture;
  Text up;
  Text speed;
  Text unit;
};

Text words_beside(const Strip& strip, const Stretch& stretch) {
  const Columns& columns = strip.columns;
  std::vector<TextSpan> spans{
      {system_words(stretch), {.size_pt = 10, .weight = FontWeight::semibold}},
      {fmt::format("  km\u00a0{}", km_range(stretch.from_km, stretch.to_km)), small}};
  if (!stretch.name.empty()) {
    spans.push_back({"\n" + fit(stretch.name), small});
  }
  if (!stretch.reasons.empty()) {
    spans.push_back({"\n" + capitalised(fit(stretch.reasons, longest_order)), small});
  }
  if (const auto permits = shown_speed(strip.plan.instructions, stretch).stretch_permits_kmh) {
    spans.push_back({fmt::format("\nA lower speed still holds; the stretch permits {} km/h",
                                 speed_figure(*permits)),
                     small});
  }
  return strip.setter.set(
      spans, columns.right - speed_width - up_width - picture_width - columns.body - 6);
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
    spans.push_back({fmt::format("\n{:.1f}\u00a0m apart", *section.least_distance_m), small});
  }
  if (!section.put_dead_in_tow.empty()) {
    spans.push_back(
        {fmt::format("\n{} dead in tow", list_words(section.put_dead_in_tow)), small_bold});
  }
  return strip.setter.set(spans, up_width - 8);
}

StretchRow row_of(const Strip& strip, const Stretch& stretch) {
  const PlannedSection& section = stretch.first;
  StretchRow row;
  row.words = words_beside(strip, stretch);
  if (section.answer == Answer::consent_needed) {
    row.tag = strip.setter.set("CONSENT NEEDED", small_bold);
  }
  if (section.iced) {
    row.ice = strip.setter.set("ICE", small_bold);
  }
  row.picture = picture_of(strip, section);
  row.up = up_beside(strip, section);
  const ShownSpeed speed = shown_speed(strip.plan.instructions, stretch);
  row.speed =
      strip.setter.set(speed_figure(speed.speed_kmh), {.size_pt = 22, .weight = FontWeight::bold});
  std::vector<TextSpan> unit{{"km/h", small}};
  if (speed.from_km) {
    unit.push_back({"\nfrom " + km_words(*speed.from_km), small_bold});
  }
  row.unit = strip.setter.set(unit, speed_width, TextAlign::right);
  return row;
}

Block blocked_block(const Strip& strip, const Stretch& stretch) {
  const Columns columns = strip.columns;
  const Text words =
      strip.setter.set("NO PERMITTED CONFIGURATION", {.size_pt = 12, .weight = FontWeight::bold});
  const Text where =
      strip.setter.set(fmt::format("km {} · {} · {}", km_range(stretch.from_km, stretch.to_km),
                                   system_words(stretch), fit(stretch.name)),
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
  const double tag_height =
      row->tag.empty() && row->ice.empty() ? 0 : std::max(row->tag.height(), row->ice.height()) + 5;
  constexpr double above = 4;
  Block block;
  block.height = above + 3 +
                 std::max({row->words.height() + tag_height, row->picture.height + 1,
                           row->up.height(), row->speed.height() + row->unit.height() - 8});
  block.draw = [=](Canvas& canvas, double y) {
    canvas.line({columns.left, y}, {columns.right, y}, {.width = 0.9});
    const double top = y + above;
    km(canvas, top + row->words.baseline());
    canvas.text(row->words, {columns.body, top});
    double tag_x = columns.body;
    const double tag_y = top + row->words.height() + 3;
    if (!row->tag.empty()) {
      draw_tag(canvas, row->tag, {tag_x, tag_y}, true);
      tag_x += row->tag.width() + 12;
    }
    if (!row->ice.empty()) {
      draw_tag(canvas, row->ice, {tag_x, tag_y}, false);
    }
    const double up_x = columns.right - speed_width - up_width;
    draw_train(canvas, row->picture, {up_x - picture_width, top + 1}, up_x - picture_width);
    canvas.text(row->up, {up_x + 4, top - 1});
    canvas.text(row->speed, {columns.right - row->speed.width(), top - 4});
    canvas.text(row->unit, {columns.right - row->unit.width(), top - 8 + row->speed.height()});
  };
  return block;
}

/// The reason of a speed stands beside the stretch; an order repeats it only where it is another.
bool said_by_stretch(const Strip& strip, const Instruction& instruction,
                     const std::string& reason) {
  return instruction.action == Action::speed &&
         std::ranges::any_of(strip.stretches, [&](const Stretch& stretch) {
           return stretch.from_km <= instruction.at_km && instruction.at_km <= stretch.to_km &&
                  stretch.first.speed_kmh == instruction.speed_kmh &&
                  stretch.reasons.find(reason) != std::string::npos;
         });
}

Block order_block(const Strip& strip, const Instruction& instruction, bool same_place) {
  const Columns columns = strip.columns;
  const OrderWords words = words_of(instruction);
  std::vector<TextSpan> spans{{fit(words.action), {.size_pt = 11.5, .weight = FontWeight::bold}}};
  if (!words.landmark.empty()) {
    spans.push_back({"  " + fit(words.landmark, longest_order), {.size_pt = 11}});
  }
  if (!words.reason.empty() && !said_by_stretch(strip, instruction, words.reason)) {
    spans.push_back({"  " + fit(words.reason, longest_order), small});
  }
  const bool has_remedy = !instruction.if_not_possible.empty();
  const Text order =
      strip.setter.set(spans, (has_remedy ? columns.remedy - 10 : columns.right) - columns.body);
  const Text remedy = has_remedy ? strip.setter.set(fit(instruction.if_not_possible, longest_order),
                                                    small, columns.right - columns.remedy)
                                 : Text();
  const auto km = chainage(strip, instruction.at_km, {.size_pt = 9.5});
  Block block;
  const double above = same_place ? 1 : 3;
  block.height = above + std::max(order.height(), remedy.height() + 1) + 2.5;
  block.draw = [=](Canvas& canvas, double y) {
    const double top = y + above;
    const double baseline = top + order.baseline();
    if (!same_place) {
      canvas.line({columns.body, y}, {columns.right, y}, {.width = thin});
      km(canvas, baseline);
      const double middle = baseline - 4;
      canvas.fill({{columns.spine + 3, middle - 3.2},
                   {columns.spine + 8.5, middle},
                   {columns.spine + 3, middle + 3.2}});
      canvas.line({columns.spine, middle}, {columns.spine + 4, middle}, {.width = 0.9});
    }
    canvas.text(order, {columns.body, top});
    canvas.text(remedy, {columns.remedy, baseline - remedy.baseline()});
  };
  return block;
}

enum class Mark : std::uint8_t { separation, stop, reversal, end };

void draw_mark(Canvas& canvas, Mark mark, Point at) {
  switch (mark) {
    case Mark::separation:
      // The wire is cut: a gap with a bar on either side.
      canvas.fill(Box{at.x - 2, at.y - 2.5, 4, 5}, Ink::white);
      for (const double side : {-2.5, 2.5}) {
        canvas.line({at.x - 5, at.y + side}, {at.x + 5, at.y + side}, {.width = 1.3});
      }
      return;
    case Mark::reversal:
      canvas.disc(at, 6, Ink::white);
      canvas.circle(at, 5.2, {.width = 1.2});
      canvas.disc(at, 2.4);
      return;
    case Mark::stop:
      canvas.disc(at, 5, Ink::white);
      canvas.circle(at, 4.2, {.width = 1.2});
      return;
    case Mark::end:
      canvas.fill(Box{at.x - 6, at.y - 1.4, 12, 2.8});
      return;
  }
}

Block mark_block(const Strip& strip, double at_km, Mark mark, const std::string& name,
                 const std::string& what) {
  const Columns columns = strip.columns;
  const Text words = strip.setter.set(
      std::vector<TextSpan>{{fit(name), {.size_pt = 10, .weight = FontWeight::semibold}},
                            {(name.empty() ? "" : "  ") + what, {.size_pt = 9.5}}},
      columns.right - columns.body);
  const auto km = chainage(strip, at_km, {.size_pt = 9.5});
  Block block;
  block.height = words.height() + 8;
  block.draw = [=](Canvas& canvas, double y) {
    if (mark != Mark::end) {
      canvas.line({columns.left, y}, {columns.right, y}, {.width = thin});
    }
    const double baseline = y + 4 + words.baseline();
    km(canvas, baseline);
    draw_mark(canvas, mark, {columns.spine, baseline - 3.6});
    canvas.text(words, {columns.body, y + 4});
  };
  return block;
}

/// Something along the route. At one chainage, by rank.
struct Event {
  enum class Kind : std::uint8_t { stop, stretch, separation, order, end };
  double km = 0;
  Kind kind{};
  std::size_t index = 0;
};

std::vector<Event> events_of(const Strip& strip) {
  std::vector<Event> events;
  const Route& route = strip.plan.route;
  for (std::size_t i = 0; i < route.stops.size(); ++i) {
    events.push_back({route.stops[i].at_km, Event::Kind::stop, i});
  }
  for (std::size_t i = 0; i < strip.stretches.size(); ++i) {
    events.push_back({strip.stretches[i].from_km, Event::Kind::stretch, i});
  }
  for (std::size_t i = 0; i < route.separations.size(); ++i) {
    if (!route.separations[i].pantograph_lowered) {
      events.push_back({route.separations[i].from_km, Event::Kind::separation, i});
    }
  }
  for (std::size_t i = 0; i < strip.plan.instructions.size(); ++i) {
    events.push_back({strip.plan.instructions[i].at_km, Event::Kind::order, i});
  }
  if (!strip.stretches.empty()) {
    events.push_back({strip.stretches.back().to_km, Event::Kind::end, 0});
  }
  std::ranges::stable_sort(events, [](const Event& a, const Event& b) {
    return a.km != b.km ? a.km < b.km : a.kind < b.kind;
  });
  return events;
}

Block block_of(const Strip& strip, const Event& event, const Event* before) {
  switch (event.kind) {
    case Event::Kind::stop: {
      const Stop& stop = strip.plan.route.stops[event.index];
      return mark_block(strip, stop.at_km, stop.reversal ? Mark::reversal : Mark::stop, stop.name,
                        stop.reversal ? "stop; the train leaves in the other direction" : "stop");
    }
    case Event::Kind::stretch:
      return stretch_block(strip, strip.stretches[event.index]);
    case Event::Kind::separation: {
      const SeparationSection& separation = strip.plan.route.separations[event.index];
      return mark_block(
          strip, separation.from_km, Mark::separation, separation.name,
          fmt::format("{}, {}{}", name_of(separation.kind), metres(separation.length_m),
                      separation.breaker_off ? ", breaker off, pantographs stay up"
                                             : ", pantographs stay up"));
    }
    case Event::Kind::order: {
      const Instruction& instruction = strip.plan.instructions[event.index];
      const bool same_place =
          before != nullptr && before->kind == Event::Kind::order && before->km == event.km;
      return order_block(strip, instruction, same_place);
    }
    case Event::Kind::end:
      return mark_block(strip, event.km, Mark::end, "", "end of the route");
  }
  return {};
}

}  // namespace

RouteStrip arrange_strip(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  Strip strip{.setter = setter,
              .plan = plan,
              .columns = columns,
              .stretches = stretches_of(plan),
              .layouts = {lay_out(plan.train, false), lay_out(plan.train, true)}};
  std::vector<RouteStrip::Row> rows;
  const std::vector<Event> events = events_of(strip);
  RouteStrip::Row row;
  for (std::size_t i = 0; i < events.size(); ++i) {
    row.begins_stretch = events[i].kind == Event::Kind::stretch;
    if (row.begins_stretch) {
      row.stretch = events[i].index;
    }
    if (events[i].kind == Event::Kind::order) {
      const Instruction& instruction = plan.instructions[events[i].index];
      row.speed_kmh = instruction.action == Action::speed ? instruction.speed_kmh : row.speed_kmh;
    }
    row.block = block_of(strip, events[i], i > 0 ? &events[i - 1] : nullptr);
    const bool more_here = i + 1 < events.size() && events[i + 1].km == events[i].km;
    row.block.stays_with_next = more_here && events[i].kind != Event::Kind::order;
    rows.push_back(row);
  }
  return {std::move(strip.stretches), std::move(rows)};
}

Block strip_heading(const TextSetter& setter, const Columns& columns, bool goes_on) {
  const Text km = setter.set("km", small_bold);
  const Text what =
      setter.set(goes_on ? "along the route, continued" : "along the route", small_bold);
  const Text remedy = setter.set("if it cannot be done", small_bold);
  Block block;
  block.height = what.height() + 3;
  block.stays_with_next = true;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.text(km, {columns.spine - 9 - km.width(), y});
    canvas.text(what, {columns.body, y});
    canvas.text(remedy, {columns.remedy, y});
  };
  return block;
}

Block stretch_reminder(const TextSetter& setter, const RouteStrip& strip,
                       const RouteStrip::Row& before, const Columns& columns) {
  const Stretch& stretch = strip.stretches[before.stretch];
  const PlannedSection& section = stretch.first;
  std::string words;
  if (!section.lowered_for.empty()) {
    words = "all down for " + fit(section.lowered_for);
  } else if (section.answer == Answer::none) {
    words = "no permitted configuration";
  } else {
    words = with_up(section.raised, section.put_dead_in_tow);
  }
  if (before.speed_kmh > 0) {
    words += fmt::format("; {}\u00a0km/h ordered", speed_figure(before.speed_kmh));
  }
  const Text text = setter.set(
      std::vector<TextSpan>{
          {fmt::format("Still in km\u00a0{}: ", km_range(stretch.from_km, stretch.to_km)),
           {.size_pt = 9.5}},
          {words, {.size_pt = 9.5, .weight = FontWeight::bold}}},
      columns.right - columns.body);
  Block block;
  block.height = text.height() + 6;
  block.stays_with_next = true;
  block.draw = [=](Canvas& canvas, double y) { canvas.text(text, {columns.body, y + 2}); };
  return block;
}

void draw_spine(Canvas& canvas, const Columns& columns, const PlannedSection& section, double top,
                double bottom) {
  if (section.answer == Answer::none) {
    return;
  }
  const bool down = !section.lowered_for.empty();
  canvas.line({columns.spine, top}, {columns.spine, bottom},
              {.width = wire_weight, .dash = down ? 2.5 : 0});
}

}  // namespace panup
