#include "serve/issue_requests.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>

#include "base/handed_out.h"
#include "base/utc_time.h"
#include "issued/hand_out.h"
#include "issued/issued_table.h"
#include "issued/standing.h"
#include "plan/run_plan.h"
#include "serve/day_work.h"
#include "serve/request_json.h"

namespace panup {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t longest_line = 200;

/// A train of the day, chosen to get a card.
struct ChosenTrain {
  std::string number;
  int replaces = 0;  ///< 0: none
  std::string inputs_sha256;
};

struct AskedIssue {
  std::string day;
  std::vector<ChosenTrain> trains;
  HandedOut handed_out;
  bool also_holding = false;
  Words words = {};
};

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json issue_to_json(const Issue& issue) {
  const HandedOut& out = issue.handed_out;
  return {{"place", issue.place},
          {"issue", issue.number},
          {"replaces", issue.number > 1 ? Json(issue.number - 1) : Json(nullptr)},
          {"different", issue.different},
          {"issued_at", out.at},
          {"issued_to", out.to},
          {"made_by", text_or_null(out.made_by)},
          {"checked_by", text_or_null(out.checked_by)},
          {"released_by", text_or_null(out.released_by)},
          {"holds_until", text_or_null(out.holds_until)},
          {"answer", issue.answer},
          {"card_sha256", issue.card_sha256}};
}

Json issue_or_null(const std::optional<Issue>& issue) {
  return issue ? issue_to_json(*issue) : Json(nullptr);
}

/// Why a card holds no more, in words of the interface.
Json kinds_of_end(const CardStanding& standing) {
  Json kinds = Json::array();
  if (!standing.issue) {
    return kinds;
  }
  if (!standing.in_the_day) {
    kinds.push_back("not in the day");
  }
  if (standing.validity.past_last_day) {
    kinds.push_back("past its last day");
  }
  if (standing.validity.in_another_language) {
    kinds.push_back("in another language");
  }
  if (standing.validity.change.card_again) {
    kinds.push_back(standing.validity.change.fate == TrainFate::no_plan ? "no plan"
                                                                        : "it says something else");
  }
  return kinds;
}

Json standing_to_json(const CardStanding& standing) {
  const CardValidity& validity = standing.validity;
  return {{"number", standing.train_number},
          {"in_the_day", standing.in_the_day},
          {"issue", issue_or_null(standing.issue)},
          {"holds", standing.issue ? Json(validity.holds) : Json(nullptr)},
          {"because", kinds_of_end(standing)},
          {"card_says_else_of", validity.change.card_parts},
          {"why", validity.why}};
}

Reply no_register() {
  return error_reply(status_not_found,
                     "the server has no register of issued cards: panup serve --register FILE");
}

Reply register_wrong(const std::string& wrong) { return error_reply(status_fault, wrong); }

/// A day of the library, or those of its trains that are asked for, planned now.
struct PlannedForCards {
  std::shared_ptr<DayRead> read;
  PlannedDay planned;
  std::vector<std::shared_ptr<const RunPlan>> plans;
};

enum class Plans : std::uint8_t { not_needed, needed };

PlannedForCards planned_for_cards(std::shared_ptr<DayRead> read, Plans plans,
                                  const WorkPlace& place, const Words& words,
                                  const Stopped& stopped) {
  PlannedForCards whole{.read = std::move(read), .planned = {}, .plans = {}};
  DayRequest request{.day = &whole.read->day,
                     .files = &whole.read->once,
                     .jobs = place.planning.jobs,
                     .program_version = place.planning.program_version,
                     .words = words,
                     .with_readings = true,
                     .answers = place.answers.get(),
                     .plan_all = plans == Plans::needed};
  whole.plans.resize(whole.read->day.trains.size());
  if (plans == Plans::needed) {
    request.made = [&whole](std::size_t row, const std::shared_ptr<const RunPlan>& run) {
      whole.plans[row] = run;
    };
  }
  request.stopped = stopped;
  whole.planned = plan_day(request);
  return whole;
}

bool is_invented(const PlannedForCards& whole) {
  return whole.read->day.invented ||
         std::ranges::any_of(whole.planned.outcomes,
                             [](const auto& outcome) { return outcome && outcome->invented; });
}

/// A name that goes onto a card, in one line.
std::string read_name(RequestObject& request, std::string_view key, Need need) {
  auto name = request.text(key, need);
  if (!name) {
    return {};
  }
  const bool is_line = std::ranges::none_of(*name, [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
  });
  if (need == Need::required && name->find_first_not_of(' ') == std::string::npos) {
    request.report(key, "it is empty");
  } else if (name->size() > longest_line || !is_line) {
    request.report(key, fmt::format("expected one line of at most {} characters", longest_line));
  }
  return std::move(*name);
}

std::string read_day_path(RequestObject& request) {
  auto path = request.text("day");
  if (path) {
    if (const std::string wrong = wrong_with_name(*path); !wrong.empty()) {
      request.report("day", wrong);
    }
  }
  return path.value_or("");
}

AskedIssue read_asked_issue(RequestObject& request) {
  AskedIssue asked;
  asked.day = read_day_path(request);
  std::set<std::string> named;
  for (RequestObject& train : request.objects("trains", most_day_trains)) {
    ChosenTrain chosen{
        .number = train.text("number").value_or(""),
        .replaces = train.whole("replaces", 1, 1'000'000, Need::optional).value_or(0),
        .inputs_sha256 = train.text("inputs_sha256").value_or("")};
    train.finish();
    if (!named.insert(chosen.number).second) {
      train.report("number", "this train is named a second time");
    }
    asked.trains.push_back(std::move(chosen));
  }
  if (asked.trains.empty()) {
    request.report("trains", "at least one is expected");
  }
  asked.handed_out.to = read_name(request, "to", Need::required);
  asked.handed_out.made_by = read_name(request, "made_by", Need::optional);
  asked.handed_out.checked_by = read_name(request, "checked_by", Need::optional);
  asked.handed_out.released_by = read_name(request, "released_by", Need::optional);
  asked.handed_out.holds_until = request.text("holds_until", Need::optional).value_or("");
  asked.also_holding = request.flag("also_holding", Need::optional).value_or(false);
  asked.words = read_language(request);
  return asked;
}

Json refused_train(const std::string& number, const std::string& why,
                   const std::optional<Issue>& last) {
  return {{"number", number}, {"why", why}, {"issue", issue_or_null(last)}};
}

/// Nothing is issued, and said why beside each train that stands against it.
Reply refused_reply(Json trains, Diagnostics diagnostics, std::string_view error) {
  Json json = error_to_json(error, std::move(diagnostics));
  json["trains"] = std::move(trains);
  return json_reply(json, status_mistakes);
}

std::string nothing_issued(std::size_t refused) {
  return refused == 1 ? std::string("nothing is issued: a train may not have the card")
                      : fmt::format("nothing is issued: {} trains may not have the card", refused);
}

/// Keeps of the day the trains that are chosen, in its order; those that it does not have.
Json keep_chosen(DayFile& day, const std::vector<ChosenTrain>& chosen, const Words& words) {
  Json missing = Json::array();
  std::set<std::string> there;
  for (const DayTrain& train : day.trains) {
    there.insert(train.number);
  }
  std::set<std::string> wanted;
  for (const ChosenTrain& one : chosen) {
    wanted.insert(one.number);
    if (!there.contains(one.number)) {
      missing.push_back(
          refused_train(one.number, words.say("The day has no such train."), std::nullopt));
    }
  }
  std::erase_if(day.trains, [&](const DayTrain& train) { return !wanted.contains(train.number); });
  return missing;
}

std::vector<AskedCard> cards_in_order(const DayFile& day, const std::vector<ChosenTrain>& chosen) {
  std::vector<AskedCard> cards;
  for (const std::size_t row : departure_order(day)) {
    const auto one = std::ranges::find(chosen, day.trains[row].number, &ChosenTrain::number);
    cards.push_back({.row = row, .replaces = one->replaces, .inputs_sha256 = one->inputs_sha256});
  }
  return cards;
}

Reply refusal(const HandedOutDay& handed, const PlannedForCards& whole) {
  Json trains = Json::array();
  Diagnostics mistakes;
  for (const CardOfTrain& card : handed.cards) {
    trains.push_back(refused_train(whole.read->day.trains[card.row].number, card.why, card.issue));
    const Diagnostics& of_train = whole.planned.outcomes[card.row]->mistakes;
    mistakes.insert(mistakes.end(), of_train.begin(), of_train.end());
  }
  return refused_reply(std::move(trains), std::move(mistakes), nothing_issued(handed.cards.size()));
}

/// Makes the cards while anybody else may use the register, and takes it for what was issued last,
/// and for writing them.
HandedOutDay handed_out(const AskedIssue& asked, const PlannedForCards& whole,
                        CardRegister& cards) {
  const DayFile& day = whole.read->day;
  const DayToIssue planned{.day = day,
                           .outcomes = whole.planned.outcomes,
                           .readings = whole.planned.readings,
                           .plans = whole.plans,
                           .words = asked.words};
  HowToIssue how{.handed_out = asked.handed_out, .also_holding = asked.also_holding};
  how.handed_out.at = utc_now();
  const std::vector<AskedCard> in_order = cards_in_order(day, asked.trains);
  std::vector<std::size_t> rows;
  for (const AskedCard& one : in_order) {
    rows.push_back(one.row);
  }
  LastIssues known;
  {
    const std::lock_guard lock(cards.in_use);
    // Behind a place where the chain is broken nothing more is issued.
    const auto all = cards.issues.issues();
    if (const auto* const wrong = std::get_if<std::string>(&all)) {
      return {.cards = {}, .wrong = *wrong};
    }
    known = last_issues(cards.issues, day, rows);
  }
  if (!known.wrong.empty()) {
    return {.cards = {}, .wrong = std::move(known.wrong)};
  }
  if (auto refused = refused_as_seen(planned, in_order, known.last, how); !refused.empty()) {
    return {.cards = std::move(refused), .wrong = {}};
  }
  MadeCards made = make_cards(planned, rows, known.last, how);
  const std::lock_guard lock(cards.in_use);
  return issue_as_seen(cards.issues, planned, std::move(made));
}

}  // namespace

