#include "runs/run_store.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>

#include "base/sha256.h"
#include "runs/bytes.h"
#include "runs/figures_bytes.h"
#include "runs/run_key.h"
#include "runs/statement.h"
#include "runs/store_file.h"

namespace panup {

namespace {

namespace fs = std::filesystem;

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

bool has_table(sqlite3* database, std::string_view name) {
  Statement known(database, "SELECT count(*) FROM sqlite_schema WHERE name = ?");
  known.bind_text(1, name);
  return known.step() == SQLITE_ROW && known.number(0) > 0;
}

/// Of `day/kept_answers.h`.
bool has_answers(sqlite3* database) { return has_table(database, "answer"); }

bool drop_answers(sqlite3* database) {
  return (!has_answers(database) || run_statement(database, "DELETE FROM answer")) &&
         (!has_table(database, "shown_answer") ||
          run_statement(database, "DELETE FROM shown_answer"));
}

std::string date_of(std::int64_t day) {
  const std::chrono::year_month_day date{
      std::chrono::sys_days(std::chrono::days(static_cast<int>(day)))};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

}  // namespace

RunStore::RunStore(std::string path, Database database)
    : path_(std::move(path)), database_(std::move(database)) {}
RunStore::RunStore(RunStore&&) noexcept = default;
RunStore& RunStore::operator=(RunStore&&) noexcept = default;
RunStore::~RunStore() = default;

std::string RunStore::failure(std::string_view doing) const {
  return fmt::format("store {}: {}: {}", path_, doing, wrong_in_words(database_.get()));
}

std::variant<RunStore, std::string> RunStore::open(const std::string& path) {
  auto opened = open_store_file(path);
  if (auto* const wrong = std::get_if<std::string>(&opened)) {
    return std::move(*wrong);
  }
  auto& file = std::get<StoreFile>(opened);
  RunStore store(path, std::move(file.database));
  store.note_ = std::move(file.note);
  return store;
}

std::vector<std::optional<RunFigures>> RunStore::find(std::span<const std::string> keys) {
  std::vector<std::optional<RunFigures>> found(keys.size());
  Statement select(database_.get(), "SELECT figures, checksum, used_on FROM run WHERE key = ?");
  const std::int64_t day = day_of_use();
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
  const std::int64_t day = day_of_use();
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
  if (has_answers(database_.get())) {
    Statement answers(database_.get(), "SELECT count(*) FROM answer");
    if (answers.step() != SQLITE_ROW) {
      return failure("it cannot be read");
    }
    contents.answers = answers.number(0);
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
    const auto& [path, runs, answers, size, least_recent, most_recent, programs] =
        std::get<StoreContents>(state);
    if (size <= bytes || (runs == 0 && answers == 0)) {
      return dropped;
    }
    if (answers > 0) {
      if (!drop_answers(database_.get())) {
        return failure("it cannot be shrunk");
      }
      if (!run_statement(database_.get(), "VACUUM")) {
        return failure_of_vacuum(dropped);
      }
      continue;
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
    if (!run_statement(database_.get(), "VACUUM")) {
      return failure_of_vacuum(dropped);
    }
  }
}

std::variant<std::int64_t, std::string> RunStore::clear() {
  if (!run_statement(database_.get(), "DELETE FROM run")) {
    return failure("it cannot be cleared");
  }
  const std::int64_t dropped = sqlite3_changes64(database_.get());
  if (!drop_answers(database_.get())) {
    return failure("it cannot be cleared");
  }
  if (!run_statement(database_.get(), "VACUUM")) {
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
