#include <gtest/gtest.h>

#include <algorithm>

#include "render/diagram_sheets.h"
#include "render/text_layout.h"
#include "sample_envelope.h"

namespace panup {
namespace {

bool overlap(const Box& a, const Box& b) {
  constexpr double touch = 0.1;
  return std::min(a.right(), b.right()) - std::max(a.x, b.x) > touch &&
         std::min(a.bottom(), b.bottom()) - std::max(a.y, b.y) > touch;
}

std::vector<DrawnText> texts_of(const EnvelopeReport& report) {
  const TextSetter setter;
  return texts_of_sheet(
      a4_landscape, 0, [&](Canvas& canvas, std::size_t) { draw_envelope(canvas, setter, report); });
}

TEST(EnvelopePicture, NoTextTouchesAnotherOrLeavesTheSheet) {
  std::vector<EnvelopeReport> reports{sample_envelope_of_one(), rough_envelope()};
  for (const std::size_t spacings : {2U, 7U, 25U, 60U}) {
    for (const std::size_t speeds : {2U, 40U, 100U}) {
      reports.push_back(sample_envelope(spacings, speeds));
    }
  }
  for (const EnvelopeReport& report : reports) {
    const std::vector<DrawnText> texts = texts_of(report);
    EXPECT_GT(texts.size(), 10U);
    for (std::size_t i = 0; i < texts.size(); ++i) {
      EXPECT_GE(texts[i].smallest_pt, 8) << texts[i].text;
      EXPECT_TRUE(texts[i].ink.x >= 0 && texts[i].ink.right() <= a4_landscape.width &&
                  texts[i].ink.y >= 0 && texts[i].ink.bottom() <= a4_landscape.height)
          << texts[i].text;
      for (std::size_t j = i + 1; j < texts.size(); ++j) {
        EXPECT_FALSE(overlap(texts[i].ink, texts[j].ink)) << texts[i].text << "\n"
                                                          << texts[j].text << "\n"
                                                          << report.envelope.spacings_m.size();
      }
    }
  }
}

TEST(EnvelopePicture, SaysWhatDecidesWhatIsPublishedAndTheCautions) {
  std::string all;
  for (const DrawnText& text : texts_of(sample_envelope(10, 11))) {
    all += text.text + "\n";
  }
  for (const char* const words :
       {"DEMO", "permitted speed", "table, type A", "table, type C", "all samples pass",
        "standard deviation", "fails", "from memory", "states no space for uplift",
        "Nobody goes on a roof", "distance between raised pantographs, m", "speed, km/h"}) {
    EXPECT_NE(all.find(words), std::string::npos) << words;
  }
}

TEST(EnvelopePicture, TheSameEnvelopeGivesTheSameBytes) {
  const auto first = render_envelope(sample_envelope(10, 11));
  const auto second = render_envelope(sample_envelope(10, 11));
  ASSERT_EQ(first.size(), 3U);
  for (std::size_t i = 0; i < first.size(); ++i) {
    EXPECT_EQ(first[i].name, second[i].name);
    EXPECT_EQ(first[i].bytes, second[i].bytes);
  }
  EXPECT_EQ(first[1].bytes, envelope_to_svg(sample_envelope(10, 11)));
}

TEST(FailingBands, AreThoseBelowAFasterSpeedThatPasses) {
  const auto bands = failing_bands(sample_envelope(20, 11).envelope);  // 10 m and 10 km/h apart
  ASSERT_EQ(bands.size(), 3U);                                         // at 20, 30 and 40 m
  for (const FailingBand& band : bands) {
    EXPECT_EQ(band.from_kmh, 110);
    EXPECT_EQ(band.to_kmh, 120);
    EXPECT_EQ(band.criterion, "contact-loss");
  }
  EXPECT_EQ(bands[0].spacing_m, 20);
  EXPECT_EQ(bands[2].spacing_m, 40);
}

TEST(EnvelopeText, FitsATerminalAndNamesBandsEdgesAndSamples) {
  const std::string text = envelope_to_text(sample_envelope(20, 11));
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t to = text.find('\n', from);
    EXPECT_LE(columns_of(text.substr(from, to - from)), 100U);
    from = to + 1;
  }
  for (const char* const words :
       {"PERMITTED SPEED", "FAILING BANDS", "30 m apart: 110 to 120 km/h, by contact-loss",
        "half pass", "all pass", "type B", "edge", "standard deviation 21.0 N", "from memory",
        "no consent", "CAUTIONS", "t-140.toml"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
  }
}

TEST(EnvelopeText, OneRaisedPantographHasNoDistance) {
  const std::string text = envelope_to_text(sample_envelope_of_one());
  EXPECT_NE(text.find("one T 1950"), std::string::npos);
  EXPECT_EQ(text.find("type A"), std::string::npos);
}

TEST(EnvelopeJson, HasAValueForEachDistanceAndCell) {
  const auto json = envelope_to_json(sample_envelope(5, 11));
  for (const char* const field :
       {"permitted_speed_kmh", "deciding_criterion", "passes", "margins", "edge_error_kmh"}) {
    EXPECT_EQ(json[field].size(), 5U) << field;
  }
  EXPECT_EQ(json["passes"][0].size(), 11U);
  EXPECT_EQ(json["samples"]["permitted_speed_kmh"][0].size(), 4U);
  EXPECT_TRUE(envelope_to_json(sample_envelope_of_one())["samples"].is_null());
}

}  // namespace
}  // namespace panup