Reply reply_to_issued(const std::string& body, const CardPlace& place, const Stopped& stopped) {
  std::string path;
  Words words;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        path = read_day_path(request);
        words = read_language(request);
      })) {
    return *wrong;
  }
  if (place.cards == nullptr) {
    return no_register();
  }
  Diagnostics diagnostics;
  auto read = read_day_of_library(path, place.work.planning, diagnostics);
  if (read == nullptr) {
    return mistakes_reply(std::move(diagnostics));
  }
  const PlannedForCards whole =
      planned_for_cards(std::move(read), Plans::not_needed, place.work, words, stopped);
  if (whole.planned.stopped) {
    return error_reply(status_busy, "it was stopped");
  }
  const std::string now = utc_now();
  DayStandings standings;
  {
    const std::lock_guard lock(place.cards->in_use);
    standings = standings_of_day(place.cards->issues, whole.read->day, whole.planned,
                                 now.substr(0, now.find('T')), words);
  }
  if (!standings.wrong.empty()) {
    return register_wrong(standings.wrong);
  }
  Json trains = Json::array();
  for (const CardStanding& standing : standings.cards) {
    trains.push_back(standing_to_json(standing));
  }
  return json_reply({{"register", place.cards->path},
                     {"day", whole.read->day.name},
                     {"date", whole.read->day.date},
                     {"asked_at", now},
                     {"invented", is_invented(whole)},
                     {"trains", std::move(trains)},
                     {"cautions", cautions("card", words)}});
}

