#include "files/read_defects.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"
#include "files/read_consents.h"

namespace panup {

namespace {

RegisteredDefect read_defect(TomlTable& table) {
  RegisteredDefect defect;
  defect.vehicle = table.text("vehicle", Need::required).value_or("");
  defect.pantograph = table.whole("pantograph", 1, 8, Need::required).value_or(1);
  if (const auto day = table.date("since", Need::required)) {
    defect.since = day_text(*day);
  }
  if (const auto day = table.date("until")) {
    defect.until = day_text(*day);
  }
  if (!defect.since.empty() && !defect.until.empty() && defect.until < defect.since) {
    table.report_at("until", fmt::format("'until' is {}, before 'since', {}; expected that day or "
                                         "a later one",
                                         defect.until, defect.since));
  }
  defect.still_possible = table.text("still_possible").value_or("");
  defect.reference = table.text("reference").value_or("");
  defect.file = table.file();
  defect.place = table.place();
  table.finish();
  return defect;
}

bool counts_on(const RegisteredDefect& defect, const std::string& day) {
  return day.empty() || (defect.since <= day && (defect.until.empty() || day <= defect.until));
}

bool has(const std::vector<int>& numbers, int number) {
  return std::ranges::find(numbers, number) != numbers.end();
}

}  // namespace

std::optional<std::vector<RegisteredDefect>> read_defects(const SourceText& source,
                                                          Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root = parse_toml(source, diagnostics);
  auto table = root ? root_of(*root, source.file, FileKind::defects, diagnostics) : std::nullopt;
  if (!table) {
    return std::nullopt;
  }
  std::vector<RegisteredDefect> all;
  table->text("name");
  table->flag("invented");
  for (TomlTable& entry : table->tables("defect")) {
    all.push_back(read_defect(entry));
  }
  table->finish();
  return diagnostics.size() == mistakes ? std::optional(std::move(all)) : std::nullopt;
}

void take_up(const std::vector<RegisteredDefect>& all, Train& train, Diagnostics& diagnostics) {
  for (ConsistItem& item : train.consist) {
    auto* const vehicle = std::get_if<Vehicle>(&item);
    if (vehicle == nullptr) {
      continue;
    }
    for (const RegisteredDefect& defect : all) {
      if (defect.vehicle != vehicle->id || !counts_on(defect, train.release.date)) {
        continue;
      }
      if (!vehicle->in_place_of.empty()) {
        diagnostics.push_back(
            {defect.place,
             fmt::format("pantograph {} of '{}' is defective; this is said of a {}, and a {} runs "
                         "in its place: its own number is not known",
                         defect.pantograph, vehicle->id, vehicle->in_place_of, vehicle->type->id)});
        continue;
      }
      const auto count = static_cast<int>(vehicle->type->pantographs.size());
      if (defect.pantograph > count) {
        diagnostics.push_back(
            {defect.place, fmt::format("vehicle '{}', a {}, has no pantograph {}; it has {}",
                                       vehicle->id, vehicle->type->id, defect.pantograph, count)});
        continue;
      }
      if (has(vehicle->kept_up, defect.pantograph)) {
        diagnostics.push_back(
            {defect.place, fmt::format("pantograph {} of '{}' is defective and stays down, but the "
                                       "train file orders it up ('kept_up_pantographs')",
                                       defect.pantograph, vehicle->id)});
        continue;
      }
      train.registered_defects.push_back(defect);
      if (!has(vehicle->defective, defect.pantograph)) {
        vehicle->defective.push_back(defect.pantograph);
        std::ranges::sort(vehicle->defective);
      }
    }
  }
}

}  // namespace panup
