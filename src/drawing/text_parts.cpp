#include "drawing/text_parts.h"

#include <fmt/format.h>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"

namespace panup {

std::string with_id(const std::string& name, const std::string& id) {
  return name == id || id.empty() ? name : fmt::format("{} ({})", name, id);
}

std::string fact_line(std::string_view name, std::string_view text) {
  return hanging(fmt::format("{:<8} ", name), text, text_columns);
}

std::string text_list(std::string_view heading, const std::vector<std::string>& lines) {
  if (lines.empty()) {
    return {};
  }
  std::string out = fmt::format("\n{}\n", heading);
  for (const std::string& line : lines) {
    out += hanging("  - ", plain(line), text_columns);
  }
  return out;
}

std::string made_from(const std::vector<InputFile>& inputs, const std::string& program_version,
                      const Words& words) {
  std::string out;
  if (!inputs.empty()) {
    out += "\n" + words.say("MADE FROM") + "\n";
    for (const InputFile& input : inputs) {
      const std::string role = words.named(input.role);
      out += hanging(fmt::format("  {:<10}  ", role), plain(words.named(input.path)), text_columns);
    }
  }
  if (!program_version.empty()) {
    out += fmt::format("{}  panup {}\n", inputs.empty() ? "\n" : "", program_version);
  }
  return out;
}

}  // namespace panup
