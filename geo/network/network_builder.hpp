#pragma once

#include <cstdint>
#include <memory>
#include <span>

#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/network.hpp"
#include "geo/network/network_settings.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// Joins span features to poles, one at a time, without keeping them.
///
/// - Named poles decide before geometry. Where a feature is drawn from `to` to `from`, its path is
///   taken backwards, without a finding; the names decide which end is `from`.
/// - Other ends and every vertex belong to the nearest pole within the snap tolerance (equally near:
///   the pole of lower index). A path is cut there, and at every pole within the interior cut of it.
///   Lines that cross without a pole do not join; a bend without a pole stays part of the path.
/// - The direction to a neighbour runs from the pole's own point to the first bend, or to the
///   neighbour's own point. A vertex is a bend where it lies further off the straight line than the
///   two poles lie beside their ends of the path, hooks included (at least 1 cm, at least 0.01 degrees);
///   one within the snap tolerance of the pole is none.
/// - A pole without a place (NaN, infinite, latitude over 90) is joined by name only; the drawn end
///   then stands for its point.
/// - Distances for snapping are taken in the plane touching at the pole or vertex, straight between
///   points (see LayerPaths for lines straight in a projection); azimuths and lengths reported are the Ground's.
///
/// Cost, one core, two-point spans: about 1.5 us a span with `finish`. Memory: see Network, and
/// 32 bytes a pole until `finish`.
class NetworkBuilder {
public:
    /// @param poles one point each, NaN where there is none; must outlive the builder.
    NetworkBuilder(const Ground& ground,
                   std::span<const Point> poles,
                   const NetworkSettings& settings = {});
    ~NetworkBuilder();
    NetworkBuilder(const NetworkBuilder&) = delete;
    NetworkBuilder& operator=(const NetworkBuilder&) = delete;
    NetworkBuilder(NetworkBuilder&& other) noexcept;
    NetworkBuilder& operator=(NetworkBuilder&& other) noexcept;

    /// @pre named poles are kNone or below the number of poles.
    void add(const SpanFeature& feature);

    /// The finished network. Once only; nothing can be added after it.
    Network finish();

private:
    class Work;
    std::unique_ptr<Work> work_;
};

}  // namespace linewood
