#include "src/pipeline/finding_log.hpp"

#include <array>
#include <optional>

#include "assess/record/release.hpp"

namespace linewood {
namespace {

Cell text_or_null(std::string_view text) { return text.empty() ? Cell{} : Cell{std::string{text}}; }

}  // namespace

void FindingLog::append(const Finding& f) {
    const std::array<Cell, 7> cells{std::string{name_of(f.severity)},
                                    std::string{f.code},
                                    std::string{name_of(f.layer)},
                                    text_or_null(f.feature),
                                    text_or_null(f.field),
                                    text_or_null(f.value),
                                    f.message};
    std::optional<Point> at;
    if (f.place) {
        at = Point{f.place->x, f.place->y};
    }
    writer_.append(cells, at);
}

void FindingLog::write(const Finding& f) {
    if (!most_ || total_ < *most_) {
        append(f);
    } else {
        ++unwritten_;
    }
    if (f.feature.empty()) {
        monitor_.tell(f);
    }
    Count& count = counts_[std::string{f.code}];
    count.severity = f.severity;
    ++count.count;
    ++total_;
}

void FindingLog::write(Findings& findings) {
    for (const Finding& f : findings) {
        write(f);
    }
    release(findings);  // bad data has hundreds of thousands: their memory is given back
}

}  // namespace linewood
