#pragma once
/// The room `base`: what every other room stands on. Diagnostics (what is wrong with an input, and
/// where), energy supply systems, and the reading of TOML files into checked values.

#include <string>
#include <vector>

namespace panup {

/// A place in an input file. Lines and columns count from 1; 0 means "the file as a whole".
struct SourcePlace {
  std::string file;
  int line = 0;
  int column = 0;
};

/// One mistake in the input: where it is, what is wrong, and what would be right.
struct Diagnostic {
  SourcePlace place;
  std::string text;
};

/// All mistakes found so far. Readers go on after a mistake, so that the user sees all at once.
using Diagnostics = std::vector<Diagnostic>;

/// `FILE:LINE:COLUMN: text`, or `FILE: text` where only the file is known.
std::string to_line(const Diagnostic& diagnostic);

/// Orders by file (as first mentioned), then line, then column; drops exact repetitions.
void sort_by_place(Diagnostics& diagnostics);

}  // namespace panup
