#include <gtest/gtest.h>
#include <sqlite3.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <limits>

#include "dynamics_sample_line.h"
#include "store/figures_bytes.h"
#include "store/run_keeper.h"
#include "store/run_key.h"
#include "store/run_store.h"

namespace panup {
namespace {

namespace fs = std::filesystem;

RunFigures figures(double of) {
  RunFigures run;
  run.pantographs = {{.mean_n = of,
                      .std_n = of / 3,
                      .max_n = 1e300,
                      .min_n = -0.0,
                      .contact_loss_percent = std::numeric_limits<double>::denorm_min(),
                      .longest_contact_loss_ms = 0.1}};
  run.wave_speed_kmh = 424.26;
  run.max_support_uplift_mm = 1.0 / 7;
  return run;
}

std::string key(int number) {
  std::string bytes(32, '\0');
  bytes[0] = static_cast<char>(number & 0xff);
  bytes[1] = static_cast<char>(number >> 8 & 0xff);
  return bytes;
}

class StoreTest : public testing::Test {
 protected:
  StoreTest() {
    folder =
        fs::temp_directory_path() / ("panup-store-" + std::to_string(::getpid()) + "-" +
                                     testing::UnitTest::GetInstance()->current_test_info()->name());
    fs::remove_all(folder);
    path = (folder / "runs.sqlite").string();
  }
  ~StoreTest() override { fs::remove_all(folder); }

  RunStore open() {
    auto opened = RunStore::open(path);
    if (const auto* const wrong = std::get_if<std::string>(&opened)) {
      throw std::runtime_error(*wrong);
    }
    return std::get<RunStore>(std::move(opened));
  }
  std::string refused() {
    auto opened = RunStore::open(path);
    const auto* const wrong = std::get_if<std::string>(&opened);
    return wrong == nullptr ? std::string() : *wrong;
  }
  StoreContents contents() { return std::get<StoreContents>(open().contents()); }

