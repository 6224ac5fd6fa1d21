#include "dynamics/pressed_line.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "dynamics/contact_shape.h"
#include "dynamics/hung_wires.h"

namespace panup {

namespace {

/// Spans on either side of the one that is pressed: beyond, nothing is felt.
constexpr std::size_t spans_beside = 3;
/// Spans of different sorts that are looked at on one stretch.
constexpr std::size_t most_sorts = 3;
/// A dropper farther than this from the head stays taut.
constexpr double slackens_within_m = 40;

/// The spans about one that is pressed, hung alone, and how they give way.
class PressedPart {
 public:
  PressedPart(const ContactLine& line, const StaticState& state, std::size_t span) {
    const std::size_t from = span > spans_beside ? span - spans_beside : 0;
    const std::size_t to = std::min(line.spans.size(), span + 1 + spans_beside);
    const auto at = [](std::size_t i) { return static_cast<std::ptrdiff_t>(i); };
    part_ = line;
    part_.spans.assign(line.spans.begin() + at(from), line.spans.begin() + at(to));
    part_.supports.assign(line.supports.begin() + at(from), line.supports.begin() + at(to) + 1);
    layout_ = lay_out(part_, 2);
    const double begin = layout_.supports[span - from];
    const double end = layout_.supports[span - from + 1];
    corners_.push_back(begin);
    for (const Dropper& dropper : line.spans[span].droppers) {
      corners_.push_back(begin + dropper.at_m);
    }
    corners_.push_back(end);
    for (std::size_t i = 0; i + 1 < corners_.size(); ++i) {
      layout_.contact_places.push_back((corners_[i] + corners_[i + 1]) / 2);
    }
    sort_places(layout_.contact_places);
    for (const StaticDropper& dropper : state.droppers) {
      if (dropper.span >= static_cast<int>(from) && dropper.span < static_cast<int>(to)) {
        static_force_n_.push_back(dropper.force_n);
      }
    }
    assemble(state);
  }

  double span_m() const { return corners_.back() - corners_.front(); }

  /// Mean lift that a head with this force gives the wire at the places that lie these distances
  /// before it; 0: at its own.
  std::vector<double> mean_lifts(double force_n, const std::vector<double>& before_it_m) {
    std::vector<double> means(before_it_m.size(), 0);
    const auto add = [&](double at_m, double weight) {
      const Eigen::VectorXd lifts = pressed(at_m, force_n);
      for (std::size_t i = 0; i < means.size(); ++i) {
        means[i] += weight * height(lifts, at_m + before_it_m[i]);
      }
    };
    // Between two corners the lift at the head is a parabola: Simpson's rule is exact.
    for (std::size_t i = 0; i + 1 < corners_.size(); ++i) {
      const double share = (corners_[i + 1] - corners_[i]) / span_m() / 6;
      add(corners_[i], i == 0 ? share : 0);
      add((corners_[i] + corners_[i + 1]) / 2, 4 * share);
      const double next =
          i + 2 < corners_.size() ? (corners_[i + 2] - corners_[i + 1]) / span_m() / 6 : 0;
      add(corners_[i + 1], share + next);
    }
    return means;
  }

 private:
  struct Hung {
    int below = 0;
    int above = 0;
    double at_m = 0;
    double stiffness = 0;
    double static_force_n = 0;
  };

  void assemble(const StaticState& state) {
    Wires wires;
    wires.contact = combined_contact_wire(part_);
    wires.contact.tension_n = state.contact_tension_n;
    wires.messenger = part_.messenger_wire;
    wires.messenger.tension_n = state.messenger_tension_n;
    wires.contact.bending_stiffness_nm2 = wires.messenger.bending_stiffness_nm2 = 0;
    for (Support& support : part_.supports) {
      if (support.stitch_wire) {
        support.stitch_wire->wire.bending_stiffness_nm2 = 0;
      }
    }
    contact_ = system_.add_wire(wires.contact, 0, layout_.contact_places);
    const Upper upper = add_upper(system_, part_, layout_, wires);
    for (std::size_t i = 1; i + 1 < layout_.supports.size(); ++i) {
      const Support& support = part_.supports[i];
      const double at = layout_.supports[i];
      system_.add_spring(lift_at(upper.messenger, at), -1, support.messenger_stiffness_n_per_m, 0);
      if (support.steady_arm_stiffness_n_per_m > 0) {
        system_.add_spring(lift_at(contact_, at), -1, support.steady_arm_stiffness_n_per_m, 0);
      }
    }
    for (std::size_t i = 0; i < layout_.droppers.size(); ++i) {
      const HungDropper& hung = layout_.droppers[i];
      if (static_force_n_[i] > 0) {
        hung_.push_back({lift_at(contact_, hung.at_m), hanging_lift(upper, hung), hung.at_m,
                         hung.dropper->stiffness_n_per_m, static_force_n_[i]});
        system_.add_spring(hung_.back().below, hung_.back().above, hung.dropper->stiffness_n_per_m,
                           0);
      }
    }
    system_.solve({{contact_.lift.front(), 0},
                   {contact_.lift.back(), 0},
                   {upper.messenger.lift.front(), 0},
                   {upper.messenger.lift.back(), 0}});
    pulled_.resize(hung_.size());
  }

  /// Lifts by one newton more in a taut dropper, which draws its ends together.
  const Eigen::VectorXd& pulled(std::size_t i) {
    if (!pulled_[i]) {
      pulled_[i] = system_.changes_under(hung_[i].below) - system_.changes_under(hung_[i].above);
    }
    return *pulled_[i];
  }

  double elongation(const Eigen::VectorXd& lifts, std::size_t i) const {
    return lifts(hung_[i].above) - lifts(hung_[i].below);
  }

