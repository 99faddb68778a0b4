#include "geo/crs/layer_crs.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numbers>
#include <utility>

#include <proj.h>
#include <proj_experimental.h>  // proj_crs_demote_to_2D, where PROJ declares it to this day

namespace linewood {
namespace {

constexpr double kRadiansPerDegree = std::numbers::pi / 180.0;
constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();

struct ContextDeleter {
    void operator()(PJ_CONTEXT* c) const { proj_context_destroy(c); }
};
struct PjDeleter {
    void operator()(PJ* p) const { proj_destroy(p); }
};
using ContextPtr = std::unique_ptr<PJ_CONTEXT, ContextDeleter>;
using PjPtr = std::unique_ptr<PJ, PjDeleter>;

/// Takes PROJ's messages in place of its default of printing them; `app` is the text to fill.
void keep_message(void* app, int /*level*/, const char* message) {
    if (message != nullptr) {
        *static_cast<std::string*>(app) = message;
    }
}

[[noreturn]] void refuse(const std::string& what) {
    throw CrsError("coordinate system: " + what +
                   "; state the layer's coordinate system (for example EPSG:26915) or, for a plain "
                   "drawing plane, that it has none and its unit of length");
}

/// How a geographic system counts: what turns its numbers, in x = longitude and y = latitude order,
/// into degrees east of Greenwich and degrees north.
struct Counting {
    double x_degrees = 1.0;
    double y_degrees = 1.0;
    double meridian = 0.0;

