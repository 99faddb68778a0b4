// `linewood limits`: the same figures in every form, pages that others can read, and what is refused.

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using Json = nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

ProgramRun limits(Arguments arguments) {
    arguments.insert(arguments.begin(), "limits");
    return linewood(arguments);
}

Json limits_json(Arguments arguments) {
    arguments.insert(arguments.end(), {"--format", "json"});
    const ProgramRun run = limits(arguments);
    EXPECT_EQ(run.exit_code, 0) << run.err;
    return Json::parse(run.out);
}

int count(const std::string& text, const std::string& part) {
    int n = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
        ++n;
    }
    return n;
}

/// Fields of the lines of a CSV text; knows quotes.
std::vector<std::vector<std::string>> csv_rows(const std::string& text) {
    std::vector<std::vector<std::string>> rows(1, {""});
    bool inside = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '"' && inside && i + 1 < text.size() && text[i + 1] == '"') {
            rows.back().back() += '"';
            ++i;
        } else if (c == '"') {
            inside = !inside;
        } else if (c == ',' && !inside) {
            rows.back().emplace_back();
        } else if (c == '\n' && !inside) {
            rows.push_back({""});
        } else {
            rows.back().back() += c;
        }
    }
    rows.pop_back();
    return rows;
}

/// Every limit of a JSON document by what it is of, as text.
std::map<std::string, std::string> figures_of(const Json& json) {
    std::map<std::string, std::string> all;
    const auto put = [&](const Json& girth, const std::string& key, const Json& limit) {
        std::ostringstream out;
        out << limit.at("kind").get<std::string>() << ' ';
        if (!limit.at("limit").is_null()) {
            out.precision(2);
            out << std::fixed << limit.at("limit").get<double>();
        }
        std::ostringstream name;
        name << girth.at("original_girth").get<double>() << ' ' << key;
        all[name.str()] = out.str();
    };
    for (const Json& girth : json.at("girths")) {
        put(girth, "least_girth  ", girth.at("least_girth"));
        put(girth, "least_shell  ", girth.at("least_shell"));
        for (const auto& [table, size] :
             {std::pair{"widest_pocket", "depth"}, std::pair{"widest_mouth", "shell"}}) {
            for (const Json& limit : girth.at(table)) {
                std::ostringstream key;
                key << table << ' ' << limit.at(size).get<double>() << ' '
                    << limit.at("angle").get<double>();
                put(girth, key.str(), limit);
            }
        }
    }
    return all;
}

TEST(LimitsCommand, TextSaysWhatItIsAndByWhat) {
    const ProgramRun run = limits({"--girths", "36,60", "--criteria", "two-thirds"});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    const Json listed = Json::parse(linewood({"criteria", "list", "--format", "json"}).out);
    EXPECT_THAT(run.out,
                AllOf(StartsWith("Limits of pole sections by two-thirds\n"),
                      HasSubstr(listed[1].at("sha256").get<std::string>()),
                      HasSubstr("caution: These are the model's limits, not a standard's."),
                      HasSubstr("Never climb"),
                      HasSubstr("strength across the line governs"),
                      HasSubstr("Widest pocket, original girth 36 in\n")));
    // 36 (2/3)^(1/3) = 31.449 and 60 (2/3)^(1/3) = 52.415; 60/(2 pi) (1 - (1/3)^(1/4)) = 2.2926.
    EXPECT_THAT(run.out, AllOf(HasSubstr("36           31.45"), HasSubstr("60           52.42")));
    EXPECT_THAT(run.out, HasSubstr("2.30\n"));
    EXPECT_THAT(run.out, Not(HasSubstr(" \n")));
}

