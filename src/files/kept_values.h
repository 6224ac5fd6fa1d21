#pragma once

#include <functional>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/provenance.h"
#include "base/source_text.h"
#include "base/toml_tree.h"
#include "files/document.h"

namespace panup {

/// A value of a file that comes from elsewhere than what an import makes the file of: when it is
/// made again, the value stays.
struct KeptValue {
  std::string table;   ///< name of the list its table stands in: "section"
  std::string id;      ///< by which its table is found in the file that is made
  std::string called;  ///< id or name of its table
  std::string key = {};
  TomlNode value = {};
  ValueSource source = {};
  SourcePlace place = {};                 ///< in the file that is there
  bool taken_over = false;                ///< the file that is made has such a table
  std::optional<TomlNode> imported = {};  ///< what the import itself says there
};

/// By what a table of a list is found in another file.
using TableIdentity = std::function<std::string(std::string_view list, const TomlEntries& table)>;

/// The values of such lists whose source is stated and of none of the kinds `own`. Of a source that
/// is stated for a whole table, or the whole file, ids, names and places are not among them.
std::vector<KeptValue> kept_values(const SourceText& there, FileKind kind,
                                   std::span<const SourceKind> own,
                                   std::span<const std::string_view> lists,
                                   const TableIdentity& identity);

/// The sources of the values, each once. One whose id the import itself uses gets another.
std::vector<ValueSource> sources_of(std::vector<KeptValue>& kept,
                                    const std::set<std::string, std::less<>>& own_ids);

/// Puts the values that belong to a table into it, in place of what the import says, with where
/// they come from. The values that it found a place for, where the import says otherwise.
std::vector<const KeptValue*> take_over(std::vector<KeptValue>& kept, std::string_view list,
                                        std::string_view id, TomlEntries& table);

/// "'line_speed_kmh' is 140 (by hand: Ida Brandt), the register states 160". `import`: who that is.
std::string kept_words(const KeptValue& value, std::string_view import);

}  // namespace panup
