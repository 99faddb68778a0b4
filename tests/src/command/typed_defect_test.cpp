#include "src/command/typed_defect.hpp"

#include <gtest/gtest.h>

#include "src/job/job_error.hpp"

namespace linewood {
namespace {

struct PocketRow {
    std::string text;
    std::optional<double> azimuth;
    double width;
    double depth;
    FacePosition position = FacePosition::not_recorded;
    DefectCause cause = DefectCause::not_recorded;
};

TEST(TypedPocket, IsReadInEveryWayPeopleSayIt) {
    const std::optional<double> none;
    const auto out = FacePosition::out_of_line;
    const std::vector<PocketRow> rows{
        {"90,5,3", 90.0, 5.0, 3.0},
        {"5,3", none, 5.0, 3.0},
        {"5x3", none, 5.0, 3.0},
        {"5X2.5@210", 210.0, 5.0, 2.5},
        {"90:5,3", 90.0, 5.0, 3.0},
        {"NE,5,3", 45.0, 5.0, 3.0},
        {"5x3@nnw", 337.5, 5.0, 3.0},
        {"-45,5,3", 315.0, 5.0, 3.0},
        {"-270,5,3", 90.0, 5.0, 3.0},
        {"90deg, 5, 3", 90.0, 5.0, 3.0},
        {"90\u00b0,5,3", 90.0, 5.0, 3.0},
        {"in_line:5,3", none, 5.0, 3.0, FacePosition::in_line},
        {"Out-Of-Line,5,3", none, 5.0, 3.0, out},
        {"5x3@out_of_line", none, 5.0, 3.0, out},
        {"oblique 5 3", none, 5.0, 3.0, FacePosition::oblique},
        {"90,out_of_line,5,3", 90.0, 5.0, 3.0, out},
        {"90,5,3,mechanical", 90.0, 5.0, 3.0, FacePosition::not_recorded, DefectCause::mechanical},
        {"bolt-hole,5,3", none, 5.0, 3.0, FacePosition::not_recorded, DefectCause::bolt_hole},
        {"5in,76.2mm", none, 5.0, 3.0},
        {"5\",3", none, 5.0, 3.0},
        {".5,0.25", none, 0.5, 0.25},
        {"0,0", none, 0.0, 0.0},
    };
    for (const PocketRow& row : rows) {
        const Defect d = typed_pocket(row.text, UnitSystem::us);
        EXPECT_EQ(d.kind, DefectKind::external_pocket);
        EXPECT_EQ(d.azimuth.has_value(), row.azimuth.has_value()) << row.text;
        if (d.azimuth && row.azimuth) {
            EXPECT_NEAR(d.azimuth->degrees(), *row.azimuth, 1e-12) << row.text;
        }
        EXPECT_NEAR(d.width->inches(), row.width, 1e-12) << row.text;
        EXPECT_NEAR(d.depth->inches(), row.depth, 1e-12) << row.text;
        EXPECT_EQ(d.position, row.position) << row.text;
        EXPECT_EQ(d.cause, row.cause) << row.text;
    }
}

TEST(TypedPocket, TakesUnitsAndExtent) {
    EXPECT_EQ(*typed_pocket("90,127,76.2", UnitSystem::si).width, Length::millimetres(127.0));
    EXPECT_EQ(*typed_pocket("90,5,3", UnitSystem::us).depth, Length::inches(3.0));
    EXPECT_EQ(*typed_pocket("90,5,3,extent=1ft", UnitSystem::us).extent, Length::feet(1.0));
    EXPECT_FALSE(typed_pocket("90,5,3", UnitSystem::us).extent.has_value());
}

TEST(TypedBore, IsReadInEveryWayPeopleSayIt) {
    const Defect plain = typed_bore("180,2.5", UnitSystem::us);
    EXPECT_EQ(plain.kind, DefectKind::internal_rot);
    EXPECT_EQ(plain.azimuth->degrees(), 180.0);
    EXPECT_EQ(*plain.shell_thickness, Length::inches(2.5));
    EXPECT_FALSE(plain.bore_angle.has_value());
    EXPECT_FALSE(typed_bore("2.5", UnitSystem::us).azimuth.has_value());
    EXPECT_EQ(typed_bore("S,2.5", UnitSystem::us).azimuth->degrees(), 180.0);
    EXPECT_EQ(typed_bore("2.5@S", UnitSystem::us).azimuth->degrees(), 180.0);
    EXPECT_EQ(typed_bore("180,2.5,45", UnitSystem::us).bore_angle->degrees(), 45.0);
    EXPECT_EQ(typed_bore("S,2.5,45", UnitSystem::us).bore_angle->degrees(), 45.0);
    EXPECT_EQ(typed_bore("180,2.5,pocket", UnitSystem::us).bore_from, BoreFrom::pocket);
    EXPECT_EQ(plain.bore_from, BoreFrom::surface);
    EXPECT_EQ(typed_sound_bore("W").azimuth->degrees(), 270.0);
    EXPECT_EQ(typed_sound_bore("W").kind, DefectKind::bore);
    EXPECT_EQ(*typed_shell_rot("0.5", UnitSystem::us).depth, Length::inches(0.5));
}

TEST(TypedDefect, SaysWhatToTypeWhereItCannotBeMeant) {
    struct Row {
        std::string what;
        std::string text;
        std::vector<std::string> says;
    };
    const std::vector<Row> rows{
        {"pocket", "5", {"--pocket \"5\"", "does not hold a width and a depth", "90,5,3"}},
        {"pocket", "", {"does not hold a width and a depth"}},
        {"pocket", "1,2,3,4", {"does not hold a width and a depth"}},
        {"pocket", "N,1,2,3", {"does not hold a width and a depth"}},
        {"pocket", "in_lne,5,3", {"\"in_lne\"", "did you mean \"in_line\"?"}},
        {"pocket", "90,-5,3", {"\"-5\"", "less than nothing"}},
        {"pocket", "90,5q,3", {"--pocket width \"5q\"", "is no length"}},
        {"pocket", "90,5,1e3", {"is no length"}},
        {"pocket", "90,5,99999", {"over 100 m"}},
        {"pocket", "9000,5,3", {"is no direction"}},
        {"pocket", "90,nan,3", {"\"nan\""}},
        {"pocket", "90,5,3,extent=", {"is no length"}},
        {"bore", "", {"does not hold one shell thickness", "180,2.5"}},
        {"bore", "1,2,3,4", {"does not hold one shell thickness"}},
        {"bore", "180,2.5,90", {"between 0 and 90"}},
        {"bore", "180,2.5,from_above", {"\"from_above\""}},
        {"sound", "400", {"--sound", "is no direction"}},
        {"sound", "2.5x3", {"--sound", "is no direction", "compass point"}},
        {"shell", "half", {"--shell-rot", "is no length", "40in or 1016mm"}},
    };
    for (const Row& row : rows) {
        try {
            row.what == "pocket"  ? typed_pocket(row.text, UnitSystem::us)
            : row.what == "bore"  ? typed_bore(row.text, UnitSystem::us)
            : row.what == "sound" ? typed_sound_bore(row.text)
                                  : typed_shell_rot(row.text, UnitSystem::us);
            ADD_FAILURE() << row.what << " took " << row.text;
        } catch (const JobError& e) {
            for (const std::string& words : row.says) {
                EXPECT_NE(std::string{e.what()}.find(words), std::string::npos)
                    << row.text << ": " << e.what();
            }
        }
    }
}

}  // namespace
}  // namespace linewood
