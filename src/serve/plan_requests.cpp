#include "serve/plan_requests.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <utility>

#include "base/handed_out.h"
#include "base/utc_time.h"
#include "card/card.h"
#include "card/report.h"
#include "day/plan_day.h"
#include "day/plan_parts.h"
#include "driving/drive.h"
#include "files/read_day.h"
#include "files/read_run.h"
#include "files/read_train.h"
#include "render/plan_json.h"
#include "render/why_not.h"
#include "requests/why_question.h"
#include "serve/failure.h"
#include "serve/looked_up_runs.h"
#include "serve/models.h"
#include "serve/pictures.h"
#include "serve/train_model.h"
#include "wording/headline.h"

namespace panup {

namespace {

constexpr std::size_t most_rule_books = 16;
constexpr std::size_t most_asked = 16;
constexpr int most_parts = 1000;

/// Adds a text. Two of one name are one file, and so have to be the same.
void add_text(RequestObject& request, std::string_view key, SourceText text, AskedPlan& asked) {
  const auto same = std::ranges::find(asked.texts, text.file, &SourceText::file);
  if (same == asked.texts.end()) {
    asked.texts.push_back(std::move(text));
  } else if (same->text != text.text) {
    request.report(key, fmt::format("two different texts are called '{}'", text.file));
  }
}

/// What was read of an object that holds a text; nothing where it has a mistake.
std::optional<SourceText> checked_text(RequestObject& object, std::optional<std::string> name,
                                       std::optional<std::string> text) {
  object.finish();
  if (!name || !text) {
    return std::nullopt;
  }
  if (const std::string wrong = wrong_with_name(*name); !wrong.empty()) {
    object.report("name", wrong);
    return std::nullopt;
  }
  return SourceText{.file = std::move(*name), .text = std::move(*text)};
}

/// A train, as a text or as the model that one is written from.
std::optional<SourceText> read_train_text(RequestObject& request, Diagnostics& unwritten) {
  auto object = request.object("train");
  if (!object) {
    return std::nullopt;
  }
  auto name = object->text("name");
  // Not read key by key: what a train may say is for the reader of trains to say.
  const bool has_model = object->object("model", Need::optional).has_value();
  auto text = object->text("text", has_model ? Need::optional : Need::required);
  if (has_model && text) {
    object->report("model", "either a text or a model is expected, not both");
  } else if (has_model) {
    text = model_to_train(*object->value("model"), name.value_or(""), utc_today(), unwritten);
    if (!text) {
      text = "";  // what is wrong is said where the texts are read
    }
  }
  return checked_text(*object, std::move(name), std::move(text));
}

std::optional<TrainOfDay> read_train_of_day(RequestObject& request) {
  auto object = request.object("day", Need::optional);
  if (!object) {
    return std::nullopt;
  }
  const auto file = object->text("file");
  const auto number = object->text("number");
  object->finish();
  if (!file || !number) {
    return std::nullopt;
  }
  if (const std::string wrong = wrong_with_name(*file); !wrong.empty()) {
    object->report("file", wrong);
  }
  return TrainOfDay{.day = *file, .number = *number};
}

/// Takes from the day what it says of the train. False, and diagnostics, where it cannot.
bool take_from_day(const TrainOfDay& of_day, const FileSource& files, PlanPaths& paths,
                   Diagnostics& diagnostics) {
  const auto day = read_day_file(of_day.day, diagnostics, files);
  if (!day) {
    return false;
  }
  const auto train = std::ranges::find(day->trains, of_day.number, &DayTrain::number);
  if (train == day->trains.end()) {
    diagnostics.push_back(
        {{.file = of_day.day}, fmt::format("the day has no train \"{}\"", of_day.number)});
    return false;
  }
  PlanPaths said = paths_of_train(*day, *train);
  paths.consents = std::move(said.consents);
  // Besides what has been met on the road since.
  paths.defects.insert(paths.defects.begin(), said.defects.begin(), said.defects.end());
  paths.departure = std::move(said.departure);
  paths.run = std::move(said.run);
  return true;
}

/// Reports a run that names another train than the one that is sent with it: what was changed of
/// that would not count.
void check_train_of_run(const AskedPlan& asked, Diagnostics& diagnostics) {
  const auto text = std::ranges::find(asked.texts, asked.paths.run_file, &SourceText::file);
  Diagnostics said_by_reader;
  const auto run = text == asked.texts.end() ? std::nullopt : read_run(*text, said_by_reader);
  if (run && run->train.path != asked.train) {
    diagnostics.push_back(
        {run->train.place,
         fmt::format("the run names another train than '{}', which is open with it", asked.train)});
  }
}

/// Which part of a run is meant, counted from 1; nothing where the request does not say.
std::optional<int> read_part(RequestObject& request, const AskedPlan& asked, Need of_run) {
  const bool is_run = !asked.paths.run_file.empty();
  const auto part = request.whole("part", 1, most_parts, is_run ? of_run : Need::optional);
  if (part && !is_run) {
    request.report("part", "only a run has parts");
  }
  return part;
}

/// For nobody: it is not sent.
Reply stopped_reply() { return error_reply(status_busy, "it was stopped"); }

/// What was asked for as it is read; or the reply that says why it cannot be.
std::optional<RunInput> input_of(const AskedPlan& asked, const PlanningPlace& place, Reply& reply) {
  Diagnostics diagnostics;
  auto input = read_asked_input(asked, place, diagnostics);
  if (!input) {
    reply = mistakes_reply(std::move(diagnostics));
  }
  return input;
}

SpeedFrom read_speed_from(RequestObject& request) {
  const auto name = request.word("speed_from", {"tables", "mechanics", "both"}, Need::optional);
  return name ? *speed_from_named(*name) : SpeedFrom::tables;
}

/// Index of the part of a run that is meant; nothing, and the reply, where it has no such part.
std::optional<std::size_t> index_of_part(int part, const RunInput& input, Reply& reply) {
  const auto index = static_cast<std::size_t>(part) - 1;
  if (index < input.parts.size()) {
    return index;
  }
  reply = mistakes_reply({{{.file = std::string(request_name)},
                           input.parts.size() == 1
                               ? std::string("'part': the run has one part")
                               : fmt::format("'part': the run has {} parts", input.parts.size())}});
  return std::nullopt;
}

/// A plan with what the page shows beside it.
void add_plan(const Plan& plan, nlohmann::ordered_json& answer) {
  answer["plan"] = plan_in_short_to_json(plan);
  answer["route"] = route_to_model(plan.route, plan.conditions);
  PlanPictures pictures = pictures_of(plan);
  answer["pictures"] = std::move(pictures.pictures);
  answer["section_pictures"] = std::move(pictures.section_pictures);
  answer["separations"] = separation_courses_of(plan);
  auto consents = nlohmann::ordered_json::array();
  for (const ConsentNamed& used : consents_used(plan)) {
    consents.push_back({{"reference", used.reference}, {"given_by", used.given_by}});
  }
  answer["consents_used"] = std::move(consents);
}

std::string file_named(std::vector<RenderedFile> files, std::string_view name) {
  const auto file = std::ranges::find(files, name, &RenderedFile::name);
  return file == files.end() ? std::string() : std::move(file->bytes);
}

/// As the command writes them: the cards of all parts, in order, or that of one.
std::string cards_of(const RunPlan& run, std::optional<std::size_t> of_part) {
  CardBook cards(run.name);
  for (std::size_t i = 0; i < run.parts.size(); ++i) {
    if (!of_part || *of_part == i) {
      cards.add(run.parts[i]);
    }
  }
  return cards.finish();
}

}  // namespace

FileSource files_of(const PlanningPlace& place) {
  const FileSource library = files_of(place.library);
  const auto is_rule_book = [rules = place.rules](const std::string& path) {
    return std::ranges::find(rules, path) != rules.end();
  };
  return {.load =
              [library, is_rule_book](const std::string& path, Diagnostics& diagnostics) {
                return is_rule_book(path) ? load_text(path, diagnostics)
                                          : library.load(path, diagnostics);
              },
          .has = library.has};
}

Words read_language(RequestObject& request) {
  const auto name = request.word("language", built_in_languages(), Need::optional);
  return name ? built_in_words(*name) : Words();
}

std::optional<SourceText> read_text(RequestObject& request, std::string_view key, Need need) {
  auto object = request.object(key, need);
  if (!object) {
    return std::nullopt;
  }
  auto name = object->text("name");
  auto text = object->text("text");
  return checked_text(*object, std::move(name), std::move(text));
}

AskedPlan read_asked_plan(RequestObject& request, const PlanningPlace& place) {
  AskedPlan asked;
  const auto add = [&](std::string_view key, std::optional<SourceText> text) {
    std::string name = text ? text->file : std::string();
    if (text) {
      add_text(request, key, std::move(*text), asked);
    }
    return name;
  };
  asked.train = add("train", read_train_text(request, asked.unwritten));
  const bool has_route = request.value("route") != nullptr;
  const bool has_run = request.value("run") != nullptr;
  if (has_route && has_run) {
    request.report("run", "either a route or a run is expected, not both");
  } else if (has_run) {
    asked.paths.run_file = add("run", read_text(request, "run"));
  } else {
    asked.paths.train = asked.train;
    asked.paths.route = add("route", read_text(request, "route"));
  }
  asked.paths.conditions = add("conditions", read_text(request, "conditions", Need::optional));
  if (std::string defects = add("defects", read_text(request, "defects", Need::optional));
      !defects.empty()) {
    asked.paths.defects.push_back(std::move(defects));
  }
  asked.paths.rules = place.rules;
  std::vector<std::string> of_server;
  for (const std::string& path : place.rules) {
    Diagnostics said_later;
    const auto source = load_text(path, said_later);
    of_server.push_back(source ? source->text : std::string());
  }
  for (RequestObject& book : request.objects("rules", most_rule_books)) {
    const auto name = book.text("name");
    auto text = book.text("text");
    book.finish();
    if (!name || !text) {
      continue;
    }
    if (const std::string wrong = wrong_with_name(*name); !wrong.empty()) {
      book.report("name", wrong);
    } else if (std::ranges::find(of_server, *text) == of_server.end()) {
      add("rules", SourceText{.file = *name, .text = std::move(*text)});
      asked.paths.rules.push_back(*name);
    }
  }
  asked.of_day = read_train_of_day(request);
  asked.speed_from = read_speed_from(request);
  asked.paths.words = read_language(request);
  return asked;
}

std::optional<RunInput> read_asked_input(const AskedPlan& asked, const PlanningPlace& place,
                                         Diagnostics& diagnostics) {
  if (!asked.unwritten.empty()) {
    diagnostics = asked.unwritten;
    return std::nullopt;
  }
  const FileSource files = with_texts(asked.files.value_or(files_of(place)), asked.texts);
  PlanPaths paths = asked.paths;
  if (asked.of_day && !take_from_day(*asked.of_day, files, paths, diagnostics)) {
    return std::nullopt;
  }
  check_train_of_run(asked, diagnostics);
  auto input = read_train_input(paths, asked.speed_from, files, diagnostics);
  if (!diagnostics.empty()) {
    return std::nullopt;
  }
  for (PlanInput& part : input->parts) {
    part.request.jobs = place.jobs;
  }
  return input;
}

nlohmann::ordered_json plan_answer(const RunPlan& plan, const std::vector<std::string>& places,
                                   const AskedPlan& asked) {
  nlohmann::ordered_json answer;
  const auto train = std::ranges::find(asked.texts, asked.train, &SourceText::file);
  answer["train"] = train_to_model(*train);
  answer["train_text"] = train->text;
  if (asked.paths.run_file.empty()) {
    add_plan(plan.parts.front(), answer);
    return answer;
  }
  answer["run"] = {{"id", plan.id}, {"name", plan.name}};
  answer["answer"] = name_of(answer_of(plan));
  answer["running_time_s"] = running_time_s(plan);
  auto parts = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < plan.parts.size(); ++i) {
    nlohmann::ordered_json part{{"from", places[i]}, {"to", places[i + 1]}};
    add_plan(plan.parts[i], part);
    parts.push_back(std::move(part));
  }
  answer["parts"] = std::move(parts);
  return answer;
}

