#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/words.h"

namespace panup {

/// What sort of thing a value was taken from.
enum class SourceKind : std::uint8_t { register_answer, document, table, message, by_hand };

inline constexpr std::size_t source_kinds = 5;

/// "register", "document", "table", "message", "by hand".
std::string_view name_of(SourceKind kind);
std::optional<SourceKind> source_kind_named(std::string_view name);

/// A thing that values were taken from. What is not stated is empty.
struct ValueSource {
  std::string id;
  SourceKind kind{};
  std::string name = {};      ///< of the register, document or file; who it was, by hand
  std::string date = {};      ///< the day it was issued, answered or sent: YYYY-MM-DD
  std::string query = {};     ///< what a register was asked for
  std::string sha256 = {};    ///< of the file that was read
  std::string imported = {};  ///< the day it was taken in, where `date` is not known
};

/// "register: infrastructure register, 2031-04-02, query of sections", "by hand". Where only the
/// day it was taken in is known, that is said, for values may be much older.
std::string words_of(const ValueSource& source, const Words& words = {});

/// Where the values of one table of a file come from. The default of the file is in it.
struct Provenance {
  std::shared_ptr<const ValueSource> rest = {};  ///< of keys without one of their own; may be null
  std::vector<std::pair<std::string, std::shared_ptr<const ValueSource>>> own = {};  ///< by key
};

/// Of a key that the table states; null where no source is stated.
std::shared_ptr<const ValueSource> source_of(const Provenance& provenance, std::string_view key);

/// The same in words; empty where none is stated.
std::string source_words(const Provenance& provenance, std::string_view key, const Words& words);

}  // namespace panup
