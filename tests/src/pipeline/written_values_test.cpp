// The same bad table gives the same verdicts and findings, whatever file it is in.

#include <algorithm>
#include <cstdlib>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "src/pipeline/layer_columns.hpp"
#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/program.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
namespace fs = std::filesystem;

/// What is put in place of a good value once the file is made, so that it declares its types.
struct Slip {
    const char* pole;
    const char* column;
    const char* good;
    const char* bad;
};
constexpr Slip kSlips[] = {{"B", "original_circumference", "91.25", "abc"},
                           {"C", "present_circumference", "92.25", "39,5"},
                           {"D", "present_circumference", "93.25", "****"},
                           {"E", "inspected_on", "2033-03-03", "2024-13-45"}};

Table visits() {
    Table t{"inspections", {}, "", "", {{"inspected_on", "date"}}};
    for (const char* const pole : {"A", "B", "C", "D", "E"}) {
        t.rows.push_back({{"pole_id", pole},
                          {"inspected_on", "2024-05-01"},
                          {"method", "excavated"},
                          {"original_circumference", 40.5},
                          {"present_circumference", 40.5}});
    }
    t.rows[1]["original_circumference"] = 91.25;
    t.rows[2]["present_circumference"] = 92.25;
    t.rows[3]["present_circumference"] = 93.25;
    t.rows[4]["inspected_on"] = "2033-03-03";
    t.rows[4]["present_circumference"] = 30.0;
    Row good_once = t.rows[0];
    good_once["pole_id"] = "E";
    good_once["inspected_on"] = "2020-05-01";
    t.rows.push_back(good_once);
    return t;
}

void replace_all(std::string& text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos;
         at = text.find(from, at + to.size())) {
        text.replace(at, from.size(), to);
    }
}

std::string without_dashes(std::string text) {
    text.erase(std::remove(text.begin(), text.end(), '-'), text.end());
    return text;
}

/// Of a dBASE table: in a cell of the same width.
void spoil_dbf(std::string& bytes) {
    for (const Slip& slip : kSlips) {
        std::string good = slip.good;
        std::string bad = slip.bad;
        if (good.find('-') != std::string::npos) {
            good = without_dashes(good);
            bad = without_dashes(bad);
        } else {
            const std::size_t at = bytes.find(good);
            good = bytes.substr(at, bytes.find_first_not_of("0123456789.", at) - at);
        }
        bad.insert(0, good.size() - bad.size(), ' ');
        replace_all(bytes, good, bad);
    }
}

void spoil_text(std::string& bytes, const std::string& quote) {
    for (const Slip& slip : kSlips) {
        replace_all(bytes, slip.good, quote + slip.bad + quote);
    }
    replace_all(bytes, "2033/03/03", "2024-13-45");  // as GDAL writes days in some
}

void run_tool(std::vector<std::string> arguments) {
    const ProgramRun run = run_program_file("/usr/bin/env", arguments);
    EXPECT_EQ(run.exit_code, 0) << run.err;
}

void change_database(const fs::path& file, const std::string& sql) {
    run_tool({"python3",
              "-c",
              "import sqlite3,sys\n"
              "c=sqlite3.connect(sys.argv[1])\n"
              "c.execute(sys.argv[2])\n"
              "c.commit()\n",
              file.string(),
              sql});
}

/// The visits as a file of that name, by GDAL's own program, then spoilt.
fs::path spoilt_visits(const TempDir& dir,
                       const std::string& name,
                       const std::vector<std::string>& options) {
    write_table(dir / "typed.gpkg", visits());
    const fs::path path = dir / name;
    std::vector<std::string> convert{"ogr2ogr"};
    convert.insert(convert.end(), options.begin(), options.end());
    for (const std::string& more : {std::string{"-nln"},
                                    std::string{"inspections"},
                                    path.string(),
                                    (dir / "typed.gpkg").string(),
                                    std::string{"inspections"}}) {
        convert.push_back(more);
    }
    run_tool(convert);
    if (path.extension() == ".gpkg") {
        for (const Slip& slip : kSlips) {
            change_database(path,
                            std::string{"UPDATE inspections SET "} + slip.column + " = '" +
                                slip.bad + "' WHERE " + slip.column + " = '" + slip.good + "'");
        }
        return path;
    }
    std::string bytes = content_of(path);
    if (path.extension() == ".dbf") {
        spoil_dbf(bytes);
    } else {
        spoil_text(bytes, path.extension() == ".csv" ? "\"" : "");
    }
    dir.file(name, bytes);
    return path;
}

struct Outcome {
    std::vector<std::string> verdicts;
    std::vector<std::string> unreadable;
};

Outcome outcome_of(const TempDir& dir, const fs::path& visits_file) {
    Survey survey = five_poles();
    survey.inspections.rows.clear();
    survey.defects.rows.clear();
    write_survey(dir / "poles.gpkg", survey);
    const AssessedSurvey a{
        dir / "poles.gpkg", [&](AssessJob& job) {
            job.inputs.layers[static_cast<std::size_t>(InputLayer::inspections)] =
                visits_file.string();
        }};
    Outcome out;
    for (const char* const pole : {"A", "B", "C", "D", "E"}) {
        out.verdicts.push_back(a.verdict(pole));
    }
    for (const Row& f : a.doubts("value_unreadable")) {
        EXPECT_EQ(f.at("layer"), "inspections");
        EXPECT_FALSE(f.at("feature").get<std::string>().empty());
        out.unreadable.push_back(f.at("field").get<std::string>() + "=" +
                                 without_dashes(f.at("value")));
    }
    EXPECT_EQ(a.layer("inspections").rows.size(), 6U);
    return out;
}

