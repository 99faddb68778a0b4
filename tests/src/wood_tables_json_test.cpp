#include "src/job/wood_tables_json.hpp"

#include <fstream>
#include <sstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assess/wood/round_strength.hpp"
#include "assess/wood/table_girth.hpp"
#include "src/job/job_error.hpp"
#include "tests/places/places.hpp"

namespace linewood {
namespace {

using ::testing::HasSubstr;

WoodTables read(const std::string& json) { return read_wood_tables(json, WoodTables::built_in()); }

/// The message of the error, or `(none)`.
std::string error(const std::string& json) {
    try {
        read(json);
    } catch (const JobError& e) {
        return e.what();
    }
    return "(none)";
}

std::string species_file(const std::string& body) {
    return R"({"units": "us", "species": [{"code": "spruce", "source": "s")" + body + "}]}";
}

std::string table_file(const std::string& rows) {
    return R"({"units": "us", "tables": [{"code": "spruce", "source": "s", "rows": )" + rows +
           "}]}";
}

const Species& species(const WoodTables& tables, std::string_view name) {
    return tables.species(tables.find_species(name).value());
}

std::string sample() {
    std::ifstream in{testing::test_file("support/wood_tables_sample.json")};
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

TEST(WoodTablesJsonTest, SampleAddsASpeciesAndATable) {
    const WoodTables tables = read(sample());
    const Species& spruce = species(tables, "Hill-Spruce");
    EXPECT_DOUBLE_EQ(spruce.fibre_stress_pa.value(), 50e6);
    EXPECT_DOUBLE_EQ(spruce.average_taper.value(), 0.02);
    EXPECT_EQ(spruce.source, "invented");
    const DimensionTable& table = tables.table(spruce.table.value());
    EXPECT_EQ(table.kind, TableKind::user);
    ASSERT_EQ(table.rows.size(), 3U);
    EXPECT_DOUBLE_EQ(table.rows[0].length.metres(), 9.0);
    EXPECT_DOUBLE_EQ(table.rows[2].setting_depth.feet(), 6.0);
    EXPECT_EQ(table.block(table.rows[0].length, PoleClass::c4)->confidence, "the user's own");
}

TEST(WoodTablesJsonTest, SampleGivesAGroundlineGirth) {
    const WoodTables tables = read(sample());
    Pole pole;
    pole.species = tables.find_species("HS").value();
    pole.length = Length::metres(11.1);
    pole.has_class = true;
    pole.pole_class = PoleClass::c4;
    const TableLookup got = look_up(tables, pole);
    ASSERT_EQ(got.answer, TableAnswer::found);
    EXPECT_EQ(got.kind, TableKind::user);
    // 840 mm at 1.8288 m from the butt, 530 mm at 11 m; groundline 1.8 m from the butt.
    EXPECT_NEAR(got.groundline_girth.value().millimetres(),
                840 + (840 - 530) / (11 - 1.8288) * (1.8288 - 1.8),
                1e-9);
    pole.pole_class = PoleClass::c5;  // top girth of the class system, 19 in
    EXPECT_NEAR(look_up(tables, pole).taper.value().girth_at(Length::metres(9.2)).value().inches(),
                19.0,
                1e-9);
}

TEST(WoodTablesJsonTest, AKnownSpeciesReplacesWhatItStatesAndKeepsTheRest) {
    const WoodTables tables = read(sample());
    const Species& scots = species(tables, "scots_pine");
    EXPECT_NEAR(scots.fibre_stress_pa.value() / kPascalsPerPsi, 7800, 1e-9);
    EXPECT_EQ(scots.table, tables.find_table("hill_spruce"));
    EXPECT_EQ(species(tables, "Scotch pine").code, "scots_pine");
    EXPECT_EQ(species(tables, "SP").code, "scots_pine");
    EXPECT_EQ(species(tables, "SYP").code, "southern_pine");
    EXPECT_EQ(species(WoodTables::built_in(), "SP").code, "southern_pine");
    EXPECT_EQ(tables.find_species("scots_pine"), WoodTables::built_in().find_species("scots_pine"));
}

TEST(WoodTablesJsonTest, NullMakesAFigureUnknown) {
    const WoodTables tables = read(
        R"({"units": "us", "species": [{"code": "southern_pine", "source": "s", "fibre_stress": null,
            "average_taper": null, "table": null}]})");
    const Species& pine = species(tables, "SYP");
    EXPECT_FALSE(pine.fibre_stress_pa);
    EXPECT_FALSE(pine.average_taper);
    EXPECT_FALSE(pine.table);
    EXPECT_EQ(pine.taper_confidence, "");
}

