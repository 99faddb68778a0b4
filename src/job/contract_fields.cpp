#include "src/job/contract_fields.hpp"

#include <algorithm>

namespace linewood {
namespace {

constexpr std::string_view kMaterials[] = {"wood", "steel", "concrete", "composite", "aluminium"};
constexpr std::string_view kRoles[] = {"tangent", "angle", "dead_end", "junction", "isolated"};
constexpr std::string_view kSpanKinds[] = {"line", "service", "guy"};
constexpr std::string_view kMethods[] = {"visual", "hammer", "bore", "excavated"};
constexpr std::string_view kDamages[] = {"none", "minor", "extensive"};
constexpr std::string_view kDefectKinds[] = {
    "external_pocket", "internal_rot", "shell_rot", "bore"};
constexpr std::string_view kRefs[] = {"true", "magnetic", "grid", "clock"};
constexpr std::string_view kPositions[] = {"in_line", "out_of_line", "oblique"};
constexpr std::string_view kBoreFroms[] = {"surface", "pocket"};
constexpr std::string_view kCauses[] = {
    "decay", "insect", "mechanical", "woodpecker", "fire", "check", "bolt_hole"};

using Q = Quantity;
constexpr InputLayer kP = InputLayer::poles;
constexpr InputLayer kS = InputLayer::spans;
constexpr InputLayer kI = InputLayer::inspections;
constexpr InputLayer kD = InputLayer::defects;

constexpr ContractField kPoles[] = {
    {kP, "pole_id", Q::text, "", "id of the pole, unique", {}, false, true},
    {kP, "species", Q::text, "", "species of the wood"},
    {kP, "pole_class", Q::text, "", "H6 to H1, 1 to 7, 9, 10"},
    {kP, "length", Q::length, "ft", "length of the pole"},
    {kP, "setting_depth", Q::length, "ft", "from the butt to the groundline"},
    {kP, "install_year", Q::number, "", "year the pole was set", {}, false, false, true},
    {kP, "circuit", Q::text, "", "circuit the pole carries"},
    {kP, "material", Q::code, "", "material of the pole; none stated = wood", kMaterials, true},
    {kP, "reinforced", Q::boolean, "", "a reinforcement is at the pole already"},
    {kP,
     "recorded_circumference",
     Q::girth,
     "in",
     "original girth at the groundline, from the records"},
    {kP,
     "given_azimuth",
     Q::angle,
     "deg",
     "axis of the line at the pole, true; overrides the derived one",
     {},
     false,
     false,
     false,
     true},
    {kP, "given_role", Q::code, "", "role in the line; overrides the derived one", kRoles},
    {kP,
     "station",
     Q::number,
     "",
     "a number that rises ahead along the line",
     {},
     false,
     false,
     false,
     true},
};

constexpr ContractField kSpans[] = {
    {kS, "span_id", Q::text, "", "id of the span or route"},
    {kS, "from_pole", Q::text, "", "pole it is said to start from"},
    {kS, "to_pole", Q::text, "", "pole it is said to end at"},
    {kS, "circuit", Q::text, "", "circuit it belongs to"},
    {kS, "voltage_kv", Q::number, "kV", "nominal voltage"},
    {kS, "kind", Q::code, "", "line, service or guy; none stated = line", kSpanKinds},
};

constexpr ContractField kInspections[] = {
    {kI, "pole_id", Q::text, "", "the pole", {}, false, true},
    {kI, "inspected_on", Q::date, "", "day of the inspection"},
    {kI, "method", Q::code, "", "the most done: visual, hammer, bore or excavated", kMethods},
    {kI, "original_circumference", Q::girth, "in", "girth measured on sound wood"},
    {kI,
     "original_height",
     Q::length,
     "ft",
     "where that was measured, over the groundline",
     {},
     false,
     false,
     false,
     true},
    {kI,
     "present_circumference",
     Q::girth,
     "in",
     "girth at the groundline now, after shell rot is removed"},
    {kI, "climb_safe", Q::boolean, "", "found safe to climb"},
    {kI, "aboveground_damage", Q::code, "", "none, minor or extensive", kDamages},
    {kI, "decay_below_excavation", Q::boolean, "", "decay goes on below what was dug up"},
    {kI, "treated", Q::boolean, "", "remedial treatment was done at this visit"},
    {kI, "notes", Q::text, "", "remarks"},
};

constexpr ContractField kDefects[] = {
    {kD, "pole_id", Q::text, "", "the pole", {}, false, true},
    {kD,
     "kind",
     Q::code,
     "",
     "external_pocket, internal_rot, shell_rot or bore (found sound)",
     kDefectKinds,
     false,
     true},
    {kD, "inspected_on", Q::date, "", "day it was found"},
    {kD,
     "height",
     Q::length,
     "ft",
     "over the groundline, down negative",
     {},
     false,
     false,
     false,
     true},
    {kD,
     "azimuth",
     Q::azimuth,
     "deg",
     "direction of the defect as azimuth_ref counts it; clock in hours",
     {},
     false,
     false,
     false,
     true},
    {kD, "azimuth_ref", Q::code, "", "true, magnetic, grid or clock", kRefs},
    {kD, "position", Q::code, "", "in_line, out_of_line or oblique, as written down", kPositions},
    {kD, "width", Q::length, "in", "of a pocket, straight across its mouth"},
    {kD, "depth", Q::length, "in", "greatest depth from the present surface"},
    {kD, "extent", Q::length, "in", "vertical extent"},
    {kD,
     "shell_thickness",
     Q::length,
     "in",
     "sound wood outside internal rot, as read along the bore"},
    {kD,
     "bore_angle",
     Q::angle,
     "deg",
     "between the bore and the horizontal",
     {},
     false,
     false,
     false,
     true},
    {kD, "bore_from", Q::code, "", "surface or pocket", kBoreFroms},
    {kD,
     "present_circumference",
     Q::girth,
     "in",
     "girth at this height now, after shell rot is removed"},
    {kD,
     "cause",
     Q::code,
     "",
     "decay, insect, mechanical, woodpecker, fire, check or bolt_hole",
     kCauses},
};

// Exact: the international inch and foot.
constexpr NamedUnit kLengths[] = {
    {"in", 0.0254}, {"ft", 0.3048}, {"mm", 0.001}, {"cm", 0.01}, {"m", 1.0}};
constexpr NamedUnit kAngles[] = {{"deg", 1.0}};
constexpr NamedUnit kAzimuths[] = {{"deg", 1.0}, {"h", 1.0}};

}  // namespace

bool is_dimension(Quantity q) { return !units_of(q).empty(); }

std::span<const ContractField> input_fields(InputLayer layer) {
    switch (layer) {
        case InputLayer::poles:
            return kPoles;
        case InputLayer::spans:
            return kSpans;
        case InputLayer::inspections:
            return kInspections;
        case InputLayer::defects:
            return kDefects;
    }
    return {};
}

const ContractField* contract_field(InputLayer layer, std::string_view name) {
    for (const ContractField& field : input_fields(layer)) {
        if (field.name == name) {
            return &field;
        }
    }
    return nullptr;
}

std::vector<std::string_view> contract_field_names(InputLayer layer) {
    std::vector<std::string_view> names;
    for (const ContractField& field : input_fields(layer)) {
        names.push_back(field.name);
    }
    return names;
}

std::span<const NamedUnit> units_of(Quantity q) {
    switch (q) {
        case Quantity::girth:
        case Quantity::length:
            return kLengths;
        case Quantity::angle:
            return kAngles;
        case Quantity::azimuth:
            return kAzimuths;
        default:
            return {};
    }
}

}  // namespace linewood
