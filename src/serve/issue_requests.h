#pragma once

#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>

#include "issued/issue_register.h"
#include "serve/job_work.h"
#include "serve/plan_requests.h"
#include "serve/reply.h"

namespace panup {

/// The register of issued cards that the server was started with. One request at a time uses it.
struct CardRegister {
  CardRegister(std::string named, IssueRegister opened)
      : path(std::move(named)), issues(std::move(opened)) {}

  std::string path;
  IssueRegister issues;
  std::mutex in_use;
};

/// What requests for cards are answered from.
struct CardPlace {
  WorkPlace work;
  CardRegister* cards = nullptr;  ///< null: the server has none
};

/// How the cards of a day of the library stand.
Reply reply_to_issued(const std::string& body, const CardPlace& place, const Stopped& stopped = {});
/// Issues the cards of trains of a day of the library: all that are asked for, or none.
Reply reply_to_issuing(const std::string& body, const CardPlace& place,
                       const Stopped& stopped = {});

/// The place of an issue in the path of its card, "/api/issued/PLACE/card"; nothing where the path
/// is another.
std::optional<std::int64_t> card_in_path(std::string_view path);
/// The card itself.
Reply reply_to_issued_card(std::int64_t place_in_register, CardRegister* cards);

}  // namespace panup
