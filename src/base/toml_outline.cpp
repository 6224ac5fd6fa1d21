#include "base/toml_outline.h"

#include <algorithm>
#include <map>

#include "base/toml_tree.h"

namespace panup {

namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// Goes over a text that is sound TOML.
class OutlineScanner {
 public:
  OutlineScanner(std::string_view text, std::size_t at) : text_(text), at_(at) {}

  std::size_t at() const { return at_; }
  bool ended() const { return at_ >= text_.size(); }
  char now() const { return ended() ? '\0' : text_[at_]; }
  bool is(std::string_view what) const { return text_.substr(at_).starts_with(what); }
  void step(std::size_t bytes = 1) { at_ = std::min(at_ + bytes, text_.size()); }

  void skip_blanks() {
    while (now() == ' ' || now() == '\t') {
      step();
    }
  }
  void skip_comment() {
    if (now() == '#') {
      skip_to_line_end();
    }
  }
  void skip_to_line_end() { at_ = std::min(text_.find('\n', at_), text_.size()); }
  /// White space, line breaks and comments.
  void skip_all() {
    while (!ended() &&
           (now() == ' ' || now() == '\t' || now() == '\r' || now() == '\n' || now() == '#')) {
      if (now() == '#') {
        skip_to_line_end();
      } else {
        step();
      }
    }
  }

  /// `a . "b c"`, up to what follows it.
  TomlPath keys() {
    TomlPath keys;
    while (!ended()) {
      skip_blanks();
      keys.emplace_back(key());
      skip_blanks();
      if (now() != '.') {
        break;
      }
      step();
    }
    return keys;
  }

  void skip_value() {
    if (is("\"\"\"") || is("'''")) {
      skip_long_text(text_.substr(at_, 3));
    } else if (now() == '"' || now() == '\'') {
      skip_text(now());
    } else if (now() == '[' || now() == '{') {
      skip_bracket(now() == '[' ? ']' : '}');
    } else {
      skip_word();
    }
  }

 private:
  std::string key() {
    const std::size_t begin = at_;
    if (now() == '"' || now() == '\'') {
      skip_text(now());
      return text_of(text_.substr(begin, at_ - begin));
    }
    while (!ended() && std::string_view(" \t.=]\r\n").find(now()) == std::string_view::npos) {
      step();
    }
    if (at_ == begin) {
      step();  // no TOML; but it goes on
    }
    return std::string(text_.substr(begin, at_ - begin));
  }

  /// What a key in quotes says.
  static std::string text_of(std::string_view quoted) {
    Diagnostics none;
    const auto tree = parse_toml({.file = {}, .text = "key = " + std::string(quoted)}, none);
    const auto* const entries = tree ? std::get_if<TomlEntries>(&tree->value) : nullptr;
    const auto* const said = entries == nullptr || entries->empty()
                                 ? nullptr
                                 : std::get_if<std::string>(&entries->front().node.value);
    return said == nullptr ? std::string(quoted) : *said;
  }

  void skip_text(char quote) {
    step();
    while (!ended() && now() != quote) {
      step(now() == '\\' && quote == '"' ? 2 : 1);
    }
    step();
  }

  /// Up to two quotes may stand before the three that end it.
  void skip_long_text(std::string_view quotes) {
    step(3);
    while (!ended() && !is(quotes)) {
      step(now() == '\\' && quotes.front() == '"' ? 2 : 1);
    }
    step(3);
    for (int more = 0; more < 2 && now() == quotes.front(); ++more) {
      step();
    }
  }

  void skip_bracket(char closing) {
    step();
    while (!ended()) {
      skip_all();
      if (now() == closing) {
        step();
        return;
      }
      if (now() == ',') {
        step();
        continue;
      }
      if (closing == '}') {
        keys();
        step();  // =
        skip_blanks();
      }
      const std::size_t before = at_;
      skip_value();
      if (at_ == before) {
        step();
      }
    }
  }

