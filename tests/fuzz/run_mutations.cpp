/// Runs a harness on its seeds and on a number of mutated ones: `fuzz_X COUNT SEED_FOLDER…`. The
/// input that brings it down is left in `X.crash` for a look.

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "harness.h"
#include "mutation.h"

namespace {

void run(const std::string& input, const std::string& kept) {
  std::ofstream(kept, std::ios::binary) << input;
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

std::vector<std::string> texts_in(const std::vector<std::string>& folders) {
  std::vector<std::filesystem::path> paths;
  for (const std::string& folder : folders) {
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
      if (!entry.is_regular_file()) {
        continue;
      }
      paths.push_back(entry.path());
    }
  }
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> texts;
  for (const auto& path : paths) {
    std::ifstream stream(path, std::ios::binary);
    texts.emplace_back(std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>());
  }
  return texts;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::fputs("usage: fuzz_X COUNT SEED_FOLDER...\n", stderr);
    return 2;
  }
  const int count = std::atoi(argv[1]);
  const std::vector<std::string> seeds = texts_in({argv + 2, argv + argc});
  if (seeds.empty() || count <= 0) {
    std::fputs("no seeds, or nothing to do\n", stderr);
    return 2;
  }
  const std::string kept = std::filesystem::path(argv[0]).filename().string() + ".crash";
  for (const std::string& seed : seeds) {
    run(seed, kept);
  }
  std::mt19937 random(20'240'613);
  for (int i = 0; i < count; ++i) {
    run(panup::mutated(seeds, random), kept);
  }
  std::filesystem::remove(kept);
  std::printf("%zu seeds, %d mutated inputs\n", seeds.size(), count);
  return 0;
}
