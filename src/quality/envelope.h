#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/energy_supply.h"
#include "line/route.h"
#include "quality/evenly_spaced.h"

namespace panup {

/// Permitted speed over distance is asked for, at every speed.
struct EnvelopeRequest : EvenlySpaced {
  std::vector<double> speeds_kmh;  ///< rising
  const RuleBook* rules = nullptr;
  int samples = 0;         ///< of lines and pantographs within the tolerances; 0: none
  std::uint64_t seed = 1;  ///< of the samples
};

/// One distance at one speed, in the worse direction of running.
struct EnvelopeCell {
  bool passes = false;
  double margin = 0;      ///< of the deciding criterion, as a share of its limit; below 0: fails
  std::string criterion;  ///< id of the deciding rule
  int pantograph = 0;     ///< that decides, counted from the front from 1; 0: the line
  Knuckle knuckle = Knuckle::leading;  ///< the worse direction
  bool coarse = false;                 ///< of a run in a longer step; see `CoarseRuns`
};

/// What the table of least distances says, as a stair: from `distance_m` on, `speed_kmh`.
struct PublishedStep {
  double distance_m = 0;
  double speed_kmh = 0;
};
struct PublishedSpeeds {
  DesignType type{};
  std::vector<PublishedStep> steps;  ///< by rising distance and speed
};

/// At one distance: the permitted speed of each sample, as drawn.
struct SampledSpeeds {
  std::vector<double> permitted_speed_kmh;
};

struct Envelope {
  std::string line_id;
  std::string line_name;
  std::string pantograph_id;
  std::string pantograph_name;
  bool invented = false;          ///< line or pantograph are
  std::string line_source;        ///< where its figures come from; may be empty
  std::string pantograph_source;  ///< likewise
  LineWeather weather;            ///< of the runs
  std::optional<EnergySupply> supply;
  double static_force_n = 0;
  int count = 2;
  std::vector<Knuckle> knuckles;
  double wave_speed_kmh = 0;
  std::vector<double> spacings_m;
  std::vector<double> speeds_kmh;
  std::vector<std::vector<EnvelopeCell>> cells;  ///< by distance, then by speed
  /// By distance. What it hangs on is told of the least that inputs can be named of.
  std::vector<PermittedSpeed> permitted;
  std::vector<PublishedSpeeds> published;  ///< by design type; empty without a system
  std::string published_source;
  std::vector<SampledSpeeds> samples;   ///< by distance; empty where none were drawn
  std::vector<std::string> tolerances;  ///< what the samples vary, in words
  std::uint64_t seed = 0;
  std::vector<std::string> criteria;    ///< the criteria in force, in words, with their sources
  std::vector<std::string> not_judged;  ///< in words: what was not asked, and why
};

/// Is told of a cell, by the indices of its distance and of its speed.
using CellKnown =
    std::function<void(std::size_t spacing, std::size_t speed, const EnvelopeCell& cell)>;

/// Who waits for cells is told of them on the thread of the caller, before the edges are looked
/// for. The envelope is the same, to the last bit, whether somebody waits or not.
struct CellsAwaited {
  /// Of each cell once, as a run in a longer step has it, however near to a limit: cells that lie
  /// far apart first, so that the whole is soon seen. Empty: cells are not looked at beforehand.
  CellKnown at_first_sight = {};
  /// Of each cell once, by rising distance, then by rising speed: as it stays.
  CellKnown known = {};
};

/// Computes it; nothing where the runs were stopped. The rule book has a rule of kind
/// `speed-by-mechanics` in force, and one of kind `tolerances` where samples are asked for.
std::optional<Envelope> compute_envelope(const EnvelopeRequest& request, const RunSource& runs,
                                         const CellsAwaited& awaited = {});

}  // namespace panup
