#include "stock_tables/types_from_register.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <span>

#include "base/cell_values.h"
#include "base/energy_supply.h"
#include "base/listed.h"
#include "register_rows/concepts.h"
#include "register_rows/values.h"
#include "stock/head_type.h"
#include "stock_tables/tables_to_fill_in.h"

namespace panup {

namespace {

/// What a register says in another meaning, with its parameter.
struct NotedColumn {
  VehicleTypeColumn column;
  std::string_view words;
};
constexpr std::array<NotedColumn, 7> noted_columns{
    {{VehicleTypeColumn::standstill_current, "4.10.4 standstill A per pantograph"},
     {VehicleTypeColumn::power, "4.10.2 greatest kW"},
     {VehicleTypeColumn::rated_current, "4.10.3 rated A"},
     {VehicleTypeColumn::in_contact, "4.10.7 in contact"},
     {VehicleTypeColumn::shortest_distance, "4.10.8 shortest distance m"},
     {VehicleTypeColumn::line_type, "4.10.9 contact line type"},
     {VehicleTypeColumn::force, "4.10.15 contact force"}}};

using Filled = std::map<std::string_view, std::string>;

void add_row(const Filled& filled, CsvTable& table) {
  auto row = nlohmann::ordered_json::object();
  for (const auto& [heading, text] : filled) {
    if (!text.empty()) {
      row[std::string(heading)] = text;
    }
  }
  table.rows.push_back(std::move(row));
}

class TypeReader {
 public:
  TypeReader(const RegisterRows& rows, const std::vector<const RegisterRow*>& of_type,
             std::string id, Diagnostics& notes, TablesOfTypes& tables)
      : file_(rows.file), rows_(of_type), id_(std::move(id)), notes_(notes), tables_(tables) {}

  void read() {
    read_systems();
    Filled pantograph;
    pantograph["id"] = id_ + "-pantograph";
    read_heights(pantograph);
    read_head(pantograph);
    read_strip(pantograph);
    read_flag(VehicleTypeColumn::dropping_device, "automatic_dropping_device", pantograph);
    Filled of_class;
    of_class["id"] = id_;
    of_class["name"] = one_value(VehicleTypeColumn::name);
    read_flag(VehicleTypeColumn::limitation, "current_limitation", of_class);
    of_class["note"] = noted();
    add_rows(pantograph, tables_.pantographs);
    add_rows(of_class, tables_.classes);
    add_row({{"type", pantograph["id"]}, {"class", id_}}, tables_.roofs);
    tell_what_is_missing(pantograph, of_class);
    ++tables_.types;
  }

 private:
  static const std::string& cell(const RegisterRow& row, VehicleTypeColumn column) {
    return row.cells[static_cast<std::size_t>(column)];
  }
  static std::string_view heading_of(VehicleTypeColumn column) {
    return vehicle_type_columns.at(static_cast<std::size_t>(column));
  }

  void note(std::string_view text) {
    notes_.push_back(at_row(file_, *rows_.front(), fmt::format("type {}: {}", id_, text)));
  }

  std::vector<std::string> values(VehicleTypeColumn column) const {
    std::vector<std::string> values;
    for (const RegisterRow* const row : rows_) {
      const std::string& text = cell(*row, column);
      if (!text.empty() && std::ranges::find(values, text) == values.end()) {
        values.push_back(text);
      }
    }
    return values;
  }

  /// The value where there is one; of several none, and that is noted.
  std::string one_value(VehicleTypeColumn column) {
    const std::vector<std::string> all = values(column);
    if (all.size() > 1) {
      note(fmt::format("column '{}' has {} values where one is due, so it was left blank",
                       heading_of(column), all.size()));
    }
    return all.size() == 1 ? one_line_of(all.front()) : std::string();
  }

  void unknown_concept(std::string_view text, VehicleTypeColumn column) {
    note(
        fmt::format("'{}' in column '{}' is no concept that is known here, or none that panup has "
                    "a word for, and was passed over",
                    one_line_of(text), heading_of(column)));
  }

  void read_systems() {
    for (const std::string& text : values(VehicleTypeColumn::supply)) {
      const Concept<EnergySupply> supply = supply_meant(text);
      if (supply.meaning) {
        systems_.emplace_back(name_of(*supply.meaning));
      } else {
        unknown_concept(text, VehicleTypeColumn::supply);
      }
    }
  }

  void read_heights(Filled& pantograph) {
    for (const auto& [column, heading] :
         {std::pair{VehicleTypeColumn::height_min, "working_height_min_m"},
          std::pair{VehicleTypeColumn::height_max, "working_height_max_m"}}) {
      const std::string text = one_value(column);
      if (number_in_cell(text)) {
        pantograph[heading] = text;
      } else if (!text.empty()) {
        note(fmt::format("'{}' in column '{}' is no number, so '{}' was left blank", text,
                         heading_of(column), heading));
      }
    }
  }

