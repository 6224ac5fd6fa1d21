#include "requests/check_text.h"

#include "files/document.h"
#include "files/read_conditions.h"
#include "files/read_consents.h"
#include "files/read_contact_line.h"
#include "files/read_day.h"
#include "files/read_defects.h"
#include "files/read_measured_record.h"
#include "files/read_network.h"
#include "files/read_pantograph_model.h"
#include "files/read_practice_cases.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_run.h"
#include "files/read_speed_table.h"
#include "files/read_stock.h"
#include "files/read_train.h"
#include "files/read_what_if.h"

namespace panup {

namespace {

void check_rule_book(const SourceText& source, const std::vector<SourceText>& earlier_books,
                     Diagnostics& diagnostics) {
  const RuleBook built_in = built_in_rule_book();
  if (add_rule_book(built_in, source, std::nullopt, diagnostics)) {
    return;
  }
  for (const SourceText& earlier : earlier_books) {
    Diagnostics unsaid;
    const auto before = add_rule_book(built_in, earlier, std::nullopt, unsaid);
    if (before && add_rule_book(*before, source, std::nullopt, unsaid)) {
      diagnostics.clear();
      return;
    }
  }
}

}  // namespace

Diagnostics mistakes_in(const SourceText& source, const FileSource& files,
                        const std::vector<SourceText>& earlier_books) {
  Diagnostics diagnostics;
  const auto root = parse_toml(source, diagnostics);
  const auto kind = root ? kind_of_file(*root, source.file, diagnostics) : std::nullopt;
  if (!kind) {
    return diagnostics;
  }
  diagnostics.clear();  // what reading it says again
  switch (*kind) {
    case FileKind::stock:
      read_stock({source}, diagnostics, PantographTypes::not_looked_up);
      break;
    case FileKind::train:
      read_train_file(source.file, diagnostics, files);
      break;
    case FileKind::route:
      read_route(source, diagnostics);
      break;
    case FileKind::conditions:
      if (is_for_networks(source)) {
        read_network_conditions(source, nullptr, diagnostics);
      } else {
        read_conditions(source, nullptr, diagnostics);
      }
      break;
    case FileKind::rule_book:
      check_rule_book(source, earlier_books, diagnostics);
      break;
    case FileKind::contact_line:
      read_contact_line(source, diagnostics);
      break;
    case FileKind::pantograph_model:
      read_pantograph_model(source, diagnostics);
      break;
    case FileKind::consents:
      read_consents(source, diagnostics);
      break;
    case FileKind::measured_force:
      read_measured_record(source, diagnostics);
      break;
    case FileKind::speed_table:
      read_speed_table(source, diagnostics);
      break;
    case FileKind::day:
      read_day(source, files, diagnostics);
      break;
    case FileKind::defects:
      read_defects(source, diagnostics);
      break;
    case FileKind::what_if:
      read_what_if(source, diagnostics);
      break;
    case FileKind::network:
      read_network(source, diagnostics);
      break;
    case FileKind::run:
      read_run(source, diagnostics);
      break;
    case FileKind::practice_cases:
      read_practice_cases(source, diagnostics);
      break;
  }
  return diagnostics;
}

}  // namespace panup
