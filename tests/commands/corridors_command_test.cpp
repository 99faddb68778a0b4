// `linewood corridors`: figures counted by hand and against the poles, whatever a corridor is made from.

#include <fstream>
#include <map>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"
#include "tests/support/worked_line.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::UnorderedElementsAre;

using Json = nlohmann::json;

/// Two lines 1 km apart of one circuit each; the second has a tap of another circuit at its fifth pole.
Survey two_lines() {
    Survey s;
    add_worked_line(s, "A", 0.0, "orosouotto", "one");
    add_worked_line(s, "B", 1000.0, "rrsoooooou", "two");
    add_worked_pole(s, "T1", 1050.0, 200.0, 'r');
    add_worked_pole(s, "T2", 1100.0, 200.0, 'o');
    s.add_span({{1000, 200}, {1050, 200}}, {{"circuit", "three"}});
    s.add_span({{1050, 200}, {1100, 200}}, {{"circuit", "three"}});
    s.set_crs("");
    return s;
}

class CorridorFolder {
public:
    explicit CorridorFolder(const Survey& survey = two_lines()) : folder_{survey} {
        const ProgramRun run = folder_.assess({"-q"});
        EXPECT_EQ(run.exit_code, 0) << run.err;
    }
    ProgramRun run(const Arguments& more = {}) const {
        Arguments all{
            "corridors", folder_.output().string(), "--out", path("c.gpkg"), "--overwrite"};
        all.insert(all.end(), more.begin(), more.end());
        return linewood(all);
    }
    /// The same on the input, once it is assessed in place.
    ProgramRun run_in_place() const {
        const std::string input = folder_.input().string();
        const ProgramRun assessed = linewood({"assess", input, "--in-place", "-q"});
        EXPECT_EQ(assessed.exit_code, 0) << assessed.err;
        return linewood({"corridors", input, "--out", path("c.gpkg"), "--overwrite"});
    }
    Table layer(const std::string& name) const { return read_table(path("c.gpkg"), name); }
    std::string path(std::string_view name) const { return folder_.path(name); }

    std::set<std::string> ids() const {
        std::set<std::string> ids;
        for (const Row& row : layer("corridors").rows) {
            ids.insert(row.at("corridor_id").get<std::string>());
        }
        return ids;
    }
    /// A column of all corridors together.
    double sum(const std::string& column) const {
        double sum = 0.0;
        for (const Row& row : layer("corridors").rows) {
            sum += row.at(column).is_null() ? 0.0 : row.at(column).get<double>();
        }
        return sum;
    }

private:
    SurveyFolder folder_;
};

