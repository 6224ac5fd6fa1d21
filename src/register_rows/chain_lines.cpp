#include "register_rows/chain_lines.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <unordered_map>

#include "base/cell_values.h"
#include "base/listed.h"
#include "files/document.h"
#include "register_rows/concepts.h"

namespace panup {

namespace {

/// A section as a step along a path.
struct Step {
  std::size_t section = 0;
  bool turned = false;
};

/// The sections of one national line as a graph: operational points, and sections between them.
class LineGraph {
 public:
  LineGraph(const std::vector<RegisterSection>& sections, const std::vector<std::size_t>& members)
      : sections_(sections), members_(members) {
    for (const std::size_t member : members) {
      at_[sections[member].from].push_back(member);
      at_[sections[member].to].push_back(member);
    }
  }

  /// Points where more than two sections meet, in the order of the rows.
  std::vector<std::string> forks() const {
    std::vector<std::string> forks;
    for (const std::size_t member : members_) {
      for (const std::string* const point : {&sections_[member].from, &sections_[member].to}) {
        if (at_.at(*point).size() > 2 && std::ranges::find(forks, *point) == forks.end()) {
          forks.push_back(*point);
        }
      }
    }
    return forks;
  }

  const std::vector<std::size_t>& sections_at(const std::string& point) const {
    return at_.at(point);
  }

  /// The first section of each part that nothing joins with those before.
  std::vector<std::size_t> behind_gaps() const {
    std::vector<std::size_t> first;
    std::set<std::size_t> reached;
    for (const std::size_t member : members_) {
      if (!reached.insert(member).second) {
        continue;
      }
      first.push_back(member);
      for (std::vector<std::size_t> next{member}; !next.empty();) {
        const RegisterSection& section = sections_[next.back()];
        next.pop_back();
        for (const std::string* const point : {&section.from, &section.to}) {
          for (const std::size_t other : at_.at(*point)) {
            if (reached.insert(other).second) {
              next.push_back(other);
            }
          }
        }
      }
    }
    first.erase(first.begin());
    return first;
  }

  /// All sections in paths that go on through points where exactly two meet, in the order of the
  /// rows.
  std::vector<std::vector<Step>> paths() {
    std::vector<std::vector<Step>> paths;
    for (const std::size_t member : members_) {
      if (!taken_.contains(member)) {
        paths.push_back(path_through(member));
      }
    }
    return paths;
  }

 private:
  std::vector<Step> path_through(std::size_t member) {
    taken_.insert(member);
    std::vector<Step> before = walk(member, sections_[member].from);
    // Walked away from the section; the line comes the other way.
    std::ranges::reverse(before);
    for (Step& step : before) {
      step.turned = !step.turned;
    }
    std::vector<Step> path = std::move(before);
    path.push_back({member, false});
    const std::vector<Step> behind = walk(member, sections_[member].to);
    path.insert(path.end(), behind.begin(), behind.end());
    const auto turned = std::ranges::count(path, true, &Step::turned);
    if (turned * 2 > static_cast<std::ptrdiff_t>(path.size())) {
      std::ranges::reverse(path);
      for (Step& step : path) {
        step.turned = !step.turned;
      }
    }
    return path;
  }

  std::vector<Step> walk(std::size_t last, std::string point) {
    std::vector<Step> steps;
    while (at_.at(point).size() == 2) {
      const std::vector<std::size_t>& both = at_.at(point);
      const std::size_t next = both[0] == last ? both[1] : both[0];
      if (!taken_.insert(next).second) {
        break;
      }
      const bool turned = sections_[next].to == point;
      steps.push_back({next, turned});
      point = turned ? sections_[next].from : sections_[next].to;
      last = next;
    }
    return steps;
  }

  const std::vector<RegisterSection>& sections_;
  const std::vector<std::size_t>& members_;
  std::unordered_map<std::string, std::vector<std::size_t>> at_;
  std::set<std::size_t> taken_;
};

class Chainer {
 public:
  Chainer(const std::vector<RegisterSection>& sections, const LineStarts& starts,
          const std::string& file, Diagnostics& notes)
      : sections_(sections), starts_(starts), file_(file), notes_(notes) {}

  std::vector<ChainedLine> chain() {
    std::vector<std::string> order;
    std::unordered_map<std::string, std::vector<std::size_t>> by_line;
    for (std::size_t i = 0; i < sections_.size(); ++i) {
      const RegisterSection& section = sections_[i];
      if (section.line.empty() || section.from.empty() || section.to.empty()) {
        note(section, fmt::format("{} is not known, so it cannot be put on a line and was left out",
                                  section.line.empty() ? "its national line"
                                                       : "an operational point at an end of it"));
        continue;
      }
      if (section.from == section.to) {
        note(section, fmt::format("it begins and ends at {}, so it cannot be put on a line and was "
                                  "left out",
                                  last_segment(section.from)));
        continue;
      }
      std::vector<std::size_t>& members = by_line[section.line];
      if (members.empty()) {
        order.push_back(section.line);
      }
      members.push_back(i);
    }
    for (const std::string& national : order) {
      chain_line(national, by_line.at(national));
    }
    return std::move(lines_);
  }

