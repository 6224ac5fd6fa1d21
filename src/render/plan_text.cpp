#include "render/plan_text.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/train_text.h"
#include "wording/fallback.h"
#include "wording/finding_text.h"
#include "wording/headline.h"
#include "wording/office_data.h"
#include "wording/wording.h"

namespace panup {

namespace {

void add_fact(std::string& out, std::string_view name, std::string_view text) {
  if (!text.empty()) {
    out += hanging(fmt::format("{:<7}  ", name), plain(text), text_columns);
  }
}

/// What the office states, and what it has to fill in by hand.
std::string office_words(const Release& release) {
  std::string stated;
  std::string missing;
  for (const auto& [name, value] : office_entries(release)) {
    std::string& words = value.empty() ? missing : stated;
    words += (words.empty() ? "" : ", ") + uncapitalised(name);
    words += value.empty() ? "" : " " + value;
  }
  return stated + (stated.empty() || missing.empty() ? "" : "; ") +
         (missing.empty() ? "" : "not stated: " + missing);
}

std::string head(const Plan& plan) {
  std::string out;
  if (invented(plan)) {
    out += std::string(invented_mark) + "\n\n";
  }
  add_fact(out, "Train",
           with_id(plan.train.name, plan.train.id) +
               (plan.train.operated_by.empty() ? "" : ", " + plan.train.operated_by));
  if (!plan.sections.empty()) {
    add_fact(out, "Route",
             fmt::format("{}, km {}", with_id(plan.route.name, plan.route.id),
                         km_range(plan.sections.front().from_km, plan.sections.back().to_km)));
  }
  add_fact(out, "Issued", office_words(plan.train.release));
  add_fact(out, "Day", day_words(plan.conditions));
  add_fact(out, "Rules", fmt::format("{}", fmt::join(plan.rule_books, ", then ")));
  for (const Override& override : plan.overrides) {
    out += hanging("         ", plain(override_words(override)), text_columns);
  }
  if (plan.speed_from != SpeedFrom::tables) {
    add_fact(out, "Speeds", std::string(speed_from_words(plan.speed_from)));
  }
  for (const Consent& consent : plan.train.consents) {
    add_fact(out, "Consent", consent_terms(consent));
  }
  return out;
}

std::string train(const Plan& plan) {
  std::vector<PantographRef> raised;
  bool reversed = false;
  if (!plan.sections.empty()) {
    raised = plan.sections.front().raised;
    reversed = plan.sections.front().reversed;
  }
  return fmt::format("\nTRAIN at departure, {} long, front at the left{}\n",
                     metres(length_m(plan.train)),
                     defective_pantographs(plan.train).empty() ? "" : "; x: defective") +
         train_to_text(plan.train, raised, reversed);
}

std::string answer(const Plan& plan) {
  std::string out = hanging("ANSWER   ", answer_words(plan), text_columns);
  for (const std::string& exposed : exposure_sentences(plan)) {
    out += hanging("         ", plain(exposed), text_columns);
  }
  if (const std::string running = running_words(plan); !running.empty()) {
    out += "         " + running + "\n";
  }
  return out;
}

std::string up_words(const PlannedSection& section) {
  if (section.answer == Answer::none) {
    return "NONE PERMITTED";
  }
  if (!section.lowered_for.empty()) {
    return "all down";
  }
  std::string words;
  for (const PantographRef ref : section.raised) {
    words += words.empty() ? "" : " ";
    words += to_string(ref);
  }
  for (const int number : section.put_dead_in_tow) {
    words += fmt::format(", {} dead", number);
  }
  return words;
}

std::string reason_words(const Plan& plan, std::size_t i) {
  const PlannedSection& section = plan.sections[i];
  std::string words;
  const auto add = [&words](const std::string& text) {
    words += words.empty() || text.empty() ? "" : "; ";
    words += uncapitalised(text);
  };
  if (section.answer == Answer::consent_needed) {
    add("CONSENT NEEDED");
  }
  if (i > 0 && section.reversed != plan.sections[i - 1].reversed) {
    add("after reversal");
  }
  if (!section.lowered_for.empty()) {
    add("for " + section.lowered_for);
  }
  add(section.answer == Answer::none ? "see the findings" : section.speed_reason);
  add(line_words(stretches_on_lines(plan.route, section.from_km, section.to_km)));
  return plain(words);
}

std::string sections(const Plan& plan) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < plan.sections.size(); ++i) {
    const PlannedSection& section = plan.sections[i];
    rows.push_back({km_words(section.from_km), km_words(section.to_km),
                    section.supply ? std::string(short_name_of(*section.supply)) : "not stated",
                    section.iced ? "ice" : "", up_words(section),
                    section.answer == Answer::none ? "–" : speed_figure(section.speed_kmh),
                    reason_words(plan, i)});
  }
  return "\nSECTIONS\n" + text_table({{.heading = "from km", .right_aligned = true},
                                      {.heading = "to km", .right_aligned = true},
                                      {.heading = "system"},
                                      {.heading = ""},
                                      {.heading = "up", .greatest = 24},
                                      {.heading = "km/h", .right_aligned = true},
                                      {.heading = "because"}},
                                     rows, 2, text_columns);
}

std::string instructions(const Plan& plan) {
  if (plan.instructions.empty()) {
    return {};
  }
  std::string out = "\nINSTRUCTIONS, by the chainage of the front of the train\n";
  std::size_t width = 0;
  for (const Instruction& instruction : plan.instructions) {
    width = std::max(width, km_words(instruction.at_km).size());
  }
  for (const Instruction& instruction : plan.instructions) {
    out += hanging(fmt::format("  {:>{}}  ", km_words(instruction.at_km), width),
                   plain(instruction.text), text_columns);
    if (!instruction.if_not_possible.empty()) {
      out += hanging(std::string(width + 6, ' '),
                     "If not possible: " + plain(uncapitalised(instruction.if_not_possible)),
                     text_columns);
    }
  }
  return out;
}

std::string failures(const Plan& plan) {
  if (plan.contingencies.empty()) {
    return {};
  }
  std::vector<std::vector<std::string>> rows;
  std::string unchanged;
  for (const Fallback& fallback : fallbacks_of(plan)) {
    std::string who = either_words(fallback.failed);
    if (fallback.rows.empty()) {
      unchanged = who;
      continue;
    }
    for (const FallbackRow& row : fallback.rows) {
      const std::string limits = limits_words(row);
      rows.push_back({who, where_words(row), speed_words(row),
                      remedy_words(row) + (limits.empty() ? "" : "; " + limits)});
      who.clear();
    }
  }
  std::string out = "\nIF A PANTOGRAPH FAILS, and where it changes the plan\n";
  if (!rows.empty()) {
    out += text_table({{.heading = "failed", .greatest = 15},
                       {.heading = "where", .greatest = 32},
                       {.heading = "km/h", .right_aligned = true},
                       {.heading = "then"}},
                      rows, 2, text_columns);
  }
  if (!unchanged.empty()) {
    out += hanging("  ", "Nothing changes if it is " + unchanged + ".", text_columns);
  }
  return out;
}

}  // namespace

std::string plan_to_text(const Plan& plan) {
  return head(plan) + train(plan) + '\n' + answer(plan) + sections(plan) +
         findings_to_text("\nFINDINGS, the strongest first\n", group_findings(plan.sections)) +
         instructions(plan) + failures(plan) + text_list("NOTES", plan.notes) +
         text_list("CAUTIONS", plan.cautions) + made_from(plan.inputs, plan.program_version);
}

}  // namespace panup
