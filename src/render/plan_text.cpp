#include "render/plan_text.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/capitals.h"
#include "base/handed_out.h"
#include "drawing/text.h"
#include "drawing/text_layout.h"
#include "drawing/text_parts.h"
#include "render/train_text.h"
#include "wording/fallback.h"
#include "wording/finding_text.h"
#include "wording/headline.h"
#include "wording/not_reached.h"
#include "wording/office_data.h"
#include "wording/wording.h"

namespace panup {

namespace {

void add_fact(std::string& out, std::string_view name, std::string_view text) {
  if (!text.empty()) {
    out += fact_line(name, plain(text));
  }
}

/// What the office states, and what it has to fill in by hand.
std::string office_words(const Release& release, const Words& language) {
  std::string stated;
  std::string missing;
  for (const auto& [name, value] : office_entries(release, language)) {
    std::string& words = value.empty() ? missing : stated;
    words += (words.empty() ? "" : ", ") + uncapitalised(name, language);
    words += value.empty() ? "" : " " + value;
  }
  return stated + (stated.empty() || missing.empty() ? "" : "; ") +
         (missing.empty() ? std::string() : language.say("not stated: {}", missing));
}

std::string head(const Plan& plan) {
  const Words& words = plan.words;
  std::string out;
  if (invented(plan)) {
    out += invented_words(words) + "\n\n";
  }
  add_fact(out, words.say("Train"),
           with_id(plan.train.name, plan.train.id) +
               (plan.train.operated_by.empty() ? "" : ", " + plan.train.operated_by));
  if (!plan.sections.empty()) {
    add_fact(out, words.say("Route"),
             words.say("{}, km {}", with_id(plan.route.name, plan.route.id),
                       km_range(plan.sections.front().from_km, plan.sections.back().to_km, words)));
  }
  add_fact(out, words.say("Issued"), office_words(plan.train.release, words));
  add_fact(out, words.say("Day"), day_words(plan.conditions, words));
  add_fact(out, words.say("Rules"),
           fmt::to_string(fmt::join(plan.rule_books, words.say(", then "))));
  for (const Override& override : plan.overrides) {
    out += hanging("         ", plain(override_words(override, words)), text_columns);
  }
  if (plan.speed_from != SpeedFrom::tables) {
    add_fact(out, words.say("Speeds"), speed_from_words(plan.speed_from, words));
  }
  for (const Consent& consent : plan.train.consents) {
    add_fact(out, words.say("Consent"), consent_terms(consent, words));
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
  const Words& words = plan.words;
  const std::string length = metres(length_m(plan.train), words);
  const std::string heading =
      defective_pantographs(plan.train).empty()
          ? words.say("TRAIN at departure, {} long, front at the left", length)
          : words.say("TRAIN at departure, {} long, front at the left; x: defective", length);
  return "\n" + heading + "\n" + train_to_text(plan.train, raised, reversed, words);
}

std::string answer(const Plan& plan) {
  std::string out = fact_line(plan.words.say("ANSWER"), answer_words(plan));
  for (const std::string& exposed : exposure_sentences(plan)) {
    out += hanging("         ", plain(exposed), text_columns);
  }
  if (const std::string running = running_words(plan); !running.empty()) {
    out += "         " + running + "\n";
  }
  return out;
}

std::string up_words(const PlannedSection& section, const Words& language) {
  if (section.answer == Answer::none) {
    return language.say("NONE PERMITTED");
  }
  if (!section.lowered_for.empty()) {
    return language.say("all down");
  }
  std::string words;
  for (const PantographRef ref : section.raised) {
    words += words.empty() ? "" : " ";
    words += to_string(ref);
  }
  for (const int number : section.put_dead_in_tow) {
    words += language.say(", {} dead", number);
  }
  return words;
}

std::string reason_words(const Plan& plan, std::size_t i) {
  const PlannedSection& section = plan.sections[i];
  const Words& language = plan.words;
  std::string words;
  const auto add = [&](const std::string& text) {
    words += words.empty() || text.empty() ? "" : "; ";
    words += uncapitalised(text, language);
  };
  if (section.answer == Answer::consent_needed) {
    add(language.say("CONSENT NEEDED"));
  }
  if (i > 0 && section.reversed != plan.sections[i - 1].reversed) {
    add(language.say("after reversal"));
  }
  if (!section.lowered_for.empty()) {
    add(language.say("for {}", section.lowered_for));
  }
  const std::string does_not_run = does_not_run_because(plan, section);
  add(does_not_run.empty() ? section.speed_reason : does_not_run);
  add(line_words(stretches_on_lines(plan.route, section.from_km, section.to_km), language));
  return plain(words);
}

std::string sections(const Plan& plan) {
  const Words& words = plan.words;
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < plan.sections.size(); ++i) {
    const PlannedSection& section = plan.sections[i];
    rows.push_back(
        {km_words(section.from_km, words), km_words(section.to_km, words),
         section.supply ? words.named(short_name_of(*section.supply)) : words.say("not stated"),
         section.iced ? words.say("ice") : "", up_words(section, words),
         does_not_run_because(plan, section).empty() ? speed_figure(section.speed_kmh, words) : "–",
         reason_words(plan, i)});
  }
  return "\n" + words.say("SECTIONS") + "\n" +
         text_table({{.heading = words.say("from km"), .right_aligned = true},
                     {.heading = words.say("to km"), .right_aligned = true},
                     {.heading = words.say("system")},
                     {.heading = ""},
                     {.heading = words.say("up"), .greatest = 24},
                     {.heading = "km/h", .right_aligned = true},
                     {.heading = words.say("because")}},
                    rows, 2, text_columns);
}

std::string instructions(const Plan& plan) {
  if (plan.instructions.empty()) {
    return {};
  }
  const Words& words = plan.words;
  std::string out =
      "\n" + words.say("INSTRUCTIONS, by the chainage of the front of the train") + "\n";
  std::size_t width = 0;
  for (const Instruction& instruction : plan.instructions) {
    width = std::max(width, km_words(instruction.at_km, words).size());
  }
  for (const Instruction& instruction : plan.instructions) {
    out += hanging(fmt::format("  {:>{}}  ", km_words(instruction.at_km, words), width),
                   plain(instruction.text), text_columns);
    if (!instruction.if_not_possible.empty()) {
      out += hanging(std::string(width + 6, ' '),
                     words.say("If not possible: {}",
                               plain(uncapitalised(instruction.if_not_possible, words))),
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
  const Words& words = plan.words;
  std::string unchanged;
  for (const Fallback& fallback : fallbacks_of(plan)) {
    std::string who = either_words(fallback.failed, words);
    if (fallback.rows.empty()) {
      unchanged = who;
      continue;
    }
    for (const FallbackRow& row : fallback.rows) {
      const std::string limits = limits_words(row, words);
      rows.push_back({who, where_words(row, words), speed_words(row, words),
                      remedy_words(row, words) + (limits.empty() ? "" : "; " + limits)});
      who.clear();
    }
  }
  std::string out = "\n" + words.say("IF A PANTOGRAPH FAILS, and where it changes the plan") + "\n";
  if (!rows.empty()) {
    out += text_table({{.heading = words.say("failed"), .greatest = 15},
                       {.heading = words.say("where"), .greatest = 32},
                       {.heading = "km/h", .right_aligned = true},
                       {.heading = words.say("then")}},
                      rows, 2, text_columns);
  }
  if (!unchanged.empty()) {
    out += hanging("  ", words.say("Nothing changes if it is {}.", unchanged), text_columns);
  }
  return out;
}

}  // namespace

std::string plan_to_text(const Plan& plan) {
  const Words& words = plan.words;
  return head(plan) + train(plan) + '\n' + answer(plan) + sections(plan) +
         findings_to_text("\n" + words.say("FINDINGS, the strongest first") + "\n",
                          group_findings(plan.sections), words) +
         instructions(plan) + failures(plan) + text_list(words.say("NOTES"), plan.notes) +
         text_list(words.say("CAUTIONS"), plan.cautions) +
         made_from(plan.inputs, plan.program_version, words);
}

}  // namespace panup
