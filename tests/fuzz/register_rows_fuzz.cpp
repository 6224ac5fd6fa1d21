#include <array>
#include <sstream>

#include "harness.h"
#include "register_rows/place_separations.h"
#include "register_rows/register_to_network.h"

namespace {

/// What parts the answer of sections from that of separation sections in a seed.
constexpr std::string_view parting = "\n=====\n";

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const std::size_t cut = std::min(text.find(parting), text.size());
  std::istringstream first(text.substr(0, cut));
  std::istringstream second(cut < text.size() ? text.substr(cut + parting.size()) : std::string());
  panup::Diagnostics mistakes;
  panup::Diagnostics notes;
  const auto sections =
      panup::read_register_rows(first, "sections", panup::section_columns, mistakes, notes);
  const auto separations =
      panup::read_register_rows(second, "separations", panup::separation_columns, mistakes, notes);
  if (!mistakes.empty()) {
    panup::require_sound(false, mistakes);
    return 0;
  }
  const auto network = panup::network_from_register(sections, separations,
                                                    {.id = "n",
                                                     .name = "N",
                                                     .track = {},
                                                     .made_at = "now",
                                                     .starts = {},
                                                     .no_other_separations = true},
                                                    mistakes, notes);
  panup::require_sound(network.has_value(), mistakes);
  for (const panup::Diagnostic& mistake : mistakes) {
    if (mistake.place.file.starts_with("the network made of")) {
      panup::fail("what is written reads back without mistakes");
    }
  }
  return 0;
}
