#include <algorithm>

#include "figures/envelope.h"
#include "figures/envelope_plot.h"

namespace panup {

namespace {

constexpr Stroke failing_hatch{0.5};
constexpr double failing_hatch_gap = 4;

/// However narrow what fails is, it is seen, above the permitted speed drawn below it.
constexpr double least_failing_height = 6;

/// A single value is given room about it.
constexpr double room_about_one = 0.5;

Scale scale_of(const std::vector<double>& values, double at_from, double at_to) {
  const double room = values.size() > 1 ? 0 : room_about_one;
  return {values.front() - room, values.back() + room, at_from, at_to};
}

std::size_t shade_of(const SpeedAtDistance& judged) {
  for (std::size_t i = 0; i < shades.size(); ++i) {
    if (judged.passes ? !shades[i].fails && judged.margin >= shades[i].margin_from
                      : shades[i].fails) {
      return i;
    }
  }
  return shades.size() - 1;
}

/// Between two judged speeds; up to the permitted speed everything computed passes.
double border_between(const SpeedAtDistance& below, const SpeedAtDistance& above,
                      const PermittedSpeed& permitted) {
  const bool edge = permitted.fails_at_kmh && above.speed_kmh == *permitted.fails_at_kmh;
  return ((edge ? std::max(below.speed_kmh, permitted.speed_kmh) : below.speed_kmh) +
          above.speed_kmh) /
         2;
}

/// The stretches of one column that are shown at least as dark as `shades[least]`.
void add_column(std::vector<Box>& boxes, const std::vector<SpeedAtDistance>& judged,
                const PermittedSpeed& permitted, const EnvelopePlot& plot, const Box& column,
                std::size_t least) {
  std::size_t v = 0;
  while (v < judged.size()) {
    if (shade_of(judged[v]) < least) {
      ++v;
      continue;
    }
    const std::size_t first = v;
    while (v < judged.size() && shade_of(judged[v]) >= least) {
      ++v;
    }
    const double bottom = first == 0
                              ? column.bottom()
                              : plot.y(border_between(judged[first - 1], judged[first], permitted));
    const double top =
        v == judged.size() ? column.y : plot.y(border_between(judged[v - 1], judged[v], permitted));
    const double least_height = shades[least].fails ? least_failing_height : 0;
    const double shown_top = std::max(column.y, std::min(top, bottom - least_height));
    boxes.push_back({column.x, shown_top, column.width, bottom - shown_top});
  }
}

}  // namespace

EnvelopePlot plot_of(const Envelope& envelope, const Box& area) {
  EnvelopePlot plot{.area = area,
                    .x = scale_of(envelope.spacings_m, area.x, area.right()),
                    .y = scale_of(envelope.speeds_kmh, area.bottom(), area.y),
                    .x_borders = {area.x}};
  for (std::size_t d = 1; d < envelope.spacings_m.size(); ++d) {
    plot.x_borders.push_back(plot.x((envelope.spacings_m[d - 1] + envelope.spacings_m[d]) / 2));
  }
  plot.x_borders.push_back(area.right());
  return plot;
}

void fill_with(Canvas& canvas, const std::vector<Box>& boxes, const Shade& shade) {
  canvas.shade(boxes, shade.level);
  if (shade.fails) {
    canvas.hatch(boxes, failing_hatch_gap, failing_hatch);
  }
}

void draw_envelope_cells(Canvas& canvas, const Envelope& envelope, const EnvelopePlot& plot) {
  // Each shade lies on the next lighter one, so that no white shows where they meet.
  for (std::size_t least = 0; least < shades.size(); ++least) {
    std::vector<Box> boxes;
    for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
      const Box column{plot.x_borders[d], plot.area.y, plot.x_borders[d + 1] - plot.x_borders[d],
                       plot.area.height};
      add_column(boxes, speeds_at(envelope, d), envelope.permitted[d], plot, column, least);
    }
    fill_with(canvas, boxes, shades[least]);
  }
}

}  // namespace panup
