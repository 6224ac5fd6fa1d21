#include "issued/issued_table.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/handed_out.h"
#include "day/day_table.h"
#include "drawing/csv_row.h"
#include "drawing/json_text.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "files/read_day.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

Json optional_text(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json issue_json(const Issue& issue) {
  Json json;
  json["place"] = issue.place;
  json["train_number"] = issue.train_number;
  json["day"] = issue.day;
  json["issue"] = issue.number;
  json["issued_at"] = issue.handed_out.at;
  json["issued_to"] = issue.handed_out.to;
  json["made_by"] = optional_text(issue.handed_out.made_by);
  json["checked_by"] = optional_text(issue.handed_out.checked_by);
  json["released_by"] = optional_text(issue.handed_out.released_by);
  json["holds_until"] = optional_text(issue.handed_out.holds_until);
  json["train"] = issue.train_name;
  json["route"] = issue.route_name;
  json["decision"] = issue.decision;
  json["answer"] = issue.answer;
  json["different"] = issue.different;
  json["inputs"] = inputs_to_json(issue.inputs);
  json["program_version"] = issue.program_version;
  json["card_sha256"] = issue.card_sha256;
  json["checksum"] = issue.checksum;
  return json;
}

Json issue_or_null(const std::optional<Issue>& issue) {
  return issue ? issue_json(*issue) : Json(nullptr);
}

std::string by_words(const HandedOut& out, const Words& words) {
  std::vector<std::string> said;
  if (!out.made_by.empty()) {
    said.push_back(words.say("made by {}", out.made_by));
  }
  if (!out.checked_by.empty()) {
    said.push_back(words.say("checked by {}", out.checked_by));
  }
  if (!out.released_by.empty()) {
    said.push_back(words.say("released by {}", out.released_by));
  }
  if (!out.holds_until.empty()) {
    said.push_back(words.say("holds until {}", out.holds_until));
  }
  return fmt::to_string(fmt::join(said, ", "));
}

std::string issue_words(const Issue& issue, const Words& words) {
  const std::string by = by_words(issue.handed_out, words);
  return words.say("issue {}, {}, to {}", issue.number, issue.handed_out.at, issue.handed_out.to) +
         (by.empty() ? "" : "; " + by);
}

void add_lines(std::string& out, const std::vector<std::string>& lines) {
  for (const std::string& line : lines) {
    out += hanging("    ", plain(line), text_columns);
  }
}

std::string marked(bool invented, const Words& words) {
  return invented ? invented_words(words) + "\n\n" : std::string();
}

std::string heading_of(CardFate fate, const Words& words) {
  switch (fate) {
    case CardFate::issued:
      return words.say("ISSUED");
    case CardFate::still_holds:
      return words.say("STILL HOLDS, nothing issued");
    case CardFate::refused:
      break;
  }
  return words.say("NOT ISSUED");
}

}  // namespace

std::string card_file_name(const Issue& issue) {
  return fmt::format("{}-{}-issue-{}.pdf", folder_of_number(issue.train_number), issue.day,
                     issue.number);
}

std::string issue_to_text(const IssueReport& report) {
  const Words& words = report.words;
  std::string out = marked(report.invented, words);
  out += fact_line(words.say("Day"),
                   plain(report.day->name == report.day->date
                             ? report.day->date
                             : fmt::format("{}, {}", report.day->date, report.day->name)));
  out += fact_line(words.say("Register"), plain(report.register_path));
  out += fact_line(words.say("To"),
                   plain(fmt::format("{}, {}", report.handed_out.to, report.handed_out.at)));
  for (const CardFate fate : {CardFate::refused, CardFate::issued, CardFate::still_holds}) {
    std::string part;
    for (const CardOfTrain& card : report.cards) {
      if (card.fate != fate) {
        continue;
      }
      const std::string& number = report.day->trains[card.row].number;
      if (fate == CardFate::refused) {
        part += hanging("  ", plain(words.say("{}: no card is issued", number)), text_columns);
        add_lines(part, {card.why});
        if (card.issue) {
          add_lines(part, {words.say("Its issue {}, handed to {}, does not hold: take it back.",
                                     card.issue->number, card.issue->handed_out.to)});
        }
        continue;
      }
      part += hanging("  ", plain(fmt::format("{}: {}", number, issue_words(*card.issue, words))),
                      text_columns);
      if (fate == CardFate::issued && card.issue->number > 1) {
        add_lines(part, {words.say("It replaces issue {}. Different:", card.issue->number - 1)});
        add_lines(part, card.issue->different);
      }
    }
    if (!part.empty()) {
      out += fmt::format("\n{}\n{}", heading_of(fate, words), part);
    }
  }
  return out + text_list(words.say("CAUTIONS"), cautions("card", words)) +
         made_from({}, report.program_version, words);
}

