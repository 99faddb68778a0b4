#include <algorithm>
#include <cctype>
#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assess/wood/table_girth.hpp"
#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::SizeIs;
using ::testing::UnorderedElementsAre;

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();

const Row kExcavated{{"method", "excavated"}, {"present_circumference", 30.0}};

/// A pole with a visit that leaves its original girth to the record or the tables.
void add_case(Survey& s, const std::string& id, const Row& pole, const Row& visit = kExcavated) {
    s.add_pole(id, 20.0 * static_cast<double>(s.poles.rows.size()), 0, pole);
    s.add_visit(id, "2024-05-01", visit);
}

std::vector<std::string> features(const std::vector<Row>& findings) {
    std::vector<std::string> all;
    for (const Row& f : findings) {
        all.push_back(f.at("feature").is_null() ? "" : f.at("feature").get<std::string>());
    }
    return all;
}

std::string upper(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) {
        return static_cast<char>(std::toupper(c));
    });
    return text;
}

std::string replaced(std::string text, char from, const std::string& to) {
    std::string out;
    for (const char c : text) {
        out += c == from ? to : std::string{c};
    }
    return out;
}

TEST(ReadingPoles, EverySpeciesIsKnownByCodeNameAndAliasInAnySpelling) {
    const WoodTables& tables = WoodTables::built_in();
    Survey s;
    for (std::size_t i = 0; i < tables.species_count(); ++i) {
        const Species& species = tables.species(static_cast<SpeciesIndex>(i));
        std::vector<std::string> names = species.aliases;
        names.push_back(species.code);
        names.push_back(species.name);
        for (const std::string& name : names) {
            for (const std::string& spelled : {name,
                                               upper(name),
                                               " " + replaced(name, '_', " ") + " ",
                                               replaced(name, '_', "-"),
                                               "(" + name + ")"}) {
                const std::string id = species.code + "/" + std::to_string(s.poles.rows.size());
                add_case(s, id, {{"species", spelled}, {"pole_class", "4"}, {"length", 40.0}});
            }
        }
    }
    const AssessedSurvey a{s};
    EXPECT_THAT(a.doubts("species_unknown"), IsEmpty());
    std::map<std::string, Row> girths;
    for (const Row& pole : a.poles().rows) {
        const auto id = pole.at("pole_id").get<std::string>();
        const std::string code = id.substr(0, id.find('/'));
        const Row& girth = girths.emplace(code, pole.at("original_circumference")).first->second;
        EXPECT_EQ(pole.at("original_circumference"), girth) << pole.at("species");
    }
    // A published row: southern pine, 40 ft, class 4, 33.5 in at 6 ft from the butt, which is its groundline.
    EXPECT_NEAR(girths.at("southern_pine").get<double>(), 33.5, 0.51);
}

TEST(ReadingPoles, SpeciesThatAreNotKnownAreSaidAndNotGuessed) {
    Survey s;
    add_case(s, "odd", {{"species", "southern pin"}, {"pole_class", "4"}, {"length", 40.0}});
    add_case(s, "blank", {{"species", "  "}, {"pole_class", "4"}, {"length", 40.0}});
    add_case(s, "steel", {{"species", "sheet"}, {"material", "steel"}});
    const AssessedSurvey a{s};
    const Row& doubt = a.doubt("species_unknown");
    EXPECT_EQ(doubt.at("severity"), "warning");
    EXPECT_EQ(doubt.at("layer"), "poles");
    EXPECT_EQ(doubt.at("feature"), "odd");
    EXPECT_EQ(doubt.at("field"), "species");
    EXPECT_EQ(doubt.at("value"), "southern pin");
    EXPECT_EQ(doubt.at("@wkt"), a.pole("odd").at("@wkt"));
    EXPECT_TRUE(a.pole("odd").at("original_circumference").is_null());
    EXPECT_EQ(a.pole("odd").at("reasons"), "original_circumference_missing");
}

