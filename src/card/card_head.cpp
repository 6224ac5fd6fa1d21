#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <memory>

#include "base/handed_out.h"
#include "card/card_parts.h"
#include "drawing/text.h"
#include "drawing/text_style.h"
#include "wording/headline.h"
#include "wording/office_data.h"
#include "wording/wording.h"

namespace panup {

namespace {

constexpr std::size_t longest_heading = 160;
constexpr double corner_width = 150;  // right upper corner: page number, and the mark below it
constexpr double mark_width = 130;    // the mark beside the page number

/// What a sheet says of an answer that is not "permitted".
struct Refusal {
  std::string title;
  std::string where;
};

Refusal refusal_of(const Plan& plan) {
  const Words& words = plan.words;
  const std::vector<KmStretch> resorts = last_resorts(plan);
  const std::string consent_on = stretches_with(plan.sections, Answer::consent_needed, words);
  if (plan.answer == Answer::none) {
    const bool any_consent = std::ranges::find(plan.sections, Answer::consent_needed,
                                               &PlannedSection::answer) != plan.sections.end();
    std::string where = words.say("On {}.", stretches_with(plan.sections, Answer::none, words));
    if (any_consent) {
      where += words.say(" Consent of the infrastructure manager is needed on {}.", consent_on);
    }
    return {words.say("NO PERMITTED CONFIGURATION"), where};
  }
  std::string where = words.say("Needed on {}, and not named.", consent_on);
  if (resorts.empty()) {
    return {words.say("NOT TO BE RUN WITHOUT CONSENT OF THE INFRASTRUCTURE MANAGER"), where};
  }
  where += words.say(" A last resort is accepted on {}.", km_list(resorts, words));
  return {words.say("NOT TO BE RUN WITHOUT CONSENT OF THE INFRASTRUCTURE MANAGER; LAST RESORT "
                    "ACCEPTED"),
          where};
}

Block answer_bar(const TextSetter& setter, const Plan& plan, const Columns& columns, bool first) {
  const Refusal refusal = refusal_of(plan);
  const double width = columns.right - columns.left - 16;
  const Text title = setter.set(
      refusal.title, {.size_pt = first ? 13.5 : 10.5, .weight = FontWeight::bold}, width);
  const Text where = setter.set(kept_together(refusal.where),
                                {.size_pt = 9.5, .weight = FontWeight::semibold}, width);
  const double where_height = first ? where.height() + 2 : 0;
  const double inner = title.height() + where_height + 9;
  Block block;
  block.height = inner + 6;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.fill(Box{columns.left, y, columns.right - columns.left, inner});
    canvas.text(title, {columns.left + 8, y + 4}, Ink::white);
    if (first) {
      canvas.text(where, {columns.left + 8, y + 6 + title.height()}, Ink::white);
    }
  };
  return block;
}

Block permitted_bar(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  const std::vector<KmStretch> resorts = last_resorts(plan);
  const Text word = setter.set(resorts.empty() ? plan.words.say("PERMITTED")
                                               : plan.words.say("PERMITTED, LAST RESORT ACCEPTED"),
                               {.size_pt = 13.5, .weight = FontWeight::bold});
  const double frame = resorts.empty() ? 1.2 : 2.4;
  std::string more = running_words(plan);
  const auto tell = [&more](const std::string& sentence) {
    more += (more.empty() ? "" : " ") + sentence;
  };
  if (!resorts.empty()) {
    tell(plan.words.say("Last resort on {}: see “What to know”.", km_list(resorts, plan.words)));
  }
  const double text_x = columns.left + word.width() + 28;
  const Text told = setter.set(kept_together(more), {.size_pt = 9.5}, columns.right - text_x);
  const double box = word.height() + 6;
  const double height = std::max(box + 1, told.height());
  Block block;
  block.height = height + 6;
  block.draw = [=](Canvas& canvas, double y) {
    const double top = y + (height - box) / 2;
    canvas.frame({columns.left + 0.6, top, word.width() + 16, box}, {.width = frame});
    canvas.text(word, {columns.left + 8.6, top + 3});
    canvas.text(told, {text_x, y + (height - told.height()) / 2});
  };
  return block;
}

/// What card this one replaces, in a frame, so that nobody runs by the old one.
Block replaces_box(const TextSetter& setter, const Release& release, const Columns& columns) {
  constexpr std::size_t longest_difference = 2400;
  const Text text =
      setter.set(fitted(replaces_words(release, setter.words()), longest_difference),
                 {.size_pt = 10, .weight = FontWeight::bold}, columns.right - columns.left - 12);
  Block block;
  block.height = text.height() + 10;
  block.draw = [text, columns](Canvas& canvas, double y) {
    canvas.frame({columns.left + 0.6, y, columns.right - columns.left - 1.2, text.height() + 5},
                 {.width = 1.2});
    canvas.text(text, {columns.left + 6, y + 2.5});
  };
  return block;
}

/// The loads that what is up leaves unprotected.
Block exposure_lines(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  const std::string words = fmt::to_string(fmt::join(exposure_sentences(plan), " "));
  const Text text =
      setter.set(fitted(words, longest_text), {.size_pt = 9.5, .weight = FontWeight::semibold},
                 columns.right - columns.left);
  Block block;
  block.height = text.height() + 4;
  block.draw = [text, columns](Canvas& canvas, double y) { canvas.text(text, {columns.left, y}); };
  return block;
}

std::string validity(const Plan& plan) {
  const Words& language = plan.words;
  std::string words = language.say(
      "Valid for this train as drawn, on this route, on this day: {}. Rules: {}.",
      fitted(day_words(plan.conditions, language)),
      fitted(fmt::to_string(fmt::join(plan.rule_books, language.say(", then "))), 300));
  for (const Consent& consent : plan.train.consents) {
    words +=
        language.say(" Consent {} of {}.", fitted(consent.reference), fitted(consent.given_by));
  }
  if (plan.speed_from != SpeedFrom::tables) {
    words += language.say(" Speeds: {}.", speed_from_words(plan.speed_from, language));
  }
  words += language.say(" With another consist, another defect or another day it is not valid.");
  if (!plan.program_version.empty()) {
    words += language.say(" Made with panup\u00a0{}.", plan.program_version);
  }
  return words;
}

Block names(const TextSetter& setter, const Plan& plan, const Columns& columns, std::size_t sheet,
            std::size_t sheets) {
  const bool first = sheet == 0;
  const double width =
      columns.right - columns.left - (first ? corner_width : corner_width + mark_width) - 10;
  const Release& release = plan.train.release;
  const std::string office =
      first
          ? std::string()
          : (release.train_number.empty()
                 ? std::string()
                 : "  " + plan.words.say("no. {}", fitted(release.train_number, 40))) +
                (release.issue ? "  " + plan.words.say("issue {}", *release.issue) : std::string());
  const std::string operated =
      plan.train.operated_by.empty() ? "" : "  " + fitted(plan.train.operated_by, longest_heading);
  const std::vector<TextSpan> spans{
      {fitted(plan.train.name, longest_heading),
       {.size_pt = first ? 16.0 : 11.0, .weight = FontWeight::bold}},
      {fmt::format("  {}{}", fitted(plan.train.id, longest_heading), first ? operated : ""),
       {.size_pt = 9.5}},
      {(first ? "\n" : "   ") + fitted(plan.route.name, longest_heading),
       {.size_pt = first ? 12.5 : 10.5, .weight = FontWeight::semibold}},
      {office, {.size_pt = 9.5}}};
  const Text title = setter.set(spans, width);
  const Text page = setter.set(plan.words.say("driver’s card, page {} of {}", sheet + 1, sheets),
                               {.size_pt = 10, .weight = FontWeight::bold});
  const bool marked = invented(plan);
  const Text mark =
      setter.set(invented_words(plan.words), {.size_pt = 9, .weight = FontWeight::bold});
  // On the first sheet the mark stands below the page number, later beside it.
  const double mark_x = columns.right - mark.width() - 4 - (first ? 0 : page.width() + 12);
  const double mark_y = first ? page.height() + 4.5 : 0.5;
  const double corner = marked ? mark_y + mark.height() + 3 : page.height();
  Block block;
  block.height = std::max(title.height(), corner) + 3;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.text(title, {columns.left, y});
    canvas.text(page, {columns.right - page.width(), y});
    if (marked) {
      canvas.frame({mark_x - 4, y + mark_y - 1.5, mark.width() + 8, mark.height() + 3},
                   {.width = 0.9});
      canvas.text(mark, {mark_x, y + mark_y});
    }
  };
  return block;
}

}  // namespace

