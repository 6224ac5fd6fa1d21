#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "files/document.h"

namespace panup {

/// What the value of a key is, for those who write it: the readers say whether it is right.
enum class FieldType : std::uint8_t {
  text,
  id,
  number,
  whole,
  flag,
  day,   ///< YYYY-MM-DD, without quotes
  time,  ///< HH:MM:SS, without quotes
  word,  ///< one of `words`
  texts,
  words,  ///< any number of `words`
  numbers,
  wholes,
  table,        ///< one table, of `fields`
  tables,       ///< any number of them
  named_tables  ///< tables by names that the file gives them: [key.NAME]
};

/// "text", "id", …, "named tables".
std::string_view name_of(FieldType type);

/// A key of an input file, for a form that writes it.
struct FormField {
  std::string_view key;
  FieldType type = FieldType::text;
  bool required = false;
  std::string_view unit = {};
  std::optional<Range> range = {};
  /// Of a list of tables: what may stand in its place, as "everywhere".
  std::vector<std::string> words = {};
  /// The things whose names are expected, as "vehicle types"; empty where there is no list of them.
  std::string_view names_of = {};
  /// Of lists of tables: keys of which an entry has one, which says of what kind it is.
  std::vector<std::string_view> kinds = {};
  /// It belongs to entries of this kind alone; empty: to all.
  std::string_view only_of = {};
  bool only_in_networks = false;
  /// A table or a list of tables is written in one line.
  bool in_one_line = false;
  std::vector<FormField> fields = {};
};

/// The keys of a kind of file, in the order of a form; none of a kind that no form writes.
///
/// They stand here, beside the readers, and not in docs/schema, which describes what the program
/// prints, nor in the page: what a key may be is known in this room. The readers alone judge: this
/// table says what to ask for. tests/serve/forms_test.py holds it against docs/input-files.md,
/// which is itself held against the readers.
std::vector<FormField> form_fields_of(FileKind kind);

/// The field that a way through a file leads to, by its keys, places of lists and names of named
/// tables left out; null where there is none.
const FormField* field_at(const std::vector<FormField>& fields,
                          const std::vector<std::string>& keys);

}  // namespace panup
