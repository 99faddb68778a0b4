#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::IsSupersetOf;
using ::testing::Not;

AssessedSurvey::Change as(OutputFormat format) {
    return [format](AssessJob& job) {
        job.out.replace_filename("out");
        job.format = format;
    };
}

/// Column of the contract to column of a layer's file, from fields.csv.
std::map<std::string, std::string> names_in_file(const std::filesystem::path& folder,
                                                 const std::string& layer) {
    std::map<std::string, std::string> names;
    for (const Row& row : where(read_table(folder / "fields.csv"), "layer", layer)) {
        names[row.at("field").get<std::string>()] = row.at("column");
    }
    return names;
}

/// A value as any format may hold it: numbers to nine decimals, booleans as 0 and 1, blank as null.
Row plain(const Row& value) {
    if (value.is_boolean()) {
        return value.get<bool>() ? 1.0 : 0.0;
    }
    if (value.is_number()) {
        return std::round(value.get<double>() * 1e6) / 1e6 + 0.0;
    }
    if (value.is_string()) {
        std::string text = value;
        if (text.size() == 10 && text[4] == '/') {
            text[4] = text[7] = '-';
        }
        // FlatGeobuf has timestamps only.
        if (text.size() > 10 && text.substr(10) == "T00:00:00") {
            text.resize(10);
        }
        char* end = nullptr;
        const double number = std::strtod(text.c_str(), &end);
        if (!text.empty() && *end == '\0') {
            return plain(Row(number));  // CSV has text only
        }
        return text.empty() ? Row(nullptr) : Row(text);
    }
    return value;
}

TEST(OutputFormats, AllHoldTheSameValues) {
    const AssessedSurvey geopackage{five_poles()};
    for (const OutputFormat format :
         {OutputFormat::flatgeobuf, OutputFormat::geojson, OutputFormat::shapefile}) {
        const AssessedSurvey other{five_poles(), as(format)};
        for (const char* const layer : {"poles", "sections", "spans", "defects", "inspections"}) {
            SCOPED_TRACE(std::string{name_of(format)} + " " + layer);
            const auto names = names_in_file(other.output(), layer);
            const Table& expected = geopackage.layer(layer);
            std::vector<Row> rows = other.layer(layer).rows;
            ASSERT_EQ(rows.size(), expected.rows.size());
            for (const Row& row : expected.rows) {
                // Found again by all its values: a file may have an order of its own.
                const auto same = std::find_if(rows.begin(), rows.end(), [&](const Row& r) {
                    return std::all_of(names.begin(), names.end(), [&](const auto& name) {
                        return plain(r.at(name.second)) == plain(row.at(name.first));
                    });
                });
                EXPECT_NE(same, rows.end()) << row << "\n" << rows.front();
                if (same != rows.end()) {
                    rows.erase(same);
                }
            }
        }
    }
}

TEST(OutputFormats, FilesAreNamedAsTheContractSays) {
    const std::pair<OutputFormat, const char*> endings[] = {{OutputFormat::flatgeobuf, ".fgb"},
                                                            {OutputFormat::geojson, ".geojson"},
                                                            {OutputFormat::shapefile, ".shp"}};
    for (const auto& [format, ending] : endings) {
        const AssessedSurvey a{five_poles(), as(format)};
        std::vector<std::string> there;
        for (const auto& entry : std::filesystem::directory_iterator{a.output()}) {
            there.push_back(entry.path().filename().string());
        }
        const std::string e{ending};
        EXPECT_THAT(there,
                    IsSupersetOf({"poles" + e,
                                  "spans" + e,
                                  "defects" + e,
                                  "sections" + e,
                                  std::string{"inspections.csv"},
                                  std::string{"run.csv"}}))
            << e;
        for (const std::string& name : there) {
            EXPECT_NE(name.front(), '.') << name;
        }
    }
}

TEST(OutputFormats, RowsWithoutGeometryGoBesideWhereTheFormatCannotHoldThem) {
    Survey s = five_poles();
    s.poles.rows[4]["@wkt"] = nullptr;
    const AssessedSurvey a{s, as(OutputFormat::flatgeobuf)};
    EXPECT_EQ(a.poles().rows.size(), 4U);
    const Table rest = read_table(a.output() / "poles_nogeom.csv");
    ASSERT_EQ(rest.rows.size(), 1U);
    EXPECT_EQ(rest.pole("E").at("verdict"), "unassessed");
    EXPECT_THAT(a.statements("count_out", "poles"), ElementsAre("5"));
}

