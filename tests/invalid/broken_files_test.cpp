#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

namespace fs = std::filesystem;

void write_bytes(const fs::path& path, const std::string& bytes) {
    std::ofstream out{path, std::ios::binary | std::ios::trunc};
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

/// Either the run went through, or it failed with one clear message; in both cases the input is as it was
/// and nothing else is left.
void expect_clean(const SurveyFolder& f, const Arguments& arguments, const fs::path& input) {
    const std::string before = content_of(input);
    const auto names = f.names();
    const ProgramRun run = linewood(arguments);
    SCOPED_TRACE(run.err);
    EXPECT_EQ(run.signal, 0);
    EXPECT_TRUE(content_of(input) == before);
    if (run.exit_code == 0) {
        EXPECT_FALSE(read_table(f.output(), "run").rows.empty());
        fs::remove(f.output());
    } else {
        EXPECT_EQ(run.exit_code, 1);
        EXPECT_THAT(run.out, IsEmpty());
        EXPECT_THAT(run.err, StartsWith("linewood: error: "));
        // A Shapefile is several files of one stem.
        EXPECT_THAT(run.err, HasSubstr(input.stem().string() + "."));
        EXPECT_LT(run.err.size(), 1000U);
    }
    EXPECT_EQ(f.names(), names);
}

/// The survey in one format, and the file of it that is broken.
struct Victim {
    const char* format;
    const char* file;
};

const Victim kVictims[] = {{"gpkg", "in.gpkg"},
                           {"geojson", "set/poles.geojson"},
                           {"geojson", "set/spans.geojson"},
                           {"fgb", "set/poles.fgb"},
                           {"fgb", "set/spans.fgb"},
                           {"shp", "set/poles.shp"},
                           {"shp", "set/poles.dbf"},
                           {"shp", "set/poles.shx"},
                           {"csv", "set/poles.csv"}};

Arguments arguments_for(const SurveyFolder& f, const Victim& v) {
    const std::string in = v.format == std::string{"gpkg"} ? f.input().string() : f.path("set");
    return {"assess", in, "--out", f.output().string()};
}

TEST(BrokenFiles, CutOffAnywhere) {
    for (const Victim& victim : kVictims) {
        const SurveyFolder f;
        write_survey(f.folder() / "set",
                     five_poles(),
                     victim.format == std::string{"gpkg"} ? "geojson" : victim.format);
        const fs::path path = f.folder() / victim.file;
        const std::string whole = content_of(path);
        for (const double part : {0.0, 0.03, 0.3, 0.6, 0.9, 0.999}) {
            SCOPED_TRACE(std::string{victim.file} + " " + std::to_string(part));
            write_bytes(path,
                        whole.substr(
                            0, static_cast<std::size_t>(part * static_cast<double>(whole.size()))));
            expect_clean(f, arguments_for(f, victim), path);
        }
    }
}

TEST(BrokenFiles, RandomBytes) {
    std::mt19937 random{5};
    for (const Victim& victim : kVictims) {
        const SurveyFolder f;
        write_survey(f.folder() / "set",
                     five_poles(),
                     victim.format == std::string{"gpkg"} ? "geojson" : victim.format);
        const fs::path path = f.folder() / victim.file;
        std::string noise(5000, ' ');
        for (char& c : noise) {
            c = static_cast<char>(random());
        }
        SCOPED_TRACE(victim.file);
        write_bytes(path, noise);
        expect_clean(f, arguments_for(f, victim), path);
    }
}

TEST(BrokenFiles, AFewBytesChanged) {
    std::mt19937 random{7};
    for (const Victim& victim : kVictims) {
        const SurveyFolder f;
        write_survey(f.folder() / "set",
                     five_poles(),
                     victim.format == std::string{"gpkg"} ? "geojson" : victim.format);
        const fs::path path = f.folder() / victim.file;
        const std::string whole = content_of(path);
        for (int round = 0; round < 6; ++round) {
            std::string changed = whole;
            for (int i = 0; i < 20; ++i) {
                changed[random() % changed.size()] = static_cast<char>(random());
            }
            SCOPED_TRACE(std::string{victim.file} + " round " + std::to_string(round));
            write_bytes(path, changed);
            expect_clean(f, arguments_for(f, victim), path);
        }
    }
}

TEST(BrokenFiles, MissingOnes) {
    const SurveyFolder f;
    for (const auto& [in, word] : {std::pair{f.path("none.gpkg"), "no such file"},
                                   std::pair{f.path("none"), "no such file"},
                                   std::pair{std::string{"/dev/null"}, "/dev/null"},
                                   std::pair{std::string{" "}, " "}}) {
        const ProgramRun run = linewood({"assess", in, "--out", f.output().string()});
        EXPECT_EQ(run.exit_code, 1) << in;
        EXPECT_THAT(run.err, HasSubstr(word));
        EXPECT_EQ(f.names(), std::vector<std::string>{"in.gpkg"});
    }
}

TEST(BrokenFiles, LayersThatAreNotThereAreNamedWithThoseThatAre) {
    const SurveyFolder f;
    const std::string in = f.input().string();
    const std::vector<Arguments> wrong{{"assess", in, "--spans", in + ":lines"},
                                       {"assess", in, "--poles=" + in + ":masts"},
                                       {"assess", in, "--defects", in + ":"}};
    for (Arguments arguments : wrong) {
        arguments.insert(arguments.end(), {"--out", f.output().string()});
        const ProgramRun run = linewood(arguments);
        EXPECT_EQ(run.exit_code, 1);
        EXPECT_THAT(run.err, HasSubstr("in.gpkg"));
        EXPECT_EQ(f.names(), std::vector<std::string>{"in.gpkg"});
    }
    EXPECT_THAT(
        linewood({"assess", in, "--spans", in + ":lines", "--out", f.output().string()}).err,
        HasSubstr("the layers are: poles, spans, inspections, defects"));
}

TEST(BrokenFiles, ADatasetWithoutPoles) {
    const SurveyFolder f;
    write_table(f.folder() / "half.gpkg", five_poles().spans);
    const ProgramRun run = linewood({"assess", f.path("half.gpkg"), "--out", f.output().string()});
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err, HasSubstr("poles"));
    EXPECT_THAT(run.err, HasSubstr("spans"));
}

}  // namespace
}  // namespace linewood::testing
