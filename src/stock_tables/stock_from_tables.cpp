#include "stock_tables/stock_from_tables.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <ranges>
#include <set>

#include "base/cell_values.h"
#include "base/listed.h"
#include "base/provenance_nodes.h"
#include "base/write_toml.h"
#include "files/read_parsed_stock.h"
#include "stock_tables/cell_nodes.h"

namespace panup {

namespace {

constexpr std::array<std::string_view, 4> pantograph_system_columns{
    "system", "static_force_n", "running_current_a", "standstill_current_a"};
constexpr std::array<std::string_view, 6> power_columns{
    "system", "power_kw", "auxiliary_kw", "power_factor", "efficiency", "greatest_current_a"};

template <typename Words>
bool is_among(std::string_view word, const Words& words) {
  return std::ranges::find(words, word) != std::end(words);
}

/// Ids of the tables as sources of values.
constexpr const char* pantographs_source = "pantographs";
constexpr const char* classes_source = "classes";
constexpr const char* roofs_source = "roofs";
constexpr const char* vehicles_source = "vehicles";
constexpr const char* wagons_source = "wagons";

TomlEntry named_source(std::string key, const char* source) {
  return {.key = std::move(key), .node = {.value = std::string(source)}};
}

/// The rows that say something of one thing.
struct RowsOfThing {
  std::string name;
  std::vector<const TableRow*> rows;
};

std::vector<RowsOfThing> by_thing(const StockTable& table, std::string_view heading) {
  std::vector<RowsOfThing> things;
  std::map<std::string, std::size_t, std::less<>> places;
  for (const TableRow& row : table.rows) {
    const std::string& name = table.cell(row, heading);
    if (name.empty()) {
      continue;
    }
    const auto [place, is_new] = places.emplace(name, things.size());
    if (is_new) {
      things.push_back({name, {}});
    }
    things[place->second].rows.push_back(&row);
  }
  return things;
}

const RowsOfThing* find_thing(const std::vector<RowsOfThing>& things, std::string_view name) {
  const auto found = std::ranges::find(things, name, &RowsOfThing::name);
  return found == things.end() ? nullptr : &*found;
}

std::vector<std::string> names_of(const std::vector<RowsOfThing>& things) {
  std::vector<std::string> names;
  for (const RowsOfThing& thing : things) {
    names.push_back(thing.name);
  }
  return names;
}

constexpr const char* own_file = "the stock of the tables";

/// A table of the stock file with what is said of it in comments.
struct MadeTable {
  std::string key;  ///< "pantograph" or "vehicle"
  TomlEntries entries = {};
  std::string from;    ///< where it comes from
  std::string source;  ///< id of the source of all keys but these
  TomlEntries source_of = {};
  std::vector<std::string> not_stated = {};
};

/// Puts the cells under the keys of a stock file, and has its reader look at it.
class StockMaker {
 public:
  StockMaker(const StockTables& tables, const FromTables& how, Diagnostics& mistakes)
      : tables_(tables), how_(how), mistakes_(mistakes), cells_(how.decimal_comma, mistakes) {}

  std::optional<StockFromTables> make() {
    const std::size_t before = mistakes_.size();
    made_.kept = how_.kept;
    for (const auto* const table :
         {&tables_.pantographs, &tables_.classes, &tables_.vehicles, &tables_.wagons}) {
      if (*table) {
        check_names(**table);
      }
    }
    if (tables_.pantographs) {
      make_pantographs(*tables_.pantographs);
    }
    if (tables_.classes) {
      classes_ = by_thing(*tables_.classes, "id");
    }
    if (tables_.vehicles) {
      numbers_ = by_thing(*tables_.vehicles, "number");
    }
    if (tables_.roofs) {
      take_roofs(*tables_.roofs);
    }
    for (const RowsOfThing& one : classes_) {
      make_class(one);
    }
    for (const RowsOfThing& one : numbers_) {
      make_vehicle(one);
    }
    if (tables_.wagons) {
      make_wagons(*tables_.wagons);
    }
    check_by_reader();
    if (mistakes_.size() != before) {
      return std::nullopt;
    }
    made_.text = text();
    read_stock(with_other_stock(made_.text), mistakes_);
    return mistakes_.size() == before ? std::optional(std::move(made_)) : std::nullopt;
  }

