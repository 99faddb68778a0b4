#include <random>
#include <regex>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

/// What people call the fields, invented for this test without a look at the program's own words: in full, cut
/// short, with units and in several ways of writing.
const std::map<std::string, std::vector<std::string>> kSynonyms{
    {"pole_id", {"PoleNumber", "STRUCT_NO", "AssetID", "Pole Tag"}},
    {"species", {"TimberSpecies", "WOOD_SPECIES"}},
    {"pole_class", {"CLASS_CD", "StrengthClass"}},
    {"length", {"POLE_HEIGHT", "PoleLengthFt", "LEN_FT"}},
    {"setting_depth", {"EMBED_DEPTH", "SetDepthFt"}},
    {"install_year", {"YR_INSTALLED", "YearBuilt"}},
    {"circuit", {"FEEDER_NAME", "CKT_ID"}},
    {"material", {"POLE_MATL", "MaterialType"}},
    {"reinforced", {"STUBBED_YN", "IsReinforced"}},
    {"recorded_circumference", {"NOM_GIRTH_IN", "DesignCircIn"}},
    {"span_id", {"SEGMENT_ID", "SpanNo"}},
    {"from_pole", {"FROM_STRUCT", "StartPoleId"}},
    {"to_pole", {"TO_STRUCT", "EndPoleId"}},
    {"voltage_kv", {"NOM_VOLT_KV", "OperatingVoltage"}},
    {"inspected_on", {"INSP_DATE", "VisitDate", "DateChecked"}},
    {"method", {"INSP_METHOD", "TestProcedure"}},
    {"original_circumference", {"ORIG_GIRTH", "InitialCircIn"}},
    {"original_height", {"ORIG_GIRTH_HT_FT"}},
    {"present_circumference", {"EFF_GIRTH_IN", "CurrCirc", "MeasuredCirc"}},
    {"climb_safe", {"OK_TO_CLIMB", "ClimbSafeYN"}},
    {"aboveground_damage", {"AG_DAMAGE", "TopDamage"}},
    {"decay_below_excavation", {"ROT_BELOW_DIG"}},
    {"treated", {"TREATMENT_DONE", "RemedialTreat"}},
    {"notes", {"COMMENTS", "InspRemarks"}},
    {"kind", {"DEFECT_TYPE", "FaultKind"}},
    {"height", {"HT_ABOVE_GL", "HeightFt"}},
    {"azimuth", {"BEARING_DEG", "CompassDir"}},
    {"azimuth_ref", {"NORTH_REF", "BearingType"}},
    {"position", {"POLE_FACE", "FaceSide"}},
    {"width", {"MOUTH_WIDTH_IN", "PocketOpening"}},
    {"depth", {"PKT_DEPTH", "DeepIn"}},
    {"extent", {"VERT_EXTENT", "VerticalSizeIn"}},
    {"shell_thickness", {"SHELL_THK", "SoundShellIn"}},
    {"bore_angle", {"BORING_ANGLE", "DrillAngleDeg"}},
    {"bore_from", {"BORED_FROM", "BoreStart"}},
    {"cause", {"DAMAGE_CAUSE", "DefectOrigin"}}};

const std::map<std::string, std::vector<std::string>> kLayerNames{
    {"poles", {"SUPPORTS", "asset points"}},
    {"spans", {"conductors", "LINE_SEGMENTS"}},
    {"inspections", {"visits_2024", "Field Checks"}},
    {"defects", {"damage_log", "findings found"}}};

/// The sample's layers under other names, and what became of each column.
struct Renamed {
    std::vector<Table> tables;
    std::map<std::string, std::map<std::string, std::string>> columns;  ///< layer, new name, field
};

Renamed renamed_sample(unsigned seed) {
    std::mt19937 random{seed};
    const auto one_of = [&](const std::vector<std::string>& list) {
        return list[std::uniform_int_distribution<std::size_t>{0, list.size() - 1}(random)];
    };
    Renamed out;
    for (const auto& [layer, names] : kLayerNames) {
        Table table = read_table(sample_file("sample.gpkg"), layer);
        table.rows.resize(std::min<std::size_t>(table.rows.size(), 250));
        table.name = one_of(names);
        std::map<std::string, std::string> to;
        for (const std::string& column : table.columns()) {
            const auto known = kSynonyms.find(column);
            if (known != kSynonyms.end()) {
                to[column] = one_of(known->second);
                out.columns[layer][to[column]] = column;
            }
        }
        for (Row& row : table.rows) {
            Row renamed;
            for (const auto& [key, value] : row.items()) {
                const auto known = to.find(key);
                renamed[known == to.end() ? key : known->second] = value;
            }
            row = renamed;
        }
        table.types.clear();
        for (const auto& [column, name] : to) {
            if (column == "inspected_on") {
                table.types[name] = "date";
            }
        }
        for (std::string& column : table.first_columns) {
            column = to.count(column) != 0 ? to[column] : column;
        }
        out.tables.push_back(std::move(table));
    }
    return out;
}

