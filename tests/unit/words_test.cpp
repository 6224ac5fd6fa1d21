#include "base/words.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "base/sentence.h"

namespace panup {

namespace {

/// A language that nobody speaks, with the plural categories of Polish: it has three.
constexpr std::string_view made_up = R"(language = "pl"
decimal_sign = ","
[words]
"Raise {}" = "{} hochfah"
"{} at {:.1f} km" = "bei {1:.1f} km {0}"
"{} and {}" = "{} unt {}"
"ice" = "iss"
"{} pantographs are up" = { one = "einer opp", few = "{} paar opp", many = "{} viel opp", other = "{} opp" }
)";

std::string mistake_in(std::string_view text) {
  Diagnostics diagnostics;
  const auto table = read_words({.file = "xx.toml", .text = std::string(text)}, diagnostics);
  EXPECT_EQ(table == nullptr, !diagnostics.empty());
  return diagnostics.empty() ? "" : to_line(diagnostics.front());
}

std::string mistake_in_words(std::string_view words) {
  return mistake_in("language = \"de\"\n[words]\n" + std::string(words));
}

Words spoken(std::string_view text) {
  Diagnostics diagnostics;
  auto table = read_words({.file = "xx.toml", .text = std::string(text)}, diagnostics);
  EXPECT_TRUE(diagnostics.empty()) << to_line(diagnostics.front());
  return Words(std::move(table));
}

}  // namespace

TEST(Words, EnglishIsWhatStandsInTheCode) {
  const Words english;
  EXPECT_EQ(english.language(), "en");
  EXPECT_EQ(english.say("{} at {:.1f} km", "1.2", 12.25), "1.2 at 12.2 km");
  EXPECT_EQ(english.say_of(1, "{} pantograph is up", "{} pantographs are up", 1),
            "1 pantograph is up");
  EXPECT_EQ(english.say_of(2, "{} pantograph is up", "{} pantographs are up", 2),
            "2 pantographs are up");
}

TEST(Words, AFurtherLanguageIsAFile) {
  const Words words = spoken(made_up);
  EXPECT_EQ(words.language(), "pl");
  EXPECT_EQ(words.say("Raise {}", "1.2"), "1.2 hochfah");
  EXPECT_EQ(words.say("{} at {:.1f} km", "1.2", 12.25), "bei 12,2 km 1.2") << "arguments turned";
  EXPECT_EQ(words.named("ice"), "iss");
}

TEST(Words, ALanguageHasAsManyFormsAsItHas) {
  const Words words = spoken(made_up);
  const auto up = [&words](std::size_t number) {
    return words.say_of(number, "{} pantograph is up", "{} pantographs are up", number);
  };
  // Unicode CLDR, plural rules of Polish: 1; 2 to 4, 22 to 24, but not 12 to 14; the rest.
  EXPECT_EQ(up(1), "einer opp");
  EXPECT_EQ(up(2), "2 paar opp");
  EXPECT_EQ(up(5), "5 viel opp");
  EXPECT_EQ(up(12), "12 viel opp");
  EXPECT_EQ(up(22), "22 paar opp");
  EXPECT_EQ(up(1022), "1022 paar opp");
  EXPECT_EQ(up(1012), "1012 viel opp");
}

TEST(Words, WhatATableDoesNotHaveIsSaidInEnglish) {
  const Words words = spoken(made_up);
  EXPECT_EQ(words.say("Lower {} at km {:.3f}", "1.2", 4.5), "Lower 1.2 at km 4,500");
  EXPECT_EQ(words.say_of(1, "{} goes", "{} go", "1.2"), "1.2 goes");
  EXPECT_EQ(words.named("Harl – Tarnholt"), "Harl – Tarnholt");
}