 private:
  void report(const StockTable& table, const TableRow& row, std::string_view heading,
              std::string_view text) {
    mistakes_.push_back(at_cell(table, row, heading, text));
  }

  /// Each row belongs to something, and control characters belong nowhere.
  void check_names(const StockTable& table) {
    const std::string_view first = table.kind.headings.front();
    for (const TableRow& row : table.rows) {
      if (table.columns.front() != 0 && !says(table, row, first)) {
        report(table, row, first,
               fmt::format("'{}' is empty, so nobody can say what this row is of", first));
      }
    }
  }

  // --- What several rows say of one thing ---

  /// The first row that states a column. Rows that state it otherwise are told.
  const TableRow* row_that_states(const StockTable& table, const RowsOfThing& thing,
                                  std::string_view heading) {
    const TableRow* first = nullptr;
    for (const TableRow* const row : thing.rows) {
      if (!says(table, *row, heading)) {
        continue;
      }
      if (first == nullptr) {
        first = row;
      } else if (table.cell(*row, heading) != table.cell(*first, heading)) {
        report(
            table, *row, heading,
            fmt::format("'{}' of '{}' is '{}' here and '{}' in row {}; further rows of it are for "
                        "further systems, and leave blank what the first has said",
                        heading, thing.name, table.cell(*row, heading), table.cell(*first, heading),
                        first->line));
      }
    }
    return first;
  }

  static void add_table_list(std::string key, TomlArray list, TomlEntries& entries) {
    if (!list.empty()) {
      const int line = list.front().line;
      entries.push_back({.key = std::move(key),
                         .line = line,
                         .column = 1,
                         .node = {.line = line, .column = 1, .value = std::move(list)}});
    }
  }

  template <typename Columns>
  static bool says_any(const StockTable& table, const TableRow& row, const Columns& columns) {
    return std::ranges::any_of(columns,
                               [&](std::string_view heading) { return says(table, row, heading); });
  }

  static std::string rows_words(const StockTable& table, const RowsOfThing& thing) {
    std::vector<std::string> lines;
    for (const TableRow* const row : thing.rows) {
      lines.push_back(fmt::format("{}", row->line));
    }
    return fmt::format("row{} {} of {}", lines.size() == 1 ? "" : "s", listed(lines), table.file);
  }

  // --- Pantograph types ---

  void make_pantographs(const StockTable& table) {
    for (const RowsOfThing& thing : by_thing(table, "id")) {
      MadeTable made{
          .key = "pantograph", .from = rows_words(table, thing), .source = pantographs_source};
      for (const std::string_view heading : pantograph_headings) {
        if (heading == "note" || is_among(heading, pantograph_system_columns)) {
          continue;
        }
        if (const TableRow* const row = row_that_states(table, thing, heading)) {
          cells_.add_value(table, *row, heading, made.entries);
        } else if (heading != "name") {
          made.not_stated.emplace_back(heading);
        }
      }
      TomlArray supplies;
      for (const TableRow* const row : thing.rows) {
        TomlEntries supply;
        for (const std::string_view heading : pantograph_system_columns) {
          if (says(table, *row, heading)) {
            cells_.add_value(table, *row, heading, supply);
          }
        }
        if (says_any(table, *row, pantograph_system_columns)) {
          supplies.push_back(cells_.placed({&table, row, {}}, std::move(supply)));
        }
      }
      add_table_list("supply", std::move(supplies), made.entries);
      take(std::move(made), {&table, thing.rows.front(), {}});
      ++made_.pantographs;
    }
  }

  // --- Roofs ---

  void take_roofs(const StockTable& table) {
    for (const TableRow& row : table.rows) {
      const std::string& of_class = table.cell(row, "class");
      const std::string& number = table.cell(row, "vehicle");
      if (of_class.empty() == number.empty()) {
        mistakes_.push_back(at_row(
            table, row,
            of_class.empty()
                ? "it names neither a 'class' nor a 'vehicle', so nobody can say whose roof this is"
                : "it names a 'class' and a 'vehicle'; a row is of the roof of either"));
        continue;
      }
      if (!of_class.empty() && find_thing(classes_, of_class) == nullptr) {
        report(table, row, "class", not_found_text("class", of_class, names_of(classes_)));
      } else if (!number.empty() && find_thing(numbers_, number) == nullptr) {
        report(table, row, "vehicle", not_found_text("vehicle", number, names_of(numbers_)));
      } else {
        (of_class.empty() ? roofs_of_vehicles_[number] : roofs_of_classes_[of_class])
            .push_back(&row);
      }
    }
  }

