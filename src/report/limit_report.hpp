#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "assess/limits/limit_tables.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// Solved limits with all that has to be said of them.
struct LimitReport {
    /// The limits of one original girth.
    struct Girth {
        std::string pole;  ///< `class 4, 40 ft`; empty where the girth was typed
        GirthLimits limits;
    };

    UnitSystem units = UnitSystem::us;
    std::string tool;           ///< name and version
    std::string criteria_name;  ///< with its hash
    std::string criteria_hash;
    Length shell_min;  ///< of the criteria, behind pockets over shell_pocket_width
    Length shell_pocket_width;
    std::string species;  ///< name of the species of the poles; empty where girths were typed
    bool transverse_governs = true;
    int decimals = 2;    ///< of the figures
    bool girths = true;  ///< whether the table of girths and shells is wanted
    std::vector<Angle> angles;
    std::vector<Girth> all;
    /// What was asked for and is not there, each a sentence without its full stop.
    std::vector<std::string> notes;
};

/// For people, in a fixed pitch.
std::string limit_report_text(const LimitReport& report);
/// One page for people, to print: black on white, nothing fetched, nothing run.
std::string limit_report_html(const LimitReport& report);
/// A line for each limit, with a header; fields quoted where they need it.
std::string limit_report_csv(const LimitReport& report);
/// Every limit with its figure and what fails beyond it.
std::string limit_report_json(const LimitReport& report);

}  // namespace linewood
