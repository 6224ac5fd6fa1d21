#include "base/change_toml.h"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <map>
#include <ranges>

#include "base/arrange_tables.h"
#include "base/write_toml.h"

namespace panup {

namespace {

const TomlEntries* entries_of(const TomlNode& node) {
  return std::get_if<TomlEntries>(&node.value);
}

const TomlArray* list_in(const TomlNode& node) { return std::get_if<TomlArray>(&node.value); }

TomlPath within(TomlPath path, TomlStep step) {
  path.push_back(std::move(step));
  return path;
}

TomlPath parent_of(TomlPath path) {
  path.pop_back();
  return path;
}

/// What stands for a step in messages and in headers.
std::string text_of(const TomlStep& step) {
  const auto* const key = std::get_if<std::string>(&step);
  return key == nullptr ? std::to_string(std::get<std::size_t>(step)) : key_to_toml(*key);
}

/// "a.b", places of lists left out.
std::string header_name(const TomlPath& path) {
  std::string name;
  for (const TomlStep& step : path) {
    if (std::holds_alternative<std::string>(step)) {
      name += (name.empty() ? "" : ".") + text_of(step);
    }
  }
  return name;
}

// What a tree is after a change: this says what the text has to say.

TomlNode* child_of(TomlNode& node, const TomlStep& step) {
  if (const auto* const key = std::get_if<std::string>(&step)) {
    auto* const entries = std::get_if<TomlEntries>(&node.value);
    if (entries == nullptr) {
      return nullptr;
    }
    const auto found = std::ranges::find(*entries, *key, &TomlEntry::key);
    return found == entries->end() ? nullptr : &found->node;
  }
  auto* const list = std::get_if<TomlArray>(&node.value);
  const std::size_t place = std::get<std::size_t>(step);
  return list != nullptr && place < list->size() ? &(*list)[place] : nullptr;
}

/// False where the path leads nowhere.
bool change_tree(TomlNode& node, const TomlPath& at, std::size_t depth,
                 const std::optional<TomlNode>& to) {
  const TomlStep& step = at[depth];
  const bool last = depth + 1 == at.size();
  TomlNode* child = child_of(node, step);
  if (child == nullptr) {
    if (!to) {
      return true;
    }
    TomlNode made{};
    if (last) {
      made = *to;
    } else if (std::holds_alternative<std::string>(at[depth + 1])) {
      made.value = TomlEntries{};
    } else {
      made.value = TomlArray{};
    }
    if (!last && !change_tree(made, at, depth + 1, to)) {
      return false;
    }
    auto* const entries = std::get_if<TomlEntries>(&node.value);
    auto* const list = std::get_if<TomlArray>(&node.value);
    const auto* const key = std::get_if<std::string>(&step);
    if (key != nullptr && entries != nullptr) {
      entries->push_back({.key = *key, .node = std::move(made)});
      return true;
    }
    if (key == nullptr && list != nullptr && std::get<std::size_t>(step) == list->size()) {
      list->push_back(std::move(made));
      return true;
    }
    return false;
  }
  if (!last) {
    if (!change_tree(*child, at, depth + 1, to)) {
      return false;
    }
    // The last one of a list has been taken out, and the list with it.
    const auto* const list = to ? nullptr : list_in(*child);
    if (list == nullptr || !list->empty() || !std::holds_alternative<std::size_t>(at[depth + 1])) {
      return true;
    }
  } else if (to) {
    *child = *to;
    return true;
  }
  if (const auto* const key = std::get_if<std::string>(&step)) {
    std::erase_if(std::get<TomlEntries>(node.value),
                  [key](const TomlEntry& entry) { return entry.key == *key; });
  } else {
    auto& list = std::get<TomlArray>(node.value);
    list.erase(list.begin() + static_cast<std::ptrdiff_t>(std::get<std::size_t>(step)));
  }
  return true;
}

/// Makes changes of a text, one after the other; after each it reads the text again.
class TextChanger {
 public:
  explicit TextChanger(SourceText source) : source_(std::move(source)) { read(); }