TEST(WoodTablesJsonTest, UsUnits) {
    const WoodTables tables =
        read(species_file(R"(, "fibre_stress": 7200, "average_taper": 0.24)"));
    EXPECT_DOUBLE_EQ(species(tables, "spruce").fibre_stress_pa.value(), 7200 * kPascalsPerPsi);
    EXPECT_DOUBLE_EQ(species(tables, "spruce").average_taper.value(), 0.02);
    const WoodTables with_table =
        read(table_file(R"([{"length": 40, "girth": {"class 4": 34, "H-1": 44}}])"));
    const DimensionTable& table = with_table.table(with_table.find_table("spruce").value());
    EXPECT_DOUBLE_EQ(table.rows[0].girth[9].value().inches(), 34.0);
    EXPECT_DOUBLE_EQ(table.rows[0].girth[5].value().inches(), 44.0);
    EXPECT_DOUBLE_EQ(table.top_girth[9].value().inches(), 21.0);
}

TEST(WoodTablesJsonTest, AFileOfUnitsAloneChangesNothing) {
    const WoodTables tables = read(R"({"units": "si"})");
    EXPECT_EQ(tables.species_count(), WoodTables::built_in().species_count());
    EXPECT_EQ(tables.table_count(), WoodTables::built_in().table_count());
}

TEST(WoodTablesJsonTest, ErrorsOfSpeciesNamePathValueAndWord) {
    const struct {
        std::string json;
        const char* message;
    } cases[] = {
        {species_file(R"(, "fibre_stres": 1)"),
         R"(species[0]: unknown key "fibre_stres" (did you mean "fibre_stress"?))"},
        {species_file(R"(, "fibre_stress": -5)"), "species[0].fibre_stress: -5 is out of range"},
        {species_file(R"(, "fibre_stress": 0)"), "species[0].fibre_stress: 0 is out of range"},
        {species_file(R"(, "fibre_stress": 1e9)"), "species[0].fibre_stress: 1000000000.0 is out"},
        {species_file(R"(, "fibre_stress": "8000")"),
         R"(species[0].fibre_stress: "8000" stands where a number is wanted)"},
        {species_file(R"(, "average_taper": 2)"), "species[0].average_taper: 2 is out of range"},
        {species_file(R"(, "table": "western_redceder")"), R"((did you mean "western_redcedar"?))"},
        {species_file(R"(, "aliases": "x")"), R"(species[0].aliases: "x" stands where a list)"},
        {species_file(R"(, "aliases": ["a", 7])"), "species[0].aliases[1]: 7 stands where text"},
        {species_file(R"(, "aliases": ["  "])"), "species[0].aliases[0]: the text is empty"},
        {species_file(R"(, "aliases": ["--"])"), R"(species[0].aliases[0]: "--" has no letter)"},
        {species_file(R"(, "aliases": ["Douglas Fir"])"),
         R"(species[0].aliases[0]: "Douglas Fir" already stands for species "douglas_fir")"},
        {species_file(R"(, "name": "a\u0007b")"), R"(species[0].name: "a\u0007b" holds a control)"},
        {R"({"units": "us", "species": [{"code": "Spruce", "source": "s"}]})",
         R"(species[0].code: "Spruce" is no code)"},
        {R"({"units": "us", "species": [{"code": "lodgepole", "source": "s"}]})",
         R"(species[0].code: "lodgepole" already stands for species "lodgepole_pine")"},
        {R"({"units": "us", "species": [{"code": "spruce"}]})",
         R"(species[0]: "source" is missing)"},
        {R"({"units": "us", "species": [{"source": "s"}]})", R"(species[0]: "code" is missing)"},
        {R"({"units": "us", "species": [{"code": "a", "source": "s"}, {"code": "a", "source": "s"}]})",
         R"(species[1].code: "a" is also the code of species[0])"},
        {R"({"units": "us", "species": [{"code": "a", "source": "s", "aliases": ["x y"]},
             {"code": "b", "source": "s", "aliases": ["X-Y"]}]})",
         R"(species[1].aliases[0]: "X-Y" already stands for species "a")"},
    };
    for (const auto& c : cases) {
        EXPECT_THAT(error(c.json), HasSubstr(c.message)) << c.json;
    }
}

