/// The store among processes that write at once, are killed, or find no room.

#include <sqlite3.h>
#include <sys/resource.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <thread>

#include "sample_runs.h"

namespace panup {
namespace {

namespace fs = std::filesystem;

/// What SQLite finds wrong in the file's structure; "ok" where nothing is.
std::string integrity(const std::string& path) {
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  std::string found;
  sqlite3_exec(
      database, "PRAGMA integrity_check",
      [](void* to, int, char** columns, char**) {
        *static_cast<std::string*>(to) += columns[0];
        return 0;
      },
      &found, nullptr);
  sqlite3_close(database);
  return found;
}

/// Stands in for the disk's end, in this process.
void limit_files_to(std::uintmax_t bytes) {
  static_cast<void>(std::signal(SIGXFSZ, SIG_IGN));
  const rlimit limit{bytes, bytes};
  ::setrlimit(RLIMIT_FSIZE, &limit);
}

TEST_F(StoreTest, AFullDiskIsSaidAndCostsNothingThatWasThere) {
  open().add(std::vector<KeptRun>{{key(1), figures(1)}});
  const auto room = fs::file_size(path) + 8192;
  const int status = in_process([&] {
    limit_files_to(room);
    RunStore store = open();
    const auto wrong = store.add(runs_numbered(2, 1000));
    const bool said = wrong && wrong->starts_with("store " + path + ": no run could be added: ");
    return said && store.find(std::vector{key(1)})[0] ? 0 : 1;
  });
  EXPECT_EQ(status, 0);
  EXPECT_EQ(contents().runs, 1);
  EXPECT_EQ(integrity(path), "ok");
  EXPECT_FALSE(open().add(std::vector<KeptRun>{{key(2), figures(2)}}));
}

TEST_F(StoreTest, WithoutRoomForANewOneItIsSaidAndTheNextTryMakesIt) {
  EXPECT_EQ(in_process([&] {
              limit_files_to(1024);
              return refused().find("cannot be read or written: ") != std::string::npos ? 0 : 1;
            }),
            0);
  EXPECT_FALSE(open().add(runs_numbered(0, 1)));
}

TEST_F(StoreTest, WithoutRoomToMakeTheFileSmallerItSaysHowManyRunsWereDropped) {
  std::vector<KeptRun> runs = runs_numbered(0, 2000);
  // In the order of their names, so that what is dropped first stands at the front of the file.
  std::ranges::sort(runs, {}, &KeptRun::key);
  open().add(runs);
  const auto size = static_cast<std::int64_t>(fs::file_size(path));
  const int status = in_process([&] {
    RunStore store = open();
    // The runs that are left, some two thirds of the file, do not fit into a second one.
    limit_files_to(static_cast<std::uintmax_t>(size) * 6 / 10);
    const auto dropped = store.shrink(size * 3 / 4);
    const auto* const wrong = std::get_if<std::string>(&dropped);
    return wrong != nullptr && wrong->find(
                                   "of its runs were dropped, but the file could not be "
                                   "made smaller: ") != std::string::npos
               ? 0
               : 1;
  });
  EXPECT_EQ(status, 0);
  EXPECT_EQ(integrity(path), "ok");
  EXPECT_LT(contents().runs, 2000);
  EXPECT_GT(contents().runs, 1000);
  EXPECT_EQ(contents().bytes, size);
}

TEST_F(StoreTest, OneThatMayNotBeWrittenIsStillLookedUp) {
  open().add(runs_numbered(0, 1));
  fs::permissions(path, fs::perms::owner_read | fs::perms::group_read | fs::perms::others_read);
  EXPECT_EQ(in_process([&] {
              // Root may write everywhere.
              if (::geteuid() == 0 && ::setuid(65534) != 0) {
                return 1;
              }
              RunStore store = open();
              const auto wrong = store.add(runs_numbered(1, 2));
              const bool said = wrong && wrong->ends_with("it may not be written");
              return said && store.find(std::vector{key(0)})[0] ? 0 : 2;
            }),
            0);
}

TEST_F(StoreTest, AKilledProcessCostsNoFinishedTransaction) {
  for (int round = 0; round < 20; ++round) {
    std::array<int, 2> told{};
    ASSERT_EQ(::pipe(told.data()), 0);
    const pid_t child = ::fork();
    if (child == 0) {
      RunStore store = open();
      for (int i = 0;; ++i) {
        const int number = round * 1000 + i;
        if (store.add(std::vector<KeptRun>{{key(number), figures(number)}}) ||
            ::write(told[1], &number, sizeof number) != sizeof number) {
          ::_exit(1);
        }
      }
    }
    ::close(told[1]);
    int finished = -1;
    for (int i = 0; i <= 3 + round % 4; ++i) {
      ASSERT_EQ(::read(told[0], &finished, sizeof finished), static_cast<ssize_t>(sizeof finished));
    }
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    ::close(told[0]);
    RunStore store = open();
    for (int number = round * 1000; number <= finished; ++number) {
      EXPECT_EQ(store.find(std::vector{key(number)})[0], figures(number)) << number;
    }
  }
}

TEST_F(StoreTest, AProcessKilledWhileItWritesLeavesItsTransactionWholeOrNotAtAll) {
  constexpr int runs_each = 400;
  open();
  for (int round = 0; round < 30; ++round) {
    const pid_t child = ::fork();
    if (child == 0) {
      RunStore store = open();
      for (int from = 0;; from = (from + runs_each) % (40 * runs_each)) {
        if (from == 0) {
          store.clear();
        }
        if (store.add(runs_numbered(from, from + runs_each))) {
          ::_exit(1);
        }
      }
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(5 + 7 * (round % 11)));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    ASSERT_TRUE(WIFSIGNALED(status)) << "the writer ended by itself";
    EXPECT_EQ(contents().runs % runs_each, 0);
    EXPECT_EQ(integrity(path), "ok");
  }
}

TEST_F(StoreTest, SeveralProcessesWriteAtOnce) {
  constexpr int processes = 4;
  constexpr int runs_each = 50;
  std::vector<pid_t> children;
  for (int process = 0; process < processes; ++process) {
    const pid_t child = ::fork();
    if (child == 0) {
      RunStore store = open();
      for (int i = 0; i < runs_each; ++i) {
        // Half of them are the same in every process.
        const int number = i % 2 == 0 ? i : 1000 * (process + 1) + i;
        if (store.add(std::vector<KeptRun>{{key(number), figures(number)}})) {
          ::_exit(1);
        }
      }
      ::_exit(0);
    }
    children.push_back(child);
  }
  for (const pid_t child : children) {
    int status = 0;
    ::waitpid(child, &status, 0);
    EXPECT_EQ(status, 0);
  }
  EXPECT_EQ(contents().runs, runs_each / 2 + processes * runs_each / 2);
  EXPECT_EQ(integrity(path), "ok");
}

TEST_F(StoreTest, OneThatIsBusyIsWaitedFor) {
  open();
  std::array<int, 2> told{};
  ASSERT_EQ(::pipe(told.data()), 0);
  const pid_t child = ::fork();
  if (child == 0) {
    sqlite3* database = nullptr;
    sqlite3_open(path.c_str(), &database);
    const bool taken =
        sqlite3_exec(database, "BEGIN EXCLUSIVE", nullptr, nullptr, nullptr) == SQLITE_OK;
    const bool said = ::write(told[1], "x", 1) == 1;
    std::this_thread::sleep_for(std::chrono::milliseconds(700));
    ::_exit(taken && said ? 0 : 1);
  }
  char taken = 0;
  ASSERT_EQ(::read(told[0], &taken, 1), 1);
  EXPECT_FALSE(open().add(runs_numbered(0, 1)));
  int status = 0;
  ::waitpid(child, &status, 0);
  EXPECT_EQ(status, 0);
  ::close(told[0]);
  ::close(told[1]);
}

}  // namespace
}  // namespace panup
