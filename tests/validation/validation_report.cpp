/// Computes every agreement of the mechanics and writes docs/validation.md and its pictures. Says
/// what does not hold; the exit status is 1 then.
///
/// Usage: validation_report [--sparing] FOLDER
///
/// Sparing, it leaves out most rows of the agreements that take long.

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <tbb/parallel_for.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <string_view>

#include "agreement.h"
#include "drawing/sheets.h"

namespace panup::validation {
namespace {

constexpr SheetSize picture_size{620, 250};

/// With as many digits as a reader can use.
std::string number(double value) {
  const double size = std::abs(value);
  std::string digits = size == std::floor(size) && size < 1e6 ? fmt::format("{:.0f}", size)
                       : size >= 100                          ? fmt::format("{:.1f}", size)
                       : size >= 1                            ? fmt::format("{:.3f}", size)
                       : size >= 1e-6                         ? fmt::format("{:.4g}", size)
                                                              : std::string("0");
  return value < 0 && digits != "0" ? "−" + digits : digits;
}

std::string theirs(const Row& row) {
  return row.least == row.greatest ? number(row.least)
         : row.greatest >= 1e6     ? fmt::format("{} or more", number(row.least))
                               : fmt::format("{} to {}", number(row.least), number(row.greatest));
}

std::string difference(const Row& row) {
  if (row.least == row.greatest) {
    return number(row.ours - row.least);
  }
  return row.in_range()         ? "within"
         : row.ours < row.least ? fmt::format("{} below", number(row.least - row.ours))
                                : fmt::format("{} above", number(row.ours - row.greatest));
}

std::string table_row(const std::vector<std::string>& cells) {
  return fmt::format("| {} |\n", fmt::join(cells, " | "));
}

std::string table_head(const std::vector<std::string>& heads) {
  return table_row(heads) + table_row(std::vector<std::string>(heads.size(), "---"));
}

std::string chapter(std::size_t number_of, const Agreement& agreement) {
  std::string text = fmt::format("\n## {}. {}\n\n{}\n\nSource: {}.\n\n", number_of, agreement.title,
                                 agreement.statement, agreement.source);
  text += table_head({"", "ours", "theirs", "difference", "allowed", "unit", ""});
  for (const Row& row : agreement.rows) {
    text += table_row({row.what, number(row.ours), theirs(row), difference(row),
                       row.least == row.greatest || row.allowed > 0 ? number(row.allowed) : "none",
                       row.unit, row.holds() ? "holds" : "**does not hold**"});
  }
  for (const Table& table : agreement.tables) {
    text += fmt::format("\n{}:\n\n", table.caption) + table_head(table.heads);
    for (const auto& cells : table.rows) {
      text += table_row(cells);
    }
  }
  for (const Picture& picture : agreement.pictures) {
    text += fmt::format("\n![{}](images/validation-{}.svg)\n", picture.caption, picture.name);
  }
  return text;
}

bool write(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file << bytes;
  return file.flush().good();
}

/// What is wrong with an agreement; empty if it holds.
std::string faults(const char* name, const Agreement& agreement) {
  std::string text;
  if (agreement.rows.empty() || agreement.source.empty()) {
    text += fmt::format("{}: no figures or no source\n", name);
  }
  for (const Row& row : agreement.rows) {
    if (!row.holds()) {
      text += fmt::format("{}, {}: ours {} {}, theirs {} to {}, allowed {}\n", name, row.what,
                          row.ours, row.unit, row.least, row.greatest, row.allowed);
    }
  }
  return text;
}

int run(const std::filesystem::path& folder, bool sparing) {
  std::string text =
      "# What the mechanics agrees with\n\n"
      "Made by `build/tests/validation/validation_report docs`, which `./check` runs; not written "
      "by hand. How the mechanics works: "
      "[mechanics.md](mechanics.md).\n";
  std::error_code error;
  std::filesystem::create_directories(folder / "images", error);
  std::vector<NamedAgreement> all = all_agreements();
  if (sparing) {
    std::erase_if(all, [](const NamedAgreement& one) { return one.only_compares; });
  }
  std::vector<Agreement> computed(all.size());
  tbb::parallel_for(std::size_t{0}, all.size(), [&](std::size_t at) {
    computed[at] =
        sparing && all[at].compute_part != nullptr ? all[at].compute_part() : all[at].compute();
  });
  bool written = true;
  std::string wrong;
  for (std::size_t at = 0; at < all.size(); ++at) {
    const Agreement& agreement = computed[at];
    text += chapter(at + 1, agreement);
    wrong += faults(all[at].name, agreement);
    for (const Picture& picture : agreement.pictures) {
      const TextSetter setter;
      written =
          written && write(folder / "images" / ("validation-" + picture.name + ".svg"),
                           sheet_to_svg(picture_size, 0, [&](Canvas& canvas, std::size_t) {
                             draw_diagram(canvas, setter,
                                          {8, 8, picture_size.width - 16, picture_size.height - 16},
                                          picture.diagram);
                           }));
    }
  }
  written = written && write(folder / "validation.md", text);
  if (!written) {
    wrong += fmt::format("{}: could not be written\n", folder.string());
  }
  std::cerr << wrong;
  return wrong.empty() ? 0 : 1;
}

}  // namespace
}  // namespace panup::validation

int main(int argc, char** argv) {
  const bool sparing = argc == 3 && std::string_view(argv[1]) == "--sparing";
  if (argc != 2 && !sparing) {
    std::cerr << "usage: validation_report [--sparing] FOLDER\n";
    return 2;
  }
  return panup::validation::run(argv[argc - 1], sparing);
}