  TomlArray roof_of(const std::vector<const TableRow*>& rows) {
    TomlArray roof;
    for (const TableRow* const row : rows) {
      TomlEntries pantograph;
      for (const std::string_view heading :
           {"type", "from_cab1_m", "knuckle_towards", "nearer_cab"}) {
        if (says(*tables_.roofs, *row, heading)) {
          cells_.add_value(*tables_.roofs, *row, heading, pantograph);
        }
      }
      roof.push_back(cells_.placed({&*tables_.roofs, row, {}}, std::move(pantograph)));
    }
    return roof;
  }

  void add_roof(const std::vector<const TableRow*>& rows, MadeTable& made) {
    add_table_list("pantograph", roof_of(rows), made.entries);
    made.source_of.push_back(named_source("pantograph", roofs_source));
  }

  // --- Classes and single vehicles ---

  /// A row that speaks of a system: of the class, or of the vehicle itself.
  struct SystemRow {
    const StockTable* table;
    const TableRow* row;
  };

  static std::vector<SystemRow> system_rows(const StockTable& table, const RowsOfThing& thing) {
    std::vector<SystemRow> rows;
    for (const TableRow* const row : thing.rows) {
      if (says_any(table, *row, power_columns)) {
        rows.push_back({&table, row});
      }
    }
    return rows;
  }

  /// Power on systems, and the systems of which none is stated. Of rows on one system the cells of
  /// the last one that states them count.
  void add_systems(const std::vector<std::vector<SystemRow>>& by_system, TomlEntries& entries) {
    TomlArray power;
    TomlArray systems;
    for (const std::vector<SystemRow>& rows : by_system) {
      TomlEntries one;
      for (const std::string_view heading : power_columns) {
        for (const SystemRow& row : std::ranges::reverse_view(rows)) {
          if (says(*row.table, *row.row, heading)) {
            cells_.add_value(*row.table, *row.row, heading, one);
            break;
          }
        }
      }
      const SystemRow& last = rows.back();
      if (one.size() == 1 && one.front().key == "system") {
        systems.push_back(std::move(one.front().node));
      } else {
        power.push_back(cells_.placed({last.table, last.row, {}}, std::move(one)));
      }
    }
    add_table_list("power", std::move(power), entries);
    add_table_list("systems", std::move(systems), entries);
  }

  /// The column of a class as the vehicle or, where that is blank, its class states it.
  void add_class_value(std::string_view heading, const RowsOfThing& of_class,
                       const RowsOfThing* number, MadeTable& made) {
    const bool may_differ = number != nullptr && is_among(heading, vehicle_headings);
    const TableRow* const own =
        may_differ ? row_that_states(*tables_.vehicles, *number, heading) : nullptr;
    if (own != nullptr) {
      cells_.add_value(*tables_.vehicles, *own, heading, made.entries);
      made.source_of.push_back(named_source(std::string(heading), vehicles_source));
      return;
    }
    if (const TableRow* const row = row_that_states(*tables_.classes, of_class, heading)) {
      cells_.add_value(*tables_.classes, *row, heading, made.entries);
    } else if (heading != "name") {
      made.not_stated.emplace_back(heading);
    }
  }

  void add_class_values(const RowsOfThing& of_class, const RowsOfThing* number, MadeTable& made) {
    for (const std::string_view heading : class_headings) {
      const bool is_own = number != nullptr && (heading == "id" || heading == "name");
      if (!is_own && heading != "note" && !is_among(heading, power_columns)) {
        add_class_value(heading, of_class, number, made);
      }
    }
  }

  void make_class(const RowsOfThing& thing) {
    const StockTable& table = *tables_.classes;
    MadeTable made{.key = "vehicle", .from = rows_words(table, thing), .source = classes_source};
    add_class_values(thing, nullptr, made);
    std::vector<std::vector<SystemRow>> systems;
    for (const SystemRow& row : system_rows(table, thing)) {
      systems.push_back({row});
    }
    add_systems(systems, made.entries);
    if (const auto roof = roofs_of_classes_.find(thing.name); roof != roofs_of_classes_.end()) {
      add_roof(roof->second, made);
    }
    take(std::move(made), {&table, thing.rows.front(), {}});
    ++made_.classes;
  }

