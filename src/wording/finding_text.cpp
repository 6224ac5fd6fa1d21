#include "wording/finding_text.h"

#include <fmt/format.h>

#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "wording/values_words.h"

namespace panup {

std::string findings_to_text(std::string_view heading, const std::vector<FindingGroup>& groups,
                             const Words& words) {
  std::string out;
  for (const FindingGroup& group : groups) {
    const std::string standing = words.named(name_of(group.standing));
    const bool said_by_source = group.source.starts_with(standing) || group.source.empty();
    out += hanging(fmt::format("  {}: ", label_of(group.strength, group.kept, words)),
                   plain(fmt::format("{} ({}{}{})", group.rule, said_by_source ? "" : standing,
                                     said_by_source || group.source.empty() ? "" : "; ",
                                     group.source.empty() ? standing : group.source)),
                   text_columns);
    if (!group.because.empty()) {
      out += hanging("    " + words.say("why: "), plain(group.because), text_columns);
    }
    for (const FindingGroup::Saying& saying : group.sayings) {
      const bool placed = !saying.everywhere && saying.where != std::vector{KmStretch{}};
      out += hanging(
          "    ", plain(placed ? km_list(saying.where, words) + ": " + saying.text : saying.text),
          text_columns);
      if (const std::string from = where_from_words(saying.values, words); !from.empty()) {
        out += hanging("      ", plain(words.say("from: {}", from)), text_columns);
      }
    }
  }
  return out.empty() ? out : std::string(heading) + out;
}

}  // namespace panup
