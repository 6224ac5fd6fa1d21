#include "day/kept_answers.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <mutex>

#include "base/sha256.h"
#include "day/fingerprint.h"
#include "day/outcome_json.h"
#include "day/reading_bytes.h"
#include "files/read_rule_book.h"
#include "render/run_json.h"
#include "runs/bytes.h"
#include "runs/packed_text.h"
#include "runs/statement.h"
#include "runs/store_file.h"

namespace panup {

using Json = nlohmann::ordered_json;

namespace {

/// The plan comes last: to look at an answer, its pages are not read.
constexpr std::string_view layout_of_answers =
    "CREATE TABLE IF NOT EXISTS answer (key BLOB PRIMARY KEY, program TEXT NOT NULL, used_on "
    "INTEGER "
    "NOT NULL, checksum BLOB NOT NULL, plan_checksum BLOB NOT NULL, answer BLOB NOT NULL, plan "
    "BLOB "
    "NOT NULL)";

/// Answers that were shown: as in `answer`, under the name of the train.
constexpr std::string_view layout_of_shown =
    "CREATE TABLE IF NOT EXISTS shown_answer (train BLOB PRIMARY KEY, key BLOB NOT NULL, program "
    "TEXT NOT NULL, checksum BLOB NOT NULL, answer BLOB NOT NULL)";

std::string digest_of(std::string_view bytes) {
  Sha256 digest;
  digest.add(bytes);
  return digest.result();
}

std::string checksum_of(std::string_view key, std::string_view program, std::string_view bytes) {
  ByteWriter whole;
  whole.text(key);
  whole.text(program);
  whole.text(bytes);
  return digest_of(whole.bytes());
}

/// Two tables of one language may say different things.
void add_words(const Words& words, ByteWriter& asked) {
  asked.text(words.language());
  asked.text(words.sha256());
}

/// What the desk looks at and the files it rests on; then what is read of the plan, which is not
/// unpacked where nobody asks for it.
std::string answer_bytes(const RunPlan& run, const TrainOutcome& outcome,
                         const TrainReading& reading) {
  Json json;
  json["outcome"] = outcome_to_json(outcome);
  Json files = Json::array();
  for (const InputFile& input : inputs_of(run)) {
    if (input.path != built_in_rule_file) {
      files.push_back(Json::array({input.path, input.sha256}));
    }
  }
  json["files"] = std::move(files);
  json["not_there"] = reading.not_there;
  ByteWriter whole;
  whole.text(json.dump(-1, ' ', false, Json::error_handler_t::replace));
  whole.text(packed_text(reading_to_bytes(reading)));
  return whole.bytes();
}

/// What is read of the plan of a kept answer.
std::optional<TrainReading> reading_in(std::string_view packed_reading) {
  const auto bytes = unpacked_text(packed_reading);
  return bytes ? reading_from_bytes(*bytes) : std::nullopt;
}

/// The two parts of a kept answer.
struct AnswerParts {
  std::string_view json;
  std::string_view packed_reading;
};

std::optional<AnswerParts> parts_of(std::string_view bytes) {
  ByteReader reader(bytes);
  AnswerParts parts;
  return reader.text(parts.json) && reader.text(parts.packed_reading) ? std::optional(parts)
                                                                      : std::nullopt;
}

/// A kept answer, whether it still holds or not.
std::optional<ReadAnswer> answer_in(std::string_view bytes) {
  const auto parts = parts_of(bytes);
  const Json json = parts ? Json::parse(parts->json, nullptr, false) : Json();
  auto outcome = json.contains("outcome") ? outcome_from_json(json["outcome"]) : std::nullopt;
  auto reading = parts ? reading_in(parts->packed_reading) : std::nullopt;
  return outcome && reading ? std::optional(ReadAnswer{std::move(*outcome), std::move(*reading)})
                            : std::nullopt;
}

/// The outcome of a kept answer, where all its files are as they were.
std::optional<TrainOutcome> still_holding(std::string_view answer, FilesReadOnce& files) {
  const Json json = Json::parse(answer, nullptr, false);
  if (!json.is_object()) {
    return std::nullopt;
  }
  try {
    for (const Json& file : json.at("files")) {
      if (files.sha256_now(file.at(0)) != file.at(1).get<std::string>()) {
        return std::nullopt;
      }
    }
    for (const Json& path : json.at("not_there")) {
      if (files.source().has(path)) {
        return std::nullopt;
      }
    }
    return outcome_from_json(json.at("outcome"));
  } catch (const Json::exception&) {
    return std::nullopt;
  }
}

}  // namespace

std::string_view planning_fingerprint() { return built_planning_fingerprint; }

std::string key_of_train(const std::string& day, const std::string& date, const std::string& number,
                         SpeedFrom speed_from, const Words& words) {
  ByteWriter asked;
  asked.text(day);
  asked.text(date);
  asked.text(number);
  asked.text(name_of(speed_from));
  add_words(words, asked);
  return digest_of(asked.bytes());
}

std::string key_of(const PlanPaths& paths, SpeedFrom speed_from) {
  ByteWriter asked;
  asked.text(name_of(speed_from));
  add_words(paths.words, asked);
  for (const std::string* const one :
       {&paths.train, &paths.route, &paths.run_file, &paths.departure, &paths.conditions}) {
    asked.text(*one);
  }
  for (const std::vector<std::string>* const list :
       {&paths.rules, &paths.consents, &paths.defects}) {
    asked.count(list->size());
    for (const std::string& path : *list) {
      asked.text(path);
    }
  }
  if (paths.run) {
    asked.text(paths.run->number);
    asked.text(paths.run->date);
    asked.count(paths.run->vehicles.size());
    for (const std::string& vehicle : paths.run->vehicles) {
      asked.text(vehicle);
    }
  }
  asked.count(paths.replaced_files.size());
  for (const ReplacedFile& replaced : paths.replaced_files) {
    asked.text(replaced.file);
    asked.text(replaced.by);
  }
  asked.count(paths.replaced_classes.size());
  for (const ReplacedClass& replaced : paths.replaced_classes) {
    asked.text(replaced.id);
    asked.text(replaced.by);
  }
  return digest_of(asked.bytes());
}

struct KeptAnswers::State {
  struct Row {
    std::string key;
    std::string answer;
    std::string packed_plan;
  };

