#include "register_rows/touched_runs.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "base/same_place.h"
#include "files/read_run.h"

namespace panup {

namespace {

/// The way by the kilometres of its lines; nothing, and `doubt`, where the network has none such.
std::optional<std::vector<LineStretch>> stretches_of(const NetworkWay& way, const Network& network,
                                                     std::string& doubt) {
  std::vector<LineStretch> stretches;
  std::string at = way.from;
  for (const WayLeg& leg : way.legs) {
    const NetworkPlace* const from = place_of(network, at);
    const NetworkPlace* const to = place_of(network, leg.to);
    for (const auto& [place, id] : {std::pair{from, at}, std::pair{to, leg.to}}) {
      if (place == nullptr || !km_on(*place, leg.line)) {
        doubt = fmt::format("there is no place '{}' on line '{}'", id, leg.line);
        return std::nullopt;
      }
    }
    stretches.push_back({leg.line, *km_on(*from, leg.line), *km_on(*to, leg.line)});
    at = leg.to;
  }
  return stretches;
}

bool meet(const LineStretch& one, const LineStretch& other) {
  return one.line == other.line &&
         std::min(one.from_km, one.to_km) <= std::max(other.from_km, other.to_km) + same_place_km &&
         std::max(one.from_km, one.to_km) >= std::min(other.from_km, other.to_km) - same_place_km;
}

bool lies_on(const TableChange& change, const std::vector<LineStretch>& way) {
  if (change.table == "place" && change.fate == TableFate::is_new) {
    return false;
  }
  return std::ranges::any_of(way, [&change](const LineStretch& stretch) {
    return (change.table == "line" && change.id == stretch.line) ||
           std::ranges::any_of(change.where,
                               [&stretch](const LineStretch& one) { return meet(one, stretch); });
  });
}

/// What holds for every way. What a profile states counts as its sections' own.
bool is_everywhere(const TableChange& change) { return change.table == "network"; }

class Finder {
 public:
  Finder(const ChangedNetwork& network, const FileSource& files)
      : network_(network), files_(files) {}

  void look_at(const RunOfTrain& asked, RunsTouched& all) const {
    Diagnostics mistakes;
    const auto source = files_.load(asked.path, mistakes);
    const auto run = source ? read_run(*source, mistakes) : std::nullopt;
    if (run && !is_this_network(run->network.path)) {
      ++all.elsewhere;
      return;
    }
    ++all.asked;
    TouchedRun touched{.run = asked, .changes = {}, .doubt = {}};
    if (!run) {
      touched.doubt = mistakes.empty() ? "it cannot be read" : to_line(mistakes.front());
    } else {
      touched.run.train = !asked.train.empty()        ? asked.train
                          : run->train_number.empty() ? run->id
                                                      : run->train_number;
      find_changes(*run, touched);
    }
    if (!touched.doubt.empty() || !touched.changes.empty()) {
      all.touched.push_back(std::move(touched));
    }
  }

 private:
  bool is_this_network(const std::string& path) const {
    std::error_code error;
    return std::filesystem::equivalent(path, network_.path, error);
  }

  void find_changes(const RunFile& run, TouchedRun& touched) const {
    if (!network_.before) {
      touched.doubt = "the network that is there has mistakes";
      return;
    }
    Diagnostics mistakes;
    const auto way = way_of(run, *network_.before, mistakes);
    if (!way) {
      touched.doubt = mistakes.empty() ? "it has no way" : to_line(mistakes.front());
      return;
    }
    std::vector<LineStretch> all;
    for (const Network* const network : {&*network_.before, &network_.then}) {
      std::string why;
      const auto stretches = stretches_of(*way, *network, why);
      if (stretches) {
        all.insert(all.end(), stretches->begin(), stretches->end());
      } else if (touched.doubt.empty()) {
        touched.doubt = (network == &network_.then ? "in the new network " : "") + why;
      }
    }
    const std::vector<TableChange>& changes = network_.changes->tables;
    for (std::size_t i = 0; i < changes.size(); ++i) {
      const bool its_way = changes[i].table == "way" && changes[i].id == run.way;
      if (its_way || is_everywhere(changes[i]) || lies_on(changes[i], all)) {
        touched.changes.push_back(i);
      }
    }
  }

  const ChangedNetwork& network_;
  const FileSource& files_;
};

}  // namespace

void add_runs_of(const DayFile& day, std::vector<RunOfTrain>& runs, RunsTouched& touched) {
  for (const DayTrain& train : day.trains) {
    if (train.run.path.empty()) {
      ++touched.by_route;
    } else {
      runs.push_back({train.number, train.run.path});
    }
  }
}

void find_touched(const ChangedNetwork& network, const std::vector<RunOfTrain>& runs,
                  const FileSource& files, RunsTouched& touched) {
  const Finder finder(network, files);
  for (const RunOfTrain& run : runs) {
    finder.look_at(run, touched);
  }
}

}  // namespace panup