TEST(ReadingPoles, ClassesInTheWaysPeopleWriteThem) {
    Survey s;
    const auto add = [&](const std::string& id, const char* pole_class) {
        add_case(s, id, {{"species", "douglas_fir"}, {"pole_class", pole_class}, {"length", 45.0}});
    };
    for (const char* const four : {"4", " 4 ", "class 4", "Class 4", "4.0", "cl. 4"}) {
        add(std::string{"4:"} + four, four);
    }
    for (const char* const h1 : {"H1", "h1", "H-1", "H 1"}) {
        add(std::string{"H:"} + h1, h1);
    }
    for (const char* const none : {"8", "H7", "0", "11", "four"}) {
        add(std::string{"?:"} + none, none);
    }
    const AssessedSurvey a{s};
    const Row four = a.pole("4:4").at("original_circumference");
    const Row h1 = a.pole("H:H1").at("original_circumference");
    EXPECT_LT(four.get<double>(), h1.get<double>());
    for (const Row& pole : a.poles().rows) {
        const char kind = pole.at("pole_id").get<std::string>()[0];
        const Row& girth = pole.at("original_circumference");
        EXPECT_EQ(girth, kind == '4' ? four : kind == 'H' ? h1 : Row(nullptr)) << pole;
        EXPECT_EQ(pole.at("original_source"), kind == '?' ? Row(nullptr) : Row("tables")) << pole;
    }
    EXPECT_THAT(features(a.doubts("class_unknown")),
                ElementsAre("?:8", "?:H7", "?:0", "?:11", "?:four"));
}

TEST(ReadingPoles, ANumberInAClassColumnIsAClass) {
    for (const Row& four : {Row(4), Row(4.0)}) {
        Survey s;
        add_case(s, "P", {{"species", "douglas_fir"}, {"pole_class", four}, {"length", 45.0}});
        EXPECT_EQ(AssessedSurvey{s}.pole("P").at("original_source"), "tables");
    }
}

TEST(ReadingPoles, MaterialsThatAreWoodAndThatAreNot) {
    Survey s;
    const Row visit{{"method", "excavated"}, {"original_circumference", 40.0}};
    for (const char* const wood :
         {"wood", "WOOD", " Timber ", "wooden", "wood pole", "Wood-Pole"}) {
        add_case(s, std::string{"w:"} + wood, {{"material", wood}}, visit);
    }
    add_case(s, "w:absent", {{"material", nullptr}}, visit);
    add_case(s, "w:blank", {{"material", ""}}, visit);
    for (const char* const other :
         {"steel", "Concrete", "fiberglass", "composite", "galvanized steel"}) {
        add_case(s, std::string{"o:"} + other, {{"material", other}}, visit);
    }
    add_case(s, "?:straw", {{"material", "straw"}}, visit);
    const AssessedSurvey a{s};
    for (const Row& pole : a.poles().rows) {
        const bool wood = pole.at("pole_id").get<std::string>()[0] == 'w';
        EXPECT_EQ(pole.at("verdict"), wood ? "serviceable" : "unassessed") << pole;
        const bool other = pole.at("pole_id").get<std::string>()[0] == 'o';
        const Row reasons = wood ? Row(nullptr) : Row(other ? "not_wood" : "value_unreadable");
        EXPECT_EQ(pole.at("reasons"), reasons) << pole;
    }
    EXPECT_EQ(a.doubt("material_unknown").at("value"), "straw");
}

TEST(ReadingPoles, AnUnknownMaterialHidesNoFailure) {
    Survey s;
    add_case(s,
             "P",
             {{"material", "pine?"}},
             {{"method", "excavated"},
              {"original_circumference", 40.0},
              {"present_circumference", 30.0}});
    EXPECT_EQ(AssessedSurvey{s}.verdict("P"), "stub");
}

TEST(ReadingPoles, LengthsAndDepthsThatNoPoleHasAreDoubted) {
    const Row visit{{"method", "excavated"}, {"original_circumference", 40.0}};
    Survey s;
    add_case(s, "metres", {{"length", 12.2}}, visit);
    add_case(s, "good", {{"length", 40.0}, {"setting_depth", 6.0}}, visit);
    add_case(s, "deep", {{"length", 40.0}, {"setting_depth", 21.0}}, visit);
    add_case(s, "long", {{"length", 400.0}}, visit);
    add_case(s, "third", {{"length", 45.0}, {"setting_depth", 14.9}}, visit);
    add_case(s, "none", {{"length", 40.0}, {"setting_depth", 0.0}}, visit);
    const AssessedSurvey a{s};
    std::vector<std::string> told;
    for (const Row& f : a.doubts("pole_size_doubtful")) {
        told.push_back(f.at("feature").get<std::string>() + " " + f.at("field").get<std::string>() +
                       " " + f.at("value").get<std::string>());
    }
    EXPECT_EQ(told,
              (std::vector<std::string>{"metres length 12.2",
                                        "deep setting_depth 21",
                                        "long length 400",
                                        "none setting_depth 0"}));
}

