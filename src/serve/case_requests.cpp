#include "serve/case_requests.h"

#include <fmt/format.h>

#include <algorithm>

#include "files/built_in_cases.h"
#include "requests/case_input.h"

namespace panup {

namespace {

/// Reads which case, and the language; a case that there is not is reported.
AskedPlan read_asked_case(RequestObject& request) {
  AskedPlan asked;
  const PracticeCases& cases = built_in_cases();
  asked.files = files_of_cases();
  const auto id = request.text("case");
  const auto one = std::ranges::find(cases.cases, id.value_or(""), &PracticeCase::id);
  if (one != cases.cases.end()) {
    asked.paths = paths_of_case(cases, *one);
    asked.train = asked.paths.train;
    Diagnostics unsaid;  // the program has the file
    if (auto train = asked.files->load(asked.train, unsaid)) {
      asked.texts.push_back(std::move(*train));
    }
  } else if (id) {
    request.report("case", fmt::format("there is no case '{}'; /api/practice lists them", *id));
  }
  asked.paths.words = read_language(request);
  return asked;
}

}  // namespace

Reply reply_to_cases() {
  const PracticeCases& cases = built_in_cases();
  const auto in_languages = [](const InLanguages& said) {
    return nlohmann::ordered_json{{"en", said.en}, {"de", said.de}};
  };
  auto list = nlohmann::ordered_json::array();
  for (const PracticeCase& one : cases.cases) {
    list.push_back({{"id", one.id},
                    {"of", one.of},
                    {"title", in_languages(one.title)},
                    {"source", in_languages(one.source)}});
  }
  return json_reply(
      {{"name", cases.name}, {"invented", cases.invented}, {"cases", std::move(list)}});
}

Reply reply_to_case_plan(const std::string& body, const PlanningPlace& place,
                         const Stopped& stopped) {
  AskedPlan asked;
  if (auto wrong =
          wrong_with(body, [&](RequestObject& request) { asked = read_asked_case(request); })) {
    return *wrong;
  }
  return reply_with_plan(asked, place, stopped);
}

Reply reply_to_case_why(const std::string& body, const PlanningPlace& place,
                        const Stopped& stopped) {
  AskedPlan asked;
  AskedWhy why;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        asked = read_asked_case(request);
        why = read_asked_why(request);
      })) {
    return *wrong;
  }
  return reply_with_why(asked, std::nullopt, why, place, stopped);
}

}  // namespace panup
