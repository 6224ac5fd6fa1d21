#include "figures/simulation_text_parts.h"

#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "drawing/text.h"
#include "drawing/text_parts.h"

namespace panup {

std::string calculation_facts(const std::vector<CalculationFact>& facts) {
  std::size_t width = 12;
  for (const CalculationFact& fact : facts) {
    width = std::max(width, columns_of(fact.name));
  }
  std::string out;
  for (const CalculationFact& fact : facts) {
    out += hanging(fmt::format("{:<{}}  ", fact.name, width), plain(fact.text), text_columns);
  }
  return out;
}

std::string line_words(const ContactLine& line, const Words& words) {
  return words.say_of(line.spans.size(), "{}, {} span, {:g} m", "{}, {} spans, {:g} m",
                      with_id(line.name, line.id), line.spans.size(), length_of(line));
}

std::string Figures::operator()(double value, int decimals) const {
  std::string figures = fmt::format("{:.{}f}", std::abs(value), decimals);
  const bool is_zero = figures.find_first_not_of("0.") == std::string::npos;
  std::ranges::replace(figures, '.', decimal_sign_);
  return value < 0 && !is_zero ? "−" + figures : figures;
}

std::vector<TableColumn> force_columns(std::vector<TableColumn> lead, const Words& words) {
  for (std::string& heading :
       std::vector{words.say("mean"), words.say("σ"), words.say("σ/mean"), words.say("mean+3σ"),
                   words.say("mean−3σ"), words.say("max"), words.say("min"), words.say("loss %"),
                   words.say("longest ms")}) {
    lead.push_back({.heading = std::move(heading), .right_aligned = true});
  }
  lead.push_back({.heading = ""});
  return lead;
}

std::string books_words(const std::vector<std::string>& books, const Words& words) {
  return fmt::format("{}", fmt::join(books, words.say(", then ")));
}

std::string supply_words(std::optional<EnergySupply> supply, const Words& words) {
  return supply ? words.named(name_of(*supply)) : words.say("not stated");
}

std::string invented_head(bool invented, const Words& words) {
  return invented ? invented_words(words) + "\n\n" : std::string();
}

std::string end_of_text(const std::vector<InputFile>& inputs, const std::string& program_version,
                        const Words& words) {
  return text_list(words.say("CAUTIONS"), cautions("result", words)) +
         made_from(inputs, program_version, words);
}

}  // namespace panup
