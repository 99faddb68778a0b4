#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

/// How two runs may differ: azimuths by a turn or a reflection, and everything by rounding.
struct Change {
    double turn = 0.0;
    bool mirrored = false;
    double azimuth_tolerance = 1e-6;
    double strength_tolerance = 1e-6;
    double length_tolerance = 1e-6;

    double azimuth(double a) const { return (mirrored ? -a : a) + turn; }
};

double between(double a, double b, double period) {
    return std::fabs(std::remainder(a - b, period));
}

void expect_same_cell(const std::string& column, const Row& a, const Row& b, const Change& change) {
    if (a.is_null() || b.is_null() || !a.is_number_float()) {
        EXPECT_EQ(a, b) << column;
    } else if (column.find("azimuth") != std::string::npos) {
        const double period = column == "span_azimuth" || column == "azimuth_true" ? 360.0 : 180.0;
        EXPECT_LT(between(change.azimuth(a.get<double>()), b.get<double>(), period),
                  change.azimuth_tolerance)
            << column << ' ' << a << ' ' << b;
    } else if (column == "span_length_m") {
        EXPECT_NEAR(a.get<double>(), b.get<double>(), change.length_tolerance) << column;
    } else {
        EXPECT_NEAR(a.get<double>(), b.get<double>(), change.strength_tolerance) << column;
    }
}

/// Rows without place and number, in an order that the order of the input has no part in.
std::vector<Row> content(const AssessedSurvey& a, const std::string& layer) {
    std::vector<Row> rows = without(a.layer(layer).rows, {"@fid", "@wkt"});
    const auto key = [](const Row& r) {
        std::string text;
        for (const char* const column : {"pole_id",
                                         "kind",
                                         "circuit",
                                         "from_pole",
                                         "to_pole",
                                         "height",
                                         "width",
                                         "shell_thickness"}) {
            text += r.contains(column) ? r.at(column).dump() + "|" : "";
        }
        return text;
    };
    std::stable_sort(
        rows.begin(), rows.end(), [&](const Row& x, const Row& y) { return key(x) < key(y); });
    return rows;
}

void expect_same(const AssessedSurvey& a,
                 const AssessedSurvey& b,
                 const Change& change,
                 const std::vector<std::string>& layers = {
                     "poles", "sections", "defects", "spans"}) {
    for (const std::string& layer : layers) {
        const auto before = content(a, layer);
        const auto after = content(b, layer);
        ASSERT_EQ(before.size(), after.size()) << layer;
        for (std::size_t i = 0; i < before.size(); ++i) {
            SCOPED_TRACE(layer + " " + before[i].dump());
            for (const auto& item : before[i].items()) {
                // As recorded: the change is made there.
                const bool recorded = item.key() == "azimuth";
                // A pocket without azimuth may be worst on either side: two directions, equally weak.
                const bool either =
                    item.key() == "weakest_azimuth" && before[i].at("pole_id") == "T2";
                if (!recorded && !either) {
                    expect_same_cell(item.key(), item.value(), after[i].at(item.key()), change);
                }
            }
        }
    }
}

/// The network on a plane without a coordinate system, where turning is exact.
Survey on_a_plane() {
    Survey s = odd_network();
    s.set_crs("");
    return moved(std::move(s), [](Position p) {
        return Position{p.first - 500000.0, p.second - 5000000.0};
    });
}

void turn_azimuths(Survey& s, const Change& change) {
    for (Row& d : s.defects.rows) {
        if (!d.at("azimuth").is_null()) {
            d["azimuth"] = std::fmod(change.azimuth(d.at("azimuth").get<double>()) + 720.0, 360.0);
        }
    }
}

TEST(Invariance, TheNetworkOfTheseTestsHasEveryRoleAndVerdictsThatDiffer) {
    const AssessedSurvey a{on_a_plane()};
    EXPECT_EQ(a.pole("T1").at("line_role"), "dead_end");
    EXPECT_EQ(a.pole("T2").at("line_role"), "tangent");
    EXPECT_EQ(a.pole("J").at("line_role"), "junction");
    EXPECT_EQ(a.pole("N1").at("line_role"), "angle");
    EXPECT_FALSE(a.pole("J").at("line_azimuth").is_null());
    for (const char* const id : {"T2", "T3", "J", "N1"}) {
        EXPECT_LT(a.pole(id).at("remaining_pct").get<double>(), 85.0) << id;
        EXPECT_NE(a.pole(id).at("transverse_pct"), a.pole(id).at("longitudinal_pct")) << id;
    }
    EXPECT_GE(
        std::set<std::string>({a.verdict("T1"), a.verdict("T2"), a.verdict("J"), a.verdict("N1")})
            .size(),
        2U);
}

TEST(Invariance, TurningTheWorldTurnsAzimuthsAndNothingElse) {
    const AssessedSurvey a{on_a_plane()};
    for (const double turn : {37.3, 180.0, 275.125}) {
        const double r = turn * std::numbers::pi / 180.0;
        // Clockwise, as azimuths are counted, about a point beside the network.
        Survey s = moved(on_a_plane(), [&](Position p) {
            const double x = p.first - 11.0;
            const double y = p.second + 7.0;
            return Position{x * std::cos(r) + y * std::sin(r), y * std::cos(r) - x * std::sin(r)};
        });
        const Change change{.turn = turn};
        turn_azimuths(s, change);
        expect_same(a, AssessedSurvey{s}, change);
    }
}

TEST(Invariance, AMirroredWorldMirrorsAzimuthsAndNothingElse) {
    const AssessedSurvey a{on_a_plane()};
    Survey s = moved(on_a_plane(), [](Position p) { return Position{-p.first, p.second}; });
    const Change change{.mirrored = true};
    turn_azimuths(s, change);
    expect_same(a, AssessedSurvey{s}, change);
}

