#pragma once

#include <cstdint>
#include <optional>

#include "assess/condition/condition_findings.hpp"
#include "assess/units/date.hpp"
#include "geo/network/network.hpp"
#include "src/pipeline/ground_frame.hpp"
#include "src/pipeline/pole_reader.hpp"

namespace linewood {

/// What a recorded azimuth is counted from.
enum class AzimuthRef : std::uint8_t { true_north, magnetic, grid, clock };

/// A recorded azimuth turned to true north, or why it could not be. With the doubt kClockAssumed it may as
/// well be the opposite one.
struct TrueAzimuth {
    Maybe<Bearing> azimuth;
    const FindingKind* doubt = nullptr;
    std::string_view why = {};  ///< more words for the doubt
};

/// Turns recorded azimuths to true north, pole by pole. A declination given (east positive) wins over
/// the magnetic model.
class AzimuthResolver {
public:
    AzimuthResolver(const Network& network,
                    const PoleStore& poles,
                    const GroundFrame& frame,
                    Maybe<Angle> declination = {})
        : network_{network}, poles_{poles}, frame_{frame}, declination_{declination} {}

    /// @param recorded degrees, or hours on the clock (12 = looking ahead along the line).
    /// @param date for the declination; without one, and none given for all, a magnetic azimuth cannot
    ///        be resolved, nor with one outside the model's five years.
    TrueAzimuth resolve(double recorded,
                        AzimuthRef ref,
                        std::uint32_t pole,
                        std::optional<Date> date) const;

private:
    TrueAzimuth from_compass(double degrees, Point place, std::optional<Date> date) const;
    /// A pole's place on the common ground, where azimuths are reckoned.
    Point ground_place(std::uint32_t pole) const;
    TrueAzimuth from_clock(double hours, std::uint32_t pole) const;

    const Network& network_;
    const PoleStore& poles_;
    const GroundFrame& frame_;
    Maybe<Angle> declination_;
};

}  // namespace linewood
