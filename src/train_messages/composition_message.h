#pragma once
/// The room `train_messages`: trains out of messages between companies. The train composition
/// message of the technical specification for telematics applications for freight (TAF TSI) is read
/// as XML (`xml_tree.h`) into plain values (this header); with a table of one's own, which says
/// what class a series is (`series_table.h`), a section of its journey becomes a train file
/// (`train_from_message.h`). What the message does not say is asked for, and never made up.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"

namespace panup {

/// The namespaces of the versions that are read: 2.3.0 of the sector's catalogue, and 3.4.
inline constexpr std::array<std::string_view, 2> composition_namespaces{
    "http://taf-jsg.info/schemes", "http://www.era.europa.eu/schemes/TAFTSI/3.4"};

inline constexpr std::size_t most_journey_sections = 99;  ///< as the message has it
inline constexpr std::size_t most_message_wagons = 400;
inline constexpr std::size_t most_message_locomotives = 64;

/// The first digit of `TractionMode`.
enum class TractionMode : std::uint8_t {
  train_traction = 1,
  intermediate,
  banking,
  banking_not_coupled,
  not_working
};
/// "train traction", "intermediate", "banking", "banking, not coupled", "not working".
std::string_view name_of(TractionMode mode);

struct MessageLocomotive {
  std::string number;   ///< 12 digits; empty: the message does not have all of it
  std::string country;  ///< 2 digits of the number; may be empty
  std::string series;   ///< digits
  std::string serial;   ///< digits; may be empty
  TractionMode mode{};
  int place_in_group = 0;           ///< among those of its mode, from 1; 0: not stated
  std::optional<int> behind_wagon;  ///< 0: before the first
  std::string traction_type;        ///< 2 digits, the first 1 where it is electric; may be empty
  SourcePlace place;
};

struct MessageWagon {
  std::string number;  ///< digits; may be empty
  int position = 0;    ///< from the front, from 1
  double length = 0;   ///< over buffers, in the unit of the message
  bool dangerous = false;
  SourcePlace place;
};

/// A stretch of the journey on which the train stays as it is.
struct JourneySection {
  std::string from;  ///< names, or where there is none, codes: "XQ 00012"
  std::string to;
  std::string from_code;  ///< country and code of the location: "XQ 00012"; may be empty
  std::string to_code;
  std::optional<double> train_length_m;
  std::optional<double> highest_speed_kmh;
  std::optional<bool> dangerous_goods;         ///< what is said of the train as a whole
  std::vector<MessageLocomotive> locomotives;  ///< as they stand in the message
  std::vector<MessageWagon> wagons;            ///< by position
  SourcePlace place;
};

struct CompositionMessage {
  std::string file;
  std::string sha256;
  std::string train_number;  ///< may be empty
  std::string identifier;    ///< of the train between companies, may be empty
  std::string day;           ///< that the journey begins, as YYYY-MM-DD; may be empty
  std::string sent;          ///< the day it was sent, as YYYY-MM-DD; empty: not stated
  std::vector<JourneySection> sections;
};

/// Reads a message. Nothing, and all that is wrong with it, where anything is.
std::optional<CompositionMessage> read_composition_message(const SourceText& source,
                                                           Diagnostics& mistakes);

/// The digits of a vehicle number, however they are grouped: "91 80 6185 123-4".
std::string digits_of(std::string_view number);

}  // namespace panup