TEST(LimitsCommand, EveryFormHasTheSameFigures) {
    const Arguments wanted{"--girths", "30,45"};
    const auto json = figures_of(limits_json(wanted));
    EXPECT_EQ(json.size(), 2U * 2U + (9U + 10U) * 7U + (6U + 7U) * 7U);

    Arguments as_csv = wanted;
    as_csv.insert(as_csv.end(), {"--format", "csv"});
    const auto rows = csv_rows(limits(as_csv).out);
    ASSERT_EQ(rows.size(), json.size() + 1);
    EXPECT_EQ(rows[0][0], "table");
    for (std::size_t i = 1; i < rows.size(); ++i) {
        const auto& r = rows[i];
        ASSERT_EQ(r.size(), rows[0].size());
        const std::string key = r[3] + ' ' + r[0] + ' ' + r[4] + ' ' + r[5];
        ASSERT_EQ(json.count(key), 1U) << key;
        EXPECT_EQ(json.at(key), r[7] + ' ' + r[6]) << key;
    }

    Arguments as_page = wanted;
    as_page.insert(as_page.end(), {"--format", "html"});
    const std::string text = limits(wanted).out;
    const std::string page = limits(as_page).out;
    for (const auto& [key, figure] : json) {
        const std::string shown = figure.substr(figure.find(' ') + 1);
        EXPECT_THAT(text, HasSubstr(shown));
        EXPECT_THAT(page, HasSubstr(">" + shown));
    }
}

TEST(LimitsCommand, MillimetresAreTheSameLimits) {
    const Arguments tables{"--tables", "girth,pocket"};
    Arguments us = tables;
    us.insert(us.end(), {"--girths", "40", "--depths", "2,3"});
    Arguments si = tables;
    si.insert(si.end(), {"--girths", "40in", "--depths", "2in,3in", "--units", "si"});
    const Json a = limits_json(us).at("girths").at(0);
    const Json b = limits_json(si).at("girths").at(0);
    EXPECT_NEAR(b.at("original_girth").get<double>(), 1016.0, 1e-6);
    const auto near = [](const Json& in, const Json& mm) {
        EXPECT_EQ(in.at("kind"), mm.at("kind"));
        EXPECT_EQ(in.at("fails_by"), mm.at("fails_by"));
        if (in.at("kind") == "limit") {
            EXPECT_NEAR(mm.at("limit").get<double>(), in.at("limit").get<double>() * 25.4, 0.254);
        }
    };
    near(a.at("least_girth"), b.at("least_girth"));
    near(a.at("least_shell"), b.at("least_shell"));
    ASSERT_EQ(a.at("widest_pocket").size(), 14U);
    for (std::size_t i = 0; i < 14; ++i) {
        near(a.at("widest_pocket").at(i), b.at("widest_pocket").at(i));
    }
    EXPECT_TRUE(a.at("widest_mouth").empty());
}

TEST(LimitsCommand, AnswersAsTheSectionCommandDoes) {
    const Json girth =
        limits_json({"--girths", "36", "--depths", "3", "--tables", "pocket"}).at("girths").at(0);
    for (const Json& limit : girth.at("widest_pocket")) {
        const auto section = [&](double width) {
            std::ostringstream pocket;
            pocket << limit.at("angle").get<double>() << ',' << width << ",3";
            const Json said = Json::parse(linewood({"section",
                                                    "--original",
                                                    "36",
                                                    "--present",
                                                    "36",
                                                    "--line",
                                                    "0",
                                                    "--pocket",
                                                    pocket.str(),
                                                    "--format",
                                                    "json"})
                                              .out);
            return said.at("passes");
        };
        EXPECT_EQ(section(limit.at("limit").get<double>()), true) << limit;
        EXPECT_EQ(section(limit.at("limit").get<double>() + 0.02), false) << limit;
    }
}

TEST(LimitsCommand, WhereTheWeakestDirectionGovernsThereAreNoAngles) {
    const Json json = limits_json({"--girths", "36,45", "--role", "dead_end"});
    EXPECT_EQ(json.at("governs"), "weakest");
    EXPECT_EQ(json.at("girths").at(0).at("widest_pocket").size(), 10U);
    EXPECT_TRUE(json.at("girths").at(0).at("widest_pocket").at(0).at("angle").is_null());
    const ProgramRun run = limits({"--girths", "27,45", "--role", "dead_end"});
    EXPECT_THAT(run.out,
                AllOf(HasSubstr("Widest pocket at any angle, original girth 27 to 45 in\n"),
                      HasSubstr("original girth, in\n"),
                      HasSubstr("-: more than the radius of such a pole."),
                      Not(HasSubstr("degrees"))));
    EXPECT_EQ(
        limits_json({"--girths", "36", "--role", "angle", "--deflection", "20"}).at("governs"),
        "transverse");
    EXPECT_EQ(
        limits_json({"--girths", "36", "--role", "angle", "--deflection", "40"}).at("governs"),
        "weakest");
}

