#include "runs/run_keeper.h"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "runs/run_key.h"

namespace panup {

SortedRuns RunKeeper::sort(const std::vector<SimulationRequest>& requests) {
  SortedRuns runs;
  runs.keys = run_keys(requests);
  runs.known =
      store_ ? store_->find(runs.keys) : std::vector<std::optional<RunFigures>>(requests.size());
  if (store_ && store_->unreadable() > 0 && !said_unreadable_) {
    said_unreadable_ = true;
    warn_(
        fmt::format("store {}: it is damaged: kept runs that do not match their checksums, or "
                    "cannot be read, are not used and are computed again",
                    store_->path()));
  }
  std::unordered_map<std::string, std::size_t> first;
  for (std::size_t i = 0; i < requests.size(); ++i) {
    if (!runs.known[i] && first.try_emplace(runs.keys[i], i).second) {
      runs.missing.push_back(i);
    }
  }
  return runs;
}

void RunKeeper::keep(const SortedRuns& runs, const std::vector<std::size_t>& missing) {
  if (!keeps()) {
    return;
  }
  std::vector<KeptRun> added;
  added.reserve(missing.size());
  for (const std::size_t i : missing) {
    added.push_back({runs.keys[i], *runs.known[i]});
  }
  if (const auto wrong = store_->add(added)) {
    failed_ = true;
    warn_(*wrong + "; going on without keeping runs");
  } else {
    kept_ += added.size();
  }
}

std::vector<RunFigures> whole(SortedRuns runs) {
  std::unordered_map<std::string, std::size_t> first;
  std::vector<RunFigures> figures;
  figures.reserve(runs.known.size());
  for (std::size_t i = 0; i < runs.known.size(); ++i) {
    const std::size_t same = first.try_emplace(runs.keys[i], i).first->second;
    figures.push_back(runs.known[i] ? *runs.known[i] : figures[same]);
  }
  return figures;
}

RunSource kept_runs(RunKeeper& keeper, RunSource compute, std::size_t batch,
                    std::function<void(std::size_t)> expect) {
  return [&keeper, compute = std::move(compute), batch = std::max(batch, std::size_t{1}),
          expect = std::move(expect)](const std::vector<SimulationRequest>& requests)
             -> std::optional<std::vector<RunFigures>> {
    SortedRuns runs = keeper.sort(requests);
    expect(runs.missing.size());
    for (std::size_t from = 0; from < runs.missing.size(); from += batch) {
      const std::size_t to = std::min(from + batch, runs.missing.size());
      const std::vector<std::size_t> part(runs.missing.begin() + static_cast<std::ptrdiff_t>(from),
                                          runs.missing.begin() + static_cast<std::ptrdiff_t>(to));
      std::vector<SimulationRequest> asked;
      asked.reserve(part.size());
      for (const std::size_t i : part) {
        asked.push_back(requests[i]);
      }
      auto figures = compute(asked);
      if (!figures) {
        return std::nullopt;
      }
      for (std::size_t i = 0; i < part.size(); ++i) {
        runs.known[part[i]] = std::move((*figures)[i]);
      }
      keeper.keep(runs, part);
    }
    return whole(std::move(runs));
  };
}

}  // namespace panup