TEST(WoodTablesJsonTest, ErrorsOfTablesNamePathValueAndWord) {
    const struct {
        std::string json;
        const char* message;
    } cases[] = {
        {table_file("[]"), "tables[0].rows: the list is empty"},
        {table_file("{}"), "tables[0].rows: an object stands where a list"},
        {table_file(R"([{"length": 40, "girth": {"8": 30}}])"),
         R"(tables[0].rows[0].girth: "8" is not a class)"},
        {table_file(R"([{"length": 40, "girth": {"H11": 30}}])"), R"((did you mean "H1"?))"},
        {table_file(R"([{"length": 40, "girth": {"4": 30, "4.0": 30}}])"),
         "class 4 is given twice"},
        {table_file(R"([{"length": 40, "girth": {"4": -1}}])"),
         "tables[0].rows[0].girth.4: -1 is out of range"},
        {table_file(R"([{"length": 40, "girth": {"4": null}}])"),
         "tables[0].rows[0].girth.4: null stands where a number"},
        {table_file(R"([{"length": 40, "girth": {"4": 20}}])"),
         "class 4: 20 is less than the top girth 21"},
        {table_file(R"([{"length": 6, "girth": {}}])"), "tables[0].rows[0].length: 6 is too short"},
        {table_file(R"([{"length": 400, "girth": {}}])"), "length: 400 is out of range"},
        {table_file(R"([{"length": 40, "setting_depth": 40, "girth": {}}])"),
         "tables[0].rows[0].setting_depth: 40 is not less than the length"},
        {table_file(R"([{"length": 42.5, "girth": {}}])"), R"("setting_depth" is missing)"},
        {table_file(R"([{"girth": {}}])"), R"(tables[0].rows[0]: "length" is missing)"},
        {table_file(R"([{"length": 40}])"), R"(tables[0].rows[0]: "girth" is missing)"},
        {table_file(R"([{"lenght": 40, "girth": {}}])"), R"((did you mean "length"?))"},
        {table_file(R"([{"length": 40, "girth": {}}, {"length": 40, "girth": {}}])"),
         "tables[0].rows: length 40 is given twice"},
        {R"({"units": "us", "tables": [{"code": "a", "rows": []}]})", "the list is empty"},
        {R"({"units": "us", "tables": [7]})", "tables[0]: 7 stands where an object"},
    };
    for (const auto& c : cases) {
        EXPECT_THAT(error(c.json), HasSubstr(c.message)) << c.json;
    }
}

TEST(WoodTablesJsonTest, ErrorsOfTheFileAsAWhole) {
    const struct {
        std::string json;
        const char* message;
    } cases[] = {
        {"", "wood tables: parse error at line 1, column 1"},
        {"{", "wood tables: parse error"},
        {"[]", "(top level): a list stands where an object"},
        {"{}", R"((top level): "units" is missing)"},
        {R"({"units": "imperial"})", R"(units: "imperial" is not one of "us", "si")"},
        {R"({"units": "su"})", R"((did you mean "us"?))"},
        {R"({"units": "us", "specis": []})", R"((did you mean "species"?))"},
        {R"({"units": "us", "units": "si"})", "wood tables: units: this key is given twice"},
        {R"({"units": "us", "species": [{}, {"code": "a", "code": "b"}]})",
         "wood tables: species[1].code: this key is given twice"},
        {species_file(R"(, "fibre_stress": NaN)"), "wood tables: parse error"},
        {species_file(R"(, "fibre_stress": 1e999)"),
         "wood tables: species[0].fibre_stress: number overflow"},
        {species_file(", \"name\": \"\xff\""), "wood tables: parse error"},
        {std::string(std::size_t{5} << 20U, ' '), "at most 4194304 are read"},
        {std::string(200000, '['), "nested more than 60 deep"},
    };
    for (const auto& c : cases) {
        EXPECT_THAT(error(c.json), HasSubstr(c.message)) << c.json.substr(0, 200);
    }
}

TEST(WoodTablesJsonTest, ManyItemsAreRefused) {
    std::string many = "[0";
    for (int i = 0; i < 1000; ++i) {
        many += ",0";
    }
    many += "]";
    EXPECT_THAT(error(R"({"units": "us", "species": )" + many + "}"),
                HasSubstr("species: 1001 items; at most 1000 are read"));
    EXPECT_THAT(error(R"({"units": "us", "tables": )" + many + "}"),
                HasSubstr("tables: 1001 items; at most 200 are read"));
    EXPECT_THAT(error(table_file(many)), HasSubstr("tables[0].rows: 1001 items"));
}

TEST(WoodTablesJsonTest, AnErrorLeavesTheBaseAlone) {
    WoodTables base = WoodTables::built_in();
    EXPECT_THROW(read_wood_tables(species_file(R"(, "fibre_stress": -5)"), base), JobError);
    EXPECT_FALSE(base.find_species("spruce"));
}

}  // namespace
}  // namespace linewood
