#pragma once

#include <cassert>
#include <optional>
#include <string_view>

#include "assess/record/defect.hpp"

namespace linewood::test {

/// A day as `YYYY-MM-DD`. @pre it is one
inline Date day(std::string_view text) {
    const std::optional<Date> date = Date::parse(text);
    assert(date.has_value());
    return *date;
}

/// A defect as an inspector would note it: inches, feet over the groundline, degrees true.
class DefectCase {
public:
    explicit DefectCase(DefectKind kind) { defect_.kind = kind; }

    DefectCase& at(double feet) { return set(defect_.height, Length::feet(feet)); }
    DefectCase& at_inches(double inches) { return set(defect_.height, Length::inches(inches)); }
    DefectCase& toward(double degrees) { return set(defect_.azimuth, Bearing::degrees(degrees)); }
    DefectCase& position(FacePosition p) { return set(defect_.position, p); }
    DefectCase& width(double inches) { return set(defect_.width, Length::inches(inches)); }
    DefectCase& depth(double inches) { return set(defect_.depth, Length::inches(inches)); }
    DefectCase& extent(double inches) { return set(defect_.extent, Length::inches(inches)); }
    DefectCase& shell(double inches) {
        return set(defect_.shell_thickness, Length::inches(inches));
    }
    DefectCase& girth(double inches) {
        return set(defect_.present_circumference, Length::inches(inches));
    }
    DefectCase& bored_at(double degrees) {
        return set(defect_.bore_angle, Angle::degrees(degrees));
    }
    DefectCase& from_pocket() { return set(defect_.bore_from, BoreFrom::pocket); }
    DefectCase& cause(DefectCause c) { return set(defect_.cause, c); }
    DefectCase& on(std::string_view date) { return set(defect_.inspected_on, day(date)); }

    const Defect& defect() const { return defect_; }

private:
    template <typename Field, typename Value>
    DefectCase& set(Field& field, Value value) {
        field = value;
        return *this;
    }

    Defect defect_;
};

inline DefectCase pocket() { return DefectCase{DefectKind::external_pocket}; }
inline DefectCase pocket(double width_in, double depth_in) {
    return pocket().width(width_in).depth(depth_in);
}
/// Of a cause that is no decay.
inline DefectCase sound_pocket(double width_in, double depth_in) {
    return pocket(width_in, depth_in).cause(DefectCause::mechanical);
}
inline DefectCase rot() { return DefectCase{DefectKind::internal_rot}; }
inline DefectCase rot(double shell_in) { return rot().shell(shell_in); }
inline DefectCase shell_rot() { return DefectCase{DefectKind::shell_rot}; }
inline DefectCase sound_bore() { return DefectCase{DefectKind::bore}; }

}  // namespace linewood::test
