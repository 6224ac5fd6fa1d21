#include "cli/day_cards.h"

#include "day/day.h"

namespace panup {

DayCards::DayCards(const DayFile& day, const Words& words)
    : cards_(words.say("Cards of {}, {}", day.date, day.name)), place_of_row_(day.trains.size()) {
  const std::vector<std::size_t> order = departure_order(day);
  for (std::size_t place = 0; place < order.size(); ++place) {
    place_of_row_[order[place]] = place;
  }
}

void DayCards::made(std::size_t row, const std::shared_ptr<const RunPlan>& run) {
  const std::scoped_lock lock(collecting_);
  made_[row] = run;
}

void DayCards::done(std::size_t row) {
  const std::scoped_lock lock(collecting_);
  auto run = made_.extract(row);
  waiting_[place_of_row_[row]] = run.empty() ? nullptr : std::move(run.mapped());
  for (auto first = waiting_.begin(); first != waiting_.end() && first->first == next_;
       first = waiting_.erase(first)) {
    if (first->second != nullptr) {
      for (const Plan& part : first->second->parts) {
        cards_.add(part);
      }
      ++count_;
    }
    ++next_;
  }
}

}  // namespace panup
