#include "day/reading_bytes.h"

#include <type_traits>

#include "runs/bytes.h"

namespace panup {

namespace {

/// Calls `each` with every field of a thing, in the order in which they are kept: one list for
/// putting down and taking up.
template <typename Thing, typename Each>
void fields(Thing& thing, Each& each) {
  using Kind = std::remove_const_t<Thing>;
  const auto all = [&each](auto&... parts) { (each(parts), ...); };
  if constexpr (std::is_same_v<Kind, PantographRef>) {
    all(thing.vehicle, thing.pantograph);
  } else if constexpr (std::is_same_v<Kind, HowItRuns>) {
    all(thing.answer, thing.lowered_for, thing.raised, thing.put_dead_in_tow, thing.speed_kmh,
        thing.speed_reason, thing.least_distance_m, thing.supply, thing.iced, thing.reversed);
  } else if constexpr (std::is_same_v<Kind, ReadSection>) {
    all(thing.from_km, thing.to_km, thing.runs);
  } else if constexpr (std::is_same_v<Kind, ReadOrder>) {
    all(thing.at_km, thing.action, thing.what, thing.text, thing.if_not_possible);
  } else if constexpr (std::is_same_v<Kind, WhatRemains>) {
    all(thing.answer, thing.raised, thing.put_dead_in_tow, thing.speed_kmh, thing.reaches_km,
        thing.stranded);
  } else if constexpr (std::is_same_v<Kind, ReadFailureStretch>) {
    all(thing.from_km, thing.to_km, thing.remains);
  } else if constexpr (std::is_same_v<Kind, ReadFailure>) {
    all(thing.failed, thing.answer, thing.before_departure, thing.on_the_road);
  } else if constexpr (std::is_same_v<Kind, CardPart>) {
    all(thing.name, thing.sha256);
  } else {
    static_assert(std::is_same_v<Kind, TrainReading>);
    all(thing.sections, thing.orders, thing.failures, thing.card, thing.classes, thing.in_place_of,
        thing.files, thing.not_there);
  }
}

class Putter {
 public:
  void operator()(const std::string& value) { out_.text(value); }
  void operator()(double value) { out_.figures(value); }
  void operator()(bool value) { out_.count(value ? 1 : 0); }
  void operator()(int value) { out_.count(static_cast<std::uint64_t>(value)); }
  void operator()(Answer value) { out_.count(static_cast<std::uint64_t>(value)); }
  void operator()(EnergySupply value) { out_.count(static_cast<std::uint64_t>(value)); }
  template <typename Value>
  void operator()(const std::optional<Value>& value) {
    (*this)(value.has_value());
    if (value) {
      (*this)(*value);
    }
  }
  template <typename Value>
  void operator()(const std::vector<Value>& values) {
    out_.count(values.size());
    for (const Value& value : values) {
      (*this)(value);
    }
  }
  template <typename Thing>
  void operator()(const Thing& thing) {
    fields(thing, *this);
  }
  const std::string& bytes() const { return out_.bytes(); }

 private:
  ByteWriter out_;
};

class Taker {
 public:
  explicit Taker(std::string_view bytes) : in_(bytes), left_(bytes.size()) {}

  void operator()(std::string& value) {
    std::string_view text;
    ok_ = ok_ && in_.text(text);
    value = ok_ ? std::string(text) : std::string();
  }
  void operator()(double& value) { ok_ = ok_ && in_.figures(value); }
  void operator()(bool& value) { value = number(1) == 1; }
  void operator()(int& value) { value = static_cast<int>(number(greatest_number)); }
  void operator()(Answer& value) {
    value = static_cast<Answer>(number(static_cast<std::uint64_t>(Answer::none)));
  }
  void operator()(EnergySupply& value) {
    value = static_cast<EnergySupply>(number(all_energy_supplies.size() - 1));
  }
  template <typename Value>
  void operator()(std::optional<Value>& value) {
    bool is_there = false;
    (*this)(is_there);
    if (ok_ && is_there) {
      value.emplace();
      (*this)(*value);
    }
  }
  /// Every value takes a byte at least, so that no more are made than there can be.
  template <typename Value>
  void operator()(std::vector<Value>& values) {
    const std::uint64_t count = number(left_);
    for (std::uint64_t i = 0; i < count && ok_; ++i) {
      (*this)(values.emplace_back());
    }
  }
  template <typename Thing>
  void operator()(Thing& thing) {
    fields(thing, *this);
  }
  bool all_taken() const { return ok_ && in_.at_end(); }

 private:
  static constexpr std::uint64_t greatest_number = 1'000'000;

  std::uint64_t number(std::uint64_t greatest) {
    std::uint64_t value = 0;
    ok_ = ok_ && in_.count(value) && value <= greatest;
    return ok_ ? value : 0;
  }

  ByteReader in_;
  std::uint64_t left_;
  bool ok_ = true;
};

}  // namespace

std::string reading_to_bytes(const TrainReading& reading) {
  Putter put;
  put(reading);
  return put.bytes();
}

std::optional<TrainReading> reading_from_bytes(std::string_view bytes) {
  Taker take(bytes);
  TrainReading reading;
  take(reading);
  return take.all_taken() ? std::optional(std::move(reading)) : std::nullopt;
}

}  // namespace panup
