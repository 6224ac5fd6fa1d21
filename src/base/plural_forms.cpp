/// Plural categories, by the Unicode CLDR as the ICU library has it.

#include <unicode/locid.h>
#include <unicode/plurrule.h>

#include <memory>

#include "base/word_table.h"

namespace panup {

namespace {

constexpr std::size_t looked_up = 200;

}  // namespace

std::map<std::size_t, std::string> plural_forms(const std::string& language) {
  UErrorCode status = U_ZERO_ERROR;
  const std::unique_ptr<icu::PluralRules> rules(
      icu::PluralRules::forLocale(icu::Locale(language.c_str()), status));
  std::map<std::size_t, std::string> forms;
  for (std::size_t number = 0; U_SUCCESS(status) != 0 && number < looked_up; ++number) {
    forms[number] = "";
    rules->select(static_cast<std::int32_t>(number)).toUTF8String(forms[number]);
  }
  return forms;
}

std::string WordTable::form_of(std::size_t number) const {
  const auto known = known_forms.find(number < looked_up ? number : 100 + number % 100);
  return known == known_forms.end() ? "other" : known->second;
}

}  // namespace panup
