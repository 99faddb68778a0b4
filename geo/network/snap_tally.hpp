#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace linewood {

/// How the ends of the drawn paths met their poles: two ends a part, named ends included. Distances
/// are to the pole an end was joined to, else to the nearest one.
struct SnapTally {
    /// Upper ends of the distance classes, metres; what lies beyond is counted behind them.
    static constexpr std::array<double, 4> kWithin{0.5, 1.0, 2.0, 5.0};
    /// Left-over ends look this far for a pole, whatever the snap tolerance.
    static constexpr double kReach = kWithin.back();

    /// Ends in each class (not running totals), the last: further.
    struct Classes {
        std::array<std::int64_t, kWithin.size() + 1> count{};

        std::int64_t total() const {
            std::int64_t sum = 0;
            for (const std::int64_t n : count) {
                sum += n;
            }
            return sum;
        }
        void add(double distance_m) {
            std::size_t i = 0;
            // A micrometre over is rounding.
            while (i < kWithin.size() && distance_m > kWithin[i] + 1e-6) {
                ++i;
            }
            ++count[i];
        }
    };
    Classes by_name;    ///< joined to the pole the feature names
    Classes by_place;   ///< joined to the nearest pole
    Classes left_over;  ///< of lines, without a pole
    Classes
        free_by_kind;  ///< of services and guys that have a pole at their other end: as it should be
    std::int64_t named_without_place =
        0;  ///< joined by name to a pole without a point; in no class
    std::int64_t features_without_path = 0;  ///< no usable geometry; joined by name or not at all
    std::int64_t cuts = 0;                   ///< poles along routes, where they were cut
};

}  // namespace linewood
