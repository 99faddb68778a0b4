#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/program.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

namespace fs = std::filesystem;

/// A survey as a GeoPackage, changed by SQL behind the back of every driver.
struct ChangedPackage {
    ChangedPackage(const Survey& survey, const std::string& sql) {
        write_survey(folder / "in.gpkg", survey);
        const ProgramRun changed =
            run_program_file("/usr/bin/env",
                             {"python3",
                              "-c",
                              "import sqlite3,sys\n"
                              "c=sqlite3.connect(sys.argv[1])\n"
                              "for (n,) in list(c.execute(\"SELECT name FROM sqlite_master WHERE "
                              "type='trigger' AND name LIKE 'rtree%'\")):\n"
                              "  c.execute('DROP TRIGGER \"%s\"' % n)\n"
                              "c.executescript(sys.argv[2])\n"
                              "c.commit()\n",
                              in().string(),
                              sql});
        EXPECT_EQ(changed.exit_code, 0) << changed.err;
    }
    fs::path in() const { return folder / "in.gpkg"; }
    TempDir folder{fast_place()};
};

std::vector<std::string> values(const std::vector<Row>& findings) {
    std::vector<std::string> all;
    all.reserve(findings.size());
    for (const Row& f : findings) {
        all.push_back(f.at("layer").get<std::string>() + "/" + f.at("feature").get<std::string>() +
                      "/" + f.at("field").get<std::string>() + "=" +
                      (f.at("value").is_null() ? "" : f.at("value").get<std::string>()));
    }
    return all;
}

TEST(DamagedGeometry, BytesThatAreNoneStopNothing) {
    // Bare bytes, a header without a shape, a shape cut short, and text; with booleans beside it or not,
    // which are read in different ways.
    for (const bool with_boolean : {false, true}) {
        for (const auto& [sql, value] :
             std::vector<std::pair<std::string, std::string>>{{"x'4750'", "4750"},
                                                              {"substr(geom,1,8)", "47500001"},
                                                              {"substr(geom,1,20)", "0101000000"},
                                                              {"'nonsense'", "nonsense"}}) {
            Survey s = five_poles();
            if (with_boolean) {
                s.poles.fill("reinforced", false);
            }
            const ChangedPackage p{s, "UPDATE poles SET geom=" + sql + " WHERE fid=2"};
            const AssessedSurvey a{p.in()};
            SCOPED_TRACE(sql);
            EXPECT_EQ(a.verdict("B"), "treat");  // it has its records
            EXPECT_EQ(a.verdict("C"), "stub");
            EXPECT_TRUE(a.pole("B").at("@wkt").is_null());
            EXPECT_EQ(a.pole("C").at("@wkt"), "POINT (500000 5000080)");
            EXPECT_THAT(values(a.doubts("geometry_unreadable")),
                        ElementsAre(HasSubstr("poles/B/geometry=" + value)));
            EXPECT_THAT(values(a.doubts("pole_without_place")), ElementsAre("poles/B/geometry="));
        }
    }
}

TEST(DamagedGeometry, OfASpanItIsSaidOnceAndAtAPole) {
    for (const char* const sql : {"x'4750'", "substr(geom,1,60)"}) {
        Survey s = five_poles();
        s.add_span({{0, 160}, {40, 160}}, {{"from_pole", "E"}, {"span_id", "bad"}});
        const ChangedPackage p{
            s, std::string{"UPDATE spans SET geom="} + sql + " WHERE span_id='bad'"};
        const AssessedSurvey a{p.in()};
        EXPECT_EQ(a.doubt("geometry_unreadable").at("feature"), "bad");
        EXPECT_EQ(a.doubt("geometry_unreadable").at("@wkt"), "POINT (500000 5000160)");
        EXPECT_THAT(a.doubts("span_without_geometry"), IsEmpty());
        EXPECT_TRUE(a.layer("spans").row("span_id", "bad").at("@wkt").is_null());
        EXPECT_EQ(a.layer("spans").row("span_id", "bad").at("from_pole"), "E");
        EXPECT_THAT(a.layer("spans").rows, SizeIs(5));
    }
}

