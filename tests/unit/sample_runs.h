#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "runs/run_store.h"

namespace panup {

/// Invented figures, different ones for each `of`, some of them hard to carry over.
inline RunFigures figures(double of) {
  RunFigures run;
  run.pantographs = {{.mean_n = of,
                      .std_n = of / 3,
                      .max_n = 1e300,
                      .min_n = -0.0,
                      .contact_loss_percent = std::numeric_limits<double>::denorm_min(),
                      .longest_contact_loss_ms = 0.1,
                      .least_unfiltered_n = -of / 7}};
  run.wave_speed_kmh = 424.26;
  run.max_support_uplift_mm = 1.0 / 7;
  return run;
}

/// Different names of content for different numbers up to 65535.
inline std::string key(int number) {
  std::string bytes(32, '\0');
  bytes[0] = static_cast<char>(number & 0xff);
  bytes[1] = static_cast<char>(number >> 8 & 0xff);
  return bytes;
}

/// Runs with the names and figures of `from` up to, not with, `to`.
inline std::vector<KeptRun> runs_numbered(int from, int to) {
  std::vector<KeptRun> runs;
  for (int number = from; number < to; ++number) {
    runs.push_back({key(number), figures(number)});
  }
  return runs;
}

/// A folder of its own for each test, and the path of a store in it.
class StoreTest : public testing::Test {
 protected:
  StoreTest() {
    folder = std::filesystem::temp_directory_path() /
             ("panup-store-" + std::to_string(::getpid()) + "-" +
              testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::remove_all(folder);
    path = (folder / "runs.sqlite").string();
  }
  ~StoreTest() override { std::filesystem::remove_all(folder); }

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

  std::filesystem::path folder;
  std::string path;
};

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

}  // namespace panup
