#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <limits>

#include "bad_input_cases.h"
#include "files/check_route.h"
#include "files/read_conditions.h"
#include "files/read_consents.h"
#include "files/read_contact_line.h"
#include "files/read_day.h"
#include "files/read_defects.h"
#include "files/read_measured_record.h"
#include "files/read_network.h"
#include "files/read_pantograph_model.h"
#include "files/read_route.h"
#include "files/read_rule_book.h"
#include "files/read_run.h"
#include "files/read_speed_table.h"
#include "files/read_train.h"
#include "files/read_what_if.h"
#include "input_texts.h"

namespace panup {

namespace {

SourceText source_of(FileKind kind) {
  return {.file = std::string(name_of(kind)), .text = std::string(right_text(kind))};
}

Stock stock_read() {
  Diagnostics diagnostics;
  Stock stock = read_stock({source_of(FileKind::stock)}, diagnostics);
  EXPECT_EQ(lines_of(diagnostics), "");
  return stock;
}

Route route_read() {
  Diagnostics diagnostics;
  auto route = read_route(source_of(FileKind::route), diagnostics);
  EXPECT_EQ(lines_of(diagnostics), "");
  return route.value_or(Route{});
}

TEST(ReadStock, KeepsWhatTheFileStates) {
  const Stock stock = stock_read();
  ASSERT_EQ(stock.pantographs.size(), 2U);
  const PantographType& head = *stock.pantographs[0];
  EXPECT_EQ(head.id, "h1");
  EXPECT_EQ(head.name, "Head one");
  EXPECT_EQ(head.head_width_mm, 1950);
  EXPECT_EQ(head.strip_count, 2);
  EXPECT_EQ(head.strip_material, StripMaterial::plain_carbon);
  EXPECT_EQ(head.frame, PantographFrame::single_arm);
  EXPECT_TRUE(head.automatic_dropping_device);
  EXPECT_EQ(head.working_height_min_m, 4.8);
  EXPECT_EQ(head.working_height_max_m, 6.5);
  EXPECT_EQ(head.raising_time_s, 6);
  EXPECT_EQ(head.lowering_time_s, 4);
  ASSERT_NE(supply_of(head, EnergySupply::ac_15kv), nullptr);
  EXPECT_EQ(supply_of(head, EnergySupply::ac_15kv)->static_force_n, 70);
  EXPECT_EQ(supply_of(head, EnergySupply::ac_15kv)->running_current_a, 700);
  EXPECT_EQ(supply_of(head, EnergySupply::ac_15kv)->standstill_current_a, 80);
  EXPECT_EQ(supply_of(head, EnergySupply::dc_3kv), nullptr);
  EXPECT_EQ(head.place.line, 4);
  EXPECT_EQ(stock.pantographs[1]->frame, PantographFrame::diamond);
  EXPECT_EQ(stock.pantographs[1]->name, "d1") << "the id stands in for a name";
}

TEST(ReadStock, NumbersPantographsFromCab1AndKeepsTheirKnucklesAndHalves) {
  const Stock stock = stock_read();
  ASSERT_EQ(stock.vehicles.size(), 3U);
  const VehicleType& k41 = *stock.vehicles[0];
  EXPECT_EQ(k41.kind, VehicleKind::locomotive);
  EXPECT_TRUE(k41.roof_line);
  ASSERT_EQ(k41.power.size(), 1U);
  EXPECT_EQ(k41.power[0].power_kw, 5600);
  ASSERT_EQ(k41.pantographs.size(), 2U);
  EXPECT_EQ(k41.pantographs[0].number, 1);
  EXPECT_EQ(k41.pantographs[0].from_cab1_m, 5.2);
  EXPECT_EQ(k41.pantographs[0].knuckle_towards, Cab::cab1);
  EXPECT_EQ(k41.pantographs[0].nearer_cab, Cab::cab1);
  EXPECT_EQ(k41.pantographs[1].number, 2);
  EXPECT_EQ(k41.pantographs[1].knuckle_towards, Cab::cab2);
  EXPECT_EQ(k41.pantographs[1].nearer_cab, Cab::cab2);
  EXPECT_EQ(stock.vehicles[1]->pantographs[0].nearer_cab, Cab::cab2) << "in the middle, as stated";
  EXPECT_EQ(stock.vehicles[2]->kind, VehicleKind::wagon_group);
}

TEST(ReadStock, AVehicleIsForTheSystemsOfItsPowerAndForThoseItNames) {
  std::string text = source_of(FileKind::stock).text;
  const std::string place = "length_m = 16\n";
  text.replace(text.find(place), place.size(), place + "systems = [\"AC 25 kV 50 Hz\"]\n");
  Diagnostics diagnostics;
  const Stock stock = read_stock({{.file = "f.toml", .text = text}}, diagnostics);
  ASSERT_EQ(stock.vehicles.size(), 3U) << lines_of(diagnostics);
  const VehicleType& type = *stock.vehicles[1];
  EXPECT_TRUE(is_for(type, EnergySupply::dc_3kv)) << "its power";
  EXPECT_TRUE(is_for(type, EnergySupply::ac_25kv)) << "named";
  EXPECT_FALSE(is_for(type, EnergySupply::ac_15kv));
}

TEST(ReadTrain, TakesLengthAndSpeedOfWagonsFromTheirType) {
  Diagnostics diagnostics;
  const auto train = read_train(source_of(FileKind::train), stock_read(), diagnostics);
  ASSERT_TRUE(train) << lines_of(diagnostics);
  EXPECT_EQ(train->name, "Petrol to Varn");
  EXPECT_EQ(train->operated_by, "Nordvale Freight");
  EXPECT_EQ(train->highest_speed_kmh, 100);
  ASSERT_EQ(train->consist.size(), 2U);
  const auto& vehicle = std::get<Vehicle>(train->consist[0]);
  EXPECT_EQ(vehicle.number, 1);
  EXPECT_EQ(vehicle.id, "K41 007");
  EXPECT_EQ(vehicle.leading_cab, Cab::cab1);
  EXPECT_FALSE(vehicle.dead_in_tow);
  EXPECT_EQ(vehicle.defective, std::vector{2});
  ASSERT_EQ(vehicle.demand.size(), 1U);
  EXPECT_EQ(vehicle.demand[0].running_a, 500);
  const auto& load = std::get<LoadGroup>(train->consist[1]);
  EXPECT_EQ(load.nature, LoadNature::dangerous);
  EXPECT_EQ(load.length_m, 300);
  EXPECT_EQ(load.highest_speed_kmh, 90);
  ASSERT_EQ(train->consents.size(), 1U);
  EXPECT_EQ(train->consents[0].distance_m, 7.5);
  EXPECT_EQ(train->consents[0].sections, std::vector<std::string>{"a1"});
}

TEST(ReadTrain, KeepsWhatTheOfficeStates) {
  SourceText source = source_of(FileKind::train);
  Diagnostics diagnostics;
  const auto unstated = read_train(source, stock_read(), diagnostics);
  ASSERT_TRUE(unstated) << lines_of(diagnostics);
  EXPECT_EQ(unstated->release.train_number, "");
  EXPECT_EQ(unstated->release.issue, std::nullopt);
  source.text +=
      "\n[release]\ntrain_number = \"60412\"\ndate = 2031-05-12\nissue = 3\n"
      "made_by = \"Ida Brandt\"\nholds_until = 2031-05-12\n";
  const auto train = read_train(source, stock_read(), diagnostics);
  ASSERT_TRUE(train) << lines_of(diagnostics);
  EXPECT_EQ(train->release.train_number, "60412");
  EXPECT_EQ(train->release.date, "2031-05-12");
  EXPECT_EQ(train->release.days, "");
  EXPECT_EQ(train->release.issue, 3);
  EXPECT_EQ(train->release.made_by, "Ida Brandt");
  EXPECT_EQ(train->release.holds_until, "2031-05-12") << "it may hold for that day alone";
}

TEST(ReadTrain, ReadsTheOtherCabAndCountsVehiclesWithoutLoads) {
  SourceText source = source_of(FileKind::train);
  source.text += "\n[[consist]]\nvehicle = \"m10\"\nleading_cab = 2\ndead_in_tow = true\n";
  Diagnostics diagnostics;
  const auto train = read_train(source, stock_read(), diagnostics);
  ASSERT_TRUE(train) << lines_of(diagnostics);
  const auto& second = std::get<Vehicle>(train->consist.at(2));
  EXPECT_EQ(second.number, 2);
  EXPECT_EQ(second.id, "vehicle 2");
  EXPECT_EQ(second.leading_cab, Cab::cab2);
  EXPECT_TRUE(second.dead_in_tow);
}

TEST(ReadRoute, TakesFromTheProfileOnlyWhatTheSectionDoesNotState) {
  const Route route = route_read();
  ASSERT_EQ(route.sections.size(), 2U);
  const Section& first = route.sections[0];
  EXPECT_EQ(first.supply, EnergySupply::ac_15kv) << "from the profile";
  EXPECT_EQ(first.line_speed_kmh, 120) << "from the profile";
  EXPECT_EQ(first.design_type, DesignType::b);
  EXPECT_EQ(first.permitted_head_widths_mm, std::vector<double>{1950});
  EXPECT_EQ(first.automatic_dropping_device_required, true);
  ASSERT_EQ(first.records.size(), 2U);
  EXPECT_EQ(first.records[0].number, 2);
  EXPECT_EQ(first.records[0].distance_m, 85);
  EXPECT_EQ(first.records[0].speed_kmh, 110);
  EXPECT_EQ(first.records[1].distance_m, 0);
  SourceText source = source_of(FileKind::route);
  source.text.replace(source.text.find("profile = \"upland\"\n"), 19,
                      "profile = \"upland\"\nline_speed_kmh = 90\n");
  Diagnostics diagnostics;
  const auto slower = read_route(source, diagnostics);
  ASSERT_TRUE(slower) << lines_of(diagnostics);
  EXPECT_EQ(slower->sections[0].line_speed_kmh, 90) << "the section's own goes first";
  EXPECT_EQ(slower->sections[0].supply, EnergySupply::ac_15kv);
}

TEST(RouteNotices, PointAtARecordThatAnotherContradicts) {
  SourceText source = source_of(FileKind::route);
  const std::string of_one = "{ number = 1, speed_kmh = 120 }";
  source.text.replace(source.text.find(of_one), of_one.size(),
                      "{ number = 2, distance_m = 100, speed_kmh = 90 }");
  Diagnostics diagnostics;
  const auto route = read_route(source, diagnostics);
  ASSERT_TRUE(route) << lines_of(diagnostics);
  EXPECT_EQ(to_line(notices_on(*route).front()),
            "route:22:3: two records of 'a1' contradict each other: \"2 raised, 85 m apart: 110 "
            "km/h\", but \"2 raised, 100 m apart: 90 km/h\", in line 23, which is the easier case; "
            "the lower speed, 90 km/h, is taken for both. Ask the infrastructure manager which of "
            "them is right");
}

TEST(RouteNotices, PointAtWhatIsPassedWithoutPowerOnAnUnknownGradient) {
  SourceText source = source_of(FileKind::route);
  Diagnostics diagnostics;
  EXPECT_EQ(
      lines_of(notices_on(route_read())),
      "route:33:1: 'Border' is passed without power, and no gradient is stated from km 9.900 "
      "to 10.100: whether a train comes to a stand in it is then not known. State "
      "[[gradient]] from a train's length before breaker off to breaker on\n"
      "route:42:1: 'Gantry' is passed without power, and no gradient is stated from km 15.000 "
      "to 15.300: whether a train comes to a stand in it is then not known. State "
      "[[gradient]] from a train's length before breaker off to breaker on\n");
  source.text +=
      "\n[[gradient]]\nfrom_km = 8\nto_km = 10\npermille = 1\n"
      "[[gradient]]\nfrom_km = 10.05\nto_km = 16\npermille = 2\n";
  const auto part = read_route(source, diagnostics);
  ASSERT_TRUE(part) << lines_of(diagnostics);
  const Diagnostics notices = notices_on(*part);
  ASSERT_EQ(notices.size(), 1U);
  EXPECT_NE(notices[0].text.find("'Border'"), std::string::npos);
  EXPECT_NE(notices[0].text.find("from km 10.000 to 10.050:"), std::string::npos);
}

TEST(TrainNotices, PointAtALoadWhoseSpeedNobodyStates) {
  SourceText source = source_of(FileKind::train);
  source.text += "\n[[consist]]\nload = \"gravel\"\nnature = \"ordinary\"\nlength_m = 100\n";
  Diagnostics diagnostics;
  auto train = read_train(source, stock_read(), diagnostics);
  ASSERT_TRUE(train) << lines_of(diagnostics);
  EXPECT_TRUE(notices_on(*train).empty()) << "the train states a speed for all of it";
  train->highest_speed_kmh.reset();
  const Diagnostics notices = notices_on(*train);
  ASSERT_EQ(notices.size(), 1U) << "wagons have the speed of their type";
  EXPECT_EQ(notices[0].text.substr(0, 54),
            "how fast the load 'gravel' may run is not stated: add ");
}

TEST(ReadRoute, LeavesUnstatedWhatIsNotStated) {
  const Section second = route_read().sections.at(1);
  EXPECT_EQ(second.name, "a2");
  EXPECT_FALSE(second.permitted_head_widths_mm);
  EXPECT_FALSE(second.permitted_strip_materials);
  EXPECT_FALSE(second.automatic_dropping_device_required);
  EXPECT_FALSE(second.design_type);
  EXPECT_FALSE(second.greatest_train_current_a);
  EXPECT_FALSE(second.wire_height_min_m);
}

TEST(ReadRoute, KeepsSeparationsStopsAndLandmarks) {
  const Route route = route_read();
  ASSERT_EQ(route.separations.size(), 1U);
  EXPECT_EQ(route.separations[0].kind, SeparationKind::system);
  EXPECT_TRUE(route.separations[0].pantograph_lowered);
  EXPECT_EQ(route.separations[0].length_meaning, LengthMeaning::minimum_between_inner);
  ASSERT_EQ(route.lowered.size(), 1U);
  EXPECT_EQ(route.lowered[0].to_km, 15.3);
  ASSERT_EQ(route.stops.size(), 1U);
  EXPECT_FALSE(route.stops[0].reversal);
  ASSERT_EQ(route.landmarks.size(), 1U);
  EXPECT_TRUE(route.landmarks[0].change_on_the_move);
}

std::vector<std::pair<double, double>> ice_of(const std::string& ice, const Route* route) {
  Diagnostics diagnostics;
  const auto conditions = read_conditions(
      {.file = "day", .text = "kind = \"conditions\"\nname = \"Day\"\nice = " + ice + "\n"}, route,
      diagnostics);
  EXPECT_TRUE(conditions) << lines_of(diagnostics);
  std::vector<std::pair<double, double>> stretches;
  for (const IceStretch& stretch : conditions.value_or(Conditions{}).ice) {
    stretches.emplace_back(stretch.from_km, stretch.to_km);
  }
  return stretches;
}

TEST(ReadConditions, MergesIceThatTouchesAndSortsIt) {
  const Route route = route_read();
  using Stretches = std::vector<std::pair<double, double>>;
  EXPECT_EQ(ice_of("\"everywhere\"", &route), (Stretches{{0, 20}}));
  EXPECT_EQ(ice_of("[{ section = \"a2\" }, { from_km = 4, to_km = 7 }]", &route),
            (Stretches{{4, 7}, {10, 20}}));
  EXPECT_EQ(ice_of("[{ section = \"a2\" }, { from_km = 4, to_km = 10 }, { from_km = 5, to_km = 6 "
                   "}]",
                   &route),
            (Stretches{{4, 20}}));
  EXPECT_EQ(ice_of("[]", &route), Stretches{});
}

TEST(ReadRuleBook, RecordsWhatALaterBookChanges) {
  Diagnostics diagnostics;
  const RuleBook before = built_in_rule_book();
  const auto book =
      add_rule_book(before, source_of(FileKind::rule_book), std::nullopt, diagnostics);
  ASSERT_TRUE(book) << lines_of(diagnostics);
  EXPECT_EQ(book->names, (std::vector<std::string>{"practice", "Nordvale rules"}));
  EXPECT_EQ(book->rules.size(), before.rules.size() + 1);
  ASSERT_EQ(book->overrides.size(), 3U);
  EXPECT_EQ(book->overrides[0].id, "ice-speed");
  EXPECT_EQ(book->overrides[0].earlier_book, "practice");
  EXPECT_EQ(book->overrides[0].later_book, "Nordvale rules");
  EXPECT_EQ(book->overrides[0].what, (std::vector<std::string>{"on", "speed_kmh"}));
  const Rule* const ice = find_rule(*book, "ice-speed");
  ASSERT_NE(ice, nullptr);
  EXPECT_EQ(ice->numbers.at("speed_kmh"), 60);
  EXPECT_EQ(ice->statement, find_rule(before, "ice-speed")->statement) << "not stated: stays";
  EXPECT_FALSE(find_rule(before, "ice-speed")->numbers.contains("speed_kmh"))
      << "practice leaves the number to the operator";
  const Rule* const own = find_rule(*book, "own-load-rule");
  ASSERT_NE(own, nullptr);
  EXPECT_EQ(own->kind, RuleKind::load_protection);
  EXPECT_EQ(own->lists.at("natures"), std::vector<std::string>{"sensitive"});
}

/// What is cited for a rule of practice when later books hold these entries, each without its id.
std::string cited(const std::string& id, const std::vector<std::string>& entries) {
  RuleBook book = built_in_rule_book();
  Diagnostics diagnostics;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const auto later =
        add_rule_book(book,
                      {.file = "later",
                       .text = "kind = \"rule book\"\nname = \"book " + std::to_string(i + 1) +
                               "\"\n[[rule]]\nid = \"" + id + "\"\n" + entries[i]},
                      std::nullopt, diagnostics);
    EXPECT_TRUE(later) << lines_of(diagnostics);
    book = later.value_or(book);
  }
  const Rule& rule = *find_rule(book, id);
  return std::string(name_of(rule.standing)) + ": " + rule.source;
}

TEST(ReadRuleBook, APublishedTableStaysCitedToItsSourceWhenALaterBookChangesOneNumber) {
  const std::string table =
      "published: Regulation (EU) No 1301/2014, table 4.2.13 (from memory, to be confirmed)";
  EXPECT_EQ(cited("design-spacing", {"source = \"rules of A\"\nspeed_without_proof_kmh = 30\n"}),
            table + "; speed_without_proof_kmh: rules of A");
  EXPECT_EQ(cited("design-spacing", {"speed_without_proof_kmh = 30\n"}),
            table + "; speed_without_proof_kmh: rule book \"book 1\"");
  EXPECT_EQ(cited("design-spacing", {"source = \"rules of A\"\nstanding = \"operator\"\n"
                                     "strength = \"forbidden\"\nspeed_without_proof_kmh = 30\n"}),
            table + "; strength, speed_without_proof_kmh: operator, rules of A");
}

TEST(ReadRuleBook, OfSeveralLaterBooksEachIsCitedForWhatItChangedLast) {
  const std::string first = "source = \"rules of A\"\nlowest_speed_kmh = 15\nstrength = \"note\"\n";
  const std::string second = "source = \"rules of B\"\nstrength = \"last resort\"\n";
  const std::string by_both = cited("coasting", {first, second});
  EXPECT_TRUE(by_both.starts_with("practice: common practice, no published source; ")) << by_both;
  EXPECT_TRUE(by_both.ends_with("; lowest_speed_kmh: rules of A; strength: rules of B")) << by_both;
}

TEST(ReadRuleBook, ALaterBookThatStatesEveryParameterAnewIsCitedAlone) {
  EXPECT_EQ(cited("ice-speed", {"source = \"rules of A\"\nstanding = \"operator\"\n"
                                "speed_kmh = 50\n"}),
            "operator: rules of A");
  EXPECT_EQ(cited("ice-speed", {"speed_kmh = 50\n"}), "practice: rule book \"book 1\"");
  EXPECT_EQ(cited("coasting", {"source = \"rules of A\"\nlowest_speed_kmh = 15\n"
                               "rotating_mass_factor = 1.1\n"}),
            "practice: rules of A");
}

TEST(ReadRuleBook, ALaterBookThatStatesNothingButTheSourceIsCitedForAll) {
  EXPECT_EQ(cited("line-record", {"source = \"letter of 3 May\"\n"}), "published: letter of 3 May");
  EXPECT_EQ(cited("line-record", {"reason = \"As agreed.\"\n"}),
            "published: infrastructure register: number of raised pantographs, distance between "
            "them, at the given speed");
}

TEST(ReadRuleBook, ALaterBookLimitsARuleAnewOrLiftsTheLimit) {
  const auto add = [](const RuleBook& before, const std::string& keys) {
    Diagnostics diagnostics;
    auto book = add_rule_book(before,
                              {.file = keys + ".toml",
                               .text = "kind = \"rule book\"\nname = \"Later\"\n[[rule]]\n"
                                       "id = \"ice-speed\"\n" +
                                       keys + "\n"},
                              std::nullopt, diagnostics);
    EXPECT_TRUE(book) << lines_of(diagnostics);
    return book.value_or(before);
  };
  const auto limits = [](const RuleBook& book) { return find_rule(book, "ice-speed")->only_for; };
  const RuleBook first =
      add(built_in_rule_book(), "only_for = { lines = [\"7\"], loads = [\"dangerous\"] }");
  EXPECT_EQ(limits(first), (OnlyFor{.lines = {"7"}, .loads = {"dangerous"}}));
  EXPECT_EQ(first.overrides.back().what, std::vector<std::string>{"only_for"});
  EXPECT_EQ(limits(add(first, "speed_kmh = 50")), limits(first)) << "not stated: stays";
  EXPECT_EQ(limits(add(first, "only_for = { classes = [\"k41\"] }")), OnlyFor{.classes = {"k41"}})
      << "as a whole";
  EXPECT_TRUE(limits(add(first, "only_for = {}")).empty());
}

TEST(ReadRuleBook, KeepsSpacingRowsByRisingSpeedTheLastUnbounded) {
  Diagnostics diagnostics;
  const auto book = add_rule_book(built_in_rule_book(), source_of(FileKind::rule_book),
                                  std::nullopt, diagnostics);
  ASSERT_TRUE(book) << lines_of(diagnostics);
  const std::vector<SpacingRow>& rows = find_rule(*book, "design-spacing")->spacing;
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[0].up_to_kmh, 80);
  EXPECT_EQ(rows[0].dc_3kv_m, (std::array<double, 3>{9, 9, 9}));
  EXPECT_EQ(rows[1].ac_m, (std::array<double, 3>{20, 15, 15}));
  EXPECT_EQ(rows[2].up_to_kmh, std::numeric_limits<double>::infinity());
  EXPECT_EQ(rows[2].dc_1500v_m, (std::array<double, 3>{200, 200, 35}));
}