  fs::path folder;
  std::string path;
};

TEST(FiguresAsBytes, ComeBackToTheLastBit) {
  RunFigures refused;
  refused.refusals = {"the line is too short", "and – so on"};
  for (const RunFigures& run : {figures(81.3), RunFigures(), refused}) {
    EXPECT_EQ(figures_from(to_bytes(run)), run);
  }
  EXPECT_TRUE(std::signbit(figures_from(to_bytes(figures(1)))->pantographs[0].min_n));
}

TEST(FiguresAsBytes, OtherBytesAreNone) {
  const std::string right = to_bytes(figures(81.3));
  for (std::size_t length = 0; length < right.size(); ++length) {
    EXPECT_FALSE(figures_from(right.substr(0, length))) << length;
  }
  EXPECT_FALSE(figures_from(right + '\0'));
  EXPECT_FALSE(figures_from("{\"a\":1}"));
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
  {
    RunStore store = open();
    std::vector<KeptRun> runs;
    for (int i = 0; i < 2000; ++i) {
      runs.push_back({key(i), figures(i)});
    }
    store.add(runs);
  }
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  sqlite3_exec(database, "UPDATE run SET used_on = used_on - 10", nullptr, nullptr, nullptr);
  sqlite3_close(database);
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
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  sqlite3_exec(database, "CREATE TABLE addresses (name TEXT)", nullptr, nullptr, nullptr);
  sqlite3_close(database);
  const auto size = fs::file_size(path);
  EXPECT_NE(refused().find("no store of panup"), std::string::npos) << refused();
  EXPECT_EQ(fs::file_size(path), size);
}

TEST_F(StoreTest, OneOfANewerProgramIsRefused) {
  open();
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  sqlite3_exec(database, "PRAGMA user_version = 2", nullptr, nullptr, nullptr);
  sqlite3_close(database);
  EXPECT_NE(refused().find("newer program"), std::string::npos) << refused();
}

TEST_F(StoreTest, ADamagedOneIsSaidToBe) {
  {
    RunStore store = open();
    std::vector<KeptRun> runs;
    for (int i = 0; i < 500; ++i) {
      runs.push_back({key(i), figures(i)});
    }
    store.add(runs);
  }
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

/// Runs `work` in a process of its own; its exit status, or minus the signal that ended it.
template <typename Work>
int in_process(const Work& work) {
  const pid_t child = ::fork();
  if (child == 0) {
    ::_exit(work());
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

TEST_F(StoreTest, AFullDiskIsSaidAndCostsNothingThatWasThere) {
  open().add(std::vector<KeptRun>{{key(1), figures(1)}});
  const auto room = fs::file_size(path) + 8192;
  // A limit on the size of files stands in for the disk's end.
  const int status = in_process([&] {
    static_cast<void>(std::signal(SIGXFSZ, SIG_IGN));
    const rlimit limit{room, room};
    ::setrlimit(RLIMIT_FSIZE, &limit);
    RunStore store = open();
    std::vector<KeptRun> runs;
    for (int i = 2; i < 1000; ++i) {
      runs.push_back({key(i), figures(i)});
    }
    const auto wrong = store.add(runs);
    const bool said = wrong && wrong->starts_with("store " + path + ": no run could be added: ");
    return said && store.find(std::vector{key(1)})[0] ? 0 : 1;
  });
  EXPECT_EQ(status, 0);
  EXPECT_EQ(contents().runs, 1);
  EXPECT_FALSE(open().add(std::vector<KeptRun>{{key(2), figures(2)}}));
}

TEST_F(StoreTest, WithoutRoomTheWorkGoesOnAndItIsSaidOnce) {
  std::optional<RunStore> store = open();
  std::vector<std::string> warnings;
  RunKeeper keeper(std::move(store),
                   [&warnings](const std::string& text) { warnings.push_back(text); });
  const int status = in_process([&] {
    static_cast<void>(std::signal(SIGXFSZ, SIG_IGN));
    const rlimit limit{1024, 1024};
    ::setrlimit(RLIMIT_FSIZE, &limit);
    const ContactLine line = sample_line(12);
    std::vector<SimulationRequest> requests;
    for (int i = 0; i < 20; ++i) {
      requests.push_back(sample_request(line, 100 + i));
    }
    const RunSource compute = [](const std::vector<SimulationRequest>& asked) {
      return std::optional(std::vector<RunFigures>(asked.size(), figures(1)));
    };
    const auto runs = kept_runs(keeper, compute, 5, [](std::size_t) {})(requests);
    return runs && runs->size() == 20 && warnings.size() == 1 && !keeper.keeps() ? 0 : 1;
  });
  EXPECT_EQ(status, 0);
}

TEST_F(StoreTest, AKilledProcessCostsNoFinishedTransaction) {
  for (int round = 0; round < 20; ++round) {
    int told[2];
    ASSERT_EQ(::pipe(told), 0);
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
}

TEST_F(StoreTest, RunsAreComputedOnceAndInBatches) {
  RunKeeper keeper(open(), [](const std::string& text) { ADD_FAILURE() << text; });
  const ContactLine line = sample_line(12);
  std::vector<SimulationRequest> requests;
  for (int i = 0; i < 10; ++i) {
    requests.push_back(sample_request(line, 100 + i % 7));
  }
  std::size_t computed = 0;
  const RunSource compute = [&computed](const std::vector<SimulationRequest>& asked) {
    EXPECT_LE(asked.size(), 3U);
    computed += asked.size();
    std::vector<RunFigures> runs;
    for (const SimulationRequest& request : asked) {
      runs.push_back(figures(request.speed_kmh));
    }
    return std::optional(runs);
  };
  std::size_t expected = 0;
  const RunSource source =
      kept_runs(keeper, compute, 3, [&expected](std::size_t runs) { expected += runs; });
  for (int time = 0; time < 2; ++time) {
    const auto runs = source(requests);
    ASSERT_TRUE(runs);
    for (std::size_t i = 0; i < requests.size(); ++i) {
      EXPECT_EQ((*runs)[i], figures(requests[i].speed_kmh));
    }
    EXPECT_EQ(computed, 7U);
    EXPECT_EQ(expected, 7U);
  }
}

TEST_F(StoreTest, WhatWasFinishedBeforeAStopIsKept) {
  RunKeeper keeper(open(), [](const std::string& text) { ADD_FAILURE() << text; });
  const ContactLine line = sample_line(12);
  std::vector<SimulationRequest> requests;
  for (int i = 0; i < 10; ++i) {
    requests.push_back(sample_request(line, 100 + i));
  }
  int calls = 0;
  const RunSource compute = [&calls](const std::vector<SimulationRequest>& asked) {
    return ++calls == 3 ? std::nullopt
                        : std::optional(std::vector<RunFigures>(asked.size(), figures(1)));
  };
  EXPECT_FALSE(kept_runs(keeper, compute, 2, [](std::size_t) {})(requests));
  EXPECT_EQ(contents().runs, 4);
  EXPECT_EQ(keeper.kept(), 4U);
}

/// The name of a run's content when one thing about it is changed.
template <typename Change>
std::string key_with(const Change& change) {
  ContactLine line = sample_line_with_everything(12);
  add_stitch_wires(line);
  SimulationRequest request = sample_request(line, 120);
  request.pantographs.push_back(request.pantographs.front());
  request.pantographs.back().behind_first_m = 20;
  request.settings.weather_given = true;
  change(line, request);
  return run_keys(std::vector{request}).front();
}

TEST(RunKey, EveryFigureCounts) {
  using Line = ContactLine;
  using Request = SimulationRequest;
  const std::vector<void (*)(Line&, Request&)> changes{
      [](Line&, Request&) {},
      [](Line& line, Request&) { line.contact_wire.tension_n += 1; },
      [](Line& line, Request&) { line.contact_wire.tension_deviation_n += 1; },
      [](Line& line, Request&) { line.contact_wire.bending_stiffness_nm2 += 1; },
      [](Line& line, Request&) { line.messenger_wire.tension_n += 1; },
      [](Line& line, Request&) { line.messenger_wire.mass_kg_per_m += 0.01; },
      [](Line& line, Request&) { line.contact_wires = 2; },
      [](Line& line, Request&) { line.termination = Termination::fixed; },
      [](Line& line, Request&) { line.reference_temperature_c += 1; },
      [](Line& line, Request&) { line.mass_damping_per_s += 0.01; },
      [](Line& line, Request&) { line.stiffness_damping_s += 1e-5; },
      [](Line& line, Request&) { line.supports[3].encumbrance_m += 0.1; },
      [](Line& line, Request&) { line.supports[3].messenger_mass_kg += 0.1; },
      [](Line& line, Request&) { line.supports[3].steady_arm_mass_kg += 0.1; },
      [](Line& line, Request&) { line.supports[3].steady_arm_stiffness_n_per_m += 0.1; },
      [](Line& line, Request&) { line.supports[3].messenger_stiffness_n_per_m += 1; },
      [](Line& line, Request&) { line.supports[3].stitch_wire->length_m += 1; },
      [](Line& line, Request&) { line.supports[3].stitch_wire->wire.tension_n += 1; },
      [](Line& line, Request&) { line.supports[3].stitch_wire.reset(); },
      [](Line& line, Request&) { line.spans[4].length_m += 1; },
      [](Line& line, Request&) { line.spans[4].pre_sag_m += 0.01; },
      [](Line& line, Request&) { line.spans[4].droppers[1].at_m += 0.1; },
      [](Line& line, Request&) { line.spans[4].droppers[1].stiffness_n_per_m += 1; },
      [](Line& line, Request&) { line.spans[4].droppers[1].mass_on_contact_wire_kg += 0.1; },
      [](Line& line, Request&) { line.spans[4].droppers[1].mass_on_messenger_kg += 0.1; },
      [](Line& line, Request&) { line.spans[4].droppers[1].length_deviation_m += 0.001; },
      [](Line& line, Request&) { line.spans[4].droppers.pop_back(); },
      [](Line&, Request& request) { request.speed_kmh += 1; },
      [](Line&, Request& request) { request.pantographs[1].behind_first_m += 0.1; },
      [](Line&, Request& request) { request.pantographs[1].static_force_n += 1; },
      [](Line&, Request& request) { request.pantographs[1].model.masses[0].mass_kg += 0.1; },
      [](Line&, Request& request) {
        request.pantographs[1].model.masses[1].stiffness_n_per_m += 1;
      },
      [](Line&, Request& request) { request.pantographs[1].model.masses[1].damping_ns_per_m += 1; },
      [](Line&, Request& request) { request.pantographs[1].model.contact_stiffness_n_per_m += 1; },
      [](Line&, Request& request) { request.pantographs.pop_back(); },
      [](Line&, Request& request) { request.settings.step_s = 0.001; },
      [](Line&, Request& request) { request.settings.grid_m = 0.5; },
      [](Line&, Request& request) { request.settings.from_m = 300; },
      [](Line&, Request& request) { request.settings.to_m = 300; },
      [](Line&, Request& request) { request.settings.weather.temperature_c += 1; },
      [](Line&, Request& request) { request.settings.weather.ice_on_contact_wire_kg_per_m += 0.1; },
      [](Line&, Request& request) {
        request.settings.weather.ice_on_messenger_wire_kg_per_m += 0.1;
      },
      [](Line&, Request& request) { request.settings.weather_given = false; },
      [](Line&, Request& request) {
        request.pantographs[0].model.aerodynamic_knuckle_leading_n_per_kmh2 = 0.001;
      },
  };
  std::vector<std::string> keys;
  for (const auto change : changes) {
    const std::string changed = key_with(change);
    EXPECT_EQ(changed.size(), 32U);
    EXPECT_EQ(std::ranges::count(keys, changed), 0) << keys.size();
    keys.push_back(changed);
  }
}

TEST(RunKey, NamesSourcesAndHistoriesDoNotCount) {
  const std::string plain = key_with([](ContactLine&, SimulationRequest&) {});
  EXPECT_EQ(plain, key_with([](ContactLine& line, SimulationRequest& request) {
              line.id = "other";
              line.name = "Other";
              line.invented = !line.invented;
              line.source = "elsewhere";
              line.place.line = 77;
              line.uplift_space_mm = 123;
              request.settings.keep_trace = true;
              request.pantographs[0].model.id = "other";
              // With the knuckle leading, what it has when trailing is not felt.
              request.pantographs[0].model.aerodynamic_knuckle_trailing_n_per_kmh2 = 0.001;
            }));
}

TEST(RunKey, ARunHasOneNameAmongOthersAndByItself) {
  const ContactLine line = sample_line(12);
  const ContactLine same = sample_line(12);
  const auto keys = run_keys(
      std::vector{sample_request(line, 100), sample_request(same, 100), sample_request(line, 110)});
  EXPECT_EQ(keys[0], keys[1]);
  EXPECT_NE(keys[0], keys[2]);
  EXPECT_EQ(keys[2], run_keys(std::vector{sample_request(same, 110)}).front());
}

TEST(RunKey, TheFingerprintNamesTheVersionAndTheSources) {
  EXPECT_GT(mechanics_fingerprint().size(), 64U);
  EXPECT_NE(mechanics_fingerprint().find(' '), std::string::npos);
}

}  // namespace
}  // namespace panup
