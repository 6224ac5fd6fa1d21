#include "fitted_draw.h"

#include <cmath>
#include <fstream>
#include <random>
#include <string>

#include "fitted_line.h"

namespace panup {

namespace {

constexpr double apart_m = fitted_speed_kmh / 3.6 / 40;
constexpr double span_m = 50;
constexpr double drop_outs = 0.1;
constexpr double drop_out_m = 15;

}  // namespace

FitCase fitted_draw(unsigned number, double noise_n) {
  FitCase fit;
  fit.line = fitted_line();
  fit.pantographs = {fitted_pantograph()};
  set_values(fit.line, fit.pantographs, false);
  for (const TrueValue& value : true_values) {
    fit.quantities.push_back(value.quantity);
  }
  std::mt19937 chance(number);
  std::normal_distribution<double> gauss(0, 1);
  std::uniform_real_distribution<double> even(0, 1);
  FitSeries series;
  std::ifstream file(MEASURED_BY_YARDSTICK);
  std::string text;
  std::getline(file, text);
  double noise = noise_n * gauss(chance);
  double lost_to_m = 0;
  while (std::getline(file, text)) {
    const double at_m = std::stod(text);
    if (!series.rows.empty() && at_m < series.rows.back().at_m + apart_m) {
      continue;
    }
    constexpr double hangs = 0.4;
    noise = hangs * noise + std::sqrt(1 - hangs * hangs) * noise_n * gauss(chance);
    if (even(chance) < drop_outs * apart_m / drop_out_m) {
      lost_to_m = at_m + drop_out_m;
    }
    if (at_m < lost_to_m) {
      continue;
    }
    const int block = static_cast<int>(at_m / span_m) / spans_of_block;
    series.rows.push_back({.at_m = at_m,
                           .force_n = std::stod(text.substr(text.find(',') + 1)) + noise,
                           .block = block,
                           .left_out = block % left_out_every == left_out_every - 1});
  }
  fit.runs = {{.falling = false, .speed_kmh = fitted_speed_kmh, .series = {std::move(series)}}};
  return fit;
}

int recovered(const FitOutcome& outcome) {
  int within = 0;
  for (std::size_t i = 0; i < outcome.values.size(); ++i) {
    const FittedValue& value = outcome.values[i];
    if (!value.told) {
      return -1;
    }
    within += value.least <= true_values[i].is && true_values[i].is <= value.greatest ? 1 : 0;
  }
  return within;
}

}  // namespace panup
