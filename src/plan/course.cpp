#include "plan/course.h"

namespace panup {

Course course_along(const PlanningCase& planning, const Way& way, PantographSet defective) {
  Course course;
  course.stands = stands_of(planning, way);
  course.currents = check_stand_currents(planning, course.stands, defective);
  course.places = check_stand_places(planning, course.stands);
  course.orders = place_orders(planning, way, course.currents, course.places.short_stops);
  course.powerless = powerless_stretches(planning, course.orders.all);
  return course;
}

}  // namespace panup