 private:
  void note(const RegisterSection& section, std::string_view text) {
    notes_.push_back(
        at_row(file_, section.row, fmt::format("section {}: {}", last_segment(section.iri), text)));
  }

  static std::string point_words(const std::string& point, const RegisterSection& of) {
    const std::string& name = of.from == point ? of.from_name : of.to_name;
    return name.empty() ? std::string(last_segment(point)) : one_line_of(name);
  }

  void chain_line(const std::string& national, const std::vector<std::size_t>& members) {
    LineGraph graph(sections_, members);
    const std::string name = one_line_of(last_segment(national));
    for (const std::string& fork : graph.forks()) {
      std::vector<std::string> meeting;
      for (const std::size_t section : graph.sections_at(fork)) {
        meeting.emplace_back(last_segment(sections_[section].iri));
      }
      const RegisterSection& last = sections_[graph.sections_at(fork).back()];
      note(last, fmt::format("line {} forks at {}, where {} meet: a line of its own begins with "
                             "each",
                             name, point_words(fork, last), listed(meeting)));
    }
    for (const std::size_t member : graph.behind_gaps()) {
      const RegisterSection& first = sections_[member];
      note(first, fmt::format("line {} has a gap: no section joins this one, from {} to {}, with "
                              "the part before; what is on the other side of the gap is a line of "
                              "its own",
                              name, point_words(first.from, first), point_words(first.to, first)));
    }
    const std::vector<std::vector<Step>> paths = graph.paths();
    for (const std::vector<Step>& path : paths) {
      place(national, path);
    }
  }

  void begin_line(const std::string& national, bool km_known) {
    ChainedLine line;
    line.national = national;
    line.id = free_id_from(last_segment(national), "line", taken_);
    line.start_told = km_known;
    line.goes_on = km_ > 0;
    if (const auto start = starts_.find(line.id); start != starts_.end()) {
      km_ = start->second;
      line.start_told = true;
      line.goes_on = false;
      km_told_ = true;
    } else if (!km_known) {
      km_told_ = false;
    }
    lines_.push_back(std::move(line));
  }

  void place(const std::string& national, const std::vector<Step>& path) {
    km_ = 0;
    km_told_ = false;
    bool joins = false;  // with what stands on the last line
    for (const Step& step : path) {
      const RegisterSection& section = sections_[step.section];
      if (!section.length_km) {
        note(section,
             "its length is not known, so it was left out, and the line begins anew "
             "behind it");
        km_ = 0;
        km_told_ = false;
        joins = false;
        continue;
      }
      const bool no_speed = section.overhead_line && section.properties.line_speed_kmh == 0;
      if (no_speed) {
        note(section,
             "its line speed is not known, so it was left out; panup takes no section "
             "without one");
      }
      if (no_speed || !section.overhead_line) {
        km_ = rounded_km(km_ + *section.length_km);
        joins = false;
        continue;
      }
      if (!joins) {
        begin_line(national, km_told_);
      }
      const double to_km = rounded_km(km_ + *section.length_km);
      lines_.back().sections.push_back({step.section, step.turned, km_, to_km});
      km_ = to_km;
      joins = true;
    }
  }

  const std::vector<RegisterSection>& sections_;
  const LineStarts& starts_;
  const std::string& file_;
  Diagnostics& notes_;
  std::vector<ChainedLine> lines_;
  std::set<std::string> taken_;
  double km_ = 0;
  bool km_told_ = false;
};

}  // namespace

std::vector<ChainedLine> chain_lines(const std::vector<RegisterSection>& sections,
                                     const LineStarts& starts, const std::string& file,
                                     Diagnostics& mistakes, Diagnostics& notes) {
  std::vector<ChainedLine> lines = Chainer(sections, starts, file, notes).chain();
  std::vector<std::string> ids;
  for (const ChainedLine& line : lines) {
    ids.push_back(line.id);
    if (line.sections.back().to_km > any_chainage_km.greatest) {
      mistakes.push_back({{.file = file},
                          fmt::format("line {} ends at km {:.9g}; panup counts to km {:g}", line.id,
                                      line.sections.back().to_km, any_chainage_km.greatest)});
    }
  }
  for (const auto& [id, km] : starts) {
    if (std::ranges::find(ids, id) == ids.end()) {
      mistakes.push_back({{.file = file}, "--start: " + not_found_text("line", id, ids)});
    }
  }
  return lines;
}

}  // namespace panup
