#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "assess/condition/sectors.hpp"
#include "assess/section/moments.hpp"
#include "src/report/worksheet_parts.hpp"

namespace linewood {
namespace {

constexpr double kPi = std::numbers::pi;

/// The section reworked by a closed form, in inches or centimetres.
class HandCheck {
public:
    HandCheck(const WorksheetInput& in, std::size_t i)
        : in_{in},
          f_{in.run.job.units},
          t_{in.trace.sections[i]},
          w_{*t_.worked},
          radius_{f_.property(w_.shape.radius.metres(), 1)},
          c_{f_.property(t_.survey.present->metres(), 1)},
          c0_{f_.property(t_.survey.original->metres(), 1)} {}

    void add_to(SheetPart& part) {
        if (!(radius_ > 0.0) || !(w_.figures.area > 0.0)) {
            return;
        }
        const auto& pockets = w_.shape.pockets;
        const bool cut = std::any_of(pockets.begin(), pockets.end(), [](const Pocket& p) {
            return p.width > Length{} && p.depth > Length{};
        });
        const bool even =
            std::all_of(w_.shape.shell.begin(), w_.shape.shell.end(), [&](const ShellReading& r) {
                return r.thickness == w_.shape.shell.front().thickness;
            });
        if (!cut && even) {
            add_round();
        } else if (pockets.size() == 1 && w_.shape.shell.empty() &&
                   pockets.front().depth < w_.shape.radius) {
            add_pocket(pockets.front());
        } else {
            part.items.emplace_back(
                SheetText{"By hand: no closed form for this section. A, c and J above are exact "
                          "integrals; e, k, p and S follow from them with a calculator."});
            return;
        }
        part.items.emplace_back(SheetTable{"hand_check",
                                           "By hand, with a calculator",
                                           {{"quantity", "Quantity"},
                                            {"formula", "Formula"},
                                            {"figures", "Figures"},
                                            {"result", "Result"}},
                                           std::move(rows_)});
    }

private:
    void add(std::string quantity, std::string formula, std::string figures, SheetCell result) {
        rows_.push_back({SheetCell::words(std::move(quantity)),
                         SheetCell::words(std::move(formula)),
                         SheetCell::words(std::move(figures)),
                         std::move(result)});
    }
    SheetCell result(double v, int power) const {
        return SheetCell::figure(six_digits(v) + " " + f_.property_unit(power), Cell{v});
    }
    static SheetCell share(double v) {
        return SheetCell::figure(six_digits(100.0 * v) + " %", Cell{percent_figure(v)});
    }

    /// No pocket; a void of even shell, if any.
    void add_round() {
        const double girths = std::pow(c_ / c0_, 3.0);
        const double shell =
            w_.shape.shell.empty()
                ? radius_
                : std::min(radius_, f_.property(w_.shape.shell.front().thickness.metres(), 1));
        if (shell >= radius_) {
            add("S / S0",
                "(C / C0)³",
                fmt::format("({} / {})³", six_digits(c_), six_digits(c0_)),
                share(girths));
            return;
        }
        const double hollow = 1.0 - std::pow(1.0 - shell / radius_, 4.0);
        add("S / S0",
            "(C / C0)³ (1 − (1 − t/R)⁴)",
            fmt::format("({} / {})³ × (1 − (1 − {}/{})⁴)",
                        six_digits(c_),
                        six_digits(c0_),
                        six_digits(shell),
                        six_digits(radius_)),
            share(girths * hollow));
    }

    /// A strip of half-width h from the centre out to the circle of radius r, as text.
    void add_strip(const char* name, double r, double h, const polar::Moments& m) {
        const std::string of = fmt::format("r = {}, h = {}", six_digits(r), six_digits(h));
        const std::string suffix = name;
        add("G0" + suffix, "h √(r² − h²) + r² asin(h/r)", of, result(m.area, 2));
        add("G1" + suffix, "h (r² − h²/3)", of, result(m.x, 3));
        add("Gn" + suffix, "(h √(r² − h²) (5r² − 2h²) + 3 r⁴ asin(h/r)) / 12", of, result(m.xx, 4));
        add("Gt" + suffix, "(h √(r² − h²) (2h² − r²) + r⁴ asin(h/r)) / 4", of, result(m.yy, 4));
    }

