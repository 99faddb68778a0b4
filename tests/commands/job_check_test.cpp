#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// Poles, visits and defects as three tables of other people's.
class Tables {
public:
    Tables() {
        folder.file("poles.csv",
                    "NR,ART,HOLZ,KL,X,Y\n"
                    "1,Mast,K,4,500000,5000000\n"
                    "2,Mast,F,4,500040,5000000\n"
                    "3,Licht,K,4,500080,5000000\n");
        folder.file(
            "visits.csv",
            "NR,WHEN,GIRTH\n1,2024-05-01,\"40,5\"\n2,2024-05-13,\"41,5\"\n3,2024-05-14,42\n");
    }
    TempDir folder{fast_place()};

    ProgramRun check(const std::string& job, const Arguments& more = {}) const {
        Arguments all{"job", "check", folder.file("job.json", job).string()};
        all.insert(all.end(), more.begin(), more.end());
        return linewood(all);
    }
};

struct Wrong {
    std::string json;
    std::vector<std::string> words;
};

TEST(JobCheck, RefusesWithPathValueAndNearestWord) {
    const Tables t;
    const std::string poles =
        R"({"layers": {"poles": {"source": "poles.csv", "fields": {"pole_id": "NR", )";
    const std::string visits =
        R"({"layers": {"inspections": {"source": "visits.csv", "fields": {"pole_id": "NR", )";
    const std::vector<Wrong> table{
        {"{}", {"layers: nothing is mapped", "linewood draft"}},
        {R"({"layers": {}})", {"layers: nothing is mapped"}},
        {poles + R"("species": {"constant": "suthern_pine"}}}}})",
         {"layers.poles.fields.species.constant",
          "\"suthern_pine\"",
          "did you mean \"southern_pine\""}},
        {poles +
             R"("species": {"field": "HOLZ", "codes": {"K": "southern_pine", "F": "duglas fir"}}}}}})",
         {"layers.poles.fields.species.codes.F", "\"duglas fir\"", "did you mean \"douglas_fir\""}},
        {poles + R"("species": {"field": "HOLZ", "codes": {"K": null}, "others": "oakk"}}}}})",
         {"layers.poles.fields.species.others", "\"oakk\""}},
        {poles + R"("pole_class": {"field": "KL", "codes": {"4": "H9"}}}}}})",
         {"layers.poles.fields.pole_class.codes.4", "\"H9\"", "did you mean \"H"}},
        {poles + R"("material": {"constant": "wod"}}}}})",
         {"layers.poles.fields.material.constant", "\"wod\"", "did you mean \"wood\""}},
        {poles + R"("given_role": {"field": "ART", "codes": {"Mast": "tangnet"}}}}}})",
         {"layers.poles.fields.given_role.codes.Mast", "\"tangnet\"", "did you mean \"tangent\""}},
        {R"({"layers": {"poles": {"source": "poles.csv", "where": "ART = 'mast '", "fields": {"pole_id": "NR"}}}})",
         {"layers.poles.where",
          "ART = 'mast '",
          "none of the 3 rows",
          "ART holds \"Licht\", \"Mast\"",
          "did you mean \"Mast\""}},
        {visits + R"("inspected_on": {"field": "WHEN", "date": "dd.mm.yyyy"}}}}})",
         {"layers.inspections.fields.inspected_on.date",
          "\"dd.mm.yyyy\"",
          "did you mean \"DD.MM.YYYY\""}},
        {visits + R"("inspected_on": {"field": "WHEN", "date": "DD.MM.YYYY"}}}}})",
         {"layers.inspections.fields.inspected_on.date",
          "\"WHEN\"",
          "3 of 3 values",
          "\"2024-05-01\"",
          "did you mean \"date\": \"YYYY-MM-DD*\""}},
        {visits + R"("present_circumference": {"field": "GIRTH", "unit": "in"}}}}})",
         {"layers.inspections.fields.present_circumference.field",
          "2 of 3 values",
          "\"40,5\"",
          "did you mean \"decimal\": \",\""}}};
    for (const Wrong& wrong : table) {
        const ProgramRun run = t.check(wrong.json);
        SCOPED_TRACE(wrong.json + "\n" + run.err + run.out);
        EXPECT_EQ(run.exit_code, 2);
        for (const std::string& word : wrong.words) {
            EXPECT_THAT(run.err, HasSubstr(word));
        }
    }
}

TEST(JobCheck, NamesAllThatDoesNotFitAtOnce) {
    const Tables t;
    const ProgramRun run = t.check(R"({"layers": {
        "poles": {"source": "poles.csv", "where": "ART = 'Baum'", "fields": {"pole_id": "NR"}},
        "inspections": {"source": "visits.csv", "fields": {
            "pole_id": "NR", "inspected_on": {"field": "WHEN", "date": "DD.MM.YYYY"}}}}})");
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.err, AllOf(HasSubstr("layers.poles.where"), HasSubstr("inspected_on.date")));
}

TEST(JobCheck, TextInUtf16IsNamed) {
    const TempDir folder{fast_place()};
    for (const char* const mark : {"\xFF\xFE", "\xFE\xFF"}) {
        const ProgramRun run =
            linewood({"job", "check", folder.file("job.json", std::string{mark} + "{ }").string()});
        EXPECT_EQ(run.exit_code, 2);
        EXPECT_THAT(run.err, HasSubstr("UTF-16; save it as UTF-8"));
    }
}

