#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/program.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

namespace fs = std::filesystem;

/// A finding as `severity layer/feature/field=value`, null parts empty.
std::string told(const Row& finding) {
    const auto text = [&](const char* column) {
        return finding.at(column).is_null() ? std::string{} : finding.at(column).get<std::string>();
    };
    return text("severity") + " " + text("layer") + "/" + text("feature") + "/" + text("field") +
           "=" + text("value");
}

std::vector<std::string> told(const std::vector<Row>& findings) {
    std::vector<std::string> all;
    for (const Row& f : findings) {
        all.push_back(told(f));
    }
    return all;
}

/// The survey of five poles as a folder of CSV files, one of them changed.
struct CsvFolder {
    CsvFolder() { write_survey(folder / "in", five_poles(), "csv"); }
    fs::path in() const { return folder / "in"; }
    void write(const std::string& name, const std::string& bytes) const {
        folder.file("in/" + name, bytes);
    }
    TempDir folder{fast_place()};
};

constexpr const char* kSoundVisit = "2024-05-01,excavated,40,40";

TEST(DamagedInput, ARowThatIsCutShortLetsNothingPass) {
    const CsvFolder f;
    const std::string header =
        "pole_id,inspected_on,method,original_circumference,present_circumference,climb_safe\n";
    f.write("inspections.csv",
            header + "A," + kSoundVisit + ",false\nB," + kSoundVisit + ",true\nC," + kSoundVisit +
                "\n");
    f.write("defects.csv", "pole_id,kind\n");
    const AssessedSurvey a{f.in()};
    EXPECT_EQ(a.verdict("A"), "replace");
    EXPECT_EQ(a.verdict("B"), "serviceable");
    EXPECT_EQ(a.verdict("C"), "unassessed");  // was it safe to climb?
    EXPECT_EQ(told(a.doubt("row_cut_short")),
              "error inspections/3/climb_safe=C,2024-05-01,excavated,40,40");
}

TEST(DamagedInput, CellsTooManyLetNothingPass) {
    const CsvFolder f;
    f.write("inspections.csv",
            std::string{
                "pole_id,inspected_on,method,original_circumference,present_circumference\nA,"} +
                kSoundVisit + ",sound, but wet\nB," + kSoundVisit + ",,\n");
    f.write("defects.csv", "pole_id,kind\n");
    const AssessedSurvey a{f.in()};
    EXPECT_EQ(a.verdict("A"), "unassessed");
    EXPECT_EQ(a.verdict("B"), "serviceable");
    EXPECT_EQ(told(a.doubt("row_surplus_cells")), "error inspections/1/=sound, but wet");
}

TEST(DamagedInput, AnUnclosedQuoteHidesNoDefectBehindIt) {
    const CsvFolder f;
    f.write("inspections.csv",
            std::string{
                "pole_id,inspected_on,method,original_circumference,present_circumference\nA,"} +
                kSoundVisit + "\nB," + kSoundVisit + "\nC," + kSoundVisit + "\n");
    f.write("defects.csv",
            "pole_id,kind,width,depth,cause,notes\n"
            "A,external_pocket,1,0.5,mechanical,\"a scratch\n"
            "B,external_pocket,20,6,decay,deep\n");
    const AssessedSurvey a{f.in()};
    EXPECT_EQ(a.verdict("A"), "unassessed");
    EXPECT_EQ(a.verdict("B"), "stub");
    EXPECT_EQ(a.verdict("C"), "serviceable");
    EXPECT_EQ(told(a.doubt("quote_unclosed")), "error defects/1/notes=\"a scratch");
    EXPECT_EQ(a.layer("defects").rows.at(0).at("notes"), "\"a scratch");
}

TEST(DamagedInput, DamageInPolesAndSpansIsNamedByTheirIds) {
    const CsvFolder f;
    f.write("poles.csv",
            std::string{"pole_id,x,y,species\nA,500000,5000000,douglas_fir,x\n"
                        "B,500000,5000040,douglas\0fir\n",
                        70});
    f.write("spans.csv", "span_id,wkt\nS1,\"LINESTRING (500000 5000000,500000 5000040)\"\nS2\n");
    const AssessedSurvey a{f.in()};
    EXPECT_EQ(told(a.doubt("row_surplus_cells")), "error poles/A/=x");
    EXPECT_EQ(told(a.doubt("row_cut_short")), "error spans/S2/wkt=S2");
    EXPECT_THAT(a.poles().rows, SizeIs(2));
    EXPECT_THAT(a.layer("spans").rows, SizeIs(2));
}

