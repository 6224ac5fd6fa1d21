#include "drawing/csv_table.h"

#include "drawing/csv_row.h"
#include "drawing/json_text.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

constexpr const char* between_items = " ";

std::string value_text(const Json& value) {
  if (value.is_string()) {
    return value.get<std::string>();
  }
  if (value.is_boolean()) {
    return value.get<bool>() ? "yes" : "no";
  }
  return value.dump();
}

std::string cell_text(const Json& row, const CsvColumn& column) {
  const auto field = row.find(column.name);
  if (field == row.end() || field->is_null()) {
    return {};
  }
  if (!field->is_array()) {
    return value_text(*field);
  }
  std::string text;
  for (const Json& item : *field) {
    text += (text.empty() ? "" : between_items) + value_text(item);
  }
  return text;
}

Json datatype(CellKind kind) {
  switch (kind) {
    case CellKind::text:
      return "string";
    case CellKind::number:
      return "double";
    case CellKind::whole:
      return "integer";
    case CellKind::flag:
      return {{"base", "boolean"}, {"format", "yes|no"}};
  }
  return nullptr;
}

Json column_to_json(const CsvColumn& column) {
  Json json;
  json["name"] = column.name;
  json["titles"] = column.name;
  json["dc:description"] = column.meaning;
  json["datatype"] = datatype(column.kind);
  if (!column.unit.empty()) {
    json["schema:unitText"] = column.unit;
  }
  if (column.is_list) {
    json["separator"] = between_items;
  }
  if (column.empty == EmptyCell::never) {
    json["required"] = true;
  } else if (column.empty == EmptyCell::empty && !column.is_list) {
    json["null"] = Json::array();  // else an empty cell would be null
  }
  return json;
}

}  // namespace

std::string csv_text(const CsvTable& table) {
  std::vector<std::string> cells;
  for (const CsvColumn& column : table.columns) {
    cells.push_back(column.name);
  }
  std::string text = csv_row(cells);
  for (const Json& row : table.rows) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
      cells[i] = cell_text(row, table.columns[i]);
    }
    text += csv_row(cells);
  }
  return text;
}

std::string csv_metadata(const CsvTable& table, const std::string& file,
                         const CsvRemarks& remarks) {
  Json json;
  json["@context"] = Json::array({"http://www.w3.org/ns/csvw", Json{{"@language", "en"}}});
  json["url"] = file;
  json["dc:title"] = table.title;
  Json said = Json::array();
  if (remarks.invented) {
    said.push_back(invented_mark);
  }
  for (const std::string& caution : cautions(remarks.thing)) {
    said.push_back(caution);
  }
  json["rdfs:comment"] = std::move(said);
  // A cell that a spreadsheet would take for a formula has a space before it.
  json["dialect"] = {{"encoding", "utf-8"}, {"delimiter", ","},    {"quoteChar", "\""},
                     {"doubleQuote", true}, {"headerRowCount", 1}, {"trim", "start"}};
  Json columns = Json::array();
  for (const CsvColumn& column : table.columns) {
    columns.push_back(column_to_json(column));
  }
  json["tableSchema"] = {{"columns", std::move(columns)}, {"primaryKey", table.key}};
  return json_text(json);
}

std::string csv_metadata_name(const std::string& file) { return file + "-metadata.json"; }

std::vector<RenderedFile> csv_files(const std::vector<CsvTable>& tables,
                                    const CsvRemarks& remarks) {
  std::vector<RenderedFile> files;
  for (const CsvTable& table : tables) {
    const std::string file = table.name + ".csv";
    files.push_back({file, csv_text(table)});
    files.push_back({csv_metadata_name(file), csv_metadata(table, file, remarks)});
  }
  return files;
}

}  // namespace panup
