// Worksheets as pages: every pole of the sample against its layers, and what a browser makes of them.

#include <gtest/gtest.h>

#include "tests/support/worksheet_pages.hpp"

namespace linewood::testing {
namespace {

TEST(slow_WorksheetPages, PrintWhatTheLayersHaveOfEveryPoleOfTheSample) {
    for (const char* units : {"us", "si"}) {
        const TempDir folder{fast_place()};
        expect_same_as_layers(sample_file("sample.gpkg"), folder, {"--units", units});
    }
}

/// Poles of every odd kind: hostile ids, nothing known, not wood, twenty defects, a section in pieces.
Survey odd_poles() {
    Survey survey;
    double y = 0.0;
    const auto add = [&](const std::string& id, const Row& more) {
        survey.add_pole(id, 0.0, y, more);
        if (y > 0.0) {
            survey.add_span({{0.0, y - 40.0}, {0.0, y}});
        }
        y += 40.0;
    };
    for (const std::string& id : hostile_ids()) {
        add(id, {{"recorded_circumference", 40.0}, {"species", id}});
        survey.add_visit(id, "2024-05-01", {{"present_circumference", 38.0}, {"notes", id}});
        survey.add_defect(id, "external_pocket", {{"width", 5.0}, {"depth", 2.0}, {"notes", id}});
    }
    add("sound", {{"recorded_circumference", 40.0}});
    survey.add_visit("sound", "2024-05-01", {{"method", "bore"}});
    add("never", {{"species", "southern pine"}, {"length", 40.0}, {"pole_class", "4"}});
    add("steel", {{"material", "steel"}});
    add("unknown", Row::object());
    survey.add_visit("unknown", "2024-05-01", {{"method", "hammer"}});
    add("twenty", {{"species", "southern pine"}, {"length", 40.0}, {"pole_class", "4"}});
    survey.add_visit("twenty", "2024-05-01", {{"present_circumference", 30.0}});
    for (int i = 0; i < 20; ++i) {
        survey.add_defect("twenty",
                          i % 3 == 0 ? "internal_rot" : "external_pocket",
                          {{"azimuth", 18.0 * i},
                           {"azimuth_ref", "true"},
                           {"height", 1.5 * (i / 5)},
                           {"width", 2.0},
                           {"depth", 0.5},
                           {"shell_thickness", 2.5}});
    }
    add("split", {{"recorded_circumference", 40.0}});
    survey.add_visit("split", "2024-05-01", {{"present_circumference", 40.0}});
    survey.add_defect(
        "split", "external_pocket", {{"azimuth", 0.0}, {"width", 3.0}, {"depth", 6.3}});
    survey.add_defect(
        "split", "external_pocket", {{"azimuth", 180.0}, {"width", 3.0}, {"depth", 6.3}});
    return survey;
}

TEST(slow_WorksheetPages, PassABrowserAndValidators) {
    const SurveyFolder folder{odd_poles()};
    const ProgramRun run = run_program_file("/bin/bash",
                                            {test_file("pages/run"),
                                             linewood_program(),
                                             sample_file("sample.gpkg"),
                                             folder.input().string()});
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    EXPECT_NE(run.out.find(" 0 problems"), std::string::npos) << run.out << run.err;
}

}  // namespace
}  // namespace linewood::testing
