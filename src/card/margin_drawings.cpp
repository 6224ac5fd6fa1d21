#include "card/margin_drawings.h"

#include <algorithm>
#include <cmath>

#include "drawing/text_style.h"
#include "wording/wording.h"

namespace panup {

namespace {

constexpr double bar_row = 17;
constexpr double bar_height = 8;
constexpr double bars_left = 64;  ///< of the columns' left, behind the names
constexpr double figures_width = 150;
constexpr double drawn_share = 1.25;  ///< of a limit, that the bars have room for

struct BarOf {
  std::string name;
  double value_a = 0;
  std::optional<double> limit_a;
  std::string rule;
};

std::vector<BarOf> bars_of(const CurrentLoads& loads, const Words& words) {
  std::vector<BarOf> bars;
  for (const PantographLoad& load : loads.pantographs) {
    bars.push_back({to_string(load.ref), load.greatest_a, load.limit_a, load.rule});
  }
  bars.push_back({words.say("train"), loads.train_a, loads.train_limit_a,
                  loads.train_limit_a ? loads.train_rule : std::string()});
  return bars;
}

std::string figures_of(const BarOf& bar, const Words& words) {
  return bar.limit_a ? words.say("{:.0f} A of {:.0f} A, {:.0f} %", bar.value_a, *bar.limit_a,
                                 *bar.limit_a > 0 ? 100 * bar.value_a / *bar.limit_a : 100)
                     : words.say("{:.0f} A, no limit stated", bar.value_a);
}

std::string rule_words(const std::string& rule, const Words& words) {
  return rule.empty() ? std::string() : words.say(" (rule {})", rule);
}

}  // namespace

std::string current_words(const CurrentLoads& loads, const Words& words) {
  std::string text;
  for (const BarOf& bar : bars_of(loads, words)) {
    text += (text.empty() ? "" : "; ") + bar.name + " " + figures_of(bar, words) +
            rule_words(bar.rule, words);
  }
  return loads.complete
             ? words.say(
                   "At full power and the lowest permanent voltage, or as the train file states: "
                   "{}.",
                   text)
             : words.say(
                   "At full power and the lowest permanent voltage, or as the train file states: "
                   "{}; what other vehicles draw is not known.",
                   text);
}

Block draw_current(const TextSetter& setter, const CurrentLoads& loads, const Columns& columns) {
  struct Bar {
    Text name;
    Text figures;
    double share = 0;  ///< of the limit, cut at what is drawn
    bool limited = false;
  };
  std::vector<Bar> rows;
  for (const BarOf& bar : bars_of(loads, setter.words())) {
    const bool limited = bar.limit_a && *bar.limit_a > 0;
    rows.push_back({.name = setter.set(bar.name, small_bold),
                    .figures = setter.set(figures_of(bar, setter.words()), small),
                    .share = limited ? std::clamp(bar.value_a / *bar.limit_a, 0.0, drawn_share) : 0,
                    .limited = limited});
  }
  const double left = columns.left + bars_left;
  const double room = columns.right - figures_width - left;
  const double limit_x = left + room / drawn_share;
  Block block;
  block.height = bar_row * static_cast<double>(rows.size()) + 4;
  block.draw = [=](Canvas& canvas, double y) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const Bar& row = rows[i];
      const double top = y + bar_row * static_cast<double>(i) + 4;
      const double text_y = top + (bar_height - row.name.height()) / 2;
      canvas.text(row.name, {columns.left, text_y});
      canvas.text(row.figures, {columns.right - figures_width + 8, text_y});
      if (!row.limited) {
        continue;
      }
      const double end = left + room * row.share / drawn_share;
      canvas.frame(Box{left, top, limit_x - left, bar_height}, {.width = 0.5});
      canvas.fill(Box{left, top, std::min(end, limit_x) - left, bar_height});
      if (end > limit_x) {
        const Box beyond{limit_x, top, end - limit_x, bar_height};
        canvas.hatch(beyond, 2.5, {.width = 0.8});
        canvas.frame(beyond, {.width = 0.5});
      }
      canvas.line({limit_x, top - 3}, {limit_x, top + bar_height + 3}, {.width = 1.6});
    }
  };
  return block;
}

