#pragma once

namespace panup {

/// From now on Ctrl-C and a request to end (SIGINT, SIGTERM) only leave a note, so that long work
/// can be put away first. A second one ends the program at once.
void note_interruptions();

/// Whether one came.
bool interrupted();

/// Ends the program by the signal that came, as who waits for it expects; does nothing if none did.
void end_as_interrupted();

}  // namespace panup
