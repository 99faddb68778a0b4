#include "src/assessed/assessed_data.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "src/job/job_error.hpp"
#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/changed_dataset.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;

class QuietMonitor : public RunMonitor {
public:
    void stage(std::string_view /*name*/, std::int64_t /*total*/) override {}
    void advance(std::int64_t /*steps*/) override {}
    void finish() override {}
};

AssessedData read(const std::filesystem::path& path,
                  const AssessedReading& wanted = {},
                  Findings* found = nullptr) {
    QuietMonitor monitor;
    Findings findings;
    return read_assessed(path.string(), wanted, found == nullptr ? findings : *found, monitor);
}

/// What `call` says when it fails.
template <typename Error, typename Call>
std::string message_of(const Call& call) {
    try {
        call();
    } catch (const Error& e) {
        return e.what();
    }
    return "no error";
}

Survey described_poles() {
    Survey s = five_poles();
    s.poles.fill("circuit", "N7").fill("species", "Douglas Fir").fill("pole_class", "4");
    s.poles.fill("install_year", 1971).fill("Treatment", "penta");
    s.poles.rows.at(4).at("circuit") = nullptr;
    return s;
}

TEST(AssessedData, HoldsWhatTheAssessmentSaidOfEachPole) {
    const AssessedSurvey survey{described_poles()};
    AssessedReading wanted;
    wanted.attributes = {"treatment"};
    const AssessedData data = read(survey.output(), wanted);
    ASSERT_EQ(data.poles.size(), 5U);
    const Verdict expected[] = {
        Verdict::serviceable, Verdict::treat, Verdict::stub, Verdict::replace, Verdict::unassessed};
    for (std::uint32_t i = 0; i < 5; ++i) {
        const std::string id{data.poles.ids.id(i)};
        EXPECT_EQ(data.poles.verdicts[i], expected[i]) << id;
        const Row& row = survey.pole(id);
        EXPECT_EQ(data.poles.has_strength(i), !row.at("remaining_pct").is_null()) << id;
        if (data.poles.has_strength(i)) {
            EXPECT_DOUBLE_EQ(data.poles.remaining_pct[i], row.at("remaining_pct")) << id;
        }
        EXPECT_EQ(data.poles.species.text(i), "douglas_fir");
        EXPECT_EQ(data.poles.classes.text(i), "4");
        EXPECT_EQ(data.poles.install_years[i], 1971);
        EXPECT_EQ(data.poles.attribute("treatment").text(i), "penta");
        EXPECT_EQ(data.poles.inspected_on[i].has_value(), i != 4) << id;
        EXPECT_FALSE(data.poles.repeated[i]);
    }
    EXPECT_EQ(data.poles.circuits.text(0), "N7");
    EXPECT_EQ(data.poles.circuits.text(4), "");
    EXPECT_EQ(data.poles.circuits.code(4), 0U);
    EXPECT_EQ(data.poles.roles[0], LineRole::dead_end);
    EXPECT_EQ(data.poles.roles[2], LineRole::tangent);
    EXPECT_EQ(data.poles.urgencies[4], Urgency::none);
}

TEST(AssessedData, TakesUnitsAndLimitFromTheRunLayer) {
    const AssessedSurvey us{five_poles()};
    const AssessedData first = read(us.output());
    EXPECT_EQ(first.run.units, UnitSystem::us);
    EXPECT_EQ(first.run.criteria_name, "general-practice");
    EXPECT_THAT(first.run.tool, HasSubstr("linewood "));
    ASSERT_TRUE(first.run.strength_limit_pct.has_value());
    EXPECT_DOUBLE_EQ(*first.run.strength_limit_pct, 65.0);
    const AssessedSurvey si{five_poles(), [](AssessJob& job) { job.units = UnitSystem::si; }};
    EXPECT_EQ(read(si.output()).run.units, UnitSystem::si);
}

