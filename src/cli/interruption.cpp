#include "cli/interruption.h"

#include <csignal>

namespace panup {

namespace {

// A signal handler can reach nothing else.
volatile std::sig_atomic_t signal_noted =
    0;  // NOLINT(cppcoreguidelines-avoid-non-const-global-variables)

void note(int signal) { signal_noted = signal; }

}  // namespace

void note_interruptions() {
  struct sigaction action {};
  action.sa_handler = note;
  action.sa_flags = static_cast<int>(SA_RESETHAND | SA_RESTART);
  ::sigaction(SIGINT, &action, nullptr);
  ::sigaction(SIGTERM, &action, nullptr);
}

bool interrupted() { return signal_noted != 0; }

void end_as_interrupted() {
  if (!interrupted()) {
    return;
  }
  const int signal = signal_noted;
  static_cast<void>(std::signal(signal, SIG_DFL));
  static_cast<void>(std::raise(signal));
}

}  // namespace panup
