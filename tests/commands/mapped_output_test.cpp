// What `assess --job` writes has the user's own columns: the commands that read it find pole ids and circuits
// by what its run layer says, and refuse where that is not enough.

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"
#include "tests/support/changed_dataset.hpp"
#include "tests/support/worked_line.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

Survey line() {
    Survey s;
    add_worked_line(s, "P", 0.0, "orts...t..r.");
    s.set_crs("");
    for (Row& pole : s.poles.rows) {
        pole["species"] = "southern_pine";
        pole["pole_class"] = "4";
    }
    return s;
}

/// Values of a column under another name.
void move_column(Table& table,
                 const std::string& from,
                 const std::string& to,
                 const std::function<Row(const Row&)>& change = {}) {
    for (Row& row : table.rows) {
        row[to] = change ? change(row.at(from)) : row.at(from);
        row.erase(from);
    }
}

/// The same with the owner's names and codes; two of them are called like columns of the tool.
Survey foreign() {
    Survey s = line();
    move_column(s.poles, "pole_id", "reasons");
    move_column(s.poles, "species", "WOOD", [](const Row&) { return Row("SP"); });
    move_column(s.poles, "pole_class", "KL");
    move_column(s.spans, "circuit", "verdict");
    return s;
}

constexpr const char* kJob = R"({"layers": {
    "poles": {"fields": {"pole_id": "reasons", "pole_class": "KL",
                         "species": {"field": "WOOD", "codes": {"SP": "southern_pine"}}}},
    "spans": {"fields": {"circuit": "verdict"}}}})";

class MappedFolder {
public:
    MappedFolder(const Survey& survey, const std::string& job) : folder_{survey} {
        write_costs(folder_.path("costs.json"));
        Arguments more{"-q"};
        if (!job.empty()) {
            more.push_back("--job");
            more.push_back(folder_.folder().file("job.json", job).string());
        }
        const ProgramRun run = folder_.assess(more);
        EXPECT_EQ(run.exit_code, 0) << run.err;
    }
    ProgramRun run(const std::string& command, const Arguments& more = {}) const {
        Arguments all{command, assessed().string(), "--out", folder_.path("c.gpkg"), "--overwrite"};
        all.insert(all.end(), more.begin(), more.end());
        return linewood(all);
    }
    ProgramRun projects() const { return run("projects", {"--costs", folder_.path("costs.json")}); }
    std::filesystem::path assessed() const { return folder_.output(); }
    std::vector<Row> rows(const std::string& layer) const {
        return read_table(folder_.path("c.gpkg"), layer).rows;
    }

private:
    SurveyFolder folder_;
};

TEST(MappedOutput, GivesTheSameAsTheContractsNames) {
    const MappedFolder plain{line(), ""};
    const MappedFolder mapped{foreign(), kJob};
    for (const char* const command : {"corridors", "clusters"}) {
        EXPECT_EQ(plain.run(command).exit_code, 0);
        const ProgramRun run = mapped.run(command);
        ASSERT_EQ(run.exit_code, 0) << run.err;
        const std::string layer = command == std::string{"corridors"} ? "stations" : "pole_scores";
        EXPECT_FALSE(mapped.rows(layer).empty());
        EXPECT_EQ(mapped.rows(layer), plain.rows(layer));
    }
    // By the contract's name, though the column is called otherwise.
    EXPECT_EQ(plain.run("clusters", {"--strata", "species"}).exit_code, 0);
    ASSERT_EQ(mapped.run("clusters", {"--strata", "species"}).exit_code, 0);
    EXPECT_EQ(mapped.rows("pole_scores"), plain.rows("pole_scores"));
    EXPECT_EQ(plain.projects().exit_code, 0);
    ASSERT_EQ(mapped.projects().exit_code, 0);
    EXPECT_EQ(mapped.rows("projects"), plain.rows("projects"));
    EXPECT_EQ(mapped.rows("project_poles"), plain.rows("project_poles"));
    EXPECT_EQ(mapped.rows("projects")[0].at("places"), "P01~P02~P12~north 50-150 m");
}

