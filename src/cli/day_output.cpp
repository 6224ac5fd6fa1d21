#include "cli/day_output.h"

#include <filesystem>

#include "cli/commands.h"
#include "cli/say.h"

namespace panup {

void DayOutput::into_folder(const std::string& folder, DayRequest& request) {
  folder_.emplace(folder, *request.day, request.words, store_);
  request.plan_all = true;
  request.made = [this](std::size_t row, const std::shared_ptr<const RunPlan>& run) {
    folder_->made(row, run);
  };
}

void DayOutput::into_cards(const FilePlace& place, DayRequest& request) {
  cards_.emplace(*request.day, request.words);
  cards_place_ = place;
  request.plan_all = true;
  request.made = [this](std::size_t row, const std::shared_ptr<const RunPlan>& run) {
    cards_->made(row, run);
  };
}

void DayOutput::done(std::size_t row) {
  if (folder_) {
    folder_->done(row);
  }
  if (cards_) {
    cards_->done(row);
  }
}

std::optional<std::size_t> DayOutput::folders_written() const {
  return folder_ ? std::optional(folder_->written()) : std::nullopt;
}

int DayOutput::write_cards(const DayReport& report) {
  if (cards_->count() == 0) {
    say("panup: no train has a plan: there are no cards to write to {}\n", cards_place_.name);
    return exit_done;
  }
  std::vector<std::string> inputs = paths_of(report.inputs);
  if (!store_.empty()) {
    inputs.push_back(store_);
  }
  return write_out(cards_place_.folder, {{cards_place_.name, cards_->finish()}}, inputs);
}

int DayOutput::finish(const DayReport& report) {
  return folder_ ? folder_->finish(report) : cards_ ? write_cards(report) : exit_done;
}

}  // namespace panup
