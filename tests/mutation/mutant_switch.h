// Included before everything else in a file that holds mistakes as switches, with
// PANUP_MUTATED_FILE (its name) and PANUP_MUTANTS (how many there are) defined.
//
// PANUP_MUTANT=<file>:<number> in the environment switches one mistake on. PANUP_REACHED=<path>
// appends a line at the end of the process: the file's name and, a digit a mistake, whether its
// place was reached.
#include <cstdio>
#include <cstdlib>
#include <cstring>

static int panup_chosen_mutant = -1;
static char panup_reached_mutants[PANUP_MUTANTS + 1];

static inline bool panup_mutant(int number) {
  panup_reached_mutants[number] = 1;
  return number == panup_chosen_mutant;
}

static void panup_tell_reached() {
  std::FILE* const out = std::fopen(std::getenv("PANUP_REACHED"), "a");
  if (out == nullptr) {
    return;
  }
  for (char& reached : panup_reached_mutants) {
    reached = reached != 0 ? '1' : '0';
  }
  panup_reached_mutants[PANUP_MUTANTS] = 0;
  std::fprintf(out, "%s %s\n", PANUP_MUTATED_FILE, panup_reached_mutants);
  std::fclose(out);
}

// Before the constructors of the program's own static objects, which may hold mistakes as well.
__attribute__((constructor(101))) static void panup_read_mutant() {
  const std::size_t length = sizeof(PANUP_MUTATED_FILE) - 1;
  const char* const wanted = std::getenv("PANUP_MUTANT");
  if (wanted != nullptr && std::strncmp(wanted, PANUP_MUTATED_FILE, length) == 0 &&
      wanted[length] == ':') {
    panup_chosen_mutant = std::atoi(wanted + length + 1);
  }
  if (std::getenv("PANUP_REACHED") != nullptr) {
    std::atexit(panup_tell_reached);
  }
}
