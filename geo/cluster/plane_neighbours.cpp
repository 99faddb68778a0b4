#include "geo/cluster/plane_neighbours.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

namespace linewood {
namespace {

constexpr std::uint32_t kLeaf = 16;
constexpr double kFurthestUm = 9e18;

}  // namespace

std::int64_t to_micrometres(double metres) {
    assert(metres >= 0.0);
    return static_cast<std::int64_t>(std::min(metres * 1e6 + 0.5, kFurthestUm));
}

PlaneNeighbours::PlaneNeighbours(std::span<const Point> poles)
    : items_(poles.size()), item_of_(poles.size()) {
    for (std::size_t i = 0; i < poles.size(); ++i) {
        assert(std::isfinite(poles[i].x) && std::isfinite(poles[i].y));
        items_[i] = {poles[i], static_cast<std::uint32_t>(i)};
    }
    if (!items_.empty()) {
        nodes_.reserve(2 * (items_.size() / (kLeaf / 2) + 1));
        build(0, static_cast<std::uint32_t>(items_.size()));
    }
    for (std::size_t i = 0; i < items_.size(); ++i) {
        item_of_[items_[i].pole] = static_cast<std::uint32_t>(i);
    }
}

/// Halves the poles at the middle of the longer side, down to leaves. A total order of the poles
/// makes the halves, and so the layout, the same with every library.
std::uint32_t PlaneNeighbours::build(std::uint32_t begin, std::uint32_t end) {
    const auto number = static_cast<std::uint32_t>(nodes_.size());
    Node node;
    node.low = node.high = items_[begin].at;
    for (std::uint32_t i = begin; i < end; ++i) {
        const Point p = items_[i].at;
        node.low = {std::min(node.low.x, p.x), std::min(node.low.y, p.y)};
        node.high = {std::max(node.high.x, p.x), std::max(node.high.y, p.y)};
    }
    node.begin = begin;
    node.end = end;
    nodes_.push_back(node);
    const auto first = items_.begin() + begin;
    const auto last = items_.begin() + end;
    if (end - begin <= kLeaf) {
        std::sort(first, last, [](const Item& a, const Item& b) { return a.pole < b.pole; });
        return number;
    }
    const bool wide = node.high.x - node.low.x >= node.high.y - node.low.y;
    const std::uint32_t middle = begin + (end - begin) / 2;
    std::nth_element(first, items_.begin() + middle, last, [wide](const Item& a, const Item& b) {
        return wide ? std::tie(a.at.x, a.at.y, a.pole) < std::tie(b.at.x, b.at.y, b.pole)
                    : std::tie(a.at.y, a.at.x, a.pole) < std::tie(b.at.y, b.at.x, b.pole);
    });
    build(begin, middle);
    nodes_[number].right = build(middle, end);
    return number;
}

std::vector<std::uint32_t> PlaneNeighbours::layout() const {
    std::vector<std::uint32_t> order;
    order.reserve(items_.size());
    for (const Item& item : items_) {
        order.push_back(item.pole);
    }
    return order;
}

/// Collects all poles within a radius, wider each time until there are enough of them. The radius
/// of the search before is the first guess.
class PlaneSearch : public NeighbourSearch {
public:
    explicit PlaneSearch(const PlaneNeighbours& tree) : tree_{tree} {}

    void nearest(std::uint32_t centre, Reach reach, std::vector<Near>& out) override {
        const Point at = tree_.items_[tree_.item_of_[centre]].at;
        const std::size_t all = tree_.pole_count();
        double radius = reach.count >= all ? kFurthestUm : guess_um_;
        for (;;) {
            const auto limit = static_cast<std::int64_t>(
                std::min({radius, static_cast<double>(reach.um), kFurthestUm}));
            const std::int64_t within = std::min(limit, reach.um);
            out.clear();
            collect(0, at, within, out);
            if (out.size() >= reach.count || within >= reach.um || out.size() == all) {
                break;
            }
            const double missing =
                static_cast<double>(reach.count) / static_cast<double>(out.size());
            radius = radius * std::clamp(std::sqrt(1.2 * missing), 1.1, 8.0) + 1.0;
        }
        if (out.size() > reach.count) {
            const auto cut = out.begin() + static_cast<std::ptrdiff_t>(reach.count);
            std::nth_element(out.begin(), cut, out.end());
            out.erase(cut, out.end());
        }
        std::sort(out.begin(), out.end());
        if (out.size() == reach.count && out.back().um > 0) {
            guess_um_ = 1.03 * static_cast<double>(out.back().um) + 1.0;
        }
    }

private:
    void collect(std::uint32_t number, Point at, std::int64_t um, std::vector<Near>& out) const {
        const auto& node = tree_.nodes_[number];
        const double dx = std::max({node.low.x - at.x, at.x - node.high.x, 0.0});
        const double dy = std::max({node.low.y - at.y, at.y - node.high.y, 0.0});
        // A little further than asked: the box is measured without the rounding of the poles.
        const double reach = to_metres(um) * (1.0 + 1e-12) + 1e-6;
        if (dx * dx + dy * dy > reach * reach) {
            return;
        }
        if (node.right != 0) {
            collect(number + 1, at, um, out);
            collect(node.right, at, um, out);
            return;
        }
        for (std::uint32_t i = node.begin; i < node.end; ++i) {
            const auto& item = tree_.items_[i];
            const double x = item.at.x - at.x;
            const double y = item.at.y - at.y;
            const std::int64_t far = to_micrometres(std::sqrt(x * x + y * y));
            if (far <= um) {
                out.push_back({far, item.pole});
            }
        }
    }

    const PlaneNeighbours& tree_;
    double guess_um_ = 1e8;
};

std::unique_ptr<NeighbourSearch> PlaneNeighbours::search() const {
    return std::make_unique<PlaneSearch>(*this);
}

}  // namespace linewood