  /// Lifts of all unknowns under a head at a node of the contact wire. Droppers that would have to
  /// push are found in turn: each gets just the force that leaves none in it.
  Eigen::VectorXd pressed(double at_m, double force_n) {
    const Eigen::VectorXd taut = force_n * system_.changes_under(lift_at(contact_, at_m));
    Eigen::VectorXd lifts = taut;
    std::vector<std::size_t> slack;
    constexpr int most_rounds = 20;
    for (int round = 0; round < most_rounds; ++round) {
      std::vector<std::size_t> now;
      for (std::size_t i = 0; i < hung_.size(); ++i) {
        const Hung& hung = hung_[i];
        if (std::abs(hung.at_m - at_m) < slackens_within_m &&
            hung.stiffness * elongation(lifts, i) < -hung.static_force_n) {
          now.push_back(i);
        }
      }
      if (now == slack) {
        break;
      }
      slack = std::move(now);
      lifts = taut;
      const auto size = static_cast<Eigen::Index>(slack.size());
      Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(size, size);
      Eigen::VectorXd right(size);
      for (Eigen::Index row = 0; row < size; ++row) {
        const std::size_t i = slack[static_cast<std::size_t>(row)];
        right(row) = -hung_[i].static_force_n - hung_[i].stiffness * elongation(taut, i);
        for (Eigen::Index column = 0; column < size; ++column) {
          matrix(row, column) +=
              hung_[i].stiffness * elongation(pulled(slack[static_cast<std::size_t>(column)]), i);
        }
      }
      const Eigen::VectorXd more = matrix.partialPivLu().solve(right);
      for (Eigen::Index row = 0; row < size; ++row) {
        lifts += more(row) * pulled(slack[static_cast<std::size_t>(row)]);
      }
    }
    return lifts;
  }

  /// Lift of the contact wire, straight between nodes; 0 beyond the part.
  double height(const Eigen::VectorXd& lifts, double at_m) const {
    const std::vector<double>& places = contact_.at_m;
    const auto after = std::ranges::upper_bound(places, at_m);
    if (after == places.begin() || after == places.end()) {
      return 0;
    }
    const auto right = static_cast<std::size_t>(after - places.begin());
    const double share = (at_m - places[right - 1]) / (places[right] - places[right - 1]);
    return (1 - share) * lifts(contact_.lift[right - 1]) + share * lifts(contact_.lift[right]);
  }

  ContactLine part_;
  WireLayout layout_;
  std::vector<double> corners_;
  std::vector<double> static_force_n_;
  BeamSystem system_;
  BeamNodes contact_;
  std::vector<Hung> hung_;
  std::vector<std::optional<Eigen::VectorXd>> pulled_;
};

/// Spans that stand for the stretch, with the number of those that are like them.
std::vector<std::pair<std::size_t, double>> sorts_of_spans(const ContactLine& line, double from_m,
                                                           double to_m) {
  const std::vector<double> supports = support_positions(line);
  const auto alike = [&](std::size_t a, std::size_t b) {
    return line.spans[a] == line.spans[b] && line.supports[a] == line.supports[b] &&
           line.supports[a + 1] == line.supports[b + 1];
  };
  std::vector<std::pair<std::size_t, double>> sorts;
  const double middle = (from_m + to_m) / 2;
  std::vector<std::size_t> spans;
  for (std::size_t i = 0; i < line.spans.size(); ++i) {
    if (supports[i + 1] > from_m && supports[i] < to_m) {
      spans.push_back(i);
    }
  }
  // Those in the middle first: they are the farthest from the line's ends.
  std::ranges::stable_sort(spans, {}, [&](std::size_t i) {
    return std::abs((supports[i] + supports[i + 1]) / 2 - middle);
  });
  for (const std::size_t i : spans) {
    const auto known =
        std::ranges::find_if(sorts, [&](const auto& sort) { return alike(sort.first, i); });
    if (known != sorts.end()) {
      known->second += 1;
    } else if (sorts.size() < most_sorts) {
      sorts.emplace_back(i, 1);
    }
  }
  return sorts;
}

double mean_height_at_rest(const StaticState& state, double from_m, double to_m) {
  constexpr double step_m = 0.5;
  const int steps = std::max(1, static_cast<int>((to_m - from_m) / step_m));
  ShapeWalk walk(state.contact_shape);
  double sum = 0;
  for (int i = 0; i < steps; ++i) {
    sum += walk.height(from_m + (to_m - from_m) * (i + 0.5) / steps);
  }
  return sum / steps;
}

}  // namespace

std::vector<double> mean_heights_pressed(const ContactLine& line, const StaticState& state,
                                         const std::vector<PressedHead>& heads, double from_m,
                                         double to_m) {
  std::vector<double> heights(heads.size(), mean_height_at_rest(state, from_m, to_m));
  double weights = 0;
  std::vector<double> lifts(heads.size(), 0);
  for (const auto& [span, number] : sorts_of_spans(line, from_m, to_m)) {
    PressedPart part(line, state, span);
    const double weight = number * part.span_m();
    weights += weight;
    for (const PressedHead& head : heads) {
      std::vector<double> before;
      for (const PressedHead& other : heads) {
        before.push_back(head.behind_first_m - other.behind_first_m);
      }
      const std::vector<double> means = part.mean_lifts(head.force_n, before);
      for (std::size_t i = 0; i < heads.size(); ++i) {
        lifts[i] += weight * means[i];
      }
    }
  }
  for (std::size_t i = 0; i < heads.size(); ++i) {
    heights[i] += lifts[i] / weights;
  }
  return heights;
}

}  // namespace panup
