#include <sqlite3.h>
#include <sys/resource.h>

#include <csignal>

#include "dynamics_sample_line.h"
#include "runs/run_keeper.h"
#include "sample_runs.h"

namespace panup {
namespace {

TEST_F(StoreTest, WithoutRoomTheWorkGoesOnAndItIsSaidOnce) {
  const int status = in_process([&] {
    std::vector<std::string> warnings;
    RunKeeper keeper(open(), [&warnings](const std::string& text) { warnings.push_back(text); });
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

TEST_F(StoreTest, DamagedRunsAreComputedAgainAndThatIsSaidOnce) {
  const ContactLine line = sample_line(12);
  const std::vector<SimulationRequest> requests{sample_request(line, 100),
                                                sample_request(line, 110)};
  const RunSource compute = [](const std::vector<SimulationRequest>& asked) {
    return std::optional(std::vector<RunFigures>(asked.size(), figures(1)));
  };
  std::vector<std::string> warnings;
  const auto warn = [&warnings](const std::string& text) { warnings.push_back(text); };
  RunKeeper first(open(), warn);
  kept_runs(first, compute, 5, [](std::size_t) {})(requests);
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  sqlite3_exec(database, "UPDATE run SET checksum = zeroblob(32)", nullptr, nullptr, nullptr);
  sqlite3_close(database);
  EXPECT_EQ(warnings, std::vector<std::string>());
  RunKeeper second(open(), warn);
  std::size_t missing = 0;
  const auto again = kept_runs(second, compute, 1, [&missing](std::size_t n) { missing += n; });
  again({requests[0]});
  again(requests);
  EXPECT_EQ(missing, 2U) << "what was computed anew is kept in place of what was damaged";
  ASSERT_EQ(warnings.size(), 1U);
  EXPECT_NE(warnings[0].find("do not match their checksums"), std::string::npos) << warnings[0];
}

TEST(RunsWithoutAStore, AreComputedOnceABatch) {
  RunKeeper keeper(std::nullopt, [](const std::string& text) { ADD_FAILURE() << text; });
  const ContactLine line = sample_line(12);
  const std::vector<SimulationRequest> requests{
      sample_request(line, 100), sample_request(line, 110), sample_request(line, 100)};
  std::size_t computed = 0;
  const RunSource compute = [&computed](const std::vector<SimulationRequest>& asked) {
    computed += asked.size();
    std::vector<RunFigures> runs;
    for (const SimulationRequest& request : asked) {
      runs.push_back(figures(request.speed_kmh));
    }
    return std::optional(runs);
  };
  const auto runs = kept_runs(keeper, compute, 0, [](std::size_t) {})(requests);
  ASSERT_TRUE(runs);
  EXPECT_EQ(*runs, (std::vector{figures(100), figures(110), figures(100)}));
  EXPECT_EQ(computed, 2U);
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

}  // namespace
}  // namespace panup
