// Formats that are read by OGR alone, and archives: words in columns of numbers stay words.

#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/program.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::SizeIs;
using ::testing::StartsWith;

namespace fs = std::filesystem;

std::vector<std::string> values(const std::vector<Row>& findings) {
    std::vector<std::string> all;
    for (const Row& f : findings) {
        all.push_back(f.at("layer").get<std::string>() + "/" + f.at("field").get<std::string>() +
                      "=" + f.at("value").get<std::string>());
    }
    return all;
}

void run_tool(const std::string& tool, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), tool);
    const ProgramRun done = run_program_file("/usr/bin/env", arguments);
    ASSERT_EQ(done.exit_code, 0) << tool << ": " << done.err;
}

/// The layers of five_poles() by another driver.
void convert(const fs::path& from, const fs::path& to, const std::string& driver) {
    run_tool("ogr2ogr", {"-f", driver, to.string(), from.string()});
}

/// Files of a folder in a zip archive, without the folder.
void zip(const fs::path& folder, const fs::path& archive) {
    run_tool("python3",
             {"-c",
              "import os,sys,zipfile\n"
              "z=zipfile.ZipFile(sys.argv[2],'w',zipfile.ZIP_DEFLATED)\n"
              "for n in sorted(os.listdir(sys.argv[1])): z.write(os.path.join(sys.argv[1],n),n)\n",
              folder.string(),
              archive.string()});
}

void replace_in(const fs::path& file, const std::string& from, const std::string& to) {
    std::string bytes = content_of(file);
    const std::size_t at = bytes.find(from);
    ASSERT_NE(at, std::string::npos) << file;
    bytes.replace(at, from.size(), to);
    std::ofstream{file, std::ios::binary} << bytes;
}

void expect_verdicts(const AssessedSurvey& a) {
    EXPECT_EQ(a.verdict("A"), "serviceable");
    EXPECT_EQ(a.verdict("B"), "treat");
    EXPECT_EQ(a.verdict("C"), "stub");
    EXPECT_EQ(a.verdict("D"), "replace");
    EXPECT_EQ(a.verdict("E"), "unassessed");
}

/// SQLite keeps a word in a column of numbers, and OGR hands out 0.
TEST(OtherFormats, AWordInALooselyTypedSqliteTableIsUnreadable) {
    const TempDir folder{fast_place()};
    write_survey(folder / "in.gpkg", five_poles());
    convert(folder / "in.gpkg", folder / "in.sqlite", "SQLite");
    expect_verdicts(AssessedSurvey{folder / "in.sqlite"});
    run_tool(
        "python3",
        {"-c",
         "import sqlite3,sys\n"
         "c=sqlite3.connect(sys.argv[1])\n"
         "c.execute(\"UPDATE inspections SET present_circumference='abc' WHERE pole_id='A'\")\n"
         "c.execute(\"UPDATE inspections SET present_circumference='39.9' WHERE pole_id='B'\")\n"
         "c.execute(\"UPDATE inspections SET method='exca'||char(0)||'vated' WHERE pole_id='C'\")\n"
         "c.commit()\n",
         (folder / "in.sqlite").string()});
    const AssessedSurvey a{folder / "in.sqlite"};
    EXPECT_THAT(values(a.doubts("value_unreadable")),
                ElementsAre("inspections/present_circumference=abc"));
    EXPECT_THAT(values(a.doubts("nul_bytes")), ElementsAre("inspections/method=exca\\x00vated"));
    EXPECT_EQ(a.verdict("A"), "unassessed");
}

/// A table of one's own, without a key that OGR knows.
TEST(OtherFormats, ASqliteTableWithoutAKeyIsLookedAtToo) {
    const TempDir folder{fast_place()};
    write_survey(folder / "in.gpkg", five_poles());
    run_tool(
        "python3",
        {"-c",
         "import sqlite3,sys\n"
         "c=sqlite3.connect(sys.argv[1])\n"
         "c.execute('CREATE TABLE inspections (pole_id TEXT, inspected_on TEXT, method TEXT, "
         "original_circumference REAL, present_circumference REAL)')\n"
         "c.execute(\"INSERT INTO inspections VALUES ('A','2024-05-01','excavated',40,'n/a')\")\n"
         "c.execute(\"INSERT INTO inspections VALUES ('B','2024-05-01','excavated',40,40)\")\n"
         "c.commit()\n",
         (folder / "visits.sqlite").string()});
    const AssessedSurvey a{folder / "in.gpkg", [&](AssessJob& job) {
                               job.inputs.layers[2] = (folder / "visits.sqlite").string();
                           }};
    EXPECT_THAT(values(a.doubts("value_unreadable")),
                ElementsAre("inspections/present_circumference=n/a"));
    EXPECT_EQ(a.verdict("A"), "unassessed");
}

