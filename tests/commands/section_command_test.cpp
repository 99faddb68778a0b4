#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/places/places.hpp"
#include "tests/support/program.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {
namespace {

using Arguments = std::vector<std::string>;

ProgramRun section(Arguments arguments) {
    arguments.insert(arguments.begin(), "section");
    return run_program_file(linewood_program(), arguments);
}

/// Arguments from one line, set apart by spaces.
Arguments split(const std::string& line) {
    Arguments words;
    std::string word;
    for (const char c : line + " ") {
        if (c != ' ') {
            word += c;
        } else if (!word.empty()) {
            words.push_back(word);
            word.clear();
        }
    }
    return words;
}

/// Runs of spaces as one, so that rows can be checked without counting.
std::string squeezed(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c != ' ' || out.empty() || out.back() != ' ') {
            out += c;
        }
    }
    return out;
}

struct Row {
    std::string arguments;
    int exit_code;
    std::vector<std::string> lines;  ///< on standard output where it is 0, else on standard error
};

// Figures: 90 % girth keeps 0.9^3 = 72.9 % of a round section in every direction, 0.9^2 = 81 % of its
// area; 0.8^3 = 51.2 %. A void of radius r in a disc of R keeps 1 - (r/R)^4.
TEST(SectionCommand, AnswersWhatIsTyped) {
    const std::vector<Row> rows{
        {"--original 40 --present 36 --line 45",
         0,
         {"girth now 36\n",
          "across the line (governs) 72.9 % limit 65 % meets\n",
          "weakest direction 72.9 % limit 50 % meets\n",
          "girth, of the original 90.0 % limit 86.6 % meets\n",
          "area 81.0 %\n",
          "no defects\n",
          "verdict: treat, routine\n",
          "decay_present:",
          "criteria: general-practice, SHA-256 ",
          "caution: Never climb"}},
        {"--original 40 --present 40 --line 45 --method bore",
         0,
         {"verdict: serviceable, routine\n"}},
        {"--original 40 --present 32",
         0,
         {"weakest (governs) 51.2 % limit 65 % FAILS\n",
          "girth, of the original 80.0 % limit 86.6 % FAILS\n",
          "verdict: stub, soon\n",
          "strength_below_limit:",
          "circumference_below_limit:"}},
        {"--original 1016 --present 914.4 --units si --line E",
         0,
         {"section, millimetres", "girth now 914.4\n", "across the line (governs) 72.9 %"}},
        {"--original 1016mm --present 36in --line 45", 0, {"girth, original 40\n", "72.9 %"}},
        {"--original 40 --present 36 --pocket 90,5,3 --pocket 210,4,1.5 --bore 0,3 --bore 180,2.5 "
         "--sound 90 --line 45 --role tangent --units us",
         0,
         {"pocket 1 5 wide, 3 deep at 90\u00b0, oblique",
          "pocket 2 4 wide, 1.5 deep at 210\u00b0, in line",
          "bore 1 shell 3 at 0\u00b0, oblique",
          "bore 2 shell 2.5 at 180\u00b0, oblique",
          "sound bore 1 at 90\u00b0, oblique",
          "least sound shell",
          "verdict: stub"}},
        {"--original 40 --present 40 --pocket out_of_line,4,1 --line 0",
         0,
         {"pocket 1 4 wide, 1 deep at ",
          "out of line; no direction given, placed where it costs most"}},
        {"--original 40 --present 40 --pocket 0,out_of_line,4,1 --line 0",
         0,
         {"out of line; position and azimuth disagree, the worse was used",
          "warning: pocket 1: the position recorded and the azimuth disagree"}},
        {"--original 40 --present 40 --bore 2 --line 0",
         0,
         {"bore 1 shell 2, no direction: taken all round", "least sound shell 2 limit 2 meets"}},
        {"--original 40 --present 40 --bore 0,3,45 --line 0",
         0,
         {"bore 1 shell 2.1 effective (read 3) at 0\u00b0, in line", "least sound shell 2.1"}},
        {"--original 40 --present 40 --pocket 0,3,1 --bore 0,2,pocket --line 0",
         0,
         {"bore 1 shell 3 effective (read 2) at 0\u00b0", "shell behind it 2"}},
        {"--original 40 --present 36 --pocket 270,3,4 --bore 90,2.2 --pocket 90,3,4 --line 0",
         0,
         {"pieces 2 limit in one FAILS", "section_split:", "verdict: stub, now"}},
        {"--original 40",
         0,
         {"strength not known", "verdict: unassessed\n", "present_circumference_missing:"}},
        {"--present 36", 0, {"girth, original not known", "original_circumference_missing:"}},
        {"--original 40 --method excavated --line 0", 0, {"across the line (governs) 100.0 %"}},
        {"--original 40 --present 40 --pocket 90,4,8 --line 0",
         0,
         {"warning: pocket 1: an external pocket is deeper than the pole's radius",
          "geometry_impossible:"}},
        {"--original 40 --present 36 --line 45 --deflection 20", 0, {"across the line (governs)"}},
        {"--original 40 --present 36 --line 45 --deflection 40", 0, {"weakest (governs)"}},
        {"--original 40 --present 36 --line 45 --role dead-end",
         0,
         {"weakest (governs)", "across the line 72.9 %"}},
        {"--original 40 --present 36 --pocket -45,4,1 --line 45", 0, {"at 315\u00b0, out of line"}},
        {"--original 40 --shell-rot 0.5 --line 0",
         0,
         {"girth now 36.86\n", "shell rot 1 0.5 deep, all round"}},
        {"", 2, {"no girth: type --original GIRTH (sound pole) and --present GIRTH (now)"}},
        {"--original 40 --present 36 --pocket 5",
         2,
         {"--pocket \"5\": does not hold a width and a depth; type --pocket AZIMUTH,WIDTH,DEPTH"}},
        {"--original 40 --present 36 --pocket in_lne,5,3", 2, {"did you mean \"in_line\"?"}},
        {"--original forty", 2, {"--original \"forty\": is no length; type a number in in"}},
        {"--original 40 --present 36 --role tangent",
         2,
         {"--role tangent: needs the line; type --line"}},
        {"--original 40 --present 36 --label x", 2, {"--svg FILE"}},
        {"--original 40 --present 36 --line 0 --deflection NE", 2, {"is no line angle"}},
        {"--original 40 --present 36 --deflection 4", 2, {"--deflection: needs the line"}},
        {"--original 40 --present 36 --line 0 --deflection 200", 2, {"is no line angle"}},
        {"--original 40 --present 36 --line 0 --role angel",
         2,
         {"--role \"angel\": not one of", "did you mean \"angle\"?"}},
        {"--original 40 --present 36 --method look", 2, {"--method \"look\": not one of visual"}},
        {"--original 40 --units feet", 2, {"--units"}},
        {"--original 40 --criteria no-such-file.json", 2, {"no-such-file.json"}},
        {"--original 40 --svg no/such/folder/out.svg",
         1,
         {"no/such/folder/out.svg: cannot be written"}},
    };
    for (const Row& row : rows) {
        const ProgramRun run = section(split(row.arguments));
        EXPECT_EQ(run.exit_code, row.exit_code) << row.arguments << "\n" << run.err;
        const bool done = row.exit_code == 0;
        EXPECT_EQ(done ? run.err : run.out, "") << row.arguments;
        const std::string said = squeezed(done ? run.out : run.err);
        for (const std::string& line : row.lines) {
            EXPECT_NE(said.find(line), std::string::npos) << row.arguments << "\n"
                                                          << line << "\n"
                                                          << said;
        }
    }
}