  void write(const std::vector<Row>& rows);

  std::string path;
  StoreFile file;
  std::string failure;
  std::mutex using_it;  ///< the file and the failure

  std::mutex queueing;
  std::vector<Row> queue;
  bool writing = false;  ///< a thread is writing, and goes on while there are rows
};

void KeptAnswers::State::write(const std::vector<Row>& rows) {
  const std::scoped_lock lock(using_it);
  if (!failure.empty()) {
    return;
  }
  sqlite3* const database = file.database.get();
  const auto fail = [&] {
    failure = fmt::format("store {}: answers cannot be kept: {}", path, wrong_in_words(database));
  };
  Transaction transaction(database);
  if (!transaction.is_open()) {
    fail();  // before the next call, which the database would speak of
    return;
  }
  Statement insert(database,
                   "INSERT OR REPLACE INTO answer (key, program, used_on, checksum, plan_checksum, "
                   "answer, plan) VALUES (?, ?, ?, ?, ?, ?, ?)");
  for (const Row& row : rows) {
    insert.bind_bytes(1, row.key);
    insert.bind_text(2, planning_fingerprint());
    insert.bind(3, day_of_use());
    insert.bind_bytes(4, checksum_of(row.key, planning_fingerprint(), row.answer));
    insert.bind_bytes(5, checksum_of(row.key, planning_fingerprint(), row.packed_plan));
    insert.bind_bytes(6, row.answer);
    insert.bind_bytes(7, row.packed_plan);
    if (!insert.run()) {
      fail();
      return;
    }
    insert.reset();
  }
  if (!transaction.commit()) {
    fail();
  }
}

KeptAnswers::KeptAnswers(std::unique_ptr<State> state) : state_(std::move(state)) {}
KeptAnswers::KeptAnswers(KeptAnswers&&) noexcept = default;
KeptAnswers& KeptAnswers::operator=(KeptAnswers&&) noexcept = default;
KeptAnswers::~KeptAnswers() = default;

std::variant<KeptAnswers, std::string> KeptAnswers::open(const std::string& path) {
  auto opened = open_store_file(path);
  if (auto* const wrong = std::get_if<std::string>(&opened)) {
    return std::move(*wrong);
  }
  return with_table(path, std::move(std::get<StoreFile>(opened)));
}

std::variant<KeptAnswers, std::string> KeptAnswers::open_in_memory() {
  const std::string name = "in memory";
  sqlite3* opened = nullptr;
  const int status = sqlite3_open(":memory:", &opened);
  Database database(opened);
  if (status != SQLITE_OK) {
    return fmt::format("store {}: {}", name, sqlite3_errstr(status));
  }
  return with_table(name, {.database = std::move(database), .note = {}});
}

std::variant<KeptAnswers, std::string> KeptAnswers::with_table(const std::string& path,
                                                               StoreFile file) {
  auto state = std::make_unique<State>();
  state->path = path;
  state->file = std::move(file);
  sqlite3* const database = state->file.database.get();
  Statement known(database, "SELECT count(*) FROM sqlite_schema WHERE name = 'shown_answer'");
  if (known.step() != SQLITE_ROW) {
    return fmt::format("store {}: {}", path, wrong_in_words(database));
  }
  const bool is_there = known.number(0) > 0;
  known.reset();
  if (!is_there &&
      (!run_statement(database, layout_of_answers) || !run_statement(database, layout_of_shown))) {
    return fmt::format("store {}: {}", path, wrong_in_words(database));
  }
  return KeptAnswers(std::move(state));
}

std::optional<TrainOutcome> KeptAnswers::find(const std::string& key, FilesReadOnce& files,
                                              TrainReading* reading) {
  std::string bytes;
  {
    const std::scoped_lock lock(state_->using_it);
    sqlite3* const database = state_->file.database.get();
    Statement select(database, "SELECT program, checksum, answer FROM answer WHERE key = ?");
    select.bind_bytes(1, key);
    if (select.step() != SQLITE_ROW || select.bytes(0) != planning_fingerprint() ||
        select.bytes(1) != checksum_of(key, select.bytes(0), select.bytes(2))) {
      return std::nullopt;
    }
    bytes = select.bytes(2);
  }
  const auto parts = parts_of(bytes);
  if (!parts) {
    return std::nullopt;
  }
  auto outcome = still_holding(parts->json, files);
  if (outcome && reading != nullptr) {
    auto kept = reading_in(parts->packed_reading);
    if (!kept) {
      return std::nullopt;
    }
    *reading = std::move(*kept);
  }
  return outcome;
}

std::optional<std::string> KeptAnswers::plan_of(const std::string& key) {
  const std::scoped_lock lock(state_->using_it);
  sqlite3* const database = state_->file.database.get();
  Statement select(database, "SELECT program, plan_checksum, plan FROM answer WHERE key = ?");
  select.bind_bytes(1, key);
  if (select.step() != SQLITE_ROW ||
      select.bytes(1) != checksum_of(key, select.bytes(0), select.bytes(2))) {
    return std::nullopt;
  }
  return unpacked_text(select.bytes(2));
}

void KeptAnswers::add(const std::string& key, const RunPlan& run, const TrainOutcome& outcome,
                      const TrainReading& reading) {
  State::Row row{
      key, answer_bytes(run, outcome, reading),
      packed_text(train_plan_to_json(run).dump(-1, ' ', false, Json::error_handler_t::replace))};
  std::vector<State::Row> rows;
  {
    const std::scoped_lock lock(state_->queueing);
    state_->queue.push_back(std::move(row));
    if (state_->writing) {
      return;
    }
    state_->writing = true;
    rows.swap(state_->queue);
  }
  // What comes while the disk is waited for is written with the next transaction.
  while (!rows.empty()) {
    state_->write(rows);
    rows.clear();
    const std::scoped_lock lock(state_->queueing);
    rows.swap(state_->queue);
    state_->writing = !rows.empty();
  }
}

std::optional<AnswerSinceShown> KeptAnswers::since_shown(const TrainShown& train) {
  std::string shown;
  std::string now;
  {
    const std::scoped_lock lock(state_->using_it);
    Statement select(state_->file.database.get(),
                     "SELECT s.key, s.program, s.checksum, s.answer, a.program, a.checksum, "
                     "a.answer FROM shown_answer s, answer a WHERE s.train = ? AND a.key = ? AND "
                     "s.checksum != a.checksum");
    select.bind_bytes(1, train.train);
    select.bind_bytes(2, train.answer);
    if (select.step() != SQLITE_ROW ||
        select.bytes(2) != checksum_of(select.bytes(0), select.bytes(1), select.bytes(3)) ||
        select.bytes(5) != checksum_of(train.answer, select.bytes(4), select.bytes(6))) {
      return std::nullopt;
    }
    shown = select.bytes(3);
    now = select.bytes(6);
  }
  auto before = answer_in(shown);
  auto then = answer_in(now);
  return before && then ? std::optional(AnswerSinceShown{std::move(*before), std::move(*then)})
                        : std::nullopt;
}

void KeptAnswers::note_shown(const std::vector<TrainShown>& trains) {
  const std::scoped_lock lock(state_->using_it);
  if (!state_->failure.empty()) {
    return;
  }
  sqlite3* const database = state_->file.database.get();
  Transaction transaction(database);
  bool written = transaction.is_open();
  Statement insert(database,
                   "INSERT OR REPLACE INTO shown_answer (train, key, program, checksum, answer) "
                   "SELECT ?1, a.key, a.program, a.checksum, a.answer FROM answer a WHERE a.key = "
                   "?2 AND NOT EXISTS (SELECT 1 FROM shown_answer s WHERE s.train = ?1 AND "
                   "s.checksum = a.checksum AND s.answer = a.answer)");
  for (auto train = trains.begin(); written && train != trains.end(); ++train) {
    insert.bind_bytes(1, train->train);
    insert.bind_bytes(2, train->answer);
    written = insert.run();
    insert.reset();
  }
  if (!written || !transaction.commit()) {
    state_->failure = fmt::format("store {}: what was shown cannot be kept: {}", state_->path,
                                  wrong_in_words(database));
  }
}

std::string KeptAnswers::failure() const {
  const std::scoped_lock lock(state_->using_it);
  return state_->failure;
}

const std::string& KeptAnswers::note() const { return state_->file.note; }

}  // namespace panup