/// Nested without end, or a list of lists that fans out: said, and no crash.
TEST(JobCheck, BottomlessFilesAreRefused) {
    const TempDir folder{fast_place()};
    folder.file("a.csv", "x,y\n1,2\n");
    const auto said = [&](const std::string& value) {
        const ProgramRun run =
            linewood({"job",
                      "check",
                      folder
                          .file("job.json",
                                R"({"layers":{"poles":{"source":"a.csv","fields":{"pole_id":)" +
                                    value + "}}}}")
                          .string()});
        EXPECT_EQ(run.exit_code, 2);
        return run.err;
    };
    const auto repeated = [](const std::string& text, int times) {
        std::string all;
        for (int i = 0; i < times; ++i) {
            all += text;
        }
        return all;
    };
    EXPECT_THAT(
        said(repeated(R"({"first_of":[)", 30'000) + "\"x\"" + repeated("]}", 30'000)),
        AllOf(HasSubstr("job.json"), HasSubstr("deep"), HasSubstr("layers.poles.fields.pole_id")));
    EXPECT_THAT(said(repeated("[", 200'000)), HasSubstr("deep"));
    std::string fan = "\"x\"";
    for (int i = 0; i < 4; ++i) {
        fan = R"({"first_of":[)" + fan + repeated("," + fan, 5) + "]}";
    }
    EXPECT_THAT(said(fan), HasSubstr("alternatives in all"));
}

TEST(JobCheck, SettingsAloneAreCheckedAgainstADataset) {
    const SurveyFolder f;
    const std::string job = f.folder().file("job.json", R"({"settings": {"snap_m": 3}})").string();
    const ProgramRun run = linewood({"job", "check", job, (f.folder() / "in.gpkg").string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.out, AllOf(HasSubstr("poles: 5 rows"), HasSubstr("spans: 1 row\n")));
}

TEST(JobCheck, PolesThatAreNotMappedAreThoseOfTheDataset) {
    const SurveyFolder f;
    const std::string job = f.folder().file("job.json", R"({"layers": {"spans": {}}})").string();
    const ProgramRun run = linewood({"job", "check", job, (f.folder() / "in.gpkg").string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.out, HasSubstr("poles are not mapped"));
}

TEST(JobFile, ASpeciesThatThereIsNotEndsARun) {
    const Tables t;
    const auto job = t.folder.file(
        "job.json",
        R"({"layers": {"poles": {"source": "poles.csv", "fields": {"pole_id": "NR", "species": {"constant": "suthern_pine"}}}}})");
    const ProgramRun run =
        linewood({"assess", "--job", job.string(), "--out", (t.folder / "out.gpkg").string()});
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.err, AllOf(HasSubstr("job.json"), HasSubstr("did you mean \"southern_pine\"")));
    EXPECT_THAT(t.folder.names(), ElementsAre("job.json", "poles.csv", "visits.csv"));
}

TEST(JobFile, ABlankOfZeroLeavesReadingsOfZeroAlone) {
    const TempDir folder{fast_place()};
    folder.file("poles.csv", "NR,X,Y\n1,500000,5000000\n");
    folder.file("damage.csv", "NR,OK,az_1,w_1,d_1,az_2,w_2,d_2\n1,0,0,3,1,0,0,0\n");
    const auto job = folder.file("job.json", R"({"layers": {
      "poles": {"source": "poles.csv", "fields": {"pole_id": "NR"}},
      "inspections": {"source": "damage.csv", "nulls": [0], "fields": {"pole_id": "NR", "climb_safe": "OK"}},
      "defects": {"source": "damage.csv", "repeat": [1, 2], "units": "in", "nulls": [0], "fields": {
        "pole_id": "NR", "kind": {"constant": "external_pocket"}, "azimuth": {"field": "az_{n}", "unit": "deg"},
        "width": "w_{n}", "depth": "d_{n}"}}}})");
    const ProgramRun run =
        linewood({"assess", "--job", job.string(), "--out", (folder / "out.gpkg").string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table defects = read_table(folder / "out.gpkg", "defects");
    ASSERT_EQ(defects.rows.size(), 1U) << "a group of zeros is empty";
    EXPECT_EQ(defects.rows[0].at("azimuth_true"), 0.0) << "0 is north";
    EXPECT_THAT(read_table(folder / "out.gpkg", "poles").rows[0].at("reasons").get<std::string>(),
                HasSubstr("unsafe_to_climb"));
    std::string blanked = content_of(job);
    const std::string north = R"("unit": "deg"})";
    blanked.replace(blanked.find(north), north.size(), R"("unit": "deg", "nulls": [0]})");
    folder.file("job.json", blanked);
    ASSERT_EQ(linewood({"assess",
                        "--job",
                        job.string(),
                        "--out",
                        (folder / "out.gpkg").string(),
                        "--overwrite"})
                  .exit_code,
              0);
    EXPECT_TRUE(read_table(folder / "out.gpkg", "defects").rows[0].at("azimuth_true").is_null())
        << "the field says so itself";
}

}  // namespace
}  // namespace linewood::testing
