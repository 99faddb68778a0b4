#include "geo/io/box_store.h"

#include <cmath>
#include <limits>
#include <utility>

#include "assess/record/release.hpp"

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

void BoxStore::add_id(std::int64_t id) {
    const std::size_t row = least_.size();
    if (id_runs_.empty() || id_runs_.back().id_of(row) != id) {
        id_runs_.push_back({row, id});
    }
}

void BoxStore::add(const IndexedBox& box) {
    const std::size_t count = least_.size();
    add_id(box.id);
    const bool point = is_point(box.min_x, box.max_x) && is_point(box.min_y, box.max_y);
    const bool all_points = point && most_.empty();
    if (!all_points && most_.empty()) {
        std::vector<Corner> corners;
        corners.reserve(least_.capacity());
        for (std::size_t i = 0; i < count; ++i) {
            corners.push_back(most(i));
        }
        most_ = std::move(corners);
        release(x_wider_);
        release(y_wider_);
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
    for (std::size_t run = 0; run < id_runs_.size(); ++run) {
        const std::size_t end = run + 1 < id_runs_.size() ? id_runs_[run + 1].begin : boxes.size();
        for (std::size_t i = id_runs_[run].begin; i < end; ++i) {
            const Corner least = least_[i];
            const Corner high = most(i);
            boxes[i] = {id_runs_[run].id_of(i), least.x, high.x, least.y, high.y};
        }
    }
    *this = {};
    return boxes;
}

}  // namespace linewood
