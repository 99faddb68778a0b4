#pragma once

#include <string>
#include <vector>

#include "assess/record/finding.hpp"
#include "geo/network/network.hpp"
#include "geo/network/network_settings.hpp"
#include "src/pipeline/ground_frame.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/line_rows.hpp"
#include "src/pipeline/pole_reader.hpp"

namespace linewood {

/// What reading the spans layer gives.
struct SpanNetwork {
    Network network;
    std::int64_t greatest_fid = -1;  ///< of the spans layer
};

/// How spans are to be read and joined.
struct SpanRules {
    const GroundFrame& frame;
    const LineRows& lines;
    const NetworkSettings& settings;
};

/// The line network of a run: the spans layer read once and joined to the poles. Without a spans
/// layer every pole is isolated. Without a poles layer the poles were made, and names are not used.
/// @param on_ground the poles' places on the common ground; must not change while this runs.
SpanNetwork read_network(const InputLayers& inputs,
                         const PoleStore& poles,
                         std::span<const Point> on_ground,
                         const SpanRules& rules,
                         Findings& findings);

/// The direction at a pole: the network's, overridden by what the pole's record says.
LineDirection direction_at(const Network& network, const PoleStore& poles, std::uint32_t pole);

/// Findings on poles whose given_azimuth lies further than `limit` from the axis of their spans.
void note_given_off(const Network& network,
                    const PoleStore& poles,
                    Angle limit,
                    Findings& findings);

/// How far that direction can be trusted: one that was given is sure, and weak where it lies further than `limit` from the
/// axis of the spans.
LineTrust trust_at(const Network& network, const PoleStore& poles, Angle limit, std::uint32_t pole);

}  // namespace linewood
