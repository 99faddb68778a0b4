#pragma once

#include <cstdint>
#include <random>
#include <string>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {

/// A seeded source of poles as inspectors might record them, most of them with gaps. The same seed
/// gives the same poles everywhere: only the engine's raw words are used.
class PoleSource {
public:
    explicit PoleSource(unsigned seed) : engine_{seed} {}

    /// In [from, to).
    double between(double from, double to) {
        return from + (to - from) * (static_cast<double>(engine_()) / 4294967296.0);
    }
    int whole(int from, int to) {
        return from + static_cast<int>(engine_() % static_cast<unsigned>(to - from + 1));
    }
    bool one_in(int n) { return whole(1, n) == 1; }

    DefectCase defect() {
        DefectCase d{static_cast<DefectKind>(whole(0, 3))};
        d.cause(static_cast<DefectCause>(whole(0, 7)));
        d.at(one_in(2) ? 0.0 : between(-3, 25));
        if (!one_in(4)) {
            d.toward(between(0, 360));
        }
        if (one_in(4)) {
            d.position(static_cast<FacePosition>(whole(1, 3)));
        }
        if (one_in(3)) {
            d.extent(between(1, 20));
        }
        const DefectKind kind = d.defect().kind;
        if (kind == DefectKind::internal_rot && !one_in(8)) {
            d.shell(between(1.5, 5));
        }
        const bool cut =
            kind == DefectKind::external_pocket || (kind == DefectKind::shell_rot && one_in(2));
        if (cut && !one_in(8)) {
            d.width(between(0.5, 5));
        }
        if ((cut || (kind == DefectKind::shell_rot && one_in(2))) && !one_in(8)) {
            d.depth(between(0.1, kind == DefectKind::shell_rot ? 0.6 : 3.0));
        }
        if (kind == DefectKind::shell_rot && one_in(2)) {
            d.girth(between(36, 44));
        }
        return d;
    }

    PoleCase pole() {
        PoleCase c;
        c.axis(between(0, 180));
        c.role(static_cast<LineRole>(whole(0, 3)));
        c.deflection(between(0, 60));
        if (one_in(2)) {
            c.listed("southern_pine", 45, "2");
        }
        if (one_in(6)) {
            c.reinforced();
        }
        if (!one_in(4)) {
            c.original(between(41, 46));
        }
        if (!one_in(4)) {
            c.present(between(37, 44));
        }
        c.method(static_cast<InspectionMethod>(whole(0, 4)));
        c.damage(static_cast<AbovegroundDamage>(one_in(12) ? 3 : whole(0, 2)));
        if (one_in(12)) {
            c.unsafe();
        }
        if (one_in(12)) {
            c.decay_below();
        }
        for (int i = whole(0, 5); i > 0; --i) {
            c.with(defect());
        }
        return c;
    }

private:
    std::mt19937 engine_;
};

/// What a case is, for the message of a failed test.
inline std::string describe(const PoleCase& c) {
    std::string text = "axis " + std::to_string(c.line.axis.value_or(Axis{}).degrees()) + " role " +
                       std::to_string(static_cast<int>(c.line.role));
    const Inspection& v = c.visits.back();
    text += " C0 " + std::to_string(v.original_circumference.value_or(Length{}).inches());
    text += " C " + std::to_string(v.present_circumference.value_or(Length{}).inches());
    for (const Defect& d : c.defects) {
        text += "; kind " + std::to_string(static_cast<int>(d.kind));
        text += " at " + std::to_string(d.height.value_or(Length{}).feet()) + " ft";
        text += d.azimuth ? " toward " + std::to_string(d.azimuth->degrees()) : std::string{};
        text += " position " + std::to_string(static_cast<int>(d.position));
        text += " w " + std::to_string(d.width.value_or(Length{}).inches());
        text += " d " + std::to_string(d.depth.value_or(Length{}).inches());
        text += " t " + std::to_string(d.shell_thickness.value_or(Length{}).inches());
        text += " c " + std::to_string(d.present_circumference.value_or(Length{}).inches());
    }
    return text;
}

}  // namespace linewood::test
