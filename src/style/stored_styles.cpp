#include "src/style/stored_styles.hpp"

#include <algorithm>
#include <string>

#include "src/style/qml_style.hpp"
#include "src/style/sld_style.hpp"

namespace linewood {
namespace {

bool has_column(const LayerPlan& plan, std::string_view name) {
    return std::any_of(plan.added.begin(),
                       plan.added.end(),
                       [&](const Field& f) { return f.name == name; }) ||
           std::any_of(plan.carried.begin(), plan.carried.end(), [&](const CarriedColumn& c) {
               return c.name == name;
           });
}

bool is_drawn_as(StyleGeometry drawn, GeometryKind kind) {
    switch (kind) {
        case GeometryKind::point:
            return drawn == StyleGeometry::point;
        case GeometryKind::line:
            return drawn == StyleGeometry::line;
        case GeometryKind::polygon:
            return drawn == StyleGeometry::area;
        case GeometryKind::mixed:  // clients take the features that fit
            return true;
        case GeometryKind::none:
            break;
    }
    return false;
}

bool can_draw(const LayerStyle& style, const LayerPlan& plan) {
    const GeometryType& geometry = plan.in_place ? plan.source.geometry : plan.geometry;
    if (!is_drawn_as(style.geometry, geometry.kind) ||
        (!style.rotate_by.empty() && !has_column(plan, style.rotate_by))) {
        return false;
    }
    for (const auto* list : {&style.classes, &style.over}) {
        for (const StyleClass& c : *list) {
            if (!has_column(plan, c.field)) {
                return false;
            }
        }
    }
    return true;
}

}  // namespace

std::vector<StoredStyle> stored_styles(std::string_view role, const LayerPlan& plan) {
    return stored_styles(shipped_styles(), role, plan);
}

std::vector<StoredStyle> stored_styles(const StyleSheet& sheet,
                                       std::string_view role,
                                       const LayerPlan& plan) {
    std::vector<StoredStyle> out;
    for (const LayerStyle* style : sheet.of_layer(role)) {
        if (can_draw(*style, plan)) {
            out.push_back({style->name,
                           qml_style(*style),
                           sld_style(*style, SldVersion::sld_1_0, plan.name),
                           style->title + ". " + style->note,
                           style->is_default});
        }
    }
    return out;
}

}  // namespace linewood
