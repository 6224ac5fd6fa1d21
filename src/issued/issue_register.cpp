#include "issued/issue_register.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <array>
#include <nlohmann/json.hpp>

#include "base/sha256.h"
#include "day/outcome_json.h"
#include "day/reading_bytes.h"
#include "runs/bytes.h"
#include "runs/packed_text.h"
#include "runs/statement.h"
#include "runs/store_file.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// "PNIC": panup, issued cards.
constexpr std::int64_t id_of_registers = 0x504e4943;

/// Large parts stand last: what is listed is read without their pages. That rows come in order is
/// asked of what is inserted, since to insert in the place of a row would else be to delete it.
const StoreKind& kind_of_registers() {
  static const StoreKind kind{
      .what = "register of issued cards",
      .application_id = id_of_registers,
      .layout_version = 1,
      .layout =
          {"CREATE TABLE issue (place INTEGER PRIMARY KEY, train_number TEXT NOT NULL, day TEXT "
           "NOT "
           "NULL, number INTEGER NOT NULL, issued_at TEXT NOT NULL, issued_to TEXT NOT NULL, "
           "made_by "
           "TEXT NOT NULL, checked_by TEXT NOT NULL, released_by TEXT NOT NULL, holds_until TEXT "
           "NOT "
           "NULL, train_name TEXT NOT NULL, route_name TEXT NOT NULL, decision TEXT NOT NULL, "
           "answer "
           "TEXT NOT NULL, different TEXT NOT NULL, inputs TEXT NOT NULL, program TEXT NOT NULL, "
           "compared_sha256 TEXT NOT NULL, plan_sha256 TEXT NOT NULL, card_sha256 TEXT NOT NULL, "
           "checksum TEXT NOT NULL, compared BLOB NOT NULL, plan BLOB NOT NULL, card BLOB NOT "
           "NULL, "
           "UNIQUE (train_number, day, number))",
           "CREATE TRIGGER nothing_is_changed BEFORE UPDATE ON issue BEGIN SELECT RAISE(ABORT, "
           "'issued cards are not changed'); END",
           "CREATE TRIGGER nothing_is_deleted BEFORE DELETE ON issue BEGIN SELECT RAISE(ABORT, "
           "'issued cards are not deleted'); END",
           "CREATE TRIGGER all_in_order BEFORE INSERT ON issue WHEN NEW.place <> (SELECT "
           "coalesce(max(place), 0) + 1 FROM issue) OR NEW.number <> (SELECT coalesce(max(number), "
           "0) + 1 FROM issue WHERE train_number = NEW.train_number AND day = NEW.day) BEGIN "
           "SELECT "
           "RAISE(ABORT, 'issued cards are added in order'); END"},
      .if_damaged =
          "it is damaged; keep it as it is, nothing more is issued into it: take the last copy "
          "that "
          "was put away"};
  return kind;
}

constexpr std::string_view listed_columns =
    "place, train_number, day, number, issued_at, issued_to, made_by, checked_by, released_by, "
    "holds_until, train_name, route_name, decision, answer, different, inputs, program, "
    "compared_sha256, plan_sha256, card_sha256, checksum";

/// A row but for its large parts, of which it has the checksums.
struct Row {
  Issue issue;
  std::string compared_sha256;
  std::string plan_sha256;
};

