#include "drawing/diagram_axis.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace panup {

namespace {

/// Beyond this no axis of ours reaches, and rounding would fail.
constexpr double greatest_value = 1e12;
/// A range narrower than this share of its values has no round ticks in double precision.
constexpr double least_share = 1e-9;

double sane(double value) {
  return std::isfinite(value) ? std::clamp(value, -greatest_value, greatest_value) : 0;
}

struct Range {
  double from;
  double to;
};

Range with_room(double a, double b) {
  const double from = std::min(sane(a), sane(b));
  const double to = std::max(sane(a), sane(b));
  const double least = std::max(least_share, least_share * std::max(std::abs(from), std::abs(to)));
  if (to - from >= least) {
    return {from, to};
  }
  const double room = std::max(1.0, 0.1 * std::abs(from));
  return {from - room / 2, to + room / 2};
}

struct Step {
  double size;
  int decimals;
};

/// The steps 1, 2, 5, 10, … times a power of ten, from the finest that is not below `least`.
Step round_step(double least, int further) {
  constexpr std::array<double, 3> digits{1, 2, 5};
  int power = static_cast<int>(std::floor(std::log10(least))) - 1;
  constexpr double tolerance = 1e-9;
  std::size_t digit = 0;
  const auto size = [&] { return digits[digit] * std::pow(10.0, power); };
  const auto next = [&] {
    digit = (digit + 1) % digits.size();
    power += digit == 0 ? 1 : 0;
  };
  while (size() < least * (1 - tolerance)) {
    next();
  }
  for (int i = 0; i < further; ++i) {
    next();
  }
  return {size(), std::max(0, -power)};
}

void add_ticks(Axis& axis, double step) {
  constexpr double tolerance = 1e-9;
  const auto first = static_cast<long long>(std::ceil(axis.from / step - tolerance));
  const auto last = static_cast<long long>(std::floor(axis.to / step + tolerance));
  for (long long i = first; i <= last; ++i) {
    axis.ticks.push_back(static_cast<double>(i) * step);
  }
}

}  // namespace

Axis round_axis(double least, double greatest, int most_ticks) {
  const auto [from, to] = with_room(least, greatest);
  const int most = std::max(3, most_ticks);
  for (int further = 0;; ++further) {
    const Step step = round_step((to - from) / most, further);
    constexpr double tolerance = 1e-9;
    Axis axis;
    axis.from = std::floor(from / step.size + tolerance) * step.size + 0.0;
    axis.to = std::ceil(to / step.size - tolerance) * step.size + 0.0;
    axis.decimals = step.decimals;
    add_ticks(axis, step.size);
    if (axis.ticks.size() <= static_cast<std::size_t>(most)) {
      return axis;
    }
  }
}

Axis axis_within(double from, double to, int most_ticks) {
  const auto range = with_room(from, to);
  Axis axis;
  axis.from = range.from;
  axis.to = range.to;
  const int most = std::max(1, most_ticks);
  for (int further = 0;; ++further) {
    const Step step = round_step(axis.span() / most, further);
    axis.decimals = step.decimals;
    axis.ticks.clear();
    add_ticks(axis, step.size);
    if (axis.ticks.size() <= static_cast<std::size_t>(most)) {
      return axis;
    }
  }
}

std::string tick_words(const Axis& axis, double value, const Words& words) {
  std::string figures = fmt::format("{:.{}f}", std::abs(value), axis.decimals);
  const bool is_zero = figures.find_first_not_of("0.") == std::string::npos;
  std::ranges::replace(figures, '.', words.decimal_sign());
  return value < 0 && !is_zero ? "−" + figures : figures;
}

std::vector<double> spread(const std::vector<double>& wanted, double height, double from,
                           double to) {
  std::vector<std::size_t> order(wanted.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return wanted[i]; });
  std::vector<double> places(wanted.size());
  const auto count = static_cast<double>(wanted.size());
  const double room = to - from;
  if (count * height > room) {
    for (std::size_t i = 0; i < order.size(); ++i) {
      places[order[i]] = from + (static_cast<double>(i) + 0.5) * room / count;
    }
    return places;
  }
  // Groups of labels that touch stand about the mean of what their members want; a group that runs
  // into the one before joins it.
  struct Group {
    double wanted_first = 0;  ///< mean place wanted for the group's first label
    std::size_t size = 0;
  };
  std::vector<Group> groups;
  const auto first_of = [&](const Group& group) {
    const double length = static_cast<double>(group.size) * height;
    return std::clamp(group.wanted_first, from + height / 2, to - length + height / 2);
  };
  for (const std::size_t i : order) {
    groups.push_back({wanted[i], 1});
    while (groups.size() > 1) {
      const Group& before = groups[groups.size() - 2];
      const Group& last = groups.back();
      const auto before_size = static_cast<double>(before.size);
      if (first_of(before) + before_size * height <= first_of(last)) {
        break;
      }
      const auto last_size = static_cast<double>(last.size);
      const double mean = (before.wanted_first * before_size +
                           (last.wanted_first - before_size * height) * last_size) /
                          (before_size + last_size);
      const Group joined{mean, before.size + last.size};
      groups.pop_back();
      groups.back() = joined;
    }
  }
  std::size_t at = 0;
  for (const Group& group : groups) {
    for (std::size_t i = 0; i < group.size; ++i) {
      places[order[at++]] = first_of(group) + static_cast<double>(i) * height;
    }
  }
  return places;
}

std::vector<Point> thinned(const std::vector<Point>& points, double width) {
  std::vector<Point> kept;
  for (std::size_t from = 0; from < points.size();) {
    const double strip = std::floor(points[from].x / width);
    std::size_t to = from;
    std::size_t lowest = from;
    std::size_t highest = from;
    for (; to < points.size() && std::floor(points[to].x / width) == strip; ++to) {
      lowest = points[to].y < points[lowest].y ? to : lowest;
      highest = points[to].y > points[highest].y ? to : highest;
    }
    std::array<std::size_t, 4> stay{from, std::min(lowest, highest), std::max(lowest, highest),
                                    to - 1};
    const auto repeated = std::ranges::unique(stay);
    std::for_each(stay.begin(), repeated.begin(),
                  [&](std::size_t i) { kept.push_back(points[i]); });
    from = to;
  }
  return kept;
}

}  // namespace panup
