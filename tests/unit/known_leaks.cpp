// Read by the address sanitizer where the tests are built with it; else called by nobody.
// fontconfig keeps a pattern it made while matching the first font of a process.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:libfontconfig\n"; }
