#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "src/job/assess_job.hpp"
#include "src/pipeline/assess_run.hpp"
#include "tests/support/survey.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {

/// A job as `linewood assess IN --out OUT` makes it without any option.
AssessJob plain_job(const std::filesystem::path& in, const std::filesystem::path& out);

/// An assessment run in this process, and its output read back by OGR.
class AssessedSurvey {
public:
    using Change = std::function<void(AssessJob&)>;

    /// Writes the survey into a folder of its own (as `in.gpkg`) and assesses it.
    explicit AssessedSurvey(const Survey& survey, const Change& change = {});
    /// Assesses what is there.
    explicit AssessedSurvey(const std::filesystem::path& in, const Change& change = {});

    const Table& poles() const { return layer("poles"); }
    const Row& pole(std::string_view id) const { return poles().pole(id); }
    std::string verdict(std::string_view id) const { return pole(id).at("verdict"); }
    /// Any layer of the output; lives as long as this.
    const Table& layer(const std::string& name) const;
    const Table& findings() const { return layer("findings"); }
    /// Findings of a code.
    std::vector<Row> doubts(std::string_view code) const { return where(findings(), "code", code); }
    /// The only finding of a code. @throws std::out_of_range where there is none, or more.
    const Row& doubt(std::string_view code) const { return findings().row("code", code); }
    /// Values of a statement of the run layer.
    std::vector<std::string> statements(std::string_view item, std::string_view about = "") const;

    const AssessSummary& summary() const { return summary_; }
    const std::filesystem::path& input() const { return job_.input; }
    const std::filesystem::path& output() const { return job_.out; }
    const TempDir& folder() const { return folder_; }

private:
    struct Paths {
        std::filesystem::path input;
        std::filesystem::path out;
    };
    void run(const Change& change);
    std::filesystem::path layer_path(const std::string& name) const;
    std::string layer_of(const std::string& name) const;

    TempDir folder_{fast_place()};
    Paths job_;
    AssessSummary summary_;
    mutable std::map<std::string, Table> layers_;
};

}  // namespace linewood::testing
