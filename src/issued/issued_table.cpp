#include "issued/issued_table.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/handed_out.h"
#include "day/day_table.h"
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
  add_language(json, report.words);
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
  add_language(json, report.words);
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

namespace {

CsvColumn words_column(std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
  return {.name = std::move(name), .empty = empty, .meaning = std::move(meaning)};
}
CsvColumn count_column(std::string name, std::string meaning, EmptyCell empty = EmptyCell::never) {
  return {.name = std::move(name),
          .kind = CellKind::whole,
          .empty = empty,
          .meaning = std::move(meaning)};
}

CsvTable issues_table() {
  constexpr auto not_stated = EmptyCell::not_stated;
  constexpr auto empty = EmptyCell::empty;
  return {.name = "issued",
          .title = "Driver's cards that were issued, in the order in which they were",
          .columns = {count_column("place", "Place in the register, from 1."),
                      words_column("train_number", "Train number."),
                      words_column("day", "Day of operation."),
                      count_column("issue", "Issue of this train and day, from 1."),
                      words_column("issued_at", "When it was handed out, in UTC."),
                      words_column("issued_to", "To whom."),
                      words_column("made_by", "Who made it.", not_stated),
                      words_column("checked_by", "Who checked it.", not_stated),
                      words_column("released_by", "Who released it.", not_stated),
                      words_column("holds_until", "The last day on which it holds.", not_stated),
                      words_column("train", "Name of the train.", empty),
                      words_column("route", "Name of the route.", empty),
                      words_column("decision", "What the desk had to decide."),
                      words_column("answer", "The answer in words.", empty),
                      words_column("program_version", "Version of panup that made it."),
                      words_column("card_sha256", "SHA-256 of the card."),
                      words_column("checksum", "SHA-256 over this issue and all before it.")},
          .key = {"place"}};
}

CsvTable differences_table() {
  return {.name = "issued-differences",
          .title = "In what a card differs from the issue that it replaced",
          .columns = {count_column("place", "Place of the issue in the register."),
                      count_column("number", "Difference, from 1."),
                      words_column("text", "What is different.", EmptyCell::empty)},
          .key = {"place", "number"}};
}

CsvTable inputs_table() {
  return {.name = "issued-inputs",
          .title = "What issued cards were made from",
          .columns = {count_column("place", "Place of the issue in the register."),
                      count_column("number", "Input, from 1."),
                      words_column("role", "What it is of the plan."),
                      words_column("path", "The file.", EmptyCell::empty),
                      words_column("sha256", "SHA-256 of its bytes.", EmptyCell::empty)},
          .key = {"place", "number"}};
}

CsvTable standings_table() {
  return {.name = "issued-standings",
          .title = "How the cards issued last stand against a day",
          .columns = {words_column("number", "Train number."),
                      {.name = "in_the_day",
                       .kind = CellKind::flag,
                       .meaning = "The day has the train still."},
                      count_column("issue", "The issue that is out; empty: none is.",
                                   EmptyCell::not_stated),
                      words_column("issued_to", "Who has it.", EmptyCell::not_stated),
                      {.name = "holds",
                       .kind = CellKind::flag,
                       .empty = EmptyCell::not_stated,
                       .meaning = "It still holds."}},
          .key = {"number"}};
}

CsvTable reasons_table() {
  return {.name = "issued-reasons",
          .title = "Why cards do not hold any more",
          .columns = {words_column("train_number", "Train number."),
                      count_column("number", "Reason, from 1."),
                      words_column("text", "What it says.", EmptyCell::empty)},
          .key = {"train_number", "number"}};
}

/// Each sentence of a list as a row, after what it belongs to.
void add_sentences(const char* owner, const Json& of, const Json& sentences, CsvTable& table) {
  int number = 0;
  for (const Json& sentence : sentences) {
    table.rows.push_back({{owner, of}, {"number", ++number}, {"text", sentence}});
  }
}

}  // namespace

std::vector<CsvTable> issued_tables(const IssuedReport& report) {
  CsvTable issues = issues_table();
  CsvTable differences = differences_table();
  CsvTable inputs = inputs_table();
  CsvTable standings = standings_table();
  CsvTable reasons = reasons_table();
  const Json json = issued_to_json(report);
  for (const Json& issue : json.at("issues")) {
    issues.rows.push_back(issue);
    add_sentences("place", issue.at("place"), issue.at("different"), differences);
    int number = 0;
    for (const Json& input : issue.at("inputs")) {
      Json row{{"place", issue.at("place")}, {"number", ++number}};
      row.update(input);
      inputs.rows.push_back(std::move(row));
    }
  }
  for (const Json& standing : json.at("trains")) {
    standings.rows.push_back(standing);
    add_sentences("train_number", standing.at("number"), standing.at("why"), reasons);
  }
  return {std::move(issues), std::move(differences), std::move(inputs), std::move(standings),
          std::move(reasons)};
}

}  // namespace panup
