#include <algorithm>

#include "files/read_network.h"
#include "harness.h"
#include "register_rows/changes_report.h"
#include "register_rows/network_changes.h"
#include "register_rows/register_to_network.h"

namespace {

constexpr const char* made =
    "kind = \"network\"\nid = \"n\"\nname = \"N\"\n[[line]]\nid = \"A\"\n"
    "[[place]]\nid = \"a\"\non = [{ line = \"A\", at_km = 0 }]\n"
    "[[section]]\nid = \"s\"\nline = \"A\"\nfrom_km = 0\nto_km = 5\nline_speed_kmh = 100\n"
    "raised = [{ number = 1, speed_kmh = 100 }]\n"
    "[[separation]]\nline = \"A\"\nname = \"p\"\ntype = \"phase\"\nfrom_km = 2\nlength_m = 100\n"
    "pantograph_lowered = true\nbreaker_off = true\n"
    "[[gradient]]\nline = \"A\"\nfrom_km = 0\nto_km = 5\npermille = 2\n";

void compare_with(const panup::SourceText& there, const std::string& text, bool with_itself) {
  panup::Diagnostics diagnostics;
  auto changes = panup::network_changes(there, text, diagnostics);
  panup::require_sound(changes.has_value(), diagnostics);
  if (!changes) {
    return;
  }
  for (const panup::TableChange& change : changes->tables) {
    if (with_itself && change.table == "section" && change.fate != panup::TableFate::changed) {
      panup::fail("a network has the sections that it has");
    }
    for (const panup::KeyChange& key : change.keys) {
      if (!key.before && !key.then) {
        panup::fail("a key that neither states does not differ");
      }
    }
  }
  const panup::ChangesReport report{
      .changes = std::move(*changes), .runs = std::nullopt, .written = false};
  panup::changes_to_text(report);
  panup::changes_to_json(report);
}

/// What is kept of any network is found again in the table that it is put into.
void keep_in(const panup::SourceText& there) {
  std::vector<panup::KeptValue> kept = panup::kept_of_network(there);
  panup::sources_of(kept, {"register-sections"});
  for (const panup::KeptValue& one : std::vector<panup::KeptValue>(kept)) {
    panup::TomlEntries table;
    panup::take_over(kept, one.table, one.id, table);
    const bool found = std::ranges::any_of(
        table, [&one](const panup::TomlEntry& entry) { return entry.key == one.key; });
    if (!found) {
      panup::fail("a value that is kept stands in its table");
    }
    panup::kept_words(one, "the register");
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const panup::SourceText there = panup::fuzzed_source(data, size);
  compare_with(there, made, false);
  keep_in(there);
  panup::Diagnostics wrong;
  if (panup::read_network(there, wrong)) {
    compare_with(there, there.text, true);
  }
  return 0;
}
