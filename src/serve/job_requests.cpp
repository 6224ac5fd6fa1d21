#include "serve/job_requests.h"

#include <fmt/format.h>

#include "serve/day_work.h"

namespace panup {

namespace {

constexpr std::size_t most_pantographs = 8;

std::vector<std::string> names_of_systems() {
  std::vector<std::string> names;
  for (const EnergySupply supply : all_energy_supplies) {
    names.emplace_back(name_of(supply));
  }
  return names;
}

std::optional<EnergySupply> read_system(RequestObject& request) {
  const auto name = request.word("system", names_of_systems(), Need::optional);
  return name ? energy_supply_named(*name) : std::nullopt;
}

/// The path of a file of the library.
std::string read_path(RequestObject& request, std::string_view key) {
  auto path = request.text(key);
  if (!path) {
    return {};
  }
  if (const std::string wrong = wrong_with_name(*path); !wrong.empty()) {
    request.report(key, wrong);
  }
  return *path;
}

/// A contact line by its path in the library, or as a text.
std::string read_line(RequestObject& request, std::vector<SourceText>& texts) {
  if (request.is_text("line") || request.value("line") == nullptr) {
    return read_path(request, "line");
  }
  auto text = read_text(request, "line");
  if (!text) {
    return {};
  }
  std::string name = text->file;
  texts.push_back(std::move(*text));
  return name;
}

/// Pantographs on a line in some weather.
AskedSimulation read_case(RequestObject& request) {
  AskedSimulation asked;
  asked.line = read_line(request, asked.texts);
  auto pantographs = request.objects("pantographs", most_pantographs);
  if (pantographs.empty()) {
    request.report("pantographs", fmt::format("1 to {} are expected", most_pantographs));
  }
  double before_m = -1;
  for (RequestObject& one : pantographs) {
    RaisedOnLine raised;
    raised.model = asked.models.size();
    asked.models.push_back(read_path(one, "model"));
    raised.knuckle = one.word("knuckle", {"leading", "trailing"}).value_or("leading") == "trailing"
                         ? Knuckle::trailing
                         : Knuckle::leading;
    raised.behind_first_m = one.number("behind_first_m", {0, 14000}).value_or(0);
    one.finish();
    const bool first = asked.run.raised.empty();
    if (first ? raised.behind_first_m != 0 : !(raised.behind_first_m >= before_m + 1)) {
      one.report("behind_first_m",
                 first ? "the first one's is 0" : "each stands at least 1 m behind the one before");
    }
    before_m = raised.behind_first_m;
    asked.run.raised.push_back(raised);
  }
  asked.run.supply = read_system(request);
  asked.run.temperature_c = request.number("temperature_c", {-60, 60}, Need::optional);
  asked.run.ice_kg_per_m = request.number("ice_kg_per_m", {0, 10}, Need::optional);
  asked.run.words = read_language(request);
  return asked;
}

AskedSimulation read_simulation(RequestObject& request) {
  AskedSimulation asked = read_case(request);
  asked.run.speed_kmh = request.number("speed_kmh", {5, 500}).value_or(100);
  asked.wire_shapes = request.flag("wire_shapes", Need::optional).value_or(false);
  return asked;
}

AskedSpeedCurve read_speed_curve(RequestObject& request) {
  AskedSpeedCurve asked{.stands = read_case(request), .distances_m = {}};
  asked.stands.run.speed_kmh = request.number("up_to_kmh", {5, 500}).value_or(100);
  const std::vector<RaisedOnLine>& raised = asked.stands.run.raised;
  const int drawn = request.whole("drawn_pantograph", 2, most_pantographs).value_or(2);
  asked.drawn_at = static_cast<std::size_t>(drawn) - 1;
  if (asked.drawn_at >= raised.size()) {
    request.report("drawn_pantograph", fmt::format("there are only {} pantographs", raised.size()));
  } else {
    asked.distances_m = {raised[asked.drawn_at].behind_first_m -
                         raised[asked.drawn_at - 1].behind_first_m};
  }
  if (auto others = request.numbers("distances_m", {1, 2000}, most_envelope_spacings)) {
    asked.distances_m.insert(asked.distances_m.end(), others->begin(), others->end());
  }
  return asked;
}

/// Not empty and rising.
std::vector<double> read_rising(RequestObject& request, std::string_view key, Range range,
                                std::size_t most) {
  auto values = request.numbers(key, range, most);
  if (!values) {
    return {};
  }
  const bool falls = std::ranges::adjacent_find(
                         *values, [](double a, double b) { return !(a < b); }) != values->end();
  if (values->empty() || falls) {
    request.report(key, "expected at least one number, each greater than the one before");
  }
  return *values;
}

AskedEnvelope read_envelope(RequestObject& request) {
  AskedEnvelope asked;
  asked.line = read_line(request, asked.texts);
  asked.pantograph = read_path(request, "pantograph");
  asked.count = request.whole("count", 1, 8).value_or(2);
  asked.spacings_m = {0};
  if (asked.count > 1) {
    asked.spacings_m = read_rising(request, "spacings_m", {1, 2000}, most_envelope_spacings);
  } else {
    request.numbers("spacings_m", {0, 2000}, most_envelope_spacings);
  }
  asked.speeds_kmh = read_rising(request, "speeds_kmh", {5, 500}, most_envelope_speeds);
  asked.supply = read_system(request);
  asked.knuckle = request.word("knuckle", {"leading", "trailing", "both"}).value_or("both");
  asked.words = read_language(request);
  return asked;
}

AskedPlan read_mechanics_plan(RequestObject& request, const PlanningPlace& place) {
  AskedPlan asked = read_asked_plan(request, place);
  if (asked.speed_from == SpeedFrom::tables) {
    request.report("speed_from",
                   "expected 'mechanics' or 'both'; a plan by the tables is no job, ask for it at "
                   "/api/plan");
  }
  return asked;
}

/// The work that a request asks for, or the reply that says what is wrong with it.
std::variant<JobWork, Reply> work_asked_for(const std::string& body, std::string& kind,
                                            const WorkPlace& place) {
  AskedSimulation simulation;
  AskedEnvelope envelope;
  AskedSpeedCurve speed_curve;
  AskedPlan plan;
  AskedDay day;
  AskedWhatIf what_if;
  if (auto wrong = wrong_with(body, [&](RequestObject& request) {
        kind = request.word("kind", job_kinds()).value_or("");
        if (kind == "simulate") {
          simulation = read_simulation(request);
        } else if (kind == "envelope") {
          envelope = read_envelope(request);
        } else if (kind == "speed-curve") {
          speed_curve = read_speed_curve(request);
        } else if (kind == "plan") {
          plan = read_mechanics_plan(request, place.planning);
        } else if (kind == "day") {
          day.day = read_path(request, "day");
          day.words = read_language(request);
        } else if (kind == "day-what-if") {
          what_if.day = read_path(request, "day");
          what_if.words = read_language(request);
          what_if.what_if = read_path(request, "what_if");
        }
      })) {
    return *wrong;
  }
  Diagnostics diagnostics;
  auto work = kind == "simulate"      ? simulation_work(simulation, place, diagnostics)
              : kind == "envelope"    ? envelope_work(envelope, place, diagnostics)
              : kind == "speed-curve" ? speed_curve_work(speed_curve, place, diagnostics)
              : kind == "day"         ? day_work(day, place, diagnostics)
              : kind == "day-what-if" ? what_if_work(what_if, place, diagnostics)
                                      : plan_work(plan, place, diagnostics);
  if (!work) {
    return mistakes_reply(std::move(diagnostics));
  }
  return std::move(*work);
}

Reply no_such_job() {
  return error_reply(status_not_found, "there is no such job; finished ones are kept for a while");
}

}  // namespace

std::vector<std::string> job_kinds() {
  return {"simulate", "envelope", "speed-curve", "plan", "day", "day-what-if"};
}

nlohmann::ordered_json report_to_json(const JobReport& report) {
  nlohmann::ordered_json json{{"id", report.id},
                              {"kind", report.kind},
                              {"state", name_of(report.state)},
                              {"done", report.done},
                              {"expected", report.expected}};
  if (!report.error.empty()) {
    json["error"] = report.error;
  }
  return json;
}

Reply reply_to_job(const std::string& body, const WorkPlace& place, JobBoard& board) {
  std::string kind;
  auto asked = work_asked_for(body, kind, place);
  if (auto* const wrong = std::get_if<Reply>(&asked)) {
    return std::move(*wrong);
  }
  const auto id = board.submit(kind, std::move(std::get<JobWork>(asked)));
  return id ? json_reply({{"id", *id}}, status_accepted)
            : error_reply(
                  status_too_many,
                  fmt::format("{} jobs are waiting already; cancel some, or try again later",
                              JobBoard::most_waiting));
}

Reply reply_to_jobs(JobBoard& board) {
  auto list = nlohmann::ordered_json::array();
  for (const JobReport& report : board.reports()) {
    list.push_back(report_to_json(report));
  }
  return json_reply({{"jobs", std::move(list)}});
}

Reply reply_to_job_state(const std::string& id, JobBoard& board) {
  const auto report = board.report(id);
  if (!report) {
    return no_such_job();
  }
  Reply reply = json_reply(report_to_json(*report));
  // As it is, for it may be large: within the object's last bracket.
  if (const auto result = board.result(id)) {
    reply.body.resize(reply.body.rfind('}'));
    reply.body += ",\"result\":" + *result + "}\n";
  }
  return reply;
}

Reply reply_to_job_removal(const std::string& id, JobBoard& board) {
  return board.remove(id) ? Reply{.status = status_no_content} : no_such_job();
}

}  // namespace panup