Reply reply_to_issuing(const std::string& body, const CardPlace& place, const Stopped& stopped) {
  AskedIssue asked;
  if (auto wrong =
          wrong_with(body, [&](RequestObject& request) { asked = read_asked_issue(request); })) {
    return *wrong;
  }
  if (place.cards == nullptr) {
    return no_register();
  }
  Diagnostics diagnostics;
  auto read = read_day_of_library(asked.day, place.work.planning, diagnostics);
  if (read == nullptr) {
    return refused_reply(Json::array(), std::move(diagnostics), "the input has mistakes");
  }
  if (const std::string wrong = wrong_with_last_day(asked.handed_out.holds_until, read->day.date);
      !wrong.empty()) {
    return malformed_reply(
        {{{.file = std::string(request_name)}, fmt::format("'holds_until': {}", wrong)}});
  }
  if (Json missing = keep_chosen(read->day, asked.trains, asked.words); !missing.empty()) {
    const std::size_t count = missing.size();
    return refused_reply(std::move(missing), {}, nothing_issued(count));
  }
  const PlannedForCards whole =
      planned_for_cards(std::move(read), Plans::needed, place.work, asked.words, stopped);
  if (whole.planned.stopped) {
    return error_reply(status_busy, "it was stopped");
  }
  const HandedOutDay handed = handed_out(asked, whole, *place.cards);
  if (!handed.wrong.empty()) {
    return register_wrong(handed.wrong);
  }
  if (std::ranges::any_of(handed.cards,
                          [](const CardOfTrain& card) { return card.fate != CardFate::issued; })) {
    return refusal(handed, whole);
  }
  Json trains = Json::array();
  for (const CardOfTrain& card : handed.cards) {
    trains.push_back(Json{{"number", whole.read->day.trains[card.row].number},
                          {"issue", issue_to_json(*card.issue)}});
  }
  return json_reply({{"register", place.cards->path},
                     {"day", whole.read->day.name},
                     {"date", whole.read->day.date},
                     {"issued_at", handed.cards.front().issue->handed_out.at},
                     {"invented", is_invented(whole)},
                     {"trains", std::move(trains)},
                     {"cautions", cautions("card", asked.words)}});
}