std::string lateral_words(const LateralMargin& margin, const Words& words) {
  const std::string held = margin.holds_ms
                               ? words.say("It holds a wind of up to {:.1f} m/s.", *margin.holds_ms)
                               : words.say("It does not hold in the calm.");
  const std::string head =
      margin.assumed
          ? words.say("{}, {:g} mm head of unknown working width", list_words(margin.heads, words),
                      margin.head_width_mm)
          : words.say("{}, {:g} mm head", list_words(margin.heads, words), margin.head_width_mm);
  return words.say(
      "{}, in the {}: in {} the wire comes to {:.2f} m from the middle of the track; permitted are "
      "{:.2f} m{}. {}",
      head, span_words(margin.span, words),
      margin.wind_known && margin.holds_ms
          ? words.say("a wind of {:g} m/s and its gusts", margin.wind_ms)
          : words.say("the calm"),
      margin.position_m, margin.permitted_m, rule_words(margin.rule, words), held);
}

Block draw_lateral(const TextSetter& setter, const LateralMargin& margin, const Columns& columns) {
  constexpr double points_per_m = 170;
  constexpr double head_y = 42;
  constexpr double horn = 0.2;  // of the head's width drawn as horns, each side half of it
  const double middle = (columns.left + columns.right) / 2;
  const double half = margin.head_width_mm / 2000 * points_per_m;
  const double flat = half * (1 - horn);
  const double permitted = std::max(0.0, margin.permitted_m) * points_per_m;
  const double wire = std::min(margin.position_m * points_per_m, columns.right - middle);
  const Text permitted_text =
      setter.set(setter.words().say("permitted ±{:.2f} m", margin.permitted_m), small);
  const Text wire_text =
      setter.set(setter.words().say("wire {:.2f} m", margin.position_m), small_bold);
  const Text track_text = setter.set(setter.words().say("middle of the track"), small);
  const Text head_text = setter.set(setter.words().say("head {:g} mm, {}", margin.head_width_mm,
                                                       list_words(margin.heads, setter.words())),
                                    small);
  Block block;
  block.height = 92;
  block.draw = [=](Canvas& canvas, double y) {
    const double head = y + head_y;
    canvas.line({middle, y + 16}, {middle, head + 30}, {.width = 0.4, .dash = 3});
    canvas.text(track_text, {middle - track_text.width() / 2, head + 31});
    canvas.polyline({{middle - half, head + 16},
                     {middle - flat, head},
                     {middle + flat, head},
                     {middle + half, head + 16}},
                    {.width = 1.8});
    canvas.text(head_text, {columns.left, y + 1});
    for (const double side : {-1.0, 1.0}) {
      const double x = middle + side * permitted;
      canvas.line({x, head - 9}, {x, head + 9}, {.width = 1});
    }
    canvas.line({middle - permitted, head + 12}, {middle + permitted, head + 12}, {.width = 0.5});
    canvas.text(permitted_text, {middle - permitted_text.width() - 4, head + 14});
    canvas.disc({middle + wire, head - 4}, 3.2);
    canvas.line({middle + wire, head - 8}, {middle + wire, y + 14}, {.width = 0.4});
    canvas.text(wire_text,
                {std::min(middle + wire - wire_text.width() / 2, columns.right - wire_text.width()),
                 y + 1});
  };
  return block;
}