Reply reply_to_plan(const std::string& body, const PlanningPlace& place, const Stopped& stopped) {
  AskedPlan asked;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        asked = read_asked_plan(request, place);
        if (asked.speed_from != SpeedFrom::tables) {
          request.report(
              "speed_from",
              "here plans are made by the tables alone, because the mechanics takes long; "
              "begin a job of kind 'plan' at /api/jobs");
        }
      })) {
    return *wrong;
  }
  return reply_with_plan(asked, place, stopped);
}

Reply reply_with_plan(const AskedPlan& asked, const PlanningPlace& place, const Stopped& stopped) {
  Reply reply;
  auto input = input_of(asked, place, reply);
  if (!input) {
    return reply;
  }
  LookedUpRuns runs(place, {.stopped = stopped});
  make_ready(*input, runs, stopped);
  const auto plan = plan_parts(*input, place.program_version);
  return plan ? json_reply(plan_answer(*plan, input->places, asked)) : stopped_reply();
}

namespace {

/// Reads what is asked for, makes it ready to plan, and has one part of it answered for.
Reply reply_for_part(const AskedPlan& asked, std::optional<int> part, const PlanningPlace& place,
                     const Stopped& stopped,
                     const std::function<Reply(RunInput& input, std::size_t part)>& answer) {
  Reply reply;
  auto input = input_of(asked, place, reply);
  const auto index =
      input ? index_of_part(part.value_or(1), *input, reply) : std::optional<std::size_t>();
  if (!index) {
    return reply;
  }
  LookedUpRuns runs(place, {.stopped = stopped});
  make_ready(*input, runs, stopped);
  return answer(*input, *index);
}

/// The same from the plan of all parts, as it is handed out: vehicles may leave on the move between
/// two.
Reply reply_from_plan(const AskedPlan& asked, std::optional<int> part, const PlanningPlace& place,
                      const Stopped& stopped,
                      const std::function<Reply(const RunPlan& plan, std::size_t part)>& answer) {
  return reply_for_part(asked, part, place, stopped, [&](RunInput& input, std::size_t index) {
    const auto plan = plan_parts(std::move(input), place.program_version);
    return plan ? answer(*plan, index) : stopped_reply();
  });
}

Reply why_reply(const PlanInput& asked_part, const AskedWhy& asked) {
  // Answered as from a stand, where a part begins on the move as well.
  const auto plan = make_driven_part(asked_part.request, asked_part.changes);
  if (!plan) {
    return stopped_reply();
  }
  WhyQuestion question{.asked = {}, .at_km = asked.at_km};
  Diagnostics diagnostics;
  const auto report = [&diagnostics](std::string text) {
    if (!text.empty()) {
      diagnostics.push_back({{.file = std::string(request_name)}, std::move(text)});
    }
  };
  for (const std::string& name : asked.pantographs) {
    report(ask_for(name, plan->train, question));
  }
  report(wrong_with_place(question.at_km, plan->route));
  if (!diagnostics.empty()) {
    return mistakes_reply(std::move(diagnostics));
  }
  const auto why = why_not(asked_part.request, *plan, question.asked, question.at_km);
  return why ? json_reply(why_not_to_json(*plan, *why)) : stopped_reply();
}

Reply failure_reply(const Plan& plan, const std::string& failed) {
  WhyQuestion question;
  if (std::string wrong = ask_for(failed, plan.train, question); !wrong.empty()) {
    return mistakes_reply({{{.file = std::string(request_name)}, std::move(wrong)}});
  }
  return json_reply(failure_to_json(plan, question.asked.front()));
}

}  // namespace

