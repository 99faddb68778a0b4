#include "src/job/worksheet_job.hpp"

namespace linewood {

std::string_view name_of(SheetFormat format) {
    switch (format) {
        case SheetFormat::html:
            return "html";
        case SheetFormat::markdown:
            return "markdown";
        case SheetFormat::json:
            return "json";
        case SheetFormat::svg:
            return "svg";
    }
    return "";
}

}  // namespace linewood