std::optional<std::int64_t> card_in_path(std::string_view path) {
  constexpr std::string_view before = "/api/issued/";
  constexpr std::string_view after = "/card";
  if (!path.starts_with(before) || !path.ends_with(after) ||
      path.size() <= before.size() + after.size()) {
    return std::nullopt;
  }
  const std::string_view text =
      path.substr(before.size(), path.size() - before.size() - after.size());
  std::int64_t place = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), place);
  const bool whole = error == std::errc() && end == text.data() + text.size();
  return whole ? std::optional(place) : std::nullopt;
}

Reply reply_to_issued_card(std::int64_t place_in_register, CardRegister* cards) {
  if (cards == nullptr) {
    return no_register();
  }
  const std::lock_guard lock(cards->in_use);
  const auto all = cards->issues.issues();
  if (const auto* const wrong = std::get_if<std::string>(&all)) {
    return register_wrong(*wrong);
  }
  const auto& issues = std::get<std::vector<Issue>>(all);
  const auto issue = std::ranges::find(issues, place_in_register, &Issue::place);
  if (issue == issues.end()) {
    return error_reply(status_not_found, "no such card was issued");
  }
  KeptBytes card = cards->issues.card_of(*issue);
  if (!card.wrong.empty()) {
    return register_wrong(card.wrong);
  }
  return {.type = "application/pdf",
          .body = std::move(card.bytes),
          .headers = {{"Content-Disposition",
                       fmt::format("inline; filename=\"{}\"", card_file_name(*issue))}}};
}

}  // namespace panup