TEST(AssessedData, MeasuresInMetresWhateverTheLayersAreIn) {
    for (const char* const crs : {"EPSG:32610", "EPSG:4326", "EPSG:2226"}) {
        const AssessedSurvey survey{in_crs(five_poles(), crs)};
        const AssessedData data = read(survey.output());
        const Point a = data.poles.places[0];
        const Point e = data.poles.places[4];
        // 160 m of grid at scale 0.9996, about as much on the equal-area plane.
        EXPECT_NEAR(std::hypot(e.x - a.x, e.y - a.y), 160.0 / 0.9996, 0.05) << crs;
        EXPECT_EQ(data.frame->name(), "Lambert azimuthal equal area about 45 N 125 W") << crs;
        const Row& row = survey.pole("A");
        const Point layer = *data.layer_point(0);
        const std::string wkt = row.at("@wkt");
        double x = 0.0;
        double y = 0.0;
        ASSERT_EQ(std::sscanf(wkt.c_str(), "POINT (%lf %lf)", &x, &y), 2) << wkt;
        // Equal-area projections come back within 1 mm.
        EXPECT_NEAR(layer.x, x, 4e-3) << crs;
        EXPECT_NEAR(layer.y, y, 4e-3) << crs;
    }
}

TEST(AssessedData, ReadsSpansWithTheirBends) {
    Survey s = five_poles();
    s.spans.rows.clear();
    s.add_span({{0, 0}, {0, 40}}, {{"circuit", "N7"}});
    s.add_span({{0, 80}, {10, 60}, {0, 40}}, {{"kind", "service"}});
    s.add_span({{0, 120}, {90, 160}});  // ends at no pole
    const AssessedSurvey survey{s};
    const AssessedData data = read(survey.output());
    ASSERT_EQ(data.spans.size(), 2U);
    EXPECT_EQ(data.span_rows, 3);
    EXPECT_EQ(data.spans.circuits().text(0), "N7");
    EXPECT_TRUE(data.spans[0].line);
    EXPECT_NEAR(data.spans[0].length_m, 40.0 / 0.9996, 0.02);
    EXPECT_EQ(data.spans.path(0, data.poles).size(), 2U);
    EXPECT_FALSE(data.spans[1].line);
    const auto path = data.spans.path(1, data.poles);
    ASSERT_EQ(path.size(), 3U);
    EXPECT_NEAR(std::hypot(path[1].x - path[0].x, path[1].y - path[0].y), std::hypot(10, 20), 0.05);
    EXPECT_EQ(path.front(), data.poles.places[data.spans[1].from]);
}

TEST(AssessedData, ReadsFoldersOfEveryFormatWritten) {
    for (const OutputFormat format :
         {OutputFormat::geojson, OutputFormat::flatgeobuf, OutputFormat::shapefile}) {
        const AssessedSurvey survey{described_poles(), [format](AssessJob& job) {
                                        job.out.replace_filename("out");
                                        job.format = format;
                                    }};
        const AssessedData data = read(survey.output());
        EXPECT_EQ(data.poles.size(), 5U) << name_of(format);
        EXPECT_EQ(data.spans.size(), 4U) << name_of(format);
        const std::uint32_t c = data.poles.ids.find("C");
        ASSERT_NE(c, PoleIndex::kNotFound) << name_of(format);
        EXPECT_EQ(data.poles.verdicts[c], Verdict::stub) << name_of(format);
        EXPECT_TRUE(data.poles.has_strength(c)) << name_of(format);
        EXPECT_EQ(data.poles.install_years[c], 1971) << name_of(format);
    }
}

TEST(AssessedData, AsksForAnAssessmentFirst) {
    const AssessedSurvey survey{five_poles()};
    EXPECT_THAT(message_of<DataError>([&] { read(survey.input()); }),
                HasSubstr("linewood assess IN --out OUT.gpkg"));
}

TEST(AssessedData, NamesTheColumnThatIsThere) {
    const AssessedSurvey survey{described_poles()};
    AssessedReading wanted;
    wanted.attributes = {"treatmnt"};
    EXPECT_THAT(message_of<JobError>([&] { read(survey.output(), wanted); }),
                HasSubstr("Treatment"));
}

TEST(AssessedData, CountsAnUndatedVisitAsAnInspection) {
    Survey s = five_poles();
    for (Row& visit : s.inspections.rows) {
        visit["inspected_on"] = nullptr;
    }
    s.add_pole("F", 0.0, 200.0);
    s.add_visit("F", "", {{"method", "visual"}});  // nothing measured: no verdict
    s.inspections.rows.back()["inspected_on"] = nullptr;
    const AssessedSurvey survey{s};
    const AssessedData data = read(survey.output());
    for (const std::string id : {"A", "B", "C", "D", "F"}) {
        const std::uint32_t pole = data.poles.ids.find(id);
        EXPECT_FALSE(data.poles.inspected_on[pole].has_value()) << id;
        EXPECT_TRUE(data.poles.inspected[pole]) << id;
    }
    EXPECT_EQ(data.poles.verdicts[data.poles.ids.find("F")], Verdict::unassessed);
    EXPECT_FALSE(data.poles.inspected[data.poles.ids.find("E")]);
}

