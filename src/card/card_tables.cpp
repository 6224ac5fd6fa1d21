#include <fmt/format.h>

#include <algorithm>

#include "base/capitals.h"
#include "card/card_parts.h"
#include "drawing/text.h"
#include "drawing/text_style.h"
#include "wording/fallback.h"
#include "wording/finding_groups.h"
#include "wording/wording.h"

namespace panup {

namespace {

// The fallback table's columns, from the left edge.
constexpr double where_at = 60;
constexpr double then_at = 226;
constexpr double speed_width = 62;

Block fallback_block(const TextSetter& setter, const Columns& columns, const std::string& failed,
                     const FallbackRow& row) {
  const bool refused = !may_run(row);
  const double left = columns.left;
  const Text who = setter.set(failed, {.size_pt = 11, .weight = FontWeight::bold}, where_at - 8);
  const Text where = setter.set(kept_together(where_words(row, setter.words())), {.size_pt = 9},
                                then_at - where_at - 8);
  std::vector<TextSpan> then{
      {remedy_words(row, setter.words()), {.size_pt = 10, .weight = FontWeight::semibold}}};
  const std::string limits = kept_together(limits_words(row, setter.words()));
  if (!limits.empty()) {
    then.push_back({"\n" + limits, small});
  }
  const Text remedy = setter.set(then, columns.right - columns.left - then_at - speed_width - 6);
  const Text speed =
      setter.set(speed_words(row, setter.words()),
                 {.size_pt = row.speed_as_planned || refused ? 9.0 : 11.5,
                  .weight = row.speed_as_planned ? FontWeight::regular : FontWeight::bold});
  Block block;
  block.height = std::max({who.height(), where.height(), remedy.height(), speed.height()}) + 4;
  block.draw = [=](Canvas& canvas, double y) {
    if (!failed.empty()) {
      canvas.line({left, y}, {columns.right, y}, {.width = 0.4});
    }
    const double baseline = y + 2 + std::max(who.baseline(), remedy.baseline());
    canvas.text(who, {left, baseline - who.baseline()});
    canvas.text(where, {left + where_at, baseline - where.baseline()});
    canvas.text(remedy, {left + then_at, baseline - remedy.baseline()});
    canvas.text(speed, {columns.right - speed.width(), baseline - speed.baseline()});
  };
  return block;
}

Row paragraph(const TextSetter& setter, const Columns& columns,
              const std::vector<TextSpan>& spans) {
  const Text text = setter.set(spans, columns.right - columns.left - 10);
  Block block;
  block.height = text.height() + 3;
  block.draw = [text, columns](Canvas& canvas, double y) {
    canvas.disc({columns.left + 2.5, y + text.baseline() - 2.8}, 1.2);
    canvas.text(text, {columns.left + 10, y});
  };
  return {block, block};
}

/// What a finding is on the card; empty where it is none of the driver's business.
std::string lead_words(const FindingGroup& group, const Words& words) {
  if (group.strength == Strength::last_resort) {
    return words.say("Accepted as a last resort");
  }
  return group.strength < Strength::last_resort || group.kept == false
             ? capitalised(label_of(group.strength, group.kept, words))
             : "";
}

/// Why there is the rule; it stands with the first thing that the rule says.
std::string why_words(const FindingGroup& group, const FindingGroup::Saying& saying,
                      const Words& words) {
  return group.because.empty() || &saying != &group.sayings.front()
             ? std::string()
             : words.say(" Why: {}", fitted(group.because, longest_text));
}

}  // namespace

Block part_heading(const TextSetter& setter, const Columns& columns, const std::string& title,
                   bool goes_on) {
  const Text text = setter.set(goes_on ? setter.words().say("{}, continued", title) : title,
                               {.size_pt = 11, .weight = FontWeight::bold});
  Block block;
  block.height = text.height() + 11;
  block.stays_with_next = true;
  block.draw = [text, columns](Canvas& canvas, double y) {
    canvas.line({columns.left, y + 5}, {columns.right, y + 5}, {.width = 1.6});
    canvas.text(text, {columns.left, y + 8});
  };
  return block;
}

Block fallback_heading(const TextSetter& setter, const Columns& columns) {
  const Text failed = setter.set(setter.words().say("failed"), small_bold);
  const Text where = setter.set(setter.words().say("where"), small_bold);
  const Text then = setter.set(setter.words().say("then"), small_bold);
  const Text speed = setter.set(setter.words().say("km/h"), small_bold);
  Block block;
  block.height = failed.height() + 2;
  block.stays_with_next = true;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.text(failed, {columns.left, y});
    canvas.text(where, {columns.left + where_at, y});
    canvas.text(then, {columns.left + then_at, y});
    canvas.text(speed, {columns.right - speed.width(), y});
  };
  return block;
}

std::vector<Row> fallback_rows(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  std::vector<Row> rows;
  for (const Fallback& fallback : fallbacks_of(plan)) {
    const std::string failed = either_words(fallback.failed, plan.words);
    if (fallback.rows.empty()) {
      if (!rows.empty()) {
        rows.back().block.stays_with_next = true;
      }
      rows.push_back(
          paragraph(setter, columns,
                    {{plan.words.say("Nothing changes if it is {}.", failed), {.size_pt = 9.5}}}));
      continue;
    }
    for (std::size_t i = 0; i < fallback.rows.size(); ++i) {
      Block named = fallback_block(setter, columns, failed, fallback.rows[i]);
      Block block = i == 0 ? named : fallback_block(setter, columns, "", fallback.rows[i]);
      block.stays_with_next = i + 1 < fallback.rows.size();
      rows.push_back({std::move(block), std::move(named)});
    }
  }
  return rows;
}

std::vector<Row> accepted_rows(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  std::vector<Row> rows;
  for (const FindingGroup& group : group_findings(plan.sections)) {
    const std::string lead = lead_words(group, plan.words);
    if (lead.empty()) {
      continue;
    }
    for (const FindingGroup::Saying& saying : group.sayings) {
      rows.push_back(paragraph(
          setter, columns,
          {{fmt::format("{}, {}: ", lead, kept_together(km_list(saying.where, plan.words))),
            small_bold},
           {fitted(saying.text, longest_text), small},
           {plan.words.say(" Source: {}.{}", fitted(group.source, longest_text),
                           why_words(group, saying, plan.words)),
            small}}));
    }
  }
  return rows;
}

std::vector<Row> note_rows(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  std::vector<Row> rows;
  for (const FindingGroup& group : group_findings(plan.sections)) {
    if (group.kept == true && !group.because.empty()) {
      rows.push_back(paragraph(
          setter, columns,
          {{plan.words.say("Why, rule {}: ", fitted(group.rule, longest_text)), small_bold},
           {fitted(group.because, longest_text), small}}));
    }
  }
  for (const std::string& note : plan.notes) {
    rows.push_back(paragraph(setter, columns, {{fitted(note, longest_text), small}}));
  }
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    rows[i].block.stays_with_next = true;  // the notes are read together
  }
  return rows;
}

}  // namespace panup