TEST(LimitsCommand, PolesOfTheTablesHaveTheirLeastGirth) {
    // Set 6 ft deep, a 40 ft pole has its table girth at the groundline: southern pine class 4, 33.5 in.
    const Json json = limits_json(
        {"--species", "southern pine", "--class", "4,5", "--length", "40", "--tables", "girth"});
    EXPECT_EQ(json.at("species"), "Southern pine");
    ASSERT_EQ(json.at("girths").size(), 2U);
    EXPECT_EQ(json.at("girths").at(0).at("pole"), "class 4, 40 ft");
    EXPECT_NEAR(json.at("girths").at(0).at("original_girth").get<double>(), 33.5, 1e-9);
    EXPECT_NEAR(json.at("girths").at(1).at("original_girth").get<double>(), 31.0, 1e-9);
    const ProgramRun run = limits({"--species", "southern_pine", "--class", "4", "--length", "40"});
    EXPECT_THAT(run.out,
                AllOf(HasSubstr("Species: Southern pine. The original girth is the least"),
                      HasSubstr("class 4, 40 ft"),
                      HasSubstr("Widest pocket, original girth 33.5 in (class 4, 40 ft)\n")));
}

TEST(LimitsCommand, NeighbouringGirthsWithTheSameFiguresShareATable) {
    const ProgramRun run = limits({"--girths", "30,33,36", "--tables", "mouth"});
    EXPECT_THAT(run.out,
                AllOf(HasSubstr("Widest mouth, original girth 30 to 36 in\n"),
                      HasSubstr("The criteria ask for 2 in of shell behind every pocket over 1 in "
                                "wide")));
    EXPECT_EQ(count(run.out, "Widest mouth,"), 1);
}

TEST(LimitsCommand, ACoarseResolutionIsShownWithoutFalseDigits) {
    const ProgramRun run = limits({"--girths", "36", "--tables", "girth", "--resolution", "0.125"});
    EXPECT_THAT(run.out, HasSubstr("31.250"));  // 31.185 rounded up to an eighth
    EXPECT_THAT(limits({"--girths", "36", "--tables", "girth", "--resolution", "1"}).out,
                HasSubstr(" 32 "));
}

TEST(LimitsCommand, PagesAreWellFormedAccessibleAndFetchNothing) {
    const TempDir folder;
    const std::string odd = R"({"name": "<b>\"A & B\"</b>, ours"})";
    const std::string criteria = folder.file("odd.json", odd).string();
    const std::vector<Arguments> pages{
        {"--girths", "30:60:6"},
        {"--girths", "30,36", "--criteria", criteria},
        {"--girths", "700:1500:100", "--units", "si", "--role", "junction"},
        {"--species", "douglas_fir", "--class", "H1,2", "--length", "50,60"}};
    int number = 0;
    for (Arguments arguments : pages) {
        const std::string file = (folder / ("page" + std::to_string(++number) + ".html")).string();
        arguments.insert(arguments.end(), {"--out", file});
        ASSERT_EQ(limits(arguments).exit_code, 0);
        const ProgramRun lint = run_program_file("/usr/bin/xmllint", {"--noout", "--nonet", file});
        EXPECT_EQ(lint.exit_code, 0) << lint.err;
        const std::string page = content_of(file);
        EXPECT_THAT(page, StartsWith("<!DOCTYPE html>\n<html lang=\"en\">\n"));
        EXPECT_EQ(count(page, "<title>Limits of pole sections by "), 1);
        EXPECT_EQ(count(page, "<h1>"), 1);
        EXPECT_GT(count(page, "<table>"), 1);
        EXPECT_EQ(count(page, "<caption>"), count(page, "<table>"));
        EXPECT_EQ(count(page, "<th scope="), count(page, "<th ") + count(page, "<th>"));
        for (const char* const fetched : {"src=",
                                          "href=",
                                          "url(",
                                          "<script",
                                          "@import",
                                          "http:",
                                          "https:",
                                          " style=",
                                          "unsafe"}) {
            EXPECT_THAT(page, Not(HasSubstr(fetched)));
        }
        EXPECT_THAT(page, HasSubstr("not a standard"));
    }
    const std::string page = content_of(folder / "page2.html");
    EXPECT_THAT(page, HasSubstr("&lt;b&gt;&quot;A &amp; B&quot;&lt;/b&gt;, ours"));
    EXPECT_THAT(page, Not(HasSubstr("<b>")));
    const auto rows =
        csv_rows(limits({"--girths", "36", "--criteria", criteria, "--format", "csv"}).out);
    EXPECT_EQ(rows[1][rows[1].size() - 2], R"(<b>"A & B"</b>, ours)");
}

