#pragma once

#include <sqlite3.h>

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

namespace panup {

/// A prepared statement of SQLite. Where it could not be prepared, every step fails, and the
/// database says why.
class Statement {
 public:
  Statement(sqlite3* database, std::string_view sql) {
    sqlite3_stmt* made = nullptr;
    sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &made, nullptr);
    made_.reset(made);
  }

  void bind(int place, std::int64_t value) { sqlite3_bind_int64(made_.get(), place, value); }
  void bind_text(int place, std::string_view value) {
    sqlite3_bind_text(made_.get(), place, value.data(), static_cast<int>(value.size()),
                      SQLITE_TRANSIENT);
  }
  void bind_bytes(int place, std::string_view value) {
    sqlite3_bind_blob(made_.get(), place, value.data(), static_cast<int>(value.size()),
                      SQLITE_TRANSIENT);
  }

  /// SQLITE_ROW, SQLITE_DONE, or what went wrong.
  int step() { return made_ ? sqlite3_step(made_.get()) : SQLITE_ERROR; }
  /// True where it ran to its end.
  bool run() {
    int status = step();
    while (status == SQLITE_ROW) {
      status = step();
    }
    return status == SQLITE_DONE;
  }
  void reset() { sqlite3_reset(made_.get()); }

  std::int64_t number(int column) const { return sqlite3_column_int64(made_.get(), column); }
  bool is_null(int column) const { return sqlite3_column_type(made_.get(), column) == SQLITE_NULL; }
  std::string_view bytes(int column) const {
    const void* const data = sqlite3_column_blob(made_.get(), column);
    const int size = sqlite3_column_bytes(made_.get(), column);
    return data == nullptr
               ? std::string_view()
               : std::string_view(static_cast<const char*>(data), static_cast<std::size_t>(size));
  }

 private:
  struct Finalize {
    void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
  };
  std::unique_ptr<sqlite3_stmt, Finalize> made_;
};

}  // namespace panup
