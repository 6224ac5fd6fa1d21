#pragma once
/// The room `runs`: computed runs of the mechanics, kept between runs of the program and shared by
/// the processes of one job. One SQLite file holds the figures of runs by a name of their content,
/// so that nothing is computed twice and nothing stale is used.
///
/// The file may be shared by processes, also over a network: it keeps to SQLite's rollback journal,
/// because its write-ahead log needs memory that processes share, which hosts do not. A process
/// that is killed, or a disk that runs full, costs the transaction that was open and nothing else.

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "quality/run_figures.h"
#include "runs/store_file.h"

namespace panup {

/// A run with the name of its content; see `store/run_key.h`.
struct KeptRun {
  std::string key;
  RunFigures figures;
};

/// How many runs a state of the program left behind.
struct RunsOfProgram {
  std::string fingerprint;
  std::int64_t runs = 0;
};

struct StoreContents {
  std::string path;
  std::int64_t runs = 0;
  std::int64_t answers = 0;                     ///< of a day's trains, kept beside the runs
  std::int64_t bytes = 0;                       ///< of the file
  std::optional<std::string> least_recent_use;  ///< date, as in 2026-11-25; nothing where empty
  std::optional<std::string> most_recent_use;
  std::vector<RunsOfProgram> by_program;  ///< most runs first
};

/// An open store. Every call but `shrink` and `clear` is a transaction of its own: what went wrong
/// is said in words, and the store is then as it was before the call. For one thread at a time; not
/// to be used on both sides of a fork.
class RunStore {
 public:
  /// Opens a store, and makes it, and its folder, where there is none. Refuses a file that is
  /// something else, which is left as it is, and one of a newer program. One of an earlier program
  /// is emptied, which `note` says. One that may be read but not written is opened, and `add` then
  /// fails.
  static std::variant<RunStore, std::string> open(const std::string& path);

  RunStore(RunStore&& other) noexcept;
  RunStore& operator=(RunStore&& other) noexcept;
  ~RunStore();

  /// What is kept of each key, in their order; notes the day of their use. What cannot be read, or
  /// does not match its checksum, counts as not kept, and in `unreadable`.
  std::vector<std::optional<RunFigures>> find(std::span<const std::string> keys);

  /// Keeps runs, in place of what is kept of their keys. What went wrong, or nothing.
  std::optional<std::string> add(std::span<const KeptRun> runs);

  std::variant<StoreContents, std::string> contents();

  /// Drops answers of days, which are the soonest made again, then runs, the longest unused first,
  /// until the file is no larger than `bytes`, or all. How many runs were dropped, or what went
  /// wrong. To make the file smaller takes room for a second one: without it, runs are dropped and
  /// the file stays as large, which is said.
  std::variant<std::int64_t, std::string> shrink(std::int64_t bytes);
  std::variant<std::int64_t, std::string> clear();

  const std::string& path() const { return path_; }
  /// What the user should know of how it was opened, in words; mostly empty.
  const std::string& note() const { return note_; }
  /// How many runs `find` came upon that are there and cannot be used.
  std::size_t unreadable() const { return unreadable_; }

 private:
  RunStore(std::string path, Database database);
  std::string failure(std::string_view doing) const;
  std::string failure_of_vacuum(std::int64_t dropped) const;

  std::string path_;
  std::string note_;
  std::size_t unreadable_ = 0;
  Database database_;
};

/// In the user's folder for caches: $XDG_CACHE_HOME, else ~/.cache (XDG base directories); nothing
/// where neither is known.
std::optional<std::string> default_store_path();

}  // namespace panup
