#pragma once

#include <array>
#include <string>
#include <string_view>

#include "line/network.h"
#include "train_messages/train_from_message.h"

namespace panup {

/// The headings of the table that says which place of a network a location of the message is.
inline constexpr std::array<std::string_view, 4> place_headings{"country", "code", "place", "note"};
inline constexpr TableKind place_table{"places", place_headings, 3};

/// What a run needs besides what a train does.
struct AsRun {
  const Network* network = nullptr;
  const StockTable* places = nullptr;
  std::string network_name;  ///< as the run file names it
  std::string train_name;    ///< likewise, the file of the train as it departs
  std::string way;           ///< id of a way of the network
};

struct RunFromMessage {
  TrainFromMessage train;  ///< as it departs
  std::string text;        ///< of the run file
  std::size_t changes = 0;
};

/// Makes a run of the whole journey: where vehicles are not the same from one section to the next,
/// a stop with what is detached, attached, put dead in tow or to work. Locomotives are told by
/// their numbers; wagons have to stay as they are, and what stays has to stay in its order:
/// anything else is a mistake, for a message does not say how it comes about. Otherwise as
/// `train_from_message`, whose `section` is not looked at.
std::optional<RunFromMessage> run_from_message(const CompositionMessage& message,
                                               const StockTable& series, const Stock& stock,
                                               const FromMessage& how, const AsRun& as_run,
                                               Diagnostics& mistakes, Diagnostics& notes);

}  // namespace panup