  /// False where it cannot be done.
  bool change(const TomlPath& at, const std::optional<TomlNode>& to, TomlLayout layout) {
    if (!sound_) {
      return false;
    }
    const TomlNode* const there = find_value(root_, at);
    if (!to) {
      return there == nullptr || take_out(at);
    }
    if (there == nullptr) {
      return add(at, *to, layout);
    }
    return say_the_same(*there, *to) || replace(at, TomlNode(*there), *to, layout);
  }

  /// Puts the tables of a list where they are to stand, and new ones between them.
  bool arrange(const TomlPath& at, const TomlArray& to,
               const std::vector<std::optional<std::size_t>>& from) {
    const TomlNode* const there = sound_ ? find_value(root_, at) : nullptr;
    if (there == nullptr || !is_list_of_tables(*there) || to.empty() ||
        stay_as_they_are(list_in(*there)->size(), from)) {
      return sound_;
    }
    if (const auto span = value_span(at)) {
      return arrange_in_brackets(*span, to, from);
    }
    std::vector<ArrangedTable> tables;
    for (std::size_t i = 0; i < to.size(); ++i) {
      tables.push_back({.from = from[i], .lines = from[i] ? "" : headers_of(within(at, i), to[i])});
    }
    auto text = arrange_tables(source_, at, tables, line_break_);
    if (!text) {
      return false;
    }
    source_.text = std::move(*text);
    read();
    return sound_;
  }

  const std::string& text() const { return source_.text; }

 private:
  void read() {
    Diagnostics mistakes;
    auto root = parse_toml(source_, mistakes);
    sound_ = root.has_value() && mistakes.empty();
    if (sound_) {
      root_ = std::move(*root);
      statements_ = outline_of(source_);
      line_break_ = source_.text.find("\r\n") != std::string::npos &&
                            source_.text.find("\r\n") + 1 == source_.text.find('\n')
                        ? "\r\n"
                        : "\n";
    }
  }

  bool put(TomlSpan span, const std::string& text) {
    source_.text.replace(span.begin, span.end - span.begin, text);
    read();
    return sound_;
  }
  bool insert(std::size_t at, const std::string& text) { return put({at, at}, text); }

  static bool stay_as_they_are(std::size_t number,
                               const std::vector<std::optional<std::size_t>>& from) {
    for (std::size_t i = 0; i < from.size(); ++i) {
      if (from[i] != i) {
        return false;
      }
    }
    return from.size() == number;
  }

  /// Not where comments stand between the tables: which of them speaks of which cannot be told.
  bool arrange_in_brackets(TomlSpan list, const TomlArray& to,
                           const std::vector<std::optional<std::size_t>>& from) {
    const std::vector<TomlPart> parts = parts_of(source_, list);
    const auto piece = [this](std::size_t begin, std::size_t end) {
      return source_.text.substr(begin, end - begin);
    };
    const std::string before = piece(list.begin, parts.front().whole.begin);
    const std::string behind = piece(parts.back().whole.end, list.end);
    std::string between = ", ";
    std::string around = before + behind;
    for (std::size_t i = 1; i < parts.size(); ++i) {
      between = piece(parts[i - 1].whole.end, parts[i].whole.begin);
      around += between;
    }
    if (around.find('#') != std::string::npos) {
      return false;
    }
    std::string said = before;
    for (std::size_t i = 0; i < to.size(); ++i) {
      said += i == 0 ? "" : between;
      said += from[i] ? piece(parts[*from[i]].whole.begin, parts[*from[i]].whole.end)
                      : value_to_toml(to[i]);
    }
    return put(list, said + behind);
  }

  // Values that are there.

  bool replace(const TomlPath& at, const TomlNode& there, const TomlNode& to, TomlLayout layout) {
    if (entries_of(there) != nullptr && entries_of(to) != nullptr) {
      return replace_table(at, *entries_of(there), *entries_of(to), layout);
    }
    if (list_in(there) != nullptr && list_in(to) != nullptr &&
        (is_list_of_tables(there) || is_list_of_tables(to)) && !list_in(to)->empty()) {
      return replace_list(at, list_in(there)->size(), *list_in(to), layout);
    }
    if (const auto span = value_span(at)) {
      return put_value(*span, value_to_toml(to));
    }
    return take_out(at) && add(at, to, layout);
  }

