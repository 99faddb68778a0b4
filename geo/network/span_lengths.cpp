#include "geo/network/span_lengths.hpp"

#include <algorithm>
#include <cmath>

namespace linewood {

LengthQuantiles length_quantiles(std::vector<double>& lengths) {
    LengthQuantiles q;
    q.spans = static_cast<std::int64_t>(lengths.size());
    if (lengths.empty()) {
        return q;
    }
    auto from = lengths.begin();
    for (std::size_t i = 0; i < q.metres.size(); ++i) {
        const double rank =
            std::ceil(LengthQuantiles::kShares[i] * static_cast<double>(lengths.size()));
        const auto at =
            lengths.begin() + std::max<std::ptrdiff_t>(0, static_cast<std::ptrdiff_t>(rank) - 1);
        std::nth_element(from, at, lengths.end());
        q.metres[i] = *at;
        from = at;
    }
    return q;
}

}  // namespace linewood
