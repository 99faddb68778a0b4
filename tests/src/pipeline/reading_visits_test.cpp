#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

/// One pole a case, 20 m apart, on no span.
class Cases {
public:
    explicit Cases(const Row& visit) : visit_(visit) {}

    Cases& add(const std::string& id, const Row& visit, std::string_view date = "2024-05-01") {
        survey.add_pole(id, 20.0 * static_cast<double>(survey.poles.rows.size()), 0);
        merge(survey.add_visit(id, date, visit_), visit);
        return *this;
    }

    Survey survey;

private:
    Row visit_;
};

std::vector<std::string> values(const std::vector<Row>& findings) {
    std::vector<std::string> all;
    for (const Row& f : findings) {
        all.push_back(f.at("value").is_null() ? "" : f.at("value").get<std::string>());
    }
    return all;
}

const Row kSound{
    {"method", "excavated"}, {"original_circumference", 40.0}, {"present_circumference", 40.0}};

TEST(ReadingInspections, EveryMethodInAnySpelling) {
    Cases c{Row{{"original_circumference", 40.0}}};
    // C0 stands for C only where the pole was bored or dug up.
    for (const char* const enough : {"bore", "Excavated", " BORE ", "EXCAVATED"}) {
        c.add(std::string{"+"} + enough, {{"method", enough}});
    }
    for (const char* const little : {"visual", "Hammer", "", "sonic"}) {
        c.add(std::string{"-"} + little, {{"method", little}});
    }
    c.add("-absent", {{"method", nullptr}});
    const AssessedSurvey a{c.survey};
    for (const Row& pole : a.poles().rows) {
        const bool enough = pole.at("pole_id").get<std::string>()[0] == '+';
        EXPECT_EQ(pole.at("verdict"), enough ? "serviceable" : "unassessed") << pole;
        EXPECT_EQ(pole.at("reasons"), enough ? Row(nullptr) : Row("present_circumference_missing"))
            << pole;
    }
    const Row& doubt = a.doubt("code_unknown");
    EXPECT_EQ(doubt.at("layer"), "inspections");
    EXPECT_EQ(doubt.at("field"), "method");
    EXPECT_EQ(doubt.at("value"), "sonic");
    EXPECT_THAT(doubt.at("message").get<std::string>(),
                HasSubstr("(known are visual, hammer, bore, excavated)"));
    EXPECT_EQ(doubt.at("feature"), "8");  // the FID: an inspection has no id
    EXPECT_EQ(doubt.at("@wkt"), a.pole("-sonic").at("@wkt"));
}

TEST(ReadingInspections, DamageInAnySpelling) {
    Cases c{kSound};
    c.add("none", {{"aboveground_damage", "NONE"}})
        .add("minor", {{"aboveground_damage", " minor "}})
        .add("extensive", {{"aboveground_damage", "Extensive"}})
        .add("absent", {{"aboveground_damage", nullptr}})
        .add("odd", {{"aboveground_damage", "some"}});
    const AssessedSurvey a{c.survey};
    EXPECT_EQ(a.verdict("none"), "serviceable");
    EXPECT_EQ(a.pole("minor").at("reasons"), "minor_damage");
    EXPECT_EQ(a.verdict("minor"), "serviceable");
    EXPECT_EQ(a.verdict("extensive"), "replace");
    EXPECT_EQ(a.pole("extensive").at("urgency"), "now");
    EXPECT_EQ(a.verdict("absent"), "serviceable");
    EXPECT_EQ(a.doubt("code_unknown").at("value"), "some");
}

