#include "runs/store_file.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <system_error>

#include "runs/statement.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

/// "PNUP": by it the file is known to be a store.
constexpr std::int64_t id_of_runs = 0x504e5550;
constexpr std::int64_t without_checksums = 1;  ///< an earlier layout of it
constexpr int patience_ms = 30'000;

/// The system's reason for an error of reading, writing or opening, as far as SQLite passes it on;
/// else the number of its own, which its documentation explains.
std::string reason_of_system(sqlite3* database) {
  int reason = sqlite3_system_errno(database);
  if (reason == 0) {
    sqlite3_file_control(database, "main", SQLITE_FCNTL_LAST_ERRNO, &reason);
  }
  return reason != 0
             ? std::generic_category().message(reason)
             : fmt::format(
                   "a fault of the disk, a quota, or a limit on the size of files (SQLite: {})",
                   sqlite3_extended_errcode(database));
}

std::string no_such_kind(const StoreKind& kind) {
  return fmt::format("it is no {} of panup", kind.what);
}

}  // namespace

const StoreKind& kind_of_runs() {
  static const StoreKind kind{
      .what = "store",
      .application_id = id_of_runs,
      .layout_version = 2,
      .layout = {"DROP TABLE IF EXISTS run",
                 "CREATE TABLE run (key BLOB PRIMARY KEY, figures BLOB NOT NULL, checksum BLOB NOT "
                 "NULL, program TEXT NOT NULL, used_on INTEGER NOT NULL) WITHOUT ROWID"},
      .if_damaged = "it is damaged; remove it: all that is in it can be computed again"};
  return kind;
}

std::string wrong_in_words(sqlite3* database, const StoreKind& kind) {
  switch (sqlite3_errcode(database)) {
    case SQLITE_FULL:
      return "the disk is full";
    case SQLITE_NOTADB:
      return no_such_kind(kind);
    case SQLITE_CORRUPT:
      return std::string(kind.if_damaged);
    case SQLITE_READONLY:
      return "it may not be written";
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return fmt::format("another process has kept it busy for {} s", patience_ms / 1000);
    case SQLITE_CANTOPEN:
      return fmt::format("it, or the journal beside it, cannot be opened or made: {}",
                         reason_of_system(database));
    case SQLITE_IOERR:
      return fmt::format("it cannot be read or written: {}", reason_of_system(database));
    default:
      return sqlite3_errmsg(database);
  }
}

