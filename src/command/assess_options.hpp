#pragma once

#include <functional>
#include <limits>
#include <string>

#include "src/job/assess_job.hpp"

namespace CLI {
class App;
}

namespace linewood {

/// @param typed empty: the machine's date. @throws JobError where it is no day
Date day_of_run(const std::string& typed);

/// The options of every command that assesses poles, beside those of the network.
struct AssessOptions {
    std::string inspections;
    std::string defects;
    std::string units = "us";
    std::string criteria;
    std::string wood_tables;
    std::string today;
    double declination = std::numeric_limits<double>::quiet_NaN();  ///< NaN: not given

    void add_to(CLI::App& command);
    /// Everything checked and put into the job. @param network fills what the network needs, over the
    /// settings of the criteria profile.
    /// @throws JobError
    void fill(AssessJob& job, const std::function<void(NetworkJob&)>& network) const;
};

}  // namespace linewood
