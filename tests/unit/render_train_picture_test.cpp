#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "pictures/train_picture.h"
#include "sample_plan.h"

namespace panup {
namespace {

constexpr double width = 1200;

std::vector<const Mark*> marks_of(const Picture& picture, const std::string& of) {
  std::vector<const Mark*> marks;
  for (const Mark& mark : picture.marks) {
    if (mark.of == of) {
      marks.push_back(&mark);
    }
  }
  return marks;
}

const PicturePlace* place_of(const Picture& picture, const std::string& of) {
  const auto found = std::ranges::find(picture.places, of, &PicturePlace::of);
  return found == picture.places.end() ? nullptr : &*found;
}

Picture first_of(const Plan& plan) {
  return train_picture(plan.train, shown_on(plan.sections.front()), width);
}

bool has_text(const Picture& picture, const std::string& of, const std::string& words) {
  return std::ranges::any_of(marks_of(picture, of), [&words](const Mark* mark) {
    const auto* const text = std::get_if<TextMark>(&mark->is);
    return text != nullptr && text->words == words;
  });
}

TEST(TrainPicture, EveryMarkBelongsToSomething) {
  for (const auto& [name, plan] : all_sample_plans()) {
    for (const Mark& mark : first_of(plan).marks) {
      EXPECT_FALSE(mark.of.empty()) << name << ' ' << mark.is.index();
    }
  }
}

TEST(TrainPicture, EveryVehicleLoadAndPantographIsDrawnAndCanBePointedAt) {
  for (const auto& [name, plan] : all_sample_plans()) {
    const Picture picture = first_of(plan);
    int loads = 0;
    std::vector<std::string> parts{"wire", "direction", "scale"};
    for (const ConsistItem& item : plan.train.consist) {
      if (const auto* const vehicle = std::get_if<Vehicle>(&item)) {
        const std::string number = std::to_string(vehicle->number);
        parts.push_back("vehicle " + number);
        for (const RoofPantograph& roof : vehicle->type->pantographs) {
          parts.push_back("pantograph " + number + "." + std::to_string(roof.number));
        }
      } else {
        parts.push_back("load " + std::to_string(++loads));
      }
    }
    for (const std::string& part : parts) {
      EXPECT_FALSE(marks_of(picture, part).empty()) << name << ' ' << part;
    }
    for (std::size_t i = 3; i < parts.size(); ++i) {
      EXPECT_NE(place_of(picture, parts[i]), nullptr) << name << ' ' << parts[i];
    }
  }
}

TEST(TrainPicture, PlacesOfPantographsAreLargeEnoughToPointAt) {
  for (const auto& [name, plan] : all_sample_plans()) {
    for (const double wide : {400.0, 1200.0}) {
      const Picture picture = train_picture(plan.train, shown_on(plan.sections.front()), wide);
      for (const PicturePlace& place : picture.places) {
        if (place.of.starts_with("pantograph")) {
          EXPECT_GE(place.box.width, least_place_pt) << name << ' ' << place.of;
          EXPECT_GE(place.box.height, least_place_pt) << name << ' ' << place.of;
        }
        EXPECT_GE(place.box.x, 0) << name << ' ' << place.of;
        EXPECT_LE(place.box.right(), wide + 0.001) << name << ' ' << place.of;
        EXPECT_LE(place.box.bottom(), picture.height) << name << ' ' << place.of;
      }
    }
  }
}

TEST(TrainPicture, APlaceReachesFromTheWireToTheRoofThatThePantographStandsOn) {
  const Picture picture = first_of(sample_plan());
  const PicturePlace* const pantograph = place_of(picture, "pantograph 1.1");
  const PicturePlace* const vehicle = place_of(picture, "vehicle 1");
  ASSERT_TRUE(pantograph != nullptr && vehicle != nullptr);
  EXPECT_DOUBLE_EQ(pantograph->box.y, *picture.wire_y);
  EXPECT_GT(pantograph->box.bottom(), vehicle->box.y);
  EXPECT_LT(pantograph->box.bottom(), vehicle->box.bottom());
  EXPECT_DOUBLE_EQ(vehicle->box.bottom(), *picture.rail_y);
}

TEST(TrainPicture, RaisedPantographsTouchTheWire) {
  const Plan plan = sample_plan();
  const Picture picture = first_of(plan);
  for (const PicturePlace& place : picture.places) {
    if (!place.of.starts_with("pantograph")) {
      continue;
    }
    double highest = picture.height;
    for (const Mark* const mark : marks_of(picture, place.of)) {
      if (const auto* const area = std::get_if<AreaMark>(&mark->is)) {
        const bool strip = std::ranges::all_of(
            area->points, [&](const Point& point) { return point.y >= *picture.wire_y - 0.001; });
        if (strip) {
          highest = std::min(highest, area->points.front().y);
        }
      }
    }
    const auto& raised = plan.sections.front().raised;
    const bool up = std::ranges::any_of(
        raised, [&place](PantographRef ref) { return place.of == "pantograph " + to_string(ref); });
    if (up) {
      EXPECT_NEAR(highest, *picture.wire_y, 1e-9) << place.of;
    } else {
      EXPECT_GT(highest, *picture.wire_y + 5) << place.of;
    }
  }
}

TEST(TrainPicture, TypeIsLargeEnoughForAScreen) {
  for (const auto& [name, plan] : all_sample_plans()) {
    for (const Mark& mark : first_of(plan).marks) {
      if (const auto* const text = std::get_if<TextMark>(&mark.is)) {
        EXPECT_GE(text->size, 9) << name << ' ' << text->words;
        EXPECT_GE(text->at.x, 0) << name << ' ' << text->words;
        EXPECT_LE(text->at.x + text->width, width + 0.01) << name << ' ' << text->words;
      }
    }
  }
}

TEST(TrainPicture, SaysInWordsWhatItShows) {
  const Plan plan = diamond_plan();
  const Picture picture = first_of(plan);
  EXPECT_NE(picture.told.find("Up: 1."), std::string::npos) << picture.told;
  EXPECT_NE(picture.told.find("Vehicle 2"), std::string::npos);
  EXPECT_NE(picture.told.find("goes dead in tow"), std::string::npos);
  EXPECT_NE(picture.told.find("diamond"), std::string::npos);
  const std::string banked = first_of(banking_plan()).told;
  EXPECT_NE(banked.find(", dangerous."), std::string::npos) << banked;
  EXPECT_LT(banked.find("Vehicle 1"), banked.find("Load: "));
  EXPECT_LT(banked.find("Load: "), banked.find("Vehicle 2"));
  const Plan sample = sample_plan();
  const auto defective = std::ranges::find_if(sample.train.consist, [](const ConsistItem& item) {
    const auto* const vehicle = std::get_if<Vehicle>(&item);
    return vehicle != nullptr && !vehicle->defective.empty();
  });
  ASSERT_NE(defective, sample.train.consist.end());
  EXPECT_NE(first_of(sample).told.find("defective and stays down"), std::string::npos);
}

TEST(TrainPicture, LoadsKeepTheirNumbersWhenTheTrainRunsBack) {
  Plan plan = banking_plan();
  LoadGroup second = std::get<LoadGroup>(plan.train.consist[1]);
  second.nature = LoadNature::sensitive;
  plan.train.consist.emplace_back(second);
  ShownTrain shown = shown_on(plan.sections.front());
  for (const bool reversed : {false, true}) {
    shown.reversed = reversed;
    const Picture picture = train_picture(plan.train, shown, width);
    EXPECT_TRUE(has_text(picture, "load 1", "DANGEROUS")) << reversed;
    EXPECT_TRUE(has_text(picture, "load 2", "SENSITIVE")) << reversed;
    EXPECT_EQ(place_of(picture, "load 1")->box.x < place_of(picture, "load 2")->box.x, !reversed);
  }
}

TEST(TrainPictures, SectionsThatShowTheSameShareAPicture) {
  const Plan plan = sample_plan();
  const TrainPictures all = train_pictures(plan, width);
  ASSERT_EQ(all.of_section.size(), plan.sections.size());
  EXPECT_LT(all.pictures.size(), plan.sections.size());
  const std::set<std::size_t> used(all.of_section.begin(), all.of_section.end());
  EXPECT_EQ(used.size(), all.pictures.size());
  for (std::size_t i = 0; i < plan.sections.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      EXPECT_EQ(all.of_section[i] == all.of_section[k],
                shown_on(plan.sections[i]) == shown_on(plan.sections[k]));
    }
  }
}

}  // namespace
}  // namespace panup