Reply reply_to_why(const std::string& body, const PlanningPlace& place, const Stopped& stopped) {
  AskedPlan asked;
  std::optional<int> part;
  AskedWhy why;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        asked = read_asked_plan(request, place);
        part = read_part(request, asked, Need::required);
        why = read_asked_why(request);
      })) {
    return *wrong;
  }
  return reply_with_why(asked, part, why, place, stopped);
}

AskedWhy read_asked_why(RequestObject& request) {
  AskedWhy why;
  why.pantographs = request.texts("asked", most_asked).value_or(std::vector<std::string>{});
  why.at_km = request.number("at_km", {0, 5000}).value_or(0);
  return why;
}

Reply reply_with_why(const AskedPlan& asked, std::optional<int> part, const AskedWhy& why,
                     const PlanningPlace& place, const Stopped& stopped) {
  return reply_for_part(asked, part, place, stopped, [&](RunInput& input, std::size_t index) {
    return why_reply(input.parts[index], why);
  });
}

Reply reply_to_failure(const std::string& body, const PlanningPlace& place,
                       const Stopped& stopped) {
  AskedPlan asked;
  std::optional<int> part;
  std::string failed;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        asked = read_asked_plan(request, place);
        part = read_part(request, asked, Need::required);
        failed = request.text("failed").value_or("");
      })) {
    return *wrong;
  }
  return reply_from_plan(asked, part, place, stopped, [&](const RunPlan& run, std::size_t index) {
    return failure_reply(run.parts[index], failed);
  });
}

