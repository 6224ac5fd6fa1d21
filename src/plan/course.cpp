#include "plan/course.h"

namespace panup {

namespace {

void follow(const PlanningCase& planning, PantographSet defective, Course& course) {
  course.stands = stands_of(planning, course.way);
  course.currents = check_stand_currents(planning, course.stands, defective);
  course.places = check_stand_places(planning, course.stands);
  course.orders = place_orders(planning, course.way, course.currents, course.places.short_stops);
  course.powerless = powerless_stretches(planning, course.orders);
}

}  // namespace

Course find_course(const PlanningCase& planning, PantographSet defective) {
  Course course;
  course.way = find_way(planning, defective);
  follow(planning, defective, course);
  course.ends_before = cannot_coast(planning, course.way, defective, course.powerless);
  if (course.ends_before) {
    course.way.raised[course.ends_before->piece] = blocked;
    follow(planning, defective, course);
  }
  return course;
}

}  // namespace panup