struct FileKind {
    const char* name;
    std::vector<std::string> options;
};

void PrintTo(const FileKind& kind, std::ostream* out) {
    *out << kind.name << ' ' << kind.options.back();
}

class WrittenValues : public ::testing::TestWithParam<FileKind> {};

TEST_P(WrittenValues, AreFoundUnreadableInEveryFormat) {
    const TempDir dir{fast_place()};
    const auto [name, options] = GetParam();
    const Outcome out = outcome_of(dir, spoilt_visits(dir, name, options));
    EXPECT_THAT(out.verdicts,
                ElementsAre("serviceable", "unassessed", "unassessed", "unassessed", "stub"));
    EXPECT_THAT(out.unreadable,
                ElementsAre("original_circumference=abc",
                            "present_circumference=39,5",
                            "present_circumference=****",
                            "inspected_on=20241345"));
}

INSTANTIATE_TEST_SUITE_P(
    Formats,
    WrittenValues,
    ::testing::Values(FileKind{"v.csv", {"-f", "CSV"}},
                      FileKind{"v.csv", {"-f", "CSV", "-lco", "CREATE_CSVT=YES"}},
                      FileKind{"v.gpkg", {"-f", "GPKG"}},
                      FileKind{"inspections.dbf", {"-f", "ESRI Shapefile"}},
                      FileKind{"v.gml", {"-f", "GML", "-dsco", "FORMAT=GML3.2"}},
                      FileKind{"v.gml", {"-f", "GML"}},
                      FileKind{"v.kml", {"-f", "LIBKML", "-mapFieldType", "Date=String"}}));

TEST_P(WrittenValues, AreThereWhereRowsAreChosen) {
    const TempDir dir{fast_place()};
    const auto [name, options] = GetParam();
    const Source source = Source::open(spoilt_visits(dir, name, options).string());
    ReadOptions chosen;
    chosen.where = "pole_id <> 'A'";
    FeatureReader reader{source, source.layer_names().front(), chosen};
    const std::size_t column = contract_column(reader.schema(), "present_circumference").value();
    FeatureBatch batch;
    std::vector<std::string> texts;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            texts.push_back(batch.text(row, column));
        }
    }
    EXPECT_THAT(texts, ElementsAre("40.5", "39,5", "****", "30", "40.5"));
}

/// The girths in a table by itself, one row's changed in the file.
std::vector<std::string> girths_of_dbf(const std::string& good, const std::string& bad) {
    const TempDir dir{fast_place()};
    Table table = visits();
    table.rows[3]["present_circumference"] = nullptr;
    write_table(dir / "typed.gpkg", table);
    const fs::path path = dir / "inspections.dbf";
    run_tool({"ogr2ogr",
              "-f",
              "ESRI Shapefile",
              path.string(),
              (dir / "typed.gpkg").string(),
              "inspections"});
    std::string bytes = content_of(path);
    replace_all(bytes, good, bad);
    dir.file("inspections.dbf", bytes);
    const Source source = Source::open(path.string());
    FeatureReader reader{source, "inspections"};
    const std::size_t column = contract_column(reader.schema(), "present_circumference").value();
    FeatureBatch batch;
    EXPECT_TRUE(reader.next(batch));
    std::vector<std::string> texts;
    for (std::size_t row = 0; row < batch.size(); ++row) {
        texts.push_back(batch.is_null(row, column) ? "null" : batch.text(row, column));
    }
    return texts;
}

// GDAL fills the cell of a null with stars, where others leave it blank and write stars for what does not fit.
TEST(WrittenValuesOfADbase, StarsAreNoneOnlyWhereNoNumberIsBlank) {
    const std::string stars(24, '*');
    EXPECT_THAT(girths_of_dbf("x", "x"),
                ElementsAre("40.5", "40.5", "92.25", "null", "30", "40.5"));
    EXPECT_THAT(girths_of_dbf("92.250000000000000", std::string(18, ' ')),
                ElementsAre("40.5", "40.5", "null", stars, "30", "40.5"));
}

// A row that OGR has to read must not change what the rows behind it say.
TEST(WrittenValuesOfAGeoPackage, StandBehindOddRowsAndBesideTimes) {
    for (const char* const change :
         {"ALTER TABLE inspections ADD COLUMN climb_safe DATETIME",
          "UPDATE inspections SET method = CAST('excavated' AS BLOB) WHERE pole_id = 'A'",
          "UPDATE inspections SET method = CAST(x'610062' AS TEXT) WHERE pole_id = 'A'"}) {
        SCOPED_TRACE(change);
        const TempDir dir{fast_place()};
        const fs::path file = spoilt_visits(dir, "v.gpkg", {"-f", "GPKG"});
        change_database(file, change);
        const Outcome out = outcome_of(dir, file);
        EXPECT_THAT(out.verdicts,
                    ElementsAre("serviceable", "unassessed", "unassessed", "unassessed", "stub"));
        EXPECT_EQ(out.unreadable.size(), 4U);
    }
}

}  // namespace
}  // namespace linewood::testing
