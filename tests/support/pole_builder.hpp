#pragma once

#include <algorithm>
#include <cassert>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "assess/condition/condition_findings.hpp"
#include "assess/verdict/assessment.hpp"
#include "assess/wood/pole_class.hpp"
#include "tests/support/defect_builder.hpp"

namespace linewood::test {

/// What came of a case, with its doubts.
struct Assessed : PoleAssessment {
    Findings findings;

    std::string codes() const { return reasons.to_string(); }

    int count(const FindingKind& kind) const {
        return static_cast<int>(
            std::count_if(findings.begin(), findings.end(), [&](const Finding& f) {
                return f.code == kind.code;
            }));
    }
    bool doubts(const FindingKind& kind) const { return count(kind) > 0; }

    /// The section at a height in feet. @pre there is one
    const SectionCondition& section(double feet) const {
        const auto at = std::find_if(sections.begin(), sections.end(), [&](const auto& s) {
            return std::fabs(s.height.feet() - feet) < 1e-9;
        });
        assert(at != sections.end());
        return *at;
    }
    const SectionCondition& groundline() const { return section(0.0); }
    double governing() const {
        return sections.at(worst_section.value()).strengths.value().governing;
    }
    double weakest() const { return sections.at(worst_section.value()).strengths.value().weakest; }
};

/// One pole, its line and its visits, said in inches, feet and degrees. To begin with: a wood pole
/// of which nothing is known, tangent in a line that runs north, visited once on 2024-05-01 by a
/// method not recorded.
class PoleCase {
public:
    Pole pole;
    LineDirection line;
    std::vector<Inspection> visits{1};
    std::vector<Defect> defects;
    Criteria criteria;

    PoleCase() {
        line.axis = Axis::degrees(0.0);
        line.deflection = Angle::degrees(0.0);
        line.role = LineRole::tangent;
        line.source = LineSource::spans;
        visits.front().fid = 1;
        visits.front().inspected_on = day("2024-05-01");
    }

    // The pole.
    PoleCase& recorded(double inches) {
        pole.recorded_circumference = Length::inches(inches);
        return *this;
    }
    PoleCase& listed(std::string_view species, double length_ft, std::string_view pole_class) {
        pole.species = WoodTables::built_in().find_species(species).value_or(kNoSpecies);
        pole.length = Length::feet(length_ft);
        const auto c = parse_pole_class(pole_class);
        assert(c.has_value());
        pole.has_class = true;
        pole.pole_class = *c;
        return *this;
    }
    PoleCase& reinforced() {
        pole.reinforced = true;
        return *this;
    }
    PoleCase& axis(double degrees) {
        line.axis = Axis::degrees(degrees);
        return *this;
    }
    PoleCase& no_axis() {
        line = LineDirection{};
        return *this;
    }
    PoleCase& role(LineRole r) {
        line.role = r;
        return *this;
    }
    PoleCase& deflection(double degrees) {
        line.deflection = Angle::degrees(degrees);
        return *this;
    }

    // The visit named last.
    PoleCase& visit(std::string_view date) {
        visits.emplace_back();
        visits.back().fid = static_cast<std::int64_t>(visits.size());
        visits.back().inspected_on = day(date);
        return *this;
    }
    PoleCase& undated() {
        visits.back().inspected_on.reset();
        return *this;
    }
    PoleCase& day_unreadable() {
        visits.back().date_unreadable = true;
        return undated();
    }
    PoleCase& never_inspected() {
        visits.clear();
        return *this;
    }
    PoleCase& method(InspectionMethod m) {
        visits.back().method = m;
        return *this;
    }
    PoleCase& excavated() { return method(InspectionMethod::excavated); }
    PoleCase& original(double inches) {
        visits.back().original_circumference = Length::inches(inches);
        return *this;
    }
    PoleCase& measured_at(double feet) {
        visits.back().original_height = Length::feet(feet);
        return *this;
    }
    PoleCase& present(double inches) {
        visits.back().present_circumference = Length::inches(inches);
        return *this;
    }
    PoleCase& damage(AbovegroundDamage d) {
        visits.back().damage = d;
        return *this;
    }
    PoleCase& unsafe() {
        visits.back().climb_safe = Answer::no;
        return *this;
    }
    PoleCase& decay_below() {
        visits.back().decay_below_excavation = Answer::yes;
        return *this;
    }
    PoleCase& treated() {
        visits.back().treated = Answer::yes;
        return *this;
    }
    PoleCase& with(const DefectCase& d) {
        defects.push_back(d.defect());
        defects.back().fid = static_cast<std::int64_t>(defects.size());
        return *this;
    }

    Assessed assess() const {
        Assessed a;
        static_cast<PoleAssessment&>(a) = assess_pole(
            {pole, line, visits, defects}, WoodTables::built_in(), criteria, a.findings);
        return a;
    }
};

}  // namespace linewood::test
