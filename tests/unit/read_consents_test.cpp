/// Consents of a file for many trains: which of them a train gets, and on which day they count.

#include "files/read_consents.h"

#include <gtest/gtest.h>

#include "bad_input_cases.h"
#include "files/read_train.h"
#include "requests/plan_input.h"

namespace panup {
namespace {

/// Files by name, instead of those on disk.
struct Files {
  std::map<std::string, std::string> texts{
      {"trains/t1.toml", std::string(right_text(FileKind::train))},
      {"trains/stock.toml", std::string(right_text(FileKind::stock))},
      {"consents.toml", "kind = \"consents\"\n"},
      {"route.toml", std::string(right_text(FileKind::route))}};

  Files() {
    change("trains/t1.toml", "[\"stock.toml\"]",
           "[\"stock.toml\"]\nconsents = [\"../consents.toml\"]");
  }

  void change(const std::string& file, std::string_view what, std::string_view by) {
    std::string& text = texts.at(file);
    const std::size_t at = text.find(what);
    ASSERT_NE(at, std::string::npos) << what;
    text.replace(at, what.size(), by);
  }
  /// Adds an entry to the file of consents.
  Files& consent(const std::string& reference, const std::string& further) {
    texts.at("consents.toml") +=
        "[[consent]]\nreference = \"" + reference +
        "\"\ngiven_by = \"Nordvale Infrastructure\"\nrule = \"coasting\"\n" + further + "\n";
    return *this;
  }
  Files& runs_on(const std::string& day) {
    texts.at("trains/t1.toml") += "[release]\ndate = " + day + "\n";
    return *this;
  }

