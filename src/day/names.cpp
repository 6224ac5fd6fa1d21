#include <array>

#include "day/day.h"
#include "day/train_change.h"

namespace panup {

std::string_view name_of(Decision decision) {
  static constexpr std::array<std::string_view, decisions> names{
      "fault of the program", "input mistakes", "no permitted configuration",
      "consent needed",       "last resort",    "permitted"};
  return names.at(static_cast<std::size_t>(decision));
}

std::string_view name_of(TrainFate fate) {
  static constexpr std::array<std::string_view, train_fates> names{
      "no plan",  "no longer permitted", "consent needed", "last resort", "slower", "other",
      "unchanged"};
  return names.at(static_cast<std::size_t>(fate));
}

std::string_view name_of(OnCard part) {
  static constexpr std::array<std::string_view, parts_of_card> names{
      "the answer",         "the train",
      "the route",          "the stretches of route",
      "the orders",         "what is done when a pantograph fails",
      "what is to be known"};
  return names.at(static_cast<std::size_t>(part));
}

}  // namespace panup