TEST(DamagedInput, TextThatIsNoUtf8IsWrittenWithSignsThatSaySo) {
    const CsvFolder f;
    f.write("poles.csv",
            "pole_id,x,y,owner\nk\xE4"
            "fer,1,2,M\xFCller\nB,3,4,M\xC3\xBCller\n");
    f.write("inspections.csv",
            "pole_id,notes\nk\xE4"
            "fer,\xFF\xFE\n");
    const AssessedSurvey a{f.in()};
    const std::string sign = "\xEF\xBF\xBD";
    EXPECT_EQ(a.poles().rows.at(0).at("pole_id"), "k" + sign + "fer");
    EXPECT_EQ(a.poles().rows.at(0).at("owner"), "M" + sign + "ller");
    EXPECT_EQ(a.poles().rows.at(1).at("owner"), "M\xC3\xBCller");
    EXPECT_EQ(a.layer("inspections").rows.at(0).at("notes"), sign + sign);
    EXPECT_THAT(told(a.doubts("text_not_utf8")),
                ElementsAre("warning poles/k" + sign +
                                "fer/pole_id=k\\xE4"
                                "fer",
                            "warning poles/k" + sign + "fer/owner=M\\xFCller",
                            "warning inspections/1/pole_id=k\\xE4"
                            "fer",
                            "warning inspections/1/notes=\\xFF\\xFE"));
    // Joined by its bytes all the same.
    EXPECT_THAT(a.doubts("pole_unknown"), ::testing::Each(::testing::Truly([](const Row& doubt) {
                    return doubt.at("layer") != "inspections";
                })));
}

TEST(DamagedInput, OfManySuchTextsTheFirstAreListedAndAllAreCounted) {
    const CsvFolder f;
    std::string poles{"pole_id,x,y,owner\n"};
    for (int i = 0; i < 250; ++i) {
        poles += std::to_string(i) + "," + std::to_string(i) + ",0,\xFC\n";
    }
    f.write("poles.csv", poles);
    const AssessedSurvey a{f.in()};
    const auto doubts = a.doubts("text_not_utf8");
    ASSERT_THAT(doubts, SizeIs(101));
    EXPECT_EQ(told(doubts.at(99)), "warning poles/99/owner=\\xFC");
    EXPECT_EQ(told(doubts.at(100)), "warning poles//owner=");
    EXPECT_THAT(doubts.at(100).at("message").get<std::string>(), HasSubstr("250 texts"));
}

TEST(DamagedInput, OneBadCoordinateInGeoJsonStopsNothing) {
    const TempDir folder{fast_place()};
    write_survey(folder / "in", five_poles(), "geojson");
    std::string poles = content_of(folder / "in/poles.geojson");
    const auto at = poles.find("\"coordinates\":");
    ASSERT_NE(at, std::string::npos);
    poles.replace(poles.find('[', at), 1, "[\"x\", ");
    folder.file("in/poles.geojson", poles);
    const AssessedSurvey a{folder / "in"};
    EXPECT_THAT(a.poles().rows, SizeIs(5));
    EXPECT_EQ(told(a.doubt("pole_without_place")), "warning poles/A/geometry=");
    EXPECT_THAT(
        told(a.doubt("geometry_unreadable")),
        ::testing::MatchesRegex("warning poles/A/geometry=line [0-9]+: \"x\" is no number"));
}

TEST(DamagedInput, TheToolsOwnFlatGeobufComesBackWhole) {
    Survey s = five_poles();
    s.poles.rows[3]["@wkt"] = nullptr;
    s.poles.rows[1]["@wkt"] = nullptr;
    s.spans.rows.at(0).update(Row{{"from_pole", "A"}, {"to_pole", "E"}});
    const AssessedSurvey first{s, [](AssessJob& job) {
                                   job.format = OutputFormat::flatgeobuf;
                                   job.out.replace_extension();
                               }};
    const AssessedSurvey again{first.output()};
    EXPECT_THAT(again.poles().rows, SizeIs(5));
    for (const char* const id : {"A", "B", "C", "D", "E"}) {
        EXPECT_EQ(again.verdict(id),
                  std::string{id} == "A"   ? "serviceable"
                  : std::string{id} == "B" ? "treat"
                  : std::string{id} == "C" ? "stub"
                  : std::string{id} == "D" ? "replace"
                                           : "unassessed")
            << id;
    }
    EXPECT_THAT(again.doubts("pole_unknown"), IsEmpty());
    EXPECT_THAT(again.statements("count_in", "poles"), ElementsAre("5"));
    EXPECT_THAT(again.statements("input_file", "poles"), SizeIs(2));
}