TEST(Words, NumbersAreThoseOfEnglishButForTheDecimalSign) {
  const Words german = built_in_words("de");
  ASSERT_EQ(german.language(), "de");
  for (const double value : {0.0, -0.0, 0.05, 1.0, 12.25, -3.75, 1234567.5, 1e-7, 1e21}) {
    const auto expect_alike = [&](auto pattern) {
      std::string expected = Words().say(pattern, value);
      std::ranges::replace(expected, '.', ',');
      EXPECT_EQ(german.say(pattern, value), expected);
    };
    expect_alike(FMT_STRING("{}"));
    expect_alike(FMT_STRING("{:g}"));
    expect_alike(FMT_STRING("{:.9g}"));
    expect_alike(FMT_STRING("{:.3f}"));
    expect_alike(FMT_STRING("{:>12.1f}"));
    expect_alike(FMT_STRING("{:.0f}"));
  }
  EXPECT_EQ(german.say("{} {}", 100000, "1.2"), "100000 1.2") << "no sign between thousands; names";
}

TEST(Sentence, IsSaidInTheLanguageThatIsAskedForLater) {
  const Sentence inner = to_say("Raise {}", "1.2");
  const Sentence sentence = to_say("{} at {:.1f} km", inner, 4.5);
  EXPECT_EQ(sentence.said(), "Raise 1.2 at 4.5 km");
  EXPECT_EQ(sentence.said(spoken(made_up)), "bei 4,5 km 1.2 hochfah");
  EXPECT_EQ(to_say("Lower {} of {}", 2, std::size_t{3}).said(spoken(made_up)), "Lower 2 of 3");
  EXPECT_EQ(Sentence("ice").said(spoken(made_up)), "ice") << "a text of a file stays";
  EXPECT_EQ(Sentence("ice", {}).said(spoken(made_up)), "iss");
  EXPECT_EQ(said({inner, sentence}).back(), "Raise 1.2 at 4.5 km");
  EXPECT_EQ(sentence, to_say("{} at {:.1f} km", inner, 4.5));
  EXPECT_NE(sentence, to_say("{} at {:.1f} km", inner, 4.6));
}

TEST(Sentence, IsSoundWhereItsPatternTakesItsArguments) {
  const Sentence inner = to_say("Raise {}", "1.2");
  EXPECT_TRUE(to_say("{} at {:.1f} km, {:g} or {:.4g}", inner, 4.5, 1.0, 2.0).is_sound());
  EXPECT_TRUE(Sentence("braces } of a file {").is_sound());
  const std::vector<Sentence::Argument> number{{4.5}};
  for (const char* const pattern : {"{}", "at {:g} km", "{:.1f}", "{:.4g}"}) {
    EXPECT_TRUE(Sentence(pattern, number).is_sound()) << pattern;
    EXPECT_FALSE(Sentence(pattern, {}).is_sound()) << pattern;
    EXPECT_FALSE(Sentence(pattern, {{4.5}, {4.5}}).is_sound()) << pattern;
  }
  for (const char* const pattern :
       {"{", "}", "{0}", "{:d}", "{:9g}", "{:.99999f}", "{:{}}", "{{}}"}) {
    EXPECT_FALSE(Sentence(pattern, number).is_sound()) << pattern;
  }
  EXPECT_FALSE(Sentence("{:g}", {{std::string("4.5")}}).is_sound());
  EXPECT_FALSE(Sentence("{}", {{std::vector<Sentence>{}}}).is_sound());
  EXPECT_FALSE(Sentence("{}", {{std::vector<Sentence>{Sentence("{}", {})}}}).is_sound());
}

TEST(Words, ThingsAreListed) {
  EXPECT_EQ(Words().listed({}), "");
  EXPECT_EQ(Words().listed({"a"}), "a");
  EXPECT_EQ(Words().listed({"a", "b", "c"}), "a, b and c");
  EXPECT_EQ(Words().listed_or({"a", "b", "c"}), "a, b or c");
  EXPECT_EQ(built_in_words("de").listed({"a", "b", "c"}), "a, b und c");
  EXPECT_EQ(built_in_words("de").listed_or({"a", "b"}), "a oder b");
}

TEST(Words, BuiltInAreEnglishAndGerman) {
  EXPECT_EQ(built_in_languages(), (std::vector<std::string>{"en", "de"}));
  EXPECT_EQ(built_in_words("en").language(), "en");
  EXPECT_EQ(built_in_words("xx").language(), "en");
}

