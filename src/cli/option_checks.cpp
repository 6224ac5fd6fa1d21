#include "cli/option_checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>

#include "base/energy_supply.h"
#include "base/utc_time.h"
#include "base/validity.h"

namespace panup {

namespace {

std::optional<double> number_in(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc{} && end == text.data() + text.size();
  return whole && std::isfinite(value) ? std::optional(value) : std::nullopt;
}

/// Two or four digits as a number; nothing where they are none.
std::optional<int> digits(std::string_view text) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool only = std::ranges::all_of(text, [](char one) { return one >= '0' && one <= '9'; });
  return only && error == std::errc() && end == text.data() + text.size() ? std::optional(value)
                                                                          : std::nullopt;
}

bool is_time(std::string_view text) {
  if (text.size() != 20 || !is_day(text.substr(0, 10)) || text[10] != 'T' || text[13] != ':' ||
      text[16] != ':' || text[19] != 'Z') {
    return false;
  }
  const auto hour = digits(text.substr(11, 2));
  const auto minute = digits(text.substr(14, 2));
  const auto second = digits(text.substr(17, 2));
  return hour && minute && second && *hour < 24 && *minute < 60 && *second < 60;
}

}  // namespace

CLI::Validator number_from(double least, double greatest) {
  return {[least, greatest](const std::string& text) {
            double value = 0;
            const bool right =
                CLI::detail::lexical_cast(text, value) && value >= least && value <= greatest;
            return right ? std::string()
                         : fmt::format("'{}' is not a number from {:g} to {:g}", text, least,
                                       greatest);
          },
          ""};
}

CLI::Validator whole_number() {
  return {[](const std::string& text) {
            std::uint64_t value = 0;
            const auto [end, error] =
                std::from_chars(text.data(), text.data() + text.size(), value);
            const bool right = error == std::errc{} && end == text.data() + text.size();
            return right ? std::string()
                         : fmt::format("'{}' is not a whole number from 0 to {}", text,
                                       std::numeric_limits<std::uint64_t>::max());
          },
          ""};
}

CLI::Validator not_empty() {
  return {[](const std::string& text) {
            return text.empty() ? std::string("is empty") : std::string();
          },
          ""};
}

CLI::Validator day_of_calendar() {
  return {[](const std::string& text) {
            return is_day(text) ? std::string()
                                : fmt::format("'{}' is not a day as YYYY-MM-DD", text);
          },
          ""};
}

std::vector<std::string> names_of_systems() {
  std::vector<std::string> names;
  for (const EnergySupply supply : all_energy_supplies) {
    names.emplace_back(name_of(supply));
  }
  return names;
}

std::vector<double> numbers_of(std::string_view text, double least, double greatest,
                               std::size_t most, std::string& wrong) {
  std::vector<double> parts;
  std::string_view rest = text;
  while (true) {
    const std::size_t colon = rest.find(':');
    const auto number = number_in(rest.substr(0, colon));
    if (!number) {
      wrong = fmt::format("'{}' is not a number; expected FROM:TO:STEP, as in {:g}:{:g}:{:g}",
                          rest.substr(0, colon), least, greatest, (greatest - least) / 10);
      return {};
    }
    parts.push_back(*number);
    if (colon == std::string_view::npos) {
      break;
    }
    rest.remove_prefix(colon + 1);
  }
  if (parts.size() != 1 && parts.size() != 3) {
    wrong = fmt::format("'{}' has {} numbers; expected FROM:TO:STEP, or one number", text,
                        parts.size());
    return {};
  }
  const double from = parts.front();
  const double to = parts.size() == 3 ? parts[1] : from;
  const double step = parts.size() == 3 ? parts[2] : 1;
  if (from < least || to > greatest) {
    wrong = fmt::format("{:g} to {:g} lies outside {:g} to {:g}", from, to, least, greatest);
    return {};
  }
  if (to < from || step <= 0) {
    wrong = fmt::format(
        "'{}' runs the wrong way: expected FROM no greater than TO, and STEP above 0", text);
    return {};
  }
  // A step that does not divide the range exactly in binary must not lose its end.
  const double steps = std::floor((to - from) / step + 1e-9);
  if (steps + 1 > static_cast<double>(most)) {
    wrong = fmt::format("'{}' are more than {} numbers", text, most);
    return {};
  }
  std::vector<double> numbers;
  for (int i = 0; i <= static_cast<int>(steps); ++i) {
    numbers.push_back(from + i * step);
  }
  return numbers;
}

std::string time_or_now(const std::string& given) { return given.empty() ? utc_now() : given; }

void add_time_of_import(CLI::App& command, std::string& at) {
  command
      .add_option("--at", at, "when it is imported, in UTC, as 2026-05-12T03:10:00Z; default now")
      ->type_name("TIME")
      ->check(wrong_with_time);
}

std::string wrong_with_time(const std::string& text) {
  return is_time(text) ? std::string()
                       : fmt::format("'{}' is no time in UTC, as 2026-05-12T03:10:00Z", text);
}

}  // namespace panup