TEST(LimitsCommand, TextOfTheCriteriaIsNoFormulaInCsv) {
    const TempDir folder;
    for (const std::string& name : Arguments{"=cmd", "+cmd", "-cmd", "@cmd"}) {
        const std::string criteria =
            folder.file("formula.json", R"({"name": ")" + name + R"("})").string();
        const auto rows = csv_rows(
            limits(
                {"--girths", "36", "--tables", "girth", "--criteria", criteria, "--format", "csv"})
                .out);
        ASSERT_EQ(rows.size(), 3U);
        EXPECT_EQ(rows[1][rows[1].size() - 2], "'" + name);
        EXPECT_EQ(rows[1][3], "36");
    }
}

TEST(LimitsCommand, SaysThatAnglesBetweenColumnsAreNotCovered) {
    // Of a girth of 54 in and a pocket 2 in deep the limit between the columns is below both of them.
    const Json girth =
        limits_json(
            {"--girths", "54", "--tables", "pocket", "--depths", "2", "--angles", "30,37,45"})
            .at("girths")
            .at(0);
    const Json& by_angle = girth.at("widest_pocket");
    EXPECT_LT(by_angle.at(1).at("limit").get<double>(), by_angle.at(0).at("limit").get<double>());
    EXPECT_EQ(by_angle.at(2).at("kind"), "any");
    const ProgramRun tangent = limits({"--girths", "54", "--tables", "pocket"});
    EXPECT_THAT(tangent.out, HasSubstr("Between two rows or girths take the stricter figure."));
    EXPECT_THAT(tangent.out,
                HasSubstr("Between two angles a figure may be smaller than at either"));
    EXPECT_THAT(limits({"--girths", "54", "--tables", "pocket", "--role", "dead_end"}).out,
                Not(HasSubstr("Between two angles")));
}

TEST(LimitsCommand, SaysWhereNothingAskedForFitsThePole) {
    // The radius is 10/(2 pi) = 1.59 in.
    const ProgramRun run = limits(
        {"--girths", "10", "--tables", "pocket,mouth", "--depths", "2,3", "--shells", "2", "-q"});
    EXPECT_EQ(run.exit_code, 0);
    EXPECT_THAT(run.err,
                AllOf(HasSubstr("--depths: all are over the radius of a pole of girth 10 in"),
                      HasSubstr("--shells: all are over the radius of a pole of girth 10 in")));
    // Who reads the page later sees no warning.
    const Arguments deep{"--girths", "10", "--tables", "pocket", "--depths", "2,3", "--format"};
    for (const char* const format : {"text", "html", "json"}) {
        Arguments arguments = deep;
        arguments.emplace_back(format);
        std::string out = limits(arguments).out;
        std::replace(out.begin(), out.end(), '\n', ' ');
        EXPECT_THAT(out, HasSubstr("--depths: all are over the radius of a pole of girth 10 in"))
            << format;
    }
    EXPECT_EQ(limits_json({"--girths", "36", "--tables", "girth"}).at("notes"), Json::array());
    const ProgramRun fits = limits({"--girths", "36", "--tables", "pocket", "--depths", "2,9"});
    EXPECT_THAT(fits.err, IsEmpty());
    EXPECT_THAT(fits.out, HasSubstr("A depth or shell over the radius of a pole has no row."));
}