Block card_head(const TextSetter& setter, const Plan& plan, const Columns& columns,
                std::size_t sheet, std::size_t sheets) {
  const bool first = sheet == 0;
  auto parts = std::make_shared<std::vector<Block>>();
  parts->push_back(names(setter, plan, columns, sheet, sheets));
  if (first && plan.train.release.replaces) {
    parts->push_back(replaces_box(setter, plan.train.release, columns));
  }
  if (first) {
    const Text valid = setter.set(validity(plan), small, columns.right - columns.left);
    Block block;
    block.height = valid.height() + 6;
    block.draw = [valid, columns](Canvas& canvas, double y) {
      canvas.text(valid, {columns.left, y});
    };
    parts->push_back(office_cells(setter, plan.train.release, columns));
    parts->push_back(std::move(block));
  }
  if (plan.answer != Answer::permitted) {
    parts->push_back(answer_bar(setter, plan, columns, first));
  } else if (first) {
    parts->push_back(permitted_bar(setter, plan, columns));
  }
  if (first && !exposure_sentences(plan).empty()) {
    parts->push_back(exposure_lines(setter, plan, columns));
  }
  Block head;
  for (const Block& part : *parts) {
    head.height += part.height;
  }
  head.height += 2;
  head.draw = [parts](Canvas& canvas, double y) {
    for (const Block& part : *parts) {
      part.draw(canvas, y);
      y += part.height;
    }
  };
  return head;
}

