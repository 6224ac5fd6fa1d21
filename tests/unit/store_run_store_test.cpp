#include <sqlite3.h>

#include <cstdlib>
#include <fstream>

#include "runs/run_key.h"
#include "sample_runs.h"

namespace panup {
namespace {

namespace fs = std::filesystem;

void execute(const std::string& path, const char* sql) {
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  EXPECT_EQ(sqlite3_exec(database, sql, nullptr, nullptr, nullptr), SQLITE_OK) << sql;
  sqlite3_close(database);
}

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

TEST_F(StoreTest, WhatWasAddedIsFoundAlsoByTheNextProcess) {
  {
    RunStore store = open();
    EXPECT_FALSE(store.add(std::vector<KeptRun>{{key(1), figures(1)}, {key(2), figures(2)}}));
  }
  RunStore store = open();
  const auto found = store.find(std::vector{key(2), key(3), key(1)});
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0], figures(2));
  EXPECT_FALSE(found[1]);
  EXPECT_EQ(found[2], figures(1));
}

TEST_F(StoreTest, ContentsAreCountedByProgram) {
  open().add(std::vector<KeptRun>{{key(1), figures(1)}, {key(2), figures(2)}});
  const StoreContents state = contents();
  EXPECT_EQ(state.runs, 2);
  EXPECT_GT(state.bytes, 0);
  ASSERT_EQ(state.by_program.size(), 1U);
  EXPECT_EQ(state.by_program[0].fingerprint, mechanics_fingerprint());
  EXPECT_EQ(state.most_recent_use->size(), 10U);
}

TEST_F(StoreTest, ShrinkingDropsTheLongestUnusedFirst) {
  open().add(runs_numbered(0, 2000));
  execute(path, "UPDATE run SET used_on = used_on - 10");
  RunStore store = open();
  std::vector<std::string> recent;
  for (int i = 500; i < 600; ++i) {
    recent.push_back(key(i));
  }
  store.find(recent);  // notes their use
  const std::int64_t before = std::get<StoreContents>(store.contents()).bytes;
  const std::int64_t wanted = before / 4;
  const auto dropped = store.shrink(wanted);
  EXPECT_GT(std::get<std::int64_t>(dropped), 1000);
  const auto after = std::get<StoreContents>(store.contents());
  EXPECT_LE(after.bytes, wanted);
  EXPECT_EQ(static_cast<std::int64_t>(fs::file_size(path)), after.bytes);
  EXPECT_EQ(after.runs, 2000 - std::get<std::int64_t>(dropped));
  for (const auto& found : store.find(recent)) {
    EXPECT_TRUE(found);
  }
}

TEST_F(StoreTest, ShrinkingToLessThanAnEmptyStoreDropsAllAndEnds) {
  RunStore store = open();
  store.add(runs_numbered(0, 100));
  EXPECT_EQ(std::get<std::int64_t>(store.shrink(0)), 100);
  EXPECT_EQ(std::get<StoreContents>(store.contents()).runs, 0);
  EXPECT_EQ(std::get<std::int64_t>(store.shrink(0)), 0);
}

TEST_F(StoreTest, ShrinkingToMoreThanItHoldsDropsNothing) {
  RunStore store = open();
  store.add(runs_numbered(0, 100));
  EXPECT_EQ(std::get<std::int64_t>(store.shrink(100'000'000)), 0);
}

TEST_F(StoreTest, ClearingLeavesAnEmptyStore) {
  RunStore store = open();
  store.add(std::vector<KeptRun>{{key(1), figures(1)}});
  EXPECT_EQ(std::get<std::int64_t>(store.clear()), 1);
  EXPECT_FALSE(store.find(std::vector{key(1)})[0]);
  EXPECT_FALSE(store.add(std::vector<KeptRun>{{key(1), figures(1)}}));
}

TEST_F(StoreTest, AnotherFileIsLeftAsItIs) {
  fs::create_directories(folder);
  const std::string text = "kind = \"train\"\n# not a store, but something that somebody needs\n";
  std::ofstream(path) << text;
  EXPECT_NE(refused().find("no store of panup"), std::string::npos) << refused();
  std::ifstream file(path);
  EXPECT_EQ(std::string(std::istreambuf_iterator<char>(file), {}), text);
}

