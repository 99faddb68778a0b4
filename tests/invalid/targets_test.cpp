#include <csignal>
#include <cstdio>

#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <unistd.h>

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
using ::testing::StartsWith;

constexpr int kNotPermitted = 77;

/// Runs the program where `place` is a file system of its own, mounted so for this child only, and lists
/// the place afterwards on standard output: `rc=1`, then `left:` and its names.
ProgramRun assess_onto_mount(const SurveyFolder& f,
                             const std::string& place,
                             unsigned long flags,
                             const std::string& options) {
    std::filesystem::create_directories(place);
    const std::string script = linewood_program() + " assess '" + f.input().string() + "' --out '" +
                               place + "/out.gpkg' -q; echo \"rc=$?\"; echo left: $(ls -A '" +
                               place + "')";
    return run_program_file("/bin/sh", {"-c", script}, [&place, flags, &options] {
        if (::unshare(CLONE_NEWNS) != 0 ||
            ::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0 ||
            ::mount("tmpfs", place.c_str(), "tmpfs", flags, options.c_str()) != 0) {
            return kNotPermitted;
        }
        return 0;
    });
}

bool was_run(const ProgramRun& run) {
    if (run.exit_code == kNotPermitted) {
        std::puts("not run: mounting is not permitted here");
        return false;
    }
    return true;
}

TEST(Targets, AReadOnlyFileSystem) {
    const SurveyFolder f;
    const ProgramRun run = assess_onto_mount(f, f.path("mounted"), MS_RDONLY, "size=10m");
    if (was_run(run)) {
        EXPECT_EQ(run.out, "rc=1\nleft:\n");
        EXPECT_THAT(run.err, StartsWith("linewood: error: "));
        EXPECT_THAT(run.err, HasSubstr("mounted/out.gpkg"));
        EXPECT_THAT(run.err, HasSubstr("choose a place that can be written"));
    }
}

TEST(Targets, ADiskThatIsFull) {
    Survey s = five_poles();
    s.poles.fill("ballast", std::string(100000, 'b'));
    const SurveyFolder f{s};
    for (const char* const size : {"size=16k", "size=128k", "size=400k"}) {
        const ProgramRun run = assess_onto_mount(f, f.path("mounted"), 0, size);
        if (was_run(run)) {
            EXPECT_EQ(run.out, "rc=1\nleft:\n") << size;
            EXPECT_THAT(run.err, StartsWith("linewood: error: "));
            EXPECT_THAT(run.err, AnyOf(HasSubstr("space"), HasSubstr("full"))) << size;
        }
    }
}

TEST(Targets, AFileThatMayGrowNoFurther) {
    Survey s = five_poles();
    s.poles.fill("ballast", std::string(100000, 'b'));
    const SurveyFolder f{s};
    const std::string before = content_of(f.input());
    for (const auto& [out, format] : {std::pair{"out.gpkg", "geopackage"},
                                      std::pair{"out", "geojson"},
                                      std::pair{"out", "flatgeobuf"},
                                      std::pair{"out", "shapefile"}}) {
        for (const rlim_t most : {rlim_t{1000}, rlim_t{60000}, rlim_t{200000}}) {
            if (most > 1000 && format == std::string{"shapefile"}) {
                continue;  // its texts are cut to 254 characters and fit
            }
            const ProgramRun run = linewood(
                {"assess", f.input().string(), "--out", f.path(out), "--format", format, "-q"},
                [most] {
                    const rlimit limit{most, most};
                    return ::setrlimit(RLIMIT_FSIZE, &limit) == 0 ? 0 : kNotPermitted;
                });
            SCOPED_TRACE(std::string{format} + " " + std::to_string(most) + " " + run.err);
            EXPECT_EQ(run.signal, 0);
            EXPECT_EQ(run.exit_code, 1);
            EXPECT_THAT(run.err, HasSubstr("free some space or choose another place"));
            EXPECT_THAT(f.names(), ElementsAre("in.gpkg"));
            EXPECT_TRUE(content_of(f.input()) == before);
        }
    }
}

TEST(Targets, AFolderThatIsNotThere) {
    const SurveyFolder f;
    const ProgramRun run =
        linewood({"assess", f.input().string(), "--out", f.path("no/such/out.gpkg")});
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err, HasSubstr("does not exist; create it first"));
    EXPECT_THAT(f.names(), ElementsAre("in.gpkg"));
}

TEST(Targets, ALinkThatLeadsNowhereIsFoundOutBeforeTheWork) {
    const SurveyFolder f;
    std::filesystem::create_symlink("nothing.gpkg", f.folder() / "link.gpkg");
    std::filesystem::create_symlink("nothing", f.folder() / "link");
    std::filesystem::create_symlink("ring.gpkg", f.folder() / "ring.gpkg");
    const auto names = f.names();
    for (const auto& [out, format] : {std::pair{"link.gpkg", "geopackage"},
                                      std::pair{"link", "geojson"},
                                      std::pair{"link/", "geojson"},
                                      std::pair{"ring.gpkg", "geopackage"}}) {
        const ProgramRun run =
            linewood({"assess", f.input().string(), "--out", f.path(out), "--format", format});
        EXPECT_EQ(run.exit_code, 1) << out;
        EXPECT_THAT(run.err, HasSubstr("remove the link, or name the place itself"));
        EXPECT_EQ(f.names(), names);
    }
}

