#include "judging/limited_rules.h"

#include <algorithm>

namespace panup {

namespace {

/// What is not stated limits nothing.
bool admits(const std::vector<std::string>& stated, std::string_view value) {
  return stated.empty() || std::ranges::find(stated, value) != stated.end();
}

}  // namespace

bool holds_on(const OnlyFor& only_for, const Section& section) {
  return admits(only_for.sections, section.id) && admits(only_for.lines, section.line);
}

bool holds_for_load(const OnlyFor& only_for, const Train& train) {
  return only_for.loads.empty() || std::ranges::any_of(train.consist, [&](const ConsistItem& item) {
           const auto* const load = std::get_if<LoadGroup>(&item);
           return load != nullptr && admits(only_for.loads, name_of(load->nature));
         });
}

bool holds_for_class(const OnlyFor& only_for, const Vehicle& vehicle) {
  return admits(only_for.classes, vehicle.type->id);
}

bool holds_for(const OnlyFor& only_for, const Train& train) {
  return holds_for_load(only_for, train) &&
         (only_for.classes.empty() ||
          std::ranges::any_of(train.consist, [&](const ConsistItem& item) {
            const auto* const vehicle = std::get_if<Vehicle>(&item);
            return vehicle != nullptr && !vehicle->dead_in_tow &&
                   holds_for_class(only_for, *vehicle);
          }));
}

}  // namespace panup
