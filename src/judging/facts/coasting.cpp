#include "judging/facts/coasting.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "base/gravity.h"
#include "base/same_place.h"

namespace panup {

namespace {

constexpr double longest_step_m = 10;

/// d(v²)/ds at a place, from v².
struct Slope {
  const CoastingTrain& train;
  std::span<const Gradient> gradients;

  double operator()(double front_km, double squared) const {
    const double kmh = 3.6 * std::sqrt(std::max(0.0, squared));
    const RunningResistance& r = train.resistance;
    const double resistance_n = r.a_n + r.b_n_per_kmh * kmh + r.c_n_per_kmh2 * kmh * kmh;
    const double permille =
        mean_gradient_permille(gradients, front_km - train.length_m / 1000, front_km).value_or(0);
    const double force_n = resistance_n + train.mass_kg * gravity_ms2 * permille / 1000;
    return -2 * force_n / (train.mass_kg * train.rotating_mass_factor);
  }
};

/// v² after a step from `km` of `step_m`, which may be backwards.
double after_step(const Slope& slope, double km, double squared, double step_m) {
  const double middle_km = km + step_m / 2000;
  const double k1 = slope(km, squared);
  const double k2 = slope(middle_km, squared + step_m / 2 * k1);
  const double k3 = slope(middle_km, squared + step_m / 2 * k2);
  const double k4 = slope(km + step_m / 1000, squared + step_m * k3);
  return squared + step_m / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
}

/// Where steps begin and end, rising; empty where the gradient is not known.
std::vector<double> steps_between(const CoastingTrain& train, std::span<const Gradient> gradients,
                                  double from_km, double to_km) {
  const double length_km = train.length_m / 1000;
  if (!mean_gradient_permille(gradients, from_km - length_km, to_km)) {
    return {};
  }
  std::vector<double> kinks{from_km, to_km};
  for (const Gradient& gradient : gradients) {
    for (const double km : {gradient.from_km, gradient.to_km}) {
      for (const double front_km : {km, km + length_km}) {
        if (from_km < front_km && front_km < to_km) {
          kinks.push_back(front_km);
        }
      }
    }
  }
  std::ranges::sort(kinks);
  std::vector<double> kms{from_km};
  for (std::size_t i = 1; i < kinks.size(); ++i) {
    const double begin = kms.back();
    const double stretch_km = kinks[i] - begin;
    const auto count = static_cast<int>(std::ceil(1000 * stretch_km / longest_step_m - 1e-9));
    for (int step = 1; step < count; ++step) {
      kms.push_back(begin + stretch_km * step / count);
    }
    if (kinks[i] > begin) {
      kms.push_back(kinks[i]);
    }
  }
  return kms;
}

}  // namespace

std::optional<CoastingTrain> coasting_train(const Train& train, double rotating_mass_factor) {
  CoastingTrain whole{.mass_kg = 0,
                      .rotating_mass_factor = rotating_mass_factor,
                      .resistance = {},
                      .length_m = length_m(train)};
  for (const ConsistItem& item : train.consist) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    const RunningData& data =
        vehicle != nullptr ? vehicle->type->running : std::get<LoadGroup>(item).running;
    if (!data.mass_t || !data.resistance) {
      return std::nullopt;
    }
    whole.mass_kg += 1000 * *data.mass_t;
    whole.resistance.a_n += data.resistance->a_n;
    whole.resistance.b_n_per_kmh += data.resistance->b_n_per_kmh;
    whole.resistance.c_n_per_kmh2 += data.resistance->c_n_per_kmh2;
  }
  return whole;
}

std::optional<double> mean_gradient_permille(std::span<const Gradient> gradients, double from_km,
                                             double to_km) {
  double covered_to = from_km;
  double sum = 0;
  for (const Gradient& gradient : gradients) {
    if (gradient.to_km <= from_km || gradient.from_km >= to_km) {
      continue;
    }
    if (gradient.from_km > covered_to + same_place_km) {
      return std::nullopt;
    }
    const double end = std::min(to_km, gradient.to_km);
    sum += gradient.permille * (end - covered_to);
    covered_to = end;
  }
  if (covered_to < to_km - same_place_km || covered_to <= from_km) {
    return std::nullopt;
  }
  return sum / (covered_to - from_km);
}

double CoastingRun::lowest_ms() const {
  return std::ranges::min(moments, {}, &CoastingMoment::speed_ms).speed_ms;
}

std::optional<CoastingMoment> CoastingRun::at(double km) const {
  if (km < moments.front().at_km || km > moments.back().at_km) {
    return std::nullopt;
  }
  const auto after = std::ranges::lower_bound(moments, km, {}, &CoastingMoment::at_km);
  if (after->at_km == km || after == moments.begin()) {
    return *after;
  }
  const CoastingMoment& before = *(after - 1);
  const double share = (km - before.at_km) / (after->at_km - before.at_km);
  const double squared =
      before.speed_ms * before.speed_ms * (1 - share) + after->speed_ms * after->speed_ms * share;
  const double speed = std::sqrt(squared);
  return CoastingMoment{
      .at_km = km,
      .time_s = before.time_s + 2000 * (km - before.at_km) / (before.speed_ms + speed),
      .speed_ms = speed};
}

std::optional<CoastingRun> coast(const CoastingTrain& train, std::span<const Gradient> gradients,
                                 double from_km, double to_km, double speed_ms) {
  const std::vector<double> kms = steps_between(train, gradients, from_km, to_km);
  if (kms.empty()) {
    return std::nullopt;
  }
  const Slope slope{train, gradients};
  CoastingRun run{.moments = {{.at_km = from_km, .time_s = 0, .speed_ms = speed_ms}},
                  .stands = false};
  for (std::size_t i = 1; i < kms.size(); ++i) {
    const CoastingMoment before = run.moments.back();
    const double squared = before.speed_ms * before.speed_ms;
    double step_m = 1000 * (kms[i] - before.at_km);
    double squared_after = after_step(slope, before.at_km, squared, step_m);
    run.stands = squared_after <= 0;
    if (run.stands) {
      if (squared <= 0) {
        return run;
      }
      step_m *= squared / (squared - squared_after);
      squared_after = 0;
    }
    const double speed = std::sqrt(squared_after);
    run.moments.push_back({.at_km = run.stands ? before.at_km + step_m / 1000 : kms[i],
                           .time_s = before.time_s + 2 * step_m / (before.speed_ms + speed),
                           .speed_ms = speed});
    if (run.stands) {
      return run;
    }
  }
  return run;
}

std::optional<double> least_entry_ms(const CoastingTrain& train,
                                     std::span<const Gradient> gradients, double from_km,
                                     double to_km, double lowest_ms) {
  const std::vector<double> kms = steps_between(train, gradients, from_km, to_km);
  if (kms.empty()) {
    return std::nullopt;
  }
  const Slope slope{train, gradients};
  const double floor = lowest_ms * lowest_ms;
  double squared = floor;
  for (std::size_t i = kms.size() - 1; i > 0; --i) {
    squared = std::max(floor, after_step(slope, kms[i], squared, 1000 * (kms[i - 1] - kms[i])));
  }
  return std::sqrt(squared);
}

}  // namespace panup
