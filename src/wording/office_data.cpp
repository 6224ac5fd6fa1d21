#include "wording/office_data.h"

namespace panup {

std::vector<OfficeEntry> office_run(const Release& release) {
  const OfficeEntry runs = !release.date.empty()   ? OfficeEntry{"Date", release.date}
                           : !release.days.empty() ? OfficeEntry{"Days", release.days}
                                                   : OfficeEntry{"Date or days", ""};
  return {{"Train number", release.train_number},
          runs,
          {"Issue", release.issue ? std::to_string(*release.issue) : ""},
          {"Holds until", release.holds_until}};
}

std::vector<OfficeEntry> office_names(const Release& release) {
  return {{"Made by", release.made_by},
          {"Checked by", release.checked_by},
          {"Released by", release.released_by}};
}

std::vector<OfficeEntry> office_entries(const Release& release) {
  std::vector<OfficeEntry> entries = office_run(release);
  for (OfficeEntry& entry : office_names(release)) {
    entries.push_back(std::move(entry));
  }
  return entries;
}

}  // namespace panup