  bool replace_table(const TomlPath& at, const TomlEntries& there, const TomlEntries& to,
                     TomlLayout layout) {
    for (const TomlEntry& entry : there) {
      if (std::ranges::find(to, entry.key, &TomlEntry::key) == to.end() &&
          !change(within(at, entry.key), std::nullopt, layout)) {
        return false;
      }
    }
    return std::ranges::all_of(to, [&](const TomlEntry& entry) {
      return change(within(at, entry.key), entry.node, layout);
    });
  }

  bool replace_list(const TomlPath& at, std::size_t there, const TomlArray& to, TomlLayout layout) {
    for (std::size_t i = there; i > to.size(); --i) {
      if (!change(within(at, i - 1), std::nullopt, layout)) {
        return false;
      }
    }
    for (std::size_t i = 0; i < to.size(); ++i) {
      if (!change(within(at, i), to[i], layout)) {
        return false;
      }
    }
    return true;
  }

  /// A comment behind the value stays in its column, where there is room before it.
  bool put_value(TomlSpan span, const std::string& value) {
    const auto columns = [](std::string_view text) {
      return std::ranges::count_if(
          text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
    };
    const std::string& text = source_.text;
    std::size_t end = span.end;
    while (end < text.size() && text[end] == ' ') {
      ++end;
    }
    std::string with_room = value;
    if (end < text.size() && text[end] == '#' && end > span.end) {
      const std::string_view before(text.data() + span.begin, span.end - span.begin);
      const std::ptrdiff_t room =
          static_cast<std::ptrdiff_t>(end - span.end) + columns(before) - columns(value);
      with_room.append(static_cast<std::size_t>(std::max<std::ptrdiff_t>(room, 1)), ' ');
      span.end = end;
    }
    return put(span, with_room);
  }

  /// The statement in which a value stands, itself or as a part of it; null: it stands under
  /// headers.
  const TomlStatement* statement_of(const TomlPath& at) const {
    const auto found = std::ranges::find_if(statements_, [&at](const TomlStatement& one) {
      return one.kind == TomlStatementKind::value && begins_with(at, one.at);
    });
    return found == statements_.end() ? nullptr : &*found;
  }

  struct FoundPart {
    TomlSpan whole;
    TomlSpan value;
    TomlSpan around;  ///< the list or table that it is a part of
    std::vector<TomlPart> parts;
    std::size_t index = 0;
  };

  /// The part of a value that the rest of a path leads to.
  std::optional<FoundPart> part_in(TomlSpan value, const TomlPath& at, std::size_t depth) const {
    std::vector<TomlPart> parts = parts_of(source_, value);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const TomlPath& keys = parts[i].keys;
      const bool on_the_way =
          depth + keys.size() <= at.size() &&
          std::equal(keys.begin(), keys.end(), at.begin() + static_cast<std::ptrdiff_t>(depth));
      if (!on_the_way) {
        continue;
      }
      if (depth + keys.size() < at.size()) {
        return part_in(parts[i].value, at, depth + keys.size());
      }
      FoundPart found{parts[i].whole, parts[i].value, value, {}, i};
      found.parts = std::move(parts);
      return found;
    }
    return std::nullopt;
  }

  std::optional<TomlSpan> value_span(const TomlPath& at) const {
    const TomlStatement* const statement = statement_of(at);
    if (statement == nullptr) {
      return std::nullopt;
    }
    if (statement->at.size() == at.size()) {
      return statement->value;
    }
    const auto part = part_in(statement->value, at, statement->at.size());
    return part ? std::optional(part->value) : std::nullopt;
  }

  // Values that go.

  bool take_out(const TomlPath& at) {
    if (std::holds_alternative<std::size_t>(at.back())) {
      const TomlNode* const list = find_value(root_, parent_of(at));
      if (list != nullptr && list_in(*list) != nullptr && list_in(*list)->size() == 1) {
        return take_out(parent_of(at));
      }
    }
    const TomlStatement* const statement = statement_of(at);
    if (statement != nullptr && statement->at.size() < at.size()) {
      const auto part = part_in(statement->value, at, statement->at.size());
      return part && take_out_part(*part);
    }
    return take_out_lines(at);
  }

