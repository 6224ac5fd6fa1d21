#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "quality/evenly_spaced.h"

namespace panup {

/// A pantograph model of a table.
struct TablePantograph {
  PantographModel model;
  double static_force_n = 0;      ///< on the supply of the table
  std::vector<Knuckle> knuckles;  ///< directions of running; the worst one counts
};

/// Permitted speeds are asked for on each line, with each model, each number of raised pantographs
/// and each distance between them.
struct SpeedTableRequest {
  std::vector<const ContactLine*> lines;     ///< ids differ
  std::vector<TablePantograph> pantographs;  ///< ids differ
  std::optional<EnergySupply> supply;        ///< nothing: what hangs on the system is not judged
  std::vector<int> counts;                   ///< rising, 1 to 8
  std::vector<double> spacings_m;            ///< rising; may be empty where one alone is raised
  double to_kmh = 0;                         ///< the greatest speed of interest
  SimulationSettings settings;
  const RuleBook* rules = nullptr;
  int samples = 0;         ///< of lines and pantographs within the tolerances; 0: none
  std::uint64_t seed = 1;  ///< of the samples
};

struct SpeedTableRow {
  std::size_t line = 0;
  std::size_t pantograph = 0;
  int count = 1;
  double spacing_m = 0;  ///< 0 for one pantograph
  /// Without the speeds that were judged, which are counted below.
  PermittedSpeed permitted;
  Knuckle knuckle = Knuckle::leading;  ///< the direction of running that decides
  std::size_t judged = 0;           ///< speeds, in the direction and with the supports that decide
  std::size_t coarse = 0;           ///< of them by a run in a longer step; see `CoarseRuns`
  std::vector<double> samples_kmh;  ///< the permitted speed of each sample, as drawn
};

struct SpeedTable {
  std::vector<SpeedTableRow> rows;      ///< by line, pantograph, count, distance
  std::vector<double> wave_speeds_kmh;  ///< by line
  std::vector<std::string> tolerances;  ///< what the samples vary, in words
  std::vector<std::string> criteria;    ///< the criteria in force, in words, with their sources
  std::vector<std::string> not_judged;  ///< in words: what was not asked, and why
};

/// What a table costs: what has been done of it, and about what is left.
struct TableCost {
  std::size_t kept = 0;      ///< runs asked for so far that were kept already
  std::size_t computed = 0;  ///< runs so far
  double spent_core_s = 0;   ///< so far
  std::size_t runs_left = 0;
  double core_s_left = 0;

  std::size_t runs() const { return kept + computed + runs_left; }
  double core_s() const { return spent_core_s + core_s_left; }
};

/// Is told once of what the table costs: as soon as that is known, which takes some runs of it.
/// Where it says no, the work ends.
using CostKnown = std::function<bool(const TableCost&)>;

/// Where the runs of a table come from, and what computing them has cost so far. The processes of a
/// job are told alike.
struct TableRuns {
  RunSource runs;
  std::function<RunsSpent()> spent;
};

/// Computes it; nothing where the runs were stopped, or `known` said no. The rule book has a rule
/// of kind `speed-by-mechanics` in force, and one of kind `tolerances` where samples are asked for.
///
/// First come a few rows of each line, pantograph and number raised, which tell the cost of the
/// rest. Whatever is finished is not asked for again, and lines are drawn as they are needed. Same
/// request, same table to the last bit, wherever the runs come from. A row's speed is that of
/// `permitted_speeds`.
std::optional<SpeedTable> compute_speed_table(const SpeedTableRequest& request,
                                              const TableRuns& runs, const CostKnown& known = {});

}  // namespace panup
