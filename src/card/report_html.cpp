#include <fmt/format.h>
#include <glib.h>

#include <memory>

#include "base/capitals.h"
#include "card/report.h"
#include "drawing/sheets.h"
#include "drawing/text.h"
#include "wording/values_words.h"
#include "wording/wording.h"

namespace panup {

namespace {

constexpr std::string_view style_sheet = R"(
body { font: 11pt/1.35 sans-serif; color: #000; background: #fff; max-width: 60rem; margin: 1rem auto; padding: 0 1rem; }
h1 { font-size: 1.5rem; margin-bottom: .2rem; }
h2 { font-size: 1.15rem; border-top: 2px solid #000; padding-top: .4rem; margin-top: 1.6rem; }
h3 { font-size: 1rem; }
p, li, td, th, figcaption { overflow-wrap: anywhere; }
.mark { display: inline-block; border: 2px solid #000; padding: .1rem .5rem; font-weight: bold; }
.answer { font-weight: bold; }
.refused { background: #000; color: #fff; padding: .4rem .6rem; }
table { border-collapse: collapse; width: 100%; font-size: .85rem; }
th, td { text-align: left; vertical-align: top; border-bottom: 1px solid #999; padding: .2rem .4rem .2rem 0; }
th { border-bottom: 1.5px solid #000; }
figure { margin: .6rem 0; }
figure img { max-width: 100%; height: auto; }
figcaption { font-size: .85rem; }
.findings > li { margin-bottom: .6rem; }
.sign dd { margin: 0 0 .6rem 10rem; border-bottom: 1px solid #000; min-height: 1.4rem; }
.sign dt { float: left; }
@page { size: A4; margin: 15mm; }
@media print {
  body { max-width: none; margin: 0; padding: 0; }
  thead { display: table-header-group; }
  tr, .findings > li { break-inside: avoid; }
  h2, h3 { break-after: avoid; }
  .refused { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
)";

/// Fit to stand between tags and in quoted attributes.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : plain(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string base64(const std::string& bytes) {
  const std::unique_ptr<gchar, decltype(&g_free)> text(
      g_base64_encode(reinterpret_cast<const guchar*>(bytes.data()), bytes.size()), &g_free);
  return text.get();
}

struct HtmlWriter {
  const Words& words;
  std::string out = {};

  void operator()(const ReportHeading& heading) {
    const int level = heading.level + 1;
    out += fmt::format("<h{0}>{1}</h{0}>\n", level, escaped(heading.text));
  }

  void operator()(const ReportParagraph& paragraph) {
    out += fmt::format("<p{}>{}</p>\n", paragraph.strong ? " class=\"answer\"" : "",
                       escaped(paragraph.text));
  }

  void operator()(const ReportList& list) {
    out += "<ul>\n";
    for (const std::string& entry : list.entries) {
      out += fmt::format("<li>{}</li>\n", escaped(entry));
    }
    out += "</ul>\n";
  }

  void operator()(const ReportTable& table) {
    out += "<table>\n<thead><tr>";
    for (const std::string& heading : table.headings) {
      out += fmt::format("<th scope=\"col\">{}</th>", escaped(heading));
    }
    out += "</tr></thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
      out += "<tr>";
      for (const std::string& cell : row) {
        out += fmt::format("<td>{}</td>", escaped(cell));
      }
      out += "</tr>\n";
    }
    out += "</tbody>\n</table>\n";
  }

  void operator()(const ReportDrawing& drawing) {
    SheetSize size{a4_portrait.width, 8};
    for (const Row& row : drawing.rows) {
      size.height += row.block.height;
    }
    const std::string svg = sheet_to_svg(size, 0, [&](Canvas& canvas, std::size_t) {
      double y = 4;
      for (const Row& row : drawing.rows) {
        row.block.draw(canvas, y);
        y += row.block.height;
      }
    });
    // As an image of its own, names within one drawing do not meet those of another.
    out += fmt::format(
        "<figure>\n<img alt=\"{}\" src=\"data:image/svg+xml;base64,{}\">\n"
        "<figcaption>{}</figcaption>\n</figure>\n",
        escaped(drawing.told), base64(svg), escaped(drawing.caption));
  }

  void operator()(const ReportFindings& findings) {
    out += "<ul class=\"findings\">\n";
    for (const FindingGroup& group : findings.groups) {
      out += words.say("<li><strong>{}</strong>: rule <code>{}</code> ({}). Source: {}.",
                       escaped(capitalised(label_of(group.strength, group.kept, words))),
                       escaped(group.rule), escaped(words.named(name_of(group.standing))),
                       escaped(group.source)) +
             (group.because.empty() ? "" : words.say(" Why: {}", escaped(group.because))) +
             "\n<ul>\n";
      for (const FindingGroup::Saying& saying : group.sayings) {
        const std::string from = where_from_words(saying.values, words);
        out += fmt::format("<li><b>{}</b>: {}{}</li>\n", escaped(km_list(saying.where, words)),
                           escaped(saying.text),
                           from.empty() ? "" : words.say(" From: {}.", escaped(from)));
      }
      out += "</ul></li>\n";
    }
    out += "</ul>\n";
  }

  void operator()(const ReportSignatures& signatures) {
    out += "<dl class=\"sign\">\n";
    for (const auto& [role, name] : signatures.lines) {
      out += fmt::format("<dt>{}</dt><dd>{}</dd>\n", escaped(role), escaped(name));
    }
    out += "</dl>\n";
  }
};

}  // namespace

std::string report_to_html(const Report& report) {
  HtmlWriter writer{.words = report.words};
  const std::string language(report.words.language());
  writer.out = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>{}: {}; {}</title>\n<style>{}</style>\n</head>\n<body>\n<header>\n",
      language == "en" ? "en-GB" : language, escaped(report.title), escaped(report.train),
      escaped(report.route), style_sheet);
  if (!report.mark.empty()) {
    writer.out += fmt::format("<p class=\"mark\">{}</p>\n", escaped(report.mark));
  }
  writer.out +=
      fmt::format("<h1>{}</h1>\n<p>{}<br>{}</p>\n<p class=\"answer{}\">{}</p>\n</header>\n<main>\n",
                  escaped(report.title), report.words.say("Train: {}", escaped(report.train)),
                  report.words.say("Route: {}", escaped(report.route)),
                  report.permitted ? "" : " refused", escaped(report.answer));
  for (const ReportBlock& block : report.blocks) {
    std::visit(writer, block);
  }
  return writer.out + "</main>\n</body>\n</html>\n";
}

}  // namespace panup