  /// With the comma behind it or, of the last one, before it.
  bool take_out_part(const FoundPart& part) {
    const std::string& text = source_.text;
    TomlSpan gone = part.whole;
    if (part.index + 1 < part.parts.size()) {
      const std::size_t comma = comma_behind(part.whole.end, part.around.end);
      gone.end = comma + 1;
      if (!alone_on_lines(gone)) {
        while (gone.end < text.size() && (text[gone.end] == ' ' || text[gone.end] == '\t')) {
          ++gone.end;
        }
      }
    } else if (part.index > 0 && !alone_on_lines(part.whole)) {
      const std::size_t comma =
          comma_behind(part.parts[part.index - 1].whole.end, part.whole.begin);
      gone.begin = comma;
    } else if (const std::size_t comma = comma_behind(part.whole.end, part.around.end);
               comma < part.around.end) {
      gone.end = comma + 1;
    } else if (part.index > 0) {
      // The comma before it may stay in a list over several lines.
    }
    if (const auto lines = whole_lines(gone)) {
      gone = *lines;
    }
    return put(gone, "");
  }

  /// Of the next comma that is in no comment; the end where there is none.
  std::size_t comma_behind(std::size_t at, std::size_t end) const {
    while (at < end && source_.text[at] != ',') {
      at = source_.text[at] == '#' ? std::min(source_.text.find('\n', at), end) : at + 1;
    }
    return std::min(at, end);
  }

  /// The lines of a piece, where nothing but a comment stands on them besides.
  std::optional<TomlSpan> whole_lines(TomlSpan span) const {
    const std::string& text = source_.text;
    while (span.begin > 0 && (text[span.begin - 1] == ' ' || text[span.begin - 1] == '\t')) {
      --span.begin;
    }
    if (span.begin > 0 && text[span.begin - 1] != '\n') {
      return std::nullopt;
    }
    while (span.end < text.size() &&
           (text[span.end] == ' ' || text[span.end] == '\t' || text[span.end] == ',')) {
      ++span.end;
    }
    if (span.end < text.size() && text[span.end] != '#' && text[span.end] != '\r' &&
        text[span.end] != '\n') {
      return std::nullopt;
    }
    span.end = std::min(text.find('\n', span.end), text.size() - 1) + 1;
    return span;
  }
  bool alone_on_lines(TomlSpan span) const { return whole_lines(span).has_value(); }

  /// All that is said of a value under headers and by dotted keys.
  bool take_out_lines(const TomlPath& at) {
    std::vector<TomlSpan> runs;
    bool goes_on = false;
    for (const TomlStatement& one : statements_) {
      const bool of_it = begins_with(one.at, at);
      if (of_it && goes_on) {
        runs.back().end = one.lines.end;
      } else if (of_it) {
        runs.push_back(one.lines);
      }
      goes_on = of_it;
    }
    std::string text = source_.text;
    for (const TomlSpan& run : std::views::reverse(runs)) {
      // Of the empty lines before and behind a table one is left.
      const bool after_empty = run.begin == 0 || blank_line_before(text, run.begin);
      std::size_t end = run.end;
      if (after_empty && end < text.size() && line_is_blank(text, end)) {
        end = std::min(text.find('\n', end), text.size() - 1) + 1;
      }
      text.erase(run.begin, end - run.begin);
    }
    source_.text = std::move(text);
    read();
    return sound_ && !runs.empty();
  }

  static bool line_is_blank(const std::string& text, std::size_t at) {
    const std::size_t other = text.find_first_not_of(" \t\r", at);
    return other == std::string::npos || text[other] == '\n';
  }
  static bool blank_line_before(const std::string& text, std::size_t line) {
    if (line < 2) {
      return false;
    }
    const std::size_t before = text.rfind('\n', line - 2);
    return line_is_blank(text, before == std::string::npos ? 0 : before + 1);
  }

  // Values that come.