TEST(DamagedGeometry, OfADefectItsPoleIsThePlace) {
    Survey s = five_poles();
    s.defects.geometry = "POINT";
    s.defects.crs = Survey::kUtm10;
    for (std::size_t i = 0; i < s.defects.rows.size(); ++i) {
        s.defects.rows[i]["@wkt"] = "POINT (" + std::to_string(i) + " 7)";
    }
    const ChangedPackage p{s,
                           "UPDATE defects SET geom=x'4750' WHERE fid=1;"
                           "UPDATE defects SET geom=substr(geom,1,20) WHERE fid=2;"};
    const AssessedSurvey a{p.in()};
    EXPECT_EQ(a.verdict("B"), "treat");
    EXPECT_THAT(values(a.doubts("geometry_unreadable")),
                ElementsAre("defects/1/geometry=4750", HasSubstr("0101000000")));
    EXPECT_EQ(a.layer("defects").rows.at(0).at("@wkt"), "POINT (500000 5000040)");
    EXPECT_EQ(a.layer("defects").rows.at(1).at("@wkt"), "POINT (500000 5000080)");
    EXPECT_EQ(a.layer("defects").rows.at(2).at("@wkt"), "POINT (2 7)");
}

TEST(DamagedGeometry, ACoordinateThatIsNoNumberIsSaidToGoOutAsNull) {
    Survey s = five_poles();
    s.poles.rows[0].erase("@wkt");
    s.poles.rows[0]["@path"] = {{std::numeric_limits<double>::infinity(), 5.0}};
    s.poles.rows[1]["@wkt"] = "POINT EMPTY";
    const AssessedSurvey a{s};
    EXPECT_EQ(a.verdict("A"), "serviceable");
    EXPECT_TRUE(a.pole("A").at("@wkt").is_null());
    EXPECT_THAT(values(a.doubts("geometry_not_finite")),
                ElementsAre(HasSubstr("poles/A/geometry=POINT (inf 5")));
    EXPECT_THAT(a.doubt("geometry_not_finite").at("message").get<std::string>(),
                HasSubstr("written as null"));
    EXPECT_THAT(values(a.doubts("pole_without_place")),
                ElementsAre("poles/A/geometry=", "poles/B/geometry=POINT EMPTY"));
    EXPECT_THAT(a.doubts("pole_without_place").at(1).at("message").get<std::string>(),
                HasSubstr("written as null"));
}

TEST(DamagedGeometry, BytesZeroInATextAreSaidAndCutNothingOff) {
    for (const bool with_boolean : {false, true}) {
        Survey s = five_poles();
        s.poles.fill("owner", "x");
        if (with_boolean) {
            s.poles.fill("reinforced", false);
        }
        const ChangedPackage p{
            s,
            "UPDATE poles SET owner='ab'||char(0)||'cd' WHERE fid=2;"
            "UPDATE inspections SET method='exca'||char(0)||'vated' WHERE fid=1;"};
        const AssessedSurvey a{p.in()};
        EXPECT_EQ(a.pole("B").at("owner"),
                  "ab\xEF\xBF\xBD"
                  "cd");
        EXPECT_EQ(a.pole("C").at("owner"), "x");
        EXPECT_THAT(values(a.doubts("nul_bytes")),
                    ElementsAre("poles/B/owner=ab\\x00cd", "inspections/1/method=exca\\x00vated"));
    }
}

TEST(DamagedGeometry, ACoordinateInCsvThatIsNoNumberIsShown) {
    const TempDir folder{fast_place()};
    write_survey(folder / "in", five_poles(), "csv");
    folder.file("in/poles.csv",
                "pole_id,x,y\nA,500000,5000000\nB,\"12,5 m\",5000040\n\nC,500000,inf\nD,,\n");
    const AssessedSurvey a{folder / "in"};
    EXPECT_THAT(values(a.doubts("geometry_unreadable")),
                ElementsAre("poles/B/x=12,5 m", "poles/C/y=inf"));
    EXPECT_THAT(a.doubts("pole_without_place"), SizeIs(3));
    EXPECT_EQ(a.verdict("B"), "treat");
}

}  // namespace
}  // namespace linewood::testing