  void skip_word() {
    const std::size_t begin = at_;
    while (!ended() && std::string_view(",]}#\n").find(now()) == std::string_view::npos) {
      step();
    }
    while (at_ > begin &&
           std::string_view(" \t\r").find(text_[at_ - 1]) != std::string_view::npos) {
      --at_;
    }
  }

  std::string_view text_;
  std::size_t at_;
};

/// Knows which list a header goes on with.
class HeaderPlaces {
 public:
  /// The path that the keys of a header lead to.
  TomlPath resolve(const TomlPath& keys, bool is_entry) {
    TomlPath path;
    for (std::size_t i = 0; i < keys.size(); ++i) {
      path.push_back(keys[i]);
      const bool last = i + 1 == keys.size();
      if (last && is_entry) {
        const std::size_t place = counts_[path]++;
        path.emplace_back(place);
      } else if (const auto list = counts_.find(path); !last && list != counts_.end()) {
        path.emplace_back(list->second - 1);
      }
    }
    return path;
  }

 private:
  std::map<TomlPath, std::size_t> counts_;
};

}  // namespace

bool begins_with(const TomlPath& path, const TomlPath& beginning) {
  return path.size() >= beginning.size() &&
         std::equal(beginning.begin(), beginning.end(), path.begin());
}

std::vector<TomlStatement> outline_of(const SourceText& source) {
  const std::string_view text = source.text;
  OutlineScanner scanner(text, text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0);
  HeaderPlaces places;
  TomlPath table;
  std::vector<TomlStatement> statements;
  while (true) {
    scanner.skip_all();
    if (scanner.ended()) {
      return statements;
    }
    TomlStatement statement;
    statement.first = scanner.at();
    statement.lines.begin = statement.first;
    while (statement.lines.begin > 0 &&
           (text[statement.lines.begin - 1] == ' ' || text[statement.lines.begin - 1] == '\t')) {
      --statement.lines.begin;
    }
    if (scanner.now() == '[') {
      const bool is_entry = scanner.is("[[");
      scanner.step(is_entry ? 2 : 1);
      const TomlPath keys = scanner.keys();
      statement.kind = is_entry ? TomlStatementKind::entry : TomlStatementKind::table;
      statement.own = keys.size();
      table = places.resolve(keys, is_entry);
      statement.at = table;
    } else {
      const TomlPath keys = scanner.keys();
      statement.own = keys.size();
      statement.at = table;
      statement.at.insert(statement.at.end(), keys.begin(), keys.end());
      scanner.step();  // =
      scanner.skip_blanks();
      statement.value.begin = scanner.at();
      scanner.skip_value();
      statement.value.end = scanner.at();
    }
    scanner.skip_to_line_end();
    scanner.step();
    statement.lines.end = scanner.at();
    statements.push_back(std::move(statement));
  }
}

std::vector<TomlPart> parts_of(const SourceText& source, TomlSpan value) {
  std::vector<TomlPart> parts;
  OutlineScanner scanner(std::string_view(source.text).substr(0, value.end), value.begin);
  const bool is_list = scanner.now() == '[';
  if (!is_list && scanner.now() != '{') {
    return parts;
  }
  scanner.step();
  while (true) {
    scanner.skip_all();
    if (scanner.now() == ',') {
      scanner.step();
      continue;
    }
    if (scanner.ended() || scanner.now() == ']' || scanner.now() == '}') {
      return parts;
    }
    TomlPart part;
    part.whole.begin = scanner.at();
    if (is_list) {
      part.keys = {parts.size()};
    } else {
      part.keys = scanner.keys();
      scanner.step();  // =
      scanner.skip_blanks();
    }
    part.value.begin = scanner.at();
    scanner.skip_value();
    part.value.end = scanner.at();
    part.whole.end = scanner.at();
    if (part.whole.end == part.whole.begin) {
      return parts;
    }
    parts.push_back(std::move(part));
  }
}

}  // namespace panup