  void read_head(Filled& pantograph) {
    const std::string text = one_value(VehicleTypeColumn::head);
    if (text.empty()) {
      return;
    }
    const auto tsi = tsi_head_meant(text).meaning;
    const auto head = tsi ? tsi : other_head_meant(text).meaning;
    if (!head) {
      unknown_concept(text, VehicleTypeColumn::head);
      return;
    }
    pantograph["head_type"] = name_of(*head);
    const HeadWidths widths = widths_of(*head);
    if (widths.least_mm == widths.greatest_mm) {
      pantograph["head_width_mm"] = fmt::format("{:g}", widths.least_mm);
    }
  }

  void read_strip(Filled& pantograph) {
    const std::string text = one_value(VehicleTypeColumn::strip);
    const auto strip = strip_meant(text).meaning;
    if (strip) {
      pantograph["strip_material"] = name_of(*strip);
    } else if (!text.empty()) {
      unknown_concept(text, VehicleTypeColumn::strip);
    }
  }

  void read_flag(VehicleTypeColumn column, std::string_view heading, Filled& filled) {
    const std::string text = one_value(column);
    const auto flag = flag_in_cell(text);
    if (flag) {
      filled[heading] = *flag ? "yes" : "no";
    } else if (!text.empty()) {
      note(fmt::format("'{}' in column '{}' is neither true nor false, so '{}' was left blank",
                       text, heading_of(column), heading));
    }
  }

  std::string noted() const {
    std::vector<std::string> words;
    for (const auto& [column, said] : noted_columns) {
      std::vector<std::string> texts = values(column);
      std::ranges::transform(texts, texts.begin(), [](const std::string& text) {
        return one_line_of(last_segment(text));
      });
      if (!texts.empty()) {
        words.push_back(fmt::format("{}: {}", said, listed(texts)));
      }
    }
    return fmt::format("{}", fmt::join(words, "; "));
  }

  /// A row for each system; what else is said stands in the first.
  void add_rows(Filled filled, CsvTable& table) const {
    for (std::size_t i = 0; i < std::max<std::size_t>(systems_.size(), 1); ++i) {
      if (i > 0) {
        filled = {{"id", filled["id"]}};
      }
      if (i < systems_.size()) {
        filled["system"] = systems_[i];
      }
      add_row(filled, table);
    }
  }

  static void add_missing(std::span<const std::string_view> needed, const Filled& filled,
                          std::vector<std::string>& missing) {
    for (const std::string_view heading : needed) {
      const auto found = filled.find(heading);
      if (found == filled.end() || found->second.empty()) {
        missing.emplace_back(heading);
      }
    }
  }

  /// What a stock file needs; what it may do without is in the tables, blank.
  void tell_what_is_missing(Filled pantograph, const Filled& of_class) {
    static constexpr std::array<std::string_view, 14> of_pantograph{"head_width_mm",
                                                                    "contact_strips",
                                                                    "strip_material",
                                                                    "frame",
                                                                    "highest_speed_kmh",
                                                                    "automatic_dropping_device",
                                                                    "working_height_min_m",
                                                                    "working_height_max_m",
                                                                    "raising_time_s",
                                                                    "lowering_time_s",
                                                                    "system",
                                                                    "static_force_n",
                                                                    "running_current_a",
                                                                    "standstill_current_a"};
    static constexpr std::array<std::string_view, 4> of_vehicle{"type", "length_m",
                                                                "highest_speed_kmh", "roof_line"};
    if (!systems_.empty()) {
      pantograph["system"] = systems_.front();
    }
    std::vector<std::string> pantograph_lacks;
    std::vector<std::string> class_lacks;
    add_missing(of_pantograph, pantograph, pantograph_lacks);
    add_missing(of_vehicle, of_class, class_lacks);
    tables_.to_be_told.push_back(fmt::format(
        "{}: of the class {}; of its pantographs {}; of its roof how many there are, and of each "
        "from_cab1_m and knuckle_towards",
        id_, listed(class_lacks), listed(pantograph_lacks)));
  }

  const std::string& file_;
  const std::vector<const RegisterRow*>& rows_;
  std::string id_;
  Diagnostics& notes_;
  TablesOfTypes& tables_;
  std::vector<std::string> systems_;
};

}  // namespace

TablesOfTypes tables_of_types(const RegisterRows& rows, Diagnostics& notes) {
  std::vector<std::pair<std::string, std::vector<const RegisterRow*>>> types;
  std::map<std::string, std::size_t, std::less<>> places;
  for (const RegisterRow& row : rows.rows) {
    const std::string& iri = row.cells[static_cast<std::size_t>(VehicleTypeColumn::type)];
    if (iri.empty()) {
      notes.push_back(at_row(rows.file, row, "'type' is empty; the row was left out"));
      continue;
    }
    const auto [place, is_new] = places.emplace(iri, types.size());
    if (is_new) {
      types.emplace_back(iri, std::vector<const RegisterRow*>());
    }
    types[place->second].second.push_back(&row);
  }
  TablesOfTypes tables{.pantographs = pantographs_to_fill_in(),
                       .classes = classes_to_fill_in(),
                       .roofs = roofs_to_fill_in(),
                       .to_be_told = {}};
  std::set<std::string> taken;
  for (const auto& [iri, of_type] : types) {
    TypeReader(rows, of_type, free_id_from(last_segment(iri), "type", taken), notes, tables).read();
  }
  return tables;
}

}  // namespace panup
