#pragma once
/// How the sweep sees train and wire: whole micrometres, so that what just touches does so whatever
/// the sums it comes from. Used by `separation.cpp` alone.

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "judging/facts/separation.h"

namespace panup {

/// Positions of the front of the train at which a collector touches a zone, both ends included, in
/// half micrometres, so that the middle between two whole ones is a whole number too.
struct TouchRange {
  std::int64_t from = 0;
  std::int64_t to = 0;
};

/// All collectors against all zones.
struct ContactMap {
  std::size_t collectors = 0;
  std::size_t zones = 0;
  std::vector<TouchRange> ranges;    ///< collector by collector
  std::vector<std::int64_t> events;  ///< rising: where anything begins or ends

  bool touches(std::size_t collector, std::size_t zone, std::int64_t front) const {
    const TouchRange& range = ranges[collector * zones + zone];
    return range.from <= front && front <= range.to;
  }
};

/// Half micrometres of a length in metres; beyond a thousand kilometres all is one.
std::int64_t half_micrometres(double metres);
double metres(std::int64_t half_micrometres);

/// `longer` is added to every strip at both ends. Insulators are touched by nothing.
ContactMap contact_map(std::span<const SeparationZone> zones, std::span<const Collector> collectors,
                       std::int64_t longer = 0);

/// Sets of things that are joined: a forest with path halving.
class JoinedSets {
 public:
  void reset(std::size_t count);
  std::size_t find(std::size_t thing);
  void join(std::size_t a, std::size_t b);

 private:
  std::vector<std::size_t> parent_;
};

/// Joins, at a position of the front, zones (numbered from 0) and collectors (behind them) that
/// touch, and collectors that a conductor on the train joins.
void join_at(const ContactMap& map, std::span<const HighVoltageJoin> joins, std::int64_t front,
             JoinedSets& sets);

}  // namespace panup