TEST(Words, TwoTablesOfOneLanguageAreToldApart) {
  const std::string other = std::string(made_up) + "\"hot\" = \"hitt\"\n";
  EXPECT_EQ(spoken(made_up).sha256(), spoken(made_up).sha256());
  EXPECT_NE(spoken(made_up).sha256(), spoken(other).sha256());
  EXPECT_EQ(Words().sha256(), "");
}

TEST(Words, ATableWithOtherArgumentsIsRefusedWithItsLine) {
  EXPECT_EQ(mistake_in_words("\"Raise {}\" = \"{1} heben\"\n"),
            "xx.toml:3:14: \"{1} heben\" has the arguments {1}; \"Raise {}\" has {0}");
  EXPECT_EQ(mistake_in_words("\"ice\" = \"Eis\"\n\"Raise {}\" = \"heben\"\n"),
            "xx.toml:4:14: \"heben\" has the arguments none; \"Raise {}\" has {0}");
  EXPECT_EQ(mistake_in_words("\"{:.1f} m\" = \"{:.0f} m\"\n"),
            "xx.toml:3:14: \"{:.0f} m\" has the arguments {0:.0f}; \"{:.1f} m\" has {0:.1f}");
  EXPECT_EQ(mistake_in_words("\"Raise {}\" = \"{} {} heben\"\n"),
            "xx.toml:3:14: \"{} {} heben\" has the arguments {0} and {1}; \"Raise {}\" has {0}");
}

TEST(Words, ATableWithUnsoundBracesIsRefusedWithItsLine) {
  for (const std::string pattern :
       {"{ heben", "{} heben }", "{0} {}", "{a} heben", "{:{}} heben", "{:{}}} heben"}) {
    EXPECT_EQ(mistake_in_words("\"Raise {}\" = \"" + pattern + "\"\n"),
              "xx.toml:3:14: \"" + pattern + "\": braces are not sound; an argument is {} or {0}");
  }
  EXPECT_EQ(mistake_in_words("\"Raise {\" = \"heben\"\n"),
            "xx.toml:3:1: \"Raise {\": braces are not sound; an argument is {} or {0}");
  EXPECT_EQ(mistake_in_words("\"a {{}} b\" = \"c {{}} d\"\n"), "") << "braces that are shown";
}

TEST(Words, ATableWithAnUnknownKeyIsRefusedWithItsLine) {
  EXPECT_EQ(mistake_in("language = \"de\"\nletters = 3\n[words]\n"),
            "xx.toml:2:1: letters: a table of words has language, a word as \"de\"; decimal_sign, "
            "\".\" or \",\"; and the table words");
  EXPECT_EQ(mistake_in("[words]\n"),
            "xx.toml: language is missing: the language of the table, as in language = \"de\"");
  EXPECT_EQ(
      mistake_in_words("\"{} go\" = { one = \"{} geht\", few = \"{}\", other = \"{} gehen\" }"),
      "xx.toml:3:30: few: the plural forms of the language are one and other, each a text");
  EXPECT_EQ(mistake_in_words("\"{} go\" = { one = \"{} geht\" }"),
            "xx.toml:3:1: \"{} go\": the form other is missing");
  EXPECT_EQ(mistake_in_words("\"ice\" = 3"),
            "xx.toml:3:9: \"ice\": a text is wanted, or a table of its plural forms");
}

TEST(Words, AllMistakesOfATableAreSaidAtOnce) {
  Diagnostics diagnostics;
  EXPECT_EQ(read_words({.file = "xx.toml",
                        .text = "language = \"de\"\n[words]\n\"{}\" = \"\"\n\"ice\" = \"{}\"\n"},
                       diagnostics),
            nullptr);
  EXPECT_EQ(diagnostics.size(), 2U);
}

TEST(Words, TheBuiltInTablesAreSound) {
  for (const std::string& language : built_in_languages()) {
    EXPECT_EQ(built_in_words(language).language(), language);
  }
}

}  // namespace panup
