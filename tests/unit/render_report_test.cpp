#include <gtest/gtest.h>

#include <string>

#include "base/handed_out.h"
#include "card/report.h"
#include "drawing/text.h"
#include "sample_plan.h"
#include "wording/wording.h"

namespace panup {
namespace {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : plain(text)) {
    out += c == '&'    ? "&amp;"
           : c == '<'  ? "&lt;"
           : c == '>'  ? "&gt;"
           : c == '"'  ? "&quot;"
           : c == '\'' ? "&#39;"
                       : std::string(1, c);
  }
  return out;
}

std::string html_of(const Plan& plan) { return report_to_html(compose_report(TextSetter(), plan)); }

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

TEST(Report, SaysEveryFindingWithItsRuleAndSource) {
  for (const auto& [name, plan] : all_sample_plans()) {
    const std::string html = html_of(plan);
    for (const PlannedSection& section : plan.sections) {
      for (const Finding& finding : section.findings) {
        EXPECT_NE(html.find(escaped(finding.text)), std::string::npos) << name << finding.text;
        EXPECT_NE(html.find(escaped(finding.source)), std::string::npos) << name << finding.source;
        EXPECT_NE(html.find(escaped(finding.rule)), std::string::npos) << name << finding.rule;
      }
    }
  }
}

TEST(Report, SaysNotesCautionsInstructionsAndVersion) {
  Plan plan = sample_plan();
  plan.program_version = "7.8.9";
  const std::string html = html_of(plan);
  for (const auto* const list : {&plan.notes, &plan.cautions}) {
    for (const std::string& text : *list) {
      EXPECT_NE(html.find(escaped(text)), std::string::npos) << text;
    }
  }
  for (const Instruction& instruction : plan.instructions) {
    EXPECT_NE(html.find(escaped(instruction.text)), std::string::npos) << instruction.text;
  }
  EXPECT_NE(html.find("version 7.8.9"), std::string::npos);
}

TEST(Report, LeavesLinesToSignWhereNobodyIsNamed) {
  EXPECT_EQ(times(html_of(sample_plan()), "<dd></dd>"), 7U);
  Plan plan = sample_plan();
  plan.train.release.checked_by = "Ida Brandt";
  plan.train.release.holds_until = "2031-05-30";
  plan.train.release.train_number = "60412";
  plan.train.release.days = "Mondays";
  plan.train.release.issue = 3;
  const std::string html = html_of(plan);
  EXPECT_EQ(times(html, "<dd></dd>"), 2U);
  EXPECT_NE(html.find("<dt>Train number</dt><dd>60412</dd>"), std::string::npos);
  EXPECT_NE(html.find("<dt>Days</dt><dd>Mondays</dd>"), std::string::npos);
  EXPECT_NE(html.find("<dt>Issue</dt><dd>3</dd>"), std::string::npos);
  EXPECT_NE(html.find("<dt>Checked by</dt><dd>Ida Brandt</dd>"), std::string::npos);
  EXPECT_NE(html.find("<dt>Holds until</dt><dd>2031-05-30</dd>"), std::string::npos);
}

TEST(Report, ALastResortAndAnExposedLoadAreInTheHeadline) {
  const std::string html = html_of(sample_plan());
  EXPECT_NE(html.find("<p class=\"answer\">Permitted, last resort accepted on km 0.0–12.4."),
            std::string::npos);
  EXPECT_NE(html.find("is exposed to dust and sparks of 2.1 on km 0.0–12.4. Running time"),
            std::string::npos);
  EXPECT_EQ(html_of(unit_pair_plan()).find("last resort"), std::string::npos);
}

TEST(Report, APracticeThatIsKeptAndOneThatIsNotHaveTwoLabels) {
  Plan plan = unit_pair_plan();
  Finding& finding = plan.sections[0].findings[0];
  ASSERT_EQ(finding.strength, Strength::prescribed);
  EXPECT_NE(html_of(plan).find("<strong>As prescribed</strong>"), std::string::npos);
  EXPECT_EQ(html_of(plan).find("<strong>Not as prescribed</strong>"), std::string::npos);
  finding.kept = false;
  finding.because = "Dust flies backwards.";
  EXPECT_NE(html_of(plan).find("Why: Dust flies backwards."), std::string::npos);
  EXPECT_NE(html_of(plan).find("<strong>Not as prescribed</strong>"), std::string::npos);
}

