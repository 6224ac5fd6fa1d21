#include "runs/run_key.h"

#include <bit>
#include <cstdint>
#include <map>
#include <string_view>

#include "base/sha256.h"
#include "runs/fingerprint.h"

namespace panup {

namespace {

/// SHA-256 over figures. What is added is told apart by its order and by the counts before lists.
class Digest {
 public:
  void bytes(std::string_view of) { digest_.add(of); }

  void add(std::uint64_t number) {
    std::string of;
    for (int shift = 0; shift < 64; shift += 8) {
      of.push_back(static_cast<char>(number >> shift & 0xffU));
    }
    bytes(of);
  }

  template <typename... Numbers>
  void figures(Numbers... numbers) {
    // Zero has two signs and one meaning.
    (add(std::bit_cast<std::uint64_t>(static_cast<double>(numbers) + 0.0)), ...);
  }

  std::string result() { return digest_.result(); }

 private:
  Sha256 digest_;
};

// Every struct is taken apart whole, so that a figure added to it cannot be forgotten here.

void add(Digest& digest, const Wire& wire) {
  const auto& [tension, mass, bending, axial, expansion, diameter, deviation] = wire;
  digest.figures(tension, mass, bending, axial, expansion, diameter, deviation);
}

void add(Digest& digest, const Support& support) {
  // Whether its stiffness was stated says nothing of the run.
  const auto& [encumbrance, stiffness, stated, mass, arm_mass, arm_stiffness, stitch] = support;
  digest.figures(encumbrance, stiffness, mass, arm_mass, arm_stiffness, stitch.has_value());
  if (stitch) {
    const auto& [wire, length] = *stitch;
    add(digest, wire);
    digest.figures(length);
  }
}

void add(Digest& digest, const Span& span) {
  const auto& [length, pre_sag, droppers] = span;
  digest.figures(length, pre_sag, droppers.size());
  for (const Dropper& dropper : droppers) {
    const auto& [at, stiffness, mass_below, mass_above, deviation] = dropper;
    digest.figures(at, stiffness, mass_below, mass_above, deviation);
  }
}

std::string digest_of(const ContactLine& line) {
  const auto& [id, name, invented, source, contact, contact_wires, messenger, termination,
               temperature, mass_damping, stiffness_damping, wire_height, uplift_space,
               uplift_limited, supports, spans, place] = line;
  Digest digest;
  add(digest, contact);
  add(digest, messenger);
  digest.figures(contact_wires, static_cast<int>(termination), temperature, mass_damping,
                 stiffness_damping, supports.size(), spans.size());
  digest.figures(wire_height.has_value(), wire_height.value_or(0));
  for (const Support& support : supports) {
    add(digest, support);
  }
  for (const Span& span : spans) {
    add(digest, span);
  }
  return digest.result();
}

void add(Digest& digest, const RunningPantograph& pantograph, double speed_kmh) {
  const auto& [model, static_force, knuckle, behind_first] = pantograph;
  const auto& [id, name, invented, source, masses, own_force, own_forces, at_height, leading,
               trailing, contact_stiffness, place] = model;
  digest.figures(static_force, aerodynamic_force(model, knuckle, speed_kmh), behind_first,
                 contact_stiffness, masses.size());
  digest.figures(at_height.has_value(), at_height.value_or(0));
  for (const PantographMass& mass : masses) {
    const auto& [kilograms, stiffness, damping] = mass;
    digest.figures(kilograms, stiffness, damping);
  }
}

void add(Digest& digest, const std::optional<double>& figure) {
  digest.figures(figure.has_value(), figure.value_or(0));
}

void add(Digest& digest, const SimulationSettings& settings) {
  const auto& [step, grid, from, to, weather, weather_given, keep_trace, balance_energy, guarded,
               near_only, wire_shapes, stopped] = settings;
  add(digest, step);
  add(digest, grid);
  add(digest, from);
  add(digest, to);
  digest.figures(guarded, near_only, weather_given);
  if (weather_given) {
    const auto& [temperature, contact_ice, messenger_ice] = weather;
    digest.figures(temperature, contact_ice, messenger_ice);
  }
}

}  // namespace

const std::string& mechanics_fingerprint() {
  static const std::string fingerprint(built_fingerprint);
  return fingerprint;
}

std::vector<std::string> run_keys(std::span<const SimulationRequest> requests) {
  // Lines live as long as this call at least, so that one address is one line.
  std::map<const ContactLine*, std::string> lines;
  std::vector<std::string> keys;
  keys.reserve(requests.size());
  for (const auto& [line, pantographs, speed, settings] : requests) {
    const auto [found, is_new] = lines.try_emplace(line);
    if (is_new) {
      found->second = digest_of(*line);
    }
    Digest digest;
    digest.bytes(mechanics_fingerprint());
    digest.bytes(found->second);
    digest.figures(speed, pantographs.size());
    for (const RunningPantograph& pantograph : pantographs) {
      add(digest, pantograph, speed);
    }
    add(digest, settings);
    keys.push_back(digest.result());
  }
  return keys;
}

}  // namespace panup
