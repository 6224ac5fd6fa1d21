#include "records/force_trace.h"

namespace panup {

/// `first` and `second` are the least and the greatest force so far, in the order they came.
void ForceTrace::take(Part& part, const Point& point) {
  const Point& least = part.least_first ? part.first : part.second;
  const Point& greatest = part.least_first ? part.second : part.first;
  if (point.force_n < least.force_n) {
    part.first = greatest;
    part.second = point;
    part.least_first = false;
  } else if (point.force_n > greatest.force_n) {
    part.first = least;
    part.second = point;
    part.least_first = true;
  }
}

void ForceTrace::add(const ForceSample& sample) {
  const Point point{sample.chainage_m, sample.force_n};
  if (parts_.empty() || sample.begins_piece || parts_.back().rows >= rows_of_part_) {
    if (parts_.size() >= 2 * most_parts) {
      merge();
    }
    parts_.push_back({.rows = 1,
                      .begins_piece = parts_.empty() || sample.begins_piece,
                      .first = point,
                      .second = point,
                      .least_first = true});
    return;
  }
  ++parts_.back().rows;
  take(parts_.back(), point);
}

/// Two parts become one, over gaps too: a piece then begins with the part in which it began.
void ForceTrace::merge() {
  std::size_t kept = 0;
  for (std::size_t i = 0; i < parts_.size(); i += 2, ++kept) {
    Part part = parts_[i];
    if (i + 1 < parts_.size()) {
      const Part& next = parts_[i + 1];
      take(part, next.first);
      take(part, next.second);
      part.rows += next.rows;
      part.begins_piece = part.begins_piece || next.begins_piece;
    }
    parts_[kept] = part;
  }
  parts_.resize(kept);
  rows_of_part_ *= 2;
}

std::vector<std::vector<ForceTrace::Point>> ForceTrace::pieces() const {
  std::vector<std::vector<Point>> pieces;
  for (const Part& part : parts_) {
    if (part.begins_piece) {
      pieces.emplace_back();
    }
    pieces.back().push_back(part.first);
    if (part.rows > 1) {
      pieces.back().push_back(part.second);
    }
  }
  return pieces;
}

}  // namespace panup
