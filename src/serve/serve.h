#pragma once
/// The room `serve`: one page and its interface, offered to a browser on the user's own machine. It
/// asks the same engine as the commands do, with the same requests, and hands out what they hand
/// out: there is no second truth. All state is in the page; kept here are jobs alone.

#include <chrono>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostics.h"

namespace panup {

struct CardRegister;

/// What clients may take of the server.
struct ConnectionLimits {
  std::size_t connections = 256;
  std::size_t streams = 24;                    ///< of events
  std::size_t bytes_in_hand = 64'000'000;      ///< of requests that are not answered yet, together
  std::chrono::milliseconds for_head{5'000};   ///< from the beginning of the connection
  std::chrono::milliseconds for_body{10'000};  ///< from the end of the head
  std::chrono::milliseconds for_reply{20'000};
};

/// What the server is started with.
struct ServeSettings {
  std::string library;               ///< folder of the files that may be read and written
  std::vector<std::string> rules;    ///< rule books that every request is answered with, in order
  std::optional<std::string> store;  ///< file that computed runs are kept in; nothing: none
  std::shared_ptr<CardRegister> issued_cards = {};  ///< null: the page issues none
  int port = 8471;                                  ///< 0: a free one
  int jobs = 0;  ///< threads to use; 0: as many as the machine has
  std::string program_version;
  ConnectionLimits limits = {};
  std::function<void(const std::string&)> warn;  ///< gets what a user should know, one line each
};

/// Where a server listens.
struct ServeAddress {
  std::string address;  ///< "http://127.0.0.1:8471/"
  int port = 0;
  std::string library;  ///< without links and dots
};

/// Serves until `stopped` says so, and then ends running jobs. `listening` is told once requests
/// are taken. What hinders it from listening stands in `mistakes`, and it returns at once.
void serve(const ServeSettings& settings, const std::function<void(const ServeAddress&)>& listening,
           const std::function<bool()>& stopped, Diagnostics& mistakes);

}  // namespace panup
