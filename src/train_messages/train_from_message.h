#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/toml_tree.h"
#include "files/read_stock.h"
#include "stock/train.h"
#include "train_messages/composition_message.h"
#include "train_messages/series_table.h"

namespace panup {

/// What the message does not say, and whoever makes a train of it does.
struct FromMessage {
  std::size_t section =
      0;             ///< of the journey, from 1; 0: not stated, which does where there is one
  std::string id;    ///< of the train; empty: made of its number
  std::string name;  ///< empty: made of its number and of where it runs
  /// The cab at the front by vehicle: its number in 12 digits, or as vehicle of the train from the
  /// front, from 1.
  std::map<std::string, Cab, std::less<>> leading_cabs;
  bool whole_journey = false;  ///< the cabs are those of all sections; by numbers of 12 digits only
  std::optional<LoadNature> other_load;  ///< of wagons that are not dangerous
  double acceleration_ms2 = 0;
  double braking_ms2 = 0;
  double metres_per_length_unit = 0.01;  ///< of LengthOverBuffers
  bool invented = false;
  std::vector<std::string> stock_names;  ///< of the stock files, as the train file names them
  std::string made_at;                   ///< for the head of the file
  std::string series_dated;              ///< the day of which the series are; empty: not stated
};

/// A vehicle or a load of it.
struct MessageItem {
  std::string key;  ///< by which it is found again: the vehicle's number, or those of the wagons
  bool is_load = false;
  bool dead_in_tow = false;
  TomlNode node;  ///< as it stands in the file
};

struct TrainFromMessage {
  std::string text;   ///< of the train file
  TomlArray sources;  ///< of its values, as `[[value_source]]`
  std::string id;
  std::string name;
  std::size_t vehicles = 0;
  std::size_t wagons = 0;
  std::vector<MessageItem> items;                ///< front first
  std::set<std::string, std::less<>> cabs_used;  ///< keys of `leading_cabs`
};

/// The source that stands at the root of a file made of a message.
inline constexpr std::string_view source_of_message = "message";

/// Says of pantograph types that no stock file has which file should have them and what to write.
/// `give`: how a further file is given, as "state it with a further --stock".
void tell_missing_pantographs(const Stock& stock, std::string_view give, Diagnostics& mistakes);

/// Makes a train file of a section of the journey. Nothing, and `mistakes`, where anything is
/// missing or wrong; else it reads back without mistakes. What should be looked at goes to `notes`.
/// Mistakes in what `how` states are told of the message, at the vehicle or section they are about.
std::optional<TrainFromMessage> train_from_message(const CompositionMessage& message,
                                                   const StockTable& series, const Stock& stock,
                                                   const FromMessage& how, Diagnostics& mistakes,
                                                   Diagnostics& notes);

}  // namespace panup
