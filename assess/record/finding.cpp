#include "assess/record/finding.hpp"

namespace linewood {

std::string_view name_of(Severity s) {
    switch (s) {
        case Severity::error:
            return "error";
        case Severity::warning:
            return "warning";
        case Severity::note:
            return "note";
    }
    return "";
}

std::string_view name_of(InputLayer l) {
    switch (l) {
        case InputLayer::poles:
            return "poles";
        case InputLayer::spans:
            return "spans";
        case InputLayer::inspections:
            return "inspections";
        case InputLayer::defects:
            return "defects";
    }
    return "";
}

}  // namespace linewood
