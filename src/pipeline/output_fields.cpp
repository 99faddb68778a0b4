#include "src/pipeline/output_fields.hpp"

#include <iterator>
#include <string>
#include <utility>

namespace linewood {
namespace {

Field text(std::string name, std::string meaning) {
    Field f;
    f.name = std::move(name);
    f.meaning = std::move(meaning);
    return f;
}

Field number(std::string name, std::string_view unit, std::string meaning) {
    Field f = text(std::move(name), std::move(meaning));
    f.type = FieldType::real;
    f.unit = unit;
    return f;
}

Field typed(FieldType type, std::string name, std::string meaning) {
    Field f = text(std::move(name), std::move(meaning));
    f.type = type;
    return f;
}

constexpr std::string_view kDegrees = "deg";
constexpr std::string_view kPercent = "%";

}  // namespace

std::vector<Field> line_fields() {
    return {
        number("line_azimuth", kDegrees, "axis of the line at the pole, true, in [0, 180)"),
        text("line_role", "tangent, angle, dead_end, junction or isolated"),
        number("line_deflection", kDegrees, "line angle at the pole, 0 = straight on"),
        text("line_source", "where the direction came from: spans, given, nearest_line or none"),
        text("line_quality",
             "sure, fair or weak: line_azimuth may be wrong by up to 2, up to 10, over 10 degrees; "
             "null without one"),
        text("line_quality_reason", "code of what that rests on, or what weighs most against it"),
    };
}

std::vector<Field> pole_fields(UnitSystem units) {
    const auto girth = girth_unit(units);
    std::vector<Field> fields = line_fields();
    std::vector<Field> assessed{
        number("original_circumference", girth, "girth of the sound pole at the groundline"),
        text("original_source", "measured, recorded, tables, present or measured_above"),
        number("remaining_pct",
               kPercent,
               "governing remaining bending strength of the worst section, share of sound"),
        number("transverse_pct", kPercent, "the same under load across the line"),
        number("longitudinal_pct", kPercent, "the same under load along the line"),
        number("weakest_pct", kPercent, "the same in the weakest direction"),
        number("weakest_azimuth",
               kDegrees,
               "weakest load direction, true, in [0, 180); null where all are alike"),
        number("section_height", height_unit(units), "height of the worst section over groundline"),
        number("shell_min",
               girth,
               "least effective shell at internal rot and behind wide pockets, all sections"),
        typed(FieldType::integer, "sections", "number of sections assessed"),
        text("verdict", "replace, stub, unassessed, treat or serviceable"),
        text("urgency", "now, soon or routine; null where unassessed"),
        text("reasons", "codes of every limit that failed and rule that spoke, separated by ;"),
        typed(FieldType::date, "inspected_on", "date of the inspection that was assessed"),
    };
    fields.insert(fields.end(),
                  std::make_move_iterator(assessed.begin()),
                  std::make_move_iterator(assessed.end()));
    return fields;
}

std::vector<Field> joined_span_fields() {
    return {
        text("from_pole", "pole the span starts from; null where no pole was found"),
        text("to_pole", "pole the span ends at; null where no pole was found"),
        number("span_azimuth", kDegrees, "true azimuth in which the span leaves from_pole"),
        number("span_length_m", "m", "geodesic length along the path drawn"),
    };
}

std::vector<Field> span_fields() {
    std::vector<Field> fields = joined_span_fields();
    fields.push_back(text("worst_verdict", "the worse verdict of its two poles"));
    return fields;
}

Field pole_id_field() { return text("pole_id", "the pole"); }

std::vector<Field> defect_fields(UnitSystem units) {
    return {
        number("azimuth_true", kDegrees, "recorded azimuth turned to true north"),
        text("position_derived", "in_line, out_of_line or oblique, from azimuth and line axis"),
        number("shell_effective",
               girth_unit(units),
               "effective shell at the bore, or what is left behind the pocket"),
    };
}

std::vector<Field> section_fields(UnitSystem units) {
    const auto girth = girth_unit(units);
    return {
        text("pole_id", "the pole"),
        number("height", height_unit(units), "over the groundline, down negative"),
        number("original_circumference", girth, "girth of the sound pole here"),
        number("present_circumference", girth, "girth now, after shell rot is removed"),
        number("area_pct", kPercent, "area that remains, share of sound"),
        number("transverse_pct", kPercent, "remaining strength, load across the line"),
        number("longitudinal_pct", kPercent, "remaining strength, load along the line"),
        number("weakest_pct", kPercent, "remaining strength in the weakest direction"),
        number("weakest_azimuth", kDegrees, "weakest load direction, true, in [0, 180)"),
        number("governing_pct", kPercent, "the strength that the limit is asked of"),
        number("shell_min", girth, "least effective shell of the section"),
        typed(FieldType::integer, "pieces", "pieces the section has fallen into; 1 = whole"),
        typed(FieldType::boolean, "passes", "meets every limit; null where something is missing"),
        text("reasons", "codes of the limits that failed and of what is missing"),
    };
}

std::vector<Field> finding_fields() {
    return {
        text("severity", "error, warning or note"),
        text("code", "kind of doubt"),
        text("layer", "input layer"),
        text("feature", "its id, else its FID; null where it is about the layer"),
        text("field", "column"),
        text("value", "as recorded"),
        text("message", "what is doubtful and what was done about it"),
    };
}

std::vector<Field> run_fields() {
    return {
        text("item", "what the row states"),
        text("layer", "of which layer; null where it is about the run"),
        text("value", "the statement"),
    };
}

}  // namespace linewood
