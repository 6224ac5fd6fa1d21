#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "line/route.h"
#include "register_rows/register_rows.h"
#include "register_rows/values.h"

namespace panup {

/// The columns of the first query, in the order of its variables.
enum class SectionColumn : std::uint8_t {
  section,
  line,
  from,
  from_name,
  to,
  to_name,
  length,
  track,
  line_type,
  supply,
  train_current,
  standstill_current,
  height_min,
  height_max,
  tsi_head,
  other_head,
  strip,
  metallic,
  force,
  limitation,
  document,
  dropping_device,
  raised_number,
  raised_distance,
  raised_speed,
  raised_old,
  speed,
  gradient,
  has_phase,
  has_system,
  temperature,
};
inline constexpr std::array<std::string_view, 31> section_columns{
    "sol",      "line",      "opStart",    "opStartName", "opEnd",       "opEndName", "lengthKm",
    "track",    "oclType",   "supply",     "trainA",      "standstillA", "heightMin", "heightMax",
    "tsiHead",  "otherHead", "strip",      "metallic",    "force",       "limited",   "mtuDoc",
    "add",      "raisedN",   "raisedM",    "raisedKmh",   "raisedOld",   "vmax",      "gradient",
    "hasPhase", "hasSystem", "temperature"};

/// A section of line as the register has it, its tracks taken together.
struct RegisterSection {
  std::string iri;
  std::string line;  ///< national line, as in the cell
  std::string from;  ///< IRIs of the operational points at its ends
  std::string from_name;
  std::string to;
  std::string to_name;
  std::optional<double> length_km;
  std::vector<std::string> tracks;        ///< that count
  std::vector<std::string> other_tracks;  ///< that do not
  bool overhead_line = true;              ///< false: it is known that there is none
  /// What it says for panup; the line speed is 0 where it is not known.
  LineProperties properties;
  std::vector<GradientPoint> gradients;  ///< by the kilometres of the line
  /// Whether it has phase and system separation sections; none: it is not said.
  std::optional<bool> has_phase;
  std::optional<bool> has_system;
  std::vector<std::string> doubts;  ///< what the file says beside it, a sentence each
  RegisterRow row;                  ///< the first of it, without cells

  /// Takes away the supply: nothing may be raised there until somebody has looked.
  void withhold_supply(std::string why);
};

/// Groups rows by section and track, and takes the tracks of a section together. Only `track`
/// counts where it is not empty and the section has it. Of several tracks, and of two values where
/// one is due, the stricter counts where it is clear which that is; else the value is unknown. What
/// a row leaves blank is unknown. Everything of this that a person should look at goes to `notes`.
std::vector<RegisterSection> sections_from(const RegisterRows& rows, const std::string& track,
                                           Diagnostics& notes);

}  // namespace panup
