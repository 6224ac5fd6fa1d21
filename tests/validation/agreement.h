#pragma once
/// What the mechanics is checked against. Each agreement is a function that computes ours and
/// theirs. `validation_report` asserts its rows and prints them.

#include <string>
#include <vector>

#include "drawing/diagram.h"

namespace panup::validation {

/// A figure of ours beside one of theirs, or a range of theirs.
struct Row {
  std::string what;
  std::string unit;
  double ours = 0;
  double least = 0;  ///< theirs; equal to `greatest` where it is one figure
  double greatest = 0;
  double allowed = 0;  ///< by which ours may lie outside

  bool in_range() const { return ours >= least && ours <= greatest; }
  bool holds() const { return ours >= least - allowed && ours <= greatest + allowed; }
};

/// A row for one figure, with an allowed difference.
Row figure(std::string what, std::string unit, double ours, double theirs, double allowed);

/// Figures that are shown and not asserted.
struct Table {
  std::string caption;
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> rows;
};

struct Picture {
  std::string name;  ///< of its file, without ending
  std::string caption;
  Diagram diagram;
};

struct Agreement {
  std::string title;
  std::string statement;
  std::string source;
  std::vector<Row> rows;
  std::vector<Table> tables;
  std::vector<Picture> pictures;
};

Agreement natural_frequencies();
Agreement sag_and_elasticity();
Agreement moving_force();
Agreement string_on_foundation();
Agreement waves();
Agreement energy();
Agreement ode_library();
Agreement convergence();
Agreement reference_model();
Agreement filter();
Agreement two_pantographs();
Agreement two_pantographs_without_picture();
Agreement permitted_speed();
/// Some of its questions: two lines of the demo, two drawn ones.
Agreement permitted_speed_in_part();
Agreement published_designs();

/// All of them, in this order; each is computed when it is called.
struct NamedAgreement {
  const char* name;  ///< one word, for messages
  Agreement (*compute)();
  Agreement (*compute_part)() = nullptr;  ///< what of it does not take long; null where that is all
  bool only_compares = false;  ///< takes long and asserts little: a sparing report is without it
};
const std::vector<NamedAgreement>& all_agreements();

}  // namespace panup::validation
