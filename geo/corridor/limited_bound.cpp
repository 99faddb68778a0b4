#include <algorithm>

#include "geo/corridor/local_tree.hpp"

namespace linewood {

namespace {

constexpr std::int64_t kTries = 16;

/// The quotient, rounded up.
std::int64_t parts_of(std::int64_t amount, std::int64_t limit) {
    return amount / limit + (amount % limit != 0 ? 1 : 0);
}

/// The bound without limits, at this mobilisation and with `per_mm` more for each millimetre.
std::int64_t priced_bound(StretchTree tree,
                          const std::vector<std::int64_t>& way_mm,
                          const std::vector<SpanningForest::Break>& breaks,
                          std::int64_t mobilisation,
                          double per_mm) {
    for (std::size_t i = 0; i < tree.size(); ++i) {
        tree.way[i] += static_cast<std::int64_t>(per_mm * static_cast<double>(way_mm[i]));
    }
    std::int64_t bound = least_stretch_cost(tree, mobilisation);
    for (const SpanningForest::Break& broken : breaks) {
        // Where millimetres have a price, what was shortest may be so no more.
        bound -= per_mm > 0.0 ? std::max<std::int64_t>(0, mobilisation - broken.way)
                              : broken.loss(mobilisation);
    }
    return bound;
}

}  // namespace

std::int64_t least_projects(const JobLoad& jobs, const JobLoad& limits) {
    return std::max(parts_of(jobs.poles, limits.poles),
                    parts_of(jobs.day_thousandths, limits.day_thousandths));
}

std::int64_t limited_bound(const StretchTree& tree,
                           const std::vector<std::int64_t>& way_mm,
                           const std::vector<SpanningForest::Break>& breaks,
                           std::int64_t mobilisation,
                           const JobLoad& jobs,
                           const JobLoad& limits) {
    std::int64_t best = priced_bound(tree, way_mm, breaks, mobilisation, 0.0);
    const std::int64_t least = least_projects(jobs, limits);
    const bool by_km = limits.millimetres != JobLoad::no_limit().millimetres;
    for (std::int64_t i = 1; i <= kTries; ++i) {
        const std::int64_t less = mobilisation / kTries * i;
        if (least > 1) {
            best = std::max(
                best, priced_bound(tree, way_mm, breaks, mobilisation - less, 0.0) + less * least);
        }
        // A project of at most L millimetres pays no more than mu L for them at the price mu.
        if (by_km) {
            const double per_mm =
                static_cast<double>(less) / static_cast<double>(limits.millimetres);
            best = std::max(best, priced_bound(tree, way_mm, breaks, mobilisation - less, per_mm));
        }
    }
    return best;
}

}  // namespace linewood
