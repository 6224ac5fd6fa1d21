/// Reading a table of words, and holding its patterns against the English ones.

#include <algorithm>
#include <charconv>
#include <optional>
#include <set>

#include "base/listed.h"
#include "base/sha256.h"
#include "base/toml_tree.h"
#include "base/word_table.h"

namespace panup {

namespace {

/// An argument of a pattern: which, and how it is formatted.
using Field = std::pair<std::size_t, std::string>;

/// What stands between braces from `at` on, which is moved behind it.
std::optional<Field> field_at(std::string_view pattern, std::size_t& at, std::size_t& next) {
  const std::size_t end = pattern.find('}', at);
  if (end == std::string_view::npos) {
    return std::nullopt;
  }
  const std::string_view inside = pattern.substr(at, end - at);
  at = end + 1;
  const std::size_t colon = inside.find(':');
  const std::string_view name = inside.substr(0, colon);
  std::size_t number = next;
  if (name.empty()) {
    ++next;
  } else {
    const auto [rest, error] = std::from_chars(name.data(), name.data() + name.size(), number);
    if (error != std::errc() || rest != name.data() + name.size()) {
      return std::nullopt;
    }
  }
  const std::string format(colon == std::string_view::npos ? "" : inside.substr(colon + 1));
  if (format.find('{') != std::string::npos) {
    return std::nullopt;
  }
  return Field{number, format};
}

/// The arguments of a pattern; nothing where its braces are not sound.
std::optional<std::set<Field>> fields_of(std::string_view pattern) {
  std::set<Field> fields;
  std::size_t next = 0;
  bool numbered = false;
  for (std::size_t at = 0; at < pattern.size();) {
    const char letter = pattern[at];
    ++at;
    if (letter != '{' && letter != '}') {
      continue;
    }
    if (at < pattern.size() && pattern[at] == letter) {
      ++at;
      continue;
    }
    numbered |= at < pattern.size() && pattern[at] >= '0' && pattern[at] <= '9';
    const auto field = letter == '{' ? field_at(pattern, at, next) : std::nullopt;
    if (!field || (numbered && next > 0)) {
      return std::nullopt;
    }
    fields.insert(*field);
  }
  return fields;
}

std::string words_for(const std::set<Field>& fields) {
  std::vector<std::string> words;
  for (const auto& [number, format] : fields) {
    words.push_back(fmt::format("{{{}{}{}}}", number, format.empty() ? "" : ":", format));
  }
  return words.empty() ? "none" : listed(words);
}

class Reader {
 public:
  Reader(const SourceText& source, Diagnostics& diagnostics)
      : source_(source), diagnostics_(diagnostics), before_(diagnostics.size()) {}

  std::shared_ptr<const WordTable> read(const TomlNode& root) {
    for (const TomlEntry& entry : std::get<TomlEntries>(root.value)) {
      read_part(entry);
    }
    if (table_->language.empty()) {
      report(0, 0, "language is missing: the language of the table, as in language = \"de\"");
    }
    table_->known_forms = plural_forms(table_->language);
    table_->sha256 = sha256_hex(source_.text);
    for (const TomlEntry* const entry : words_) {
      read_entry(*entry);
    }
    return diagnostics_.size() == before_ ? table_ : nullptr;
  }

 private:
  void report(int line, int column, std::string text) {
    diagnostics_.push_back(
        {.place = {.file = source_.file, .line = line, .column = column}, .text = std::move(text)});
  }

  void read_part(const TomlEntry& entry) {
    const auto* const text = std::get_if<std::string>(&entry.node.value);
    const auto* const table = std::get_if<TomlEntries>(&entry.node.value);
    if (entry.key == "language" && text != nullptr && !text->empty()) {
      table_->language = *text;
    } else if (entry.key == "decimal_sign" && text != nullptr && (*text == "." || *text == ",")) {
      table_->decimal_sign = text->front();
    } else if (entry.key == "words" && table != nullptr) {
      for (const TomlEntry& word : *table) {
        words_.push_back(&word);
      }
    } else {
      report(entry.line, entry.column,
             fmt::format("{}: a table of words has language, a word as \"de\"; decimal_sign, \".\" "
                         "or \",\"; and the table words",
                         entry.key));
    }
  }

  void read_entry(const TomlEntry& entry) {
    const auto fields = fields_of(entry.key);
    if (!fields) {
      report(entry.line, entry.column,
             fmt::format("\"{}\": braces are not sound; an argument is {{}} or {{0}}", entry.key));
      return;
    }
    WordEntry word;
    if (const auto* const text = std::get_if<std::string>(&entry.node.value)) {
      word.other = *text;
      hold(entry, *fields, entry.node, *text);
    } else if (const auto* const forms = std::get_if<TomlEntries>(&entry.node.value)) {
      read_forms(entry, *fields, *forms, word);
    } else {
      report(entry.node.line, entry.node.column,
             fmt::format("\"{}\": a text is wanted, or a table of its plural forms", entry.key));
    }
    table_->entries.emplace(entry.key, std::move(word));
  }

  void read_forms(const TomlEntry& entry, const std::set<Field>& fields, const TomlEntries& forms,
                  WordEntry& word) {
    std::set<std::string> known{"other"};
    for (const auto& [number, form] : table_->known_forms) {
      known.insert(form);
    }
    bool has_other = false;
    for (const TomlEntry& form : forms) {
      const auto* const text = std::get_if<std::string>(&form.node.value);
      if (text == nullptr || !known.contains(form.key)) {
        report(form.line, form.column,
               fmt::format("{}: the plural forms of the language are {}, each a text", form.key,
                           listed({known.begin(), known.end()})));
        continue;
      }
      hold(entry, fields, form.node, *text, form.key == "other");
      has_other |= form.key == "other";
      (form.key == "other" ? word.other : word.further[form.key]) = *text;
    }
    if (!has_other) {
      report(entry.line, entry.column, fmt::format("\"{}\": the form other is missing", entry.key));
    }
  }

  /// Reports where a pattern has other arguments than the English one. A form of few may leave some
  /// out, as "once more" does.
  void hold(const TomlEntry& entry, const std::set<Field>& fields, const TomlNode& node,
            const std::string& pattern, bool all = true) {
    const auto its = fields_of(pattern);
    if (!its) {
      report(node.line, node.column,
             fmt::format("\"{}\": braces are not sound; an argument is {{}} or {{0}}", pattern));
    } else if (all ? *its != fields : !std::ranges::includes(fields, *its)) {
      report(node.line, node.column,
             fmt::format("\"{}\" has the arguments {}; \"{}\" has {}", pattern, words_for(*its),
                         entry.key, words_for(fields)));
    }
  }

  const SourceText& source_;
  Diagnostics& diagnostics_;
  std::size_t before_;
  std::shared_ptr<WordTable> table_ = std::make_shared<WordTable>();
  std::vector<const TomlEntry*> words_;
};

}  // namespace

std::shared_ptr<const WordTable> read_words(const SourceText& source, Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.size();
  const auto root = parse_toml(source, diagnostics);
  if (!root || diagnostics.size() != before) {
    return nullptr;
  }
  return Reader(source, diagnostics).read(*root);
}

}  // namespace panup
