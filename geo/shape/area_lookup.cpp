#include "geo/shape/area_lookup.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "geo/shape/geos_shape.h"

namespace linewood {

class AreaLookup::Impl {
public:
    explicit Impl(const std::vector<Polygons>& areas)
        : tree_{GEOSSTRtree_create_r(geos_.context(), kNodeSize), Geos::Free{geos_.context()}},
          numbers_(areas.size()) {
        for (std::uint32_t i = 0; i < areas.size(); ++i) {
            numbers_[i] = i;
            shapes_.push_back(geos_.area(areas[i]));
            prepared_.emplace_back(GEOSPrepare_r(geos_.context(), shapes_.back().get()),
                                   Geos::Free{geos_.context()});
            if (!areas[i].empty()) {
                GEOSSTRtree_insert_r(
                    geos_.context(), tree_.get(), shapes_.back().get(), &numbers_[i]);
            }
        }
    }

    std::vector<std::uint32_t> areas_at(Point at) const {
        std::vector<std::uint32_t> found;
        if (!std::isfinite(at.x) || !std::isfinite(at.y) || shapes_.empty()) {
            return found;
        }
        const auto point = geos_.point(at);
        GEOSSTRtree_query_r(
            geos_.context(),
            tree_.get(),
            point.get(),
            [](void* item, void* list) {
                static_cast<std::vector<std::uint32_t>*>(list)->push_back(
                    *static_cast<std::uint32_t*>(item));
            },
            &found);
        found.erase(std::remove_if(found.begin(),
                                   found.end(),
                                   [&](std::uint32_t i) {
                                       return GEOSPreparedCovers_r(geos_.context(),
                                                                   prepared_[i].get(),
                                                                   point.get()) != 1;
                                   }),
                    found.end());
        std::sort(found.begin(), found.end());
        return found;
    }

private:
    static constexpr std::size_t kNodeSize = 10;

    Geos geos_;
    Geos::Tree tree_;
    std::vector<std::uint32_t> numbers_;
    std::vector<Geos::Shape> shapes_;
    std::vector<Geos::Prepared> prepared_;
};

AreaLookup::AreaLookup(const std::vector<Polygons>& areas) : impl_{std::make_unique<Impl>(areas)} {}
AreaLookup::~AreaLookup() = default;

std::vector<std::uint32_t> AreaLookup::areas_at(Point at) const { return impl_->areas_at(at); }

}  // namespace linewood