    bool plain() const { return x_degrees == 1.0 && y_degrees == 1.0 && meridian == 0.0; }
};

/// The horizontal system inside compound, bound and 3D ones.
PjPtr horizontal_of(PJ_CONTEXT* context, PjPtr crs, bool unwrap_bound) {
    if (proj_get_type(crs.get()) == PJ_TYPE_COMPOUND_CRS) {
        if (PjPtr part{proj_crs_get_sub_crs(context, crs.get(), 0)}) {
            crs = std::move(part);
        }
    }
    if (unwrap_bound && proj_get_type(crs.get()) == PJ_TYPE_BOUND_CRS) {
        if (PjPtr inner{proj_get_source_crs(context, crs.get())}) {
            return horizontal_of(context, std::move(inner), unwrap_bound);
        }
    }
    if (PjPtr flat{proj_crs_demote_to_2D(context, nullptr, crs.get())}) {
        return flat;
    }
    return crs;
}

bool is_geographic(const PJ* crs) {
    const PJ_TYPE type = proj_get_type(crs);
    return type == PJ_TYPE_GEOGRAPHIC_2D_CRS || type == PJ_TYPE_GEOGRAPHIC_3D_CRS;
}

/// The true geographic system under a system; null where it has none.
PjPtr base_of(PJ_CONTEXT* context, const PJ* crs) {
    PjPtr base{proj_crs_get_geodetic_crs(context, crs)};
    while (base && is_geographic(base.get()) && proj_crs_is_derived(context, base.get()) != 0) {
        base.reset(proj_get_source_crs(context, base.get()));
    }
    if (!base || !is_geographic(base.get())) {
        return nullptr;
    }
    if (PjPtr flat{proj_crs_demote_to_2D(context, nullptr, base.get())}) {
        return flat;
    }
    return base;
}

enum class Heading : std::uint8_t { other, east, west, north, south };

struct CountedAxis {
    Heading heading = Heading::other;
    double factor = 1.0;  ///< radians or metres a unit
};

Heading heading_of(std::string_view direction) {
    constexpr std::array<std::pair<std::string_view, Heading>, 4> kHeadings{
        {{"east", Heading::east},
         {"west", Heading::west},
         {"north", Heading::north},
         {"south", Heading::south}}};
    for (const auto& [word, heading] : kHeadings) {
        if (direction == word) {
            return heading;
        }
    }
    return Heading::other;
}

CountedAxis axis_of(PJ_CONTEXT* context, const PJ* crs, int index) {
    CountedAxis axis;
    const PjPtr system{proj_crs_get_coordinate_system(context, crs)};
    const char* direction = nullptr;
    if (system &&
        proj_cs_get_axis_info(context,
                              system.get(),
                              index,
                              nullptr,
                              nullptr,
                              &direction,
                              &axis.factor,
                              nullptr,
                              nullptr,
                              nullptr) != 0 &&
        direction != nullptr) {
        axis.heading = heading_of(direction);
    }
    return axis;
}

double degrees_per_unit(const CountedAxis& axis) {
    const double degrees = axis.factor / kRadiansPerDegree;
    const bool backwards = axis.heading == Heading::west || axis.heading == Heading::south;
    return (backwards ? -1.0 : 1.0) * (std::abs(degrees - 1.0) < 1e-12 ? 1.0 : degrees);
}

Counting counting_of(PJ_CONTEXT* context, const PJ* base) {
    Counting counting;
    for (int index = 0; index < 2; ++index) {
        const CountedAxis axis = axis_of(context, base, index);
        const bool is_y = axis.heading == Heading::north || axis.heading == Heading::south;
        (is_y ? counting.y_degrees : counting.x_degrees) = degrees_per_unit(axis);
    }
    if (const PjPtr meridian{proj_get_prime_meridian(context, base)}) {
        double longitude = 0.0;
        double factor = 0.0;
        proj_prime_meridian_get_parameters(context, meridian.get(), &longitude, &factor, nullptr);
        counting.meridian = longitude == 0.0 ? 0.0 : longitude * factor / kRadiansPerDegree;
    }
    return counting;
}

Ground ground_of(PJ_CONTEXT* context, const PJ* base) {
    const PjPtr ellipsoid{proj_get_ellipsoid(context, base)};
    double major = 0.0;
    double minor = 0.0;
    double inverse_flattening = 0.0;
    if (!ellipsoid ||
        proj_ellipsoid_get_parameters(
            context, ellipsoid.get(), &major, &minor, nullptr, &inverse_flattening) == 0 ||
        !(major > 0.0) || inverse_flattening < 0.0) {
        refuse("its ellipsoid cannot be read");
    }
    return Ground::geodesic(major, inverse_flattening == 0.0 ? 0.0 : 1.0 / inverse_flattening);
}

std::string code_of(PJ_CONTEXT* context, const PJ* crs) {
    const char* authority = proj_get_id_auth_name(crs, 0);
    const char* code = proj_get_id_code(crs, 0);
    if (authority != nullptr && code != nullptr) {
        return std::string(authority) + ":" + code;
    }
    constexpr int kSameButForNames = 90;  // PROJ's scale of 0 to 100
    std::string found;
    int* confidence = nullptr;
    PJ_OBJ_LIST* list = proj_identify(context, crs, "EPSG", nullptr, &confidence);
    if (list != nullptr && proj_list_get_count(list) > 0 && confidence[0] >= kSameButForNames) {
        const PjPtr best{proj_list_get(context, list, 0)};
        const char* best_code = best ? proj_get_id_code(best.get(), 0) : nullptr;
        found = best_code != nullptr ? std::string("EPSG:") + best_code : std::string();
    }
    proj_int_list_destroy(confidence);
    proj_list_destroy(list);
    if (!found.empty()) {
        return found;
    }
    const char* name = proj_get_name(crs);
    return name != nullptr ? name : "";
}

/// The operation from `from` to `to`, both in x, y order; null where PROJ knows none.
PjPtr operation(PJ_CONTEXT* context, const PJ* from, const PJ* to) {
    const PjPtr raw{proj_create_crs_to_crs_from_pj(context, from, to, nullptr, nullptr)};
    return PjPtr{raw ? proj_normalize_for_visualization(context, raw.get()) : nullptr};
}

void carry(PJ* operation, PJ_DIRECTION direction, std::span<Point> points) {
    if (points.empty()) {
        return;
    }
    constexpr std::size_t kStride = sizeof(Point);
    proj_trans_generic(operation,
                       direction,
                       &points[0].x,
                       kStride,
                       points.size(),
                       &points[0].y,
                       kStride,
                       points.size(),
                       nullptr,
                       0,
                       0,
                       nullptr,
                       0,
                       0);
    for (Point& p : points) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y)) {
            p = {kNaN, kNaN};
        }
    }
}

}  // namespace

