#include <chrono>
#include <csignal>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/places/places.hpp"
#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AnyOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

/// Enough poles for a run that lasts longer than it takes to send a signal.
const SurveyFolder& long_survey() {
    static const SurveyFolder folder{[] {
        Survey s;
        for (int i = 0; i < 12000; ++i) {
            const std::string id = "P" + std::to_string(i);
            s.add_pole(id, 40.0 * (i % 100), 40.0 * (i / 100));
            s.add_visit(
                id, "2024-05-01", {{"method", "excavated"}, {"original_circumference", 40.0}});
            s.add_defect(id, "external_pocket", {{"width", 4.0}, {"depth", 2.0}});
        }
        return s;
    }()};
    return folder;
}

/// A run that has begun to write: its hidden file is there.
class BegunRun {
public:
    explicit BegunRun(const std::function<int()>& prepare = {})
        : program_{linewood_program(),
                   {"assess",
                    long_survey().input().string(),
                    "--out",
                    long_survey().output().string(),
                    "--threads",
                    "2"},
                   prepare} {
        while (!program_.ended() && long_survey().names().size() < 2) {
            std::this_thread::sleep_for(std::chrono::milliseconds{1});
        }
    }
    RunningProgram& program() { return program_; }

private:
    RunningProgram program_;
};

TEST(Interrupt, EndsWithOneAndLeavesNothing) {
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
        BegunRun begun;
        begun.program().send(signal);
        const ProgramRun run = begun.program().wait();
        EXPECT_EQ(run.signal, 0) << signal;
        EXPECT_EQ(run.exit_code, 1) << signal << run.out;
        EXPECT_EQ(run.err, "linewood: error: stopped; nothing was written\n");
        EXPECT_THAT(run.out, IsEmpty());
        EXPECT_THAT(long_survey().names(), ElementsAre("in.gpkg"));
    }
}

TEST(Interrupt, WorksheetsLeaveNothing) {
    RunningProgram program{linewood_program(),
                           {"worksheet",
                            long_survey().input().string(),
                            "--where",
                            "1=1",
                            "--out",
                            long_survey().path("sheets")}};
    while (!program.ended() && long_survey().names().size() < 2) {
        std::this_thread::sleep_for(std::chrono::milliseconds{1});
    }
    program.send(SIGINT);
    EXPECT_EQ(program.wait().exit_code, 1);
    EXPECT_THAT(long_survey().names(), ElementsAre("in.gpkg"));
}

TEST(Interrupt, CorridorsAndProjectsLeaveNothing) {
    const SurveyFolder& survey = long_survey();
    ASSERT_EQ(survey.assess({"-q"}).exit_code, 0);
    survey.folder().file("costs.json",
                         R"({"currency": "coins", "mobilisation": 1, "per_km": 1,
                             "prices": [{"cost": 1, "crew_days": 1}]})");
    for (const char* const command : {"corridors", "projects"}) {
        Arguments arguments{command, survey.output().string(), "--out", survey.path("new.gpkg")};
        arguments.insert(arguments.end(), {"--sheets", survey.path("sheets")});
        if (command == std::string{"projects"}) {
            arguments.insert(arguments.end(), {"--costs", survey.path("costs.json")});
        }
        RunningProgram program{linewood_program(), arguments};
        while (!program.ended() && survey.names().size() < 4) {
            std::this_thread::sleep_for(std::chrono::milliseconds{1});
        }
        program.send(SIGINT);
        const ProgramRun run = program.wait();
        EXPECT_EQ(run.exit_code, 1) << command << run.out;
        EXPECT_THAT(run.err, HasSubstr("nothing was written")) << command;
        EXPECT_THAT(survey.names(), ElementsAre("costs.json", "in.gpkg", "out.gpkg")) << command;
    }
    std::filesystem::remove(survey.path("costs.json"));
    std::filesystem::remove(survey.output());
}

/// At several moments: while poles are read, worksheets, downloads and pages are written.
TEST(Interrupt, PublishLeavesNothing) {
    const TempDir folder{fast_place()};
    const std::string assessed = (folder / "assessed.gpkg").string();
    ASSERT_EQ(run_program_file(linewood_program(),
                               {"assess", long_survey().input().string(), "--out", assessed, "-q"})
                  .exit_code,
              0);
    int stopped = 0;
    for (const int wait : {0, 30, 100, 300, 700}) {
        RunningProgram program{
            linewood_program(),
            {"publish", assessed, "--out", (folder / "site").string(), "--embed-limit", "100"}};
        while (!program.ended() && folder.names().size() < 2) {
            std::this_thread::sleep_for(std::chrono::milliseconds{1});
        }
        std::this_thread::sleep_for(std::chrono::milliseconds{wait});
        program.send(SIGINT);
        const ProgramRun run = program.wait();
        EXPECT_EQ(run.signal, 0);
        if (run.exit_code == 1) {
            ++stopped;
            EXPECT_THAT(folder.names(), ElementsAre("assessed.gpkg")) << wait;
        } else {
            EXPECT_EQ(run.exit_code, 0) << run.err;
            std::filesystem::remove_all(folder / "site");
        }
    }
    EXPECT_GT(stopped, 0);
}

TEST(Interrupt, AnOutputThatWasThereStaysAsItWas) {
    const auto old = long_survey().folder().file("out.gpkg", "old");
    RunningProgram program{
        linewood_program(),
        {"assess", long_survey().input().string(), "--out", old.string(), "--overwrite"}};
    while (!program.ended() && long_survey().names().size() < 3) {
        std::this_thread::sleep_for(std::chrono::milliseconds{1});
    }
    program.send(SIGINT);
    EXPECT_EQ(program.wait().exit_code, 1);
    EXPECT_EQ(content_of(old), "old");
    EXPECT_THAT(long_survey().names(), ElementsAre("in.gpkg", "out.gpkg"));
    std::filesystem::remove(old);
}

TEST(Interrupt, ASignalThatWasIgnoredStaysIgnored) {
    // As under nohup, or for a job that a script started in the background.
    BegunRun begun{[] {
        ::signal(SIGHUP, SIG_IGN);
        ::signal(SIGINT, SIG_IGN);
        return 0;
    }};
    begun.program().send(SIGHUP);
    begun.program().send(SIGINT);
    EXPECT_EQ(begun.program().wait().exit_code, 0);
    std::filesystem::remove(long_survey().output());
}

TEST(Interrupt, WhatAKilledRunLeftIsRemovedByTheNextWhichSaysSo) {
    for (const char* const log : {"text", "json"}) {
        {
            BegunRun begun;
            begun.program().send(SIGKILL);
            EXPECT_EQ(begun.program().wait().signal, SIGKILL);
        }
        const auto left = long_survey().names();
        ASSERT_GE(left.size(), 2U);
        EXPECT_EQ(left.front().front(), '.');
        const ProgramRun run = linewood({"assess",
                                         long_survey().input().string(),
                                         "--out",
                                         long_survey().output().string(),
                                         "--log",
                                         log});
        EXPECT_EQ(run.exit_code, 0) << run.err;
        EXPECT_THAT(run.out + run.err, HasSubstr("left unfinished by an earlier run"));
        EXPECT_THAT(long_survey().names(), ElementsAre("in.gpkg", "out.gpkg"));
        std::filesystem::remove(long_survey().output());
    }
}

}  // namespace
}  // namespace linewood::testing
