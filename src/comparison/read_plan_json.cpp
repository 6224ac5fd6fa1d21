#include "comparison/read_plan_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/handed_out.h"
#include "render/plan_json.h"

namespace panup {

namespace {

using Json = nlohmann::json;

constexpr int greatest_depth = 32;
constexpr std::size_t most_mistakes = 20;

/// The place of a byte in a text.
SourcePlace place_at(const SourceText& source, std::size_t byte) {
  const std::string_view before = std::string_view(source.text).substr(0, byte);
  const std::size_t line_start = before.rfind('\n');
  return {.file = source.file,
          .line = static_cast<int>(std::ranges::count(before, '\n')) + 1,
          .column = static_cast<int>(line_start == std::string_view::npos
                                         ? before.size()
                                         : before.size() - line_start - 1) +
                    1};
}

/// Brackets within brackets, outside of texts: much nesting would exhaust the stack.
bool too_deep(std::string_view text) {
  int depth = 0;
  bool in_text = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (in_text) {
      i += c == '\\' ? 1 : 0;
      in_text = c != '"';
    } else if (c == '"') {
      in_text = true;
    } else if (c == '[' || c == '{') {
      if (++depth > greatest_depth) {
        return true;
      }
    } else if (c == ']' || c == '}') {
      --depth;
    }
  }
  return false;
}

/// Takes fields out of a document, and notes what is not as it should be.
class Reader {
 public:
  Reader(std::string file, Diagnostics& diagnostics)
      : file_(std::move(file)), diagnostics_(diagnostics) {}

  void report(const std::string& what) {
    if (++mistakes_ <= most_mistakes) {
      diagnostics_.push_back({{.file = file_}, what});
    }
  }
  bool sound() const { return mistakes_ == 0; }

  /// The field, or null where it is missing or of another type.
  const Json* field(const Json& of, const std::string& path, const char* key, Json::value_t type,
                    std::string_view expected) {
    const auto found = of.find(key);
    if (found == of.end()) {
      report(fmt::format("this is no plan as panup writes it: '{}{}' is missing", path, key));
      return nullptr;
    }
    const bool right =
        type == Json::value_t::number_float ? found->is_number() : found->type() == type;
    if (!right) {
      report(fmt::format("'{}{}' is {}; expected {}", path, key, found->type_name(), expected));
      return nullptr;
    }
    return &*found;
  }

  std::string text(const Json& of, const std::string& path, const char* key) {
    const Json* const found = field(of, path, key, Json::value_t::string, "text");
    return found == nullptr ? std::string() : found->get<std::string>();
  }

  double number(const Json& of, const std::string& path, const char* key) {
    const Json* const found = field(of, path, key, Json::value_t::number_float, "a number");
    const double value = found == nullptr ? 0 : found->get<double>();
    if (!std::isfinite(value)) {
      report(fmt::format("'{}{}' is no finite number", path, key));
      return 0;
    }
    return value;
  }

  /// Calls `each` for the objects of a list, with the path to each.
  template <typename Each>
  void objects(const Json& of, const std::string& path, const char* key, const Each& each) {
    const Json* const list = field(of, path, key, Json::value_t::array, "a list");
    for (std::size_t i = 0; list != nullptr && i < list->size(); ++i) {
      const std::string at = fmt::format("{}{}[{}]", path, key, i);
      if ((*list)[i].is_object()) {
        each((*list)[i], at + ".");
      } else {
        report(fmt::format("'{}' is {}; expected an object", at, (*list)[i].type_name()));
      }
    }
  }

  std::vector<std::string> texts(const Json& of, const std::string& path, const char* key) {
    std::vector<std::string> all;
    const Json* const list = field(of, path, key, Json::value_t::array, "a list of texts");
    for (std::size_t i = 0; list != nullptr && i < list->size(); ++i) {
      if ((*list)[i].is_string()) {
        all.push_back((*list)[i].get<std::string>());
      } else {
        report(
            fmt::format("'{}{}[{}]' is {}; expected text", path, key, i, (*list)[i].type_name()));
      }
    }
    return all;
  }