TEST(Invariance, SpansDrawnTheOtherWayRoundChangeNoPole) {
    const AssessedSurvey a{odd_network()};
    Survey s = odd_network();
    for (Row& span : s.spans.rows) {
        const std::string wkt = span.at("@wkt");
        const auto open = wkt.find('(') + 1;
        std::string list = wkt.substr(open, wkt.size() - open - 1);
        std::string reversed;
        for (auto comma = list.rfind(','); comma != std::string::npos; comma = list.rfind(',')) {
            reversed += list.substr(comma + 1) + ",";
            list.resize(comma);
        }
        span["@wkt"] = "LINESTRING (" + reversed + list + ")";
    }
    const AssessedSurvey b{s};
    expect_same(a, b, {}, {"poles", "sections", "defects"});
    for (const Row& span : a.layer("spans").rows) {
        const auto other = where(b.layer("spans"), "to_pole", span.at("from_pole"));
        const auto same = std::find_if(other.begin(), other.end(), [&](const Row& r) {
            return r.at("from_pole") == span.at("to_pole");
        });
        ASSERT_NE(same, other.end()) << span;
        EXPECT_NEAR(between(same->at("span_azimuth").get<double>(),
                            span.at("span_azimuth").get<double>(),
                            360.0),
                    180.0,
                    1e-3);
    }
}

TEST(Invariance, TheOrderOfFeaturesIsOfNoMatter) {
    const AssessedSurvey a{odd_network()};
    for (const unsigned seed : {1U, 2U}) {
        Survey s = odd_network();
        std::mt19937 random{seed};
        for (Table* table : {&s.poles, &s.spans, &s.inspections, &s.defects}) {
            for (std::size_t i = table->rows.size(); i > 1; --i) {
                std::swap(table->rows[i - 1], table->rows[random() % i]);
            }
        }
        const AssessedSurvey b{s};
        expect_same(a, b, {.azimuth_tolerance = 1e-12, .strength_tolerance = 1e-12});
        EXPECT_EQ(without(a.findings().rows, {"@fid", "feature"}).size(), b.findings().rows.size());
    }
}

TEST(Invariance, ARouteIsItsSpans) {
    const AssessedSurvey a{odd_network()};
    Survey s = odd_network();
    const Table pieces = a.layer("spans");
    s.spans.rows.clear();
    for (const Row& piece : pieces.rows) {
        s.spans.rows.push_back(Row{{"@wkt", piece.at("@wkt")},
                                   {"circuit", piece.at("circuit")},
                                   {"voltage_kv", piece.at("voltage_kv")}});
    }
    expect_same(a, AssessedSurvey{s}, {});
}

TEST(Invariance, TheCoordinateSystemIsOfNoMatter) {
    const AssessedSurvey a{odd_network()};
    // Longitude and latitude; the next zone, whose grid is turned by some four degrees; survey feet.
    for (const char* const crs :
         {"EPSG:4326",
          "EPSG:32611",
          "+proj=lcc +lat_1=44 +lat_2=46 +lat_0=43.5 +lon_0=-120.5 +x_0=2000000 +y_0=100000 "
          "+datum=WGS84 +units=us-ft +no_defs"}) {
        SCOPED_TRACE(crs);
        // A span is straight in its own system: the same two ends, so the same but for a hair.
        expect_same(
            a,
            AssessedSurvey{in_crs(odd_network(), crs)},
            {.azimuth_tolerance = 1e-4, .strength_tolerance = 1e-4, .length_tolerance = 1e-4});
    }
}

TEST(Invariance, LayersInDifferentCoordinateSystemsMeet) {
    const AssessedSurvey a{odd_network()};
    Survey s = odd_network();
    s.spans = in_crs(s, "EPSG:4326").spans;
    expect_same(a,
                AssessedSurvey{s},
                {.azimuth_tolerance = 1e-4, .strength_tolerance = 1e-4, .length_tolerance = 1e-4});
}

TEST(Invariance, AsManyThreadsAsOneLikesGiveTheSameBytesOfContent) {
    // More poles than fit into a batch.
    Survey s;
    for (int i = 0; i < 2500; ++i) {
        const std::string id = "P" + std::to_string(i);
        s.add_pole(id, 40.0 * i, 3.0 * (i % 7));
        s.add_visit(
            id, "2024-05-01", {{"method", "excavated"}, {"original_circumference", 30.0 + i % 20}});
        if (i % 3 == 0) {
            s.add_defect(id, "external_pocket", {{"width", 1.0 + i % 5}, {"depth", 1.0 + i % 3}});
        }
        if (i > 0) {
            s.add_span({{40.0 * (i - 1), 3.0 * ((i - 1) % 7)}, {40.0 * i, 3.0 * (i % 7)}});
        }
    }
    TempDir folder{fast_place()};
    write_survey(folder / "in.gpkg", s);
    const auto with = [](std::size_t threads) {
        return [threads](AssessJob& job) { job.threads = threads; };
    };
    const AssessedSurvey one{folder / "in.gpkg", with(1)};
    for (const std::size_t threads : {2U, 4U}) {
        const AssessedSurvey many{folder / "in.gpkg", with(threads)};
        for (const char* const layer :
             {"poles", "spans", "inspections", "defects", "sections", "findings", "run"}) {
            EXPECT_EQ(one.layer(layer).rows == many.layer(layer).rows, true) << layer << threads;
        }
    }
}

}  // namespace
}  // namespace linewood::testing