TEST(Targets, NoNameAtAll) {
    const SurveyFolder f;
    for (const char* const out : {"", " "}) {
        const ProgramRun run =
            linewood({"assess", f.input().string(), "--out", out, "--format", "geojson"});
        EXPECT_EQ(run.exit_code, 2);
        EXPECT_THAT(run.err, HasSubstr("empty"));
    }
}

TEST(Targets, AFileThatIsAFolderAndTheOtherWayRound) {
    const SurveyFolder f;
    f.folder().file("folder.gpkg/mine.txt", "mine");
    f.folder().file("plain", "mine");
    for (const auto& [out, format] :
         {std::pair{"folder.gpkg", "geopackage"}, std::pair{"plain", "geojson"}}) {
        const ProgramRun run = linewood({"assess",
                                         f.input().string(),
                                         "--out",
                                         f.path(out),
                                         "--format",
                                         format,
                                         "--overwrite"});
        EXPECT_EQ(run.exit_code, 1) << run.err;
    }
    EXPECT_EQ(content_of(f.folder() / "folder.gpkg/mine.txt"), "mine");
    EXPECT_EQ(content_of(f.folder() / "plain"), "mine");
}

TEST(Targets, AFolderWithOtherFilesIsNeverReplaced) {
    const SurveyFolder f;
    f.folder().file("out/letter.odt", "mine");
    const ProgramRun run = linewood({"assess",
                                     f.input().string(),
                                     "--out",
                                     f.path("out"),
                                     "--format",
                                     "geojson",
                                     "--overwrite"});
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err, HasSubstr("letter.odt"));
    EXPECT_THAT(f.folder().names("out"), ElementsAre("letter.odt"));
    EXPECT_THAT(f.names(), ElementsAre("in.gpkg", "out"));
}

TEST(Targets, TheInputItselfUnderAnyName) {
    const SurveyFolder f;
    write_survey(f.folder() / "set", five_poles());
    std::filesystem::create_symlink(f.input(), f.folder() / "link.gpkg");
    std::filesystem::create_hard_link(f.input(), f.folder() / "twin.gpkg");
    const std::string before = content_of(f.input());
    const std::string poles = content_of(f.folder() / "set/poles.geojson");
    const auto names = f.names();
    const std::vector<Arguments> wrong{
        {"assess", f.input().string(), "--out", f.input().string(), "--overwrite"},
        {"assess", f.input().string(), "--out", f.path("./set/../in.gpkg"), "--overwrite"},
        {"assess", f.input().string(), "--out", f.path("link.gpkg"), "--overwrite"},
        {"assess", f.path("link.gpkg"), "--out", f.input().string(), "--overwrite"},
        {"assess", f.path("set"), "--out", f.path("set/"), "--format", "geojson", "--overwrite"},
        {"assess",
         "--poles",
         f.path("set/poles.geojson"),
         "--out",
         f.path("set"),
         "--format",
         "geojson",
         "--overwrite"},
    };
    for (const Arguments& arguments : wrong) {
        const ProgramRun run = linewood(arguments);
        EXPECT_THAT(run.exit_code, AnyOf(1, 2)) << run.out;
        EXPECT_THAT(run.err, HasSubstr("input"));
        EXPECT_TRUE(content_of(f.input()) == before);
        EXPECT_TRUE(content_of(f.folder() / "set/poles.geojson") == poles);
        EXPECT_EQ(f.names(), names);
    }
}

/// A GeoPackage that another program has locked for writing while the test runs.
class LockedByAnother {
public:
    /// @param change a statement that is under way; none: only the lock is held.
    explicit LockedByAnother(const std::string& path, const std::string& change = "SELECT 1")
        : holder_{"/usr/bin/env",
                  {"python3",
                   "-c",
                   "import sqlite3,sys,time\n"
                   "c=sqlite3.connect(sys.argv[1],isolation_level=None)\n"
                   "c.execute('BEGIN EXCLUSIVE')\n"
                   "c.execute(sys.argv[2])\n"
                   "open(sys.argv[1]+'.ready','w').close()\n"
                   "time.sleep(60)\n",
                   path,
                   change}} {
        while (!holder_.ended() && !std::filesystem::exists(path + ".ready")) {
            ::usleep(1000);
        }
        std::filesystem::remove(path + ".ready");
    }

private:
    RunningProgram holder_;
};

TEST(Targets, AnInputThatAnotherProgramHasLocked) {
    const SurveyFolder f;
    const std::string before = content_of(f.input());
    const LockedByAnother lock{f.input().string()};
    const ProgramRun run = f.assess();
    EXPECT_EQ(run.exit_code, 1) << run.out;
    EXPECT_THAT(run.err, AnyOf(HasSubstr("locked"), HasSubstr("another program")));
    EXPECT_TRUE(content_of(f.input()) == before);
    EXPECT_FALSE(std::filesystem::exists(f.output()));
}

TEST(Targets, AnOutputThatAnotherProgramIsWriting) {
    const SurveyFolder f;
    ASSERT_EQ(f.assess({"-q"}).exit_code, 0);
    const std::string before = content_of(f.output());
    const LockedByAnother lock{f.output().string(), "CREATE TABLE under_way (a)"};
    const ProgramRun run = f.assess({"--overwrite"});
    EXPECT_EQ(run.exit_code, 1) << run.out;
    EXPECT_THAT(run.err, AnyOf(HasSubstr("locked"), HasSubstr("another program")));
    EXPECT_TRUE(content_of(f.output()) == before);
}

}  // namespace
}  // namespace linewood::testing