// Measured so far up, a pole of the tables would be thin, and the loss small.
TEST(ReadingPoles, NothingPassesOnADepthThatIsDoubted) {
    Survey s;
    const Row pine{{"species", "southern_pine"}, {"pole_class", "4"}, {"length", 40.0}};
    const auto set_at = [&](const char* id, double depth, double girth) {
        Row pole = pine;
        pole["setting_depth"] = depth;
        add_case(s, id, pole, {{"method", "excavated"}, {"present_circumference", girth}});
    };
    set_at("usual", 6.0, 25.0);
    set_at("tip", 39.0, 25.0);
    set_at("half", 20.0, 25.0);
    set_at("sound", 39.0, 36.0);
    const AssessedSurvey a{s};
    EXPECT_EQ(a.verdict("usual"), "stub");
    EXPECT_EQ(a.verdict("tip"), "stub");
    EXPECT_EQ(a.verdict("half"), "stub");
    EXPECT_EQ(a.verdict("sound"), "unassessed");
}

TEST(ReadingPoles, NothingPassesOnADepthThatCannotBeRead) {
    Survey s;
    add_case(s,
             "P",
             {{"length", 40.0}, {"setting_depth", "5,5"}},
             {{"method", "excavated"}, {"original_circumference", 40.0}});
    EXPECT_EQ(AssessedSurvey{s}.verdict("P"), "unassessed");
}

TEST(ReadingPoles, BooleansInTheWaysPeopleWriteThem) {
    Survey s;
    const Row rotten{
        {"method", "excavated"}, {"original_circumference", 40.0}, {"present_circumference", 30.0}};
    for (const char* const yes : {"true", "T", "yes", "Y", "1", " TRUE "}) {
        add_case(s, std::string{"y:"} + yes, {{"reinforced", yes}}, rotten);
    }
    for (const char* const no : {"false", "f", "No", "n", "0", ""}) {
        add_case(s, std::string{"n:"} + no, {{"reinforced", no}}, rotten);
    }
    add_case(s, "?:perhaps", {{"reinforced", "perhaps"}}, rotten);
    const AssessedSurvey a{s};
    for (const Row& pole : a.poles().rows) {
        const bool yes = pole.at("pole_id").get<std::string>()[0] == 'y';
        const bool said =
            pole.at("reasons").get<std::string>().find("already_reinforced") != std::string::npos;
        EXPECT_EQ(said, yes) << pole;
        EXPECT_EQ(pole.at("verdict") == "stub", !yes) << pole;
    }
    const Row& doubt = a.doubt("value_unreadable");
    EXPECT_EQ(doubt.at("feature"), "?:perhaps");
    EXPECT_EQ(doubt.at("field"), "reinforced");
    EXPECT_EQ(doubt.at("value"), "perhaps");
}

TEST(ReadingPoles, BooleanAndNumberColumnsAreBooleansToo) {
    for (const Row& yes : {Row(true), Row(1), Row(1.0)}) {
        Survey s;
        add_case(s, "P", {{"reinforced", yes}, {"recorded_circumference", 40.0}});
        EXPECT_THAT(AssessedSurvey{s}.pole("P").at("reasons").get<std::string>(),
                    ::testing::HasSubstr("already_reinforced"));
    }
}