TEST(DamagedInput, CoordinatesThatAreNoPlaceOnTheEarth) {
    Survey s = five_poles();
    s.poles.rows[0]["@wkt"] = "POINT (1e300 1e300)";
    s.poles.rows[1]["@wkt"] = "POINT (500000 9e15)";
    const AssessedSurvey a{s};
    EXPECT_THAT(told(a.doubts("place_outside_crs")),
                ElementsAre("warning poles/A/geometry=POINT (1e+300 1e+300)",
                            "warning poles/B/geometry=POINT (500000 9e+15)"));
    EXPECT_EQ(a.pole("A").at("line_azimuth"), nullptr);
    EXPECT_EQ(a.pole("A").at("@wkt"), "POINT (1E+300 1E+300)");
    EXPECT_EQ(a.verdict("A"), "serviceable");
    for (const Row& section : a.layer("sections").rows) {
        EXPECT_EQ(section.at("@wkt").is_null(), section.at("pole_id") < Row("C")) << section;
    }
}

TEST(DamagedInput, ALatitudeBeyondThePoleAndAPlaneBeyondTheEarth) {
    Survey degrees;
    degrees.add_pole("A", 0, 0)["@wkt"] = "POINT (-122 45)";
    degrees.add_pole("B", 0, 0)["@wkt"] = "POINT (-122 95)";
    degrees.add_pole("C", 0, 0)["@wkt"] = "POINT (-500 45)";
    degrees.set_crs("EPSG:4326");
    const AssessedSurvey a{degrees};
    EXPECT_THAT(told(a.doubts("place_outside_crs")),
                ElementsAre("warning poles/B/geometry=POINT (-122 95)",
                            "warning poles/C/geometry=POINT (-500 45)"));

    Survey plane;
    plane.add_pole("A", 0, 0);
    plane.add_pole("B", 0, 0)["@wkt"] = "POINT (1e300 0)";
    plane.set_crs("");
    const AssessedSurvey b{plane};
    EXPECT_EQ(told(b.doubt("place_outside_crs")), "warning poles/B/geometry=POINT (1e+300 0)");
}

TEST(DamagedInput, AConeHoldsEveryPointOfItsPlaneButTheEarthDoesNot) {
    Survey s;  // Lambert conic, and zone numbers in front of the easting, which are right
    s.add_pole("A", 0, 0)["@wkt"] = "POINT (700000 6600000)";
    s.add_pole("B", 0, 0)["@wkt"] = "POINT (1e200 6600000)";
    s.set_crs("EPSG:2154");
    EXPECT_THAT(told(AssessedSurvey{s}.doubts("place_outside_crs")),
                ElementsAre("warning poles/B/geometry=POINT (1e+200 6600000)"));
    Survey zoned;
    zoned.add_pole("A", 0, 0)["@wkt"] = "POINT (32500000 5500000)";
    zoned.set_crs("EPSG:4647");
    EXPECT_THAT(AssessedSurvey{zoned}.doubts("place_outside_crs"), IsEmpty());
}

TEST(DamagedInput, DatesThatCannotBe) {
    Survey s;
    for (const char* const id : {"A", "B", "C"}) {
        s.add_pole(id, 0, 0);
    }
    s.add_visit("A", "2026-03-02", {{"present_circumference", 40.0}});
    s.add_visit("B", "2026-03-01", {{"present_circumference", 40.0}});
    s.add_visit("C", "1899-12-31", {{"present_circumference", 40.0}});
    s.add_defect("A", "shell_rot", {{"inspected_on", "2226-03-02"}});
    const AssessedSurvey a{s, [](AssessJob& job) { job.today = Date::from_ymd(2026, 3, 1); }};
    EXPECT_THAT(told(a.doubts("date_in_future")),
                ElementsAre("warning inspections/1/inspected_on=2026-03-02",
                            "warning defects/1/inspected_on=2226-03-02"));
    EXPECT_EQ(told(a.doubt("date_before_1900")), "warning inspections/3/inspected_on=1899-12-31");
    EXPECT_EQ(a.pole("C").at("inspected_on"), "1899-12-31");
    EXPECT_THAT(a.statements("job_today"), ElementsAre("2026-03-01"));
    // Without a day of the run none is late.
    EXPECT_THAT(AssessedSurvey{s}.doubts("date_in_future"), IsEmpty());
}

