#include "wording/office_data.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <array>
#include <string_view>

namespace panup {

namespace {

/// "12 May 2026" of 2026-05-12.
std::string day_in_words(const std::string& date, const Words& words) {
  static constexpr std::array<std::string_view, 12> months{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  const int month = (date.at(5) - '0') * 10 + (date.at(6) - '0');
  return words.say("{} {} {}", date.at(8) == '0' ? date.substr(9, 1) : date.substr(8, 2),
                   words.named(months.at(static_cast<std::size_t>(month - 1))), date.substr(0, 4));
}

}  // namespace

std::string replaces_words(const Release& release, const Words& words) {
  return release.replaces ? words.say("Issue {}. Replaces issue {} of {}. Different: {}",
                                      release.issue.value_or(0), release.replaces->issue,
                                      day_in_words(release.replaces->issued_on, words),
                                      fmt::to_string(fmt::join(release.replaces->different, " ")))
                          : std::string();
}

std::vector<OfficeEntry> office_run(const Release& release, const Words& words) {
  const OfficeEntry runs = !release.date.empty()   ? OfficeEntry{words.say("Date"), release.date}
                           : !release.days.empty() ? OfficeEntry{words.say("Days"), release.days}
                                                   : OfficeEntry{words.say("Date or days"), ""};
  return {{words.say("Train number"), release.train_number},
          runs,
          {words.say("Issue"), release.issue ? std::to_string(*release.issue) : ""},
          {words.say("Holds until"), release.holds_until}};
}

std::vector<OfficeEntry> office_names(const Release& release, const Words& words) {
  return {{words.say("Made by"), release.made_by},
          {words.say("Checked by"), release.checked_by},
          {words.say("Released by"), release.released_by}};
}

std::vector<OfficeEntry> office_entries(const Release& release, const Words& words) {
  std::vector<OfficeEntry> entries = office_run(release, words);
  for (OfficeEntry& entry : office_names(release, words)) {
    entries.push_back(std::move(entry));
  }
  return entries;
}

}  // namespace panup