std::string force_words(const ForceFigures& forces, const Words& words) {
  std::string text;
  for (std::size_t i = 0; i < forces.pantographs.size(); ++i) {
    const PantographFigures& one = forces.pantographs[i];
    text += (text.empty() ? "" : "; ") +
            words.say(
                "{} mean {:.0f} N, standard deviation {:.1f} N, mean ± 3σ from {:.0f} to {:.0f} N, "
                "least "
                "{:.0f} N, greatest {:.0f} N, contact loss {:.1f} % of the time",
                to_string(forces.raised[i]), one.mean_n, one.std_n, one.mean_n - 3 * one.std_n,
                one.mean_n + 3 * one.std_n, one.min_n, one.max_n, one.contact_loss_percent);
  }
  const std::string all = words.say("At {:g} km/h: {}.", forces.speed_kmh, text);
  return forces.greatest_force_n ? all + words.say(" Limit of the statistical maximum: {:g} N.",
                                                   *forces.greatest_force_n)
                                 : all;
}

Block draw_forces(const TextSetter& setter, const ForceFigures& forces, const Columns& columns) {
  constexpr double row_height = 20;
  constexpr double step_n = 50;
  double least = 0;
  double greatest = forces.greatest_force_n.value_or(0) + step_n / 2;
  for (const PantographFigures& one : forces.pantographs) {
    least = std::min({least, one.min_n, one.mean_n - 3 * one.std_n});
    greatest = std::max({greatest, one.max_n, one.mean_n + 3 * one.std_n});
  }
  least = step_n * std::floor(least / step_n);
  greatest = step_n * std::ceil(greatest / step_n);
  const double left = columns.left + bars_left;
  const double scale = (columns.right - 12 - left) / (greatest - least);
  const auto x_of = [=](double force_n) { return left + (force_n - least) * scale; };
  struct Tick {
    double x = 0;
    Text text;
  };
  const double tick_n = (greatest - least) / step_n > 12 ? 2 * step_n : step_n;
  std::vector<Tick> ticks;
  const auto tick_count = static_cast<int>((greatest - least) / tick_n + 1e-9) + 1;
  for (int i = 0; i < tick_count; ++i) {
    const double at_n = least + i * tick_n;
    ticks.push_back({x_of(at_n), setter.set(setter.words().say("{:g}", at_n), small)});
  }
  std::vector<Text> names;
  for (const PantographRef ref : forces.raised) {
    names.push_back(setter.set(to_string(ref), small_bold));
  }
  const Text unit = setter.set("N", small);
  const double foot = 6 + row_height * static_cast<double>(names.size());
  const std::vector<PantographFigures> figures = forces.pantographs;
  const auto limit = forces.greatest_force_n;
  Block block;
  block.height = foot + 20;
  block.draw = [=](Canvas& canvas, double y) {
    for (const Tick& tick : ticks) {
      canvas.line({tick.x, y + 4}, {tick.x, y + foot + 3}, {.width = 0.25});
      canvas.text(tick.text, {tick.x - tick.text.width() / 2, y + foot + 4});
    }
    canvas.text(unit, {columns.left, y + foot + 4});
    canvas.line({x_of(0), y + 2}, {x_of(0), y + foot + 3}, {.width = 0.9});
    if (limit) {
      canvas.line({x_of(*limit), y + 2}, {x_of(*limit), y + foot + 3}, {.width = 1.6});
    }
    for (std::size_t i = 0; i < figures.size(); ++i) {
      const PantographFigures& one = figures[i];
      const double middle = y + 6 + row_height * (static_cast<double>(i) + 0.5);
      canvas.text(names[i], {columns.left, middle - names[i].height() / 2});
      canvas.line({x_of(one.min_n), middle}, {x_of(one.max_n), middle}, {.width = 0.8});
      const Box bar{x_of(one.mean_n - 3 * one.std_n), middle - 4, 6 * one.std_n * scale, 8};
      canvas.fill(bar, Ink::white);
      canvas.frame(bar, {.width = 0.8});
      canvas.line({x_of(one.mean_n), middle - 6}, {x_of(one.mean_n), middle + 6}, {.width = 2});
    }
  };
  return block;
}

}  // namespace panup