std::string dumped(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string inputs_text(const std::vector<InputFile>& inputs) {
  Json json = Json::array();
  for (const InputFile& input : inputs) {
    json.push_back(Json::array({input.role, input.path, input.sha256}));
  }
  return dumped(json);
}

std::vector<std::string> strings_in(const std::string& text) {
  const Json json = Json::parse(text, nullptr, false);
  std::vector<std::string> strings;
  for (const Json& one : json.is_array() ? json : Json::array()) {
    strings.push_back(one.is_string() ? one.get<std::string>() : std::string());
  }
  return strings;
}

std::vector<InputFile> inputs_in(const std::string& text) {
  const Json json = Json::parse(text, nullptr, false);
  std::vector<InputFile> inputs;
  for (const Json& one : json.is_array() ? json : Json::array()) {
    const std::vector<std::string> parts = strings_in(dumped(one));
    if (parts.size() == 3) {
      inputs.push_back({parts[0], parts[1], parts[2]});
    }
  }
  return inputs;
}

/// Texts as they stand in the database, in the order of its columns.
std::array<std::string, 18> texts_of(const Row& row) {
  const Issue& issue = row.issue;
  const HandedOut& out = issue.handed_out;
  return {issue.train_number,
          issue.day,
          out.at,
          out.to,
          out.made_by,
          out.checked_by,
          out.released_by,
          out.holds_until,
          issue.train_name,
          issue.route_name,
          issue.decision,
          issue.answer,
          dumped(Json(issue.different)),
          inputs_text(issue.inputs),
          issue.program_version,
          row.compared_sha256,
          row.plan_sha256,
          issue.card_sha256};
}

std::string checksum_of(const Row& row, const std::string& before) {
  ByteWriter whole;
  whole.text(before);
  whole.count(static_cast<std::uint64_t>(row.issue.place));
  whole.count(static_cast<std::uint64_t>(row.issue.number));
  for (const std::string& text : texts_of(row)) {
    whole.text(text);
  }
  return sha256_hex(whole.bytes());
}

Row row_in(Statement& found) {
  int column = 0;
  const auto number = [&] { return found.number(column++); };
  const auto text = [&] { return std::string(found.bytes(column++)); };
  Row row;
  Issue& issue = row.issue;
  issue.place = number();
  issue.train_number = text();
  issue.day = text();
  issue.number = static_cast<int>(number());
  issue.handed_out.at = text();
  issue.handed_out.to = text();
  issue.handed_out.made_by = text();
  issue.handed_out.checked_by = text();
  issue.handed_out.released_by = text();
  issue.handed_out.holds_until = text();
  issue.train_name = text();
  issue.route_name = text();
  issue.decision = text();
  issue.answer = text();
  issue.different = strings_in(text());
  issue.inputs = inputs_in(text());
  issue.program_version = text();
  row.compared_sha256 = text();
  row.plan_sha256 = text();
  issue.card_sha256 = text();
  issue.checksum = text();
  return row;
}

/// What the card is compared by, as it is kept.
std::string compared_bytes(const IssuedPlan& plan) {
  ByteWriter whole;
  whole.text(dumped(outcome_to_json(plan.outcome)));
  whole.text(packed_text(reading_to_bytes(plan.reading)));
  return whole.bytes();
}

bool read_compared(std::string_view bytes, LastIssue& last) {
  ByteReader reader(bytes);
  std::string_view outcome_text;
  std::string_view reading_text;
  if (!reader.text(outcome_text) || !reader.text(reading_text)) {
    return false;
  }
  const Json json = Json::parse(outcome_text, nullptr, false);
  auto outcome = json.is_object() ? outcome_from_json(json) : std::nullopt;
  const auto unpacked = unpacked_text(reading_text);
  auto reading = unpacked ? reading_from_bytes(*unpacked) : std::nullopt;
  if (!outcome || !reading) {
    return false;
  }
  last.outcome = std::move(*outcome);
  last.reading = std::move(*reading);
  return true;
}

std::string place_in_register(const Issue& issue) {
  return fmt::format("issue {} for train {} on {} (place {})", issue.number, issue.train_number,
                     issue.day, issue.place);
}

}  // namespace

struct IssueRegister::State {
  std::string wrong() const {
    return fmt::format("{} {}: {}", kind_of_registers().what, path,
                       wrong_in_words(file.database.get(), kind_of_registers()));
  }
  std::string wrong_with(const Issue& issue, std::string_view what) const {
    return fmt::format("{} {}: {} of {} does not match its checksum: {}", kind_of_registers().what,
                       path, what, place_in_register(issue), kind_of_registers().if_damaged);
  }

  /// All rows, in order; what is wrong where the chain is broken, with the rows before that.
  std::vector<Row> rows(std::string& wrong_here) {
    std::vector<Row> all;
    Statement found(file.database.get(),
                    fmt::format("SELECT {} FROM issue ORDER BY place", listed_columns));
    int status = found.step();
    for (; status == SQLITE_ROW; status = found.step()) {
      Row row = row_in(found);
      const std::string& before = all.empty() ? std::string() : all.back().issue.checksum;
      if (row.issue.place != static_cast<std::int64_t>(all.size()) + 1 ||
          row.issue.checksum != checksum_of(row, before)) {
        wrong_here = fmt::format(
            "{} {}: something was changed, taken out or put in at place {}: what stands there and "
            "behind it cannot be relied on; {}",
            kind_of_registers().what, path, all.size() + 1, kind_of_registers().if_damaged);
        return all;
      }
      all.push_back(std::move(row));
    }
    if (status != SQLITE_DONE) {
      wrong_here = wrong();
    }
    return all;
  }