nlohmann::json without_comments(const std::string& text) {
    return nlohmann::json::parse(text, nullptr, true, true);
}

struct Tally {
    int right = 0;
    int wrong = 0;
    int wrong_unmarked = 0;
    int left = 0;
    std::string faults;
    int all() const { return right + wrong + left; }
};

/// Compares a draft with what the columns were called before.
void count(const std::string& text, const Renamed& truth, Tally& tally) {
    const auto draft = without_comments(text);
    for (const auto& [layer, columns] : truth.columns) {
        std::map<std::string, std::string> placed;
        for (const auto& source : draft.at("layers").value(layer, nlohmann::json::array())) {
            for (const auto& [field, value] : source.at("fields").items()) {
                const std::string column =
                    value.is_string() ? value.get<std::string>() : value.value("field", "");
                placed[column] = field;
            }
        }
        for (const auto& [column, field] : columns) {
            const auto found = placed.find(column);
            if (found == placed.end()) {
                ++tally.left;
                EXPECT_THAT(text, HasSubstr(column)) << "what has no place is said";
                tally.faults += layer + "." + column + " (" + field + ") left; ";
            } else if (found->second == field) {
                ++tally.right;
            } else {
                ++tally.wrong;
                const std::regex marked{"\"" + found->second + "\": [^\\n]*\"" + column +
                                        "\"[^\\n]*GUESS"};
                const bool is_marked = std::regex_search(text, marked);
                tally.wrong_unmarked += is_marked ? 0 : 1;
                tally.faults += layer + "." + column + " (" + field + ") taken for " +
                                found->second + (is_marked ? " as a guess; " : "; ");
            }
        }
    }
}

TEST(DraftCommand, PlacesNineOfTenRenamedColumnsRightAndMarksTheRest) {
    Tally tally;
    for (unsigned seed = 1; seed <= 12; ++seed) {
        const TempDir folder{fast_place()};
        const Renamed renamed = renamed_sample(seed);
        for (const Table& table : renamed.tables) {
            write_table(folder / "unknown.gpkg", table);
        }
        const ProgramRun run = linewood({"draft", (folder / "unknown.gpkg").string()});
        ASSERT_EQ(run.exit_code, 0) << run.err;
        count(run.out, renamed, tally);
    }
    RecordProperty("right", tally.right);
    RecordProperty("all", tally.all());
    std::printf("%d of %d columns right, %d wrong, %d left\n",
                tally.right,
                tally.all(),
                tally.wrong,
                tally.left);
    EXPECT_GE(tally.right, tally.all() * 9 / 10) << tally.faults;
    EXPECT_EQ(tally.wrong_unmarked, 0) << tally.faults;
}

TEST(DraftCommand, ADraftOfRenamedLayersRunsAndGivesTheSameVerdicts) {
    const TempDir folder{fast_place()};
    Survey s = five_poles();
    s.poles.name = "SUPPORTS";
    s.spans.name = "conductors";
    s.inspections.name = "visits";
    s.defects.name = "damage_log";
    for (Row& row : s.inspections.rows) {
        Row renamed;
        for (const auto& [key, value] : row.items()) {
            const bool girth = key == "present_circumference" || key == "original_circumference";
            renamed[key == "present_circumference"    ? "EFF_GIRTH_MM"
                    : key == "original_circumference" ? "ORIG_GIRTH_MM"
                                                      : key] = girth
                                                                   ? Row(value.get<double>() * 25.4)
                                                               : key == "method" ? Row("dug")
                                                                                 : value;
        }
        row = renamed;
    }
    write_survey(folder / "raw.gpkg", s);
    const ProgramRun draft = linewood(
        {"draft", (folder / "raw.gpkg").string(), "--out", (folder / "job.json").string()});
    ASSERT_EQ(draft.exit_code, 0) << draft.err;
    const std::string text = content_of(folder / "job.json");
    EXPECT_THAT(text,
                AllOf(HasSubstr("\"source\": \"raw.gpkg\""),
                      HasSubstr("\"unit\": \"mm\""),
                      HasSubstr("\"dug\": \"excavated\"")));
    // No unit can be told of a shell of 1 to 3.5: that line is a comment and has to be looked at.
    EXPECT_THAT(text, HasSubstr("NOT PLACED, its unit could not be told: \"shell_thickness\""));
    EXPECT_EQ(linewood({"job", "check", (folder / "job.json").string()}).exit_code, 0);
    EXPECT_EQ(
        linewood({"draft", (folder / "raw.gpkg").string(), "--out", (folder / "job.json").string()})
            .exit_code,
        1);
    const auto replaced = linewood({"draft",
                                    (folder / "raw.gpkg").string(),
                                    "--out",
                                    (folder / "raw.gpkg").string(),
                                    "--overwrite"});
    EXPECT_EQ(replaced.exit_code, 2);
}

