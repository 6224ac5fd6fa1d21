#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "base/toml_tree.h"
#include "line/route.h"

namespace panup {

/// Who stated what stands in a network that was made of the register at an earlier time.
enum class StatedBy : std::uint8_t {
  the_register,  ///< it stands as it was made
  somebody,      ///< added, changed or taken out by hand
  not_known,     ///< nothing says how it was made
};
/// "the register", "somebody", "not known".
std::string_view name_of(StatedBy by);

/// A key that another value stands under, or that one of both networks does not state.
struct KeyChange {
  std::string key;
  std::optional<TomlNode> before;        ///< in the network that is there; none: not stated
  std::optional<TomlNode> then;          ///< by the register today
  StatedBy by = StatedBy::the_register;  ///< what was before
};

enum class TableFate : std::uint8_t { is_new, gone, changed };
/// "new", "gone", "changed".
std::string_view name_of(TableFate fate);

/// A table of the network that differs: a section, a separation section, a place, …
struct TableChange {
  std::string table;  ///< as in the file: "section"; "network" for what stands before all tables
  std::string id;     ///< or its name, or where it lies
  TableFate fate{};
  StatedBy by = StatedBy::the_register;  ///< of one that is gone
  std::vector<KeyChange> keys;           ///< of one that is changed
  std::vector<LineStretch> where;        ///< before and then; empty: on no line
  SourcePlace place;                     ///< in the network that is there; of a new one its file
  std::string why_lost = {};             ///< of one that was to be kept
};

/// A table that somebody has added to the network that is there, and that stays.
struct KeptTable {
  TableChange what;
  TomlNode node;
  std::string why_lost = {};  ///< why it cannot stay; empty: it is in the new network
};

/// In what a network made of the register today differs from the one that is there.
struct NetworkChanges {
  std::string file;  ///< the network that is there
  std::vector<TableChange> tables;
  /// Whether the file says how any of its tables was made: those of earlier versions do not, nor
  /// does one that was written by hand.
  bool says_how_made = false;
};

/// Whether what stands there is lost, or may be, if the file is replaced: nobody can get it from
/// the register again.
bool is_lost(const KeyChange& change);
bool is_lost(const TableChange& change);

/// The tables of a network that no import made, in their order: those of kinds that none makes, and
/// of the others those without a mark, where the file has any. None of a file that is no network.
/// Profiles are not among them: an import states all keys of a section itself. With them the
/// sources that they name.
std::vector<KeptTable> tables_by_hand(const SourceText& there);

/// The text with the tables that can stay: with which it still reads without mistakes. Of the
/// others it is written down why not.
std::string with_tables(const std::string& made, std::vector<KeptTable>& tables);

/// Compares table by table and key by key: sections, places and lines by their ids, separation
/// sections by line and name, gradients by line and beginning. What a section has of a profile
/// counts as its own, stated by hand. Nothing, and diagnostics, where the file that is there is no
/// network that can be parsed. `made`: the text of a network made of the register.
/// `by_hand`: what came of its tables.
std::optional<NetworkChanges> network_changes(const SourceText& there, const std::string& made,
                                              Diagnostics& diagnostics,
                                              const std::vector<KeptTable>& by_hand = {});

}  // namespace panup
