#pragma once

#include <string>
#include <vector>

#include "drawing/csv_table.h"

namespace panup {

/// The columns of what is said of a permitted speed, named as in JSON; what it would be at other
/// messenger supports has columns of its own.
void add_permitted_columns(std::vector<CsvColumn>& columns);

/// Puts `by_supports` of a row, as in JSON, into its columns.
void flatten_supports(nlohmann::ordered_json& row);

/// A table of what is to be doubted of rows that a whole number names.
CsvTable doubts_table(std::string name, std::string key, std::string key_meaning);

/// Adds warnings, as in JSON, of a row that `before` names.
void add_doubts(const nlohmann::ordered_json& warnings, const nlohmann::ordered_json& before,
                CsvTable& table);

}  // namespace panup