Reply reply_to_paper(const std::string& body, Paper paper, const PlanningPlace& place,
                     const Stopped& stopped) {
  AskedPlan asked;
  std::optional<int> part;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        asked = read_asked_plan(request, place);
        part = read_part(request, asked, paper == Paper::card ? Need::optional : Need::required);
      })) {
    return *wrong;
  }
  return reply_from_plan(asked, part, place, stopped, [&](const RunPlan& run, std::size_t index) {
    const Plan& plan = run.parts[index];
    const bool for_browser = paper == Paper::report_for_browser;
    Reply reply;
    reply.type = for_browser ? "text/html; charset=utf-8" : "application/pdf";
    reply.body = for_browser              ? file_named(render_report(plan), "report.html")
                 : paper == Paper::report ? file_named(render_report(plan), "report.pdf")
                 : asked.paths.run_file.empty()
                     ? file_named(render_card(plan), "card.pdf")
                     : cards_of(run, part ? std::optional(index) : std::nullopt);
    return reply;
  });
}

Reply reply_to_run_reading(const std::string& body) {
  std::optional<SourceText> text;
  if (auto wrong =
          wrong_with(body, [&](RequestObject& request) { text = read_text(request, "run"); })) {
    return *wrong;
  }
  Diagnostics diagnostics;
  const auto run = read_run(*text, diagnostics);
  return run ? json_reply({{"run",
                            {{"id", run->id},
                             {"name", run->name},
                             {"invented", run->invented},
                             {"train_file", run->train.path},
                             {"network_file", run->network.path}}}})
             : mistakes_reply(std::move(diagnostics));
}

