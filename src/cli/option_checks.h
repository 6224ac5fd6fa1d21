#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace panup {

/// A number from `least` to `greatest`, "nan" being none.
CLI::Validator number_from(double least, double greatest);

/// A whole number from 0 to the greatest that 64 bits hold: without it, "-1" would be taken for the
/// greatest.
CLI::Validator whole_number();

CLI::Validator not_empty();

/// A day as YYYY-MM-DD.
CLI::Validator day_of_calendar();

/// The names of the energy supply systems, as in files.
std::vector<std::string> names_of_systems();

/// The numbers of "FROM:TO:STEP", both ends included; of "NUMBER" that one. `wrong` receives what
/// is wrong with it: no number, outside `least` to `greatest`, none or more than `most` of them.
std::vector<double> numbers_of(std::string_view text, double least, double greatest,
                               std::size_t most, std::string& wrong);

/// Now, or the time that was given, in UTC as 2026-05-12T03:10:00Z.
std::string time_or_now(const std::string& given);

/// `--at`: when files from elsewhere are taken in.
void add_time_of_import(CLI::App& command, std::string& at);

/// What is wrong with a time as an option states it; empty where nothing is.
std::string wrong_with_time(const std::string& text);

}  // namespace panup