namespace {

/// Metres in the unit of a plane system's axes; refuses what is no plane.
double plane_unit_of(PJ_CONTEXT* context, const PJ* crs, const std::string& name) {
    const PjPtr system{proj_crs_get_coordinate_system(context, crs)};
    const double metres = axis_of(context, crs, 0).factor;
    if (!system || proj_cs_get_type(context, system.get()) != PJ_CS_TYPE_CARTESIAN ||
        !(metres > 0.0)) {
        refuse("\"" + name + "\" is a local system whose coordinates are no lengths in a plane");
    }
    return metres;
}

}  // namespace

struct LayerCrs::Inside {
    std::string message;  // outlives the context, which writes to it
    ContextPtr context;
    PjPtr crs;      // horizontal, with its own shift to WGS 84 where it has one
    PjPtr to_base;  // null where the layer's coordinates are longitude and latitude
    PjPtr to_wgs84;
    Counting base_counting;
    std::string name = "none";
    Ground ground = Ground::planar(1.0);
    bool geographic = false;
    bool local = false;
    double x_sign = 1.0;      // -1 where the axis east or west is counted west
    double y_sign = 1.0;      // -1 where the axis north or south is counted south
    bool x_is_north = false;  // x is counted south or north, y west or east (EPSG:5513)
    bool angular = false;     // coordinates are angles of a derived system (rotated pole)
};

LayerCrs::LayerCrs(std::unique_ptr<Inside> inside) : inside_{std::move(inside)} {}
LayerCrs::LayerCrs(LayerCrs&&) noexcept = default;
LayerCrs& LayerCrs::operator=(LayerCrs&&) noexcept = default;
LayerCrs::~LayerCrs() = default;

LayerCrs LayerCrs::none(double metres_per_unit) {
    auto in = std::make_unique<Inside>();
    in->ground = Ground::planar(metres_per_unit);
    return LayerCrs(std::move(in));
}

LayerCrs LayerCrs::from_wkt(std::string_view wkt) {
    auto in = std::make_unique<Inside>();
    in->context.reset(proj_context_create());
    PJ_CONTEXT* context = in->context.get();
    proj_log_func(context, &in->message, keep_message);
    proj_context_set_enable_network(context, 0);
    PjPtr whole{proj_create(context, std::string(wkt).c_str())};
    if (!whole) {
        refuse("the text is not understood (" + in->message + ")");
    }
    if (proj_is_crs(whole.get()) == 0) {
        refuse("the text describes something other than a coordinate system");
    }
    in->crs = horizontal_of(context, std::move(whole), false);
    const PjPtr plain = horizontal_of(context, PjPtr{proj_clone(context, in->crs.get())}, true);
    const PjPtr base = base_of(context, plain.get());
    in->name = code_of(context, plain.get());
    const PJ_TYPE type = proj_get_type(plain.get());
    if (type == PJ_TYPE_ENGINEERING_CRS) {
        LayerCrs plane = none(plane_unit_of(context, plain.get(), in->name));
        plane.inside_->name = in->name;
        plane.inside_->local = true;
        return plane;
    }
    if (type == PJ_TYPE_GEOCENTRIC_CRS) {
        throw GeocentricCrs{
            "the coordinate system \"" + in->name +
            "\" is geocentric: X, Y and Z count from the centre of the Earth, and X "
            "and Y alone are no map. Convert the layer to longitude and latitude "
            "or to a projected system (for example ogr2ogr -t_srs EPSG:4326) and "
            "run again"};
    }
    if (!base) {
        refuse("\"" + in->name + "\" has no longitude and latitude behind it");
    }
    in->ground = ground_of(context, base.get());
    in->base_counting = counting_of(context, base.get());
    in->angular = is_geographic(plain.get());
    in->geographic = in->angular && proj_crs_is_derived(context, plain.get()) == 0;
    if (in->geographic) {
        return LayerCrs(std::move(in));
    }
    in->to_base = operation(context, plain.get(), base.get());
    if (!in->to_base) {
        refuse("no way is known from \"" + in->name + "\" to longitude and latitude (" +
               in->message + ")");
    }
    // As x and y are counted: the authority's order is turned by PROJ, for northing before easting only.
    const PjPtr turned{proj_normalize_for_visualization(context, plain.get())};
    const PJ* counted = turned ? turned.get() : plain.get();
    const std::array<Heading, 2> axes{axis_of(context, counted, 0).heading,
                                      axis_of(context, counted, 1).heading};
    const auto counts = [&axes](Heading h) { return axes[0] == h || axes[1] == h; };
    // Polar systems name both axes "south" or "north", along two meridians: not a reversed count.
    const bool crossed = axes[0] != axes[1];
    in->x_sign = crossed && counts(Heading::west) ? -1.0 : 1.0;
    in->y_sign = crossed && counts(Heading::south) ? -1.0 : 1.0;
    in->x_is_north = crossed && (axes[0] == Heading::south || axes[0] == Heading::north);
    return LayerCrs(std::move(in));
}

