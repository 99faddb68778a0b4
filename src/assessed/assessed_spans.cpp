#include "src/assessed/assessed_spans.hpp"

#include <iterator>

namespace linewood {

std::vector<Point> AssessedSpans::path(std::size_t span, const AssessedPoles& poles) const {
    std::vector<Point> out;
    const Span& s = spans_[span];
    if (poles.has_place(s.from)) {
        out.push_back(poles.places[s.from]);
    }
    std::copy(bends_.begin() + bends_begin_[span],
              bends_.begin() + bends_begin_[span + 1],
              std::back_inserter(out));
    if (poles.has_place(s.to)) {
        out.push_back(poles.places[s.to]);
    }
    return out;
}

void AssessedSpans::add(const Span& span,
                        std::string_view circuit,
                        const std::vector<Point>& bends) {
    spans_.push_back(span);
    circuits_.add(circuit);
    bends_.insert(bends_.end(), bends.begin(), bends.end());
    bends_begin_.push_back(static_cast<std::uint32_t>(bends_.size()));
}

}  // namespace linewood
