#include "geo/io/box_store.h"

#include <cmath>
#include <limits>
#include <utility>

namespace linewood {
namespace {

float next_up(float v) { return std::nextafter(v, std::numeric_limits<float>::infinity()); }

/// A point that is no float lies between two neighbouring ones.
bool is_point(float least, float most) { return most == least || most == next_up(least); }

}  // namespace

void BoxStore::reserve(std::size_t rows) {
    least_.reserve(rows);
    x_wider_.reserve(rows);
    y_wider_.reserve(rows);
}

BoxStore::Corner BoxStore::most(std::size_t i) const {
    if (!most_.empty()) {
        return most_[i];
    }
    const Corner least = least_[i];
    return {x_wider_[i] ? next_up(least.x) : least.x, y_wider_[i] ? next_up(least.y) : least.y};
}

IndexedBox BoxStore::at(std::size_t i) const {
    const Corner high = most(i);
    const std::int64_t id = ids_.empty() ? first_id_ + static_cast<std::int64_t>(i) : ids_[i];
    return {id, least_[i].x, high.x, least_[i].y, high.y};
}

void BoxStore::add(const IndexedBox& box) {
    const std::size_t count = least_.size();
    if (count == 0) {
        first_id_ = box.id;
    }
    if (ids_.empty() && box.id != first_id_ + static_cast<std::int64_t>(count)) {
        for (std::size_t i = 0; i < count; ++i) {
            ids_.push_back(first_id_ + static_cast<std::int64_t>(i));
        }
    }
    if (!ids_.empty() || (count > 0 && box.id != first_id_ + static_cast<std::int64_t>(count))) {
        ids_.push_back(box.id);
    }
    const bool point = is_point(box.min_x, box.max_x) && is_point(box.min_y, box.max_y);
    const bool all_points = point && most_.empty();
    if (!all_points && most_.empty()) {
        std::vector<Corner> corners;
        corners.reserve(least_.capacity());
        for (std::size_t i = 0; i < count; ++i) {
            corners.push_back(most(i));
        }
        most_ = std::move(corners);
        x_wider_ = {};
        y_wider_ = {};
    }
    least_.push_back({box.min_x, box.min_y});
    if (all_points) {
        x_wider_.push_back(box.max_x != box.min_x);
        y_wider_.push_back(box.max_y != box.min_y);
    } else {
        most_.push_back({box.max_x, box.max_y});
    }
}

std::vector<IndexedBox> BoxStore::take() {
    std::vector<IndexedBox> boxes(least_.size());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        boxes[i] = at(i);
    }
    *this = {};
    return boxes;
}

}  // namespace linewood