  bool add(const TomlPath& at, const TomlNode& to, TomlLayout layout) {
    const TomlPath parent = parent_of(at);
    const TomlNode* const table = find_value(root_, parent);
    if (table == nullptr) {
      TomlNode made{};
      if (const auto* const key = std::get_if<std::string>(&at.back())) {
        made.value = TomlEntries{{.key = *key, .node = to}};
      } else if (std::get<std::size_t>(at.back()) == 0) {
        made.value = TomlArray{to};
      } else {
        return false;
      }
      return add(parent, made, layout);
    }
    if (std::holds_alternative<std::size_t>(at.back())) {
      return list_in(*table) != nullptr &&
             list_in(*table)->size() == std::get<std::size_t>(at.back()) && add_to_list(at, to);
    }
    if (entries_of(*table) == nullptr) {
      return false;
    }
    if (const auto span = value_span(parent)) {
      return add_in_braces(*span, std::get<std::string>(at.back()), to);
    }
    const bool under_header =
        layout == TomlLayout::under_headers && (entries_of(to) != nullptr || is_list_of_tables(to));
    return under_header ? add_headers(at, to) : add_line(at, to);
  }

  bool add_in_braces(TomlSpan table, const std::string& key, const TomlNode& to) {
    const std::string said = key_to_toml(key) + " = " + value_to_toml(to);
    const std::vector<TomlPart> parts = parts_of(source_, table);
    if (parts.empty()) {
      return put(table, "{ " + said + " }");
    }
    return insert(parts.back().whole.end, ", " + said);
  }

  bool add_to_list(const TomlPath& at, const TomlNode& to) {
    const TomlPath list = parent_of(at);
    const auto span = value_span(list);
    if (!span) {
      return add_headers(at, to);
    }
    const std::string said = value_to_toml(to);
    const std::vector<TomlPart> parts = parts_of(source_, *span);
    if (parts.empty()) {
      // What a list says in comments stays.
      return insert(span->begin + 1, said);
    }
    const TomlSpan last = parts.back().whole;
    const std::size_t comma = comma_behind(last.end, span->end);
    const bool has_comma = comma < span->end;
    const std::size_t line_begin = line_begin_of(last.begin);
    const std::size_t indented = source_.text.find_first_not_of(" \t", line_begin);
    const std::size_t line_end =
        std::min(source_.text.find('\n', has_comma ? comma : last.end), span->end);
    // On lines of their own: the last one begins a line, and the list goes on behind that.
    if (indented == last.begin && line_end < span->end) {
      const std::size_t end =
          line_end > 0 && source_.text[line_end - 1] == '\r' ? line_end - 1 : line_end;
      const std::string indent = source_.text.substr(line_begin, indented - line_begin);
      std::string text = source_.text;
      text.insert(end, line_break_ + indent + said + (has_comma ? "," : ""));
      if (!has_comma) {
        text.insert(last.end, ",");
      }
      source_.text = std::move(text);
      read();
      return sound_;
    }
    return has_comma ? insert(comma + 1, " " + said) : insert(last.end, ", " + said);
  }

  std::size_t line_begin_of(std::size_t at) const {
    const std::size_t before = at == 0 ? std::string::npos : source_.text.rfind('\n', at - 1);
    return before == std::string::npos ? 0 : before + 1;
  }