TEST(ReadingInspections, AnswersYesNoAndNeither) {
    for (const auto& [column, reason, answer] :
         {std::tuple{"climb_safe", "unsafe_to_climb", false},
          std::tuple{"decay_below_excavation", "decay_below_excavation", true}}) {
        Cases c{kSound};
        const std::vector<std::string> yes{"true", "T", "YES", "y", "1"};
        const std::vector<std::string> no{"false", "F", "No", "n", "0"};
        for (const std::string& word : answer ? yes : no) {
            c.add("+" + word, {{column, word}});
        }
        for (const std::string& word : answer ? no : yes) {
            c.add("-" + word, {{column, word}});
        }
        c.add("-absent", {{column, nullptr}}).add("-odd", {{column, "unsure"}});
        const AssessedSurvey a{c.survey};
        for (const Row& pole : a.poles().rows) {
            const bool spoke = pole.at("pole_id").get<std::string>()[0] == '+';
            const std::string reasons = pole.at("reasons").is_null() ? "" : pole.at("reasons");
            EXPECT_EQ(reasons.find(reason) != std::string::npos, spoke) << pole;
        }
        EXPECT_THAT(values(a.doubts("value_unreadable")), ElementsAre("unsure"));
        EXPECT_THAT(a.doubt("value_unreadable").at("message").get<std::string>(),
                    HasSubstr("true or false is wanted"));
    }
}

TEST(ReadingInspections, TreatedTurnsTreatIntoNoOpenWork) {
    Cases c{Row{{"method", "excavated"},
                {"original_circumference", 40.0},
                {"present_circumference", 39.0}}};
    c.add("open", {{"treated", false}}).add("done", {{"treated", true}});
    const AssessedSurvey a{c.survey};
    EXPECT_EQ(a.verdict("open"), "treat");
    EXPECT_EQ(a.verdict("done"), "treat");
    EXPECT_EQ(a.pole("done").at("reasons"), "decay_present;treated");
}

TEST(ReadingInspections, DatesAsDatesTimestampsAndText) {
    for (const char* const type : {"date", "datetime", "text"}) {
        Cases c{kSound};
        c.survey.inspections.types["inspected_on"] = type;
        const bool time = type == std::string{"datetime"};
        c.add("plain", {}, "2024-02-29");
        c.add("slash", {}, "2024/02/29");
        if (type != std::string{"date"}) {
            // The date as written, whatever the zone.
            c.add("late", {}, "2024-02-29T23:59:59-08:00");
            c.add("early", {}, "2024-02-29 00:00:01+14:00");
            c.add("utc", {}, "2024-02-29T23:30:00Z");
        }
        const AssessedSurvey a{c.survey};
        for (const Row& pole : a.poles().rows) {
            EXPECT_EQ(pole.at("inspected_on"), "2024-02-29") << type << ' ' << pole;
        }
        EXPECT_THAT(a.doubts("value_unreadable"), IsEmpty()) << type << time;
    }
}

TEST(ReadingInspections, DatesThatAreNone) {
    Cases c{kSound};
    c.survey.inspections.types["inspected_on"] = "text";
    for (const char* const odd : {"2023-02-29", "29.02.2024", "02/29/2024", "soon", "2024-13-01"}) {
        c.add(odd, {}, odd);
    }
    c.add("none", {}, "");
    c.add("blank", {{"inspected_on", "  "}});
    const AssessedSurvey a{c.survey};
    EXPECT_THAT(values(a.doubts("value_unreadable")),
                ElementsAre("2023-02-29", "29.02.2024", "02/29/2024", "soon", "2024-13-01"));
    for (const Row& pole : a.poles().rows) {
        EXPECT_TRUE(pole.at("inspected_on").is_null()) << pole;
        EXPECT_EQ(pole.at("verdict"), "serviceable") << pole;  // it was inspected, only not dated
    }
}

TEST(ReadingInspections, TheLatestIsAssessedAndTheEarlierIsHistory) {
    Cases c{kSound};
    c.add("P", {{"present_circumference", 20.0}}, "2014-05-01");
    c.survey.add_visit("P", "2024-05-01", kSound);
    c.survey.add_visit("P", "", {{"present_circumference", 10.0}});  // undated: the oldest
    const AssessedSurvey a{c.survey};
    EXPECT_EQ(a.verdict("P"), "serviceable");
    EXPECT_EQ(a.pole("P").at("inspected_on"), "2024-05-01");
    EXPECT_THAT(a.doubts("recovered"), Not(IsEmpty()));
}

