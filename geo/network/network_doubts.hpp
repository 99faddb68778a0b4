#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/record/finding.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/network_findings.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// The end of a span a doubt is about.
enum class SpanEnd : std::uint8_t { neither, from, to };

/// A finding of the network before it is put into words: 56 bytes, since bad data can have one for
/// every span.
struct Doubt {
    const NetworkFindingCode* code = nullptr;
    std::uint32_t row = kNone;  ///< of the spans layer; kNone: about the network as a whole
    float metres = -1.0F;       ///< the distance the message speaks of; negative: none
    std::uint32_t text_begin = 0;
    std::uint16_t text_size = 0;
    SpanEnd end = SpanEnd::neither;
    bool geometry_used = false;   ///< span_end_far: the pole at the drawn end was taken instead
    std::uint32_t pole = kNone;   ///< the pole it is about
    std::uint32_t other = kNone;  ///< and the one it is joined to
    Point place;                  ///< x NaN: none
};

/// The id of a pole by its index; empty where it has none.
using PoleName = std::function<std::string(std::uint32_t)>;

/// Collects doubts and puts them into words when asked.
class NetworkDoubts {
public:
    /// Keeps a copy of `text` (up to 65,535 bytes), the value the finding shows.
    void add(Doubt doubt, std::string_view text = {});
    /// Orders by row, those about the whole network first; same row: as added.
    void sort();
    /// @param name puts ids into the findings; without one they have none.
    void each(const std::function<void(Finding&&)>& take, const PoleName& name = {}) const;
    std::size_t size() const { return doubts_.size(); }

private:
    Finding in_words(const Doubt& doubt, const PoleName& name) const;

    std::vector<Doubt> doubts_;
    std::string texts_;
};

}  // namespace linewood
