#include "figures/thinned_trace.h"

#include <algorithm>
#include <cmath>

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// The rows in which either force has its least and its greatest value, from one row up to another.
std::vector<std::size_t> telling_rows(const Trace::OfPantograph& trace, std::size_t from,
                                      std::size_t to) {
  std::vector<std::size_t> rows;
  for (const std::vector<double>* const force : {&trace.filtered_force_n, &trace.contact_force_n}) {
    const auto begin = force->begin();
    const auto [least, greatest] = std::minmax_element(begin + static_cast<std::ptrdiff_t>(from),
                                                       begin + static_cast<std::ptrdiff_t>(to));
    rows.push_back(static_cast<std::size_t>(least - begin));
    rows.push_back(static_cast<std::size_t>(greatest - begin));
  }
  std::ranges::sort(rows);
  const auto doubled = std::ranges::unique(rows);
  rows.erase(doubled.begin(), doubled.end());
  return rows;
}

void add(ThinnedTrace::OfPantograph& thinned, const Trace::OfPantograph& trace, std::size_t row) {
  thinned.at_m.push_back(trace.at_m[row]);
  thinned.filtered_force_n.push_back(trace.filtered_force_n[row]);
  thinned.contact_force_n.push_back(trace.contact_force_n[row]);
}

ThinnedTrace::OfPantograph thinned(const Trace::OfPantograph& trace, std::size_t most) {
  constexpr std::size_t rows_of_stretch = 4;
  const std::size_t size = trace.at_m.size();
  if (size <= most) {
    return {trace.at_m, trace.filtered_force_n, trace.contact_force_n};
  }
  ThinnedTrace::OfPantograph out;
  const std::size_t stretches = std::max<std::size_t>(1, most / rows_of_stretch);
  for (std::size_t i = 0; i < stretches; ++i) {
    for (const std::size_t row :
         telling_rows(trace, i * size / stretches, (i + 1) * size / stretches)) {
      add(out, trace, row);
    }
  }
  return out;
}

Json rounded(const std::vector<double>& values, double parts) {
  Json json = Json::array();
  for (const double value : values) {
    const double whole = std::round(value * parts);
    json.push_back(whole == 0 ? 0 : whole / parts);  // never −0
  }
  return json;
}

}  // namespace

ThinnedTrace thinned_trace(const Trace& trace, std::size_t most) {
  ThinnedTrace out;
  for (const Trace::OfPantograph& one : trace.pantographs) {
    out.pantographs.push_back(thinned(one, most));
  }
  return out;
}

Json thinned_trace_to_json(const ThinnedTrace& trace) {
  constexpr double hundredths = 100;
  constexpr double thousandths = 1000;
  Json pantographs = Json::array();
  for (const ThinnedTrace::OfPantograph& one : trace.pantographs) {
    pantographs.push_back({{"at_m", rounded(one.at_m, thousandths)},
                           {"filtered_force_n", rounded(one.filtered_force_n, hundredths)},
                           {"contact_force_n", rounded(one.contact_force_n, hundredths)}});
  }
  return Json{{"pantographs", std::move(pantographs)}};
}

}  // namespace panup