  /// Whether anything of the vehicle is another way than its class has it.
  bool differs(const RowsOfThing& number) const {
    const StockTable& table = *tables_.vehicles;
    return roofs_of_vehicles_.contains(number.name) ||
           std::ranges::any_of(number.rows, [&](const TableRow* row) {
             return std::ranges::any_of(vehicle_headings, [&](std::string_view heading) {
               const bool names_it = heading == "number" || heading == "class" || heading == "id" ||
                                     heading == "name" || heading == "note";
               return !names_it && says(table, *row, heading);
             });
           });
  }

  void make_vehicle(const RowsOfThing& number) {
    const StockTable& table = *tables_.vehicles;
    const TableRow* const naming = row_that_states(table, number, "class");
    if (naming == nullptr) {
      report(table, *number.rows.front(), "class",
             fmt::format("'class' of vehicle '{}' is empty", number.name));
      return;
    }
    const std::string& class_name = table.cell(*naming, "class");
    const RowsOfThing* const of_class = find_thing(classes_, class_name);
    if (of_class == nullptr) {
      report(table, *naming, "class", not_found_text("class", class_name, names_of(classes_)));
      return;
    }
    if (!differs(number)) {
      for (const std::string_view heading : {"id", "name"}) {
        if (const TableRow* const row = row_that_states(table, number, heading)) {
          report(
              table, *row, heading,
              fmt::format("vehicle '{}' is as its class in everything, so it gets no type of its "
                          "own that could have '{}'; leave the cell blank",
                          number.name, heading));
        }
      }
      made_.vehicles.push_back({number.name, class_name, class_name});
      return;
    }
    MadeTable made{.key = "vehicle", .from = rows_words(table, number), .source = classes_source};
    made.from += " and " + rows_words(*tables_.classes, *of_class);
    made_.vehicles.push_back({number.name, class_name, own_type(number, *of_class, made)});
    add_class_values(*of_class, &number, made);
    add_own_systems(number, *of_class, made);
    const auto own = roofs_of_vehicles_.find(number.name);
    const auto roof = roofs_of_classes_.find(class_name);
    if (own != roofs_of_vehicles_.end()) {
      add_roof(own->second, made);
    } else if (roof != roofs_of_classes_.end()) {
      add_roof(roof->second, made);
    }
    take(std::move(made),
         {tables_.classes ? &*tables_.classes : nullptr, of_class->rows.front(), {}});
  }

  /// Its id: as the table says, or made of its number.
  std::string own_type(const RowsOfThing& number, const RowsOfThing& of_class, MadeTable& made) {
    const StockTable& table = *tables_.vehicles;
    const TableRow* const row = row_that_states(table, number, "id");
    made.source_of = {named_source("id", vehicles_source), named_source("name", vehicles_source)};
    std::string id = row != nullptr ? table.cell(*row, "id") : id_from(number.name, "vehicle");
    const TableRow* const named = row_that_states(table, number, "name");
    const CellPlace place{&table, row != nullptr ? row : number.rows.front(),
                          row != nullptr ? "id" : "number"};
    made.entries.push_back({.key = "id", .node = cells_.placed(place, id)});
    if (named != nullptr) {
      cells_.add_value(table, *named, "name", made.entries);
    } else {
      const TableRow* const class_name = row_that_states(*tables_.classes, of_class, "name");
      made.entries.push_back(
          {.key = "name",
           .node = cells_.placed(
               {&table, number.rows.front(), "number"},
               fmt::format("{}, {}",
                           class_name != nullptr ? tables_.classes->cell(*class_name, "name")
                                                 : of_class.name,
                           number.name))});
    }
    return id;
  }

