#include "failed/failed_report.h"

#include <algorithm>

#include "base/handed_out.h"
#include "day/change_words.h"
#include "day/day_table.h"
#include "drawing/json_text.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/plan_json.h"
#include "wording/wording.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

const Words& words_of(const FailedReport& report) { return report.run.parts.front().words; }

std::vector<std::string> lines_of(const TouchedTrain& touched, const Words& words) {
  if (!touched.wrong.empty()) {
    return {words.say("It could not be planned: {}", touched.wrong)};
  }
  if (!touched.change.changes()) {
    return {words.say("Nothing changes for it.")};
  }
  std::vector<std::string> lines =
      difference_lines(touched.change, *touched.before, *touched.then, words);
  lines.push_back(touched.change.card_again ? words.say("Its card is to be issued again.")
                                            : words.say("Its card holds."));
  return lines;
}

std::string heading_of(const FailedReport& report, const TouchedTrain& touched) {
  const Words& words = words_of(report);
  const DayTrain& train = report.day->trains[touched.row];
  const std::string fate =
      touched.wrong.empty() ? words.named(name_of(touched.change.fate)) : words.say("not planned");
  return train.departure.empty()
             ? words.say("{}, departure not stated: {}", train.number, fate)
             : words.say("{}, leaves {}: {}", train.number, departure_words(train), fate);
}

bool has_invented(const FailedReport& report) {
  return report.day->invented || std::ranges::any_of(report.run.parts, [](const Plan& part) {
           return part.train.invented || part.route.invented || part.conditions.invented;
         });
}

/// Of all parts ahead, each once.
std::vector<std::string> notes_of(const RunPlan& run) {
  std::vector<std::string> notes;
  for (const Plan& part : run.parts) {
    for (const std::string& note : part.notes) {
      if (std::ranges::find(notes, note) == notes.end()) {
        notes.push_back(note);
      }
    }
  }
  return notes;
}

}  // namespace

std::string failed_to_text(const FailedReport& report) {
  const Words& words = words_of(report);
  std::string out = has_invented(report) ? invented_words(words) + "\n\n" : std::string();
  out += words.say("TO BE READ OUT TO THE DRIVER") + "\n";
  for (const std::string& sentence : report.message) {
    out += hanging("  ", plain(sentence), text_columns);
  }
  out += "\n" + words.say("LATER TRAINS WITH THE SAME VEHICLE") + "\n";
  if (report.touched.empty()) {
    out += "  " + words.say("none") + "\n";
  }
  for (const TouchedTrain& touched : report.touched) {
    out += hanging("  ", plain(heading_of(report, touched)), text_columns);
    for (const std::string& line : lines_of(touched, words)) {
      out += hanging("    ", plain(line), text_columns);
    }
  }
  return out + text_list(words.say("NOTES"), notes_of(report.run)) +
         text_list(words.say("CAUTIONS"), report.run.parts.front().cautions) +
         made_from(inputs_of(report.run), report.program_version, words);
}

Json failed_to_json(const FailedReport& report) {
  const Plan& plan = report.run.parts.front();
  Json json;
  json["program_version"] = report.program_version;
  add_language(json, plan.words);
  json["day"] = report.day->name;
  json["date"] = report.day->date;
  json["number"] = report.day->trains[report.row].number;
  json["invented"] = has_invented(report);
  json["failed"] = to_string(report.failure.failed);
  json["vehicle"] = vehicle_numbered(plan.train, report.failure.failed.vehicle)->id;
  json["at_km"] = report.failure.at_km;
  json["answer"] = name_of(answer_of(report.run));
  json["message"] = report.message;
  Json trains = Json::array();
  for (const TouchedTrain& touched : report.touched) {
    const DayTrain& train = report.day->trains[touched.row];
    trains.push_back(
        Json{{"number", train.number},
             {"departure", train.departure.empty() ? Json(nullptr) : Json(train.departure)},
             {"fate", touched.wrong.empty() ? Json(name_of(touched.change.fate)) : Json(nullptr)},
             {"card_again", touched.wrong.empty() ? Json(touched.change.card_again) : Json(true)},
             {"different", lines_of(touched, plan.words)}});
  }
  json["later_trains"] = std::move(trains);
  json["plan"] = plan_to_json(plan);
  json["later_parts"] = Json::array();
  for (std::size_t i = 1; i < report.run.parts.size(); ++i) {
    json["later_parts"].push_back(plan_to_json(report.run.parts[i]));
  }
  json["cautions"] = plan.cautions;
  return json;
}

}  // namespace panup