TEST(ReadingPoles, SizesInInchesAndFeetAsTextOrNumber) {
    Survey s;
    add_case(s, "recorded", {{"recorded_circumference", "40.5"}, {"length", " 45 "}});
    add_case(s, "plus", {{"recorded_circumference", " +40.50 "}});
    add_case(s, "with a unit", {{"recorded_circumference", "40 in"}});
    add_case(s, "comma", {{"recorded_circumference", "40,5"}});
    add_case(s, "negative", {{"recorded_circumference", "-40.5"}});
    add_case(s, "zero", {{"recorded_circumference", "0"}});
    add_case(s, "not a number", {{"recorded_circumference", "nan"}});
    add_case(s, "endless", {{"recorded_circumference", "inf"}});
    add_case(s, "none", {{"recorded_circumference", nullptr}});
    add_case(s, "blank", {{"recorded_circumference", "  "}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.pole("recorded").at("original_source"), "recorded");
    EXPECT_EQ(a.pole("recorded").at("original_circumference"), 40.5);
    EXPECT_EQ(a.pole("plus").at("original_circumference"), 40.5);
    for (const char* const id :
         {"with a unit", "comma", "negative", "zero", "not a number", "endless", "none", "blank"}) {
        EXPECT_TRUE(a.pole(id).at("original_circumference").is_null()) << id;
    }
    EXPECT_THAT(features(a.doubts("value_unreadable")), ElementsAre("with a unit", "comma"));
    EXPECT_THAT(features(a.doubts("value_negative")), ElementsAre("negative"));
    EXPECT_THAT(features(a.doubts("value_zero")), ElementsAre("zero"));
    EXPECT_THAT(features(a.doubts("value_not_finite")), ElementsAre("not a number", "endless"));
    EXPECT_EQ(a.doubt("value_negative").at("value"), "-40.5");
}

TEST(ReadingPoles, NumbersThatAreNoneInANumberColumn) {
    Survey s;
    add_case(s, "nan", {{"recorded_circumference", kNan}});
    add_case(s, "inf", {{"recorded_circumference", kInfinity}});
    add_case(s, "minus", {{"recorded_circumference", -1.5}});
    add_case(s, "zero", {{"recorded_circumference", 0.0}});
    // FlatGeobuf keeps what is no number; GeoPackage makes it null.
    TempDir folder{fast_place()};
    write_table(folder / "poles.fgb", s.poles);
    write_table(folder / "inspections.csv", s.inspections);
    const AssessedSurvey a{folder.path()};
    EXPECT_THAT(features(a.doubts("value_not_finite")), ElementsAre("nan", "inf"));
    EXPECT_THAT(features(a.doubts("value_negative")), ElementsAre("minus"));
    EXPECT_THAT(features(a.doubts("value_zero")), ElementsAre("zero"));
    for (const Row& pole : a.poles().rows) {
        EXPECT_TRUE(pole.at("original_circumference").is_null()) << pole;
    }
}

TEST(ReadingPoles, GivenAzimuthAndRoleOverrideTheSpans) {
    Survey s = five_poles();
    s.poles.rows[0]["given_azimuth"] = 200.0;
    s.poles.rows[1]["given_role"] = "Dead End";
    s.poles.rows[2]["given_azimuth"] = 361.0;
    s.poles.rows[3]["given_azimuth"] = -1.0;
    s.poles.rows[4]["given_role"] = "corner";
    const AssessedSurvey a{s};
    EXPECT_NEAR(a.pole("A").at("line_azimuth").get<double>(), 20.0, 1e-9);
    EXPECT_EQ(a.pole("A").at("line_source"), "given");
    EXPECT_EQ(a.pole("A").at("line_role"), "dead_end");
    EXPECT_EQ(a.pole("B").at("line_role"), "dead_end");
    EXPECT_EQ(a.pole("B").at("line_source"), "given");
    for (const char* const id : {"C", "D", "E"}) {
        EXPECT_EQ(a.pole(id).at("line_source"), "spans") << id;
    }
    EXPECT_THAT(features(a.doubts("azimuth_out_of_range")), ElementsAre("C", "D"));
    EXPECT_EQ(a.doubt("code_unknown").at("feature"), "E");
    EXPECT_EQ(a.doubt("code_unknown").at("value"), "corner");
}

TEST(ReadingPoles, AGivenAzimuthServesAPoleOnNoSpan) {
    Survey s;
    add_case(
        s,
        "P",
        {{"given_azimuth", 45.0}, {"given_role", "tangent"}, {"recorded_circumference", 40.0}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.pole("P").at("line_azimuth"), 45.0);
    EXPECT_EQ(a.pole("P").at("line_role"), "tangent");
    EXPECT_FALSE(a.pole("P").at("transverse_pct").is_null());
}

TEST(ReadingPoles, ColumnsAreFoundWithoutCase) {
    Survey s;
    Row& pole = s.poles.rows.emplace_back(Row{
        {"@wkt", "POINT (500000 5000000)"}, {"POLE_ID", "P"}, {"Recorded_Circumference", 40.0}});
    EXPECT_EQ(pole.size(), 3U);
    s.inspections.rows.push_back(Row{{"Pole_ID", " P "}, {"METHOD", "Excavated"}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.poles().rows.at(0).at("verdict"), "serviceable");
}

TEST(ReadingPoles, IdsAreTextComparedAsWritten) {
    Survey s;
    for (const char* const id : {"007", "7", "a", "A", "käfer"}) {
        s.add_pole(id, 20.0 * static_cast<double>(s.poles.rows.size()), 0);
    }
    s.add_visit("007", "2024-05-01", {{"method", "excavated"}, {"original_circumference", 40.0}});
    s.add_visit("a", "2024-05-01", {{"method", "excavated"}, {"original_circumference", 41.0}});
    s.add_visit(
        "  käfer ", "2024-05-01", {{"method", "excavated"}, {"original_circumference", 42.0}});
    s.add_visit("07", "2024-05-01");
    const AssessedSurvey a{s};
    EXPECT_EQ(a.verdict("007"), "serviceable");
    EXPECT_EQ(a.verdict("7"), "unassessed");
    EXPECT_EQ(a.pole("a").at("original_circumference"), 41.0);
    EXPECT_EQ(a.verdict("A"), "unassessed");
    EXPECT_EQ(a.pole("käfer").at("original_circumference"), 42.0);
    EXPECT_EQ(a.doubt("pole_unknown").at("value"), "07");
}

TEST(ReadingPoles, NumberIdsJoinTextIds) {
    Survey s;
    s.poles.rows.push_back(Row{{"@wkt", "POINT (500000 5000000)"}, {"pole_id", 1200000}});
    s.add_visit(
        "1200000", "2024-05-01", {{"method", "excavated"}, {"original_circumference", 40.0}});
    const AssessedSurvey a{s};
    EXPECT_EQ(a.poles().rows.at(0).at("verdict"), "serviceable");
}

TEST(ReadingPoles, MissingAndDoubledIds) {
    Survey s;
    add_case(s, "P", {{"recorded_circumference", 40.0}});
    add_case(s, "P", {{"recorded_circumference", 50.0}});
    s.poles.rows.push_back(Row{{"@wkt", "POINT (500100 5000000)"}, {"pole_id", nullptr}});
    s.poles.rows.push_back(Row{{"@wkt", "POINT (500120 5000000)"}, {"pole_id", "   "}});
    s.inspections.rows.push_back(Row{{"pole_id", nullptr}, {"method", "excavated"}});
    const AssessedSurvey a{s};
    const Row& doubled = a.doubt("pole_id_duplicate");
    EXPECT_EQ(doubled.at("severity"), "error");
    EXPECT_EQ(doubled.at("feature"), "P");
    EXPECT_EQ(doubled.at("field"), "pole_id");
    EXPECT_EQ(doubled.at("value"), "P");
    EXPECT_EQ(doubled.at("@wkt"), "POINT (500020 5000000)");  // where the second one stands
    EXPECT_EQ(a.poles().rows.at(0).at("original_circumference"), 40.0);
    EXPECT_EQ(a.poles().rows.at(1).at("reasons"), "duplicate_pole_id");
    EXPECT_TRUE(a.poles().rows.at(1).at("original_circumference").is_null());
    // Without an id the FID says which.
    EXPECT_THAT(features(a.doubts("pole_id_missing")), ElementsAre("3", "4"));
    EXPECT_THAT(a.doubts("pole_unknown"), SizeIs(1));
    EXPECT_EQ(a.poles().rows.at(2).at("reasons"), "not_inspected");
}

TEST(ReadingPoles, PolesWithoutAPlaceAreJoinedByNameOnly) {
    Survey s = five_poles();
    s.spans.rows.clear();
    s.add_span({{0, 0}, {0, 40}}, {{"from_pole", "A"}, {"to_pole", "B"}});
    s.poles.rows[2]["@wkt"] = nullptr;
    s.poles.rows[3]["@wkt"] = "POINT EMPTY";
    s.poles.geometry = "GEOMETRY";
    s.poles.rows[4]["@wkt"] = "LINESTRING (500000 5000000,500001 5000000)";
    const AssessedSurvey a{s};
    EXPECT_THAT(features(a.doubts("pole_without_place")), UnorderedElementsAre("C", "D", "E"));
    EXPECT_THAT(features(a.doubts("geometry_unused")), ElementsAre("E"));
    EXPECT_EQ(a.verdict("C"), "stub");
    EXPECT_EQ(a.verdict("D"), "replace");
    EXPECT_EQ(a.pole("E").at("@wkt"), "LINESTRING (500000 5000000,500001 5000000)");
    for (const Row& section : where(a.layer("sections"), "pole_id", "C")) {
        EXPECT_TRUE(section.at("@wkt").is_null());
    }
}

}  // namespace
}  // namespace linewood::testing