  void add_own_systems(const RowsOfThing& number, const RowsOfThing& of_class, MadeTable& made) {
    std::vector<std::vector<SystemRow>> systems;
    for (const SystemRow& row : system_rows(*tables_.classes, of_class)) {
      systems.push_back({row});
    }
    for (const SystemRow& row : system_rows(*tables_.vehicles, number)) {
      const std::string& system = row.table->cell(*row.row, "system");
      const auto known = std::ranges::find_if(systems, [&](const std::vector<SystemRow>& rows) {
        return rows.front().table->cell(*rows.front().row, "system") == system;
      });
      if (known == systems.end()) {
        systems.push_back({row});
      } else if (known->back().table == row.table) {
        report(*row.table, *row.row, "system",
               fmt::format("'{}' is given twice for vehicle '{}'", system, number.name));
      } else {
        known->push_back(row);
      }
    }
    add_systems(systems, made.entries);
    // What the rows of the vehicle say of any system is a value of the vehicle.
    if (!system_rows(*tables_.vehicles, number).empty()) {
      for (const TomlEntry& entry : made.entries) {
        if (entry.key == "power" || entry.key == "systems") {
          made.source_of.push_back(named_source(entry.key, vehicles_source));
        }
      }
    }
  }

  // --- Wagons ---

  void make_wagons(const StockTable& table) {
    for (const TableRow& row : table.rows) {
      if (!says(table, row, "id")) {
        continue;
      }
      MadeTable made{.key = "vehicle",
                     .from = fmt::format("row {} of {}", row.line, table.file),
                     .source = wagons_source};
      for (const std::string_view heading : wagon_headings) {
        if (heading == "note") {
          continue;
        }
        if (says(table, row, heading)) {
          cells_.add_value(table, row, heading, made.entries);
        } else if (heading != "name") {
          made.not_stated.emplace_back(heading);
        }
      }
      made.entries.push_back(
          {.key = "type", .node = cells_.placed({&table, &row, {}}, std::string("wagon group"))});
      take(std::move(made), {&table, &row, {}});
      ++made_.wagons;
    }
  }

  // --- All together ---

  /// Keeps a table, unless its id is taken: the reader would say so by places that only it knows.
  void take(MadeTable made, CellPlace place) {
    const auto id = std::ranges::find(made.entries, "id", &TomlEntry::key);
    if (id != made.entries.end()) {
      const CellPlace& cell = cells_.place_of(id->node);
      const auto [first, is_new] =
          ids_.emplace(made.key + " " + std::get<std::string>(id->node.value), cell);
      if (!is_new) {
        const CellPlace& other = first->second;
        report(
            *cell.table, *cell.row, cell.heading,
            fmt::format("id '{}' is used already, in row {} of {}",
                        std::get<std::string>(id->node.value), other.row->line, other.table->file));
        return;
      }
    }
    table_places_.push_back(place);
    tables_made_.push_back(std::move(made));
  }

  /// The file of a table as a source, and its id there.
  ValueSource source_of_table(const StockTable& table, std::string id) const {
    return dated({.id = std::move(id),
                  .kind = SourceKind::table,
                  .name = one_line_of(table.file),
                  .sha256 = table.sha256},
                 how_.dated, how_.made_at);
  }

  TomlNode root() {
    TomlNode root{.value = TomlEntries{{.key = "kind", .node = {.value = std::string("stock")}}}};
    auto& entries = std::get<TomlEntries>(root.value);
    if (how_.invented) {
      entries.push_back({.key = "invented", .node = {.value = true}});
    }
    if (!how_.dynamic_model_folder.empty()) {
      entries.push_back(
          {.key = "dynamic_model_folder", .node = {.value = how_.dynamic_model_folder}});
    }
    TomlArray sources;
    for (const auto& [id, table] : {std::pair{pantographs_source, &tables_.pantographs},
                                    {classes_source, &tables_.classes},
                                    {roofs_source, &tables_.roofs},
                                    {vehicles_source, &tables_.vehicles},
                                    {wagons_source, &tables_.wagons}}) {
      if (*table) {
        sources.push_back(node_of(source_of_table(**table, id)));
      }
    }
    for (const ValueSource& source : sources_of(
             made_.kept,
             {pantographs_source, classes_source, roofs_source, vehicles_source, wagons_source})) {
      sources.push_back(node_of(source));
    }
    entries.push_back({.key = "value_source", .node = {.value = std::move(sources)}});
    return root;
  }

  std::vector<SourceText> with_other_stock(const std::string& text) const {
    std::vector<SourceText> sources = how_.stock;
    sources.push_back({.file = own_file, .text = text});
    return sources;
  }

