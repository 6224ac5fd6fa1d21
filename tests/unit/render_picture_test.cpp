#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "drawing/picture_canvas.h"
#include "drawing/picture_json.h"

namespace panup {
namespace {

std::vector<TextMark> texts_of(const Picture& picture) {
  std::vector<TextMark> texts;
  for (const Mark& mark : picture.marks) {
    if (const auto* const text = std::get_if<TextMark>(&mark.is)) {
      texts.push_back(*text);
    }
  }
  return texts;
}

TEST(PictureCanvas, MarksBelongToTheInnermostPartThatIsBeingDrawn) {
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.disc({1, 1}, 1);
  {
    const PartOf vehicle(canvas, "vehicle 1");
    canvas.disc({2, 2}, 1);
    {
      const PartOf pantograph(canvas, "pantograph 1.2");
      canvas.disc({3, 3}, 1);
    }
    canvas.disc({4, 4}, 1);
  }
  canvas.disc({5, 5}, 1);
  std::vector<std::string> parts;
  for (const Mark& mark : picture.marks) {
    parts.push_back(mark.of);
  }
  EXPECT_EQ(parts, (std::vector<std::string>{"", "vehicle 1", "pantograph 1.2", "vehicle 1", ""}));
}

TEST(PictureCanvas, WhatIsDrawnInWhiteIsWhite) {
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.clear_polyline({{0, 0}, {1, 1}}, 3);
  canvas.fill(Box{0, 0, 2, 2}, Ink::white);
  canvas.fill({{0, 0}, {1, 0}, {1, 1}}, Ink::white);
  canvas.line({0, 0}, {1, 0}, {.width = 0.7, .dash = 2});
  canvas.fill(Box{0, 0, 2, 2});
  const auto& clear = std::get<LineMark>(picture.marks[0].is);
  EXPECT_TRUE(clear.white);
  EXPECT_EQ(clear.width, 3);
  EXPECT_TRUE(std::get<AreaMark>(picture.marks[1].is).white);
  EXPECT_TRUE(std::get<AreaMark>(picture.marks[2].is).white);
  const auto& line = std::get<LineMark>(picture.marks[3].is);
  EXPECT_FALSE(line.white);
  EXPECT_EQ(line.dash, 2);
  const auto& black = std::get<AreaMark>(picture.marks[4].is);
  EXPECT_FALSE(black.white);
  EXPECT_FALSE(black.grey);
  ASSERT_EQ(black.points.size(), 4U);
  EXPECT_EQ(black.points[2].x, 2);
  EXPECT_EQ(black.points[2].y, 2);
}

TEST(PictureCanvas, GreyBoxesAreAreasOfTheirLevel) {
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.shade({{0, 0, 1, 1}, {1, 0, 1, 1}}, 0.4);
  ASSERT_EQ(picture.marks.size(), 2U);
  EXPECT_EQ(std::get<AreaMark>(picture.marks[1].is).grey, 0.4);
}

TEST(PictureCanvas, HatchingIsOneMark) {
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.hatch({{0, 0, 5, 5}, {5, 0, 5, 9}}, 3, {.width = 0.5});
  canvas.hatch(std::vector<Box>{}, 3, {.width = 0.5});
  ASSERT_EQ(picture.marks.size(), 1U);
  EXPECT_EQ(std::get<HatchMark>(picture.marks[0].is).boxes.size(), 2U);
}

TEST(PictureCanvas, EachLineOfATextIsAMarkOnItsBaseline) {
  const TextSetter setter;
  const Text text = setter.set("petrol in tank wagons, 420.0 m", {.size_pt = 10}, 70);
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.text(text, {100, 200});
  const std::vector<TextMark> lines = texts_of(picture);
  ASSERT_GE(lines.size(), 2U);
  std::string words;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    EXPECT_DOUBLE_EQ(lines[i].at.x, 100) << "ranged left";
    EXPECT_LE(lines[i].width, 70.001);
    EXPECT_GT(lines[i].width, 5);
    if (i > 0) {
      EXPECT_GT(lines[i].at.y, lines[i - 1].at.y + 9) << "below the line before";
    }
    words += (i > 0 ? " " : "") + lines[i].words;
  }
  EXPECT_EQ(words, "petrol in tank wagons, 420.0 m");
  EXPECT_DOUBLE_EQ(lines[0].at.y, 200 + text.baseline());
  EXPECT_LT(lines.back().at.y, 200 + text.height());
}

TEST(PictureCanvas, EachStyleOfALineIsAMarkAndTheyFollowEachOther) {
  const TextSetter setter;
  const TextStyle bold{.size_pt = 9, .weight = FontWeight::bold};
  const TextStyle struck{.size_pt = 12, .weight = FontWeight::regular, .struck = true};
  const Text text = setter.set({{"travel ", bold}, {"  ·  ", bold}, {"1.2", struck}});
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.text(text, {0, 0}, Ink::white);
  const std::vector<TextMark> marks = texts_of(picture);
  ASSERT_EQ(marks.size(), 3U);
  EXPECT_EQ(marks[0].words, "travel");
  EXPECT_EQ(marks[0].weight, FontWeight::bold);
  EXPECT_EQ(marks[1].words, "·");
  EXPECT_GT(marks[1].at.x, marks[0].at.x + marks[0].width + 2) << "the spaces between are kept";
  EXPECT_EQ(marks[2].words, "1.2");
  EXPECT_EQ(marks[2].size, 12);
  EXPECT_TRUE(marks[2].struck);
  EXPECT_NEAR(marks[2].at.x + marks[2].width, text.width(), 0.01);
  EXPECT_EQ(marks[0].at.y, marks[2].at.y) << "one baseline";
  EXPECT_TRUE(marks[0].white);
}

TEST(PictureCanvas, LinesInTheMiddleStandInTheMiddle) {
  const TextSetter setter;
  const Text text = setter.set("one\nlonger line", {.size_pt = 9}, 200, TextAlign::centre);
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.text(text, {10, 0});
  const std::vector<TextMark> lines = texts_of(picture);
  ASSERT_EQ(lines.size(), 2U);
  for (const TextMark& line : lines) {
    EXPECT_NEAR(line.at.x + line.width / 2, 110, 0.01) << line.words;
  }
}

TEST(PictureCanvas, NoJoinersAreLeftInWords) {
  const TextSetter setter;
  Picture picture;
  PictureCanvas canvas(picture);
  canvas.text(setter.set("80 km/h at km 12–14", {.size_pt = 9}), {0, 0});
  EXPECT_EQ(texts_of(picture)[0].words, "80 km/h at km 12–14");
}

TEST(PictureJson, SaysWhatAPageNeedsToDrawIt) {
  Picture picture;
  picture.width = 100;
  picture.height = 50;
  picture.told = "A line.";
  picture.wire_y = 12.3456;
  picture.places.push_back({"vehicle 1", {1, 2, 3, 4}});
  PictureCanvas canvas(picture);
  {
    const PartOf part(canvas, "wire");
    canvas.line({0, 1.23456}, {-0.001, 2}, {.width = 1.4});
  }
  canvas.text(TextSetter().set("6", {.size_pt = 9, .weight = FontWeight::semibold}), {0, 0});
  const auto json = picture_to_json(picture);
  EXPECT_EQ(json["width"], 100);
  EXPECT_EQ(json["told"], "A line.");
  EXPECT_EQ(json["wire_y"], 12.35);
  EXPECT_FALSE(json.contains("rail_y")) << "not stated";
  EXPECT_EQ(json["places"][0].dump(),
            R"({"of":"vehicle 1","x":1.0,"y":2.0,"width":3.0,"height":4.0})");
  EXPECT_EQ(json["marks"][0].dump(),
            R"({"of":"wire","is":"line","points":[[0.0,1.23],[0.0,2.0]],"closed":false,)"
            R"("width":1.4,"dash":0.0,"white":false})");
  EXPECT_FALSE(json["marks"][1].contains("of"));
  EXPECT_EQ(json["marks"][1]["weight"], 600);
}

}  // namespace
}  // namespace panup
