#include "runs/run_store.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <system_error>

#include "base/sha256.h"
#include "runs/bytes.h"
#include "runs/figures_bytes.h"
#include "runs/run_key.h"
#include "runs/statement.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

/// "PNUP": by it the file is known to be a store.
constexpr std::int64_t application_id = 0x504e5550;
/// 1 had no checksums.
constexpr std::int64_t layout_version = 2;
constexpr int patience_ms = 30'000;

constexpr std::string_view layout =
    "CREATE TABLE run (key BLOB PRIMARY KEY, figures BLOB NOT NULL, checksum BLOB NOT NULL, "
    "program TEXT NOT NULL, used_on INTEGER NOT NULL) WITHOUT ROWID";

/// Of a row: over key and figures, so that neither other figures nor those of another run pass for
/// them. The database itself has no checksums: damaged bytes of a row are handed out as they are.
std::string checksum_of(std::string_view key, std::string_view figures) {
  Sha256 digest;
  ByteWriter sizes;
  sizes.count(key.size());
  digest.add(sizes.bytes());
  digest.add(key);
  digest.add(figures);
  return digest.result();
}

std::int64_t today() {
  return std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())
      .time_since_epoch()
      .count();
}

std::string date_of(std::int64_t day) {
  const std::chrono::year_month_day date{
      std::chrono::sys_days(std::chrono::days(static_cast<int>(day)))};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

bool execute(sqlite3* database, std::string_view sql) { return Statement(database, sql).run(); }

/// A transaction that is rolled back unless it was committed. It takes the right to write at once:
/// one that began by reading could not wait for another's writing.
class Transaction {
 public:
  explicit Transaction(sqlite3* database)
      : database_(database), open_(execute(database, "BEGIN IMMEDIATE")) {}
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction() {
    if (open_) {
      execute(database_, "ROLLBACK");
    }
  }

  bool is_open() const { return open_; }
  bool commit() {
    if (open_ && execute(database_, "COMMIT")) {
      open_ = false;
      return true;
    }
    return false;
  }

 private:
  sqlite3* database_;
  bool open_;
};

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

/// What went wrong in the last call.
std::string in_words(sqlite3* database) {
  switch (sqlite3_errcode(database)) {
    case SQLITE_FULL:
      return "the disk is full";
    case SQLITE_NOTADB:
      return "it is no store of panup";
    case SQLITE_CORRUPT:
      return "it is damaged; remove it: all that is in it can be computed again";
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

/// Why a file that is there cannot be taken as a store; empty if it can. Nothing but its header is
/// read, and without locks: asking somebody else's database anything would finish what a killed
/// program left in its journal, and so change it; and a store may be half written at this moment.
/// It is read through SQLite, because closing a file that was opened beside it would end all locks
/// that this process has on it.
/// Source of the header's layout: SQLite, Database File Format, section 1.3.
std::string look_at(const std::string& path) {
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
    return in_words(opened);
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
  return header.starts_with(magic) && id == application_id ? std::string()
                                                           : "it is no store of panup";
}

/// Makes an empty store of this layout of what `transaction` has open; what went wrong, or empty.
std::string lay_out(sqlite3* database, Transaction& transaction) {
  const bool made = execute(database, "DROP TABLE IF EXISTS run") && execute(database, layout) &&
                    execute(database, fmt::format("PRAGMA application_id = {}", application_id)) &&
                    execute(database, fmt::format("PRAGMA user_version = {}", layout_version)) &&
                    transaction.commit();
  return made ? std::string() : in_words(database);
}

/// Makes sure that the file is a store of this layout, or becomes one; what is against it, or
/// empty. `note` receives what has become of a store of an earlier layout.
std::string take_on(sqlite3* database, std::string& note) {
  Transaction transaction(database);
  if (!transaction.is_open()) {
    return in_words(database);  // before the next call, which the database would speak of
  }
  Statement found(database,
                  "SELECT application_id, user_version, (SELECT count(*) FROM sqlite_schema) FROM "
                  "pragma_application_id, pragma_user_version");
  if (found.step() != SQLITE_ROW) {
    return in_words(database);
  }
  const std::int64_t id = found.number(0);
  const std::int64_t version = found.number(1);
  const std::int64_t tables = found.number(2);
  found.reset();
  if (id == application_id) {
    if (version == layout_version) {
      return {};
    }
    if (version == 1) {
      std::string wrong = lay_out(database, transaction);
      if (wrong.empty()) {
        note =
            "it was kept by an earlier program, without checksums; what was in it was dropped and "
            "is computed again when it is asked for";
      }
      return wrong;
    }
    return version > layout_version
               ? fmt::format(
                     "it is of layout {}, made by a newer program than this, which knows layout {}",
                     version, layout_version)
               : fmt::format("it is of layout {}, which this program does not know", version);
  }
  if (id != 0 || version != 0 || tables != 0) {
    return "it is no store of panup";
  }
  return lay_out(database, transaction);
}

}  // namespace

void RunStore::Close::operator()(sqlite3* database) const { sqlite3_close(database); }

RunStore::RunStore(std::string path, std::unique_ptr<sqlite3, Close> database)
    : path_(std::move(path)), database_(std::move(database)) {}
RunStore::RunStore(RunStore&&) noexcept = default;
RunStore& RunStore::operator=(RunStore&&) noexcept = default;
RunStore::~RunStore() = default;

std::string RunStore::failure(std::string_view doing) const {
  return fmt::format("store {}: {}: {}", path_, doing, in_words(database_.get()));
}

std::variant<RunStore, std::string> RunStore::open(const std::string& path) {
  std::error_code error;
  // With a folder before them, names that SQLite takes for something else are files too.
  const fs::path file = fs::absolute(path, error);
  if (error) {
    return fmt::format("store {}: the folder it is sought from is not there: {}", path,
                       error.message());
  }
  fs::create_directories(file.parent_path(), error);
  if (error) {
    return fmt::format("store {}: its folder cannot be made: {}", path, error.message());
  }
  if (fs::exists(file, error) && !fs::is_regular_file(file, error)) {
    return fmt::format("store {}: it is no file", path);
  }
  if (const std::string wrong = look_at(file.string()); !wrong.empty()) {
    return fmt::format("store {}: {}", path, wrong);
  }
  sqlite3* opened = nullptr;
  const int status =
      sqlite3_open_v2(file.c_str(), &opened, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
  std::unique_ptr<sqlite3, Close> database(opened);
  if (database == nullptr) {
    return fmt::format("store {}: there is no memory to open it", path);
  }
  std::string wrong;
  std::string note;
  if (status != SQLITE_OK) {
    wrong = in_words(database.get());
  } else {
    sqlite3_busy_timeout(database.get(), patience_ms);
    wrong = take_on(database.get(), note);
  }
  if (!wrong.empty()) {
    return fmt::format("store {}: {}", path, wrong);
  }
  RunStore store(path, std::move(database));
  if (!note.empty()) {
    store.note_ = fmt::format("store {}: {}", path, note);
  }
  return store;
}

std::vector<std::optional<RunFigures>> RunStore::find(std::span<const std::string> keys) {
  std::vector<std::optional<RunFigures>> found(keys.size());
  Statement select(database_.get(), "SELECT figures, checksum, used_on FROM run WHERE key = ?");
  const std::int64_t day = today();
  std::vector<const std::string*> used;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    select.bind_bytes(1, keys[i]);
    const int status = select.step();
    if (status == SQLITE_ROW && select.bytes(1) == checksum_of(keys[i], select.bytes(0))) {
      found[i] = figures_from(select.bytes(0));
      if (found[i] && select.number(2) != day) {
        used.push_back(&keys[i]);
      }
    }
    if (!found[i] && status != SQLITE_DONE) {
      ++unreadable_;
    }
    select.reset();
  }
  if (!used.empty()) {
    // Only `shrink` looks at it: where it cannot be written, nothing is lost.
    Transaction transaction(database_.get());
    Statement update(database_.get(), "UPDATE run SET used_on = ? WHERE key = ?");
    bool all = true;
    for (const std::string* const key : used) {
      update.bind(1, day);
      update.bind_bytes(2, *key);
      all = all && update.run();
      update.reset();
    }
    if (all) {
      transaction.commit();
    }
  }
  return found;
}

std::optional<std::string> RunStore::add(std::span<const KeptRun> runs) {
  Transaction transaction(database_.get());
  if (!transaction.is_open()) {
    return failure("no run could be added");
  }
  Statement insert(database_.get(),
                   "INSERT INTO run (key, figures, checksum, program, used_on) VALUES (?, ?, ?, ?, "
                   "?) ON CONFLICT (key) DO UPDATE SET figures = excluded.figures, checksum = "
                   "excluded.checksum WHERE figures IS NOT excluded.figures OR checksum IS NOT "
                   "excluded.checksum");
  const std::int64_t day = today();
  for (const KeptRun& run : runs) {
    insert.bind_bytes(1, run.key);
    const std::string figures = to_bytes(run.figures);
    insert.bind_bytes(2, figures);
    insert.bind_bytes(3, checksum_of(run.key, figures));
    insert.bind_text(4, mechanics_fingerprint());
    insert.bind(5, day);
    if (!insert.run()) {
      return failure("no run could be added");
    }
    insert.reset();
  }
  return transaction.commit() ? std::nullopt : std::optional(failure("no run could be added"));
}

std::variant<StoreContents, std::string> RunStore::contents() {
  StoreContents contents;
  contents.path = path_;
  const Transaction one_state(database_.get());
  if (!one_state.is_open()) {
    return failure("it cannot be read");
  }
  Statement totals(database_.get(),
                   "SELECT count(*), min(used_on), max(used_on), (SELECT page_count * page_size "
                   "FROM pragma_page_count, pragma_page_size) FROM run");
  if (totals.step() != SQLITE_ROW) {
    return failure("it cannot be read");
  }
  contents.runs = totals.number(0);
  contents.bytes = totals.number(3);
  if (!totals.is_null(1)) {
    contents.least_recent_use = date_of(totals.number(1));
    contents.most_recent_use = date_of(totals.number(2));
  }
  Statement programs(database_.get(),
                     "SELECT program, count(*) FROM run GROUP BY program ORDER BY 2 DESC, 1");
  int status = programs.step();
  for (; status == SQLITE_ROW; status = programs.step()) {
    contents.by_program.push_back({std::string(programs.bytes(0)), programs.number(1)});
  }
  return status == SQLITE_DONE ? std::variant<StoreContents, std::string>(std::move(contents))
                               : failure("it cannot be read");
}

std::variant<std::int64_t, std::string> RunStore::shrink(std::int64_t bytes) {
  std::int64_t dropped = 0;
  while (true) {
    const auto state = contents();
    if (const auto* const wrong = std::get_if<std::string>(&state)) {
      return *wrong;
    }
    const auto& [path, runs, size, least_recent, most_recent, programs] =
        std::get<StoreContents>(state);
    if (size <= bytes || runs == 0) {
      return dropped;
    }
    // Rows are about of one size: that much too many, and a few more so that it comes to an end.
    const std::int64_t surplus = std::min(runs, (runs * (size - bytes) + size - 1) / size + 1);
    Statement drop(
        database_.get(),
        "DELETE FROM run WHERE key IN (SELECT key FROM run ORDER BY used_on, key LIMIT ?)");
    drop.bind(1, surplus);
    if (!drop.run()) {
      return failure("it cannot be shrunk");
    }
    dropped += sqlite3_changes64(database_.get());
    if (!execute(database_.get(), "VACUUM")) {
      return failure_of_vacuum(dropped);
    }
  }
}

std::variant<std::int64_t, std::string> RunStore::clear() {
  if (!execute(database_.get(), "DELETE FROM run")) {
    return failure("it cannot be cleared");
  }
  const std::int64_t dropped = sqlite3_changes64(database_.get());
  if (!execute(database_.get(), "VACUUM")) {
    return failure_of_vacuum(dropped);
  }
  return dropped;
}

std::string RunStore::failure_of_vacuum(std::int64_t dropped) const {
  return failure(
      fmt::format("{} of its runs were dropped, but the file could not be made smaller", dropped));
}

std::optional<std::string> default_store_path() {
  const char* const caches = std::getenv("XDG_CACHE_HOME");
  const char* const home = std::getenv("HOME");
  // The convention: a relative path there is no folder for caches.
  if (caches != nullptr && fs::path(caches).is_absolute()) {
    return (fs::path(caches) / "panup" / "runs.sqlite").string();
  }
  if (home != nullptr && fs::path(home).is_absolute()) {
    return (fs::path(home) / ".cache" / "panup" / "runs.sqlite").string();
  }
  return std::nullopt;
}

}  // namespace panup