Reply reply_to_train_reading(const std::string& body, const PlanningPlace& place) {
  std::optional<SourceText> text;
  if (auto wrong =
          wrong_with(body, [&](RequestObject& request) { text = read_text(request, "train"); })) {
    return *wrong;
  }
  Diagnostics diagnostics;
  const std::string name = text->file;
  const auto train = read_train_file(name, diagnostics, with_texts(files_of(place), {*text}));
  return train ? json_reply({{"train", train_to_model(*text)}})
               : mistakes_reply(std::move(diagnostics));
}

Reply reply_to_train_writing(const std::string& body, const PlanningPlace& place) {
  SourceText text;
  std::optional<std::string> written;
  Diagnostics diagnostics;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        text.file = request.text("name").value_or("");
        if (const std::string mistake = wrong_with_name(text.file); !mistake.empty()) {
          request.report("name", mistake);
        }
        // Not read key by key: what a train may say is for the reader of trains to say.
        if (request.object("train")) {
          written = model_to_train(*request.value("train"), text.file, utc_today(), diagnostics);
        }
      })) {
    return *wrong;
  }
  if (!written) {
    return mistakes_reply(std::move(diagnostics));
  }
  text.text = std::move(*written);
  const auto train = read_train_file(text.file, diagnostics, with_texts(files_of(place), {text}));
  return train ? json_reply({{"text", text.text}}) : mistakes_reply(std::move(diagnostics));
}

}  // namespace panup