  /// `key = value` behind the last line of its table that states a value.
  bool add_line(const TomlPath& at, const TomlNode& to) {
    const TomlPath table = parent_of(at);
    const TomlStatement* header = nullptr;
    const TomlStatement* last = nullptr;
    for (const TomlStatement& one : statements_) {
      if (one.kind != TomlStatementKind::value) {
        header = one.at == table ? &one : header;
      } else if (begins_with(one.at, table) && one.at.size() > table.size()) {
        const std::size_t beside = one.at.size() - one.own;
        // A dotted key of an outer table may speak of this one.
        if (beside <= table.size() && (header == nullptr || beside == table.size())) {
          last = &one;
        }
      }
    }
    const std::string value = " = " + value_to_toml(to);
    if (last != nullptr) {
      const std::size_t beside = last->at.size() - last->own;
      const TomlPath keys(at.begin() + static_cast<std::ptrdiff_t>(beside), at.end());
      const std::string indent =
          source_.text.substr(last->lines.begin, last->first - last->lines.begin);
      return insert_lines(last->lines.end, indent + header_name(keys) + value + line_break_);
    }
    const std::string line = text_of(at.back()) + value + line_break_;
    if (header != nullptr) {
      return insert_lines(header->lines.end, line);
    }
    if (table.empty()) {
      return insert_lines(
          statements_.empty() ? source_.text.size() : statements_.front().lines.begin,
          statements_.empty() ? line : line + line_break_);
    }
    // Only tables within it are there.
    const auto first = std::ranges::find_if(
        statements_, [&table](const TomlStatement& one) { return begins_with(one.at, table); });
    return first != statements_.end() && std::holds_alternative<std::string>(table.back()) &&
           insert_lines(first->lines.begin,
                        "[" + header_name(table) + "]" + line_break_ + line + line_break_);
  }

  bool insert_lines(std::size_t at, std::string lines) {
    if (at > 0 && at == source_.text.size() && source_.text.back() != '\n') {
      lines.insert(0, line_break_);
    }
    return insert(at, lines);
  }

  /// A table or a list of tables behind all that is said of what it stands in.
  bool add_headers(const TomlPath& at, const TomlNode& to) {
    if (std::holds_alternative<std::size_t>(at.back()) && entries_of(to) == nullptr) {
      return false;
    }
    const TomlPath around = parent_of(at);
    std::size_t place = source_.text.size();
    if (!around.empty()) {
      const auto last = std::ranges::find_if(
          statements_.rbegin(), statements_.rend(),
          [&around](const TomlStatement& one) { return begins_with(one.at, around); });
      if (last == statements_.rend()) {
        return false;
      }
      place = last->lines.end;
    }
    std::string lines = headers_of(at, to);
    const bool at_begin = source_.text.find_first_not_of(" \t\r\n") == std::string::npos;
    if (!at_begin &&
        !(place > 1 && blank_line_before(source_.text, place) && source_.text[place - 1] == '\n')) {
      lines.insert(0, line_break_);
    }
    return insert_lines(place, lines);
  }

  /// The lines of a table, or of a list of tables, with what is below.
  std::string headers_of(const TomlPath& at, const TomlNode& to) const {
    if (const auto* const list = list_in(to)) {
      std::string lines;
      for (std::size_t i = 0; i < list->size(); ++i) {
        lines += (i == 0 ? "" : line_break_) + headers_of(within(at, i), (*list)[i]);
      }
      return lines;
    }
    const bool is_entry = std::holds_alternative<std::size_t>(at.back());
    const std::string name = header_name(at);
    std::string lines = (is_entry ? "[[" + name + "]]" : "[" + name + "]") + line_break_;
    std::string below;
    for (const TomlEntry& entry : std::get<TomlEntries>(to.value)) {
      if (entries_of(entry.node) != nullptr || is_list_of_tables(entry.node)) {
        below += line_break_ + headers_of(within(at, entry.key), entry.node);
      } else {
        lines += key_to_toml(entry.key) + " = " + value_to_toml(entry.node) + line_break_;
      }
    }
    return lines + below;
  }

