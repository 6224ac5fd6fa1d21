#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/toml_table.h"
#include "base/words.h"
#include "stock/train.h"

namespace panup {

/// The keys `valid_from` and `valid_until` of an entry.
Validity read_validity(TomlTable& table);

/// What an entry `[[consent]]` of any file says; the caller asks for further keys and finishes the
/// table.
Consent read_consent(TomlTable& table);

/// A consent of a file for many trains, and which of them it is for.
struct SharedConsent {
  Consent consent;
  std::vector<std::string> trains;   ///< ids; empty: any
  std::vector<std::string> classes;  ///< ids of vehicle types; empty: any
};

/// Reads a file of consents; nothing if anything is wrong with it.
std::optional<std::vector<SharedConsent>> read_consents(const SourceText& source,
                                                        Diagnostics& diagnostics);

/// Gives the train those that are for it. One for classes is for a train of which every vehicle
/// that works is of one of them: what it says of one class is no word on another.
void take_up(const std::vector<SharedConsent>& shared, Train& train);

/// Consents with a validity count on the one day that the train states, if that lies within; what
/// is not known to be within does not count. Why not is said in the language of `words`, also of
/// those that were left out before.
void leave_out_by_day(Train& train, const Words& words);

/// A day as YYYY-MM-DD.
std::string day_text(const TomlDate& day);

}  // namespace panup
