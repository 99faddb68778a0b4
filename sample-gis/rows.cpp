#include "sample-gis/rows.hpp"

#include <array>
#include <charconv>
#include <optional>

namespace linewood::sample {
namespace {

using enum FieldType;

constexpr std::array<Field, 12> kPoleFields{{{"pole_id", text},
                                             {"species", text},
                                             {"pole_class", text},
                                             {"length", real},
                                             {"setting_depth", real},
                                             {"install_year", integer},
                                             {"circuit", text},
                                             {"material", text},
                                             {"reinforced", boolean},
                                             {"recorded_circumference", real},
                                             {"given_azimuth", real},
                                             {"given_role", text}}};
constexpr std::array<Field, 6> kSpanFields{{{"span_id", text},
                                            {"from_pole", text},
                                            {"to_pole", text},
                                            {"circuit", text},
                                            {"voltage_kv", real},
                                            {"kind", text}}};
constexpr std::array<Field, 11> kInspectionFields{{{"pole_id", text},
                                                   {"inspected_on", date},
                                                   {"method", text},
                                                   {"original_circumference", real},
                                                   {"original_height", real},
                                                   {"present_circumference", real},
                                                   {"climb_safe", boolean},
                                                   {"aboveground_damage", text},
                                                   {"decay_below_excavation", boolean},
                                                   {"treated", boolean},
                                                   {"notes", text}}};
constexpr std::array<Field, 15> kDefectFields{{{"pole_id", text},
                                               {"kind", text},
                                               {"inspected_on", date},
                                               {"height", real},
                                               {"azimuth", real},
                                               {"azimuth_ref", text},
                                               {"position", text},
                                               {"width", real},
                                               {"depth", real},
                                               {"extent", real},
                                               {"shell_thickness", real},
                                               {"bore_angle", real},
                                               {"bore_from", text},
                                               {"present_circumference", real},
                                               {"cause", text}}};

Value of(const std::string& s) { return s.empty() ? Value{} : Value{s}; }

template <typename T>
Value of(const std::optional<T>& v) {
    return v ? Value{*v} : Value{};
}

Value of_day(const std::optional<int>& day) { return day ? Value{Day{*day}} : Value{}; }

template <typename T>
std::string number(T v) {
    std::array<char, 32> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), v).ptr;
    return {buffer.data(), end};
}

std::string quoted(const std::string& s) {
    if (s.find_first_of(",\"\r\n") == std::string::npos) {
        return s;
    }
    std::string out = "\"";
    for (const char c : s) {
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    }
    return out + "\"";
}

struct AsText {
    std::string operator()(std::monostate /*none*/) const { return {}; }
    std::string operator()(const std::string& s) const { return quoted(s); }
    std::string operator()(double v) const { return number(v); }
    std::string operator()(int v) const { return number(v); }
    std::string operator()(bool v) const { return v ? "true" : "false"; }
    std::string operator()(Day d) const { return date_text(d.day); }
};

}  // namespace

std::span<const Field> pole_fields() { return kPoleFields; }
std::span<const Field> span_fields() { return kSpanFields; }
std::span<const Field> inspection_fields() { return kInspectionFields; }
std::span<const Field> defect_fields() { return kDefectFields; }

Row row_of(const Pole& p) {
    return {of(p.id),
            of(p.species),
            of(p.pole_class),
            of(p.length),
            of(p.setting_depth),
            of(p.install_year),
            of(p.circuit),
            of(p.material),
            of(p.reinforced),
            of(p.recorded_circumference),
            of(p.given_azimuth),
            of(p.given_role)};
}

Row row_of(const Span& s) {
    return {of(s.id), of(s.from), of(s.to), of(s.circuit), of(s.kv), of(s.kind)};
}

Row row_of(const Inspection& i) {
    return {of(i.pole_id),
            of_day(i.day),
            of(i.method),
            of(i.original_circumference),
            of(i.original_height),
            of(i.present_circumference),
            of(i.climb_safe),
            of(i.aboveground_damage),
            of(i.decay_below_excavation),
            of(i.treated),
            of(i.notes)};
}

Row row_of(const Defect& d) {
    return {of(d.pole_id),
            of(d.kind),
            of_day(d.day),
            of(d.height),
            of(d.azimuth),
            of(d.azimuth_ref),
            of(d.position),
            of(d.width),
            of(d.depth),
            of(d.extent),
            of(d.shell_thickness),
            of(d.bore_angle),
            of(d.bore_from),
            of(d.present_circumference),
            of(d.cause)};
}

std::string csv_header(std::span<const Field> fields) {
    std::string line;
    for (const Field& f : fields) {
        line += (line.empty() ? "" : ",") + std::string(f.name);
    }
    return line;
}

std::string csv_line(const Row& row) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) {
        line += i == 0 ? "" : ",";
        line += std::visit(AsText{}, row[i]);
    }
    return line;
}

}  // namespace linewood::sample
