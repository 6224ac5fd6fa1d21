#include "day_rows_checks.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const panup::FileSource one_table{
      .load = [](const std::string& path, panup::Diagnostics&) -> std::optional<panup::SourceText> {
        return panup::SourceText{path, "number,train,route\n1,t.toml,r.toml\n"};
      },
      .has = [](const std::string&) { return true; }};
  panup::Diagnostics diagnostics;
  const auto day = panup::read_day(panup::fuzzed_source(data, size), one_table, diagnostics);
  panup::require_sound(day.has_value(), diagnostics);
  if (day) {
    if (day->trains.empty() || day->date.size() != 10) {
      panup::fail("a day has a date and trains");
    }
    panup::require_usable(day->trains);
  }
  return 0;
}
