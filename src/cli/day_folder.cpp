#include "cli/day_folder.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "cli/commands.h"
#include "cli/earlier_sheets.h"
#include "cli/plan_sheets.h"
#include "cli/say.h"

namespace panup {

namespace fs = std::filesystem;

DayFolder::DayFolder(std::string folder, const DayFile& day, const Words& words,
                     std::string kept_file)
    : folder_(std::move(folder)),
      day_(day),
      kept_file_(std::move(kept_file)),
      cards_(day, words),
      has_folder_(day.trains.size(), 0) {}

void DayFolder::made(std::size_t row, const std::shared_ptr<const RunPlan>& run) {
  if (failed()) {
    return;
  }
  std::vector<std::string> inputs = paths_of(inputs_of(*run));
  if (!kept_file_.empty()) {
    inputs.push_back(kept_file_);
  }
  const std::string place =
      (fs::path(folder_) / folder_of_number(day_.trains[row].number)).string();
  if (const int status =
          write_whole_result(place, card_stem, train_sheets(*run), inputs, Told::failures);
      status != exit_done) {
    status_ = status;
    return;
  }
  ++written_;
  cards_.made(row, run);
  const std::scoped_lock lock(noting_);
  has_folder_[row] = 1;
}

/// Folders of an earlier result whose trains have no plan now: left beside the new ones, they would
/// be taken for theirs.
void DayFolder::withdraw_others() {
  std::vector<std::string> kept;
  for (std::size_t row = 0; row < day_.trains.size(); ++row) {
    if (has_folder_[row] != 0) {
      kept.push_back(folder_of_number(day_.trains[row].number));
    }
  }
  std::ranges::sort(kept);
  std::vector<std::string> others;
  std::error_code error;
  fs::directory_iterator entry(folder_, error);
  for (; !error && entry != fs::directory_iterator(); entry.increment(error)) {
    std::error_code unsaid;
    if (fs::is_directory(entry->symlink_status(unsaid)) &&
        !std::ranges::binary_search(kept, entry->path().filename().string())) {
      others.push_back(entry->path().string());
    }
  }
  std::ranges::sort(others);
  std::ranges::for_each(others, withdraw_sheets);
}

int DayFolder::finish(const DayReport& report) {
  if (failed()) {
    return status_;
  }
  std::vector<std::string> inputs = paths_of(report.inputs);
  if (!kept_file_.empty()) {
    inputs.push_back(kept_file_);
  }
  std::vector<OutputFile> files{{"day.txt", day_to_text(report)},
                                {"day.json", json_text(day_to_json(report))}};
  add_rendered(csv_files(day_tables(report), {.invented = invented(report), .thing = "table"}),
               files);
  if (written_ > 0) {
    files.push_back({"cards.pdf", cards_.finish()});
  }
  const int status = write_out(folder_, files, inputs);
  if (status == exit_done) {
    withdraw_others();
    if (written_ == 0) {
      std::error_code error;
      if (fs::remove(fs::path(folder_) / "cards.pdf", error)) {
        say("removed, of an earlier result: {}/cards.pdf\n", folder_);
      }
    }
    say("written: {} folder{} of trains beside them\n", written_.load(), written_ == 1 ? "" : "s");
  }
  return status;
}

}  // namespace panup
