#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "src/job/assess_job.hpp"

namespace linewood {

/// A form a worksheet is written in.
enum class SheetFormat : std::uint8_t { html, markdown, json, svg };
inline constexpr std::size_t kSheetFormats = 4;
std::string_view name_of(SheetFormat format);

/// What pages are laid out for when printed; `any`: what the printer has.
enum class Paper : std::uint8_t { any, a4, letter };

/// Which worksheets are wanted of a run, and in which forms. `out` empty: one, to standard output.
struct WorksheetJob : AssessJob {
    std::vector<std::string> pole_ids;  ///< in the order typed
    std::string where;                  ///< attribute filter on the poles layer; empty = none
    bool needing_work = false;          ///< only verdicts that ask for work
    std::vector<SheetFormat> formats{SheetFormat::html};
    Paper paper = Paper::any;
    /// Of the drawings as files only that of the worst section is wanted, called like the worksheet.
    bool worst_section_only = false;
};

}  // namespace linewood