namespace {

/// Why a file that is there cannot be taken as a store; empty if it can. Nothing but its header is
/// read, and without locks: asking somebody else's database anything would finish what a killed
/// program left in its journal, and so change it; and a store may be half written at this moment.
/// It is read through SQLite, because closing a file that was opened beside it would end all locks
/// that this process has on it.
/// Source of the header's layout: SQLite, Database File Format, section 1.3.
std::string look_at(const std::string& path, const StoreKind& kind) {
  std::error_code error;
  const auto size = fs::file_size(path, error);
  if (error || size == 0) {
    return {};
  }
  sqlite3* opened = nullptr;
  const int status = sqlite3_open_v2(path.c_str(), &opened, SQLITE_OPEN_READONLY, nullptr);
  const std::unique_ptr<sqlite3, int (*)(sqlite3*)> database(opened, sqlite3_close);
  sqlite3_file* file = nullptr;
  if (status != SQLITE_OK || sqlite3_file_control(opened, "main", SQLITE_FCNTL_FILE_POINTER,
                                                  static_cast<void*>(&file)) != SQLITE_OK) {
    return wrong_in_words(opened, kind);
  }
  constexpr std::string_view magic("SQLite format 3\0", 16);
  constexpr std::size_t place_of_id = 68;
  std::string header(100, '\0');
  const int read = file->pMethods->xRead(file, header.data(), static_cast<int>(header.size()), 0);
  if (read != SQLITE_OK && read != SQLITE_IOERR_SHORT_READ) {
    return fmt::format("it cannot be read: {}", sqlite3_errstr(read));
  }
  std::int64_t id = 0;
  for (const char byte : header.substr(place_of_id, 4)) {
    id = id << 8 | static_cast<unsigned char>(byte);
  }
  return header.starts_with(magic) && id == kind.application_id ? std::string()
                                                                : no_such_kind(kind);
}

/// Makes an empty store of this layout of what `transaction` has open; what went wrong, or empty.
std::string lay_out(sqlite3* database, const StoreKind& kind, Transaction& transaction) {
  const bool made =
      std::ranges::all_of(
          kind.layout,
          [database](std::string_view statement) { return run_statement(database, statement); }) &&
      run_statement(database, fmt::format("PRAGMA application_id = {}", kind.application_id)) &&
      run_statement(database, fmt::format("PRAGMA user_version = {}", kind.layout_version)) &&
      transaction.commit();
  return made ? std::string() : wrong_in_words(database, kind);
}

/// Makes sure that the file is a store of this layout, or becomes one; what is against it, or
/// empty. `note` receives what has become of a store of an earlier layout.
std::string take_on(sqlite3* database, const StoreKind& kind, std::string& note) {
  Transaction transaction(database);
  if (!transaction.is_open()) {
    return wrong_in_words(database,
                          kind);  // before the next call, which the database would speak of
  }
  Statement found(database,
                  "SELECT application_id, user_version, (SELECT count(*) FROM sqlite_schema) FROM "
                  "pragma_application_id, pragma_user_version");
  if (found.step() != SQLITE_ROW) {
    return wrong_in_words(database, kind);
  }
  const std::int64_t id = found.number(0);
  const std::int64_t version = found.number(1);
  const std::int64_t tables = found.number(2);
  found.reset();
  if (id == kind.application_id) {
    if (version == kind.layout_version) {
      return {};
    }
    if (id == id_of_runs && version == without_checksums) {
      std::string wrong = lay_out(database, kind, transaction);
      if (wrong.empty()) {
        note =
            "it was kept by an earlier program, without checksums; what was in it was dropped and "
            "is computed again when it is asked for";
      }
      return wrong;
    }
    return version > kind.layout_version
               ? fmt::format(
                     "it is of layout {}, made by a newer program than this, which knows layout {}",
                     version, kind.layout_version)
               : fmt::format("it is of layout {}, which this program does not know", version);
  }
  if (id != 0 || version != 0 || tables != 0) {
    return no_such_kind(kind);
  }
  return lay_out(database, kind, transaction);
}

}  // namespace

void CloseDatabase::operator()(sqlite3* database) const { sqlite3_close(database); }

bool run_statement(sqlite3* database, std::string_view sql) {
  return Statement(database, sql).run();
}

Transaction::Transaction(sqlite3* database)
    : database_(database), open_(run_statement(database, "BEGIN IMMEDIATE")) {}

Transaction::~Transaction() {
  if (open_) {
    run_statement(database_, "ROLLBACK");
  }
}

bool Transaction::commit() {
  if (open_ && run_statement(database_, "COMMIT")) {
    open_ = false;
    return true;
  }
  return false;
}

std::int64_t day_of_use() {
  return std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())
      .time_since_epoch()
      .count();
}

std::variant<StoreFile, std::string> open_store_file(const std::string& path,
                                                     const StoreKind& kind) {
  std::error_code error;
  // With a folder before them, names that SQLite takes for something else are files too.
  const fs::path file = fs::absolute(path, error);
  if (error) {
    return fmt::format("{} {}: the folder it is sought from is not there: {}", kind.what, path,
                       error.message());
  }
  fs::create_directories(file.parent_path(), error);
  if (error) {
    return fmt::format("{} {}: its folder cannot be made: {}", kind.what, path, error.message());
  }
  if (fs::exists(file, error) && !fs::is_regular_file(file, error)) {
    return fmt::format("{} {}: it is no file", kind.what, path);
  }
  if (const std::string wrong = look_at(file.string(), kind); !wrong.empty()) {
    return fmt::format("{} {}: {}", kind.what, path, wrong);
  }
  sqlite3* opened = nullptr;
  const int status =
      sqlite3_open_v2(file.c_str(), &opened, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
  Database database(opened);
  if (database == nullptr) {
    return fmt::format("{} {}: there is no memory to open it", kind.what, path);
  }
  std::string wrong;
  std::string note;
  if (status != SQLITE_OK) {
    wrong = wrong_in_words(database.get(), kind);
  } else {
    sqlite3_busy_timeout(database.get(), patience_ms);
    wrong = take_on(database.get(), kind, note);
  }
  if (!wrong.empty()) {
    return fmt::format("{} {}: {}", kind.what, path, wrong);
  }
  if (!note.empty()) {
    note = fmt::format("{} {}: {}", kind.what, path, note);
  }
  return StoreFile{std::move(database), std::move(note)};
}

}  // namespace panup