TEST(DamagedInput, NothingIsAssumedOfDefectsThatAreNotThere) {
    Survey s = five_poles();
    s.defects.rows.clear();
    s.defects.types = {{"pole_id", "text"}, {"kind", "text"}, {"azimuth", "real"}};
    const AssessedSurvey a{s};
    EXPECT_THAT(a.doubts("azimuth_ref_assumed"), IsEmpty());
    EXPECT_THAT(a.doubts("height_assumed"), IsEmpty());
}

TEST(DamagedInput, APoleWithoutAnIdIsNamedByItsFid) {
    Survey s;
    s.add_pole("A", 0, 0, {{"species", "southern_pine"}, {"pole_class", "2"}, {"length", 41.7}});
    s.poles.rows[0]["pole_id"] = nullptr;
    s.poles.types["pole_id"] = "text";
    const AssessedSurvey a{s};
    for (const Row& doubt : a.findings().rows) {
        if (doubt.at("layer") == "poles") {
            EXPECT_EQ(doubt.at("feature"), "1") << doubt;
        }
    }
}

TEST(DamagedInput, ColumnsOfTheInputSayWhatTheyHold) {
    Survey s = five_poles();
    s.poles.fill("length", 40.0).fill("owner", "x");
    const AssessedSurvey a{s};
    const auto described = [&](const char* layer, const char* column) {
        const Table t =
            read_sql(a.output(),
                     std::string{"SELECT description FROM gpkg_data_columns WHERE table_name = '"} +
                         layer + "' AND column_name = '" + column + "'");
        return t.rows.empty() ? std::string{} : t.rows.at(0).at("description").get<std::string>();
    };
    EXPECT_EQ(described("poles", "length"), "length of the pole [ft]");
    EXPECT_EQ(described("poles", "owner"), "");
    EXPECT_EQ(described("inspections", "present_circumference"),
              "girth at the groundline now, after shell rot is removed [in]");
    EXPECT_EQ(described("defects", "kind"),
              "external_pocket, internal_rot, shell_rot or bore (found sound)");
    // What the input says itself stands, and comes through a second time.
    TempDir folder{fast_place()};
    fs::copy_file(a.output(), folder / "in.gpkg");
    const ProgramRun changed =
        run_program_file("/usr/bin/env",
                         {"python3",
                          "-c",
                          "import sqlite3,sys\n"
                          "c=sqlite3.connect(sys.argv[1])\n"
                          "c.execute(\"UPDATE gpkg_data_columns SET description='over all [m]' "
                          "WHERE column_name='length'\")\n"
                          "c.commit()\n",
                          (folder / "in.gpkg").string()});
    ASSERT_EQ(changed.exit_code, 0) << changed.err;
    const AssessedSurvey again{folder / "in.gpkg"};
    const Table t = read_sql(
        again.output(), "SELECT description FROM gpkg_data_columns WHERE column_name = 'length'");
    EXPECT_EQ(t.rows.at(0).at("description"), "over all [m]");
}

TEST(DamagedInput, DegreesOfNoSystemAreNoMetres) {
    const TempDir folder{fast_place()};
    folder.file("poles.csv", "pole_id,lon,lat\nA,-122.1,45.1\nB,-122.2,45.1\n");
    EXPECT_THROW((AssessedSurvey{folder / "poles.csv"}), DataError);
}

TEST(DamagedInput, PartsOfDifferentShapefilesAreNotRead) {
    const CsvFolder f;
    write_table(f.folder / "long.shp", five_poles().poles);
    Table fewer = five_poles().poles;
    fewer.rows.pop_back();
    write_table(f.folder / "short.shp", fewer);
    fs::rename(f.folder / "short.dbf", f.folder / "long.dbf");
    EXPECT_THROW(Source::open((f.folder / "long.shp").string()), DataError);
    fs::remove(f.folder / "long.dbf");
    EXPECT_THROW(Source::open((f.folder / "long.shp").string()), DataError);
    EXPECT_NO_THROW(Source::open((f.folder / "in" / "poles.csv").string()));
}

}  // namespace
}  // namespace linewood::testing
