#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "src/job/checksum.hpp"
#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

/// Every type an attribute may have, with a null in the second row.
void add_all_types(Table& table) {
    for (Row& row : table.rows) {
        row.update(Row{{"a_text", "käfer; \"zwei\", 'drei'\nvier"},
                       {"a_long", 9007199254740993},
                       {"a_real", 0.1},
                       {"a_bool", true},
                       {"a_date", "1999-12-31"},
                       {"a_time", "2024-02-29T23:59:58Z"},
                       {"a_blob", "raw"},
                       {"a_short", 7}});
    }
    for (const char* const column :
         {"a_text", "a_long", "a_real", "a_bool", "a_date", "a_time", "a_blob", "a_short"}) {
        table.rows.at(1)[column] = nullptr;
    }
    table.types["a_date"] = "date";
    table.types["a_time"] = "datetime";
    table.types["a_blob"] = "binary";
    table.types["a_short"] = "integer";
}

TEST(CarriedColumns, EveryTypeOfAttributeComesThroughInEveryLayer) {
    Survey s = five_poles();
    s.add_span({{0, 160}, {0, 200}});
    for (Table* table : {&s.poles, &s.spans, &s.inspections, &s.defects}) {
        add_all_types(*table);
    }
    const AssessedSurvey a{s};
    for (const Table* table : s.tables()) {
        const Table in = read_table(a.input(), table->name);
        const Table& out = a.layer(table->name);
        for (const Row& row : in.rows) {
            const Row& same = out.row("@fid", row.at("@fid"));
            for (const auto& item : row.items()) {
                if (item.key()[0] != '@') {
                    EXPECT_EQ(same.at(item.key()), item.value())
                        << table->name << ' ' << item.key();
                    EXPECT_EQ(in.types.at(item.key()), out.types.at(item.key())) << item.key();
                }
            }
        }
    }
    EXPECT_EQ(a.pole("A").at("a_text"), "käfer; \"zwei\", 'drei'\nvier");
    EXPECT_EQ(a.pole("A").at("a_long"), 9007199254740993);
    EXPECT_EQ(a.pole("A").at("a_time"), "2024-02-29T23:59:58Z");
    EXPECT_TRUE(a.pole("B").at("a_real").is_null());
}

TEST(CarriedColumns, FidsAndOrderAreKept) {
    Survey s;
    const std::int64_t fids[] = {7, 1000000000000, 3};
    for (int i = 0; i < 3; ++i) {
        s.add_pole("P" + std::to_string(i), 10.0 * i, 0)["@fid"] = fids[i];
        s.add_visit("P" + std::to_string(i), "2024-05-01")["@fid"] = 2 * fids[i];
    }
    const AssessedSurvey a{s};
    std::vector<std::string> poles;
    for (const Row& pole : a.poles().rows) {
        poles.push_back(pole.at("pole_id").get<std::string>() + "=" + pole.at("@fid").dump());
    }
    EXPECT_THAT(poles, ElementsAre("P2=3", "P0=7", "P1=1000000000000"));
    EXPECT_EQ(a.layer("inspections").row("@fid", 14).at("pole_id"), "P0");
}

TEST(CarriedColumns, InputColumnsNamedLikeTheToolsAreKeptAside) {
    Survey s = five_poles();
    s.poles.fill("Verdict", "good").fill("sections", 99).fill("FID_", 1).fill("geometry", "x");
    s.spans.rows.at(0).update(Row{{"from_pole", "A"}, {"To_Pole", "E"}, {"span_length_m", 3.0}});
    s.defects.fill("azimuth_true", 12.0);
    s.inspections.fill("verdict", "good");
    const AssessedSurvey a{s};

    EXPECT_EQ(a.pole("D").at("in_Verdict"), "good");
    EXPECT_EQ(a.pole("D").at("in_sections"), 99);
    EXPECT_EQ(a.pole("D").at("verdict"), "replace");
    EXPECT_EQ(a.pole("D").at("sections"), 2);
    EXPECT_EQ(a.pole("D").at("FID_"), 1);
    EXPECT_EQ(a.pole("D").at("geometry"), "x");
    const Row& span = a.layer("spans").row("from_pole", "B");
    EXPECT_EQ(span.at("in_from_pole"), "A");
    EXPECT_EQ(span.at("in_To_Pole"), "E");
    EXPECT_EQ(span.at("to_pole"), "C");
    EXPECT_EQ(span.at("in_span_length_m"), 3.0);
    EXPECT_EQ(a.layer("defects").rows.at(0).at("in_azimuth_true"), 12.0);
    // The tool adds nothing to the inspections.
    EXPECT_EQ(a.layer("inspections").rows.at(0).at("verdict"), "good");
    // Said in the findings, for the person who looks for the column.
    std::vector<std::string> said;
    for (const Row& doubt : a.doubts("output_changed")) {
        said.push_back(doubt.at("message"));
    }
    EXPECT_THAT(said, Contains(HasSubstr("in_Verdict")));
    EXPECT_THAT(said, SizeIs(6));
}