  /// Has all of it read as a stock file, and says what is wrong with it of the cells.
  void check_by_reader() {
    TomlNode all = root();
    auto& entries = std::get<TomlEntries>(all.value);
    for (const char* const key : {"pantograph", "vehicle"}) {
      TomlArray list;
      for (std::size_t i = 0; i < tables_made_.size(); ++i) {
        if (tables_made_[i].key == key) {
          list.push_back(cells_.placed(table_places_[i], tables_made_[i].entries));
        }
      }
      add_table_list(key, std::move(list), entries);
    }
    Diagnostics found;
    std::vector<ParsedStock> parsed;
    for (const SourceText& source : how_.stock) {
      parsed.push_back({.file = source.file, .root = parse_toml(source, found)});
    }
    parsed.push_back({.file = own_file, .root = std::move(all)});
    read_parsed_stock(parsed, found);
    for (Diagnostic& one : found) {
      if (one.place.file == own_file && cells_.has_placed(one.place.line)) {
        cells_.take_found(one);
      } else {
        mistakes_.push_back(std::move(one));
      }
    }
  }

  std::string text() {
    std::string text = "# Made by panup from-tables.\n";
    text += fmt::format("# Made at {} from\n", one_line_of(how_.made_at));
    for (const auto* const table : {&tables_.pantographs, &tables_.classes, &tables_.roofs,
                                    &tables_.vehicles, &tables_.wagons}) {
      if (*table) {
        text += fmt::format("#   {}, {} rows\n#   SHA-256 {}\n", one_line_of((*table)->file),
                            (*table)->rows.size(), (*table)->sha256);
      }
    }
    text += "# What is blank there is not stated here: it is not known.\n\n" + to_toml(root());
    for (const MadeTable& made : tables_made_) {
      text += fmt::format("\n# From {}.\n", one_line_of(made.from));
      if (!made.not_stated.empty()) {
        text += fmt::format("# Not stated: {}\n", listed(made.not_stated));
      }
      TomlEntries entries = made.entries;
      entries.push_back({.key = "source", .node = {.value = made.source}});
      if (!made.source_of.empty()) {
        entries.push_back({.key = "source_of", .node = {.value = made.source_of}});
      }
      const auto id = std::ranges::find(entries, "id", &TomlEntry::key);
      if (id != entries.end()) {
        for (const KeptValue* const kept :
             take_over(made_.kept, made.key, std::get<std::string>(id->node.value), entries)) {
          text += fmt::format("# LOOK: {}\n", one_line_of(kept_words(*kept, "the table")));
        }
      }
      const std::string table = to_toml(
          {.value = TomlEntries{
               {.key = made.key, .node = {.value = TomlArray{{.value = std::move(entries)}}}}}});
      text += table.substr(table.find('['));
    }
    return text;
  }

  const StockTables& tables_;
  const FromTables& how_;
  Diagnostics& mistakes_;
  CellNodes cells_;
  StockFromTables made_;
  std::vector<RowsOfThing> classes_;
  std::vector<RowsOfThing> numbers_;
  std::map<std::string, std::vector<const TableRow*>, std::less<>> roofs_of_classes_;
  std::map<std::string, std::vector<const TableRow*>, std::less<>> roofs_of_vehicles_;
  std::map<std::string, CellPlace, std::less<>> ids_;
  std::vector<MadeTable> tables_made_;
  std::vector<CellPlace> table_places_;  ///< one for each of `tables_made_`
};

}  // namespace

std::vector<KeptValue> kept_of_stock(const SourceText& there) {
  static constexpr std::array own{SourceKind::table};
  static constexpr std::array<std::string_view, 2> lists{"pantograph", "vehicle"};
  return kept_values(there, FileKind::stock, own, lists,
                     [](std::string_view, const TomlEntries& table) {
                       const auto id = std::ranges::find(table, "id", &TomlEntry::key);
                       const auto* const text =
                           id == table.end() ? nullptr : std::get_if<std::string>(&id->node.value);
                       return text == nullptr ? std::string() : *text;
                     });
}

std::optional<StockFromTables> stock_from_tables(const StockTables& tables, const FromTables& how,
                                                 Diagnostics& mistakes) {
  return StockMaker(tables, how, mistakes).make();
}

}  // namespace panup
