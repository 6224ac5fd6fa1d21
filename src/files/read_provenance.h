#pragma once

#include <map>
#include <memory>
#include <string>

#include "base/provenance.h"
#include "base/toml_table.h"

namespace panup {

/// The keys by which files of every kind say where values come from: `[[value_source]]` describes
/// a source; `source`, at the root of the file or in a table, names the source of all values there
/// that have no other; `source_of` in a table names the sources of single keys.

/// The sources that a file describes, and the one of values that name no other.
struct ValueSources {
  std::map<std::string, std::shared_ptr<const ValueSource>, std::less<>> by_id = {};
  std::shared_ptr<const ValueSource> of_file = {};  ///< may be null
  bool all_known = true;  ///< false: some could not be read, so an id may be of one of them
};

/// Reads `[[value_source]]` and the `source` of the file.
ValueSources read_value_sources(TomlTable& root);

/// Reads `source` and `source_of` of a table, after its other keys. A source of a key that the
/// table does not state is reported. `like`: the table whose keys it takes over, with where those
/// come from; null if there is none.
struct LikeTable {
  TomlTable* table = nullptr;
  const Provenance* provenance = nullptr;
};
Provenance read_provenance(TomlTable& table, const ValueSources& sources,
                           const LikeTable& like = {});

}  // namespace panup
