#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "geo/crs/point.hpp"
#include "src/assessed/assessed_poles.hpp"
#include "src/assessed/text_column.hpp"

namespace linewood {

/// The spans that join two poles, in the order of the layer; bends only where there are some.
class AssessedSpans {
public:
    struct Span {
        std::uint32_t from = 0;  ///< index of the pole
        std::uint32_t to = 0;
        double length_m = 0.0;  ///< along its path; by its path in the plane where none is recorded
        bool line = true;       ///< no service and no guy
    };

    std::size_t size() const { return spans_.size(); }
    const Span& operator[](std::size_t span) const { return spans_[span]; }
    std::vector<Span>::const_iterator begin() const { return spans_.begin(); }
    std::vector<Span>::const_iterator end() const { return spans_.end(); }
    const TextColumn& circuits() const { return circuits_; }

    /// From pole to pole over the bends, in metres of the frame. A pole without a place gives no point.
    std::vector<Point> path(std::size_t span, const AssessedPoles& poles) const;

    /// @param bends between the poles, from `from` to `to`.
    void add(const Span& span, std::string_view circuit, const std::vector<Point>& bends);

private:
    std::vector<Span> spans_;
    TextColumn circuits_;
    std::vector<std::uint32_t> bends_begin_{0};
    std::vector<Point> bends_;
};

}  // namespace linewood
