#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/validity.h"
#include "stock/vehicle.h"

namespace panup {

enum class LoadNature : std::uint8_t { ordinary, dangerous, sensitive };

/// "ordinary", "dangerous", "sensitive".
std::string_view name_of(LoadNature nature);

/// The current a vehicle draws on one system, where the operator knows it.
struct CurrentDemand {
  EnergySupply supply{};
  double running_a = 0;     ///< traction and auxiliaries together
  double standstill_a = 0;  ///< auxiliaries at a stand
};

/// A locomotive or an electric unit in the train.
struct Vehicle {
  int number = 0;  ///< the V of `V.P`: counted over vehicles (not load groups) from the front at
                   ///< departure, from 1; kept through reversals. Vehicles that come to the train
                   ///< on its run get the next numbers: it is no index
  std::string id;  ///< its own running number, as painted on it
  std::shared_ptr<const VehicleType> type;
  Cab leading_cab = Cab::cab1;  ///< the cab at the front at departure
  bool dead_in_tow = false;
  std::vector<int> defective;         ///< numbers of pantographs that must stay down
  std::vector<int> kept_down;         ///< numbers of those that the operator orders to stay down
  std::vector<int> kept_up;           ///< and of those that are up wherever they may be
  std::vector<CurrentDemand> demand;  ///< empty: not stated
  std::string in_place_of = {};       ///< id of the type that the train file names, where another
                                      ///< one runs in its place; mostly empty
  Provenance provenance = {};
  SourcePlace place;
};

/// Wagons or coaches that stand together and have one nature.
struct LoadGroup {
  std::string name;
  double length_m = 0;
  LoadNature nature = LoadNature::ordinary;
  std::optional<double> highest_speed_kmh;
  RunningData running = {};  ///< as loaded
  bool control_car = false;  ///< at its outer end: the train is driven from there where it leads
  Provenance provenance = {};
  SourcePlace place;
};

using ConsistItem = std::variant<Vehicle, LoadGroup>;

/// A consent of the infrastructure manager, named in the train file or in a file of consents for
/// many trains. One for raised pantographs reads like a record of the line, for this train alone;
/// one for a rule answers what the rule says only needs consent.
struct Consent {
  std::string reference;
  std::string given_by;
  std::string rule;                   ///< id; empty: for raised pantographs, by the next three
  int number = 0;                     ///< number of raised pantographs it covers
  double distance_m = 0;              ///< least distance between adjacent ones that it covers
  double speed_kmh = 0;               ///< at this speed
  std::vector<std::string> sections;  ///< ids of route sections; empty: the whole route
  Validity valid = {};
  std::string file = {};  ///< that it stands in; empty: the train file
  SourcePlace place;
};

/// A consent that is there and does not count.
struct ConsentLeftOut {
  Consent consent;
  std::string because;  ///< one clause
};

/// An entry of a register of defects: a pantograph that stays down, whatever may still be possible
/// with it.
struct RegisteredDefect {
  std::string vehicle;              ///< its own running number, as painted on it
  int pantograph = 0;               ///< number on the vehicle
  std::string since;                ///< first day, as YYYY-MM-DD
  std::string until = {};           ///< last day, as YYYY-MM-DD; empty: not over yet
  std::string still_possible = {};  ///< in free words; shown, and changes nothing
  std::string reference = {};       ///< may be empty
  std::string file = {};            ///< the register it stands in
  SourcePlace place;
};

/// A conductor that joins the roof lines of vehicles, and with them their pantographs.
struct HighVoltageLine {
  std::vector<int> vehicles;   ///< numbers, rising; at least two
  bool can_be_opened = false;  ///< from the cab
  SourcePlace place;
};

/// A deviation from the rules that somebody answers for.
struct Deviation {
  std::string what;
  std::string by;
  std::string reason;
  SourcePlace place;
};

/// The issue of a card that another one replaces.
struct ReplacedIssue {
  int issue = 0;
  std::string issued_on;               ///< as YYYY-MM-DD
  std::vector<std::string> different;  ///< in the new one, one sentence each
};

/// What an office states of what it hands out: for which run of the train it is, who answers for
/// it, and until when it holds. What is not stated is empty, and is filled in by hand.
struct Release {
  std::string train_number;  ///< under which it runs
  std::string date;          ///< the one day it runs, as YYYY-MM-DD; empty where `days` says more
  std::string days;          ///< the days it runs, in free words
  std::optional<int> issue;  ///< of the card, counted by the office
  std::string made_by;
  std::string checked_by;
  std::string released_by;
  std::string holds_until;  ///< the last day, as YYYY-MM-DD
  std::optional<ReplacedIssue> replaces = {};
  std::vector<Deviation> deviations;
};

/// A train as it stands at departure, front first.
struct Train {
  std::string id;
  std::string name;
  std::string operated_by;
  bool invented = false;       ///< demo data; shown wherever the train is shown
  Provenance provenance = {};  ///< of the keys of the file outside of its tables
  std::optional<double> highest_speed_kmh;
  double acceleration_ms2 = 0;  ///< constant, for running time
  double braking_ms2 = 0;       ///< constant, for running time
  std::vector<ConsistItem> consist;
  std::vector<Consent> consents;                          ///< those that count on the day it runs
  std::vector<ConsentLeftOut> consents_left_out = {};     ///< for this train, but not on that day
  std::vector<std::string> consent_files = {};            ///< that were looked through for it
  std::vector<RegisteredDefect> registered_defects = {};  ///< those that count on the day it runs
  std::vector<std::string> defect_files = {};             ///< registers that were looked through
  std::vector<HighVoltageLine> high_voltage_lines;
  Release release;
  SourcePlace place;
};

/// One pantograph of a train: `V.P`.
struct PantographRef {
  int vehicle = 0;
  int pantograph = 0;
  friend auto operator<=>(const PantographRef&, const PantographRef&) = default;
};

/// "V.P", as in "2.1".
std::string to_string(PantographRef ref);
/// The inverse; nothing if the text is not of that form.
std::optional<PantographRef> pantograph_ref_from(std::string_view text);

/// The vehicle of this number; null if the train has none.
const Vehicle* vehicle_numbered(const Train& train, int number);
Vehicle* vehicle_numbered(Train& train, int number);
/// Whether the train has this pantograph.
bool has_pantograph(const Train& train, PantographRef ref);

double length_m(const ConsistItem& item);
double length_m(const Train& train);

}  // namespace panup