TEST(OtherFormats, AWordInAMifTableIsUnreadable) {
    const TempDir folder{fast_place()};
    Survey s = five_poles();
    s.poles.fill("recorded_circumference", 41.5);
    write_survey(folder / "in.gpkg", s);
    run_tool("ogr2ogr",
             {"-f",
              "MapInfo File",
              (folder / "poles.mif").string(),
              (folder / "in.gpkg").string(),
              "poles"});
    replace_in(folder / "poles.mid", "41.5", "abcd");
    const AssessedSurvey a{folder / "in.gpkg", [&](AssessJob& job) {
                               job.inputs.layers[0] = (folder / "poles.mif").string();
                           }};
    ASSERT_THAT(a.doubts("value_unreadable"), SizeIs(1));
    EXPECT_EQ(a.doubt("value_unreadable").at("value"), "abcd");
    EXPECT_THAT(a.poles().rows, SizeIs(5));
}

TEST(OtherFormats, AnArchiveIsReadAsWhatIsInIt) {
    const TempDir folder{fast_place()};
    for (const char* const ending : {"shp", "csv", "geojson"}) {
        SCOPED_TRACE(ending);
        const fs::path in = folder / (std::string{"in_"} + ending);
        write_survey(in, five_poles(), ending);
        zip(in, folder / (std::string{ending} + ".zip"));
        const AssessedSurvey a{"/vsizip/" + (folder / (std::string{ending} + ".zip")).string()};
        expect_verdicts(a);
        EXPECT_THAT(a.layer("spans").rows, SizeIs(4));
    }
}

TEST(OtherFormats, InAnArchiveAWordIsUnreadableAndACutRowIsSaid) {
    const TempDir folder{fast_place()};
    Survey s = five_poles();
    s.poles.fill("recorded_circumference", 41.5);
    write_survey(folder / "in", s, "shp");
    replace_in(folder / "in/poles.dbf", "41.5", "abcd");
    std::ofstream{folder / "in/inspections.csv", std::ios::app} << "A\n";
    zip(folder / "in", folder / "all.zip");
    const AssessedSurvey a{"/vsizip/" + (folder / "all.zip").string()};
    ASSERT_THAT(a.doubts("value_unreadable"), SizeIs(1));
    EXPECT_THAT(a.doubt("value_unreadable").at("value").get<std::string>(), StartsWith("abcd"));
    EXPECT_THAT(a.doubts("row_cut_short"), SizeIs(1));

    // The same of a Shapefile packed by itself, and of a KML.
    fs::create_directory(folder / "one");
    for (const char* const kind : {".shp", ".shx", ".dbf", ".prj", ".cpg"}) {
        if (fs::exists(folder / "in" / (std::string{"poles"} + kind))) {
            fs::copy(folder / "in" / (std::string{"poles"} + kind),
                     folder / "one" / (std::string{"poles"} + kind));
        }
    }
    zip(folder / "one", folder / "poles.shz");
    const auto with_poles = [&](const fs::path& poles) {
        return [&, poles](AssessJob& job) { job.inputs.layers[0] = poles.string(); };
    };
    write_survey(folder / "in.gpkg", s);
    const AssessedSurvey packed{folder / "in.gpkg", with_poles(folder / "poles.shz")};
    ASSERT_THAT(packed.doubts("value_unreadable"), SizeIs(1));
    EXPECT_THAT(packed.poles().rows, SizeIs(5));

    fs::create_directory(folder / "kml");
    run_tool(
        "ogr2ogr",
        {"-f", "KML", (folder / "kml/doc.kml").string(), (folder / "in.gpkg").string(), "poles"});
    replace_in(folder / "kml/doc.kml", ">41.5<", ">abcd<");
    zip(folder / "kml", folder / "poles.kmz");
    const AssessedSurvey kmz{folder / "in.gpkg", with_poles(folder / "poles.kmz")};
    ASSERT_THAT(kmz.doubts("value_unreadable"), SizeIs(1));
    EXPECT_EQ(kmz.doubt("value_unreadable").at("value"), "abcd");
}

}  // namespace
}  // namespace linewood::testing
