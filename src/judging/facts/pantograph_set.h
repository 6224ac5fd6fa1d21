#pragma once

#include <bit>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <initializer_list>
#include <iterator>
#include <vector>

namespace panup {

/// A set of pantographs of one train. A member is the index of a pantograph in
/// `RunningTrain::pantographs`, so by vehicle number and pantograph number, in whichever direction
/// the train runs; below `PantographSet::capacity`. The set that is up at a moment is the
/// configuration.
///
///     PantographSet up{0, 3};
///     up.insert(2);
///     for (const std::size_t p : up - defective) {
///       use(train.pantographs[p]);
///     }
///
/// Sets are ordered by their greatest members, so that a set comes behind all its subsets.
class PantographSet {
 public:
  static constexpr std::size_t capacity = 64;

  /// Walks over the members, rising.
  class Iterator {
   public:
    using iterator_category = std::forward_iterator_tag;
    using value_type = std::size_t;
    using difference_type = std::ptrdiff_t;
    using pointer = const std::size_t*;
    using reference = std::size_t;

    constexpr Iterator() = default;
    constexpr explicit Iterator(std::uint64_t left) : left_(left) {}
    constexpr std::size_t operator*() const {
      return static_cast<std::size_t>(std::countr_zero(left_));
    }
    constexpr Iterator& operator++() {
      left_ &= left_ - 1;
      return *this;
    }
    constexpr Iterator operator++(int) {
      const Iterator before = *this;
      ++*this;
      return before;
    }
    friend constexpr bool operator==(Iterator, Iterator) = default;

   private:
    std::uint64_t left_ = 0;  ///< members not walked over yet
  };

  constexpr PantographSet() = default;
  /// The set of these members.
  constexpr PantographSet(std::initializer_list<std::size_t> members) {
    for (const std::size_t member : members) {
      insert(member);
    }
  }

  constexpr bool contains(std::size_t member) const { return (bits_ >> member & 1U) != 0; }
  constexpr bool empty() const { return bits_ == 0; }
  constexpr std::size_t size() const { return static_cast<std::size_t>(std::popcount(bits_)); }
  constexpr bool intersects(PantographSet other) const { return (bits_ & other.bits_) != 0; }
  constexpr bool includes(PantographSet other) const { return (other.bits_ & ~bits_) == 0; }
  constexpr Iterator begin() const { return Iterator(bits_); }
  static constexpr Iterator end() { return {}; }

  constexpr void insert(std::size_t member) { bits_ |= std::uint64_t{1} << member; }
  constexpr void erase(std::size_t member) { bits_ &= ~(std::uint64_t{1} << member); }
  constexpr PantographSet with(std::size_t member) const { return *this | PantographSet{member}; }
  constexpr PantographSet without(std::size_t member) const {
    return *this - PantographSet{member};
  }

  constexpr PantographSet& operator|=(PantographSet other) { return *this = *this | other; }
  constexpr PantographSet& operator&=(PantographSet other) { return *this = *this & other; }
  constexpr PantographSet& operator-=(PantographSet other) { return *this = *this - other; }

  /// In one or the other.
  friend constexpr PantographSet operator|(PantographSet a, PantographSet b) {
    return from_bits(a.bits_ | b.bits_);
  }
  /// In both.
  friend constexpr PantographSet operator&(PantographSet a, PantographSet b) {
    return from_bits(a.bits_ & b.bits_);
  }
  /// In the first and not in the second.
  friend constexpr PantographSet operator-(PantographSet a, PantographSet b) {
    return from_bits(a.bits_ & ~b.bits_);
  }
  /// In one of the two and not in both.
  friend constexpr PantographSet operator^(PantographSet a, PantographSet b) {
    return from_bits(a.bits_ ^ b.bits_);
  }
  friend constexpr auto operator<=>(PantographSet, PantographSet) = default;

  /// The subsets with no more than `most` members, the empty one first, each once, in order.
  std::vector<PantographSet> subsets(std::size_t most = capacity) const {
    std::vector<PantographSet> sets;
    PantographSet set;
    do {
      if (set.size() <= most) {
        sets.push_back(set);
      }
      set = from_bits((set.bits_ - bits_) & bits_);  // the next one, by adding 1 to these bits only
    } while (!set.empty());
    return sets;
  }

 private:
  friend struct std::hash<PantographSet>;

  static constexpr PantographSet from_bits(std::uint64_t bits) {
    PantographSet set;
    set.bits_ = bits;
    return set;
  }

  std::uint64_t bits_ = 0;  ///< bit i: member i
};

}  // namespace panup

template <>
struct std::hash<panup::PantographSet> {
  std::size_t operator()(panup::PantographSet set) const noexcept {
    // Sets of whole vehicles differ in few of the lowest bits, by which tables are divided.
    constexpr std::uint64_t odd = 0x9e3779b97f4a7c15;
    const std::uint64_t mixed = set.bits_ * odd;
    return mixed ^ mixed >> 32U;
  }
};
