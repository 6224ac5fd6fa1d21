#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "register_rows/chain_lines.h"

namespace panup {

/// The columns of the second query, in the order of its variables.
enum class SeparationColumn : std::uint8_t {
  section,
  track,
  kind,
  km,
  length,
  meaning,
  breaker_off,
  lowered,
  change,
  old,
};
inline constexpr std::array<std::string_view, 10> separation_columns{
    "sol", "track", "kind", "km", "lengthM", "lengthIs", "breakerOff", "lowered", "change", "old"};

/// A separation section on a line.
struct PlacedSeparation {
  std::size_t line = 0;     ///< index
  std::size_t section = 0;  ///< index of the section that has it
  SeparationSection what;   ///< without zones
  std::string comment;      ///< what the file says beside it
};

/// Places the separation sections of the register on the lines. What is not known of one is taken
/// on the safe side: pantographs lowered, breaker off. Of a section whose separations cannot be
/// placed, or of which it is not known whether there are any, the supply is withheld, so that
/// nothing may be raised there. `no_others`: the reader vouches for it that sections of which the
/// register does not say have none.
std::vector<PlacedSeparation> place_separations(const RegisterRows& rows, bool no_others,
                                                const std::vector<ChainedLine>& lines,
                                                std::vector<RegisterSection>& sections,
                                                const std::string& sections_file,
                                                Diagnostics& notes);

/// Cuts lines where the energy supply system changes outside a system separation section: there is
/// no way through. The parts behind are called after the line, with ".2" and so on behind.
void cut_where_systems_meet(std::vector<ChainedLine>& lines,
                            std::vector<PlacedSeparation>& separations,
                            std::vector<RegisterSection>& sections,
                            const std::string& sections_file, Diagnostics& notes);

/// Where a separation section lies in its section is known no better than where its line begins:
/// where that was not told, nothing may be raised in the section.
void withhold_where_starts_are_not_told(const std::vector<ChainedLine>& lines,
                                        const std::vector<PlacedSeparation>& separations,
                                        std::vector<RegisterSection>& sections);

}  // namespace panup
