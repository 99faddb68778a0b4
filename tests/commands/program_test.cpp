// What holds of every command: nothing that was read is replaced, nothing printed is lost in silence, no
// value is empty.

#include <filesystem>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include <fcntl.h>
#include <unistd.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

constexpr const char* kOurs = R"({"name": "ours"})";

/// A criteria file under several names: its own, another spelling, a link, and a second entry.
std::vector<std::string> names_of_criteria(const TempDir& folder) {
    const std::filesystem::path file = folder.file("ours.json", kOurs);
    std::filesystem::create_directory(folder / "sub");
    std::filesystem::create_symlink(file, folder / "link.json");
    std::filesystem::create_hard_link(file, folder / "entry.json");
    return {file.string(),
            (folder / "sub/../ours.json").string(),
            (folder / "link.json").string(),
            (folder / "entry.json").string()};
}

void expect_refused(const Arguments& arguments, const std::string& option) {
    const ProgramRun run = linewood(arguments);
    EXPECT_EQ(run.exit_code, 2) << run.err;
    EXPECT_THAT(run.out, IsEmpty());
    EXPECT_THAT(run.err, HasSubstr(option));
    EXPECT_THAT(run.err, HasSubstr("name another place"));
}

TEST(Program, NeverReplacesTheCriteriaThatWereRead) {
    const SurveyFolder f;
    const auto names = names_of_criteria(f.folder());
    for (const std::string& out : names) {
        SCOPED_TRACE(out);
        const Arguments common{"--criteria", names.front(), "--overwrite"};
        const auto with = [&](Arguments arguments) {
            arguments.insert(arguments.end(), common.begin(), common.end());
            return arguments;
        };
        expect_refused(with({"limits", "--girths", "36", "--tables", "girth", "--out", out}),
                       "--out");
        expect_refused(with({"section", "--original", "40", "--present", "40", "--svg", out}),
                       "--svg");
        EXPECT_EQ(content_of(names.front()), kOurs);
    }
}

TEST(Program, NeverReplacesTheWoodTablesThatWereRead) {
    const TempDir folder;
    const std::string file = folder.file("woods.json", kOurs).string();
    expect_refused({"limits",
                    "--species",
                    "southern_pine",
                    "--class",
                    "4",
                    "--length",
                    "40",
                    "--wood-tables",
                    file,
                    "--out",
                    file,
                    "--overwrite"},
                   "--out");
    EXPECT_EQ(content_of(file), kOurs);
}

TEST(Program, LayersAndWorksheetsNeverReplaceTheCriteriaThatWereRead) {
    const SurveyFolder f;
    const std::string criteria = f.folder().file("ours.gpkg", kOurs).string();
    const std::string link = f.path("link.gpkg");
    std::filesystem::create_symlink(criteria, link);
    for (const std::string& out : {criteria, link}) {
        expect_refused(
            {"assess", f.input().string(), "--criteria", criteria, "--out", out, "--overwrite"},
            "--out");
    }
    const std::string sheets = f.path("sheets");
    std::filesystem::create_directory(sheets);
    const std::string inside = sheets + "/index.json";
    std::filesystem::copy_file(criteria, inside);
    const std::string to_inside = f.path("to_inside.json");
    std::filesystem::create_symlink(inside, to_inside);
    for (const std::string& read : {inside, to_inside}) {
        expect_refused({"worksheet",
                        f.input().string(),
                        "--where",
                        "1=1",
                        "--criteria",
                        read,
                        "--out",
                        sheets,
                        "--overwrite"},
                       "--out");
    }
    EXPECT_EQ(content_of(criteria), kOurs);
    EXPECT_EQ(content_of(inside), kOurs);
}

const std::vector<Arguments>& what_prints() {
    static const std::vector<Arguments> all{
        {"--help"},
        {"--version"},
        {"limits", "--help"},
        {"criteria", "list"},
        {"limits", "--girths", "36", "--tables", "girth"},
        {"section", "--original", "40", "--present", "40", "--line", "0"}};
    return all;
}

TEST(Program, FailsWhereWhatItPrintsIsLost) {
    const auto full = [] {
        const int device = ::open("/dev/full", O_WRONLY);
        return device >= 0 && ::dup2(device, STDOUT_FILENO) >= 0 ? 0 : 99;
    };
    const auto closed = [] { return ::close(STDOUT_FILENO) == 0 ? 0 : 99; };
    const std::vector<std::function<int()>> ways{full, closed};
    for (const Arguments& arguments : what_prints()) {
        SCOPED_TRACE(arguments.front());
        EXPECT_EQ(linewood(arguments).exit_code, 0);
        for (const std::function<int()>& prepare : ways) {
            const ProgramRun run = linewood(arguments, prepare);
            EXPECT_EQ(run.exit_code, 1);
            EXPECT_THAT(run.err, HasSubstr("standard output"));
        }
    }
}

TEST(Program, AClosedStandardOutputGetsIntoNoFile) {
    const SurveyFolder f;
    const ProgramRun lost = f.assess({}, [] { return ::close(STDOUT_FILENO) == 0 ? 0 : 99; });
    EXPECT_EQ(lost.exit_code, 1);
    EXPECT_THAT(lost.err, HasSubstr("standard output"));
    const ProgramRun read =
        linewood({"assess", f.output().string(), "--out", f.path("again.gpkg")});
    EXPECT_EQ(read.exit_code, 0) << read.err;
}

TEST(Program, RefusesEmptyValues) {
    const SurveyFolder f;
    const std::string in = f.input().string();
    const std::vector<std::pair<Arguments, std::string>> table{
        {{"limits", "--criteria", ""}, "--criteria"},
        {{"limits", "--girths", ""}, "--girths"},
        {{"limits", "--depths="}, "--depths"},
        {{"limits", "--out", ""}, "--out"},
        {{"limits", "--wood-tables", ""}, "--wood-tables"},
        {{"section", "--original", "40", "--svg", ""}, "--svg"},
        {{"section", "--original", "40", "--line", ""}, "--line"},
        {{"section", "--original", "40", "--pocket", ""}, "--pocket"},
        {{"criteria", "show", ""}, "profile"},
        {{"assess", "", "--out", f.path("o.gpkg")}, "input"},
        {{"assess", in, "--out", f.path("o.gpkg"), "--criteria", ""}, "--criteria"},
        {{"assess", in, "--out", f.path("o.gpkg"), "--line-where", ""}, "--line-where"},
        {{"network", in, "--out", f.path("o.gpkg"), "--spans", ""}, "--spans"},
        {{"worksheet", in, "--where", "", "--out", f.path("sheets")}, "--where"}};
    for (const auto& [arguments, option] : table) {
        SCOPED_TRACE(arguments.front() + " " + option);
        const ProgramRun run = linewood(arguments);
        EXPECT_EQ(run.exit_code, 2);
        EXPECT_THAT(run.out, IsEmpty());
        EXPECT_THAT(run.err, HasSubstr(option));
    }
    EXPECT_EQ(f.names(), Arguments{"in.gpkg"});
}

}  // namespace
}  // namespace linewood::testing