TEST(DraftCommand, ACodeThatNobodyKnowsIsNeverFilledIn) {
    const TempDir folder{fast_place()};
    folder.file(
        "defects.csv",
        "POLE_NO,DEFECT_TYPE,WIDTH_IN,DEPTH_IN\n1,pocket,3,1\n2,zq9,3,1\n3,heart rot,3,1\n");
    const ProgramRun run = linewood({"draft", (folder / "defects.csv").string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.out, HasSubstr("NOT PLACED: \"zq9\" in 1 row"));
    const auto kind = without_comments(run.out)["layers"]["defects"][0]["fields"]["kind"];
    EXPECT_EQ(
        kind["codes"],
        nlohmann::json::parse(R"({"heart rot": "internal_rot", "pocket": "external_pocket"})"));
}

TEST(DraftCommand, DaysThatCouldBeMonthsAreAGuess) {
    const TempDir folder{fast_place()};
    folder.file("visits.csv", "POLE_NO,INSP_DATE,GIRTH_IN\n1,03/04/2024,40\n2,05/06/2024,40\n");
    const ProgramRun both = linewood({"draft", (folder / "visits.csv").string()});
    EXPECT_THAT(both.out,
                AllOf(HasSubstr("day and month could be exchanged"), HasSubstr("GUESS (0.50)")));
    folder.file("visits.csv", "POLE_NO,INSP_DATE,GIRTH_IN\n1,03/04/2024,40\n2,25/06/2024,40\n");
    const ProgramRun one = linewood({"draft", (folder / "visits.csv").string()});
    EXPECT_THAT(one.out, AllOf(HasSubstr("\"DD/MM/YYYY*\""), Not(HasSubstr("exchanged"))));
}

/// A diameter is told from a girth by its name alone, and that is never certain; of masts that are not of wood there
/// is no girth to ask for.
TEST(DraftCommand, ADiameterIsSaidHowSureAndIsNoneOfSteel) {
    const TempDir folder{fast_place()};
    const auto drafted = [&](const std::string& materials) {
        std::string rows = "POLE_NO,DIAMETER_MM,LEN_FT";
        rows += materials.empty() ? "\n" : ",MATERIAL\n";
        for (std::size_t i = 0; i < 4; ++i) {
            rows += std::to_string(i) + ",320,40";
            rows += materials.empty() ? "" : materials[i] == 'w' ? ",wood" : ",steel";
            rows += "\n";
        }
        folder.file("poles.csv", rows);
        return linewood({"draft", (folder / "poles.csv").string()}).out;
    };
    const std::string wood = drafted("wwws");
    EXPECT_THAT(wood, HasSubstr("diameter sure (0.90): \"diameter\" is in the name"));
    EXPECT_EQ(
        without_comments(wood)["layers"]["poles"][0]["fields"]["recorded_circumference"],
        nlohmann::json::parse(R"({"field": "DIAMETER_MM", "unit": "mm", "measure": "diameter"})"));
    const std::string steel = drafted("wsss");
    EXPECT_FALSE(
        without_comments(steel)["layers"]["poles"][0]["fields"].contains("recorded_circumference"));
    EXPECT_THAT(steel,
                AllOf(HasSubstr("NOT PLACED, 1 of 4 rows with a material are known to be wood"),
                      HasSubstr("DIAMETER_MM")));
    const std::string unknown = drafted("");
    EXPECT_THAT(
        unknown,
        ::testing::ContainsRegex("DIAMETER_MM.*GUESS .*nothing says that these are of wood"));
}

/// Bare figures of a girth could be a diameter as well.
TEST(DraftCommand, AGirthWithoutTheWordIsSaidHowSure) {
    const TempDir folder{fast_place()};
    folder.file("visits.csv", "POLE_NO,INSP_DATE,GL_SIZE_IN,EFF_GIRTH_IN\n1,2024-04-03,40,39\n");
    EXPECT_THAT(linewood({"draft", (folder / "visits.csv").string()}).out,
                HasSubstr("girth sure (0.90): \"girth\" is in the name"));
}

TEST(DraftCommand, RepeatedColumnsBecomeDefects) {
    const TempDir folder{fast_place()};
    folder.file("visits.csv",
                "POLE_NO,INSP_DATE,GIRTH_IN,pocket_1_width_in,pocket_1_depth_in,pocket_2_width_in,"
                "pocket_2_depth_in\n"
                "1,2024-04-03,40,3,1,2,1\n2,2024-04-03,40,,,2,1\n");
    const std::string job = (folder / "job.json").string();
    ASSERT_EQ(linewood({"draft", (folder / "visits.csv").string(), "--out", job}).exit_code, 0);
    const auto layers = without_comments(content_of(job))["layers"];
    ASSERT_TRUE(layers.contains("defects")) << content_of(job);
    const auto& wide = layers["defects"][0];
    EXPECT_EQ(wide["repeat"], nlohmann::json::parse(R"(["1", "2"])"));
    EXPECT_EQ(wide["fields"]["width"]["field"], "pocket_{n}_width_in");
    EXPECT_EQ(wide["fields"]["kind"]["constant"], "external_pocket");
    const ProgramRun check = linewood({"job", "check", job});
    EXPECT_EQ(check.exit_code, 0) << check.err;
    EXPECT_THAT(check.out, HasSubstr("defects: 3 rows"));
}

TEST(DraftCommand, LinesOfATableWithWktAreSpans) {
    const TempDir folder{fast_place()};
    folder.file("routes.csv",
                "WKT,SPAN_NO,KV\n\"LINESTRING(0 0,40 0)\",1,13\n\"LINESTRING(40 0,80 0)\",2,13\n");
    const ProgramRun run = linewood({"draft", (folder / "routes.csv").string()});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const auto spans = without_comments(run.out)["layers"]["spans"];
    ASSERT_EQ(spans.size(), 1U) << run.out;
    EXPECT_EQ(spans[0]["fields"]["span_id"], "SPAN_NO");
    EXPECT_THAT(run.out, HasSubstr("2 rows, lines"));
}

TEST(DraftCommand, ATableOfPocketsSideBySideIsARepeatOverItsRows) {
    const TempDir folder{fast_place()};
    folder.file("damage.csv",
                "POLE_NO,width_1_in,depth_1_in,width_2_in,depth_2_in\n1,3,1,2,1\n2,,,2,1\n");
    const std::string job = (folder / "job.json").string();
    ASSERT_EQ(linewood({"draft", (folder / "damage.csv").string(), "--out", job}).exit_code, 0);
    const auto layers = without_comments(content_of(job))["layers"];
    ASSERT_TRUE(layers.contains("defects")) << content_of(job);
    EXPECT_TRUE(layers.contains("inspections")) << "the wide rows stay in the output";
    EXPECT_EQ(layers["defects"][0]["fields"]["width"]["field"], "width_{n}_in");
    EXPECT_EQ(layers["defects"][0]["repeat"], nlohmann::json::parse(R"(["1", "2"])"));
    const ProgramRun check = linewood({"job", "check", job});
    EXPECT_EQ(check.exit_code, 0) << check.err;
    EXPECT_THAT(check.out, HasSubstr("defects: 3 rows"));
}

TEST(DraftCommand, RepeatedColumnsFollowTheUnitsOfTheirTable) {
    const TempDir folder{fast_place()};
    folder.file("pole_list.csv",
                "NUM,CLASS,HT_FT,pocket_1_width,pocket_1_depth,pocket_2_width,pocket_2_depth,X,Y\n"
                "1,4,40,3,1,2,1,0,0\n2,4,45,,,2,1,40,0\n");
    const ProgramRun run = linewood({"draft", (folder / "pole_list.csv").string()});
    const auto wide = without_comments(run.out)["layers"]["defects"][0]["fields"];
    EXPECT_EQ(wide["width"],
              nlohmann::json::parse(R"({"field": "pocket_{n}_width", "unit": "in"})"));
    EXPECT_THAT(run.out, HasSubstr("the other sizes are in inches and feet"));
}

TEST(DraftCommand, AColumnNameWithALineBreakIsRefused) {
    const TempDir folder{fast_place()};
    folder.file("visits.csv", "POLE_NO,\"Girth\nin\",DAY\n1,40,2024-05-01\n2,41,2024-05-02\n");
    const ProgramRun run = linewood({"draft", (folder / "visits.csv").string()});
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err,
                AllOf(HasSubstr("visits.csv"), HasSubstr("\"Girth\""), HasSubstr("one line")));
}

}  // namespace
}  // namespace linewood::testing