TEST(Report, SaysDeviationsAndHashes) {
  Plan plan = sample_plan();
  EXPECT_NE(html_of(plan).find("None is stated."), std::string::npos);
  plan.train.release.deviations = {{"80 km/h on b2", "Ole Falk", "trial run", {}}};
  plan.inputs = {{"train", "t.toml", std::string(64, 'a')}};
  const std::string html = html_of(plan);
  EXPECT_EQ(html.find("None is stated."), std::string::npos);
  EXPECT_NE(html.find("<td>80 km/h on b2</td><td>Ole Falk</td><td>trial run</td>"),
            std::string::npos);
  EXPECT_NE(html.find(std::string(64, 'a')), std::string::npos);
}

TEST(Report, EscapesWhatUsersWrite) {
  Plan plan = sample_plan();
  plan.train.name = "<script>alert('x')</script> & \"co\"";
  plan.train.release.made_by = "<b>";
  plan.sections[0].findings[0].text = "a < b & c";
  const std::string html = html_of(plan);
  EXPECT_EQ(html.find("<script"), std::string::npos);
  EXPECT_EQ(html.find("<dd><b>"), std::string::npos);
  EXPECT_NE(html.find("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;co&quot;"),
            std::string::npos);
  EXPECT_NE(html.find("a &lt; b &amp; c"), std::string::npos);
}

TEST(Report, FetchesNothing) {
  const std::string html = html_of(sample_plan());
  EXPECT_EQ(html.find("http"), std::string::npos);
  EXPECT_EQ(html.find("<link"), std::string::npos);
  EXPECT_EQ(times(html, " src=\""), times(html, " src=\"data:image/svg+xml;base64,"));
}

TEST(Report, MarksInventedDataAndRefusals) {
  EXPECT_NE(html_of(sample_plan()).find(std::string(invented_mark)), std::string::npos);
  EXPECT_NE(html_of(refused_plan()).find("answer refused"), std::string::npos);
  EXPECT_EQ(html_of(sample_plan()).find("answer refused"), std::string::npos);
}

TEST(Report, IsTheSameTwice) {
  for (const auto& [name, plan] : all_sample_plans()) {
    const auto first = render_report(plan);
    const auto second = render_report(plan);
    ASSERT_EQ(first.size(), 2U) << name;
    for (std::size_t i = 0; i < first.size(); ++i) {
      EXPECT_EQ(first[i].bytes, second[i].bytes) << name << first[i].name;
    }
    EXPECT_TRUE(first[0].bytes.starts_with("%PDF-")) << name;
  }
}

Plan plan_with_margins() {
  Plan plan = sample_plan();
  SectionMargins margins;
  margins.currents = {
      .pantographs = {{{1, 1}, 300, 400, "current-carried"}, {{2, 2}, 500, 400, ""}},
      .train_a = 800,
      .train_limit_a = std::nullopt,
      .train_rule = "train-current",
      .complete = true};
  LateralMargin lateral;
  lateral.heads = {{1, 1}};
  lateral.head_width_mm = 1950;
  lateral.permitted_m = 0.52;
  lateral.span.length_m = 65;
  lateral.span.stagger_m = {0.3, -0.3};
  lateral.wind_known = true;
  lateral.wind_ms = 20;
  lateral.position_m = 0.31;
  lateral.rule = "lateral-position";
  lateral.holds_ms = 27.5;
  margins.lateral = {lateral};
  margins.forces = ForceFigures{.speed_kmh = 120,
                                .raised = {{1, 1}},
                                .pantographs = {{100, 20, 170, 45, 0.3, 12}},
                                .greatest_force_n = 300};
  margins.forces->judged = {{.speed_kmh = 120,
                             .passes = true,
                             .pantographs = {{100, 20, 170, 45, 0.3, 12}},
                             .criteria = {{"force-deviation", 1, true, 0.2,
                                           "standard deviation 20.0 N, permitted 30.0 N"},
                                          {"support-uplift", 0, true, 0.4,
                                           "uplift at supports 30 mm, 2 times of which must fit in "
                                           "100 mm"}},
                             .refused = {}},
                            {.speed_kmh = 140,
                             .passes = false,
                             .pantographs = {{110, 40, 250, 5, 2, 30}},
                             .criteria = {{"force-deviation", 1, false, -0.1, "too much"}},
                             .refused = {}}};
  margins.forces->by_tables = SpacingLimit{80, "design-spacing"};
  margins.forces->hangs_on = "At 140 km/h it hangs most on the static force.";
  plan.margins = {margins};
  return plan;
}