    /// One pocket and no void, in the pocket's own axes: n outward, t square to it.
    void add_pocket(const Pocket& p) {
        const double bottom = radius_ - f_.property(p.depth.metres(), 1);
        const double h = std::min(radius_, f_.property(p.width.metres(), 1) / 2.0);
        const double hb = std::min(h, bottom);
        const polar::Moments outer = polar::under_strip(radius_, h);
        const polar::Moments inner = polar::under_strip(bottom, hb);
        add_strip(" to the surface", radius_, h, outer);
        add_strip(" to the bottom", bottom, hb, inner);
        const double disc = kPi * radius_ * radius_;
        const double quarter = disc * radius_ * radius_ / 4.0;
        const double area = disc - outer.area + inner.area;
        const double centroid = (inner.x - outer.x) / area;
        const double jn = quarter - outer.xx + inner.xx - area * centroid * centroid;
        const double jt = quarter - outer.yy + inner.yy;
        add("A",
            "π R² − G0 to the surface + G0 to the bottom",
            fmt::format(
                "{} − {} + {}", six_digits(disc), six_digits(outer.area), six_digits(inner.area)),
            result(area, 2));
        add("cn",
            "(G1 to the bottom − G1 to the surface) / A",
            fmt::format(
                "({} − {}) / {}", six_digits(inner.x), six_digits(outer.x), six_digits(area)),
            result(centroid, 1));
        add("Jn",
            "π R⁴/4 − Gn to the surface + Gn to the bottom − A cn²",
            fmt::format("{} − {} + {} − {} × {}²",
                        six_digits(quarter),
                        six_digits(outer.xx),
                        six_digits(inner.xx),
                        six_digits(area),
                        six_digits(centroid)),
            result(jn, 4));
        add("Jt",
            "π R⁴/4 − Gt to the surface + Gt to the bottom",
            fmt::format(
                "{} − {} + {}", six_digits(quarter), six_digits(outer.yy), six_digits(inner.yy)),
            result(jt, 4));
        add_governing(p, centroid, jn, jt);
    }

    void add_governing(const Pocket& p, double centroid, double jn, double jt) {
        const bool across = transverse_governs(in_.file.line, in_.run.job.criteria);
        const WorkedDirection& d = across ? *w_.transverse : w_.weakest;
        const double turn = d.load.radians() - p.azimuth.radians();
        const double kn = std::cos(turn) / jn;
        const double kt = std::sin(turn) / jt;
        const double x = f_.property(d.fibre.x, 1);
        const double y = f_.property(d.fibre.y, 1);
        const double sin = std::sin(p.azimuth.radians());
        const double cos = std::cos(p.azimuth.radians());
        const double pn = x * sin + y * cos;
        const double pt = x * cos - y * sin;
        const double modulus = 1.0 / std::abs(kn * (pn - centroid) + kt * pt);
        const double sound = std::pow(c0_, 3.0) / (32.0 * kPi * kPi);
        add("β",
            across ? "azimuth across the line − azimuth of the pocket"
                   : "azimuth of the weakest direction − azimuth of the pocket",
            fmt::format("{} − {}", f_.degrees(d.load.degrees()), f_.degrees(p.azimuth.degrees())),
            SheetCell::figure(six_digits(turn * 180.0 / kPi) + "°", Cell{turn * 180.0 / kPi}));
        add("pn, pt",
            "the extreme fibre p above, in the pocket's axes",
            fmt::format("({}, {})", six_digits(pn), six_digits(pt)),
            SheetCell::words(""));
        add("S",
            "1 / |cos β / Jn × (pn − cn) + sin β / Jt × pt|",
            fmt::format("1 / |{} / {} × ({} − {}) + {} / {} × {}|",
                        six_digits(std::cos(turn)),
                        six_digits(jn),
                        six_digits(pn),
                        six_digits(centroid),
                        six_digits(std::sin(turn)),
                        six_digits(jt),
                        six_digits(pt)),
            result(modulus, 3));
        add("S / S0",
            "S0 = C0³ / (32 π²)",
            six_digits(modulus) + " / " + six_digits(sound),
            share(modulus / sound));
    }

    const WorksheetInput& in_;
    SheetFigures f_;
    const SectionTrace& t_;
    const WorkedShape& w_;
    double radius_;
    double c_;
    double c0_;
    std::vector<std::vector<SheetCell>> rows_;
};

}  // namespace

void add_hand_check(const WorksheetInput& in, std::size_t i, SheetPart& part) {
    HandCheck{in, i}.add_to(part);
}

}  // namespace linewood
