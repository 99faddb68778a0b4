#include "src/clusters/cluster_fields.hpp"

#include <string>
#include <utility>

#include "src/pipeline/own_field.hpp"

namespace linewood {
namespace {

using own_field::count;
using own_field::flag;
using own_field::text;

Field number(std::string name, std::string meaning, std::string unit = "") {
    return own_field::number(std::move(name), std::move(unit), std::move(meaning));
}

void append(std::vector<Field>& to, std::vector<Field> more) {
    to.insert(to.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

/// How many of what, and the share with its interval.
std::vector<Field> rate_columns() {
    return {count("poles", "poles there, inspected or not"),
            count("inspected", "of them counted: inspected, with a verdict"),
            count("decayed", "of those decayed, as the run layer says what counts as decayed"),
            number("rate_pct", "decayed of inspected", "%"),
            number("rate_low_pct", "lower end of Wilson's 95 % interval of the rate", "%"),
            number("rate_high_pct", "upper end of it", "%")};
}

}  // namespace

std::vector<Field> cluster_fields() {
    std::vector<Field> f{
        text("cluster", "S1, S2 ... in circles; N1, N2 ... along the spans; most unusual first"),
        text("distance", "straight or network: how far is measured"),
        text("centre_pole", "pole in the middle of the window"),
        number("radius_m", "to the last pole, by that distance", "m")};
    append(f, rate_columns());
    append(f,
           {number("expected", "decayed poles expected by chance, within strata where given"),
            number("times_elsewhere", "decayed over expected, against the same outside"),
            number("llr", "log of the likelihood ratio"),
            number("p", "share of random labellings with a cluster as unusual anywhere"),
            flag("significant", "p is at most the level in the run layer"),
            count("near_limit", "members within 5 points of the strength limit"),
            text("caution", "what to mind about this cluster; null where nothing")});
    return f;
}

std::vector<Field> cluster_member_fields() {
    return {text("cluster", "the cluster"),
            text("pole_id", "an inspected pole of it"),
            number("distance_m", "from its centre", "m"),
            flag("decayed", "counts as decayed"),
            text("verdict", "of the pole"),
            number("remaining_pct", "remaining strength of the pole", "%")};
}

std::vector<Field> pole_score_fields() {
    return {
        text("pole_id", "an inspected pole"),
        flag("decayed", "counts as decayed"),
        text("stratum", "labels were permuted within it; null without strata"),
        count("neighbourhood", "poles looked at, itself among them"),
        count("decayed_near", "of them decayed"),
        number("expected_near", "of them decayed by chance"),
        number("decay_z", "standard score of that; null in too small a neighbourhood"),
        number("decay_p", "exact one-sided p; null in too small a neighbourhood"),
        number("decay_p_adjusted", "corrected for the number of tests"),
        text("decay_spot", "hot: more decayed around it than chance has; null else"),
        number("strength_z", "Gi* of remaining strength"),
        number(
            "strength_p",
            "two-sided p by the skewness of strengths (Pearson III), at least that of the normal "
            "distribution"),
        number("strength_p_adjusted", "corrected for the number of tests"),
        text("strength_spot", "low or high strength around it beyond chance; null else"),
        count("group", "number of its group in the groups layer; null in none")};
}

std::vector<Field> rate_fields() {
    std::vector<Field> f{text("kind", "hexagon, square, circuit or area (the user's)"),
                         text("name", "of a cell its row and column, the same in every run")};
    append(f, rate_columns());
    append(f,
           {number("smoothed_pct", "rate drawn towards the mean, the more the fewer poles", "%"),
            flag("thin", "too few inspected to say anything about this area")});
    return f;
}

std::vector<Field> group_fields() {
    std::vector<Field> f{count("group", "number"), text("name", "for talking about it")};
    append(f, rate_columns());
    append(f, {count("grouped", "decayed poles that make the group")});
    return f;
}

}  // namespace linewood
