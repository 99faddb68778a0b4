#pragma once

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "tests/places/places.hpp"
#include "tests/support/program.hpp"
#include "tests/support/survey.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {

using Arguments = std::vector<std::string>;

/// Runs `linewood` with these arguments.
inline ProgramRun linewood(const Arguments& arguments, const std::function<int()>& prepare = {}) {
    return run_program_file(linewood_program(), arguments, prepare);
}

/// A folder with `in.gpkg`, a small survey, and `linewood assess` run in it.
class SurveyFolder {
public:
    SurveyFolder() { write_survey(input(), five_poles()); }
    explicit SurveyFolder(const Survey& survey) { write_survey(input(), survey); }

    std::filesystem::path input() const { return folder_ / "in.gpkg"; }
    std::filesystem::path output() const { return folder_ / "out.gpkg"; }
    const TempDir& folder() const { return folder_; }
    std::string path(std::string_view name) const { return (folder_ / name).string(); }
    std::vector<std::string> names() const { return folder_.names(); }

    /// `linewood assess in.gpkg --out out.gpkg` and more.
    ProgramRun assess(const Arguments& more = {}, const std::function<int()>& prepare = {}) const {
        Arguments all{"assess", input().string(), "--out", output().string()};
        all.insert(all.end(), more.begin(), more.end());
        return linewood(all, prepare);
    }

private:
    TempDir folder_{fast_place()};
};

}  // namespace linewood::testing
