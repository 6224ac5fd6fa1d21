#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "issued/issue.h"

namespace panup {

/// The last issue for a train number and day, with what its card is compared by.
struct LastIssue {
  Issue issue;
  TrainOutcome outcome;
  TrainReading reading;
};

/// An issue made ready to be kept: what is large of it is packed and has its checksum, so that the
/// register is held no longer than it takes to write.
struct ReadyIssue {
  Issue issue;        ///< but for its place and its own checksum, which it gets in the register
  std::string after;  ///< checksum of the issue that it comes after, of its train number and day;
                      ///< empty: it is the first
  std::string compared;  ///< what the card is compared by, as it is kept; so the next two
  std::string plan;
  std::string card;
  std::string compared_sha256;
  std::string plan_sha256;
};

/// `last`: the issue that it comes after, of this train number and day; null where it is the first.
ReadyIssue ready_issue(const std::string& train_number, const std::string& day,
                       const LastIssue* last, NewIssue made);

/// What has come of issues that were to be added.
struct AddedIssues {
  std::vector<Issue> issues;  ///< as they are kept, in their order; empty where any was overtaken
  /// Which of them do not come after the last issue of their train number and day any more, since
  /// another was added meanwhile: then none is added.
  std::vector<std::size_t> overtaken;
};

/// What is kept of an issue, or why it cannot be used.
struct KeptBytes {
  std::string bytes;
  std::string wrong;  ///< empty: nothing
};

/// A register of issued cards: one SQLite file to which issues are only added. The database itself
/// refuses to change or delete one. Each has a checksum over all that it holds and over the
/// checksum of the one before, so that what was changed, taken out or put in between behind the
/// program's back is found; that whole issues were cut off at the end is not: for that, keep the
/// last checksum elsewhere. Issues that are added together are one transaction: a process that is
/// killed leaves all of them or none, and two processes at once cannot give the same number. What
/// is said of shared folders in `runs/run_store.h` holds here too. For one thread at a time.
class IssueRegister {
 public:
  /// Opens a register, and makes it, and its folder, where there is none. Refuses a file that is
  /// something else, which is left as it is.
  static std::variant<IssueRegister, std::string> open(const std::string& path);

  IssueRegister(IssueRegister&& other) noexcept;
  IssueRegister& operator=(IssueRegister&& other) noexcept;
  ~IssueRegister();

  /// Every issue in order, or what is wrong: also where the chain of checksums is broken. What was
  /// made of plan and card is not read.
  std::variant<std::vector<Issue>, std::string> issues();

  /// The last issue for a train number and day; nothing where there is none. What is wrong: also
  /// where what is kept of it does not match its checksum.
  std::variant<std::optional<LastIssue>, std::string> last(const std::string& train_number,
                                                           const std::string& day);

  /// Adds issues, all of them or none, in one transaction: nobody else issues meanwhile. Each has
  /// to come after the issue that is the last one then. What went wrong: nothing is added.
  std::variant<AddedIssues, std::string> add(std::span<const ReadyIssue> ready);

  /// The card, or the plan as JSON, of an issue, if it matches its checksum.
  KeptBytes card_of(const Issue& issue);
  KeptBytes plan_of(const Issue& issue);

  /// Looks at every byte that is kept; what is wrong, one sentence each. The first that says the
  /// chain is broken is the last: behind it nothing can be relied on.
  std::vector<std::string> damage();

 private:
  struct State;
  explicit IssueRegister(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace panup
