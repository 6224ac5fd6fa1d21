#include <bit>
#include <cmath>
#include <random>

#include "runs/figures_bytes.h"
#include "sample_runs.h"

namespace panup {
namespace {

TEST(FiguresAsBytes, ComeBackToTheLastBit) {
  RunFigures refused;
  refused.refusals = {Sentence("the line is too short"),
                      to_say("and {} – {:.1f} {}", std::size_t{3}, 2.5, to_say("so {}", "on"))};
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

TEST(FiguresAsBytes, WhatIsNoNumberComesBackToTheLastBitToo) {
  RunFigures run = figures(1);
  const auto odd = std::bit_cast<double>(std::uint64_t{0x7ff8000000000123});
  run.max_support_uplift_mm = odd;
  run.max_span_uplift_mm = -std::numeric_limits<double>::infinity();
  const auto back = figures_from(to_bytes(run));
  ASSERT_TRUE(back);
  EXPECT_EQ(std::bit_cast<std::uint64_t>(back->max_support_uplift_mm),
            std::bit_cast<std::uint64_t>(odd));
  EXPECT_EQ(back->max_span_uplift_mm, run.max_span_uplift_mm);
}

TEST(FiguresAsBytes, CountsBeyondTheBytesAreNotBelieved) {
  const std::string right = to_bytes(figures(81.3));
  EXPECT_FALSE(figures_from(std::string(right.size(), '\xff')));
  EXPECT_FALSE(figures_from("\x7f" + right.substr(1)));
  RunFigures run;
  run.refusals = {Sentence("too short", {})};
  std::string refused = to_bytes(run);
  refused[refused.size() - 26] = '\x7f';  // the last byte of its length
  EXPECT_FALSE(figures_from(refused));
}

TEST(FiguresAsBytes, SentencesHaveNoLanguageAndTakeTheirArguments) {
  RunFigures run;
  run.refusals = {to_say("the speed is {:g} km/h; it is above 0", -1.5)};
  const auto back = figures_from(to_bytes(run));
  ASSERT_TRUE(back);
  EXPECT_EQ(back->refusals[0].said(built_in_words("de")),
            "die Geschwindigkeit ist -1,5 km/h; sie muss über 0 liegen");
  run.refusals = {Sentence("{:9999999g}", {{1.0}})};
  EXPECT_FALSE(figures_from(to_bytes(run))) << "it would take as much memory as it says";
  Sentence deep = Sentence("deep");
  for (int i = 0; i < 40; ++i) {
    deep = to_say("{}; {}", deep, Sentence("one more"));
  }
  run.refusals = {deep};
  EXPECT_EQ(figures_from(to_bytes(run)), run);
  for (int i = 0; i < 40; ++i) {
    deep = to_say("{}; {}", deep, Sentence("one more"));
  }
  run.refusals = {deep};
  EXPECT_FALSE(figures_from(to_bytes(run))) << "none is so deep";
}

TEST(FiguresAsBytes, BringBackWhatIsToBeDoubted) {
  RunFigures run = figures(81.3);
  run.warnings = {{Doubt::contact_lost, Sentence("lost", {})}, {last_doubt, Sentence("stiff", {})}};
  std::string bytes = to_bytes(run);
  const auto back = figures_from(bytes);
  ASSERT_TRUE(back);
  EXPECT_EQ(back->warnings, run.warnings);
  bytes[bytes.size() - 29] = static_cast<char>(static_cast<int>(last_doubt) + 1);
  EXPECT_FALSE(figures_from(bytes)) << "no such doubt";
}

TEST(FiguresAsBytes, SpoiltBytesNeverBringItDown) {
  RunFigures refused;
  refused.refusals = {to_say("the line of {:g} m is too short", 60.0), Sentence("and so on")};
  std::mt19937 random(1);
  int taken = 0;
  for (int round = 0; round < 20000; ++round) {
    std::string bytes = to_bytes(round % 2 == 0 ? figures(81.3) : refused);
    for (int spoilt = 0; spoilt < 1 + round % 5; ++spoilt) {
      bytes[random() % bytes.size()] = static_cast<char>(random());
    }
    if (round % 3 == 0) {
      bytes.resize(random() % (2 * bytes.size()));
    }
    if (const auto run = figures_from(bytes)) {
      ++taken;
      EXPECT_EQ(to_bytes(*run), bytes);
    }
  }
  EXPECT_GT(taken, 0);
  EXPECT_LT(taken, 20000);
}

}  // namespace
}  // namespace panup
