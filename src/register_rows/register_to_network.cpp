#include "register_rows/register_to_network.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/source_text.h"
#include "files/read_network.h"
#include "register_rows/network_text.h"
#include "register_rows/table_mark.h"

namespace panup {

namespace {

void note_starts(const std::vector<ChainedLine>& lines,
                 const std::vector<RegisterSection>& sections,
                 const std::vector<PlacedSeparation>& separations, const std::string& file,
                 Diagnostics& notes) {
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const ChainedLine& line = lines[i];
    if (line.start_told || line.goes_on) {
      continue;
    }
    const auto placed = std::ranges::count(separations, i, &PlacedSeparation::line);
    const bool gradients = std::ranges::any_of(line.sections, [&](const PlacedSection& one) {
      return !sections[one.section].gradients.empty();
    });
    notes.push_back(
        {{.file = file},
         fmt::format("line {}: where it begins is not known; its kilometres count from 0{}. State "
                     "--start {}=KM",
                     line.id,
                     placed > 0 || gradients
                         ? ". The register names separation sections and gradients by the posts: "
                           "gradients are left out, and sections with separation sections state no "
                           "'system'"
                         : "",
                     line.id)});
  }
}

/// Each answer has one day: what it states itself, or else what was stated for it.
void check_answered(const RegisterRows& rows, const std::string& stated, Diagnostics& mistakes,
                    Diagnostics& notes) {
  if (rows.answered.empty() && stated.empty()) {
    notes.push_back({{.file = rows.file},
                     "on which day the register answered is not stated; values of it are cited "
                     "with the day of the import, and may be older. State --answered DAY"});
  } else if (!rows.answered.empty() && !stated.empty() && rows.answered != stated) {
    mistakes.push_back({{.file = rows.file},
                        fmt::format("it was answered on {}, as its column 'answered' states, and "
                                    "{} was stated for it; leave --answered out, or put it right",
                                    rows.answered, stated)});
  }
}

}  // namespace

std::vector<KeptValue> kept_of_network(const SourceText& there) {
  static constexpr std::array own{SourceKind::register_answer};
  static constexpr std::array<std::string_view, 5> lists{"section", "separation", "gradient",
                                                         "line", "place"};
  return kept_values(there, FileKind::network, own, lists, identity_of);
}

std::optional<RegisterNetwork> network_from_register(const RegisterRows& sections,
                                                     const RegisterRows& separations,
                                                     const FromRegister& how, Diagnostics& mistakes,
                                                     Diagnostics& notes) {
  const std::size_t before = mistakes.size();
  check_answered(sections, how.answered, mistakes, notes);
  check_answered(separations, how.answered, mistakes, notes);
  std::vector<RegisterSection> made = sections_from(sections, how.track, notes);
  RegisterNetwork network;
  network.lines = chain_lines(made, how.starts, sections.file, mistakes, notes);
  if (network.lines.empty()) {
    mistakes.push_back({{.file = sections.file},
                        "of no section are line, ends, length, line speed and an overhead contact "
                        "line known, so there is no network"});
  }
  if (mistakes.size() != before) {
    return std::nullopt;
  }
  std::vector<PlacedSeparation> placed = place_separations(
      separations, how.no_other_separations, network.lines, made, sections.file, notes);
  cut_where_systems_meet(network.lines, placed, made, sections.file, notes);
  withhold_where_starts_are_not_told(network.lines, placed, made);
  note_starts(network.lines, made, placed, sections.file, notes);
  for (const ChainedLine& line : network.lines) {
    network.sections += line.sections.size();
  }
  network.separations = placed.size();
  network.kept = how.kept;
  network.text = network_text({.id = how.id,
                               .name = how.name,
                               .made_at = how.made_at,
                               .answered = how.answered,
                               .sections = &sections,
                               .separations = &separations,
                               .kept = &network.kept},
                              network.lines, made, placed);
  network.by_hand = how.by_hand;
  if (network.text.size() <= greatest_file_bytes && !network.by_hand.empty()) {
    network.text = with_tables(network.text, network.by_hand);
  }
  if (network.text.size() > greatest_file_bytes) {
    mistakes.push_back(
        {{.file = sections.file},
         fmt::format("the network would be a file of {} bytes, and panup reads {} at most: ask the "
                     "register for a part of it",
                     network.text.size(), greatest_file_bytes)});
  } else {
    read_network({.file = "the network made of " + sections.file, .text = network.text}, mistakes);
  }
  return mistakes.size() == before ? std::optional(std::move(network)) : std::nullopt;
}

}  // namespace panup
