#include "files/read_consents.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/document.h"

namespace panup {

namespace {

/// A list that has something in it where it is there.
std::vector<std::string> named_ones(TomlTable& table, std::string_view key,
                                    std::string_view otherwise) {
  auto names = table.texts(key);
  if (names && names->empty()) {
    table.report_at(key, fmt::format("'{}' is empty; leave it out for {}", key, otherwise));
  }
  return names ? std::move(*names) : std::vector<std::string>{};
}

bool is_for(const SharedConsent& shared, const Train& train) {
  const auto is_of_them = [](const std::vector<std::string>& ids, const std::string& id) {
    return ids.empty() || std::ranges::find(ids, id) != ids.end();
  };
  return is_of_them(shared.trains, train.id) &&
         std::ranges::all_of(train.consist, [&](const ConsistItem& item) {
           const auto* const vehicle = std::get_if<Vehicle>(&item);
           return vehicle == nullptr || vehicle->dead_in_tow ||
                  is_of_them(shared.classes, vehicle->type->id);
         });
}

/// Why the consent does not count on the day; empty where it does. `day`: empty where it is not
/// known.
std::string out_of_validity(const Consent& consent, const std::string& day, const Words& words) {
  if (!consent.valid.limited()) {
    return {};
  }
  if (day.empty()) {
    return words.say(
        "{}, and the train file does not state the one day on which the train runs ('date' in "
        "[release])",
        validity_words(consent.valid, words));
  }
  return consent.valid.holds_on(day)
             ? std::string()
             : words.say("{}, and the train runs on {}", validity_words(consent.valid, words), day);
}

}  // namespace

std::string day_text(const TomlDate& day) {
  return fmt::format("{:04}-{:02}-{:02}", day.year, day.month, day.day);
}

Validity read_validity(TomlTable& table) {
  Validity validity;
  if (const auto day = table.date("valid_from")) {
    validity.from = day_text(*day);
  }
  if (const auto day = table.date("valid_until")) {
    validity.until = day_text(*day);
  }
  if (!validity.from.empty() && !validity.until.empty() && validity.until < validity.from) {
    table.report_at("valid_until",
                    fmt::format("'valid_until' is {}, before 'valid_from', {}; expected that day "
                                "or a later one",
                                validity.until, validity.from));
  }
  return validity;
}

Consent read_consent(TomlTable& table) {
  Consent consent;
  consent.reference = table.text("reference", Need::required).value_or("");
  consent.given_by = table.text("given_by", Need::required).value_or("");
  consent.rule = table.text("rule").value_or("");
  if (!table.has("rule")) {
    consent.number = table.whole("number", 2, 16, Need::required).value_or(0);
    consent.distance_m = table.number("distance_m", {0, 1000, true}, Need::required).value_or(0);
    consent.speed_kmh = table.number("speed_kmh", {5, 400}, Need::required).value_or(0);
  } else {
    for (const char* const key : {"number", "distance_m", "speed_kmh"}) {
      if (table.has(key)) {
        table.report_at(key, fmt::format("'{}' is for raised pantographs; a consent for the rule "
                                         "'{}' has no number, distance or speed",
                                         key, consent.rule));
      }
    }
  }
  consent.sections = named_ones(table, "sections", "the whole route");
  consent.valid = read_validity(table);
  consent.place = table.place();
  return consent;
}

std::optional<std::vector<SharedConsent>> read_consents(const SourceText& source,
                                                        Diagnostics& diagnostics) {
  const std::size_t mistakes = diagnostics.size();
  const auto root = parse_toml(source, diagnostics);
  auto table = root ? root_of(*root, source.file, FileKind::consents, diagnostics) : std::nullopt;
  if (!table) {
    return std::nullopt;
  }
  std::vector<SharedConsent> all;
  table->text("name");
  table->flag("invented");
  for (TomlTable& entry : table->tables("consent", Need::required)) {
    SharedConsent shared{.consent = read_consent(entry), .trains = {}, .classes = {}};
    shared.consent.file = source.file;
    shared.trains = named_ones(entry, "trains", "any train");
    shared.classes = named_ones(entry, "classes", "any class");
    entry.finish();
    all.push_back(std::move(shared));
  }
  table->finish();
  return diagnostics.size() == mistakes ? std::optional(std::move(all)) : std::nullopt;
}

void take_up(const std::vector<SharedConsent>& shared, Train& train) {
  for (const SharedConsent& one : shared) {
    if (is_for(one, train)) {
      train.consents.push_back(one.consent);
    }
  }
}

void leave_out_by_day(Train& train, const Words& words) {
  for (ConsentLeftOut& left_out : train.consents_left_out) {
    left_out.because = out_of_validity(left_out.consent, train.release.date, words);
  }
  std::vector<Consent> counting;
  for (Consent& consent : train.consents) {
    std::string because = out_of_validity(consent, train.release.date, words);
    if (because.empty()) {
      counting.push_back(std::move(consent));
    } else {
      train.consents_left_out.push_back({std::move(consent), std::move(because)});
    }
  }
  train.consents = std::move(counting);
}

}  // namespace panup
