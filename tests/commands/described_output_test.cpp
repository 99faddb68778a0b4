#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

std::string sql(const std::filesystem::path& file, const std::string& statement) {
    std::string out = run_program_file("/usr/bin/sqlite3", {file.string(), statement}).out;
    while (!out.empty() && out.back() == '\n') {
        out.pop_back();
    }
    return out;
}

TEST(DescribedOutput, AGeoPackageSaysWhatItIs) {
    const SurveyFolder f;
    ASSERT_EQ(f.assess().exit_code, 0);
    EXPECT_EQ(sql(f.output(),
                  "SELECT description FROM gpkg_data_columns WHERE table_name = 'sections' AND "
                  "column_name = 'height'"),
              "over the groundline, down negative [ft]");
    const std::string record = sql(f.output(), "SELECT metadata FROM gpkg_metadata");
    EXPECT_THAT(record,
                AllOf(StartsWith("<gmd:MD_Metadata "),
                      HasSubstr("tool: linewood "),
                      HasSubstr("criteria_name: general-practice"),
                      HasSubstr("input_file (poles): in.gpkg, "),
                      HasSubstr("count_out (poles): 5")));
    EXPECT_EQ(sql(f.output(), "SELECT reference_scope FROM gpkg_metadata_reference"), "geopackage");
    EXPECT_EQ(sql(f.output(),
                  "SELECT base_table_name || '.' || related_table_name FROM gpkgext_relations "
                  "ORDER BY related_table_name"),
              "poles.defects\npoles.sections");
    EXPECT_EQ(sql(f.output(),
                  "SELECT count(*) FROM poles_sections v JOIN poles p ON p.fid = v.base_id JOIN "
                  "sections s ON s.fid = v.related_id WHERE p.pole_id = s.pole_id"),
              sql(f.output(), "SELECT count(*) FROM sections"));
    EXPECT_THAT(sql(f.output(), "EXPLAIN QUERY PLAN SELECT * FROM sections WHERE pole_id = 'A'"),
                HasSubstr("idx_sections_pole_id"));
}

/// The same by GDAL's own validator of the standard's requirements.
TEST(DescribedOutput, AGeoPackageIsOne) {
    const SurveyFolder f;
    ASSERT_EQ(f.assess().exit_code, 0);
    const ProgramRun run =
        run_program_file("/usr/bin/python3",
                         {"/usr/lib/python3/dist-packages/osgeo_utils/samples/validate_gpkg.py",
                          "-k",
                          f.output().string()});
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
}

TEST(DescribedOutput, FoldersHoldADictionary) {
    const SurveyFolder f;
    ASSERT_EQ(
        linewood({"assess", f.input().string(), "--out", f.path("s"), "--format", "shapefile"})
            .exit_code,
        0);
    const auto json = nlohmann::json::parse(content_of(f.folder() / "s" / "fields.json"));
    const auto& poles = json["layers"][0];
    EXPECT_EQ(poles["name"], "poles");
    EXPECT_EQ(poles["file"], "poles.shp");
    bool found = false;
    for (const auto& field : poles["fields"]) {
        found = found || (field["column"] == "remain_pct" && field["field"] == "remaining_pct" &&
                          field["unit"] == "%" && field["type"] == "real");
    }
    EXPECT_TRUE(found);
    // Each loss of the format is a finding.
    const Table findings = read_table(f.folder() / "s" / "findings.shp");
    bool told = false;
    for (const Row& row : findings.rows) {
        told = told || (row.at("code") == "output_changed" && row.at("layer") == "poles");
    }
    EXPECT_TRUE(told);
}

TEST(FieldsCommand, ListsFieldsInThreeForms) {
    const ProgramRun markdown = linewood({"fields"});
    EXPECT_EQ(markdown.exit_code, 0);
    EXPECT_THAT(markdown.out, HasSubstr("| `remaining_pct` | real | % |"));
    EXPECT_THAT(markdown.out, HasSubstr("`remain_pct` |"));
    const auto json =
        nlohmann::json::parse(linewood({"fields", "--format", "json", "--units", "si"}).out);
    EXPECT_EQ(json["input"][0]["name"], "poles");
    EXPECT_EQ(json["output"][4]["fields"][1]["unit"], "m");
    const auto schema = nlohmann::json::parse(linewood({"fields", "--format", "table-schema"}).out);
    EXPECT_EQ(schema["resources"][0]["schema"]["primaryKey"], "pole_id");
    const auto& sections = schema["resources"][4];
    EXPECT_EQ(sections["schema"]["foreignKeys"][0]["reference"]["resource"], "poles");
    EXPECT_EQ(sections["schema"]["fields"][0]["name"], "pole_id");
    EXPECT_EQ(linewood({"fields", "--format", "xml"}).exit_code, 2);
}

TEST(OutputFormats, EachIsWrittenAndReadAgainWithTheSameVerdicts) {
    const SurveyFolder f;
    for (const std::string format :
         {"flatgeobuf", "geojson", "geojsonl", "shapefile", "csv", "gml", "kml"}) {
        const ProgramRun run = linewood(
            {"assess", f.input().string(), "--out", f.path(format), "--format", format, "-q"});
        ASSERT_EQ(run.exit_code, 0) << format << run.err;
        const std::string again = f.path("again-" + format + ".gpkg");
        const ProgramRun reread = linewood({"assess", f.path(format), "--out", again, "-q"});
        ASSERT_EQ(reread.exit_code, 0) << format << reread.err;
        const Table poles = read_table(again, "poles");
        ASSERT_EQ(poles.rows.size(), 5U) << format;
        EXPECT_EQ(poles.pole("D").at("verdict"), "replace") << format;
        EXPECT_EQ(poles.pole("C").at("line_role"), "tangent") << format;
    }
    for (const std::string format : {"xlsx", "ods"}) {
        const ProgramRun run = linewood(
            {"assess", f.input().string(), "--out", f.path(format), "--format", format, "-q"});
        ASSERT_EQ(run.exit_code, 0) << format << run.err;
        EXPECT_EQ(read_table(f.folder() / format / ("poles." + format)).pole("D").at("verdict"),
                  "replace");
        // Tables of any kind beside layers of another.
        const ProgramRun mixed = linewood({"assess",
                                           f.input().string(),
                                           "--inspections",
                                           f.path(format) + "/inspections." + format,
                                           "--out",
                                           f.path("mixed-" + format + ".gpkg"),
                                           "-q"});
        ASSERT_EQ(mixed.exit_code, 0) << format << mixed.err;
        EXPECT_EQ(read_table(f.path("mixed-" + format + ".gpkg"), "poles").pole("D").at("verdict"),
                  "replace");
    }
}

TEST(OutputFormats, CrsIsChangedOrRefused) {
    const SurveyFolder f;
    ASSERT_EQ(f.assess({"--crs", "EPSG:4326"}).exit_code, 0);
    EXPECT_THAT(
        sql(f.output(), "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name='poles'"),
        "4326");
    EXPECT_EQ(f.assess({"--crs", "EPSG:nonsense", "--overwrite"}).exit_code, 2);
    EXPECT_EQ(f.assess({"--crs", "EPSG:4978", "--overwrite"}).exit_code, 2);  // geocentric
    EXPECT_EQ(linewood({"assess",
                        f.input().string(),
                        "--out",
                        f.path("k"),
                        "--format",
                        "kml",
                        "--crs",
                        "EPSG:32610"})
                  .exit_code,
              2);
}

}  // namespace
}  // namespace linewood::testing
