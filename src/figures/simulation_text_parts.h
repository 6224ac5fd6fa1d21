#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/energy_supply.h"
#include "base/handed_out.h"
#include "base/words.h"
#include "drawing/text_layout.h"
#include "dynamics/contact_line.h"

namespace panup {

/// Lists in the text are no longer than this.
inline constexpr std::size_t longest_list = 12;

struct CalculationFact {
  std::string name;
  std::string text;
};

/// What is said under names, one below the other:
/// "Contact line  NV-140, Nordvale main line (NV-140), 25 spans, 1615 m".
std::string calculation_facts(const std::vector<CalculationFact>& facts);

/// "NV-140, Nordvale main line (NV-140), 25 spans, 1615 m".
std::string line_words(const ContactLine& line, const Words& words);

/// Writes numbers with a minus sign and the language's decimal sign: "−3.4", "−3,4".
class Figures {
 public:
  explicit Figures(const Words& words) : decimal_sign_(words.decimal_sign()) {}
  std::string operator()(double value, int decimals) const;

 private:
  char decimal_sign_;
};

/// The columns of contact force after those of `lead`: mean, σ, …, contact loss; and an empty one.
std::vector<TableColumn> force_columns(std::vector<TableColumn> lead, const Words& words);

/// Rule books, in order: "practice, then Nordvale freight".
std::string books_words(const std::vector<std::string>& books, const Words& words);

/// An energy supply system, or that none is stated.
std::string supply_words(std::optional<EnergySupply> supply, const Words& words);

/// The mark of demo data at the head of a text, or nothing.
std::string invented_head(bool invented, const Words& words);

/// Cautions, inputs and version, which end every text.
std::string end_of_text(const std::vector<InputFile>& inputs, const std::string& program_version,
                        const Words& words);

}  // namespace panup
