#include <gtest/gtest.h>

#include <filesystem>

#include "files/read_train.h"
#include "serve/train_model.h"

namespace panup {
namespace {

namespace fs = std::filesystem;

const fs::path trains = fs::path(PANUP_DATA_FOLDER) / "demo" / "trains";

/// Vehicles that may be joined by a high-voltage line; those of the demo have no couplers for it.
std::optional<SourceText> coupled(std::optional<SourceText> stock) {
  constexpr std::string_view without = "high_voltage_coupler = false";
  for (std::size_t at = 0; stock && (at = stock->text.find(without)) != std::string::npos;) {
    stock->text.erase(at, without.size());
  }
  return stock;
}

/// Reads `text` as if it were the file.
TrainFiles read_as(const std::string& path, const std::string& text) {
  FileSource files = files_on_disk();
  files.load = [=](const std::string& asked, Diagnostics& diagnostics) {
    if (asked.ends_with("consents-of-all.toml")) {
      return std::optional(SourceText{
          .file = asked,
          .text = "kind = \"consents\"\n[[consent]]\nreference = \"S\"\ngiven_by = \"N\"\n"
                  "rule = \"coasting\"\n"});
    }
    return asked == path ? std::optional(SourceText{.file = path, .text = text})
                         : coupled(load_text(asked, diagnostics));
  };
  Diagnostics diagnostics;
  auto read = read_train_file(path, diagnostics, files);
  EXPECT_TRUE(read) << (diagnostics.empty() ? "" : to_line(diagnostics.front())) << "\n" << text;
  return read ? std::move(*read) : TrainFiles{};
}

void expect_same(const RunningData& a, const RunningData& b) {
  EXPECT_EQ(a.mass_t, b.mass_t);
  ASSERT_EQ(a.resistance.has_value(), b.resistance.has_value());
  if (a.resistance) {
    EXPECT_EQ(a.resistance->a_n, b.resistance->a_n);
    EXPECT_EQ(a.resistance->b_n_per_kmh, b.resistance->b_n_per_kmh);
    EXPECT_EQ(a.resistance->c_n_per_kmh2, b.resistance->c_n_per_kmh2);
  }
}

void expect_same(const Vehicle& a, const Vehicle& b) {
  EXPECT_EQ(a.number, b.number);
  EXPECT_EQ(a.id, b.id);
  EXPECT_EQ(a.type->id, b.type->id);
  EXPECT_EQ(a.leading_cab, b.leading_cab);
  EXPECT_EQ(a.dead_in_tow, b.dead_in_tow);
  EXPECT_EQ(a.defective, b.defective);
  ASSERT_EQ(a.demand.size(), b.demand.size());
  for (std::size_t i = 0; i < a.demand.size(); ++i) {
    EXPECT_EQ(a.demand[i].supply, b.demand[i].supply);
    EXPECT_EQ(a.demand[i].running_a, b.demand[i].running_a);
    EXPECT_EQ(a.demand[i].standstill_a, b.demand[i].standstill_a);
  }
}

void expect_same(const LoadGroup& a, const LoadGroup& b) {
  EXPECT_EQ(a.name, b.name);
  EXPECT_EQ(a.length_m, b.length_m);
  EXPECT_EQ(a.nature, b.nature);
  EXPECT_EQ(a.highest_speed_kmh, b.highest_speed_kmh);
  expect_same(a.running, b.running);
}

void expect_same(const Consent& a, const Consent& b) {
  EXPECT_EQ(a.reference, b.reference);
  EXPECT_EQ(a.given_by, b.given_by);
  EXPECT_EQ(a.number, b.number);
  EXPECT_EQ(a.distance_m, b.distance_m);
  EXPECT_EQ(a.speed_kmh, b.speed_kmh);
  EXPECT_EQ(a.sections, b.sections);
  EXPECT_EQ(a.valid, b.valid);
}

void expect_same(const Train& a, const Train& b) {
  EXPECT_EQ(a.id, b.id);
  EXPECT_EQ(a.name, b.name);
  EXPECT_EQ(a.operated_by, b.operated_by);
  EXPECT_EQ(a.invented, b.invented);
  EXPECT_EQ(a.highest_speed_kmh, b.highest_speed_kmh);
  EXPECT_EQ(a.acceleration_ms2, b.acceleration_ms2);
  EXPECT_EQ(a.braking_ms2, b.braking_ms2);
  ASSERT_EQ(a.consist.size(), b.consist.size());
  for (std::size_t i = 0; i < a.consist.size(); ++i) {
    ASSERT_EQ(a.consist[i].index(), b.consist[i].index());
    if (const auto* const vehicle = std::get_if<Vehicle>(&a.consist[i])) {
      expect_same(*vehicle, std::get<Vehicle>(b.consist[i]));
    } else {
      expect_same(std::get<LoadGroup>(a.consist[i]), std::get<LoadGroup>(b.consist[i]));
    }
  }
  ASSERT_EQ(a.consents.size(), b.consents.size());
  for (std::size_t i = 0; i < a.consents.size(); ++i) {
    expect_same(a.consents[i], b.consents[i]);
  }
  ASSERT_EQ(a.high_voltage_lines.size(), b.high_voltage_lines.size());
  for (std::size_t i = 0; i < a.high_voltage_lines.size(); ++i) {
    EXPECT_EQ(a.high_voltage_lines[i].vehicles, b.high_voltage_lines[i].vehicles);
    EXPECT_EQ(a.high_voltage_lines[i].can_be_opened, b.high_voltage_lines[i].can_be_opened);
  }
  EXPECT_EQ(a.release.train_number, b.release.train_number);
  EXPECT_EQ(a.release.date, b.release.date);
  EXPECT_EQ(a.release.days, b.release.days);
  EXPECT_EQ(a.release.issue, b.release.issue);
  EXPECT_EQ(a.release.made_by, b.release.made_by);
  EXPECT_EQ(a.release.checked_by, b.release.checked_by);
  EXPECT_EQ(a.release.released_by, b.release.released_by);
  EXPECT_EQ(a.release.holds_until, b.release.holds_until);
  ASSERT_EQ(a.release.deviations.size(), b.release.deviations.size());
  for (std::size_t i = 0; i < a.release.deviations.size(); ++i) {
    EXPECT_EQ(a.release.deviations[i].what, b.release.deviations[i].what);
    EXPECT_EQ(a.release.deviations[i].by, b.release.deviations[i].by);
    EXPECT_EQ(a.release.deviations[i].reason, b.release.deviations[i].reason);
  }
}

/// The text that is written of a model; what was said where there is none.
std::string written_of(const nlohmann::json& model) {
  Diagnostics diagnostics;
  const auto text = model_to_train(model, "trains/f.toml", "2026-12-01", diagnostics);
  return text ? *text : diagnostics.empty() ? "refused" : to_line(diagnostics.front());
}

/// A model that comes from no text.
nlohmann::json anew(nlohmann::json model) {
  model.erase("read_from");
  for (const char* const list : {"consist", "high_voltage_lines", "consents", "deviations"}) {
    for (nlohmann::json& item : model[list]) {
      item.erase("place");
    }
  }
  return model;
}

void expect_same_after_there_and_back(const std::string& path, const std::string& text) {
  const auto model = train_to_model({.file = path, .text = text});
  EXPECT_EQ(written_of(nlohmann::json::parse(model.dump())), text);
  const std::string written = written_of(anew(nlohmann::json::parse(model.dump())));
  const TrainFiles before = read_as(path, text);
  const TrainFiles after = read_as(path, written);
  expect_same(before.train, after.train);
  EXPECT_EQ(before.stock_paths, after.stock_paths);
  EXPECT_EQ(before.train.consent_files, after.train.consent_files);
  EXPECT_EQ(anew(train_to_model({.file = path, .text = written})), anew(model));
}

TEST(TrainModel, every_demo_train_reads_back_to_the_same_train) {
  int seen = 0;
  for (const auto& entry : fs::directory_iterator(trains)) {
    SCOPED_TRACE(entry.path().filename().string());
    Diagnostics diagnostics;
    expect_same_after_there_and_back(entry.path().string(),
                                     load_text(entry.path().string(), diagnostics)->text);
    ++seen;
  }
  EXPECT_GT(seen, 20);
}

TEST(TrainModel, all_that_a_file_may_say_reads_back_to_the_same_train) {
  expect_same_after_there_and_back((trains / "all.toml").string(), R"(
kind = "train"
id = "all"
name = "\"All\" \\ of it \u00e4 \U0001F682"
operated_by = "O's"
invented = true
stock = ["../stock/pantographs.toml", "../stock/vehicles.toml"]
consents = ["consents-of-all.toml"]
highest_speed_kmh = 99.5
acceleration_ms2 = 0.15
braking_ms2 = 4e-1
consist = [
  { vehicle = "k41", leading_cab = 2, defective_pantographs = [2], current = [{ system = "AC 15 kV 16.7 Hz", running_a = 300, standstill_a = 10.5 }] },
  { vehicle = "k41", id = "K41 \"2\"", leading_cab = 1, dead_in_tow = true },
  { load = "petrol", nature = "dangerous", length_m = 420, highest_speed_kmh = 80, mass_t = 900, davis_a_n = 1000, davis_b_n_per_kmh = 1.5, davis_c_n_per_kmh2 = 0.25 },
  { load = "stone", nature = "ordinary", wagons = "hopper-40", highest_speed_kmh = 60 },
]
high_voltage_line = [{ vehicles = [1, 2], can_be_opened = true }]
[[consent]]
reference = "N"
given_by = "N"
number = 2
distance_m = 7.5
speed_kmh = 60
sections = ["a", "b"]
valid_from = 2031-05-01
valid_until = 2031-05-31
[release]
train_number = "60412"
date = 2031-05-12
issue = 3
made_by = "A"
checked_by = "B"
released_by = "C"
holds_until = 2031-05-30
[[deviation]]
what = "w"
by = "b"
reason = "r"
)");
}

/// A train of a message: what a person changes on the page is by hand, and what moves is not.
TEST(TrainModel, what_a_person_changes_is_by_hand_from_then_on) {
  const std::string text =
      "kind = \"train\"\nid = \"t\"\nname = \"T\"\nsource = \"message\"\n"
      "stock = [\"../stock/pantographs.toml\", \"../stock/vehicles.toml\"]\n"
      "highest_speed_kmh = 100   # of the message\nacceleration_ms2 = 0.2\nbraking_ms2 = 0.4\n\n"
      "[[value_source]]\nid = \"message\"\nkind = \"message\"\nname = \"m.xml\"\n"
      "date = 2026-11-30\n\n"
      "[[consist]]\nvehicle = \"k41\"\nid = \"one\"\nleading_cab = 1\n\n"
      "[[consist]]\nvehicle = \"k41\"\nid = \"two\"\nleading_cab = 2\n";
  auto model =
      nlohmann::json::parse(train_to_model({.file = "trains/f.toml", .text = text}).dump());
  EXPECT_EQ(written_of(model), text);
  std::swap(model["consist"][0], model["consist"][1]);
  EXPECT_EQ(written_of(model).find("by hand"), std::string::npos) << "only the order is another";
  model["consist"][0]["leading_cab"] = 1;
  model["highest_speed_kmh"] = 90;
  const std::string written = written_of(model);
  EXPECT_NE(written.find("highest_speed_kmh = 90    # of the message\n"), std::string::npos)
      << written;
  EXPECT_NE(written.find("source_of = { highest_speed_kmh = \"by-hand-2026-12-01\" }\n"),
            std::string::npos);
  EXPECT_NE(written.find("id = \"two\"\nleading_cab = 1\n"
                         "source_of = { leading_cab = \"by-hand-2026-12-01\" }\n"),
            std::string::npos);
  EXPECT_NE(written.find("id = \"one\"\nleading_cab = 1\n"), std::string::npos);
  EXPECT_NE(written.find("id = \"by-hand-2026-12-01\"\nkind = \"by hand\"\ndate = 2026-12-01\n"),
            std::string::npos);
}

TEST(TrainModel, a_vehicle_called_by_its_number_has_no_id_of_its_own) {
  const auto model = nlohmann::json::parse(R"({"consist": [
      {"vehicle": "a", "id": "vehicle 2"}, {"vehicle": "a", "id": "vehicle 1"},
      {"vehicle": "a", "id": "vehicle 4"}, {"vehicle": "a", "id": "vehicle 01"}]})");
  const std::string text = written_of(model);
  EXPECT_EQ(text.find("vehicle 2"), std::string::npos);
  EXPECT_EQ(text.find("vehicle 1"), std::string::npos);
  EXPECT_EQ(text.find("vehicle 4"), std::string::npos);  // of four, it may have been the last
  EXPECT_NE(text.find("\"vehicle 01\""), std::string::npos);
  EXPECT_NE(
      written_of(nlohmann::json::parse(R"({"consist": [{"vehicle": "a", "id": "vehicle 2"}]})"))
          .find("\"vehicle 2\""),
      std::string::npos);
}

}  // namespace
}  // namespace panup
