#include "serve/pictures.h"

#include "drawing/picture_json.h"
#include "pictures/separation_course.h"
#include "pictures/train_picture.h"

namespace panup {

PlanPictures pictures_of(const Plan& plan) {
  const TrainPictures drawn = train_pictures(plan, picture_width_pt);
  PlanPictures pictures;
  for (const Picture& picture : drawn.pictures) {
    pictures.pictures.push_back(picture_to_json(picture));
  }
  pictures.section_pictures = drawn.of_section;
  return pictures;
}

nlohmann::ordered_json separation_courses_of(const Plan& plan) {
  return separation_courses_to_json(separation_courses(plan));
}

}  // namespace panup
