#include <algorithm>
#include <array>

#include "plan/plan.h"

namespace panup {

std::string_view name_of(Answer answer) {
  switch (answer) {
    case Answer::permitted:
      return "permitted";
    case Answer::consent_needed:
      return "consent needed";
    case Answer::none:
      return "no permitted configuration";
  }
  return {};
}

std::string_view name_of(Action action) {
  switch (action) {
    case Action::raise:
      return "raise";
    case Action::lower:
      return "lower";
    case Action::breaker_off:
      return "breaker off";
    case Action::breaker_on:
      return "breaker on";
    case Action::speed:
      return "speed";
    case Action::power:
      return "power";
    case Action::stop_short:
      return "stop short";
    case Action::tow:
      return "dead in tow";
    case Action::reverse:
      return "reverse";
    case Action::shunt:
      return "shunt";
  }
  return {};
}

std::string_view name_of(SpeedFrom from) {
  switch (from) {
    case SpeedFrom::tables:
      return "tables";
    case SpeedFrom::mechanics:
      return "mechanics";
    case SpeedFrom::both:
      return "both";
  }
  return "";
}

std::optional<SpeedFrom> speed_from_named(std::string_view name) {
  static constexpr std::array all{SpeedFrom::tables, SpeedFrom::mechanics, SpeedFrom::both};
  const auto* const found =
      std::ranges::find(all, name, [](SpeedFrom from) { return name_of(from); });
  return found == all.end() ? std::nullopt : std::optional(*found);
}

}  // namespace panup
