#pragma once
/// The room `records`: measured contact force. It reads the rows of a record one after the other,
/// evaluates them as EN 50317 asks, holds the figures against the criteria that runs of the
/// mechanics are held against, and sets them beside a simulation. What it keeps does not grow with
/// the rows. It knows nothing of TOML, trains and screens.
///
/// This header is what a record is said to be, beside its rows.

#include <optional>
#include <string>
#include <vector>

#include "base/energy_supply.h"
#include "dynamics/pantograph_model.h"

namespace panup {

/// A column of the rows: its heading, and what a value in it is multiplied by to have the unit in
/// which it is kept.
struct RecordColumn {
  std::string heading;
  double factor = 1;
};

/// Which column has what. There is a chainage, or time and a speed.
struct RecordColumns {
  std::optional<RecordColumn> chainage;    ///< to metres
  std::optional<RecordColumn> time;        ///< to seconds
  RecordColumn force;                      ///< to newtons
  std::optional<RecordColumn> speed;       ///< to km/h; nothing: the record's `speed_kmh`
  std::optional<RecordColumn> pantograph;  ///< nothing: one alone was measured
};

/// How the rows are written.
struct RecordLayout {
  char separator = 0;  ///< 0: that of `,`, `;` and tab which is most frequent in the heading
  char decimal = '.';
  int heading_line = 1;
  int rows_from_line = 2;
  std::vector<std::string> missing{"", "nan", "NaN"};  ///< cells that say: no force was measured
  bool leave_out_bad_rows = false;                     ///< else a bad row is a mistake
};

/// One run of the train along the line, in a file of its own.
struct RecordRun {
  std::string id;
  std::string file;
  double begins_at_m = 0;  ///< chainage of its first row, where no column has it
};

/// A raised pantograph of the train, first in front.
struct RecordedPantograph {
  std::string id;        ///< as it stands in the column
  bool measured = true;  ///< else it was raised, and no force of it is in the record
  std::string model;     ///< file of its mechanical model; empty: none named
  Knuckle knuckle = Knuckle::leading;
  double behind_first_m = 0;
};

/// A stretch with its supports, by chainage; rising.
struct TensionLength {
  std::string id;
  std::vector<double> supports_m;  ///< two at least

  double from_m() const { return supports_m.front(); }
  double to_m() const { return supports_m.back(); }
};

struct MeasuredRecord {
  std::string id;
  std::string name;
  bool invented = false;
  std::string source;
  std::optional<EnergySupply> supply;
  /// Cut-off of the filter that the force went through before it was recorded; nothing: none did.
  std::optional<double> recorded_low_pass_hz;
  double sampled_every_m = 0;  ///< one of these two is 0
  double sampled_every_s = 0;
  std::optional<double> speed_kmh;
  double loss_at_or_below_n = 0;  ///< contact counts as lost where the force is no greater
  RecordColumns columns;
  RecordLayout layout;
  std::vector<RecordRun> runs;                  ///< one at least
  std::vector<RecordedPantograph> pantographs;  ///< one at least; some are measured
  std::vector<TensionLength> tension_lengths;   ///< rising, none over another; may be empty
  std::string contact_line;                     ///< file of the contact line; empty: none named
  /// Chainage of the contact line's first support; the line goes on with rising chainage, whichever
  /// way the train runs. Nothing: the line is of the type of the whole record.
  std::optional<double> contact_line_at_m;
};

/// Slower than this the wire is not excited, and rows by distance say nothing of time.
inline constexpr double least_measured_speed_kmh = 5;

/// Whether the force has to be low-pass filtered before it is evaluated.
bool needs_filter(const MeasuredRecord& record);

/// The cut-off that evaluated forces of the record have: 20 Hz, or less where it was recorded so.
double evaluated_low_pass_hz(const MeasuredRecord& record);

}  // namespace panup