TEST(Report, ShowsMarginsAsDrawingsAndInWords) {
  const std::string html = html_of(plan_with_margins());
  const std::string without = html_of(sample_plan());
  for (const char* const words :
       {"1.1 300 A of 400 A, 75 % (rule current-carried); 2.2 500 A of 400 A, 125 %; train 800 A, "
        "no "
        "limit stated.",
        "in a wind of 20 m/s and its gusts the wire comes to 0.31 m from the middle of the track; "
        "permitted are 0.52 m (rule lateral-position). It holds a wind of up to 27.5 m/s.",
        "1.1 mean 100 N, standard deviation 20.0 N, mean ± 3σ from 40 to 160 N, least 45 N, "
        "greatest 170 N, contact loss 0.3 % of the time. Limit of the statistical maximum: 300 "
        "N.",
        "At 140 km/h it hangs most on the static force."}) {
    EXPECT_NE(html.find(words), std::string::npos) << words;
    EXPECT_EQ(without.find(words), std::string::npos) << words;
  }
  EXPECT_EQ(times(html, "<figure>"), times(without, "<figure>") + 3);
}

TEST(Report, SupportsARequestForConsentWithCriteriaForceOverSpeedAndTheTablesOwnLimit) {
  const std::string html = html_of(plan_with_margins());
  for (const char* const words :
       {"Each criterion at 120 km/h",
        "<td>force-deviation</td><td>1.1</td><td>standard deviation 20.0 N, permitted 30.0 N</td>"
        "<td>20 %</td><td>yes</td>",
        "<td>support-uplift</td><td>the line</td><td>uplift at supports 30 mm, 2 times of which "
        "must "
        "fit in 100 mm</td><td>40 %</td><td>yes</td>",
        "<td>120</td><td>100 ± 60</td><td>20 %</td><td>force-deviation, 1.1</td><td>yes</td>",
        "<td>140</td><td>110 ± 120</td><td>-10 %</td><td>force-deviation, 1.1</td><td>no</td>",
        "By records, consents or design type alone: 80 km/h (rule design-spacing).",
        "tolerances"}) {
    EXPECT_NE(html.find(words), std::string::npos) << words;
  }
  EXPECT_EQ(html.find("too much"), std::string::npos) << "only at the speed that is handed out";
}

TEST(Report, SaysAboutOfFiguresOfARunInALongerStep) {
  Plan plan = plan_with_margins();
  EXPECT_EQ(html_of(plan).find("longer step"), std::string::npos);
  JudgedSpeed& lower = plan.margins[0].forces->judged[0];
  lower.coarse = true;
  lower.pantographs.push_back({90, 10, 120, 60, 0, 0});
  const std::string html = html_of(plan);
  EXPECT_NE(html.find("<td>120</td><td>about 100 ± 60; 90 ± 30</td>"), std::string::npos);
  EXPECT_NE(html.find("<td>140</td><td>110 ± 120</td>"), std::string::npos);
  EXPECT_NE(html.find("stands before figures of a run in a longer step"), std::string::npos);
}

TEST(Report, SaysOnceWhatHoldsOnSeveralSections) {
  Plan plan = plan_with_margins();
  plan.margins.push_back(plan.margins[0]);
  plan.margins.back().planned = 1;
  const std::string html = html_of(plan);
  EXPECT_EQ(times(html, "<figure>"), times(html_of(sample_plan()), "<figure>") + 3);
}

}  // namespace
}  // namespace panup
