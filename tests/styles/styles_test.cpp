// Styles against the standards and by the eyes of others.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <utility>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::SizeIs;

/// Names of all styles, as `linewood styles` lists them.
std::vector<std::string> style_names() {
    std::vector<std::string> names;
    std::istringstream list{linewood({"styles"}).out};
    for (std::string line; std::getline(list, line);) {
        names.push_back(line.substr(0, line.find(' ')));
    }
    return names;
}

/// The OGC's schemas are not ours to pass on: LINEWOOD_OGC_SCHEMAS names a folder that has `sld/1.0.0` and `sld/1.1.0`,
/// as on the OGC's own site, with what they import reachable from there.
TEST(Styles, AreValidByTheSchemasOfTheirStandards) {
    const char* const schemas = std::getenv("LINEWOOD_OGC_SCHEMAS");
    if (schemas == nullptr) {
        GTEST_SKIP() << "LINEWOOD_OGC_SCHEMAS is not set";
    }
    const TempDir folder;
    const std::vector<std::string> names = style_names();
    EXPECT_THAT(names, SizeIs(12));
    constexpr std::pair<const char*, const char*> kForms[] = {
        {"sld", "1.0.0"}, {"mapserver", "1.0.0"}, {"se", "1.1.0"}};
    for (const auto& [form, version] : kForms) {
        Arguments check{"--nonet",
                        "--noout",
                        "--schema",
                        std::string{schemas} + "/sld/" + version + "/StyledLayerDescriptor.xsd"};
        for (const std::string& name : names) {
            const std::filesystem::path file = folder / (name + "." + form);
            std::ofstream{file} << linewood({"styles", name, "--format", form}).out;
            check.push_back(file.string());
        }
        const ProgramRun run = run_program_file("/usr/bin/xmllint", check);
        EXPECT_EQ(run.exit_code, 0) << form << run.err;
        for (const std::string& name : names) {
            EXPECT_THAT(run.err, HasSubstr(name + "." + form + " validates"));
        }
    }
}

ProgramRun run_styles(const char* way) {
    return run_program_file(
        "/bin/bash",
        {test_file("styles/run"), way, linewood_program(), sample_file("sample.gpkg")});
}

TEST(slow_Styles, SayTheSameToAnotherProjectsReaders) {
    const ProgramRun run = run_styles("read");
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    EXPECT_THAT(run.out, HasSubstr("24 styles and a map of ")) << run.err;
    EXPECT_THAT(run.out, HasSubstr(" layers read, 0 problems"));
}

TEST(slow_Styles, AreDrawnByMapServerAsTheyAreMeant) {
    const ProgramRun run = run_styles("mapserver");
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    EXPECT_THAT(run.out, HasSubstr(" pictures, 0 problems")) << run.err;
}

TEST(slow_Styles, AreFoundAndDrawnByADesktopGis) {
    const ProgramRun run = run_styles("desktop");
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    EXPECT_THAT(run.out, HasSubstr("12 styles opened, 0 problems")) << run.err;
    EXPECT_THAT(run.out, HasSubstr(" pictures, 0 problems")) << run.err;
}

}  // namespace
}  // namespace linewood::testing
