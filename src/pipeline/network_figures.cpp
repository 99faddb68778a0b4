#include "src/pipeline/network_figures.hpp"

#include <cmath>

#include "geo/network/network_findings.hpp"

namespace linewood {
namespace {

void count_poles(const RunData& data, NetworkFigures& f) {
    f.poles = static_cast<std::int64_t>(data.poles.size());
    for (std::uint32_t pole = 0; pole < data.poles.size(); ++pole) {
        const LineDirection line = data.direction(pole);
        const LineTrust trust = data.trust(pole);
        ++f.roles[static_cast<std::size_t>(line.role)];
        ++f.sources[static_cast<std::size_t>(line.source)];
        ++f.qualities[static_cast<std::size_t>(trust.quality)];
        ++f.reasons[static_cast<std::size_t>(trust.reason)];
    }
}

void count_spans(const Network& network, NetworkFigures& f) {
    const auto spans = network.spans();
    f.spans = static_cast<std::int64_t>(spans.size());
    f.features = spans.empty() ? 0 : std::int64_t{spans.back().row} + 1;
    for (std::size_t i = 0; i < spans.size(); ++i) {
        const int ends = (spans[i].from != kNone ? 1 : 0) + (spans[i].to != kNone ? 1 : 0);
        f.joined += network.joins(i) ? 1 : 0;
        // A service or a guy needs one pole only.
        f.one_end += ends == 1 && network.service(i).kind == SpanKind::line ? 1 : 0;
        f.no_end += ends == 0 ? 1 : 0;
    }
}

void count_doubts(const Network& network, NetworkFigures& f) {
    network.each_finding([&](const Finding& finding) {
        const auto is = [&](const NetworkFindingCode& code) { return finding.code == code.code; };
        f.zero_length += is(kFindingSpanZeroLength) ? 1 : 0;
        f.closed += is(kFindingSpanClosesOnItself) ? 1 : 0;
        f.doubled += is(kFindingSpanDoubled) ? 1 : 0;
        f.very_long += is(kFindingSpanLong) ? 1 : 0;
        f.far_from_names += is(kFindingSpanEndFar) ? 1 : 0;
    });
}

}  // namespace

NetworkFigures network_figures(const RunData& data) {
    NetworkFigures f;
    count_poles(data, f);
    count_spans(data.network, f);
    count_doubts(data.network, f);
    f.ends = data.network.tally();
    f.lengths = data.network.lengths();
    return f;
}

}  // namespace linewood
