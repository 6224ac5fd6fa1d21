#pragma once

#include <string>
#include <vector>

#include "base/words.h"
#include "stock/train.h"

namespace panup {

/// One thing that an office states of what it hands out.
struct OfficeEntry {
  std::string name;   ///< "Train number"
  std::string value;  ///< empty: not stated, to be filled in by hand
};

/// Of which run of the train it is: train number, date or days, issue, last day.
std::vector<OfficeEntry> office_run(const Release& release, const Words& words = {});

/// Who answers for it: made, checked, released by.
std::vector<OfficeEntry> office_names(const Release& release, const Words& words = {});

/// "Issue 3. Replaces issue 2 of 12 May 2026. Different: …"; empty where it replaces none.
std::string replaces_words(const Release& release, const Words& words = {});

/// All of it.
std::vector<OfficeEntry> office_entries(const Release& release, const Words& words = {});

}  // namespace panup
