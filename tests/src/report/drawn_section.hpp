#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <vector>

#include "assess/verdict/assessment.hpp"
#include "src/report/section_drawing.hpp"

namespace linewood::test {

/// One pole with what was found at its groundline, built up and assessed as the tool does it.
/// Lengths in inches, directions in degrees.
class DrawnSection {
public:
    DrawnSection(std::optional<double> original, std::optional<double> present) {
        if (original) {
            visit_.original_circumference = Length::inches(*original);
        }
        if (present) {
            visit_.present_circumference = Length::inches(*present);
        }
    }

    DrawnSection& pocket(std::optional<double> azimuth, double width, double depth) {
        Defect d = at(azimuth);
        d.kind = DefectKind::external_pocket;
        d.width = Length::inches(width);
        d.depth = Length::inches(depth);
        if (!azimuth) {
            placed_.push_back(pockets_);
        }
        ++pockets_;
        return add(d);
    }
    DrawnSection& bore(std::optional<double> azimuth, double shell) {
        Defect d = at(azimuth);
        d.kind = DefectKind::internal_rot;
        d.shell_thickness = Length::inches(shell);
        all_round_ = all_round_ || !azimuth;
        return add(d);
    }
    DrawnSection& sound(double azimuth) {
        Defect d = at(azimuth);
        d.kind = DefectKind::bore;
        return add(d);
    }
    DrawnSection& line(double azimuth, LineRole role = LineRole::tangent) {
        line_.axis = Axis::degrees(azimuth);
        line_.role = role;
        line_.source = LineSource::given;
        return *this;
    }
    DrawnSection& titled(std::string title) {
        title_ = std::move(title);
        return *this;
    }
    DrawnSection& units(UnitSystem units) {
        units_ = units;
        return *this;
    }

    PoleAssessment assessment() const {
        Findings findings;
        return assess_pole(
            {Pole{}, line_, {&visit_, 1}, defects_}, WoodTables::built_in(), criteria_, findings);
    }
    SectionCondition condition() const { return assessment().sections.front(); }
    const LineDirection& direction() const { return line_; }
    const Criteria& criteria() const { return criteria_; }

    std::string drawing() const {
        const PoleAssessment a = assessment();
        SectionDrawingInput in{a.sections.front(), line_, criteria_};
        in.units = units_;
        in.title = title_;
        in.subtitle = std::string{name_of(a.verdict)};
        in.placed_pockets = placed_;
        in.shell_all_round = all_round_;
        return section_drawing(in);
    }

private:
    static Defect at(std::optional<double> azimuth) {
        Defect d;
        if (azimuth) {
            d.azimuth = Bearing::degrees(*azimuth);
        }
        return d;
    }
    DrawnSection& add(const Defect& d) {
        defects_.push_back(d);
        return *this;
    }

    Inspection visit_;
    std::vector<Defect> defects_;
    LineDirection line_;
    Criteria criteria_;
    UnitSystem units_ = UnitSystem::us;
    std::string title_ = "Section";
    std::vector<std::size_t> placed_;
    std::size_t pockets_ = 0;
    bool all_round_ = false;
};

}  // namespace linewood::test
