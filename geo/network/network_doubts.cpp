#include "geo/network/network_doubts.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "geo/network/snap_tally.hpp"

namespace linewood {
namespace {

std::string in_metres(float metres, int digits = 2) {
    std::array<char, 64> text{};
    const auto written = std::to_chars(text.data(),
                                       text.data() + text.size(),
                                       static_cast<double>(metres),
                                       std::chars_format::fixed,
                                       metres < 100.0F ? digits : 0);
    return std::string(text.data(), written.ptr) + " m";
}

std::string_view field_of(SpanEnd end) {
    switch (end) {
        case SpanEnd::neither:
            return {};
        case SpanEnd::from:
            return "from_pole";
        case SpanEnd::to:
            return "to_pole";
    }
    return {};
}

}  // namespace

void NetworkDoubts::add(Doubt doubt, std::string_view text) {
    text = text.substr(0, 0xFFFF);
    // Positions are 32 bits wide: past 4 GB of ids the texts are left out, the findings are not.
    if (!text.empty() && texts_.size() + text.size() <= 0xFFFFFFFF) {
        doubt.text_begin = static_cast<std::uint32_t>(texts_.size());
        doubt.text_size = static_cast<std::uint16_t>(text.size());
        texts_ += text;
    }
    doubts_.push_back(doubt);
}

void NetworkDoubts::sort() {
    std::stable_sort(doubts_.begin(), doubts_.end(), [](const Doubt& a, const Doubt& b) {
        const bool a_row = a.row != kNone;
        const bool b_row = b.row != kNone;
        return a_row != b_row ? b_row : a.row < b.row;
    });
}

namespace {

/// `A` and `B`, as far as they have names: `; it joins A and B`.
std::string joined_poles(const Doubt& doubt, const PoleName& name) {
    const std::string from = doubt.pole == kNone || !name ? "" : name(doubt.pole);
    const std::string to = doubt.other == kNone || !name ? "" : name(doubt.other);
    return from.empty() || to.empty() ? "" : "; it joins " + from + " and " + to;
}

bool is_of_the_drawing(const NetworkFindingCode* code) {
    return code == &kFindingSpanZeroLength || code == &kFindingSpanLong ||
           code == &kFindingSpanWithoutGeometry || code == &kFindingSpanCoordinatesInvalid;
}

/// Field and value of findings that are about no end by itself.
void say_poles(const Doubt& doubt, const PoleName& name, Finding& f) {
    const std::string pole = doubt.pole == kNone || !name ? "" : name(doubt.pole);
    if (is_of_the_drawing(doubt.code)) {
        f.field = "geometry";
        f.value = doubt.metres >= 0.0F ? in_metres(doubt.metres, 3) : f.value;
    } else if (doubt.code == &kFindingSpanClosesOnItself) {
        f.field = "to_pole";
        f.value = pole;
    } else if (doubt.code == &kFindingSpanDoubled) {
        f.field = "from_pole";
        f.value = pole;
        f.message += joined_poles(doubt, name);
    } else if (doubt.code == &kFindingSnapAmbiguous) {
        f.field = f.field.empty() ? "geometry" : f.field;
        f.value = pole;
    }
}

}  // namespace

Finding NetworkDoubts::in_words(const Doubt& doubt, const PoleName& name) const {
    Finding f;
    f.severity = doubt.code->severity;
    f.code = doubt.code->code;
    f.layer = doubt.row == kNone ? InputLayer::poles : InputLayer::spans;
    f.field = field_of(doubt.end);
    f.value = texts_.substr(doubt.text_begin, doubt.text_size);
    f.message = doubt.code->meaning;
    say_poles(doubt, name, f);
    if (doubt.code == &kFindingSnapAmbiguous) {
        f.message += " (the second is " + in_metres(doubt.metres) + " away)";
    } else if (doubt.code == &kFindingSpanEndUnsnapped) {
        if (f.value.empty() && doubt.metres >= 0.0F) {
            f.value = in_metres(doubt.metres, 3);
        }
        f.message += doubt.metres >= 0.0F
                         ? "; the nearest is " + in_metres(doubt.metres, 3) + " away"
                         : "; none within " + in_metres(static_cast<float>(SnapTally::kReach));
    } else if (doubt.metres >= 0.0F && doubt.code != &kFindingSpanZeroLength) {
        f.message += " (" + in_metres(doubt.metres) + ")";
    }
    if (doubt.code == &kFindingSpanEndFar) {
        f.message += doubt.geometry_used
                         ? "; further than id_distance_limit: the pole at the drawn end was taken"
                         : "; the pole named was taken";
    }
    if (!std::isnan(doubt.place.x)) {
        f.place = Place{doubt.place.x, doubt.place.y};
    }
    f.row = doubt.row == kNone ? -1 : static_cast<std::int64_t>(doubt.row);
    return f;
}

void NetworkDoubts::each(const std::function<void(Finding&&)>& take, const PoleName& name) const {
    for (const Doubt& doubt : doubts_) {
        take(in_words(doubt, name));
    }
}

}  // namespace linewood