TEST(ReadingInspections, OriginalGirthMeasuredHigherUpIsCarriedDown) {
    Cases c{Row{{"method", "excavated"}, {"original_circumference", 30.0}}};
    c.add("down", {{"original_height", "4"}}).add("as it is", {{"original_height", 0.0}});
    c.survey.poles.fill("species", "douglas_fir").fill("pole_class", "4").fill("length", 40.0);
    const AssessedSurvey a{c.survey};
    EXPECT_EQ(a.pole("as it is").at("original_circumference"), 30.0);
    EXPECT_EQ(a.pole("down").at("original_source"), "measured");
    // Tables: the taper from 6 ft above the butt to the tip; thicker further down.
    EXPECT_GT(a.pole("down").at("original_circumference").get<double>(), 30.5);
    EXPECT_LT(a.pole("down").at("original_circumference").get<double>(), 33.0);
}

TEST(ReadingInspections, FiguresThatAreNoneAreSaidAndNotUsed) {
    Cases c{Row{{"method", "bore"}, {"original_circumference", 40.0}}};
    c.survey.inspections.types["present_circumference"] = "text";
    c.add("minus", {{"present_circumference", "-1"}})
        .add("zero", {{"present_circumference", "0"}})
        .add("nan", {{"present_circumference", "NaN"}})
        .add("inf", {{"present_circumference", "-inf"}})
        .add("word", {{"present_circumference", "thin"}});
    const AssessedSurvey a{c.survey};
    EXPECT_THAT(values(a.doubts("value_negative")), ElementsAre("-1"));
    EXPECT_THAT(values(a.doubts("value_zero")), ElementsAre("0"));
    EXPECT_THAT(values(a.doubts("value_not_finite")), ElementsAre("NaN", "-inf"));
    EXPECT_THAT(values(a.doubts("value_unreadable")), ElementsAre("thin"));
    EXPECT_THAT(a.doubt("value_unreadable").at("message").get<std::string>(),
                HasSubstr("a number is wanted"));
}