TEST(ReadDemo, EveryFileIsReadWithoutAMistake) {
  namespace fs = std::filesystem;
  int files = 0;
  RuleBook books = built_in_rule_book();
  std::vector<std::string> paths;
  for (const auto& entry : fs::recursive_directory_iterator(PANUP_DEMO_FOLDER)) {
    if (entry.path().extension() == ".toml") {
      paths.push_back(entry.path().string());
    }
  }
  std::sort(paths.begin(), paths.end());
  std::vector<SourceText> stock_sources;
  for (const std::string& path : paths) {
    Diagnostics diagnostics;
    const auto source = load_text(path, diagnostics);
    ASSERT_TRUE(source) << lines_of(diagnostics);
    const auto root = parse_toml(*source, diagnostics);
    ASSERT_TRUE(root) << lines_of(diagnostics);
    const auto kind = kind_of_file(*root, path, diagnostics);
    ASSERT_TRUE(kind) << lines_of(diagnostics);
    switch (*kind) {
      case FileKind::stock:
        stock_sources.push_back(*source);
        break;
      case FileKind::train: {
        const auto train = read_train_file(path, diagnostics);
        EXPECT_TRUE(train && train->train.invented) << path;
        break;
      }
      case FileKind::route: {
        const auto route = read_route(*source, diagnostics);
        EXPECT_TRUE(route && route->invented) << path;
        break;
      }
      case FileKind::network: {
        const auto network = read_network(*source, diagnostics);
        EXPECT_TRUE(network && network->invented) << path;
        break;
      }
      case FileKind::run: {
        const auto run = read_run(*source, diagnostics);
        EXPECT_TRUE(run && run->invented) << path;
        break;
      }
      case FileKind::conditions: {
        if (is_for_networks(*source)) {
          const auto conditions = read_network_conditions(*source, nullptr, diagnostics);
          EXPECT_TRUE(conditions && conditions->invented) << path;
          break;
        }
        const auto conditions = read_conditions(*source, nullptr, diagnostics);
        EXPECT_TRUE(conditions && conditions->invented) << path;
        break;
      }
      case FileKind::rule_book:
        EXPECT_TRUE(add_rule_book(books, *source, std::nullopt, diagnostics)) << path;
        break;
      case FileKind::contact_line: {
        const auto line = read_contact_line(*source, diagnostics);
        EXPECT_TRUE(line && line->invented) << path;
        break;
      }
      case FileKind::pantograph_model: {
        const auto model = read_pantograph_model(*source, diagnostics);
        EXPECT_TRUE(model && model->invented) << path;
        break;
      }
      case FileKind::consents:
        EXPECT_TRUE(read_consents(*source, diagnostics)) << path;
        break;
      case FileKind::measured_force: {
        const auto record = read_measured_record(*source, diagnostics);
        EXPECT_TRUE(record && record->invented) << path;
        break;
      }
      case FileKind::speed_table: {
        const auto job = read_speed_table(*source, diagnostics);
        EXPECT_TRUE(job && job->invented) << path;
        break;
      }
      case FileKind::day: {
        const auto day = read_day(*source, files_on_disk(), diagnostics);
        EXPECT_TRUE(day && day->invented) << path;
        break;
      }
      case FileKind::defects:
        EXPECT_TRUE(read_defects(*source, diagnostics)) << path;
        break;
      case FileKind::what_if: {
        const auto what_if = read_what_if(*source, diagnostics);
        EXPECT_TRUE(what_if && what_if->invented) << path;
        break;
      }
      case FileKind::practice_cases:
        ADD_FAILURE() << path << ": cases of practice stand in a folder of their own";
        break;
    }
    EXPECT_EQ(lines_of(diagnostics), "");
    ++files;
  }
  Diagnostics of_stock;
  EXPECT_FALSE(read_stock(stock_sources, of_stock).vehicles.empty());
  EXPECT_EQ(lines_of(of_stock), "");
  EXPECT_GT(files, 20) << "the demo folder holds the demo";
}

TEST(LoadText, SaysWhyAFileCannotBeRead) {
  Diagnostics diagnostics;
  EXPECT_FALSE(load_text("no-such-folder/no-such-file.toml", diagnostics));
  EXPECT_FALSE(load_text(PANUP_DEMO_FOLDER, diagnostics));
  EXPECT_EQ(lines_of(diagnostics), "no-such-folder/no-such-file.toml: there is no such file\n" +
                                       std::string(PANUP_DEMO_FOLDER) +
                                       ": this is a folder, expected a file\n");
}

}  // namespace

}  // namespace panup
