#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "dynamics/lanes.h"

namespace panup {

/// A spring as it acts on the nodes of wires, by their places in the arrays of lifts.
struct SpringEnds {
  std::size_t lower = 0;  ///< the first of four nodes
  std::size_t upper = 0;  ///< likewise; 0 where the ground holds it: four nodes that never move
  std::array<double, 4> lower_share{};
  std::array<double, 4> upper_share{};
  std::array<double, 4> lower_lift{};  ///< of its nodes one step on, per newton
  std::array<double, 4> upper_lift{};

  /// Of its elongation one step on, per newton.
  double response() const;
};

/// What became of a spring in a run.
struct SpringRecord {
  long slack_steps = 0;
  int times_slack = 0;
  double greatest_force_n = 0;
};

/// The springs of a line in motion: droppers, supports and clamps. Each acts with the mean
/// (e[n−1] + 2 e[n] + e[n+1])/4 of its elongation e, solved for its force in closed form. Eight are
/// settled at a time. What a spring's elongation is one step on follows from what it does itself,
/// and the lifts are asked for it once a step. Where springs share a node with others, as beside
/// supports, one is settled after the other, not exact, but bounded, and the lifts are asked anew.
class SpringMotion {
 public:
  /// By rising chainage, all before `begin`. The force is max(`least_n`, (e − slack) / compliance).
  void add(const SpringEnds& ends, double at_m, double compliance_m_per_n, double least_n,
           double slack_m);
  void begin();

  /// From now on only springs from `from_m` to `to_m` act. `present`: lifts now.
  void keep_to(double from_m, double to_m, const double* present);
  /// Looks at the elongation of springs up to `to_m` and from `from_m` on anew: lifts of the
  /// present and of the state before have been changed there. Before `step`.
  void look_again(double to_m, double from_m, const double* present, const double* before);

  /// Carries the springs up to `reached_m` one step on: `next` has the lifts without their forces.
  void step(double reached_m, const double* present, double* next);
  /// Settles anew the springs that have one of the four nodes from `node` on for a lower one; they
  /// stand from `from_m` to `to_m`. Whether there are any.
  bool settle_beside(std::size_t node, double from_m, double to_m, double* next);

  std::size_t size() const { return places_.size(); }
  SpringRecord record(std::size_t index) const;
  double elongation(std::size_t index, const double* lifts) const;
  /// Whether the spring acts.
  bool acts(std::size_t index) const;

 private:
  struct alignas(64) Lanes : std::array<double, lane_count> {};
  /// Eight springs side by side.
  struct Block {
    Lanes number{};     ///< in the list
    Lanes stiffness{};  ///< force per metre of mean free elongation
    Lanes least{};      ///< of the excess force
    Lanes slack{};
    Lanes before{};  ///< elongation one step ago
    Lanes now{};     ///< and now
    Lanes next{};    ///< and one step on, its force included
    Lanes response{};
    Lanes force{};  ///< in excess of the static one
    Lanes greatest{};
    Lanes is_slack{};  ///< 1 or 0
    Lanes slack_steps{};
    Lanes times_slack{};
    std::array<SpringEnds, lane_count> ends{};
  };
  /// Springs by rising chainage.
  struct List {
    bool apart = false;  ///< none shares a node with another
    std::vector<Block> blocks;
    std::vector<double> at_m;
    std::size_t first = 0;  ///< that acts
    std::size_t last = 0;   ///< that acts, and one more
  };
  struct Place {
    std::uint8_t list = 0;
    std::size_t index = 0;
  };
  struct Added {
    SpringEnds ends;
    double at_m = 0;
    double compliance_m_per_n = 0;
    double least_n = 0;
    double slack_m = 0;
    bool shares = false;
  };

  static double elongation_in(const Block& block, std::size_t lane, const double* lifts);
  static void settle(Block& block, std::size_t lane, double* next);
  static void step_one(List& list, std::size_t index, const double* present, double* next);
  static void step_eights(Block* blocks, std::size_t first, std::size_t last, double* next);
  static void step_list(List& list, double reached_m, const double* present, double* next);
  void take(const Added& spring);
  const Block& block_of(std::size_t index) const;

  std::vector<Added> added_;  ///< until `begin`
  std::array<List, 2> lists_;
  std::vector<Place> places_;          ///< by spring
  std::vector<std::uint8_t> touched_;  ///< by first of four nodes: whether a lower end has one
};

}  // namespace panup
