#pragma once

#include <functional>
#include <memory>
#include <optional>
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

/// What is kept of an issue, or why it cannot be used.
struct KeptBytes {
  std::string bytes;
  std::string wrong;  ///< empty: nothing
};

/// A register of issued cards: one SQLite file to which issues are only added. The database itself
/// refuses to change or delete one. Each has a checksum over all that it holds and over the
/// checksum of the one before, so that what was changed, taken out or put in between behind the
/// program's back is found; that whole issues were cut off at the end is not: for that, keep the
/// last checksum elsewhere. Each issue, or all those of `together`, is one transaction: a process
/// that is killed leaves the whole of it or none, and two processes at once cannot give the same
/// number. What is said of shared folders in `runs/run_store.h` holds here too. For one thread at a
/// time.
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

  /// Adds an issue. `write` is called with the last one of this train number and day, null where
  /// there is none, and the number that this one gets; nobody else issues meanwhile. Where it
  /// returns nothing, nothing is issued. The issue as it is kept, nothing, or what went wrong.
  using Write = std::function<std::optional<NewIssue>(const LastIssue* last, int number)>;
  std::variant<std::optional<Issue>, std::string> add(const std::string& train_number,
                                                      const std::string& day, const Write& write);

  /// Makes one transaction of all that `work` adds: the whole of it where it returns true, and
  /// nothing where it returns false. What went wrong, or empty.
  std::string together(const std::function<bool()>& work);

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
