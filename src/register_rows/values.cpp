#include "register_rows/values.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/cell_values.h"

namespace panup {

namespace {

constexpr std::string_view digits = "0123456789";

/// The numbers that stand between characters that belong to none.
std::vector<double> numbers_in(std::string_view text) {
  std::vector<double> numbers;
  for (std::size_t at = 0; (at = text.find_first_of(digits, at)) != std::string_view::npos;) {
    const std::size_t end = std::min(text.find_first_not_of("0123456789.", at), text.size());
    if (const auto number = number_in_cell(text.substr(at, end - at))) {
      numbers.push_back(*number);
    }
    at = end;
  }
  return numbers;
}

}  // namespace

double rounded_km(double km) { return std::round(km * 1e6) / 1e6 + 0.0; }

std::optional<bool> flag_in_cell(std::string_view text) {
  if (text == "true" || text == "1") {
    return true;
  }
  return text == "false" || text == "0" ? std::optional(false) : std::nullopt;
}

std::optional<std::vector<GradientPoint>> gradient_profile(std::string_view text) {
  std::vector<GradientPoint> points;
  constexpr std::string_view between = " \t\r\n;,";
  while (true) {
    const std::size_t begin = text.find_first_not_of(between);
    if (begin == std::string_view::npos) {
      break;
    }
    text.remove_prefix(begin);
    const std::size_t open = text.find('(');
    const std::size_t close = text.find(')');
    if (open == std::string_view::npos || close == std::string_view::npos || close < open) {
      return std::nullopt;
    }
    const auto permille = number_in_cell(text.substr(0, open));
    const auto at_km = number_in_cell(text.substr(open + 1, close - open - 1));
    const bool rising = points.empty() || (at_km && *at_km > points.back().at_km);
    if (!permille || !at_km || !rising || std::abs(*permille) > 120) {
      return std::nullopt;
    }
    points.push_back({.at_km = *at_km, .permille = *permille});
    text.remove_prefix(close + 1);
  }
  return points.empty() ? std::nullopt : std::optional(std::move(points));
}

std::optional<RaisedRecord> old_record(std::string_view text) {
  std::vector<double> numbers;
  const bool in_brackets = text.find('[') != std::string_view::npos;
  const std::string_view before = in_brackets ? "[" : "";
  const std::string_view after = in_brackets ? "]" : "";
  while (true) {
    text.remove_prefix(std::min(text.find_first_not_of(' '), text.size()));
    if (text.empty()) {
      break;
    }
    if (!text.starts_with(before)) {
      return std::nullopt;
    }
    text.remove_prefix(before.size());
    const std::size_t end = std::min(text.find_first_not_of(digits), text.size());
    const auto number = number_in_cell(text.substr(0, end));
    text.remove_prefix(end);
    if (!number || !text.starts_with(after)) {
      return std::nullopt;
    }
    numbers.push_back(*number);
    text.remove_prefix(after.size());
  }
  if (numbers.size() != 3 || numbers[0] > 1000) {
    return std::nullopt;
  }
  return RaisedRecord{
      .number = static_cast<int>(numbers[0]), .distance_m = numbers[1], .speed_kmh = numbers[2]};
}

namespace {

/// Without blanks, multiplication signs and the unit at its end, "²" and "^2" as "2": what is left
/// of a formula however it is written.
std::string bare_formula(std::string_view text) {
  std::string bare(text);
  const auto replace = [&bare](std::string_view from, std::string_view to) {
    for (std::size_t at = 0; (at = bare.find(from, at)) != std::string::npos; at += to.size()) {
      bare.replace(at, from.size(), to);
    }
  };
  for (const std::string_view passed_over : {" ", "*", "·", "×"}) {
    replace(passed_over, "");
  }
  replace("²", "2");
  replace("^2", "2");
  if (bare.ends_with('N')) {
    bare.pop_back();
  }
  for (const std::string_view begins : {"Fm=", "F="}) {
    if (bare.starts_with(begins)) {
      bare.erase(0, begins.size());
    }
  }
  return bare;
}

std::optional<ContactForceLimit> force_formula(std::string_view text) {
  const std::string bare = bare_formula(text);
  const std::size_t square = bare.find("v2+");
  if (square == std::string::npos) {
    return std::nullopt;
  }
  const auto factor = number_in_cell(std::string_view(bare).substr(0, square));
  const auto constant = number_in_cell(std::string_view(bare).substr(square + 3));
  const bool right =
      factor && constant && *factor > 0 && *factor <= 0.01 && *constant >= 20 && *constant <= 1000;
  return right ? std::optional(ContactForceLimit{*factor, *constant}) : std::nullopt;
}

}  // namespace

std::optional<PermittedForce> permitted_force(std::string_view text) {
  if (const auto formula = force_formula(text)) {
    return PermittedForce{.static_n = {}, .greatest = *formula};
  }
  if (text.find_first_not_of("0123456789. /;,N") != std::string_view::npos) {
    return std::nullopt;
  }
  const std::vector<double> numbers = numbers_in(text);
  const bool two = numbers.size() == 2 && numbers[0] <= numbers[1] && numbers[1] <= 1000;
  return two && numbers[0] >= 20 && numbers[0] <= 300
             ? std::optional(PermittedForce{numbers[0], {0, numbers[1]}})
             : std::nullopt;
}

std::vector<RaisedRecord> permitted_by_both(const std::vector<RaisedRecord>& some,
                                            const std::vector<RaisedRecord>& others) {
  std::vector<RaisedRecord> both;
  for (const RaisedRecord& one : some) {
    for (const RaisedRecord& other : others) {
      // Of one pantograph alone only records of one speak.
      if ((one.number == 1) != (other.number == 1)) {
        continue;
      }
      const RaisedRecord record{.number = std::min(one.number, other.number),
                                .distance_m = std::max(one.distance_m, other.distance_m),
                                .speed_kmh = std::min(one.speed_kmh, other.speed_kmh)};
      if (std::ranges::find(both, record) == both.end()) {
        both.push_back(record);
      }
    }
  }
  return both;
}

}  // namespace panup