  SourceText source_;
  bool sound_ = false;
  TomlNode root_{};
  std::vector<TomlStatement> statements_;
  std::string line_break_ = "\n";
};

/// Origins that are there, each once; none where each entry is the one at its place.
std::vector<std::optional<std::size_t>> sound_origins(const TomlChange& change,
                                                      const TomlNode& root) {
  const TomlArray* const to = change.to ? list_in(*change.to) : nullptr;
  const TomlNode* const there = find_value(root, change.at);
  const TomlArray* const list = there == nullptr ? nullptr : list_in(*there);
  if (to == nullptr || list == nullptr || change.from.size() != to->size()) {
    return {};
  }
  std::vector<bool> taken(list->size(), false);
  auto from = change.from;
  for (auto& one : from) {
    if (one && (*one >= taken.size() || taken[*one])) {
      one.reset();
    } else if (one) {
      taken[*one] = true;
    }
  }
  return from;
}

std::string name_of_place(const TomlPath& at) {
  std::string name;
  for (const TomlStep& step : at) {
    if (const auto* const key = std::get_if<std::string>(&step)) {
      name += (name.empty() ? "" : ".") + *key;
    } else {
      name += fmt::format("[{}]", std::get<std::size_t>(step) + 1);
    }
  }
  return name;
}

}  // namespace

const TomlNode* find_value(const TomlNode& root, const TomlPath& path) {
  const TomlNode* node = &root;
  for (const TomlStep& step : path) {
    if (const auto* const key = std::get_if<std::string>(&step)) {
      const auto* const entries = entries_of(*node);
      if (entries == nullptr) {
        return nullptr;
      }
      const auto found = std::ranges::find(*entries, *key, &TomlEntry::key);
      if (found == entries->end()) {
        return nullptr;
      }
      node = &found->node;
    } else {
      const auto* const list = list_in(*node);
      const std::size_t place = std::get<std::size_t>(step);
      if (list == nullptr || place >= list->size()) {
        return nullptr;
      }
      node = &(*list)[place];
    }
  }
  return node;
}

bool say_the_same(const TomlNode& a, const TomlNode& b) {
  if (a.value.index() != b.value.index()) {
    return false;
  }
  if (const auto* const entries = entries_of(a)) {
    const auto& others = std::get<TomlEntries>(b.value);
    std::map<std::string_view, const TomlNode*> by_key;
    for (const TomlEntry& other : others) {
      by_key.emplace(other.key, &other.node);
    }
    return entries->size() == others.size() &&
           std::ranges::all_of(*entries, [&by_key](const TomlEntry& entry) {
             const auto found = by_key.find(entry.key);
             return found != by_key.end() && say_the_same(entry.node, *found->second);
           });
  }
  if (const auto* const list = list_in(a)) {
    return std::ranges::equal(*list, std::get<TomlArray>(b.value), say_the_same);
  }
  if (const auto* const real = std::get_if<double>(&a.value)) {
    return std::bit_cast<std::uint64_t>(*real) ==
           std::bit_cast<std::uint64_t>(std::get<double>(b.value));
  }
  if (const auto* const date = std::get_if<TomlDate>(&a.value)) {
    return *date == std::get<TomlDate>(b.value);
  }
  if (const auto* const text = std::get_if<std::string>(&a.value)) {
    return *text == std::get<std::string>(b.value);
  }
  if (const auto* const whole = std::get_if<std::int64_t>(&a.value)) {
    return *whole == std::get<std::int64_t>(b.value);
  }
  return std::get<bool>(a.value) == std::get<bool>(b.value);
}

std::optional<std::string> change_toml(const SourceText& source, const TomlChange& change,
                                       Diagnostics& diagnostics) {
  Diagnostics mistakes;
  auto expected = parse_toml(source, mistakes);
  if (!expected || !mistakes.empty()) {
    diagnostics.insert(diagnostics.end(), mistakes.begin(), mistakes.end());
    return std::nullopt;
  }
  const auto refused = [&](std::string_view why) {
    diagnostics.push_back(
        {{.file = source.file}, fmt::format("'{}' {}", name_of_place(change.at), why)});
    return std::nullopt;
  };
  const auto from = sound_origins(change, *expected);
  if (change.at.empty() || !change_tree(*expected, change.at, 0, change.to)) {
    return refused("is no place in this file where a value may stand");
  }
  TextChanger changer(source);
  const bool done =
      (from.empty() || changer.arrange(change.at, std::get<TomlArray>(change.to->value), from)) &&
      changer.change(change.at, change.to, change.layout);
  // Whatever was done to the text: it says what it is to say, or it is not given.
  Diagnostics unsaid;
  const auto now = parse_toml({.file = source.file, .text = changer.text()}, unsaid);
  if (!done || !now || !unsaid.empty() || !say_the_same(*now, *expected)) {
    return refused("cannot be changed here without touching something else; change it as text");
  }
  return changer.text();
}

}  // namespace panup
