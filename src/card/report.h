#pragma once

#include <string>
#include <variant>
#include <vector>

#include "base/handed_out.h"
#include "card/card.h"
#include "drawing/block.h"
#include "plan/plan.h"
#include "wording/finding_groups.h"

namespace panup {

/// The engineer's report as it reads: what two writers, one for paper and one for a browser, set
/// each in its way. Texts are the user's and the plan's own, unescaped.

struct ReportHeading {
  std::string text;
  int level = 1;  ///< 1: a part of the report, 2: within it
};

struct ReportParagraph {
  std::string text;
  bool strong = false;
};

struct ReportList {
  std::vector<std::string> entries;
};

/// A table. `shares` are the widths of its columns, in any unit.
struct ReportTable {
  std::vector<std::string> headings;
  std::vector<double> shares;
  std::vector<std::vector<std::string>> rows;
};

/// A drawing across a sheet of A4, cut into rows that are not divided. `told` says in words what it
/// shows.
struct ReportDrawing {
  std::string caption;
  std::string told;
  std::vector<Row> rows;
};

struct ReportFindings {
  std::vector<FindingGroup> groups;
};

/// A line for each thing that the office states; empty where it is filled in by hand.
struct ReportSignatures {
  struct Line {
    std::string role;
    std::string name;
  };
  std::vector<Line> lines;
};

using ReportBlock = std::variant<ReportHeading, ReportParagraph, ReportList, ReportTable,
                                 ReportDrawing, ReportFindings, ReportSignatures>;

struct Report {
  std::string title;
  std::string train;
  std::string route;
  std::string answer;  ///< in one sentence
  bool permitted = false;
  std::string mark;  ///< of invented data; may be empty
  std::vector<ReportBlock> blocks;
  Words words = {};  ///< in which it is written
};

Report compose_report(const TextSetter& setter, const Plan& plan);

/// One self-contained page: drawings within it, nothing fetched. All texts are escaped.
std::string report_to_html(const Report& report);

/// A4 upright, numbered, with train, route and mark on every sheet.
std::string report_to_pdf(const TextSetter& setter, const Report& report);

/// `report.pdf` and `report.html`. The same plan gives the same bytes on a machine with the same
/// fonts.
std::vector<RenderedFile> render_report(const Plan& plan);

}  // namespace panup
