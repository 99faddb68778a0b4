#include <csignal>
#include <random>

#include <sys/wait.h>
#include <unistd.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

namespace fs = std::filesystem;

class SilentMonitor : public RunMonitor {
public:
    void stage(std::string_view /*name*/, std::int64_t /*total*/) override {}
    void advance(std::int64_t /*steps*/) override {}
    void finish() override {}
};

/// How a run in a process of its own ended: 0 done, 1 failed with a message; a signal as its number less 1000.
int assess_in_child(const fs::path& in, const fs::path& out) {
    const pid_t child = ::fork();
    if (child == 0) {
        ::alarm(60);  // a run that hangs is ended by a signal
        try {
            SilentMonitor monitor;
            run_assessment(plain_job(in, out), monitor);
            ::_exit(0);
        } catch (const std::exception& e) {
            ::_exit(*e.what() == '\0' ? 3 : 1);
        } catch (...) {
            ::_exit(4);
        }
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : WTERMSIG(status) - 1000;
}

/// Some bytes changed, up to eight.
std::string mutated(std::string bytes, std::mt19937& random) {
    for (std::size_t i = random() % 8 + 1; i > 0; --i) {
        bytes[random() % bytes.size()] = static_cast<char>(random());
    }
    return bytes;
}

void expect_survives(const std::string& format, const std::vector<std::string>& files) {
    constexpr int kRounds = 300;
    const TempDir dir{fast_place()};
    const bool one_file = format == "gpkg";
    const fs::path in = one_file ? dir / "in.gpkg" : dir / "in";
    write_survey(in, five_poles(), format);
    const auto names = dir.names();
    std::mt19937 random{20 + format.size()};
    std::array<int, 2> ended{};
    for (int round = 0; round < kRounds; ++round) {
        const fs::path victim =
            one_file ? in : in / files[static_cast<std::size_t>(round) % files.size()];
        const std::string whole = content_of(victim);
        const std::string bad = mutated(whole, random);
        std::ofstream{victim, std::ios::binary}.write(bad.data(),
                                                      static_cast<std::streamsize>(bad.size()));
        const fs::path out = dir / (round % 2 == 0 ? "out.gpkg" : "out");
        const int code = assess_in_child(in, out);
        SCOPED_TRACE(victim.filename().string() + " round " + std::to_string(round));
        ASSERT_THAT(code, ::testing::AnyOf(0, 1));
        ++ended[static_cast<std::size_t>(code)];
        EXPECT_EQ(fs::exists(out), code == 0);
        fs::remove_all(out);
        EXPECT_EQ(dir.names(), names);
        EXPECT_TRUE(content_of(victim) == bad);
        std::ofstream{victim, std::ios::binary}.write(whole.data(),
                                                      static_cast<std::streamsize>(whole.size()));
    }
    // Both ways to end are met, or the changes are not where it matters.
    EXPECT_GT(ended[0], 0);
    EXPECT_TRUE(ended[1] > 0 || format == "csv") << ended[1];
}

TEST(MutatedInput, GeoPackage) { expect_survives("gpkg", {}); }
TEST(MutatedInput, FlatGeobuf) { expect_survives("fgb", {"poles.fgb", "spans.fgb"}); }
TEST(MutatedInput, GeoJson) { expect_survives("geojson", {"poles.geojson", "spans.geojson"}); }
TEST(MutatedInput, Csv) {
    expect_survives("csv", {"poles.csv", "spans.csv", "inspections.csv", "defects.csv"});
}

}  // namespace
}  // namespace linewood::testing