Json issue_to_json(const IssueReport& report) {
  Json json;
  json["program_version"] = report.program_version;
  if (report.words != Words()) {
    json["language"] = report.words.language();
  }
  json["register"] = report.register_path;
  json["day"] = report.day->name;
  json["date"] = report.day->date;
  json["invented"] = report.invented;
  json["issued_at"] = report.handed_out.at;
  json["issued_to"] = report.handed_out.to;
  Json trains = Json::array();
  for (const CardOfTrain& card : report.cards) {
    trains.push_back(Json{{"number", report.day->trains[card.row].number},
                          {"card", name_of(card.fate)},
                          {"why", optional_text(card.why)},
                          {"issue", issue_or_null(card.issue)}});
  }
  json["trains"] = std::move(trains);
  json["cautions"] = cautions("card", report.words);
  return json;
}

bool any_no_longer_holds(const IssuedReport& report) {
  return std::ranges::any_of(report.standings, [](const CardStanding& standing) {
    return standing.issue && !standing.validity.holds;
  });
}

std::string issued_to_text(const IssuedReport& report) {
  const Words& words = report.words;
  std::string out = marked(report.invented, words);
  out += fact_line(words.say("Register"), plain(report.register_path));
  out += fact_line(words.say("Issues"), report.issues.empty()
                                            ? words.say("none listed")
                                            : words.say("{} listed", report.issues.size()));
  if (!report.last_checksum.empty()) {
    out += fact_line(words.say("Checksum"),
                     words.say("{}, of the last issue in the register", report.last_checksum));
  }
  if (report.date.empty()) {
    for (const Issue& issue : report.issues) {
      out += '\n';
      out += hanging("  ",
                     plain(words.say("{}, runs {}: {}", issue.train_number, issue.day,
                                     issue_words(issue, words))),
                     text_columns);
      out += hanging(
          "    ",
          plain(fmt::format("{}, {}: {}", issue.train_name, issue.route_name, issue.answer)),
          text_columns);
      add_lines(out, issue.different);
    }
  } else {
    out += fact_line(words.say("Compared"), words.say("with the day {}", report.date));
    const auto part = [&](std::string_view heading, const auto& belongs) {
      std::string lines;
      for (const CardStanding& standing : report.standings) {
        if (!belongs(standing)) {
          continue;
        }
        lines += hanging("  ",
                         plain(standing.issue ? fmt::format("{}: {}", standing.train_number,
                                                            issue_words(*standing.issue, words))
                                              : standing.train_number),
                         text_columns);
        add_lines(lines, standing.validity.why);
      }
      if (!lines.empty()) {
        out += fmt::format("\n{}\n{}", heading, lines);
      }
    };
    part(words.say("HOLDS NO MORE: take it back, and issue it again"),
         [](const CardStanding& one) { return one.issue && !one.validity.holds; });
    part(words.say("NONE ISSUED"), [](const CardStanding& one) { return !one.issue; });
    part(words.say("HOLDS"),
         [](const CardStanding& one) { return one.issue && one.validity.holds; });
  }
  return out + text_list(words.say("CAUTIONS"), cautions("card", words)) +
         made_from({}, report.program_version, words);
}

Json issued_to_json(const IssuedReport& report) {
  Json json;
  json["program_version"] = report.program_version;
  if (report.words != Words()) {
    json["language"] = report.words.language();
  }
  json["register"] = report.register_path;
  json["last_checksum"] = optional_text(report.last_checksum);
  json["invented"] = report.invented;
  Json issues = Json::array();
  for (const Issue& issue : report.issues) {
    issues.push_back(issue_json(issue));
  }
  json["issues"] = std::move(issues);
  json["date"] = optional_text(report.date);
  Json trains = Json::array();
  for (const CardStanding& standing : report.standings) {
    trains.push_back(
        Json{{"number", standing.train_number},
             {"in_the_day", standing.in_the_day},
             {"issue", standing.issue ? Json(standing.issue->number) : Json(nullptr)},
             {"issued_to", standing.issue ? Json(standing.issue->handed_out.to) : Json(nullptr)},
             {"holds", standing.issue ? Json(standing.validity.holds) : Json(nullptr)},
             {"why", standing.validity.why}});
  }
  json["trains"] = std::move(trains);
  json["cautions"] = cautions("card", report.words);
  return json;
}

std::string issued_to_csv(const IssuedReport& report) {
  std::string out =
      "place,train_number,day,issue,issued_at_utc,issued_to,made_by,checked_by,released_by,"
      "holds_until,train,route,decision,answer,different,inputs,program_version,card_sha256,"
      "checksum\n";
  for (const Issue& issue : report.issues) {
    std::vector<std::string> inputs;
    for (const InputFile& input : issue.inputs) {
      inputs.push_back(fmt::format("{} {} {}", input.role, input.path, input.sha256));
    }
    const HandedOut& handed = issue.handed_out;
    out += csv_row({std::to_string(issue.place), issue.train_number, issue.day,
                    std::to_string(issue.number), handed.at, handed.to, handed.made_by,
                    handed.checked_by, handed.released_by, handed.holds_until, issue.train_name,
                    issue.route_name, issue.decision, issue.answer,
                    fmt::format("{}", fmt::join(issue.different, " ")),
                    fmt::format("{}", fmt::join(inputs, "; ")), issue.program_version,
                    issue.card_sha256, issue.checksum});
  }
  return out;
}

}  // namespace panup
