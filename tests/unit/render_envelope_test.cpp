#include <gtest/gtest.h>

#include <algorithm>

#include "drawing/diagram_sheets.h"
#include "drawing/text_layout.h"
#include "drawn_texts.h"
#include "sample_envelope.h"

namespace panup {
namespace {

std::vector<DrawnText> texts_of(const EnvelopeReport& report) {
  const TextSetter setter;
  return texts_of_sheet(
      a4_landscape, 0, [&](Canvas& canvas, std::size_t) { draw_envelope(canvas, setter, report); });
}

TEST(EnvelopePicture, NoTextTouchesAnotherOrLeavesTheSheet) {
  std::vector<EnvelopeReport> reports{sample_envelope_of_one(), rough_envelope(),
                                      varied_envelope()};
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

bool shows(const std::vector<DrawnText>& texts, std::string_view words) {
  return std::ranges::find(texts, words, &DrawnText::text) != texts.end();
}

TEST(EnvelopePicture, EndsAtTheFirstAndLastDistanceAndSpeed) {
  const std::vector<DrawnText> texts = texts_of(sample_envelope(2, 2));
  for (const char* const end : {"10", "200", "60", "160"}) {
    EXPECT_TRUE(shows(texts, end)) << end;
  }
  for (const DrawnText& text : texts) {
    EXPECT_FALSE(text.text.starts_with("−")) << text.text;  // no distance below 0
  }
}

TEST(EnvelopePicture, SaysWhereNoSpeedIsPermittedAndNamesEveryShareOfTheSamples) {
  const std::vector<DrawnText> texts = texts_of(varied_envelope());
  for (const char* const words : {"none", "133", "half of samples pass", "90 % of samples pass",
                                  "all samples pass", "no run was possible", "W", "U"}) {
    EXPECT_TRUE(shows(texts, words)) << words;
  }
  EXPECT_FALSE(shows(texts_of(sample_envelope(20, 11)), "90 % of samples pass"));
}

TEST(EnvelopePicture, LeavesOutAllFiguresWhereSomeHaveNoRoom) {
  EXPECT_TRUE(shows(texts_of(sample_envelope(20, 11)), "109"));
  EXPECT_FALSE(shows(texts_of(sample_envelope(60, 11)), "109"));
}

TEST(EnvelopePicture, IsNotBlankAndShowsABandThatFails) {
  const auto png_of = [](const EnvelopeReport& report) { return render_envelope(report)[2].bytes; };
  const std::string blank = sheet_to_png(a4_landscape, 0, 2, [](Canvas&, std::size_t) {});
  EnvelopeReport report = sample_envelope(20, 11);
  const std::string with_band = png_of(report);
  EXPECT_EQ(with_band.substr(1, 3), "PNG");
  EXPECT_GT(with_band.size(), 10 * blank.size());
  EnvelopeCell& cell = report.envelope.cells[10][2];
  ASSERT_TRUE(cell.passes);
  cell.passes = false;
  EXPECT_NE(png_of(report), with_band);
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

TEST(FailingBands, AreFoundBetweenTwoSpeedsThatPass) {
  const EnvelopeReport report = varied_envelope();
  const auto bands = failing_bands(report.envelope);
  const auto between =
      std::ranges::find(bands, report.envelope.spacings_m[11], &FailingBand::spacing_m);
  ASSERT_NE(between, bands.end());
  EXPECT_EQ(between->from_kmh, 134);
  EXPECT_EQ(between->to_kmh, 134);
  EXPECT_EQ(between->passes_again_kmh, 140);
  EXPECT_EQ(between->criterion, "force-deviation");
}

TEST(FailingBands, AreNoneWhereNothingFasterPasses) {
  EXPECT_TRUE(failing_bands(sample_envelope_of_one().envelope).empty());
}

TEST(SampleShares, AreTheSpeedsThatSoManyPass) {
  const EnvelopeReport report = varied_envelope();  // 12 samples, 3 km/h apart from 150 km/h down
  const auto shares = sample_shares(report.envelope, {});
  ASSERT_EQ(shares.size(), 3U);
  EXPECT_EQ(shares[0].speeds_kmh[0], 150 - 5 * 3);   // 6 of 12 reach it
  EXPECT_EQ(shares[1].speeds_kmh[0], 150 - 10 * 3);  // 11 of 12 are the first to be 90 %
  EXPECT_EQ(shares[2].speeds_kmh[0], 150 - 11 * 3);
  EXPECT_EQ(shares[2].speeds_kmh[8], 0);
  EXPECT_TRUE(sample_shares(sample_envelope_of_one().envelope, {}).empty());
}

TEST(PublishedTable, IsReadAsAStairAndSaysNothingBelowItsLeastDistance) {
  const PublishedSpeeds table{DesignType::a, {{8, 80}, {20, 120}}};
  EXPECT_EQ(published_speed(table, 7.9), std::nullopt);
  EXPECT_EQ(published_speed(table, 8), 80);
  EXPECT_EQ(published_speed(table, 19.9), 80);
  EXPECT_EQ(published_speed(table, 20), 120);
}

TEST(PublishedTable, IsComparedWithThePermittedSpeedByDesignType) {
  // Permitted are 110 km/h at 10 m, 109 at 20 to 40, 142 to 148 from 50 m on.
  const auto lines = comparison_with_published(sample_envelope(20, 11).envelope, {});
  ASSERT_EQ(lines.size(), 3U);
  EXPECT_EQ(lines[0],
            "Type A: the permitted speed is below the table's at 20 m to 40 m, 90 m to 200 m.");
  EXPECT_EQ(lines[2], "Type C: the permitted speed is below the table's at 20 m to 200 m.");
  Envelope fast = sample_envelope(20, 11).envelope;
  for (PermittedSpeed& permitted : fast.permitted) {
    permitted.speed_kmh = 160;
  }
  EXPECT_EQ(comparison_with_published(fast, {})[0],
            "Type A: at no distance is the permitted speed below the table's.");
}

TEST(EnvelopeText, FitsATerminalAndNamesBandsEdgesAndSamples) {
  for (const EnvelopeReport& report :
       {sample_envelope(20, 11), varied_envelope(), rough_envelope(), sample_envelope_of_one()}) {
    const std::string whole = envelope_to_text(report);
    std::size_t from = 0;
    while (from < whole.size()) {
      const std::size_t to = whole.find('\n', from);
      EXPECT_LE(columns_of(whole.substr(from, to - from)), 100U);
      from = to + 1;
    }
  }
  const std::string text = envelope_to_text(sample_envelope(20, 11));
  for (const char* const words :
       {"PERMITTED SPEED", "FAILING BANDS",
        "30 m apart: 110 to 120 km/h, by contact-loss; 130 km/h passes", "half of samples pass",
        "all samples pass", "type B", "at most 1 km/h", "10 °C, no ice",
        "Type C: the permitted speed is below the table's at", "edge", "standard deviation 21.0 N",
        "WHAT THE SPEED HANGS ON", "10 m apart. At 111 km/h the standard deviation", "from memory",
        "no consent", "CAUTIONS", "t-140.toml"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
  }
}

TEST(EnvelopeText, SaysHowManyCellsALongerRunDecidedIfAnyDid) {
  EnvelopeReport report = sample_envelope(5, 11);
  for (auto& cells : report.envelope.cells) {
    for (EnvelopeCell& cell : cells) {
      cell.coarse = false;
    }
  }
  EXPECT_EQ(envelope_to_text(report).find("longer step"), std::string::npos);
  report.envelope.cells[0][0].coarse = report.envelope.cells[4][1].coarse = true;
  EXPECT_NE(envelope_to_text(report).find("2 of 55 cells were decided by a run in a longer step"),
            std::string::npos);
}

TEST(EnvelopeText, OneRaisedPantographHasNoDistance) {
  const std::string text = envelope_to_text(sample_envelope_of_one());
  EXPECT_NE(text.find("- At 111 km/h the contact loss of pantograph 2 is 21.00 %"),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("one T 1950"), std::string::npos);
  EXPECT_EQ(text.find("type A"), std::string::npos);
}

TEST(EnvelopeJson, HasAValueForEachDistanceAndCell) {
  const auto json = envelope_to_json(sample_envelope(5, 11));
  for (const char* const field :
       {"permitted_speed_kmh", "deciding_criterion", "passes", "margins", "edge_error_kmh",
        "step_kmh", "no_run", "criteria_at", "pantograph_at", "knuckle_at"}) {
    EXPECT_EQ(json[field].size(), 5U) << field;
  }
  EXPECT_EQ(json["passes"][0].size(), 11U);
  for (std::size_t d = 0; d < 5; ++d) {
    for (std::size_t v = 0; v < 11; ++v) {
      EXPECT_EQ(json["coarse"][d][v], json["margins"][d][v] > 0.3);
    }
  }
  EXPECT_EQ(json["samples"]["permitted_speed_kmh"][0].size(), 4U);
  EXPECT_EQ(json["conditions"]["temperature_c"], 10);
  EXPECT_EQ(json["line"]["source"], "a drawing of the test");
  EXPECT_EQ(json["not_judged"].size(), 1U);
  const auto bands = envelope_to_json(sample_envelope(20, 11))["failing_bands"];
  ASSERT_EQ(bands.size(), 3U);
  EXPECT_EQ(bands[1]["spacing_m"], 30);
  EXPECT_EQ(bands[1]["passes_again_kmh"], 130);
  EXPECT_TRUE(envelope_to_json(sample_envelope_of_one())["samples"].is_null());
}

}  // namespace
}  // namespace panup
