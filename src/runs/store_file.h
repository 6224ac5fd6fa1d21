#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

struct sqlite3;  // as SQLite names it

namespace panup {

struct CloseDatabase {
  void operator()(sqlite3* database) const;
};
using Database = std::unique_ptr<sqlite3, CloseDatabase>;

/// A store's file, open. It has the table of computed runs; beside it may stand the tables
/// `answer` and `shown_answer`, of answers of a day's trains, which the room `day` makes and reads.
struct StoreFile {
  Database database;
  std::string note;  ///< what the user should know of how it was opened; mostly empty
};

/// What a file of SQLite is kept for, by which it is told from others.
struct StoreKind {
  std::string_view what;  ///< "store"
  std::int64_t application_id = 0;
  std::int64_t layout_version = 0;
  std::vector<std::string_view> layout;  ///< statements that make an empty one
  std::string_view if_damaged;           ///< what to do then, in words
};

/// Computed runs, and answers of days.
const StoreKind& kind_of_runs();

/// Opens a store, and makes it, and its folder, where there is none; or what is against it, in
/// words. What `RunStore::open` says of it holds here too. Of other kinds none of an earlier layout
/// is taken.
std::variant<StoreFile, std::string> open_store_file(const std::string& path,
                                                     const StoreKind& kind = kind_of_runs());

/// Runs one statement that gives no rows; true where it ran to its end.
bool run_statement(sqlite3* database, std::string_view sql);

/// A transaction that is rolled back unless it was committed. It takes the right to write at once:
/// one that began by reading could not wait for another's writing.
class Transaction {
 public:
  explicit Transaction(sqlite3* database);
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction();

  bool is_open() const { return open_; }
  bool commit();

 private:
  sqlite3* database_;
  bool open_;
};

/// What went wrong in the last call.
std::string wrong_in_words(sqlite3* database, const StoreKind& kind = kind_of_runs());

/// Today, as days since 1970, in which the last use of a row is kept.
std::int64_t day_of_use();

}  // namespace panup
