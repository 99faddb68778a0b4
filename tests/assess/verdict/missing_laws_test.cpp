// "Missing data never turns a failure into a pass or into `unassessed`, and never gives a pass": on
// random poles, with one measurement after another taken away.

#include <algorithm>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/pole_source.hpp"

namespace linewood::test {
namespace {

constexpr int kTries = 250;

bool passes(Verdict v) { return v == Verdict::treat || v == Verdict::serviceable; }
bool fails(Verdict v) { return v == Verdict::replace || v == Verdict::stub; }

struct Removal {
    std::string what;
    PoleCase without;
};

template <typename Quantity>
void remove(const PoleCase& c,
            Maybe<Quantity> Defect::*field,
            const char* what,
            std::vector<Removal>& all) {
    for (std::size_t i = 0; i < c.defects.size(); ++i) {
        if (c.defects[i].*field) {
            all.push_back({what + std::string{" of "} + std::to_string(i), c});
            all.back().without.defects[i].*field = {};
        }
    }
}

/// Each case with one measurement less. Left out are those whose absence the contract reads as a
/// statement: a height (the groundline), a bore angle (effective already), shell rot's width (all
/// round) and depth and girth (each stands for the other).
std::vector<Removal> with_one_less(const PoleCase& c) {
    std::vector<Removal> all;
    remove(c, &Defect::azimuth, "azimuth", all);
    remove(c, &Defect::extent, "extent", all);
    remove(c, &Defect::shell_thickness, "shell", all);
    for (std::size_t i = 0; i < c.defects.size(); ++i) {
        if (c.defects[i].kind == DefectKind::external_pocket) {
            all.push_back({"width of " + std::to_string(i), c});
            all.back().without.defects[i].width = {};
            all.push_back({"depth of " + std::to_string(i), c});
            all.back().without.defects[i].depth = {};
        }
        all.push_back({"cause of " + std::to_string(i), c});
        all.back().without.defects[i].cause = DefectCause::not_recorded;
    }
    all.push_back({"axis", c});
    all.back().without.line.axis = {};
    all.push_back({"deflection", c});
    all.back().without.line.deflection = {};
    all.push_back({"method", c});
    all.back().without.visits.front().method = InspectionMethod::not_recorded;
    return all;
}

TEST(missing_laws, it_never_gives_a_pass) {
    PoleSource source{21};
    for (int i = 0; i < kTries; ++i) {
        const PoleCase c = source.pole();
        if (passes(c.assess().verdict)) {
            continue;
        }
        SCOPED_TRACE(describe(c));
        for (const Removal& r : with_one_less(c)) {
            ASSERT_FALSE(passes(r.without.assess().verdict)) << r.what;
        }
    }
}

/// A pole without a class, so that no table steps in for a measured original girth.
PoleCase pole_without_tables(PoleSource& source) {
    PoleCase c = source.pole();
    c.pole.has_class = false;
    return c;
}

TEST(missing_laws, girths_never_give_a_pass) {
    PoleSource source{22};
    for (int i = 0; i < kTries; ++i) {
        const PoleCase c = pole_without_tables(source);
        SCOPED_TRACE(describe(c));
        PoleCase without_original = c;
        without_original.visits.front().original_circumference = {};
        ASSERT_FALSE(passes(without_original.assess().verdict));
        PoleCase without_present = c;
        without_present.visits.front().present_circumference = {};
        without_present.visits.front().method = InspectionMethod::hammer;
        // A defect's own girth, or shell rot's depth all round, tells the present girth as well.
        const bool told_by_defect =
            std::any_of(c.defects.begin(), c.defects.end(), [](const Defect& d) {
                return d.present_circumference ||
                       (d.kind == DefectKind::shell_rot && d.depth && !d.width);
            });
        if (!told_by_defect) {
            ASSERT_FALSE(passes(without_present.assess().verdict));
        }
    }
}

/// A thin shell anywhere, or a deep pocket at the groundline, where either girth bounds the other.
PoleCase failing(PoleSource& source) {
    PoleCase c = pole_without_tables(source);
    c.pole.reinforced = false;
    if (source.one_in(2)) {
        const double height = source.one_in(2) ? 0 : source.between(3, 25);
        c.with(rot(source.between(0.2, 1.9)).at(height).toward(source.between(0, 360)));
    } else {
        c.with(pocket(9, 6));
    }
    return c;
}

TEST(missing_laws, girths_never_undo_a_failure_that_does_not_rest_on_them) {
    PoleSource source{23};
    for (int i = 0; i < kTries; ++i) {
        PoleCase c = failing(source);
        c.original(44);
        SCOPED_TRACE(describe(c));
        ASSERT_TRUE(fails(c.assess().verdict));
        PoleCase without = c;
        without.visits.front().present_circumference = {};
        ASSERT_TRUE(fails(without.assess().verdict)) << "present";
        without = c;
        without.present(40).visits.front().original_circumference = {};
        ASSERT_TRUE(fails(without.assess().verdict)) << "original";
    }
}

TEST(missing_laws, another_defects_sizes_never_undo_a_failure) {
    PoleSource source{24};
    for (int i = 0; i < kTries; ++i) {
        PoleCase c = failing(source);
        c.original(44);
        SCOPED_TRACE(describe(c));
        for (const bool width : {true, false}) {
            PoleCase without = c;
            for (std::size_t d = 0; d + 1 < c.defects.size(); ++d) {
                (width ? without.defects[d].width : without.defects[d].depth) = {};
                without.defects[d].shell_thickness = {};
            }
            ASSERT_TRUE(fails(without.assess().verdict));
        }
    }
}

/// What is taken away says where a defect is, how long it is or what governs: never less severe.
TEST(missing_laws, place_extent_cause_and_line_never_undo_a_failure) {
    PoleSource source{25};
    for (int i = 0; i < kTries / 4; ++i) {
        const PoleCase c = failing(source).original(44);
        SCOPED_TRACE(describe(c));
        for (const Removal& r : with_one_less(c)) {
            if (r.what.rfind("azimuth", 0) == 0 || r.what.rfind("extent", 0) == 0 ||
                r.what.rfind("cause", 0) == 0 || r.what == "axis" || r.what == "deflection") {
                ASSERT_TRUE(fails(r.without.assess().verdict)) << r.what;
            }
        }
    }
}

/// A measured section stays as it is when a girth is taken away from another.
TEST(missing_laws, a_failure_at_one_height_stands_whatever_is_missing_at_another) {
    PoleSource source{26};
    for (int i = 0; i < kTries; ++i) {
        PoleCase c = failing(source);
        c.original(44);
        c.with(pocket().at(30)).with(rot().at(31)).with(shell_rot().at(32));
        ASSERT_TRUE(fails(c.assess().verdict)) << describe(c);
    }
}

}  // namespace
}  // namespace linewood::test