TEST(LimitsCommand, WritesAFileOnceAndNamesItsFormByTheEnding) {
    const TempDir folder;
    const std::string file = (folder / "limits.csv").string();
    const Arguments wanted{"--girths", "36", "--tables", "girth", "--out", file};
    const ProgramRun first = limits(wanted);
    EXPECT_EQ(first.exit_code, 0);
    EXPECT_THAT(first.out, IsEmpty());
    EXPECT_THAT(content_of(file), StartsWith("table,species,pole,"));
    const ProgramRun second = limits(wanted);
    EXPECT_EQ(second.exit_code, 1);
    EXPECT_THAT(second.err, HasSubstr("--overwrite"));
    Arguments again = wanted;
    again.insert(again.end(), {"--overwrite", "--format", "json"});
    EXPECT_EQ(limits(again).exit_code, 0);
    EXPECT_TRUE(Json::accept(content_of(file)));
}

TEST(LimitsCommand, NamesWhatWasCalledWrongly) {
    const std::vector<std::pair<Arguments, std::string>> table{
        {{"--girths", "36,"}, "--girths"},
        {{"--girths", "60:30:3"}, "ends before it begins"},
        {{"--girths", "30:60"}, "no step"},
        {{"--girths", "30:60:0"}, "no step"},
        {{"--girths", "30:60:0.01"}, "500"},
        {{"--girths", "5"}, "5 is not from 10 to 120"},
        {{"--girths", "36", "--units", "si"}, "36 is not from 250 to 3000"},
        {{"--girths", "thick"}, "is no length"},
        {{"--depths", "0"}, "--depths"},
        {{"--angles", "0:100:10"}, "100 is not from 0 to 90"},
        {{"--angles", "NE"}, "is no number of degrees"},
        {{"--tables", "girths"}, "did you mean \"girth\""},
        {{"--tables", ""}, "--tables"},
        {{"--format", "pdf"}, "not one of text, csv, json, html"},
        {{"--role", "corner"}, "not one of tangent"},
        {{"--role", "angle"}, "--deflection"},
        {{"--deflection", "10"}, "--role angle"},
        {{"--role", "angle", "--deflection", "200"}, "is no line angle"},
        {{"--role", "angle", "--deflection", "NE"}, "0 (straight on) to 180"},
        {{"--tables", "girth", "--depths", "2"}, "add it to --tables"},
        {{"--tables", "pocket", "--shells", "2"}, "add it to --tables"},
        {{"--tables", "girth", "--angles", "0,30"}, "add one to --tables"},
        {{"--role", "dead_end", "--angles", "0,30"}, "the weakest direction governs"},
        {{"--resolution", "0"}, "0.001 to 25"},
        {{"--species", "southern_pine"}, "--class and --length"},
        {{"--class", "4", "--length", "40"}, "need --species"},
        {{"--species", "southern_pine", "--class", "4", "--length", "40", "--girths", "36"},
         "leave --girths away"},
        {{"--species", "sothern_pine", "--class", "4", "--length", "40"},
         "did you mean \"southern_pine\""},
        {{"--species", "oak", "--class", "4", "--length", "40"}, "douglas_fir, "},
        {{"--species", "southern_pine", "--class", "8", "--length", "40"}, "is no class"},
        {{"--species", "southern_pine", "--class", "4", "--length", "43"}, "of this length"},
        {{"--species", "southern_pine", "--class", "9", "--length", "90"}, "class and length"},
        {{"--criteria", "two-third"}, "did you mean \"two-thirds\""},
    };
    for (const auto& [arguments, words] : table) {
        const ProgramRun run = limits(arguments);
        EXPECT_EQ(run.exit_code, 2) << words;
        EXPECT_THAT(run.out, IsEmpty()) << words;
        EXPECT_THAT(run.err, HasSubstr(words));
    }
}

}  // namespace
}  // namespace linewood::testing
