#pragma once

#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include "tests/support/survey.hpp"

namespace linewood::testing {

/// Adds a pole and the visit and defects that give it the verdict of the letter: `r`eplace, `s`tub, `t`reat,
/// `u`nassessed, any other serviceable.
inline void add_worked_pole(Survey& s, std::string_view id, double x, double y, char verdict) {
    s.add_pole(id, x, y);
    if (verdict == 'u') {
        return;
    }
    s.add_visit(id,
                "2024-05-01",
                {{"method", "excavated"},
                 {"original_circumference", 40.0},
                 {"present_circumference", 40.0}});
    if (verdict == 't') {
        s.add_defect(id, "internal_rot", {{"height", 0.0}, {"shell_thickness", 3.5}});
    } else if (verdict == 's') {
        s.add_defect(id, "internal_rot", {{"height", 0.0}, {"shell_thickness", 1.0}});
        s.add_defect(id, "bore", {{"height", 2.0}});
    } else if (verdict == 'r') {
        s.add_defect(id, "internal_rot", {{"height", 6.0}, {"shell_thickness", 0.75}});
    }
}

/// A straight line of poles going north 50 m apart in a plane without a coordinate system, a verdict each:
/// `P01`, `P02`, ... behind the prefix, one span a pair.
inline void add_worked_line(Survey& s,
                            const std::string& prefix,
                            double x,
                            std::string_view verdicts,
                            const std::string& circuit = "north") {
    for (std::size_t i = 0; i < verdicts.size(); ++i) {
        const std::string number = (i < 9 ? "0" : "") + std::to_string(i + 1);
        const double y = 50.0 * static_cast<double>(i);
        add_worked_pole(s, prefix + number, x, y, verdicts[i]);
        if (i > 0) {
            s.add_span({{x, y - 50.0}, {x, y}}, {{"circuit", circuit}});
        }
    }
}

/// Writes a costs file: 1000 a mobilisation, 4000 a kilometre, 3000 a replacement, 800 a stub.
inline void write_costs(const std::filesystem::path& path, const std::string& more = "") {
    std::ofstream{path} << R"({"currency": "coins", "mobilisation": 1000, "per_km": 4000,
        "prices": [{"verdict": "replace", "cost": 3000, "crew_days": 1},
                   {"verdict": "stub", "cost": 800, "crew_days": 0.5}])"
                        << more << "}\n";
}

}  // namespace linewood::testing