TEST(AssessedData, DoubtsLengthsThatNoSpanHas) {
    const std::pair<const char*, const char*> cases[] = {
        {"-5", "value_negative"}, {"0", "value_zero"}, {"1e12", "value_unreadable"}};
    for (const auto& [length, code] : cases) {
        const AssessedSurvey survey{five_poles()};
        change_by_sql(survey.output(),
                      std::string{"UPDATE spans SET span_length_m = "} + length +
                          " WHERE from_pole = 'B' OR to_pole = 'A'");
        Findings findings;
        const AssessedData data = read(survey.output(), {}, &findings);
        ASSERT_FALSE(findings.empty()) << length;
        EXPECT_EQ(findings[0].code, code) << length;
        EXPECT_EQ(findings[0].layer, InputLayer::spans);
        EXPECT_EQ(findings[0].field, "span_length_m");
        EXPECT_THAT(findings[0].message, HasSubstr("the way from pole to pole stands for it"));
        for (const AssessedSpans::Span& span : data.spans) {
            EXPECT_NEAR(span.length_m, 40.0 / 0.9996, 0.05) << length;
        }
    }
}

TEST(AssessedData, SaysWhichColumnIsMissing) {
    const AssessedSurvey survey{five_poles()};
    change_by_sql(survey.output(), "ALTER TABLE poles RENAME COLUMN pole_id TO number");
    EXPECT_THAT(message_of<JobError>([&] { read(survey.output()); }),
                HasSubstr("have no column pole_id"));
}

TEST(AssessedData, CountsAPoleOnceAndSaysSo) {
    Survey s = five_poles();
    s.add_pole("A", 500.0, 500.0);
    const AssessedSurvey survey{s};
    Findings findings;
    const AssessedData data = read(survey.output(), {}, &findings);
    EXPECT_FALSE(data.poles.repeated[0]);
    EXPECT_TRUE(data.poles.repeated[5]);
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].code, "pole_id_duplicate");
    EXPECT_EQ(findings[0].feature, "A");
}

TEST(AssessedData, RefusesDegreesThatNobodyNamed) {
    Survey s = moved(five_poles(), [](Position p) {
        return Position{-122.0 + (p.first - 500000.0) * 1e-5, 45.0 + (p.second - 5e6) * 1e-5};
    });
    s.set_crs("");
    const AssessedSurvey survey{s};
    EXPECT_THAT(message_of<JobError>([&] { read(survey.output()); }),
                HasSubstr("look like degrees"));
    AssessedReading stated;
    stated.plane_metres_per_unit = 0.3048;
    EXPECT_EQ(read(survey.output(), stated).poles.size(), 5U);
}

TEST(AssessedData, TakesAProjectedSystemOfTheUsersInMetresOnly) {
    const AssessedSurvey survey{five_poles()};
    AssessedReading wanted;
    wanted.metric_crs = "EPSG:32610";
    const AssessedData data = read(survey.output(), wanted);
    EXPECT_NEAR(data.poles.places[0].x, 500000.0, 1e-3);
    EXPECT_NEAR(data.poles.places[0].y, 5000000.0, 1e-3);
    wanted.metric_crs = "EPSG:4326";
    EXPECT_THAT(message_of<JobError>([&] { read(survey.output(), wanted); }),
                HasSubstr("is in degrees"));
    wanted.metric_crs = "EPSG:2226";
    EXPECT_THAT(message_of<JobError>([&] { read(survey.output(), wanted); }),
                HasSubstr("does not measure metres"));
}

TEST(AssessedData, StandsStillOnBothSidesOfThe180thMeridian) {
    Survey s = in_crs(five_poles(), "EPSG:4326");
    s = moved(s, [](Position p) {
        return Position{p.second > 45.1531 ? -179.9999 : 179.9999, p.second};
    });
    const AssessedSurvey survey{s};
    const AssessedData data = read(survey.output());
    for (std::uint32_t i = 1; i < 5; ++i) {
        const Point a = data.poles.places[0];
        const Point b = data.poles.places[i];
        EXPECT_LT(std::hypot(a.x - b.x, a.y - b.y), 400.0);
    }
}

}  // namespace
}  // namespace linewood::testing