Block card_foot(const TextSetter& setter, const Plan& plan, const Columns& columns) {
  const std::string words = fmt::to_string(fmt::join(plan.cautions, " "));
  const Text cautions = setter.set(plain(words), {.size_pt = 8.5, .weight = FontWeight::semibold},
                                   columns.right - columns.left);
  Block block;
  block.height = 5 + cautions.height();
  block.draw = [=](Canvas& canvas, double y) {
    canvas.line({columns.left, y}, {columns.right, y}, {.width = 0.9});
    canvas.text(cautions, {columns.left, y + 4});
  };
  return block;
}

Block card_train(const TextSetter& setter, const Plan& plan, const Columns& columns,
                 double& wire_below_top) {
  const PlannedSection first = plan.sections.empty() ? PlannedSection{} : plan.sections.front();
  TrainDrawingStyle style;
  style.width = columns.right - columns.body;
  // The drawing keeps what it needs; the layout is not looked at again.
  const Layout layout = lay_out(plan.train, first.reversed);
  auto drawing = std::make_shared<const TrainDrawing>(
      arrange_train(setter, plan.train, layout, first.raised, first.put_dead_in_tow, style));
  const Text title =
      setter.set(plan.words.say("The train at departure"),
                 {.size_pt = 8.5, .weight = FontWeight::bold}, columns.spine - columns.left - 10);
  const Text length = setter.set(plan.words.say("{} long", metres(layout.length_m, plan.words)),
                                 small, columns.spine - columns.left - 10);
  wire_below_top = drawing->heights.wire + 4;
  Block block;
  block.height = std::max(drawing->height, title.height() + length.height() + 2) + 10;
  block.draw = [=](Canvas& canvas, double y) {
    canvas.text(title, {columns.left, y + 4});
    canvas.text(length, {columns.left, y + 6 + title.height()});
    draw_train(canvas, *drawing, {columns.body, y + 4}, columns.body);
  };
  return block;
}

}  // namespace panup