TEST_F(StoreTest, AnotherDatabaseIsLeftAsItIs) {
  fs::create_directories(folder);
  execute(path, "CREATE TABLE addresses (name TEXT)");
  const std::string before = bytes_of(path);
  EXPECT_NE(refused().find("no store of panup"), std::string::npos) << refused();
  EXPECT_EQ(bytes_of(path), before);
}

TEST_F(StoreTest, SoIsWhatAKilledProgramLeftBesideAnotherDatabase) {
  fs::create_directories(folder);
  // It ends without closing, and so leaves its write-ahead log.
  ASSERT_EQ(in_process([&] {
              sqlite3* database = nullptr;
              sqlite3_open(path.c_str(), &database);
              sqlite3_exec(database,
                           "PRAGMA journal_mode = WAL; CREATE TABLE addresses (name TEXT)", nullptr,
                           nullptr, nullptr);
              return 0;
            }),
            0);
  const std::string database = bytes_of(path);
  const std::string log = bytes_of(path + "-wal");
  ASSERT_FALSE(log.empty());
  EXPECT_NE(refused().find("no store of panup"), std::string::npos) << refused();
  EXPECT_EQ(bytes_of(path), database);
  EXPECT_EQ(bytes_of(path + "-wal"), log);
}

TEST_F(StoreTest, AnEmptyFileBecomesOne) {
  fs::create_directories(folder);
  std::ofstream file(path);
  file.close();
  EXPECT_FALSE(open().add(runs_numbered(0, 1)));
}

TEST_F(StoreTest, NamesThatSQLiteTakesForSomethingElseAreFilesToo) {
  fs::create_directories(folder);
  const fs::path before = fs::current_path();
  fs::current_path(folder);
  for (const char* const name :
       {":memory:", "file:runs?mode=memory", "50%20 of it#1.sqlite", "Strecke \u00fc.sqlite"}) {
    path = name;
    EXPECT_FALSE(open().add(runs_numbered(0, 1))) << name;
    EXPECT_TRUE(fs::is_regular_file(folder / name)) << name;
    EXPECT_EQ(contents().runs, 1) << name;
  }
  fs::current_path(before);
}

TEST_F(StoreTest, OneOfANewerProgramIsRefused) {
  open();
  execute(path, "PRAGMA user_version = 3");
  EXPECT_NE(refused().find("newer program"), std::string::npos) << refused();
}

TEST_F(StoreTest, OneOfALayoutThatNeverWasIsRefused) {
  open();
  execute(path, "PRAGMA user_version = 0");
  EXPECT_NE(refused().find("does not know"), std::string::npos) << refused();
}

TEST_F(StoreTest, FiguresThatCannotBeReadAreNotKeptAndAreReplaced) {
  RunStore store = open();
  store.add(runs_numbered(0, 2));
  execute(path, "UPDATE run SET figures = x'0102' WHERE substr(key, 1, 1) = x'01'");
  const std::vector keys{key(0), key(1)};
  EXPECT_TRUE(store.find(keys)[0]);
  EXPECT_FALSE(store.find(keys)[1]);
  EXPECT_FALSE(store.add(runs_numbered(1, 2)));
  EXPECT_EQ(store.find(keys)[1], figures(1));
}

TEST_F(StoreTest, OneOfTheLayoutWithoutChecksumsIsEmptiedAndThatIsSaid) {
  fs::create_directories(folder);
  execute(path,
          "CREATE TABLE run (key BLOB PRIMARY KEY, figures BLOB NOT NULL, program TEXT NOT NULL, "
          "used_on INTEGER NOT NULL) WITHOUT ROWID; INSERT INTO run VALUES (zeroblob(32), "
          "zeroblob(48), 'earlier', 20000); PRAGMA application_id = 1347310928; PRAGMA "
          "user_version = 1");
  RunStore store = open();
  EXPECT_NE(store.note().find("earlier program, without checksums"), std::string::npos)
      << store.note();
  EXPECT_EQ(std::get<StoreContents>(store.contents()).runs, 0);
  EXPECT_FALSE(store.add(runs_numbered(0, 1)));
  EXPECT_EQ(store.find(std::vector{key(0)})[0], figures(0));
  EXPECT_EQ(open().note(), "") << "it is said once";
}