TEST(CorridorsCommand, CountsByRun) {
    const CorridorFolder folder;
    const ProgramRun run = folder.run({"--sheets", folder.path("sheets")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(folder.ids(),
                UnorderedElementsAre(
                    "A01~A02~A10~one", "B01~B02~B05~two", "B05~B06~B10~two", "B05~T1~T2~three"));
    const Table corridors = folder.layer("corridors");
    const Row& a = corridors.row("corridor_id", "A01~A02~A10~one");
    EXPECT_EQ(a.at("poles"), 10);
    EXPECT_EQ(a.at("inspected"), 9);
    EXPECT_EQ(a.at("n_replace"), 1);
    EXPECT_EQ(a.at("n_stub"), 1);
    EXPECT_EQ(a.at("n_treat"), 2);
    EXPECT_EQ(a.at("n_unassessed"), 1);
    EXPECT_EQ(a.at("n_serviceable"), 5);
    EXPECT_NEAR(a.at("km").get<double>(), 0.45, 1e-9);
    // 2 of 9: Wilson by the formula, z = 1.959964.
    EXPECT_NEAR(a.at("reject_pct").get<double>(), 200.0 / 9.0, 1e-6);
    EXPECT_NEAR(a.at("reject_pct_low").get<double>(), 6.3226, 1e-3);
    EXPECT_NEAR(a.at("reject_pct_high").get<double>(), 54.7413, 1e-3);
    // 2 in 0.405 km; the Poisson limits of 2 are 0.242209 and 7.224688.
    EXPECT_NEAR(a.at("rejects_per_km").get<double>(), 2.0 / 0.405, 1e-6);
    EXPECT_NEAR(a.at("rejects_per_km_low").get<double>(), 0.242209 / 0.405, 1e-4);
    EXPECT_NEAR(a.at("rejects_per_km_high").get<double>(), 7.224688 / 0.405, 1e-4);
    EXPECT_EQ(a.at("worst_pole"), "A02");
    EXPECT_EQ(corridors.row("rank", 1).at("corridor_id"), "B01~B02~B05~two");
    const Json list = Json::parse(content_of(folder.path("sheets/corridors.json")));
    EXPECT_EQ(list.at("corridors").at(0).at("corridor_id"), "B01~B02~B05~two");
    EXPECT_EQ(list.at("totals").at("poles"), 22);
}

TEST(CorridorsCommand, CountsUndatedInspections) {
    Survey survey = two_lines();
    for (Row& visit : survey.inspections.rows) {
        visit["inspected_on"] = nullptr;
    }
    const CorridorFolder undated{survey};
    ASSERT_EQ(undated.run().exit_code, 0);
    const CorridorFolder dated;
    ASSERT_EQ(dated.run().exit_code, 0);
    EXPECT_EQ(undated.sum("inspected"), dated.sum("inspected"));
    EXPECT_GT(dated.sum("inspected"), 0.0);
}

TEST(CorridorsCommand, OfADatasetAssessedInPlaceTheSpansAreThoseFromPoleToPole) {
    Survey survey = two_lines();
    add_worked_pole(survey, "C1", 3000.0, 0.0, 'o');
    add_worked_pole(survey, "C2", 3000.0, 50.0, 'r');
    add_worked_pole(survey, "C3", 3000.0, 100.0, 'o');
    survey.add_span({{3000, 0}, {3000, 50}, {3000, 100}}, {{"circuit", "four"}});  // a route
    const CorridorFolder folder{survey};
    ASSERT_EQ(folder.run().exit_code, 0);
    const std::set<std::string> ids = folder.ids();
    const double km = folder.sum("km");
    EXPECT_EQ(ids.count("C1~C2~C3~four"), 1U);
    const ProgramRun run = folder.run_in_place();
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(folder.ids(), ids);
    EXPECT_NEAR(folder.sum("km"), km, 1e-9);
}

TEST(CorridorsCommand, EveryPoleIsInOneCorridor) {
    const CorridorFolder folder;
    for (const char* by : {"run", "chain", "circuit"}) {
        ASSERT_EQ(folder.run({"--by", by}).exit_code, 0);
        EXPECT_EQ(folder.sum("poles"), 22.0) << by;
        EXPECT_EQ(folder.sum("n_replace") + folder.sum("n_stub"), 6.0) << by;
        EXPECT_NEAR(folder.sum("km"), 1.0, 1e-9) << by;
        std::map<std::string, int> count;
        for (const Row& row : folder.layer("stations").rows) {
            ++count[row.at("corridor_id").get<std::string>()];
        }
        for (const Row& row : folder.layer("corridors").rows) {
            EXPECT_EQ(row.at("poles"), count[row.at("corridor_id").get<std::string>()]) << by;
        }
    }
    EXPECT_THAT(folder.ids(), UnorderedElementsAre("A01~~~one", "B01~~~two", "B05~~~three"));
    ASSERT_EQ(folder.run({"--by", "chain"}).exit_code, 0);
    EXPECT_THAT(folder.ids(),
                UnorderedElementsAre("A01~A02~A10~one", "B01~B02~B10~two", "B05~T1~T2~three"));
}

TEST(CorridorsCommand, StripsAlongAUsersLines) {
    const CorridorFolder folder;
    // The plane of the survey begins at 500000, 5000000.
    std::ofstream{folder.path("roads.csv")}
        << "name,lanes,wkt\n"
           "east,2,\"LINESTRING (501000 4999900,501000 5000160)\"\n"
           "nowhere,1,\"LINESTRING (600000 5000000,600000 5000100)\"\n"
           "west,2,\"LINESTRING (499990 4999900,499990 5000460)\"\n";
    const ProgramRun run =
        folder.run({"--lines", folder.path("roads.csv"), "--width", "30", "--id", "name"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table roads = folder.layer("corridors");
    ASSERT_EQ(roads.rows.size(), 3U);
    EXPECT_EQ(roads.rows[0].at("name"), "east");  // in the order of the user's layer
    EXPECT_EQ(roads.rows[0].at("lanes"), "2");
    EXPECT_EQ(roads.rows[0].at("poles"), 4);
    EXPECT_EQ(roads.rows[0].at("n_replace"), 2);
    EXPECT_NEAR(roads.rows[0].at("km").get<double>(), 0.175, 1e-9);  // half of the fourth span
    EXPECT_EQ(roads.rows[1].at("poles"), 0);
    EXPECT_TRUE(roads.rows[1].at("reject_pct").is_null());
    EXPECT_EQ(roads.rows[2].at("poles"), 10);
    EXPECT_EQ(folder.layer("run").row("item", "poles_outside").at("value"), "8");
    double km =
        std::stod(folder.layer("run").row("item", "km_outside").at("value").get<std::string>());
    EXPECT_NEAR(km + folder.sum("km"), 1.0, 1e-6);
}

TEST(CorridorsCommand, AreasOfAUser) {
    const CorridorFolder folder;
    std::ofstream{folder.path("areas.csv")}
        << "name,wkt\n"
           "b,\"POLYGON ((500900 4999900,501200 4999900,501200 5000900,500900 5000900,500900 "
           "4999900),"
           "(501040 5000190,501060 5000190,501060 5000210,501040 5000210,501040 5000190))\"\n"
           "a,\"POLYGON ((500900 4999900,501200 4999900,501200 5000010,500900 5000010,500900 "
           "4999900))\"\n"
           "c,\n";
    const ProgramRun run = folder.run({"--polygons", folder.path("areas.csv"), "--id", "name"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table areas = folder.layer("corridors");
    EXPECT_EQ(areas.row("name", "a").at("poles"), 1);   // B01, in both: the least id
    EXPECT_EQ(areas.row("name", "b").at("poles"), 10);  // T1 stands in its hole
    EXPECT_TRUE(areas.row("name", "c").at("poles").is_null());
    EXPECT_THAT(run.err, HasSubstr("1 pole in several corridors"));
    EXPECT_THAT(run.err, HasSubstr("1 row of"));
}

TEST(CorridorsCommand, AnEdgeOfAnAreaIsStraightInItsOwnCoordinates) {
    Survey survey = two_lines();
    survey.set_crs(Survey::kUtm10);
    const CorridorFolder folder{survey};
    // Longitude and latitude; 45.1555025619 N is half-way between the fifth poles and the sixth (PROJ 9).
    std::ofstream{folder.path("areas.geojson")}
        << R"({"type":"FeatureCollection","features":[)"
           R"({"type":"Feature","properties":{"name":"north"},"geometry":{"type":"Polygon",)"
           R"("coordinates":[[[-128,45.1555025619],[-118,45.1555025619],[-118,47],[-128,47],)"
           R"([-128,45.1555025619]]]}},)"
           R"({"type":"Feature","properties":{"name":"world"},"geometry":{"type":"Polygon",)"
           R"("coordinates":[[[-180,-90],[180,-90],[180,90],[-180,90],[-180,-90]]]}},)"
           R"({"type":"Feature","properties":{"name":"bow"},"geometry":{"type":"Polygon",)"
           R"("coordinates":[[[0,0],[1,1],[1,0],[0,1],[0,0]]]}}]})";
    const ProgramRun run = folder.run({"--polygons", folder.path("areas.geojson"), "--id", "name"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table areas = folder.layer("corridors");
    EXPECT_EQ(areas.row("name", "north").at("poles"), 10);  // five of each line; none of the tap
    EXPECT_EQ(areas.row("name", "world").at("poles"), 12);  // the others: the least id counts
    EXPECT_THAT(run.err, HasSubstr("10 poles in several corridors"));
    const Table findings = folder.layer("findings");
    EXPECT_EQ(findings.row("code", "area_crosses_itself").at("feature"), "bow");
    EXPECT_EQ(findings.row("code", "area_crosses_itself").at("layer"), "areas");
    // A line drawn in the same coordinates along that parallel.
    std::ofstream{folder.path("line.geojson")}
        << R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{},)"
           R"("geometry":{"type":"LineString","coordinates":[[-128,45.1555025619],)"
           R"([-118,45.1555025619]]}}]})";
    ASSERT_EQ(folder.run({"--lines", folder.path("line.geojson"), "--width", "60"}).exit_code, 0);
    EXPECT_EQ(folder.layer("corridors").rows.at(0).at("poles"), 6);  // 25 m to each side; T1, T2
}

TEST(CorridorsCommand, SaysOfWhichLayerTheCoordinateSystemWasAssumed) {
    Survey survey = two_lines();
    survey.set_crs(Survey::kUtm10);
    const CorridorFolder folder{survey};
    std::ofstream{folder.path("areas.csv")}
        << "name,wkt\n"
           "a,\"POLYGON ((500900 4999900,501200 4999900,501200 5000900,500900 5000900,500900 "
           "4999900))\"\n";
    const ProgramRun run = folder.run({"--polygons", folder.path("areas.csv")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.err, HasSubstr("layer areas: "));
    EXPECT_THAT(run.err, Not(HasSubstr("layer spans")));
    EXPECT_EQ(folder.layer("findings").row("code", "crs_assumed").at("layer"), "areas");
    EXPECT_EQ(folder.layer("corridors").rows.at(0).at("poles"), 12);
}

TEST(CorridorsCommand, FindsBadStretches) {
    Survey s;
    add_worked_line(s, "P", 0.0, "oooooooooooooorrrrrooooooooooooooooooooooooooooooooooooooooo");
    s.set_crs("");
    const CorridorFolder folder{s};
    ASSERT_EQ(folder.run({"--stretches"}).exit_code, 0);
    const Table stretches = folder.layer("bad_stretches");
    ASSERT_EQ(stretches.rows.size(), 1U);
    EXPECT_EQ(stretches.rows[0].at("first_pole"), "P15");
    EXPECT_EQ(stretches.rows[0].at("last_pole"), "P19");
    EXPECT_LE(stretches.rows[0].at("p").get<double>(), 0.01);
}

TEST(CorridorsCommand, RefusesALayerOfOtherShapes) {
    const CorridorFolder folder;
    std::ofstream{folder.path("masts.csv")} << "name,wkt\nx,\"POINT (1 1)\"\n";
    const ProgramRun lines = folder.run({"--lines", folder.path("masts.csv"), "--width", "5"});
    EXPECT_NE(lines.exit_code, 0);
    EXPECT_THAT(lines.err, HasSubstr("line"));
    const ProgramRun areas = folder.run({"--polygons", folder.path("masts.csv")});
    EXPECT_NE(areas.exit_code, 0);
    EXPECT_FALSE(std::filesystem::exists(folder.path("c.gpkg")));
}

TEST(CorridorsCommand, RefusesWhatDoesNotFit) {
    const CorridorFolder folder;
    std::ofstream{folder.path("roads.csv")} << "name,wkt\nx,\"LINESTRING (0 0,1 1)\"\n";
    const std::string roads = folder.path("roads.csv");
    EXPECT_EQ(folder.run({"--lines", roads}).exit_code, 2);
    EXPECT_EQ(folder.run({"--width", "5"}).exit_code, 2);
    EXPECT_EQ(folder.run({"--by", "feeder"}).exit_code, 2);
    EXPECT_EQ(folder.run({"--lines", roads, "--width", "5", "--by", "run"}).exit_code, 2);
    EXPECT_EQ(folder.run({"--lines", roads, "--width", "5", "--id", "nam"}).exit_code, 2);
    EXPECT_THAT(folder.run({"--lines", roads, "--width", "5", "--id", "nam"}).err,
                HasSubstr("name"));
    EXPECT_FALSE(std::filesystem::exists(folder.path("c.gpkg")));
}

}  // namespace
}  // namespace linewood::testing