TEST(CarriedColumns, AColumnNamedFidInAFormatWithoutFidsIsKeptAside) {
    TempDir folder;
    folder.file("in/poles.csv", "pole_id,x,y,fid,geom\nP,1,2,77,round\n");
    const AssessedSurvey a{folder / "in"};
    EXPECT_EQ(a.pole("P").at("in_fid"), "77");
    EXPECT_EQ(a.pole("P").at("in_geom"), "round");
}

TEST(CarriedColumns, LayersThatAreNotThereAreEmptyInTheOutput) {
    TempDir folder;
    Survey s;
    s.add_pole("P", 0, 0);
    write_table(folder / "in.gpkg", s.poles);
    const AssessedSurvey a{folder / "in.gpkg"};
    for (const char* const layer : {"spans", "inspections", "defects", "sections"}) {
        EXPECT_THAT(a.layer(layer).rows, IsEmpty()) << layer;
        EXPECT_GT(a.layer(layer).columns().size(), 0U) << layer;
    }
    std::vector<std::string> missing;
    for (const Row& doubt : a.doubts("layer_missing")) {
        missing.push_back(doubt.at("layer"));
        EXPECT_EQ(doubt.at("severity"), "warning");
        EXPECT_TRUE(doubt.at("feature").is_null());
    }
    EXPECT_THAT(missing, ElementsAre("spans", "inspections", "defects"));
    EXPECT_EQ(a.verdict("P"), "unassessed");
    EXPECT_THAT(a.statements("input", "spans"), ElementsAre("none"));
}

TEST(CarriedColumns, NothingIsDropped) {
    Survey s = five_poles();
    s.add_pole("A", 500, 0);                                               // a second A
    s.poles.rows.push_back(Row{{"@wkt", nullptr}, {"pole_id", nullptr}});  // neither place nor name
    s.add_visit("nobody", "2024-05-01");
    s.add_defect("nobody", "bore");
    s.spans.rows.push_back(Row{{"@wkt", nullptr}, {"circuit", "no line"}});
    const AssessedSurvey a{s};
    EXPECT_THAT(a.poles().rows, SizeIs(7));
    EXPECT_THAT(a.layer("inspections").rows, SizeIs(5));
    EXPECT_THAT(a.layer("defects").rows, SizeIs(5));
    EXPECT_THAT(a.layer("spans").rows, SizeIs(5));
    EXPECT_EQ(a.layer("spans").row("circuit", "no line").at("@wkt"), nullptr);
    EXPECT_EQ(a.poles().rows.at(5).at("reasons"), "duplicate_pole_id");
    EXPECT_EQ(a.poles().rows.at(5).at("verdict"), "unassessed");
    EXPECT_EQ(a.poles().rows.at(6).at("verdict"), "unassessed");
    // The first A is assessed as ever.
    EXPECT_EQ(a.poles().rows.at(0).at("verdict"), "serviceable");
}

TEST(RunLayer, StatesWhatMadeTheDataset) {
    const AssessedSurvey a{five_poles()};
    const auto profile = a.statements("criteria_profile");
    ASSERT_THAT(profile, SizeIs(1));
    EXPECT_THAT(a.statements("criteria_sha256"), ElementsAre(sha256_of(profile.front())));
    EXPECT_THAT(a.statements("criteria_name"), ElementsAre("general-practice"));
    EXPECT_THAT(a.statements("tool").at(0), HasSubstr("linewood "));
    EXPECT_THAT(a.statements("job_units"), ElementsAre("us"));
    EXPECT_THAT(a.statements("job_snap_tolerance"), ElementsAre("2 m"));
    EXPECT_THAT(a.statements("job_nearest_line"), ElementsAre("off"));
    EXPECT_THAT(a.statements("input", "poles"), ElementsAre("in.gpkg, layer poles"));
    EXPECT_THAT(a.statements("caution"), SizeIs(3));
    // A file that holds all four layers is named once, with the checksum of its bytes.
    const std::string content = content_of(a.input());
    EXPECT_THAT(a.statements("input_file"),
                ElementsAre("in.gpkg, " + std::to_string(content.size()) + " bytes, sha256 " +
                            sha256_of(content)));
    const std::pair<const char*, const char*> in[] = {
        {"poles", "5"}, {"spans", "1"}, {"inspections", "4"}, {"defects", "4"}};
    for (const auto& [layer, count] : in) {
        EXPECT_THAT(a.statements("count_in", layer), ElementsAre(count)) << layer;
    }
    for (const char* const layer :
         {"poles", "spans", "inspections", "defects", "sections", "findings"}) {
        EXPECT_THAT(a.statements("count_out", layer),
                    ElementsAre(std::to_string(a.layer(layer).rows.size())))
            << layer;
    }
    EXPECT_THAT(a.statements("count_out", "spans"), ElementsAre("4"));
}

TEST(RunLayer, NamesNoFolderOfTheMachine) {
    const AssessedSurvey a{five_poles()};
    for (const Row& row : a.layer("run").rows) {
        if (!row.at("value").is_null()) {
            EXPECT_EQ(row.at("value").get<std::string>().find(a.folder().path().string()),
                      std::string::npos)
                << row;
        }
    }
}

}  // namespace
}  // namespace linewood::testing
