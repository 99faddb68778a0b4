#include "geo/io/fgb_index.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geo/io/bytes.h"

namespace linewood {
namespace {

constexpr std::uint32_t kSide = 1U << 16U;  // cells of the curve along each side

/// The place of a cell on Hilbert's curve through the square: quarter by quarter, each turned so that the
/// curve goes on where it left the one before.
std::uint32_t along_curve(std::uint32_t x, std::uint32_t y) {
    std::uint32_t at = 0;
    for (std::uint32_t half = kSide / 2; half > 0; half /= 2) {
        const bool right = (x & half) != 0;
        const bool upper = (y & half) != 0;
        at += half * half * (right ? (upper ? 2U : 3U) : (upper ? 1U : 0U));
        if (!upper) {
            if (right) {
                x = kSide - 1 - x;
                y = kSide - 1 - y;
            }
            std::swap(x, y);
        }
    }
    return at;
}

std::uint32_t cell_of(double v, double least, double most) {
    const double share = most > least ? (v - least) / (most - least) : 0.0;
    return static_cast<std::uint32_t>(std::clamp(share * (kSide - 1), 0.0, kSide - 1.0));
}

struct Node {
    OGREnvelope box;
    std::uint64_t offset = 0;
};

void append_node(std::string& out, const Node& node) {
    append_number(out, node.box.MinX);
    append_number(out, node.box.MinY);
    append_number(out, node.box.MaxX);
    append_number(out, node.box.MaxY);
    append_number(out, node.offset);
}

}  // namespace

void FgbIndex::add(const OGREnvelope& box, std::uint64_t begin) {
    const bool point = box.MinX == box.MaxX && box.MinY == box.MaxY;
    if (!point && most_.size() < least_.size()) {
        most_ = least_;
    }
    least_.push_back({box.MinX, box.MinY});
    if (!point || !most_.empty()) {
        most_.push_back({box.MaxX, box.MaxY});
    }
    begins_.push_back(begin);
}

OGREnvelope FgbIndex::box(std::uint32_t feature) const {
    const Point most = most_.empty() ? least_[feature] : most_[feature];
    OGREnvelope box;
    box.MinX = least_[feature].x;
    box.MinY = least_[feature].y;
    box.MaxX = most.x;
    box.MaxY = most.y;
    return box;
}

std::vector<std::uint32_t> FgbIndex::order(const OGREnvelope& all) const {
    std::vector<std::pair<std::uint32_t, std::uint32_t>> places(size());
    for (std::uint32_t i = 0; i < places.size(); ++i) {
        const OGREnvelope b = box(i);
        places[i] = {along_curve(cell_of(b.MinX * 0.5 + b.MaxX * 0.5, all.MinX, all.MaxX),
                                 cell_of(b.MinY * 0.5 + b.MaxY * 0.5, all.MinY, all.MaxY)),
                     i};
    }
    std::sort(places.begin(), places.end());
    std::vector<std::uint32_t> order(places.size());
    std::transform(places.begin(), places.end(), order.begin(), [](const auto& place) {
        return place.second;
    });
    return order;
}

void FgbIndex::write(const std::vector<std::uint32_t>& order,
                     std::uint64_t end,
                     const std::function<void(const std::string&)>& out) const {
    // Boxes of the levels above the features, the lowest first. A node's offset is the number of its first
    // child; nodes are numbered from the root down.
    std::vector<std::vector<Node>> levels;
    const auto groups = [](std::size_t n) { return (n + kNodeSize - 1) / kNodeSize; };
    std::vector<Node>* level = &levels.emplace_back(groups(order.size()));
    for (std::size_t i = 0; i < order.size(); ++i) {
        (*level)[i / kNodeSize].box.Merge(box(order[i]));
    }
    while (levels.back().size() > 1) {
        std::vector<Node> above(groups(levels.back().size()));
        for (std::size_t i = 0; i < levels.back().size(); ++i) {
            above[i / kNodeSize].box.Merge(levels.back()[i].box);
        }
        levels.push_back(std::move(above));
    }
    std::string bytes;
    std::uint64_t first_child = 0;
    std::reverse(levels.begin(), levels.end());  // the root is written first
    for (std::vector<Node>& nodes : levels) {
        first_child += nodes.size();
        std::uint64_t child = first_child;
        for (Node& node : nodes) {
            node.offset = child;
            child += kNodeSize;
            append_node(bytes, node);
        }
    }
    // Features lie in the file in this order, one behind the other.
    std::uint64_t begin = 0;
    for (const std::uint32_t feature : order) {
        append_node(bytes, {box(feature), begin});
        begin += length(feature, end);
        if (bytes.size() >= std::size_t{1} << 18U) {
            out(bytes);
            bytes.clear();
        }
    }
    out(bytes);
}

}  // namespace linewood
