#include <gtest/gtest.h>

#include <map>

#include "base/sha256.h"
#include "requests/files_read_once.h"
#include "requests/plan_input.h"

namespace panup {
namespace {

TEST(FilesReadOnce, AFileThatChangesInBetweenIsTheSameForAllWhoAsk) {
  int version = 0;
  const FileSource changing{
      .load =
          [&version](const std::string& path, Diagnostics&) {
            return std::optional(SourceText{path, "version " + std::to_string(++version)});
          },
      .has = [](const std::string&) { return true; }};
  FilesReadOnce read(changing);
  const FileSource files = read.source();
  Diagnostics diagnostics;
  EXPECT_EQ(read.sha256_of("train.toml"), "") << "not read yet";
  EXPECT_EQ(files.load("train.toml", diagnostics)->text, "version 1");
  EXPECT_EQ(files.load("train.toml", diagnostics)->text, "version 1");
  EXPECT_EQ(read.sha256_of("train.toml"), sha256_hex("version 1"));
  EXPECT_EQ(files.load("route.toml", diagnostics)->text, "version 2");
}

TEST(FilesReadOnce, WhatCannotBeReadIsSaidEachTimeAndHasNoHash) {
  const FileSource missing{.load =
                               [](const std::string& path, Diagnostics& diagnostics) {
                                 diagnostics.push_back({{.file = path}, "is not there"});
                                 return std::optional<SourceText>();
                               },
                           .has = [](const std::string&) { return false; }};
  FilesReadOnce read(missing);
  const FileSource files = read.source();
  Diagnostics diagnostics;
  EXPECT_FALSE(files.load("train.toml", diagnostics));
  EXPECT_FALSE(files.load("train.toml", diagnostics));
  EXPECT_EQ(diagnostics.size(), 2U);
  EXPECT_EQ(read.sha256_of("train.toml"), "");
  EXPECT_FALSE(files.has("train.toml"));
}

TEST(PlanInput, EveryFileIsReadOnceAndItsHashIsOfWhatWasRead) {
  const std::string demo = PANUP_DEMO_FOLDER;
  std::map<std::string, int> times;
  std::map<std::string, std::string> hashes;
  const FileSource disk = files_on_disk();
  const FileSource counted{.load =
                               [&](const std::string& path, Diagnostics& diagnostics) {
                                 auto source = disk.load(path, diagnostics);
                                 ++times[path];
                                 hashes[path] = source ? sha256_hex(source->text) : "";
                                 return source;
                               },
                           .has = disk.has};
  Diagnostics diagnostics;
  const auto input = read_plan_input({.train = demo + "/trains/t01-containers.toml",
                                      .route = demo + "/routes/harl-tarnholt.toml",
                                      .conditions = demo + "/conditions/fair-day.toml",
                                      .rules = {demo + "/rules/nordvale-freight.toml"}},
                                     SpeedFrom::both, counted, diagnostics);
  ASSERT_TRUE(input) << to_line(diagnostics.front());
  for (const auto& [path, count] : times) {
    EXPECT_EQ(count, 1) << path;
  }
  EXPECT_GE(input->files.size(), 7U);
  for (const InputFile& file : input->files) {
    EXPECT_EQ(file.sha256.size(), 64U) << file.path;
    if (hashes.contains(file.path)) {
      EXPECT_EQ(file.sha256, hashes[file.path]) << file.path;
    }
  }
}

}  // namespace
}  // namespace panup
