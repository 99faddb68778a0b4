#include "src/report/worksheet_figures.hpp"

#include <cmath>

#include <fmt/format.h>

#include "src/report/section_drawing_parts.hpp"
#include "src/report/svg.hpp"

namespace linewood {
namespace {

constexpr std::string_view kSuperscript[] = {"\u2070",
                                             "\u00b9",
                                             "\u00b2",
                                             "\u00b3",
                                             "\u2074",
                                             "\u2075",
                                             "\u2076",
                                             "\u2077",
                                             "\u2078",
                                             "\u2079"};

std::string superscript(int v) {
    std::string out = v < 0 ? "\u207b" : "";
    for (const char c : std::to_string(std::abs(v))) {
        out += kSuperscript[c - '0'];
    }
    return out;
}

/// The limit a share of that name is asked against.
double limit_of(std::string_view name, const Criteria& criteria) {
    return name == "weakest_pct" ? criteria.weakest_strength_min : criteria.governing_strength_min;
}

std::string number_text(const Field& field, double v, const Criteria& criteria) {
    if (field.unit == "%") {
        return field.name == "area_pct" ? share_text(v / 100.0)
                                        : share_text(v / 100.0, limit_of(field.name, criteria));
    }
    if (field.unit == "deg") {
        return SheetFigures::degrees(v);
    }
    const double scale = field.unit == "mm" ? 10.0 : 100.0;
    return svg_number(std::round(v * scale) / scale) + " " + field.unit;
}

}  // namespace

std::string six_digits(double v) {
    constexpr double kRounding = 1e-12;  // what a sine leaves where it should be zero
    const std::string text = fmt::format("{:.6g}", std::abs(v) < kRounding ? 0.0 : v);
    const auto e = text.find('e');
    if (e == std::string::npos) {
        return text;
    }
    return text.substr(0, e) + " \u00d7 10" + superscript(std::stoi(text.substr(e + 1)));
}

std::string SheetFigures::girth(Maybe<Length> l) const {
    return l ? fmt::format("{} {}", figure_text(*l, units_), girth_unit(units_))
             : std::string{"not known"};
}

std::string SheetFigures::height(Length l) const {
    const double v = std::round(height_figure(l, units_) * 100.0) / 100.0;
    return fmt::format("{} {}", svg_number(v), height_unit(units_));
}

std::string SheetFigures::degrees(double v) {
    return svg_number(std::round(v * 10.0) / 10.0) + "\u00b0";
}

double SheetFigures::property(double si, int power) const {
    return si / std::pow(units_ == UnitSystem::us ? 0.0254 : 0.01, power);
}

std::string SheetFigures::property_text(double si, int power) const {
    return six_digits(property(si, power));
}

std::string SheetFigures::property_unit(int power) const {
    const std::string unit = units_ == UnitSystem::us ? "in" : "cm";
    return power == 1 ? unit : unit + superscript(power);
}

SheetCell SheetFigures::property_cell(double si, int power) const {
    return SheetCell::figure(property_text(si, power) + " " + property_unit(power),
                             Cell{property(si, power)});
}

SheetCell SheetFigures::girth_cell(Maybe<Length> l) const {
    SheetCell cell;
    cell.text = girth(l);
    if (l) {
        cell.value = girth_figure(*l, units_);
    }
    return cell;
}

SheetCell SheetFigures::column_cell(const Field& field,
                                    const Cell& cell,
                                    const Criteria& criteria) const {
    if (const auto* number = std::get_if<double>(&cell)) {
        return SheetCell::figure(number_text(field, *number, criteria), cell);
    }
    if (const auto* whole = std::get_if<std::int64_t>(&cell)) {
        return SheetCell::figure(std::to_string(*whole), cell);
    }
    if (const auto* flag = std::get_if<bool>(&cell)) {
        return SheetCell::figure(*flag ? "yes" : "no", cell);
    }
    if (const auto* date = std::get_if<Date>(&cell)) {
        return SheetCell::figure(date->to_string(), cell);
    }
    if (const auto* text = std::get_if<std::string>(&cell)) {
        std::string spaced = *text;
        for (std::size_t at = 0; (at = spaced.find(';', at)) != std::string::npos; at += 2) {
            spaced.insert(at + 1, " ");
        }
        return SheetCell::figure(std::move(spaced), cell);
    }
    return SheetCell::figure(std::string{kNoValue}, cell);
}

std::string words_of(std::string_view code) {
    std::string words{code};
    for (char& c : words) {
        c = c == '_' ? ' ' : c;
    }
    return words;
}

}  // namespace linewood