TEST(MappedOutput, TakesFeatureIdsConstantsAndAlternatives) {
    Survey s = line();
    for (Row& pole : s.poles.rows) {
        pole["@fid"] = std::stoi(pole.at("pole_id").get<std::string>().substr(1)) + 100;
    }
    for (Table* table : {&s.inspections, &s.defects}) {
        for (Row& row : table->rows) {
            row["pole_id"] =
                std::to_string(std::stoi(row.at("pole_id").get<std::string>().substr(1)) + 100);
        }
    }
    const MappedFolder folder{s, R"({"layers": {
        "poles": {"fields": {"pole_id": {"feature_id": true},
                             "pole_class": {"first_of": ["pole_class", {"constant": "2"}]}}},
        "spans": {"fields": {"circuit": {"constant": "east"}}}}})"};
    ASSERT_EQ(folder.projects().exit_code, 0);
    EXPECT_EQ(folder.rows("projects")[0].at("places"), "101~102~112~east 50-150 m");
    EXPECT_EQ(folder.rows("project_poles")[0].at("pole_class"), "4");
}

/// Poles of two layers of one file.
std::string two_layers(const std::string& first, const std::string& second) {
    return R"({"layers": {"poles": [
        {"source": "in.gpkg", "layer": "poles", "where": "NUM IS NOT NULL", "fields": {"pole_id": )" +
           first + R"(}},
        {"source": "in.gpkg", "layer": "poles", "where": "NUM IS NULL", "fields": {"pole_id": )" +
           second + "}}]}}";
}

Survey in_two_columns() {
    Survey s = line();
    for (std::size_t i = 0; i < s.poles.rows.size(); ++i) {
        Row& pole = s.poles.rows[i];
        pole["NUM"] = i < 6 ? pole.at("pole_id") : Row(nullptr);
        pole["NAME"] = i < 6 ? Row(nullptr) : pole.at("pole_id");
        pole.erase("pole_id");
    }
    return s;
}

TEST(MappedOutput, TellsSourcesApartByTheirColumnsOrRefuses) {
    const MappedFolder folder{in_two_columns(), two_layers(R"("NUM")", R"("NAME")")};
    ASSERT_EQ(folder.projects().exit_code, 0);
    EXPECT_EQ(folder.rows("project_poles").size(), 5U);
    change_by_sql(folder.assessed(), "UPDATE poles SET NUM = 'X' WHERE NAME = 'P12'");
    const ProgramRun both = folder.projects();
    EXPECT_EQ(both.exit_code, 2);
    EXPECT_THAT(both.err, HasSubstr("holds more than one of them"));
}

TEST(MappedOutput, RefusesWithWhatToDo) {
    const MappedFolder renamed{foreign(), kJob};
    change_by_sql(renamed.assessed(), "ALTER TABLE poles RENAME COLUMN in_reasons TO number");
    const MappedFolder earlier{foreign(), kJob};
    change_by_sql(earlier.assessed(), "DELETE FROM run WHERE item = 'input_mapping'");
    const MappedFolder bare{line(), ""};
    change_by_sql(bare.assessed(), "ALTER TABLE poles RENAME COLUMN pole_id TO number");
    for (const MappedFolder* folder : {&renamed, &earlier, &bare}) {
        for (const char* const command : {"corridors", "clusters"}) {
            const ProgramRun run = folder->run(command);
            EXPECT_EQ(run.exit_code, 2) << command;
            EXPECT_THAT(run.err, HasSubstr("pole")) << command;
            EXPECT_THAT(run.err, HasSubstr("assess")) << command;
            EXPECT_THAT(run.out, Not(HasSubstr("0 poles"))) << command;
        }
    }
    EXPECT_THAT(renamed.run("corridors").err,
                HasSubstr("took pole_id from the column reasons, which layer poles has not"));
    EXPECT_THAT(earlier.run("corridors").err, HasSubstr("assess the input again"));
}

}  // namespace
}  // namespace linewood::testing
