#include "line/raised_records.h"

#include <algorithm>

namespace panup {

namespace {

bool covers(const RaisedRecord& record, int number, double distance_m) {
  return number == 1 ? record.number == 1
                     : record.number >= number && reaches(distance_m, record.distance_m);
}

/// The slowest record that contradicts this one; null if none does.
const RaisedRecord* slowest_against(std::span<const RaisedRecord> records,
                                    const RaisedRecord& record) {
  const RaisedRecord* slowest = nullptr;
  for (const RaisedRecord& other : records) {
    if (contradicts(other, record) &&
        (slowest == nullptr || other.speed_kmh < slowest->speed_kmh)) {
      slowest = &other;
    }
  }
  return slowest;
}

}  // namespace

bool reaches(double distance_m, double wanted_m) { return distance_m >= wanted_m - 1e-6; }

std::string words_for(const RaisedRecord& record, const Words& words) {
  return record.number == 1 ? words.say("one raised: {:g} km/h", record.speed_kmh)
                            : words.say("{} raised, {:g} m apart: {:g} km/h", record.number,
                                        record.distance_m, record.speed_kmh);
}

bool contradicts(const RaisedRecord& slower, const RaisedRecord& record) {
  const bool as_far = slower.number == 1 || slower.distance_m >= record.distance_m;
  return slower.number <= record.number && as_far && slower.speed_kmh < record.speed_kmh;
}

std::vector<Contradiction> contradictions(std::span<const RaisedRecord> records) {
  std::vector<Contradiction> all;
  for (std::size_t i = 0; i < records.size(); ++i) {
    if (const RaisedRecord* const slower = slowest_against(records, records[i])) {
      all.push_back({.record = i, .slower = static_cast<std::size_t>(slower - records.data())});
    }
  }
  return all;
}

std::optional<RecordReading> reading_of(std::span<const RaisedRecord> records, int number,
                                        double distance_m) {
  RecordReading reading;
  for (const RaisedRecord& record : records) {
    if (!covers(record, number, distance_m)) {
      continue;
    }
    if (reading.permits == nullptr || record.speed_kmh > reading.permits->speed_kmh) {
      reading.permits = &record;
    }
    const RaisedRecord* const slower = slowest_against(records, record);
    reading.speed_kmh =
        std::max(reading.speed_kmh, slower == nullptr ? record.speed_kmh : slower->speed_kmh);
  }
  if (reading.permits == nullptr) {
    return std::nullopt;
  }
  if (reading.speed_kmh < reading.permits->speed_kmh) {
    reading.against = slowest_against(records, *reading.permits);
  }
  return reading;
}

}  // namespace panup