bool LayerCrs::known() const { return inside_->crs != nullptr; }
bool LayerCrs::local() const { return inside_->local; }
bool LayerCrs::geographic() const { return inside_->geographic; }
const std::string& LayerCrs::name() const { return inside_->name; }
Ground LayerCrs::ground() const { return inside_->ground; }

void LayerCrs::to_ground(std::span<Point> points) const {
    if (!known()) {
        return;
    }
    if (inside_->to_base) {
        carry(inside_->to_base.get(), PJ_FWD, points);
    }
    const Counting& counting = inside_->base_counting;
    for (Point& p : points) {
        p = {p.x * counting.x_degrees + counting.meridian, p.y * counting.y_degrees};
        if (!(std::abs(p.x) <= 360.0 && std::abs(p.y) <= 90.0)) {
            p = {kNaN, kNaN};
        }
    }
}

Point LayerCrs::to_ground(Point at) const {
    to_ground(std::span<Point>(&at, 1));
    return at;
}

Point LayerCrs::from_ground(Point lonlat) const {
    if (!known()) {
        return lonlat;
    }
    if (!(std::abs(lonlat.x) <= 720.0 && std::abs(lonlat.y) <= 90.0)) {
        return {kNaN, kNaN};
    }
    const Counting& counting = inside_->base_counting;
    Point p{(lonlat.x - counting.meridian) / counting.x_degrees, lonlat.y / counting.y_degrees};
    if (inside_->to_base) {
        carry(inside_->to_base.get(), PJ_INV, std::span<Point>(&p, 1));
    }
    return p;
}

Angle LayerCrs::convergence(Point lonlat) const {
    if (!known() || geographic()) {
        return Angle{};
    }
    constexpr double kStep = 1e-4;  // degrees of latitude, 11 m
    const double south = std::max(-90.0, lonlat.y - kStep);
    const double north = std::min(90.0, lonlat.y + kStep);
    const Point a = from_ground({lonlat.x, south});
    const Point b = from_ground({lonlat.x, north});
    const bool swapped = inside_->x_is_north;
    double dx = (swapped ? b.y - a.y : b.x - a.x) * inside_->x_sign;
    const double dy = (swapped ? b.x - a.x : b.y - a.y) * inside_->y_sign;
    if (inside_->angular) {
        dx *= std::cos(0.5 * (a.y + b.y) * kRadiansPerDegree);
    }
    return Angle::radians(-std::atan2(dx, dy));
}

void LayerCrs::to_wgs84(std::span<Point> points) const {
    assert(known());
    PJ_CONTEXT* context = inside_->context.get();
    if (!inside_->to_wgs84) {
        const PjPtr wgs84{proj_create(context, "EPSG:4326")};
        inside_->to_wgs84 = wgs84 ? operation(context, inside_->crs.get(), wgs84.get()) : nullptr;
    }
    if (!inside_->to_wgs84) {
        refuse("no way is known from \"" + inside_->name + "\" to WGS 84 (" + inside_->message +
               ")");
    }
    carry(inside_->to_wgs84.get(), PJ_FWD, points);
}

}  // namespace linewood
