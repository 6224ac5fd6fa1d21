#include "base/words.h"

#include <algorithm>

#include "base/word_table.h"

namespace panup {

std::string_view Words::language() const {
  return table_ == nullptr ? std::string_view("en") : std::string_view(table_->language);
}

char Words::decimal_sign() const { return table_ == nullptr ? '.' : table_->decimal_sign; }

std::string_view Words::sha256() const {
  return table_ == nullptr ? std::string_view() : std::string_view(table_->sha256);
}

std::string Words::named(std::string_view text) const {
  const WordEntry* const found = table_ == nullptr ? nullptr : table_->find(text);
  return found == nullptr ? std::string(text) : found->other;
}

std::string_view Words::pattern_for(std::string_view key, std::string_view english) const {
  const WordEntry* const found = table_->find(key);
  return found == nullptr ? english : std::string_view(found->other);
}

std::string_view Words::pattern_of(std::size_t number, std::string_view one,
                                   std::string_view several) const {
  const WordEntry* const found = table_->find(several);
  if (found == nullptr) {
    return number == 1 ? one : several;
  }
  const auto form = found->further.find(table_->form_of(number));
  return form == found->further.end() ? found->other : form->second;
}

std::string Words::listed(const std::vector<std::string>& items) const {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0 && i + 1 == items.size()) {
      text = say("{} and {}", text, items[i]);
    } else {
      text += i == 0 ? items[i] : ", " + items[i];
    }
  }
  return text;
}

std::string Words::listed_or(const std::vector<std::string>& items) const {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0 && i + 1 == items.size()) {
      text = say("{} or {}", text, items[i]);
    } else {
      text += i == 0 ? items[i] : ", " + items[i];
    }
  }
  return text;
}

Words built_in_words(std::string_view language) {
  static const std::map<std::string, std::shared_ptr<const WordTable>, std::less<>> tables = [] {
    std::map<std::string, std::shared_ptr<const WordTable>, std::less<>> read;
    for (const BuiltInWords& one : built_in_word_files()) {
      Diagnostics none;  // a house test reads the files
      if (auto table =
              read_words({.file = std::string(one.file), .text = std::string(one.text)}, none)) {
        read.emplace(table->language, std::move(table));
      }
    }
    return read;
  }();
  const auto found = tables.find(language);
  return found == tables.end() ? Words() : Words(found->second);
}

std::vector<std::string> built_in_languages() {
  std::vector<std::string> languages{"en"};
  for (const BuiltInWords& one : built_in_word_files()) {
    languages.emplace_back(one.language);
  }
  return languages;
}

}  // namespace panup