TEST(ReadingInspections, WithoutTheColumnPoleIdNothingIsJoined) {
    Survey s;
    s.add_pole("P", 0, 0);
    s.inspections.rows.push_back(Row{{"asset", "P"}, {"method", "excavated"}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.pole("P").at("reasons"), "not_inspected");
    const Row missing = a.doubts("column_missing").at(0);
    EXPECT_EQ(missing.at("layer"), "inspections");
    EXPECT_EQ(missing.at("field"), "pole_id");
    EXPECT_TRUE(missing.at("feature").is_null());
}

TEST(ReadingSpans, KindsInAnySpellingAndWhichOfThemAreNeighbours) {
    Survey s;
    const char* const words[] = {"line", "LINE", "service", "Service", "guy", "GUY", "", "wire"};
    int i = 0;
    for (const char* const word : words) {
        const double y = 100.0 * i++;
        s.add_pole(std::string{"A"} + word, 0, y);
        s.add_pole(std::string{"B"} + word, 40, y);
        s.add_span({{0, y}, {40, y}}, {{"kind", word}, {"span_id", std::string{"S"} + word}});
    }
    const AssessedSurvey a{s};
    for (const char* const word : words) {
        const std::string w{word};
        const bool line = w != "service" && w != "Service" && w != "guy" && w != "GUY";
        EXPECT_EQ(a.pole("A" + w).at("line_role"), line ? "dead_end" : "isolated") << w;
        // Joined and measured all the same.
        EXPECT_EQ(a.layer("spans").row("span_id", "S" + w).at("to_pole"), "B" + w);
    }
    const Row& doubt = a.doubt("code_unknown");
    EXPECT_EQ(doubt.at("layer"), "spans");
    EXPECT_EQ(doubt.at("feature"), "Swire");
    EXPECT_EQ(doubt.at("value"), "wire");
    EXPECT_EQ(doubt.at("@wkt"), a.pole("Awire").at("@wkt"));  // where the span begins
}

TEST(ReadingSpans, CircuitAndVoltageDecideWhichPairGivesAJunctionItsAxis) {
    // East and west are of circuit 1, north and south carry the higher voltage.
    const auto axis = [](const Row& east_west, const Row& north_south) {
        Survey s;
        s.add_pole("P", 0, 0);
        s.add_pole("E", 40, 0);
        s.add_pole("W", -40, 2);
        s.add_pole("N", 0, 40);
        s.add_pole("S", 1, -40);
        s.add_span({{0, 0}, {40, 0}}, east_west);
        s.add_span({{-40, 2}, {0, 0}}, east_west);
        s.add_span({{0, 0}, {0, 40}}, north_south);
        s.add_span({{0, 0}, {1, -40}}, north_south);
        const double azimuth = AssessedSurvey{s}.pole("P").at("line_azimuth");
        return azimuth > 45.0 && azimuth < 135.0 ? 'E' : 'N';
    };
    EXPECT_EQ(
        axis({{"circuit", "1"}, {"voltage_kv", "12"}}, {{"circuit", "2"}, {"voltage_kv", "69"}}),
        'N');
    EXPECT_EQ(
        axis({{"circuit", "1"}, {"voltage_kv", 69.0}}, {{"circuit", "2"}, {"voltage_kv", 12.0}}),
        'E');
    // Neither: the straighter pair.
    EXPECT_EQ(axis({}, {}), 'N');
}

TEST(ReadingSpans, NamedEndsWinOverTheDrawing) {
    Survey s;
    s.add_pole("A", 0, 0);
    s.add_pole("B", 40, 0);
    s.add_pole("C", 0, 40);
    s.add_span({{0, 0}, {40, 0}}, {{"to_pole", " C "}, {"span_id", "S1"}});
    s.add_span({{0, 0}, {40, 0}}, {{"to_pole", "X"}, {"span_id", "S2"}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.layer("spans").row("span_id", "S1").at("to_pole"), "C");
    EXPECT_EQ(a.layer("spans").row("span_id", "S2").at("to_pole"), "B");
    const Row& far = a.doubt("span_end_far");
    EXPECT_EQ(far.at("feature"), "S1");
    EXPECT_EQ(far.at("layer"), "spans");
    const Row& unknown = a.doubt("span_pole_unknown");
    EXPECT_EQ(unknown.at("feature"), "S2");
    EXPECT_EQ(unknown.at("value"), "X");
}

TEST(ReadingSpans, WhatIsNoLineIsKeptAndSaid) {
    Survey s = five_poles();
    s.spans.geometry = "GEOMETRY";
    s.spans.rows.push_back(Row{{"@wkt", "POINT (500000 5000000)"}, {"circuit", "dot"}});
    s.spans.rows.push_back(
        Row{{"@wkt",
             "MULTILINESTRING ((500000 5000160,500000 5000200),(500000 5000200,500000 5000240))"},
            {"circuit", "multi"}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.layer("spans").row("circuit", "dot").at("@wkt"), "POINT (500000 5000000)");
    const Row& unused = a.doubt("geometry_unused");
    EXPECT_EQ(unused.at("feature"), "2");
    EXPECT_EQ(unused.at("field"), "geometry");
    EXPECT_EQ(unused.at("value"), "POINT");
    EXPECT_EQ(unused.at("@wkt"), "POINT (500000 5000000)");
    EXPECT_THAT(a.doubts("span_without_geometry"), IsEmpty());  // something is drawn
    EXPECT_THAT(where(a.layer("spans"), "from_pole", "E"), Not(IsEmpty()));
}

}  // namespace
}  // namespace linewood::testing
