#include "plan/course.h"

namespace panup {

Course course_along(const PlanningCase& planning, const Way& way, PantographSet defective) {
  Course course;
  course.stands = stands_of(planning, way);
  course.currents = check_stand_currents(planning, course.stands, defective);
  course.orders = place_orders(planning, way, course.currents.helps);
  course.powerless = powerless_stretches(planning, course.orders.all);
  return course;
}

}  // namespace panup