TEST(SectionCommand, AnswersInJson) {
    const ProgramRun run = section(split(
        "--original 40 --present 36 --pocket in_line,4,1 --bore 10,2.5 --line 45 --format json"));
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const auto j = nlohmann::json::parse(run.out);
    EXPECT_EQ(j["units"], "us");
    EXPECT_EQ(j["original_circumference"], 40.0);
    EXPECT_EQ(j["present_circumference"], 36.0);
    EXPECT_EQ(j["governing_pct"], j["transverse_pct"]);
    EXPECT_LE(j["weakest_pct"].get<double>(), j["transverse_pct"].get<double>());
    EXPECT_EQ(j["governs"], "transverse");
    EXPECT_EQ(j["criteria"], "general-practice");
    EXPECT_EQ(j["criteria_sha256"].get<std::string>().size(), 64U);
    EXPECT_EQ(j["cautions"].size(), 3U);
    ASSERT_EQ(j["defects"].size(), 2U);
    EXPECT_EQ(j["defects"][0]["kind"], "external_pocket");
    EXPECT_EQ(j["defects"][0]["azimuth_given"], false);
    EXPECT_EQ(j["defects"][0]["position_derived"], "in_line");
    EXPECT_EQ(j["defects"][1]["shell_effective"], 2.5);
    ASSERT_EQ(j["limits"].size(), 4U);
    for (const auto& limit : j["limits"]) {
        const bool meets = limit["value"].get<double>() >= limit["least"].get<double>() - 1e-6;
        EXPECT_EQ(limit["meets"], meets) << limit.dump();
    }
    // A sound pole in millimetres, and one that is not known.
    const auto si = nlohmann::json::parse(
        section(split("--original 1016 --present 1016 --units si --format json")).out);
    EXPECT_EQ(si["original_circumference"], 1016.0);
    EXPECT_EQ(si["weakest_azimuth"], nullptr);
    EXPECT_EQ(si["transverse_pct"], nullptr);
    EXPECT_EQ(si["passes"], true);
    const auto unknown = nlohmann::json::parse(section(split("--original 40 --format json")).out);
    EXPECT_EQ(unknown["governing_pct"], nullptr);
    EXPECT_EQ(unknown["passes"], nullptr);
    EXPECT_EQ(unknown["verdict"], "unassessed");
    EXPECT_EQ(unknown["urgency"], nullptr);
}

