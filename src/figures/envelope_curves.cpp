#include <algorithm>
#include <functional>
#include <iterator>
#include <optional>

#include "drawing/diagram_axis.h"
#include "drawing/text_style.h"
#include "figures/envelope.h"
#include "figures/envelope_plot.h"

namespace panup {

namespace {

constexpr double halo = 1.8;
constexpr double leader = 8;
constexpr double stroke_sample = 25;
constexpr double name_gap = 3;
constexpr Stroke permitted_stroke{2.4};
constexpr double published_width = 0.8;
constexpr std::array published_dashes{2.5, 5.0, 8.0};
constexpr double samples_width = 1.3;
/// For half of them, nine in ten, all.
constexpr std::array samples_dashes{1.3, 4.5, 0.0};
/// Where distances are nearer, none of them is marked.
constexpr double least_between_marks = 12;
constexpr double mark_radius = 2.4;

/// A curve over the map, in pieces where it leaves the speeds shown.
struct NamedCurve {
  std::vector<std::vector<Point>> pieces;
  Stroke stroke;
  std::string name;
};

/// One speed over the column of each distance. Nothing is shown below the lowest speed shown: a
/// line along the edge would state a speed.
std::vector<std::vector<Point>> stair(const EnvelopePlot& plot,
                                      const std::vector<double>& speeds_kmh) {
  std::vector<std::vector<Point>> pieces;
  bool goes_on = false;
  for (std::size_t d = 0; d < speeds_kmh.size(); ++d) {
    const bool shown = speeds_kmh[d] > 0 && speeds_kmh[d] >= plot.y.from;
    if (shown) {
      if (!goes_on) {
        pieces.emplace_back();
      }
      const double at = plot.y(speeds_kmh[d]);
      pieces.back().push_back({plot.x_borders[d], at});
      pieces.back().push_back({plot.x_borders[d + 1], at});
    }
    goes_on = shown;
  }
  return pieces;
}

/// The table's steps where they are, not by columns.
std::vector<std::vector<Point>> published_stair(const EnvelopePlot& plot,
                                                const PublishedSpeeds& published) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < published.steps.size(); ++i) {
    const PublishedStep& step = published.steps[i];
    const bool last = i + 1 == published.steps.size();
    const double to_m = last ? plot.x.to : std::min(published.steps[i + 1].distance_m, plot.x.to);
    if (step.distance_m >= plot.x.to || to_m <= plot.x.from || step.speed_kmh < plot.y.from) {
      continue;
    }
    const double at = plot.x(step.distance_m);
    if (points.empty() && i > 0 && step.distance_m > plot.x.from) {
      points.push_back({at, plot.area.bottom()});
    }
    points.push_back({at, plot.y(step.speed_kmh)});
    points.push_back({plot.x(to_m), plot.y(step.speed_kmh)});
  }
  std::vector<std::vector<Point>> pieces;
  if (!points.empty()) {
    pieces.push_back(std::move(points));
  }
  return pieces;
}

std::vector<NamedCurve> curves_of(const Envelope& envelope, const EnvelopePlot& plot,
                                  const Words& words) {
  std::vector<NamedCurve> curves;
  if (envelope.count > 1) {
    for (std::size_t i = 0; i < envelope.published.size(); ++i) {
      const PublishedSpeeds& published = envelope.published[i];
      curves.push_back({published_stair(plot, published),
                        {published_width, published_dashes[i % published_dashes.size()]},
                        words.say("table, type {}", name_of(published.type))});
    }
  }
  const std::vector<SampleShare> shares = sample_shares(envelope, words);
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const bool all = i + 1 == shares.size();
    curves.push_back({stair(plot, shares[i].speeds_kmh),
                      {samples_width, all ? samples_dashes.back() : samples_dashes.at(i)},
                      shares[i].name});
  }
  std::vector<double> permitted;
  std::ranges::transform(envelope.permitted, std::back_inserter(permitted),
                         &PermittedSpeed::speed_kmh);
  curves.push_back({stair(plot, permitted), permitted_stroke, words.say("permitted speed")});
  std::erase_if(curves, [](const NamedCurve& curve) { return curve.pieces.empty(); });
  return curves;
}

/// At the distances that were computed.
void draw_marks(Canvas& canvas, const Envelope& envelope, const EnvelopePlot& plot) {
  for (std::size_t d = 1; d < envelope.spacings_m.size(); ++d) {
    if (plot.x(envelope.spacings_m[d]) - plot.x(envelope.spacings_m[d - 1]) < least_between_marks) {
      return;
    }
  }
  for (std::size_t d = 0; d < envelope.spacings_m.size(); ++d) {
    const double speed = envelope.permitted[d].speed_kmh;
    if (speed > 0 && speed >= plot.y.from) {
      const Point at{plot.x(envelope.spacings_m[d]), plot.y(speed)};
      canvas.disc(at, mark_radius + halo / 2, Ink::white);
      canvas.disc(at, mark_radius);
    }
  }
}

void name_curves(Canvas& canvas, const TextSetter& setter, const EnvelopePlot& plot,
                 std::vector<NamedCurve> curves) {
  const auto end_of = [](const NamedCurve& curve) { return curve.pieces.back().back(); };
  std::ranges::stable_sort(curves, {}, [&](const NamedCurve& curve) { return end_of(curve).y; });
  std::vector<double> wanted;
  std::ranges::transform(curves, std::back_inserter(wanted),
                         [&](const NamedCurve& curve) { return end_of(curve).y; });
  const double height = setter.set("0", small).height();
  const std::vector<double> places =
      spread(wanted, height, plot.area.y - height / 2, plot.area.bottom() + height / 2);
  for (std::size_t i = 0; i < curves.size(); ++i) {
    const double left = plot.area.right() + leader;
    // One that ends within the map has no leader.
    if (end_of(curves[i]).x >= plot.area.right() - 0.01) {
      canvas.line({plot.area.right(), wanted[i]}, {left, places[i]}, {0.3});
    }
    canvas.line({left + 1, places[i]}, {left + stroke_sample, places[i]}, curves[i].stroke);
    const bool heavy = curves[i].stroke.width == permitted_stroke.width;
    canvas.text(setter.set(curves[i].name, heavy ? small_bold : small),
                {left + stroke_sample + name_gap, places[i] - height / 2});
  }
}

}  // namespace

void draw_envelope_curves(Canvas& canvas, const TextSetter& setter, const Envelope& envelope,
                          const EnvelopePlot& plot) {
  std::vector<NamedCurve> curves = curves_of(envelope, plot, setter.words());
  for (const NamedCurve& curve : curves) {
    for (const std::vector<Point>& piece : curve.pieces) {
      canvas.clear_polyline(piece, curve.stroke.width + halo);
      canvas.polyline(piece, curve.stroke);
    }
  }
  draw_marks(canvas, envelope, plot);
  name_curves(canvas, setter, plot, std::move(curves));
}

}  // namespace panup