  std::vector<int> wholes(const Json& of, const std::string& path, const char* key) {
    std::vector<int> all;
    const Json* const list = field(of, path, key, Json::value_t::array, "a list of whole numbers");
    for (std::size_t i = 0; list != nullptr && i < list->size(); ++i) {
      const Json& value = (*list)[i];
      if (value.is_number_integer() && value.get<std::int64_t>() >= 0 &&
          value.get<std::int64_t>() <= 1000) {
        all.push_back(value.get<int>());
      } else {
        report(fmt::format("'{}{}[{}]' is not the number of a vehicle", path, key, i));
      }
    }
    return all;
  }

 private:
  std::string file_;
  Diagnostics& diagnostics_;
  std::size_t mistakes_ = 0;
};

SaidSection read_section(Reader& reader, const Json& json, const std::string& path) {
  SaidSection section;
  section.from_km = reader.number(json, path, "from_km");
  section.to_km = reader.number(json, path, "to_km");
  section.answer = reader.text(json, path, "answer");
  section.raised = reader.texts(json, path, "raised");
  section.put_dead_in_tow = reader.wholes(json, path, "put_dead_in_tow");
  section.speed_kmh = reader.number(json, path, "speed_kmh");
  if (const auto lowered = json.find("lowered_for");
      lowered != json.end() && lowered->is_string()) {
    section.lowered_for = lowered->get<std::string>();
  }
  if (section.to_km < section.from_km) {
    reader.report(fmt::format("'{}to_km' lies before 'from_km'", path));
  }
  return section;
}

void read_findings(Reader& reader, const Json& json, const std::string& path,
                   std::vector<SaidFinding>& findings) {
  reader.objects(json, path, "findings", [&](const Json& entry, const std::string& at) {
    SaidFinding finding{reader.text(entry, at, "rule"), reader.text(entry, at, "strength"),
                        reader.text(entry, at, "text"), reader.text(entry, at, "source")};
    if (std::ranges::find(findings, finding) == findings.end()) {
      findings.push_back(std::move(finding));
    }
  });
}

/// What is done of a contingency, without what only explains it.
SaidContingency read_contingency(Reader& reader, const Json& json, const std::string& path) {
  SaidContingency contingency{.failed = reader.text(json, path, "failed"), .what = Json::object()};
  contingency.what["answer"] = reader.text(json, path, "answer");
  reader.objects(json, path, "sections", [&](const Json& entry, const std::string& at) {
    const SaidSection section = read_section(reader, entry, at);
    contingency.what["sections"].push_back({section.from_km, section.to_km, section.answer,
                                            section.lowered_for, section.raised,
                                            section.put_dead_in_tow, section.speed_kmh});
  });
  reader.objects(json, path, "on_the_road", [&](const Json& entry, const std::string& at) {
    const double from_km = reader.number(entry, at, "from_km");
    const double to_km = reader.number(entry, at, "to_km");
    const double speed_kmh = reader.number(entry, at, "speed_kmh");
    const double reaches_km = reader.number(entry, at, "reaches_km");
    contingency.what["on_the_road"].push_back(
        {from_km, to_km, speed_kmh, reaches_km, reader.text(entry, at, "answer"),
         reader.texts(entry, at, "raised"), reader.wholes(entry, at, "put_dead_in_tow"),
         reader.text(entry, at, "text")});
  });
  return contingency;
}

Json object_of(Reader& reader, const Json& root, const std::string& path, const char* key) {
  const Json* const found = reader.field(root, path, key, Json::value_t::object, "an object");
  return found == nullptr ? Json::object() : *found;
}

/// `path`: to the plan, "" or "parts[1].".
SaidPlan read_plan(Reader& reader, const Json& root, const std::string& path) {
  SaidPlan said;
  said.program_version = reader.text(root, path, "program_version");
  said.language = root.contains("language") ? reader.text(root, path, "language")
                                            : std::string(Words().language());
  said.answer = reader.text(root, path, "answer");
  said.speed_from = reader.text(root, path, "speed_from");
  said.train = object_of(reader, root, path, "train");
  said.route = object_of(reader, root, path, "route");
  said.conditions = object_of(reader, root, path, "conditions");
  said.rule_books = reader.texts(root, path, "rule_books");
  said.notes = reader.texts(root, path, "notes");
  reader.objects(root, path, "inputs", [&](const Json& entry, const std::string& at) {
    InputFile input{reader.text(entry, at, "role"), reader.text(entry, at, "path")};
    if (entry.contains("sha256")) {  // plans written before hashes were taken have none
      input.sha256 = reader.text(entry, at, "sha256");
    }
    said.inputs.push_back(std::move(input));
  });
  reader.objects(root, path, "sections", [&](const Json& entry, const std::string& at) {
    said.sections.push_back(read_section(reader, entry, at));
    read_findings(reader, entry, at, said.findings);
  });
  if (said.sections.empty() && reader.sound()) {
    reader.report(fmt::format("'{}sections' is empty; a plan has at least one", path));
  }
  reader.objects(root, path, "instructions", [&](const Json& entry, const std::string& at) {
    said.instructions.push_back({reader.number(entry, at, "at_km"), reader.text(entry, at, "text"),
                                 reader.text(entry, at, "if_not_possible")});
  });
  reader.objects(root, path, "contingencies", [&](const Json& entry, const std::string& at) {
    said.contingencies.push_back(read_contingency(reader, entry, at));
  });
  if (const auto release = root.find("release"); release != root.end() && release->is_object()) {
    const auto until = release->find("holds_until");
    if (until != release->end() && !until->is_null()) {
      said.holds_until = reader.text(*release, path + "release.", "holds_until");
    }
  }
  return said;
}

SaidRun read_run(Reader& reader, const Json& root) {
  if (!root.contains("parts")) {
    return {read_plan(reader, root, "")};
  }
  SaidRun said;
  reader.objects(root, "", "parts", [&](const Json& part, const std::string& path) {
    said.push_back(read_plan(reader, part, path));
  });
  if (said.empty() && reader.sound()) {
    reader.report("'parts' is empty; a run has at least one");
  }
  return said;
}

}  // namespace