TEST(SectionCommand, JudgesByTheCriteriaGiven) {
    const TempDir dir;
    const auto criteria =
        dir.file("strict.json", R"({"name": "strict", "limits": {"governing_strength_min": 0.8}})");
    const ProgramRun run = section(
        {"--original", "40", "--present", "36", "--line", "0", "--criteria", criteria.string()});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    const std::string said = squeezed(run.out);
    EXPECT_NE(said.find("(governs) 72.9 % limit 80 % FAILS"), std::string::npos) << said;
    EXPECT_NE(said.find("criteria: strict, SHA-256 "), std::string::npos);
}

TEST(SectionCommand, DrawsWhereAsked) {
    const TempDir dir;
    const std::string drawing = (dir / "section.svg").string();
    Arguments arguments =
        split("--original 40 --present 36 --pocket 90,4,2 --line 45 --svg " + drawing);
    arguments.insert(arguments.end(), {"--label", "<script>alert(1)</script>"});
    EXPECT_EQ(section(arguments).exit_code, 0);
    const std::string svg = content_of(drawing);
    EXPECT_EQ(svg.find("<script"), std::string::npos);
    EXPECT_NE(svg.find("&lt;script&gt;alert(1)&lt;/script&gt;"), std::string::npos);
    EXPECT_EQ(dir.names(), Arguments{"section.svg"});
    // It stays where it is, unless told otherwise.
    const ProgramRun again = section(arguments);
    EXPECT_EQ(again.exit_code, 1);
    EXPECT_NE(again.err.find("--overwrite"), std::string::npos) << again.err;
    EXPECT_EQ(again.out, "");
    arguments.insert(arguments.end(), {"--overwrite", "--quiet"});
    const ProgramRun replaced = section(arguments);
    EXPECT_EQ(replaced.exit_code, 0) << replaced.err;
    EXPECT_NE(replaced.out.find("verdict: stub"), std::string::npos) << replaced.out;
    EXPECT_EQ(content_of(drawing), svg);
    EXPECT_EQ(section(split("--original 40 --svg " + dir.path().string())).exit_code, 1);
}

/// The figure of the README is this command's own drawing. To renew it, run the command with
/// `--svg styles/section-figure.svg --overwrite`.
TEST(SectionCommand, DrawsTheFigureOfTheReadme) {
    const TempDir dir;
    const std::string drawing = (dir / "figure.svg").string();
    Arguments arguments = split(
        "--original 40 --present 37 --pocket 135,5,2.5 --bore 15,4 --bore 135,5 --bore 255,3.5 "
        "--line 45 --svg " +
        drawing);
    arguments.insert(arguments.end(), {"--label", "A 40 in pole, now 37 in"});
    ASSERT_EQ(section(arguments).exit_code, 0);
    const std::string kept = content_of(test_file("../styles/section-figure.svg"));
    ASSERT_FALSE(kept.empty());
    EXPECT_TRUE(content_of(drawing) == kept)
        << "styles/section-figure.svg is not what the tool draws today";
}

}  // namespace
}  // namespace linewood::testing