  /// A large part of an issue, whose checksum stands in another column.
  KeptBytes part(const Issue& issue, std::string_view column) const {
    Statement found(file.database.get(),
                    fmt::format("SELECT {0}, {0}_sha256 FROM issue WHERE place = ?", column));
    found.bind(1, issue.place);
    if (found.step() != SQLITE_ROW) {
      return {{}, wrong()};
    }
    KeptBytes kept{std::string(found.bytes(0)), {}};
    if (sha256_hex(kept.bytes) != found.bytes(1)) {
      return {{}, wrong_with(issue, column)};
    }
    return kept;
  }

  /// The last issue for a train and day. What is wrong, or empty.
  std::string find_last_row(const std::string& train_number, const std::string& day,
                            std::optional<Row>& last) const {
    Statement found(file.database.get(),
                    fmt::format("SELECT {} FROM issue WHERE train_number = ? AND day = ? ORDER BY "
                                "number DESC LIMIT 1",
                                listed_columns));
    found.bind_text(1, train_number);
    found.bind_text(2, day);
    const int status = found.step();
    if (status == SQLITE_DONE) {
      return {};
    }
    if (status != SQLITE_ROW) {
      return wrong();
    }
    Row row = row_in(found);
    found.reset();
    std::string before;
    if (row.issue.place > 1) {
      Statement one_before(file.database.get(), "SELECT checksum FROM issue WHERE place = ?");
      one_before.bind(1, row.issue.place - 1);
      if (one_before.step() == SQLITE_ROW) {
        before = one_before.bytes(0);
      }
    }
    if (checksum_of(row, before) != row.issue.checksum) {
      return wrong_with(row.issue, "what is kept");
    }
    last = std::move(row);
    return {};
  }

  /// The same, with what it is compared by.
  std::string find_last(const std::string& train_number, const std::string& day,
                        std::optional<LastIssue>& last) const {
    std::optional<Row> row;
    if (std::string wrong = find_last_row(train_number, day, row); !wrong.empty() || !row) {
      return wrong;
    }
    const KeptBytes compared = part(row->issue, "compared");
    last = LastIssue{.issue = row->issue, .outcome = {}, .reading = {}};
    if (compared.wrong.empty() && read_compared(compared.bytes, *last)) {
      return {};
    }
    return compared.wrong.empty() ? wrong_with(row->issue, "what is compared") : compared.wrong;
  }

  /// Writes an issue behind the last one; nothing where the database refuses.
  std::optional<Issue> insert(const ReadyIssue& ready) const {
    sqlite3* const database = file.database.get();
    Row row{.issue = ready.issue,
            .compared_sha256 = ready.compared_sha256,
            .plan_sha256 = ready.plan_sha256};
    Statement tail(database, "SELECT place, checksum FROM issue ORDER BY place DESC LIMIT 1");
    const int status = tail.step();
    if (status != SQLITE_ROW && status != SQLITE_DONE) {
      return std::nullopt;
    }
    row.issue.place = status == SQLITE_ROW ? tail.number(0) + 1 : 1;
    const std::string before(status == SQLITE_ROW ? tail.bytes(1) : std::string_view());
    tail.reset();
    row.issue.checksum = checksum_of(row, before);
    Statement add(database,
                  fmt::format("INSERT INTO issue (place, number, train_number, day, issued_at, "
                              "issued_to, made_by, checked_by, released_by, holds_until, "
                              "train_name, route_name, decision, answer, different, inputs, "
                              "program, compared_sha256, plan_sha256, card_sha256, checksum, "
                              "compared, plan, card) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
                              "?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"));
    int column = 1;
    add.bind(column++, row.issue.place);
    add.bind(column++, row.issue.number);
    for (const std::string& text : texts_of(row)) {
      add.bind_text(column++, text);
    }
    add.bind_text(column++, row.issue.checksum);
    for (const std::string* const bytes : {&ready.compared, &ready.plan, &ready.card}) {
      add.bind_bytes(column++, *bytes);
    }
    return add.run() ? std::optional(std::move(row.issue)) : std::nullopt;
  }

  std::string path;
  StoreFile file;
};