std::optional<SaidRun> read_plan_json(const SourceText& source, Diagnostics& diagnostics) {
  if (too_deep(source.text)) {
    diagnostics.push_back(
        {{.file = source.file},
         fmt::format("this is nested more than {} deep; no plan is", greatest_depth)});
    return std::nullopt;
  }
  Json root;
  try {
    root = Json::parse(source.text);
  } catch (const Json::parse_error& error) {
    diagnostics.push_back({place_at(source, error.byte == 0 ? 0 : error.byte - 1),
                           "this is not JSON, or is cut short here"});
    return std::nullopt;
  } catch (const Json::exception&) {
    diagnostics.push_back({{.file = source.file}, "this holds a number that is too large"});
    return std::nullopt;
  }
  Reader reader(source.file, diagnostics);
  if (!root.is_object()) {
    reader.report("this is JSON, but no plan: expected an object");
    return std::nullopt;
  }
  SaidRun said = read_run(reader, root);
  return reader.sound() ? std::optional(std::move(said)) : std::nullopt;
}

SaidRun said_by(const RunPlan& run) {
  Diagnostics none;
  Reader reader("today's plan", none);
  SaidRun said;
  for (const Plan& part : run.parts) {
    // Bytes that are no UTF-8, as a path may hold, are replaced here as they are in a file.
    const std::string text =
        plan_to_json(part).dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
    said.push_back(read_plan(reader, Json::parse(text), ""));
  }
  return said;
}

}  // namespace panup
