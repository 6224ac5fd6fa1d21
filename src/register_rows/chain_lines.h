#pragma once

#include <map>
#include <string>
#include <vector>

#include "register_rows/sections.h"

namespace panup {

/// A section on a line, with the line's kilometres. Those rise, whichever end the register calls
/// the start.
struct PlacedSection {
  std::size_t section = 0;  ///< index
  bool turned = false;      ///< the line comes to its `to` first
  double from_km = 0;
  double to_km = 0;
};

/// A line of the network, or a part of one: sections that join.
struct ChainedLine {
  std::string id;
  std::string national;  ///< the national line
  std::vector<PlacedSection> sections;
  bool start_told = false;  ///< its kilometres are those of the posts as far as the reader says so
  bool goes_on = false;     ///< its kilometres are counted from where another line begins
};

/// Kilometres at which lines begin, by id of the line.
using LineStarts = std::map<std::string, double, std::less<>>;

/// Chains sections into lines: by national line, where one ends at the operational point where the
/// next begins. A line runs the way most of its sections run from start to end. Where it forks,
/// where sections are missing or left out, and where a length is not known, a new line begins. Each
/// begins at km 0 unless `starts` says otherwise, or it goes on behind sections of known length
/// that were left out. Left out are sections without overhead line, without line speed, and those
/// of which line, ends or length are not known. `mistakes`: a start for a line that is not there.
std::vector<ChainedLine> chain_lines(const std::vector<RegisterSection>& sections,
                                     const LineStarts& starts, const std::string& file,
                                     Diagnostics& mistakes, Diagnostics& notes);

}  // namespace panup