  FileSource source() const {
    return {.load = [this](const std::string& path,
                           Diagnostics& diagnostics) -> std::optional<SourceText> {
              const auto found = texts.find(path);
              if (found == texts.end()) {
                diagnostics.push_back({{.file = path}, "there is no such file"});
                return std::nullopt;
              }
              return SourceText{.file = path, .text = found->second};
            },
            .has = [this](const std::string& path) { return texts.contains(path); }};
  }
  std::string said(std::optional<TrainFiles>& read,
                   const std::vector<std::string>& more = {}) const {
    Diagnostics diagnostics;
    read = read_train_file("trains/t1.toml", diagnostics, source(), {.consents = more});
    std::string lines;
    for (const Diagnostic& diagnostic : diagnostics) {
      lines += to_line(diagnostic) + "\n";
    }
    return lines;
  }
  Train train(const std::vector<std::string>& more = {}) const {
    std::optional<TrainFiles> read;
    EXPECT_EQ(said(read, more), "");
    return read ? read->train : Train{};
  }
};

/// Beside the train file's own NV-1.
std::string counting(const Train& train) {
  std::string references;
  for (const Consent& consent : train.consents) {
    references += consent.reference + " ";
  }
  return references;
}

TEST(ConsentsForManyTrains, ATrainGetsWhatIsForItByItsIdOrItsClasses) {
  Files files;
  files.consent("FOR-ALL", "")
      .consent("FOR-T1", "trains = [\"t9\", \"t1\"]")
      .consent("FOR-T2", "trains = [\"t2\"]")
      .consent("FOR-K41", "classes = [\"k41\"]")
      .consent("FOR-M10", "classes = [\"m10\"]")
      .consent("FOR-T2-OF-K41", "trains = [\"t2\"]\nclasses = [\"k41\"]");
  const Train train = files.train();
  EXPECT_EQ(counting(train), "NV-1 FOR-ALL FOR-T1 FOR-K41 ");
  EXPECT_EQ(train.consents[0].file, "");
  EXPECT_EQ(train.consents[1].file, "consents.toml");
  EXPECT_EQ(train.consent_files, std::vector<std::string>{"consents.toml"});
}

TEST(ConsentsForManyTrains, AConsentForOneClassIsNoWordOnAnotherThatWorksInTheTrain) {
  Files files;
  files.consent("FOR-K41", "classes = [\"k41\"]");
  files.change("trains/t1.toml", "[[consent]]",
               "[[consist]]\nvehicle = \"m10\"\nleading_cab = 2\n\n[[consent]]");
  EXPECT_EQ(counting(files.train()), "NV-1 ");
  files.change("trains/t1.toml", "leading_cab = 2", "leading_cab = 2\ndead_in_tow = true");
  EXPECT_EQ(counting(files.train()), "NV-1 FOR-K41 ");
}

TEST(ConsentValidity, ItCountsFromItsFirstDayToItsLast) {
  const auto counts_on = [](const std::string& day, const std::string& validity) {
    Files files;
    files.consent("C", validity).runs_on(day);
    return counting(files.train()) == "NV-1 C ";
  };
  const std::string may = "valid_from = 2031-05-01\nvalid_until = 2031-05-31";
  EXPECT_FALSE(counts_on("2031-04-30", may));
  EXPECT_TRUE(counts_on("2031-05-01", may));
  EXPECT_TRUE(counts_on("2031-05-31", may));
  EXPECT_FALSE(counts_on("2031-06-01", may));
  EXPECT_FALSE(counts_on("2030-12-31", "valid_from = 2031-05-01"));
  EXPECT_TRUE(counts_on("2041-12-31", "valid_from = 2031-05-01"));
  EXPECT_TRUE(counts_on("2021-01-01", "valid_until = 2031-05-31"));
  EXPECT_FALSE(counts_on("2031-10-01", "valid_until = 2031-05-31"));
}

TEST(ConsentValidity, OutsideItAConsentDoesNotCountAndItIsSaidWhy) {
  Files files;
  files.consent("C", "valid_until = 2031-05-31").runs_on("2031-06-01");
  const Train train = files.train();
  ASSERT_EQ(train.consents_left_out.size(), 1U);
  EXPECT_EQ(train.consents_left_out[0].consent.reference, "C");
  EXPECT_EQ(train.consents_left_out[0].because,
            "it holds until 2031-05-31, and the train runs on 2031-06-01");
  Train german = train;
  leave_out_by_day(german, built_in_words("de"));
  EXPECT_EQ(german.consents_left_out[0].because,
            "gilt bis 2031-05-31, und der Zug fährt am 2031-06-01");
}

TEST(ConsentValidity, WithoutTheOneDayOfTheTrainItIsNotKnownToCount) {
  Files files;
  files.consent("C", "valid_from = 2031-05-01");
  const Train train = files.train();
  EXPECT_EQ(counting(train), "NV-1 ") << "what has no validity counts on any day";
  ASSERT_EQ(train.consents_left_out.size(), 1U);
  EXPECT_EQ(train.consents_left_out[0].because,
            "it holds from 2031-05-01, and the train file does not state the one day on which the "
            "train runs ('date' in [release])");
  files.texts.at("trains/t1.toml") += "[release]\ndays = \"Mondays in May\"\n";
  EXPECT_EQ(files.train().consents_left_out.size(), 1U) << "days in free words are not a day";
}

TEST(ConsentValidity, ItHoldsForConsentsOfTheTrainFileToo) {
  Files files;
  files.consent("FOR-T9", "trains = [\"t9\"]");
  files.change("trains/t1.toml", "sections = [\"a1\"]",
               "sections = [\"a1\"]\nvalid_from = 2031-05-01\nvalid_until = 2031-05-31");
  EXPECT_EQ(counting(files.train()), "");
  files.runs_on("2031-05-12");
  EXPECT_EQ(counting(files.train()), "NV-1 ");
}

TEST(FilesOfConsents, AreReadOnceHoweverTheyAreNamed) {
  Files files;
  files.consent("C", "");
  EXPECT_EQ(counting(files.train({"consents.toml", "./consents.toml"})), "NV-1 C ");
  files.texts["more.toml"] = files.texts.at("consents.toml");
  EXPECT_EQ(counting(files.train({"more.toml"})), "NV-1 C C ");
}

TEST(FilesOfConsents, ThatAreMissingOrWrongAreMistakes) {
  Files files;
  std::optional<TrainFiles> read;
  files.consent("C", "valid_from = 1");
  EXPECT_NE(files.said(read).find("consents.toml:6:14: 'valid_from' is a whole number"),
            std::string::npos);
  EXPECT_FALSE(read);
  files.texts.erase("consents.toml");
  EXPECT_EQ(files.said(read), "trains/t1.toml:6:13: consents.toml: there is no such file\n");
  EXPECT_FALSE(read);
  files.texts["consents.toml"] = std::string(right_text(FileKind::consents));
  EXPECT_EQ(files.said(read, {"none.toml"}), "none.toml: there is no such file\n");
  EXPECT_FALSE(read);
  files.change("trains/t1.toml", "../consents.toml", "stock.toml");
  EXPECT_EQ(files.said(read),
            "trains/stock.toml:1:8: this file is of kind \"stock\"; expected one of kind "
            "\"consents\"\n");
}

TEST(FilesOfConsents, AreAmongTheInputsOfAPlanWithTheirHashes) {
  Files files;
  files.consent("C", "");
  files.texts["more.toml"] = files.texts.at("consents.toml");
  files.texts["book.toml"] =
      "kind = \"rule book\"\nname = \"Operator\"\n[[rule]]\n"
      "id = \"change-while-lowered\"\nlowering_speed_kmh = 80\n"
      "raising_speed_kmh = 70\n";
  Diagnostics diagnostics;
  const auto input = read_plan_input({.train = "trains/t1.toml",
                                      .route = "route.toml",
                                      .conditions = "",
                                      .rules = {"book.toml"},
                                      .consents = {"more.toml"}},
                                     SpeedFrom::tables, files.source(), diagnostics);
  ASSERT_TRUE(input) << to_line(diagnostics.front());
  std::vector<std::string> paths;
  for (const InputFile& file : input->files) {
    if (file.role == "consents") {
      paths.push_back(file.path);
      EXPECT_EQ(file.sha256.size(), 64U);
    }
  }
  EXPECT_EQ(paths, (std::vector<std::string>{"consents.toml", "more.toml"}));
  EXPECT_EQ(counting(input->request.train), "NV-1 C C ");
}

TEST(FilesOfConsents, MayHoldConsentsForSectionsOfOtherRoutes) {
  Files files;
  files.consent("C", "sections = [\"z9\"]");
  files.texts.at("consents.toml")
      .replace(files.texts.at("consents.toml").find("\"coasting\""), 10, "\"of-another-operator\"");
  files.texts["book.toml"] =
      "kind = \"rule book\"\nname = \"Operator\"\n[[rule]]\n"
      "id = \"change-while-lowered\"\nlowering_speed_kmh = 80\n"
      "raising_speed_kmh = 70\n";
  const auto said = [&] {
    Diagnostics diagnostics;
    read_plan_input({.train = "trains/t1.toml",
                     .route = "route.toml",
                     .conditions = "",
                     .rules = {"book.toml"}},
                    SpeedFrom::tables, files.source(), diagnostics);
    return diagnostics.empty() ? std::string() : to_line(diagnostics.front());
  };
  EXPECT_EQ(said(), "");
  files.change("consents.toml", "\"z9\"", "\"z9\", \"a1\"");
  EXPECT_NE(said().find("consent 'C' is for the rule 'of-another-operator'"), std::string::npos)
      << "where it is for this route, its rule has to be one";
}

}  // namespace
}  // namespace panup
