#pragma once
/// Rows of answers of the infrastructure register; all names and figures are invented.

#include <algorithm>
#include <initializer_list>
#include <string>
#include <utility>

#include "register_rows/place_separations.h"

namespace panup {

using Cells = std::initializer_list<std::pair<std::string_view, std::string>>;

inline const std::string concepts = "http://data.europa.eu/949/concepts/";
inline const std::string ac15 = concepts + "energy-supply-systems/rinf/AC20";
inline const std::string ac25 = concepts + "energy-supply-systems/AC10";

template <typename Columns>
void set(RegisterRow& row, const Columns& columns, Cells cells) {
  row.cells.resize(columns.size());
  for (const auto& [column, text] : cells) {
    row.cells.at(static_cast<std::size_t>(std::ranges::find(columns, column) - columns.begin())) =
        text;
  }
}

/// Adds a row of a section of 5 km between two points of line 7; `changes` to what is said of it.
inline void add_section(RegisterRows& rows, const std::string& id, const std::string& from,
                        const std::string& to, Cells changes = {}) {
  RegisterRow row;
  set(row, section_columns,
      {{"sol", id},
       {"line", "7"},
       {"opStart", from},
       {"opEnd", to},
       {"lengthKm", "5"},
       {"track", "1"},
       {"oclType", concepts + "contact-line-systems/10"},
       {"supply", ac15},
       {"vmax", "120"},
       {"hasPhase", "false"},
       {"hasSystem", "false"}});
  set(row, section_columns, changes);
  row.number = static_cast<int>(rows.rows.size()) + 1;
  rows.rows.push_back(std::move(row));
}

inline void add_separation(RegisterRows& rows, const std::string& section, const std::string& km,
                           Cells changes = {}) {
  RegisterRow row;
  set(row, separation_columns,
      {{"sol", section},
       {"track", "1"},
       {"kind", "phase"},
       {"km", km},
       {"lengthM", "100"},
       {"lengthIs", "MAX"},
       {"breakerOff", "true"},
       {"lowered", "false"}});
  set(row, separation_columns, changes);
  row.number = static_cast<int>(rows.rows.size()) + 1;
  rows.rows.push_back(std::move(row));
}

/// Whether one of the notes has the text in it.
inline bool says(const Diagnostics& notes, std::string_view text) {
  return std::ranges::any_of(notes, [text](const Diagnostic& note) {
    return to_line(note).find(text) != std::string::npos;
  });
}

}  // namespace panup