/// Other figures, or those of another run, in place of a run's own.
TEST_F(StoreTest, FiguresThatDoNotMatchTheirChecksumAreNotKeptAndAreReplaced) {
  const std::vector<const char*> damages{
      "UPDATE run SET figures = (SELECT figures FROM run WHERE substr(key, 1, 1) = x'02') WHERE "
      "substr(key, 1, 1) = x'01'",
      "UPDATE run SET figures = other.figures, checksum = other.checksum FROM run AS other WHERE "
      "substr(other.key, 1, 1) = x'02' AND substr(run.key, 1, 1) = x'01'",
      "UPDATE run SET checksum = zeroblob(32) WHERE substr(key, 1, 1) = x'01'"};
  for (const char* const damage : damages) {
    RunStore store = open();
    store.add(runs_numbered(0, 3));
    execute(path, damage);
    const std::vector keys{key(0), key(1), key(2)};
    const auto found = store.find(keys);
    EXPECT_EQ(found[0], figures(0));
    EXPECT_FALSE(found[1]) << damage;
    EXPECT_EQ(found[2], figures(2));
    EXPECT_EQ(store.unreadable(), 1U);
    EXPECT_FALSE(store.add(runs_numbered(1, 2)));
    EXPECT_EQ(store.find(keys)[1], figures(1)) << damage;
  }
}

TEST_F(StoreTest, ADamagedOneIsSaidToBe) {
  open().add(runs_numbered(0, 500));
  std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
  file.seekp(4096);
  file << std::string(3 * 4096, 'x');
  file.close();
  const std::string at_opening = refused();
  if (at_opening.empty()) {
    RunStore store = open();
    const auto wrong = store.add(std::vector<KeptRun>{{key(501), figures(1)}});
    ASSERT_TRUE(wrong);
    EXPECT_NE(wrong->find("damaged"), std::string::npos) << *wrong;
  } else {
    EXPECT_NE(at_opening.find("damaged"), std::string::npos) << at_opening;
  }
}

TEST_F(StoreTest, AFolderInItsPlaceOrAFileInItsFoldersIsSaid) {
  fs::create_directories(path);
  EXPECT_NE(refused().find("it is no file"), std::string::npos) << refused();
  path = (folder / "file" / "runs.sqlite").string();
  std::ofstream(folder / "file") << "x";
  EXPECT_NE(refused().find("folder cannot be made"), std::string::npos) << refused();
}

/// Sets a variable of the environment, or takes it away, until the end of its life.
class Environment {
 public:
  Environment(const char* name, const char* value) : name_(name) {
    if (const char* const was = std::getenv(name)) {
      was_ = was;
    }
    set(value);
  }
  Environment(const Environment&) = delete;
  Environment& operator=(const Environment&) = delete;
  ~Environment() { set(was_ ? was_->c_str() : nullptr); }

 private:
  void set(const char* value) const {
    value == nullptr ? ::unsetenv(name_) : ::setenv(name_, value, 1);
  }
  const char* name_;
  std::optional<std::string> was_;
};

TEST(DefaultStorePath, FollowsTheFoldersForCaches) {
  const Environment home("HOME", "/home/planner");
  {
    const Environment caches("XDG_CACHE_HOME", "/var/caches");
    EXPECT_EQ(default_store_path(), "/var/caches/panup/runs.sqlite");
  }
  for (const char* const no_folder : {static_cast<const char*>(nullptr), "", "caches"}) {
    const Environment caches("XDG_CACHE_HOME", no_folder);
    EXPECT_EQ(default_store_path(), "/home/planner/.cache/panup/runs.sqlite");
  }
  const Environment caches("XDG_CACHE_HOME", nullptr);
  const Environment homeless("HOME", nullptr);
  EXPECT_FALSE(default_store_path());
}

}  // namespace
}  // namespace panup