TEST(OutputFormats, AFolderOfARunWithoutInspectionsIsReadAgain) {
    TempDir folder{fast_place()};
    write_table(folder / "in.gpkg", five_poles().poles);
    const AssessedSurvey first{folder / "in.gpkg", as(OutputFormat::csv)};
    const AssessedSurvey again{first.output()};
    EXPECT_EQ(again.poles().rows.size(), 5U);
    EXPECT_EQ(again.verdict("A"), "unassessed");
}

TEST(OutputFormats, WhatIsLostOfDefectsIsAFindingToo) {
    const AssessedSurvey a{five_poles(), as(OutputFormat::shapefile)};
    std::vector<std::string> layers;
    for (const Row& doubt : a.doubts("output_changed")) {
        layers.push_back(doubt.at("layer"));
    }
    EXPECT_THAT(layers, IsSupersetOf({"poles", "defects"}));
}

TEST(OutputFormats, EveryReadableFormatIsReadTheSame) {
    const AssessedSurvey geopackage{five_poles()};
    for (const char* const ending : {"geojson", "fgb", "shp", "csv"}) {
        TempDir folder{fast_place()};
        write_survey(folder / "in", five_poles(), ending);
        const AssessedSurvey a{folder / "in"};
        for (const char* const id : {"A", "B", "C", "D", "E"}) {
            EXPECT_EQ(a.verdict(id), geopackage.verdict(id)) << ending;
            EXPECT_EQ(a.pole(id).at("reasons"), geopackage.pole(id).at("reasons")) << ending;
        }
        EXPECT_EQ(a.layer("spans").rows.size(), 4U) << ending;
    }
}

TEST(OutputFormats, LayersFromHereAndThere) {
    TempDir folder{fast_place()};
    const Survey s = five_poles();
    Table poles = s.poles;
    poles.name = "mine";
    write_table(folder / "a.gpkg", poles);
    write_table(folder / "routes.geojson", s.spans);
    write_table(folder / "visits.csv", s.inspections);
    Table defects = s.defects;
    defects.name = "what was found";
    write_table(folder / "b.gpkg", defects);
    const AssessedSurvey apart{folder / "a.gpkg", [&](AssessJob& job) {
                                   job.inputs.dataset.reset();
                                   job.inputs.layers = {
                                       (folder / "a.gpkg").string() + ":mine",
                                       (folder / "routes.geojson").string(),
                                       (folder / "visits.csv").string(),
                                       (folder / "b.gpkg").string() + ":what was found"};
                               }};
    const AssessedSurvey together{s};
    for (const char* const id : {"A", "B", "C", "D", "E"}) {
        EXPECT_EQ(apart.verdict(id), together.verdict(id));
    }
    EXPECT_THAT(apart.doubts("layer_missing"), IsEmpty());
    EXPECT_THAT(apart.statements("input", "poles"), ElementsAre("a.gpkg, layer mine"));
    EXPECT_THAT(apart.statements("input", "inspections"), ElementsAre("visits.csv, layer visits"));
    EXPECT_EQ(apart.statements("input_file").size(), 4U);
}

TEST(OutputFormats, ANamedLayerWinsOverTheDatasets) {
    TempDir folder{fast_place()};
    const Survey s = five_poles();
    write_survey(folder / "in.gpkg", s);
    Survey other = five_poles();
    other.defects.rows.clear();
    other.add_defect("A", "internal_rot", {{"height", 0.0}, {"shell_thickness", 0.5}});
    write_table(folder / "new.csv", other.defects);
    const AssessedSurvey a{folder / "in.gpkg", [&](AssessJob& job) {
                               job.inputs.layers[3] = (folder / "new.csv").string();
                           }};
    EXPECT_EQ(a.verdict("A"), "stub");
    EXPECT_EQ(a.verdict("D"), "serviceable");
}

}  // namespace
}  // namespace linewood::testing
