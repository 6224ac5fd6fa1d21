/// Whatever happens to the bytes of the file, no figure comes out of it that is not the true one.

#include <fstream>
#include <random>

#include "sample_runs.h"
#include "sanitized.h"

namespace panup {
namespace {

/// Enough for several pages, few enough that every third byte can be tried.
constexpr int runs_in_all = 30;

class DamagedStoreTest : public StoreTest {
 protected:
  DamagedStoreTest() {
    static_cast<void>(open().add(runs_numbered(0, runs_in_all)));
    std::ifstream file(path, std::ios::binary);
    whole_.assign(std::istreambuf_iterator<char>(file), {});
    for (int number = 0; number < runs_in_all; ++number) {
      keys_.push_back(key(number));
    }
  }

  /// How many runs are found in a file of these bytes; each has its own figures.
  int found_in(const std::string& bytes) {
    std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
    auto opened = RunStore::open(path);
    auto* const store = std::get_if<RunStore>(&opened);
    if (store == nullptr) {
      EXPECT_FALSE(std::get<std::string>(opened).empty());
      return 0;
    }
    const auto found = store->find(keys_);
    int count = 0;
    for (int number = 0; number < runs_in_all; ++number) {
      const auto& run = found[static_cast<std::size_t>(number)];
      count += run ? 1 : 0;
      EXPECT_TRUE(!run || *run == figures(number)) << "run " << number;
    }
    return count;
  }

  std::string whole_;
  std::vector<std::string> keys_;
};

TEST_F(DamagedStoreTest, NoByteThatIsChangedAnywhereChangesAFigure) {
  ASSERT_EQ(found_in(whole_), runs_in_all);
  std::mt19937 random(1);
  std::uniform_int_distribution<int> other(1, 255);
  int lost = 0;
  constexpr std::size_t one_byte_of = sanitized ? 11 : 3;
  for (std::size_t at = 0; at < whole_.size() && !HasFailure(); at += one_byte_of) {
    std::string damaged = whole_;
    damaged[at] = static_cast<char>(damaged[at] ^ other(random));
    lost += found_in(damaged) < runs_in_all ? 1 : 0;
  }
  EXPECT_GT(lost, 60 * runs_in_all / static_cast<int>(one_byte_of))
      << "the figures of runs, of 72 bytes each, are among what was changed";
}

TEST_F(DamagedStoreTest, NorDoManyBytesNorPagesThatAreLostOrInTheWrongPlace) {
  constexpr std::size_t page = 4096;
  ASSERT_GE(whole_.size(), 3 * page);
  std::mt19937 random(2);
  const auto below = [&random](std::size_t end) {
    return std::uniform_int_distribution<std::size_t>(0, end - 1)(random);
  };
  for (int round = 0; round < 1500 && !HasFailure(); ++round) {
    std::string damaged = whole_;
    switch (round % 4) {
      case 0:  // random bytes anywhere
        for (std::size_t left = 1 + below(40); left > 0; --left) {
          damaged[below(damaged.size())] = static_cast<char>(below(256));
        }
        break;
      case 1: {  // a piece of the file in another place
        const std::size_t size = 1 + below(600);
        damaged.replace(below(damaged.size() - size), size,
                        whole_.substr(below(damaged.size() - size), size));
        break;
      }
      case 2:  // a page in the place of another
        damaged.replace(page * (1 + below(damaged.size() / page - 1)), page,
                        whole_.substr(page * (1 + below(damaged.size() / page - 1)), page));
        break;
      default:  // cut off
        damaged.resize(below(damaged.size()));
        break;
    }
    found_in(damaged);
  }
}

}  // namespace
}  // namespace panup
