#include "card/route_strip.h"

#include <algorithm>
#include <set>

#include "card/strip_parts.h"
#include "drawing/text_style.h"
#include "pictures/train_drawing.h"
#include "wording/wording.h"

namespace panup {

namespace {

constexpr double thin = 0.4;

/// The reason of a speed stands beside the stretch; an order repeats it only where it is another.
bool said_by_stretch(const Strip& strip, const Instruction& instruction) {
  return instruction.action == Action::speed &&
         std::ranges::any_of(strip.stretches, [&](const Stretch& stretch) {
           return stretch.from_km <= instruction.at_km && instruction.at_km <= stretch.to_km &&
                  stretch.speed_kmh == instruction.speed_kmh &&
                  stretch.reasons.find(instruction.reason) != std::string::npos;
         });
}

/// An order with its remedy; `with_place`: with chainage, landmark, mark and a line above, which
/// orders of one place share.
Block order_block(const Strip& strip, const Instruction& instruction, bool with_place) {
  const Columns columns = strip.columns;
  std::vector<TextSpan> spans{
      {fitted(instruction.what), {.size_pt = 11.5, .weight = FontWeight::bold}}};
  if (!instruction.landmark.empty() && with_place) {
    spans.push_back({"  " + fitted(instruction.landmark, longest_order), {.size_pt = 11}});
  }
  if (!instruction.reason.empty() && !said_by_stretch(strip, instruction)) {
    spans.push_back({"  " + fitted(instruction.reason, longest_order), small});
  }
  const bool has_remedy = !instruction.if_not_possible.empty();
  const Text order =
      strip.setter.set(spans, (has_remedy ? columns.remedy - 10 : columns.right) - columns.body);
  const Text remedy = has_remedy
                          ? strip.setter.set(fitted(instruction.if_not_possible, longest_order),
                                             small, columns.right - columns.remedy)
                          : Text();
  const auto km = chainage(strip, instruction.at_km, {.size_pt = 9.5});
  Block block;
  const double above = with_place ? 3 : 1;
  // The remedy begins on the order's baseline, a little lower than its top.
  const double remedy_below = has_remedy ? order.baseline() - remedy.baseline() : 0;
  block.height = above + std::max(order.height(), remedy_below + remedy.height()) + 2.5;
  block.draw = [=](Canvas& canvas, double y) {
    const double top = y + above;
    const double baseline = top + order.baseline();
    if (with_place) {
      canvas.line({columns.body, y}, {columns.right, y}, {.width = thin});
      km(canvas, baseline);
      const double middle = baseline - 4;
      canvas.fill({{columns.spine + 3, middle - 3.2},
                   {columns.spine + 8.5, middle},
                   {columns.spine + 3, middle + 3.2}});
      canvas.line({columns.spine, middle}, {columns.spine + 4, middle}, {.width = 0.9});
    }
    canvas.text(order, {columns.body, top});
    canvas.text(remedy, {columns.remedy, top + remedy_below});
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
      std::vector<TextSpan>{{fitted(name), {.size_pt = 10, .weight = FontWeight::semibold}},
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
    if (route.stops[i].at_km >= departure_km(route)) {
      events.push_back({route.stops[i].at_km, Event::Kind::stop, i});
    }
  }
  for (std::size_t i = 0; i < strip.stretches.size(); ++i) {
    events.push_back({strip.stretches[i].from_km, Event::Kind::stretch, i});
  }
  for (std::size_t i = 0; i < route.separations.size(); ++i) {
    if (!route.separations[i].pantograph_lowered &&
        route.separations[i].from_km >= departure_km(route)) {
      events.push_back({route.separations[i].from_km, Event::Kind::separation, i});
    }
  }
  std::set<const Instruction*> stated;
  for (const Stretch& stretch : strip.stretches) {
    stated.insert(stated_by_row(strip.plan, stretch));
  }
  for (std::size_t i = 0; i < strip.plan.instructions.size(); ++i) {
    if (!stated.contains(&strip.plan.instructions[i])) {
      events.push_back({strip.plan.instructions[i].at_km, Event::Kind::order, i});
    }
  }
  if (!strip.stretches.empty()) {
    events.push_back({strip.stretches.back().to_km, Event::Kind::end, 0});
  }
  std::ranges::stable_sort(events, [](const Event& a, const Event& b) {
    return a.km != b.km ? a.km < b.km : a.kind < b.kind;
  });
  return events;
}

Block block_of(const Strip& strip, const Event& event, bool with_place) {
  const Words& words = strip.plan.words;
  switch (event.kind) {
    case Event::Kind::stop: {
      const Stop& stop = strip.plan.route.stops[event.index];
      return mark_block(strip, stop.at_km, stop.reversal ? Mark::reversal : Mark::stop, stop.name,
                        stop.reversal ? words.say("stop; the train leaves in the other direction")
                                      : words.say("stop"));
    }
    case Event::Kind::stretch:
      return stretch_block(strip, strip.stretches[event.index]);
    case Event::Kind::separation: {
      const SeparationSection& separation = strip.plan.route.separations[event.index];
      const std::string kind = words.named(name_of(separation.kind));
      const std::string length = metres(separation.length_m, words);
      return mark_block(strip, separation.from_km, Mark::separation, separation.name,
                        separation.breaker_off ? words.say("{}, {}, breaker off", kind, length)
                                               : words.say("{}, {}", kind, length));
    }
    case Event::Kind::order:
      return order_block(strip, strip.plan.instructions[event.index], with_place);
    case Event::Kind::end:
      return mark_block(strip, event.km, Mark::end, strip.plan.route.ends_at,
                        strip.plan.route.ends_at.empty() ? words.say("end of the route")
                                                         : words.say("end of this part"));
  }
  return {};
}

}  // namespace

std::function<void(Canvas&, double)> chainage(const Strip& strip, double km, TextStyle style) {
  const Text text = strip.setter.set(km_words(km, strip.plan.words), style);
  const Columns columns = strip.columns;
  return [text, columns](Canvas& canvas, double baseline) {
    canvas.text(text, {columns.spine - 9 - text.width(), baseline - text.baseline()});
  };
}

RouteStrip arrange_strip(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  Strip strip{.setter = setter,
              .plan = plan,
              .columns = columns,
              .stretches = stretches_of(plan),
              .layouts = {lay_out(plan.train, false), lay_out(plan.train, true)}};
  std::vector<StripRow> rows;
  const std::vector<Event> events = events_of(strip);
  StripRow row;
  for (std::size_t i = 0; i < events.size(); ++i) {
    row.begins_stretch = events[i].kind == Event::Kind::stretch;
    if (row.begins_stretch) {
      row.stretch = events[i].index;
      const Instruction* const order = stated_by_row(plan, strip.stretches[row.stretch]);
      row.speed_kmh = order != nullptr ? order->speed_kmh : row.speed_kmh;
    }
    if (events[i].kind == Event::Kind::order) {
      const Instruction& instruction = plan.instructions[events[i].index];
      row.speed_kmh = instruction.action == Action::speed ? instruction.speed_kmh : row.speed_kmh;
    }
    const bool is_order = events[i].kind == Event::Kind::order;
    const bool goes_on = is_order && i > 0 && events[i - 1].kind == Event::Kind::order &&
                         events[i - 1].km == events[i].km;
    row.row.block = block_of(strip, events[i], !goes_on);
    // What is done at one place is read together.
    const bool before_end = i + 2 == events.size();
    row.row.block.stays_with_next =
        before_end || (i + 1 < events.size() && events[i + 1].km == events[i].km);
    row.row.on_new_sheet = goes_on ? block_of(strip, events[i], true) : row.row.block;
    rows.push_back(row);
  }
  return {std::move(strip.stretches), std::move(rows)};
}

Block strip_heading(const TextSetter& setter, const Columns& columns, bool goes_on) {
  const Words& words = setter.words();
  const Text km = setter.set(words.say("km"), small_bold);
  const Text what = setter.set(
      goes_on ? words.say("along the route, continued") : words.say("along the route"), small_bold);
  const Text remedy = setter.set(words.say("if it cannot be done"), small_bold);
  const Text speed = setter.set(words.say("km/h"), small_bold);
  Block block;
  block.height = what.height() + 3;
  block.stays_with_next = true;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.text(km, {columns.spine - 9 - km.width(), y});
    canvas.text(what, {columns.body, y});
    canvas.text(remedy, {columns.remedy, y});
    canvas.text(speed, {columns.right - speed.width(), y});
  };
  return block;
}

Block stretch_reminder(const TextSetter& setter, const RouteStrip& strip, const StripRow& before,
                       const Columns& columns) {
  const Stretch& stretch = strip.stretches[before.stretch];
  const PlannedSection& section = stretch.first;
  const Words& language = setter.words();
  std::string words;
  if (!section.lowered_for.empty()) {
    words = language.say("all down for {}", fitted(section.lowered_for));
  } else if (section.answer == Answer::none) {
    words = language.say("no permitted configuration");
  } else {
    words = with_up(section.raised, section.put_dead_in_tow, language);
  }
  if (before.speed_kmh > 0) {
    words += language.say("; {}\u00a0km/h ordered", speed_figure(before.speed_kmh, language));
  }
  const Text text = setter.set(
      std::vector<TextSpan>{{language.say("Still in km\u00a0{}: ",
                                          km_range(stretch.from_km, stretch.to_km, language)),
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
