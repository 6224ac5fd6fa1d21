#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/capitals.h"
#include "base/handed_out.h"
#include "card/card_parts.h"
#include "card/margin_drawings.h"
#include "card/report.h"
#include "card/route_strip.h"
#include "drawing/text_parts.h"
#include "pictures/separation_drawing.h"
#include "wording/fallback.h"
#include "wording/headline.h"
#include "wording/not_reached.h"
#include "wording/office_data.h"
#include "wording/values_words.h"
#include "wording/wording.h"

namespace panup {

namespace {

std::string stated(const std::string& text, const Words& words) {
  return text.empty() ? words.say("not stated") : text;
}

void add_release(const Plan& plan, std::vector<ReportBlock>& blocks) {
  const Release& release = plan.train.release;
  blocks.emplace_back(ReportHeading{plan.words.say("Release")});
  ReportSignatures lines;
  for (const auto& [name, value] : office_entries(release, plan.words)) {
    lines.lines.push_back({name, value});
  }
  blocks.emplace_back(std::move(lines));
  blocks.emplace_back(ReportHeading{plan.words.say("Deviations from the rules"), 2});
  if (release.deviations.empty()) {
    blocks.emplace_back(ReportParagraph{plan.words.say("None is stated.")});
    return;
  }
  ReportTable table{
      {plan.words.say("deviation"), plan.words.say("answered for by"), plan.words.say("reason")},
      {4, 2, 4},
      {}};
  for (const Deviation& deviation : release.deviations) {
    table.rows.push_back({deviation.what, deviation.by, deviation.reason});
  }
  blocks.emplace_back(std::move(table));
}

void add_inputs(const Plan& plan, std::vector<ReportBlock>& blocks) {
  blocks.emplace_back(ReportHeading{plan.words.say("Inputs")});
  ReportTable table{{plan.words.say("what"), plan.words.say("file"), "SHA-256"}, {2, 5, 5}, {}};
  for (const InputFile& input : plan.inputs) {
    table.rows.push_back({plan.words.named(input.role), plan.words.named(input.path),
                          input.sha256.empty() ? plan.words.say("not taken") : input.sha256});
  }
  blocks.emplace_back(std::move(table));
  ReportList facts;
  facts.entries.push_back(
      plan.words.say("Made with panup, version {}.", stated(plan.program_version, plan.words)));
  facts.entries.push_back(
      plan.words.say("Rule books: {}.",
                     plan.rule_books.empty()
                         ? plan.words.say("not stated")
                         : fmt::to_string(fmt::join(plan.rule_books, plan.words.say(", then ")))));
  facts.entries.push_back(
      plan.words.say("Speeds: {}.", speed_from_words(plan.speed_from, plan.words)));
  facts.entries.push_back(plan.words.say("Day: {}.", day_words(plan.conditions, plan.words)));
  for (const Override& override : plan.overrides) {
    facts.entries.push_back(plan.words.say("Override: {}.", override_words(override, plan.words)));
  }
  for (const Consent& consent : plan.train.consents) {
    facts.entries.push_back(plan.words.say("Consent {}.", consent_terms(consent, plan.words)));
  }
  blocks.emplace_back(std::move(facts));
}

void add_train(const TextSetter& setter, const Plan& plan, std::vector<ReportBlock>& blocks) {
  blocks.emplace_back(ReportHeading{plan.words.say("Train at departure")});
  const Columns columns;
  double wire_below = 0;
  const Block train = card_train(setter, plan, columns, wire_below);
  const PlannedSection first = plan.sections.empty() ? PlannedSection{} : plan.sections.front();
  const std::string told = plan.words.say("The train at departure, {} long, front at the left: {}.",
                                          metres(length_m(plan.train), plan.words),
                                          with_up(first.raised, first.put_dead_in_tow, plan.words));
  blocks.emplace_back(ReportDrawing{told, told, {{train, train}}});
  const std::vector<PantographRef> defective = defective_pantographs(plan.train);
  if (!defective.empty()) {
    blocks.emplace_back(ReportParagraph{
        plan.words.say("Defective, and down throughout: {}.", list_words(defective, plan.words))});
  }
}

std::string up_words(const PlannedSection& section, const Words& words) {
  if (section.answer == Answer::none) {
    return words.say("none permitted");
  }
  return section.lowered_for.empty() ? with_up(section.raised, section.put_dead_in_tow, words)
                                     : words.say("all down, for {}", section.lowered_for);
}

void add_sections(const Plan& plan, std::vector<ReportBlock>& blocks) {
  blocks.emplace_back(ReportHeading{plan.words.say("Sections: configuration and speed")});
  ReportTable table{
      {plan.words.say("km"), plan.words.say("section"), plan.words.say("system"),
       plan.words.say("configuration"), plan.words.say("least distance m"), plan.words.say("km/h"),
       plan.words.say("because (rule)"), plan.words.say("answer")},
      {6.4, 5, 6, 8, 4.6, 3.6, 10.4, 6},
      {}};
  for (const PlannedSection& section : plan.sections) {
    const std::string does_not_run = does_not_run_because(plan, section);
    std::string because = does_not_run.empty() ? section.speed_reason : does_not_run;
    if (does_not_run.empty() && !section.speed_rule.empty()) {
      because += " (" + section.speed_rule + ")";
    }
    const bool known = section.section < plan.route.sections.size();
    table.rows.push_back(
        {km_range(section.from_km, section.to_km, plan.words),
         (known ? plan.route.sections[section.section].id : std::string()) +
             (section.iced ? plan.words.say(", ice") : "") +
             (section.reversed ? plan.words.say(", reversed") : ""),
         section.supply ? plan.words.named(name_of(*section.supply)) : plan.words.say("not stated"),
         up_words(section, plan.words),
         section.least_distance_m ? plan.words.say("{:.1f}", *section.least_distance_m) : "–",
         does_not_run.empty() ? speed_figure(section.speed_kmh, plan.words) : "–", because,
         plan.words.named(name_of(section.answer))});
  }
  blocks.emplace_back(std::move(table));
}

void add_route(const TextSetter& setter, const Plan& plan, std::vector<ReportBlock>& blocks) {
  blocks.emplace_back(ReportHeading{plan.words.say("Route")});
  const Columns columns;
  const RouteStrip strip = arrange_strip(setter, plan, columns);
  const auto with_spine = [&](const Block& block, std::size_t i) {
    const PlannedSection section = strip.stretches[strip.rows[i].stretch].first;
    const bool last = i + 1 == strip.rows.size();
    Block drawn = block;
    drawn.draw = [=](Canvas& canvas, double y) {
      draw_spine(canvas, columns, section, y, y + block.height * (last ? 0.5 : 1));
      block.draw(canvas, y);
    };
    return drawn;
  };
  ReportDrawing drawing;
  drawing.caption = plan.words.say(
      "The route with what is up, the speed and the driver’s orders, from above down.");
  drawing.told = drawing.caption + plan.words.say(" The tables give the same in words.");
  const Block heading = strip_heading(setter, columns, false);
  drawing.rows.push_back({heading, heading});
  drawing.rows.back().block.stays_with_next = true;
  for (std::size_t i = 0; i < strip.rows.size(); ++i) {
    drawing.rows.push_back(
        {with_spine(strip.rows[i].row.block, i), with_spine(strip.rows[i].row.on_new_sheet, i)});
  }
  blocks.emplace_back(std::move(drawing));
}

void add_separations(const TextSetter& setter, const Plan& plan, std::vector<ReportBlock>& blocks) {
  if (plan.separation_moments.empty()) {
    return;
  }
  blocks.emplace_back(
      ReportHeading{plan.words.say("Separation sections at the moment that decides")});
  for (const SeparationMoment& moment : plan.separation_moments) {
    const SeparationSection& section = plan.route.separations[moment.separation];
    std::vector<PantographRef> up;
    for (const Collector& collector : moment.raised.collectors) {
      up.push_back(collector.ref);
    }
    blocks.emplace_back(ReportHeading{
        plan.words.say("{}, km {}, {} up", section.name, km_brief(section.from_km, plan.words),
                       list_words(up, plan.words)),
        2});
    const Columns columns;
    const Block drawn = draw_separation(setter, plan, moment, columns);
    const std::string words = separation_words(plan, moment);
    blocks.emplace_back(ReportDrawing{plan.words.say("Zones by number above; contact strips, what "
                                                     "joins them, and dashed the reserve below."),
                                      words,
                                      {{drawn, drawn}}});
    blocks.emplace_back(ReportParagraph{words});
    ReportTable table{{plan.words.say("zone"), plan.words.say("what it is"),
                       plan.words.say("from m"), plan.words.say("to m")},
                      {1, 4, 2, 2},
                      {}};
    for (std::size_t i = 0; i < section.zones.size(); ++i) {
      const SeparationZone& zone = section.zones[i];
      table.rows.push_back(
          {std::to_string(i + 1), name_of(zone, plan.words),
           i == 0 ? "–" : plan.words.say("{:.2f}", zone.from_m),
           i + 1 == section.zones.size() ? "–" : plan.words.say("{:.2f}", zone.to_m)});
    }
    blocks.emplace_back(std::move(table));
  }
}

/// One of the margins of sections, and where it is the same.
template <typename What>
struct SameMargin {
  const What* what = nullptr;
  std::vector<KmStretch> where;
};

/// `pick` gives a pointer into the margins of a section, or null.
template <typename What, typename Pick>
std::vector<SameMargin<What>> same_margins(const Plan& plan, const Pick& pick) {
  std::vector<SameMargin<What>> all;
  for (const SectionMargins& margins : plan.margins) {
    const What* const what = pick(margins);
    if (what == nullptr) {
      continue;
    }
    auto found =
        std::ranges::find_if(all, [&](const SameMargin<What>& one) { return *one.what == *what; });
    if (found == all.end()) {
      found = all.insert(all.end(), {what, {}});
    }
    const PlannedSection& section = plan.sections[margins.planned];
    append(found->where, {section.from_km, section.to_km});
  }
  return all;
}

/// A drawing with the same in words as its caption.
void add_drawing(std::string heading, const Block& drawn, const std::string& words,
                 std::vector<ReportBlock>& blocks) {
  blocks.emplace_back(ReportHeading{std::move(heading), 2});
  blocks.emplace_back(ReportDrawing{words, words, {{drawn, drawn}}});
}

void add_currents(const TextSetter& setter, const Plan& plan, std::vector<ReportBlock>& blocks) {
  const auto all = same_margins<CurrentLoads>(plan, [](const SectionMargins& margins) {
    return margins.currents.pantographs.empty() ? nullptr : &margins.currents;
  });
  if (!all.empty()) {
    blocks.emplace_back(ReportHeading{plan.words.say("Current while running, against its limits")});
    blocks.emplace_back(ReportParagraph{plan.words.say(
        "A bar for each raised pantograph, with the greatest current it may take, and one for the "
        "train; the heavy line is the limit.")});
  }
  for (const SameMargin<CurrentLoads>& one : all) {
    add_drawing(capitalised(km_list(one.where, plan.words)),
                draw_current(setter, *one.what, Columns{}), current_words(*one.what, plan.words),
                blocks);
  }
}

/// "1.1", or "the line".
std::string concerned(const ForceFigures& forces, int pantograph, const Words& words) {
  const auto i = static_cast<std::size_t>(pantograph);
  return pantograph < 1 || i > forces.raised.size() ? words.say("the line")
                                                    : to_string(forces.raised[i - 1]);
}

/// How every criterion stands at the speed of the run that is handed out.
void add_criteria(const ForceFigures& forces, const Words& words,
                  std::vector<ReportBlock>& blocks) {
  const auto at = std::ranges::find(forces.judged, forces.speed_kmh, &JudgedSpeed::speed_kmh);
  if (at == forces.judged.end()) {
    return;
  }
  blocks.emplace_back(ReportHeading{words.say("Each criterion at {:g} km/h", forces.speed_kmh), 3});
  ReportTable table{{words.say("rule"), words.say("of"), words.say("figure and limit"),
                     words.say("margin"), words.say("met")},
                    {3, 1.2, 7, 1.3, 1},
                    {}};
  for (const CriterionMargin& criterion : at->criteria) {
    table.rows.push_back({criterion.rule, concerned(forces, criterion.pantograph, words),
                          criterion.text, words.say("{:.0f} %", 100 * criterion.margin),
                          criterion.met ? words.say("yes") : words.say("no")});
  }
  blocks.emplace_back(std::move(table));
}

/// The contact force over speed, up to the speed asked and the first that fails.
void add_speeds(const ForceFigures& forces, const Words& words, std::vector<ReportBlock>& blocks) {
  if (forces.judged.empty()) {
    return;
  }
  blocks.emplace_back(
      ReportHeading{words.say("Contact force over speed, of all speeds looked at"), 3});
  ReportTable table{{words.say("km/h"), words.say("mean ± 3σ in N, front first"),
                     words.say("least margin"), words.say("of rule"), words.say("passes")},
                    {1, 6, 1.6, 3.4, 1.2},
                    {}};
  bool any_coarse = false;
  for (const JudgedSpeed& judged : forces.judged) {
    std::string figures = judged.refused;
    any_coarse = any_coarse || judged.coarse;
    std::string forces_n;
    for (const PantographFigures& one : judged.pantographs) {
      forces_n +=
          (forces_n.empty() ? "" : "; ") + words.say("{:.0f} ± {:.0f}", one.mean_n, 3 * one.std_n);
    }
    figures += judged.coarse && !forces_n.empty() ? words.say("about {}", forces_n) : forces_n;
    const auto least = std::ranges::min_element(judged.criteria, {}, &CriterionMargin::margin);
    const bool known = least != judged.criteria.end();
    table.rows.push_back(
        {words.say("{:g}", judged.speed_kmh), figures,
         known ? words.say("{:.0f} %", 100 * least->margin) : "–",
         known ? least->rule + ", " + concerned(forces, least->pantograph, words) : "–",
         judged.passes ? words.say("yes") : words.say("no")});
  }
  blocks.emplace_back(std::move(table));
  if (any_coarse) {
    blocks.emplace_back(ReportParagraph{words.say(
        "\"About\" stands before figures of a run in a longer step. Such a run decides where it is "
        "far enough from every limit. The permitted speed, and the first that fails above it, are "
        "always run in the step of the rule book.")});
  }
}

/// What stands beside the figures when they support a request for consent.
void add_beside_forces(const ForceFigures& forces, const Words& words,
                       std::vector<ReportBlock>& blocks) {
  if (!forces.hangs_on.empty()) {
    blocks.emplace_back(ReportParagraph{forces.hangs_on});
  }
  blocks.emplace_back(ReportParagraph{
      (forces.by_tables
           ? words.say("By records, consents or design type alone: {:g} km/h (rule {}). ",
                       forces.by_tables->speed_kmh, forces.by_tables->rule)
           : words.say("Records, consents and design type say nothing of this configuration. ")) +
      words.say("Runs are of line and pantographs as their files state them; what their tolerances "
                "do to the "
                "permitted speed is not in a plan, but in an envelope with samples (panup envelope "
                "--samples). Margins are what is left to the limit, as a share of it.")});
}

void add_forces(const TextSetter& setter, const Plan& plan, std::vector<ReportBlock>& blocks) {
  const auto all = same_margins<ForceFigures>(plan, [](const SectionMargins& margins) {
    return margins.forces ? &*margins.forces : nullptr;
  });
  if (!all.empty()) {
    blocks.emplace_back(ReportHeading{plan.words.say("Contact force by the mechanics")});
    blocks.emplace_back(ReportParagraph{plan.words.say(
        "Box: mean ± 3σ, the mean across it; line: least to greatest; filtered at 20 Hz. The heavy "
        "line at the right is the limit of the statistical maximum.")});
  }
  for (const SameMargin<ForceFigures>& one : all) {
    add_drawing(capitalised(km_list(one.where, plan.words)),
                draw_forces(setter, *one.what, Columns{}), force_words(*one.what, plan.words),
                blocks);
    add_criteria(*one.what, plan.words, blocks);
    add_speeds(*one.what, plan.words, blocks);
    add_beside_forces(*one.what, plan.words, blocks);
  }
}

void add_lateral(const TextSetter& setter, const Plan& plan, std::vector<ReportBlock>& blocks) {
  // The least margin of each width of head is drawn: the others are among the findings.
  struct Least {
    const LateralMargin* margin = nullptr;
    std::size_t planned = 0;
  };
  std::vector<Least> least;
  for (const SectionMargins& margins : plan.margins) {
    for (const LateralMargin& margin : margins.lateral) {
      const auto found = std::ranges::find_if(least, [&](const Least& one) {
        return one.margin->head_width_mm == margin.head_width_mm;
      });
      if (found == least.end()) {
        least.push_back({&margin, margins.planned});
      } else if (margin.holds_ms < found->margin->holds_ms) {
        *found = {&margin, margins.planned};
      }
    }
  }
  if (least.empty()) {
    return;
  }
  blocks.emplace_back(
      ReportHeading{plan.words.say("Contact wire on the collector heads, where it holds least")});
  blocks.emplace_back(ReportParagraph{plan.words.say(
      "The head from behind, to scale; the wind from one side, the other side is its mirror.")});
  for (const Least& one : least) {
    const PlannedSection& section = plan.sections[one.planned];
    add_drawing(plan.words.say("{:g} mm head, km {}", one.margin->head_width_mm,
                               km_range(section.from_km, section.to_km, plan.words)),
                draw_lateral(setter, *one.margin, Columns{}),
                lateral_words(*one.margin, plan.words), blocks);
  }
}

/// Where the values come from that the findings rest on.
void add_where_from(const Plan& plan, std::vector<ReportBlock>& blocks) {
  const std::vector<DecidingValue> values = deciding_values(plan);
  if (values.empty()) {
    return;
  }
  blocks.emplace_back(
      ReportHeading{plan.words.say("Values that decide, and where they come from")});
  const bool any_stated =
      std::ranges::any_of(values, [](const DecidingValue& value) { return !value.source.empty(); });
  if (!any_stated) {
    blocks.emplace_back(ReportParagraph{
        plan.words.say("No source stated: the files do not say where their values come from.")});
    return;
  }
  ReportTable table{{plan.words.say("value"), plan.words.say("where it comes from")}, {5, 6}, {}};
  for (const ValuesAlike& one : values_alike(values, plan.words)) {
    table.rows.push_back(
        {one.what, one.source.empty() ? plan.words.say("no source stated") : one.source});
  }
  blocks.emplace_back(std::move(table));
}

void add_instructions(const Plan& plan, std::vector<ReportBlock>& blocks) {
  if (plan.instructions.empty()) {
    return;
  }
  blocks.emplace_back(
      ReportHeading{plan.words.say("Instructions, by the chainage of the front of the train")});
  ReportTable table{
      {plan.words.say("km"), plan.words.say("instruction"), plan.words.say("if not possible")},
      {1.4, 6, 5},
      {}};
  for (const Instruction& instruction : plan.instructions) {
    table.rows.push_back(
        {km_words(instruction.at_km, plan.words), instruction.text, instruction.if_not_possible});
  }
  blocks.emplace_back(std::move(table));
}

void add_failures(const Plan& plan, std::vector<ReportBlock>& blocks) {
  if (plan.contingencies.empty()) {
    return;
  }
  blocks.emplace_back(
      ReportHeading{plan.words.say("If a pantograph fails, and where it changes the plan")});
  ReportTable table{{plan.words.say("failed"), plan.words.say("where"), plan.words.say("then"),
                     plan.words.say("km/h")},
                    {2, 4, 6, 2},
                    {}};
  std::string unchanged;
  for (const Fallback& fallback : fallbacks_of(plan)) {
    if (fallback.rows.empty()) {
      unchanged = either_words(fallback.failed, plan.words);
      continue;
    }
    for (const FallbackRow& row : fallback.rows) {
      const std::string limits = limits_words(row, plan.words);
      table.rows.push_back({either_words(fallback.failed, plan.words), where_words(row, plan.words),
                            remedy_words(row, plan.words) + (limits.empty() ? "" : "; " + limits),
                            speed_words(row, plan.words)});
    }
  }
  if (!table.rows.empty()) {
    blocks.emplace_back(std::move(table));
  }
  if (!unchanged.empty()) {
    blocks.emplace_back(ReportParagraph{plan.words.say("Nothing changes if it is {}.", unchanged)});
  }
}

}  // namespace

Report compose_report(const TextSetter& setter, const Plan& plan) {
  Report report;
  report.words = plan.words;
  report.title = plan.words.say("Engineer’s report");
  report.train = with_id(plan.train.name, plan.train.id) +
                 (plan.train.operated_by.empty() ? "" : ", " + plan.train.operated_by);
  report.route = with_id(plan.route.name, plan.route.id);
  if (!plan.sections.empty()) {
    report.route = plan.words.say(
        "{}, km {}", report.route,
        km_range(plan.sections.front().from_km, plan.sections.back().to_km, plan.words));
  }
  report.answer = answer_words(plan);
  for (const std::string& exposed : exposure_sentences(plan)) {
    report.answer += " " + exposed;
  }
  if (const std::string running = running_words(plan); !running.empty()) {
    report.answer += " " + running;
  }
  report.permitted = plan.answer == Answer::permitted;
  report.mark = invented(plan) ? invented_words(plan.words) : std::string();
  std::vector<ReportBlock>& blocks = report.blocks;
  blocks.emplace_back(ReportHeading{plan.words.say("Cautions")});
  blocks.emplace_back(ReportList{plan.cautions});
  add_release(plan, blocks);
  add_inputs(plan, blocks);
  add_train(setter, plan, blocks);
  add_sections(plan, blocks);
  add_route(setter, plan, blocks);
  blocks.emplace_back(ReportHeading{plan.words.say("Findings, the strongest first")});
  blocks.emplace_back(ReportFindings{group_findings(plan.sections)});
  add_where_from(plan, blocks);
  add_separations(setter, plan, blocks);
  add_currents(setter, plan, blocks);
  add_lateral(setter, plan, blocks);
  add_forces(setter, plan, blocks);
  add_instructions(plan, blocks);
  add_failures(plan, blocks);
  if (!plan.notes.empty()) {
    blocks.emplace_back(ReportHeading{plan.words.say("Notes")});
    blocks.emplace_back(ReportList{plan.notes});
  }
  return report;
}

std::vector<RenderedFile> render_report(const Plan& plan) {
  const TextSetter setter(plan.words);
  const Report report = compose_report(setter, plan);
  return {{"report.pdf", report_to_pdf(setter, report)}, {"report.html", report_to_html(report)}};
}

}  // namespace panup
