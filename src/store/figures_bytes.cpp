#include "store/figures_bytes.h"

#include <nlohmann/json.hpp>

namespace panup {

namespace {

using Json = nlohmann::json;

constexpr std::size_t figures_of_pantograph = 6;
constexpr std::size_t figures_of_run = 6;

bool all_numbers(const Json& array) {
  return std::all_of(array.begin(), array.end(), [](const Json& one) { return one.is_number(); });
}

std::optional<PantographFigures> pantograph_from(const Json& array) {
  if (!array.is_array() || array.size() != figures_of_pantograph || !all_numbers(array)) {
    return std::nullopt;
  }
  return PantographFigures{.mean_n = array[0].get<double>(),
                           .std_n = array[1].get<double>(),
                           .max_n = array[2].get<double>(),
                           .min_n = array[3].get<double>(),
                           .contact_loss_percent = array[4].get<double>(),
                           .longest_contact_loss_ms = array[5].get<double>()};
}

}  // namespace

std::string to_bytes(const RunFigures& figures) {
  Json pantographs = Json::array();
  for (const auto& [mean, std, max, min, percent, longest] : figures.pantographs) {
    pantographs.push_back({mean, std, max, min, percent, longest});
  }
  const Json run{std::move(pantographs),     figures.wave_speed_kmh, figures.max_support_uplift_mm,
                 figures.max_span_uplift_mm, figures.energy_error,   figures.refusals};
  std::string bytes;
  Json::to_cbor(run, bytes);
  return bytes;
}

std::optional<RunFigures> figures_from(std::string_view bytes) {
  const Json run = Json::from_cbor(bytes, true, false);
  if (!run.is_array() || run.size() != figures_of_run || !run[0].is_array() || !run[5].is_array()) {
    return std::nullopt;
  }
  RunFigures figures;
  for (const Json& one : run[0]) {
    const auto pantograph = pantograph_from(one);
    if (!pantograph) {
      return std::nullopt;
    }
    figures.pantographs.push_back(*pantograph);
  }
  double* const numbers[] = {&figures.wave_speed_kmh, &figures.max_support_uplift_mm,
                             &figures.max_span_uplift_mm, &figures.energy_error};
  for (std::size_t i = 0; i < std::size(numbers); ++i) {
    if (!run[i + 1].is_number()) {
      return std::nullopt;
    }
    *numbers[i] = run[i + 1].get<double>();
  }
  for (const Json& refusal : run[5]) {
    if (!refusal.is_string()) {
      return std::nullopt;
    }
    figures.refusals.push_back(refusal.get<std::string>());
  }
  return figures;
}

}  // namespace panup
