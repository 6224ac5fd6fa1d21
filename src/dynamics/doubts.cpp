#include "dynamics/simulate.h"

namespace panup {

std::string_view name_of(Doubt doubt) {
  switch (doubt) {
    case Doubt::near_wave_speed:
      return "near-wave-speed";
    case Doubt::not_clear_of_end:
      return "not-clear-of-end";
    case Doubt::few_spans:
      return "few-spans";
    case Doubt::energy:
      return "energy";
    case Doubt::contact_lost:
      return "contact-lost";
    case Doubt::mean_force:
      return "mean-force";
    case Doubt::static_force:
      return "static-force";
    case Doubt::height_not_stated:
      return "height-not-stated";
    case Doubt::support_stiffness:
      return "support-stiffness";
  }
  return "";
}

std::optional<Warning> static_force_warning(EnergySupply supply, double static_force_n) {
  double least = 60;
  double greatest = 90;
  Sentence source = to_say("Orden TMA/135/2023, annex II, and EN 50367 (both second hand)");
  if (supply == EnergySupply::dc_3kv) {
    least = 90;
    greatest = 120;
  } else if (supply == EnergySupply::dc_1500v) {
    least = 70;
    greatest = 140;
    source = to_say("EN 50367 (from memory)");
  }
  if (static_force_n >= least && static_force_n <= greatest) {
    return std::nullopt;
  }
  return Warning{
      Doubt::static_force,
      to_say("The static force of {:g} N is outside the published range on {}, "
             "{:g} to {:g} N: {}.",
             static_force_n, Sentence(std::string(name_of(supply)), {}), least, greatest, source)};
}

}  // namespace panup