ReadyIssue ready_issue(const std::string& train_number, const std::string& day,
                       const LastIssue* last, NewIssue made) {
  ReadyIssue ready;
  ready.compared = compared_bytes(made.plan);
  ready.plan = packed_text(made.plan.plan_json);
  ready.card = std::move(made.plan.card_pdf);
  ready.compared_sha256 = sha256_hex(ready.compared);
  ready.plan_sha256 = sha256_hex(ready.plan);
  ready.after = last == nullptr ? std::string() : last->issue.checksum;
  ready.issue.train_number = train_number;
  ready.issue.day = day;
  ready.issue.number = last == nullptr ? 1 : last->issue.number + 1;
  ready.issue.handed_out = std::move(made.handed_out);
  ready.issue.train_name = made.plan.outcome.train_name;
  ready.issue.route_name = made.plan.outcome.route_name;
  ready.issue.decision = name_of(made.plan.outcome.decision);
  ready.issue.answer = made.plan.outcome.answer;
  ready.issue.different = std::move(made.different);
  ready.issue.inputs = std::move(made.inputs);
  ready.issue.program_version = std::move(made.program_version);
  ready.issue.card_sha256 = sha256_hex(ready.card);
  return ready;
}

IssueRegister::IssueRegister(std::unique_ptr<State> state) : state_(std::move(state)) {}
IssueRegister::IssueRegister(IssueRegister&&) noexcept = default;
IssueRegister& IssueRegister::operator=(IssueRegister&&) noexcept = default;
IssueRegister::~IssueRegister() = default;

std::variant<IssueRegister, std::string> IssueRegister::open(const std::string& path) {
  auto opened = open_store_file(path, kind_of_registers());
  if (auto* const wrong = std::get_if<std::string>(&opened)) {
    return std::move(*wrong);
  }
  auto state = std::make_unique<State>();
  state->path = path;
  state->file = std::move(std::get<StoreFile>(opened));
  return IssueRegister(std::move(state));
}

std::variant<std::vector<Issue>, std::string> IssueRegister::issues() {
  std::string wrong;
  std::vector<Row> rows = state_->rows(wrong);
  if (!wrong.empty()) {
    return wrong;
  }
  std::vector<Issue> all;
  for (Row& row : rows) {
    all.push_back(std::move(row.issue));
  }
  return all;
}

std::variant<std::optional<LastIssue>, std::string> IssueRegister::last(
    const std::string& train_number, const std::string& day) {
  std::optional<LastIssue> found;
  std::string wrong = state_->find_last(train_number, day, found);
  if (!wrong.empty()) {
    return wrong;
  }
  return found;
}

std::variant<AddedIssues, std::string> IssueRegister::add(std::span<const ReadyIssue> ready) {
  Transaction transaction(state_->file.database.get());
  if (!transaction.is_open()) {
    return state_->wrong();  // before the next call, which the database would speak of
  }
  AddedIssues added;
  for (std::size_t i = 0; i < ready.size(); ++i) {
    const ReadyIssue& one = ready[i];
    std::optional<Row> last;
    if (std::string wrong = state_->find_last_row(one.issue.train_number, one.issue.day, last);
        !wrong.empty()) {
      return wrong;
    }
    if (one.after != (last ? last->issue.checksum : std::string())) {
      added.overtaken.push_back(i);
    }
    if (!added.overtaken.empty()) {
      continue;  // nothing is added: only who else was overtaken is of interest
    }
    auto issue = state_->insert(one);
    if (!issue) {
      return state_->wrong();
    }
    added.issues.push_back(std::move(*issue));
  }
  if (!added.overtaken.empty()) {
    added.issues.clear();
    return added;
  }
  return transaction.commit() ? std::variant<AddedIssues, std::string>(std::move(added))
                              : state_->wrong();
}

KeptBytes IssueRegister::card_of(const Issue& issue) { return state_->part(issue, "card"); }

KeptBytes IssueRegister::plan_of(const Issue& issue) {
  KeptBytes kept = state_->part(issue, "plan");
  if (kept.wrong.empty()) {
    if (auto text = unpacked_text(kept.bytes)) {
      kept.bytes = std::move(*text);
    } else {
      kept = {{}, state_->wrong_with(issue, "plan")};
    }
  }
  return kept;
}

std::vector<std::string> IssueRegister::damage() {
  std::vector<std::string> wrong;
  std::string chain;
  for (const Row& row : state_->rows(chain)) {
    for (const char* const column : {"compared", "plan", "card"}) {
      if (KeptBytes kept = state_->part(row.issue, column); !kept.wrong.empty()) {
        wrong.push_back(std::move(kept.wrong));
      }
    }
  }
  if (!chain.empty()) {
    wrong.push_back(std::move(chain));
  }
  return wrong;
}

}  // namespace panup
