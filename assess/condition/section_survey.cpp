#include "assess/condition/section_survey.hpp"

#include <algorithm>
#include <numbers>
#include <utility>

#include "assess/condition/bore_survey.hpp"
#include "assess/condition/condition_findings.hpp"
#include "assess/condition/rounding.hpp"
#include "assess/condition/section_groups.hpp"
#include "assess/condition/size_check.hpp"

namespace linewood {
namespace {

constexpr double kTwoPi = 2.0 * std::numbers::pi;

/// A present girth of more than so many times the original one is a slip of unit or of pole: centimetres for inches are
/// 2.54, a girth for a diameter 3.14; the classes of one length lie within 2.3. Own choice, no source.
constexpr double kMostGrowth = 1.5;

/// What the defects of one section say of its girth.
struct GirthRecord {
    Maybe<Length> measured;   ///< the least girth given
    Maybe<Length> rot_depth;  ///< the greatest shell rot given all round
    bool shell_rot = false;   ///< shell rot all round is recorded
};

bool is_partial_shell_rot(const Defect& d) {
    return d.kind == DefectKind::shell_rot && d.width.has_value();
}

Maybe<Length> least(Maybe<Length> a, Maybe<Length> b) {
    if (!a || !b) {
        return a ? a : b;
    }
    return std::min(*a, *b);
}

Maybe<Length> greatest(Maybe<Length> a, Maybe<Length> b) {
    if (!a || !b) {
        return a ? a : b;
    }
    return std::max(*a, *b);
}

/// Wood that was certainly there once: the original girth is at least that.
void raise_original(SurveyedSection& s, Length least, OriginalBasis basis) {
    if (!s.original || *s.original < least) {
        s.original = least;
        s.original_basis = basis;
    }
}

/// The survey of one visit, section by section.
class Survey {
public:
    Survey(const SurveyInput& in, OriginalGirth& original, Findings* findings)
        : in_{in}, original_{original}, findings_{findings}, sizes_{in, findings} {}

    std::vector<SurveyedSection> run();

private:
    SurveyedSection begin_section(const SectionGroup& group);
    void settle_groundline(SurveyedSection& s);
    void settle_elsewhere(SurveyedSection& s, const SurveyedSection& groundline);
    void settle_bounds(SurveyedSection& s, const GirthRecord& girth, Maybe<Length> original);
    void take_defects(SurveyedSection& s);
    void take_pocket(SurveyedSection& s, std::size_t i);
    void note_original_below(Length present);
    bool has_grown(const SurveyedSection& s, Length present, Length original);
    GirthRecord girth_record(const SurveyedSection& s) const;
    void note(const FindingKind& kind, std::size_t defect, std::string_view field, double value);

    const SurveyInput& in_;
    OriginalGirth& original_;
    Findings* findings_;
    SizeCheck sizes_;
};

void Survey::note(const FindingKind& kind,
                  std::size_t defect,
                  std::string_view field,
                  double value) {
    if (findings_ != nullptr) {
        findings_->push_back(make_finding(
            kind, InputLayer::defects, in_.defects[defect].fid, field, plain_number(value)));
    }
}

/// A record that says the pole was once slimmer than it is now.
void Survey::note_original_below(Length present) {
    const bool measured = original_.source == OriginalSource::measured;
    const bool from_record = measured || original_.source == OriginalSource::recorded;
    if (findings_ == nullptr || !from_record ||
        present <= *original_.groundline * (1.0 + in_.criteria.limit_tolerance)) {
        return;
    }
    findings_->push_back(
        make_finding(finding::kOriginalBelow,
                     measured ? InputLayer::inspections : InputLayer::poles,
                     measured ? in_.visit.inspection.fid : -1,
                     measured ? "original_circumference" : "recorded_circumference",
                     plain_number(original_.groundline->inches())));
}

/// Is the girth of a section far above the original one there? A finding where it was recorded.
bool Survey::has_grown(const SurveyedSection& s, Length present, Length original) {
    if (original.metres() <= 0.0 || !is_above(present, original * kMostGrowth)) {
        return false;
    }
    const Inspection& visit = in_.visit.inspection;
    const bool of_visit = s.height == Length{} && visit.present_circumference &&
                          *visit.present_circumference == present;
    const auto defect = std::find_if(s.defects.begin(), s.defects.end(), [&](std::size_t i) {
        return in_.defects[i].present_circumference &&
               *in_.defects[i].present_circumference == present;
    });
    const bool told =
        is_above(present, in_.criteria.girth_high) || is_above(in_.criteria.girth_low, original);
    if (findings_ != nullptr && !told) {
        const bool of_defect = !of_visit && defect != s.defects.end();
        Finding f = make_finding(finding::kGirthDoubtful,
                                 of_defect ? InputLayer::defects : InputLayer::inspections,
                                 of_defect ? in_.defects[*defect].fid : visit.fid,
                                 "present_circumference",
                                 plain_number(present.inches()));
        f.message += " (over 1.5 times the original girth there, " +
                     plain_number(original.inches()) + " in; nothing passes on it)";
        findings_->push_back(std::move(f));
    }
    return true;
}

GirthRecord Survey::girth_record(const SurveyedSection& s) const {
    GirthRecord g;
    for (const std::size_t i : s.defects) {
        const Defect& d = in_.defects[i];
        g.measured = least(g.measured, d.present_circumference);
        if (d.kind == DefectKind::shell_rot && !is_partial_shell_rot(d)) {
            g.shell_rot = true;
            g.rot_depth = greatest(g.rot_depth, d.depth);
        }
    }
    return g;
}

SurveyedSection Survey::begin_section(const SectionGroup& group) {
    SurveyedSection s;
    s.height = group.height;
    s.defects = group.defects;
    for (const std::size_t i : s.defects) {
        s.decay = s.decay || is_decay(in_.defects[i]);
        s.impossible |= !sizes_.defect_fits(i);
        s.missing.add_if(in_.defects[i].unreadable, Reason::value_unreadable);
    }
    return s;
}

/// Fills both girths of a section from what was recorded there and the original girth carried to it.
void Survey::settle_bounds(SurveyedSection& s, const GirthRecord& girth, Maybe<Length> original) {
    s.original_known = original.has_value();
    s.original = original;
    s.original_brought = original;
    s.girth_measured = girth.measured;
    s.rot_depth = girth.rot_depth;
    s.present = girth.measured;
    s.impossible |= girth.measured && original && has_grown(s, *girth.measured, *original);
    if (girth.measured && girth.rot_depth) {
        // The girth was taken after the rot came off: the wood was there once.
        raise_original(s, *girth.measured + kTwoPi * *girth.rot_depth, OriginalBasis::before_rot);
    } else if (!girth.measured && girth.rot_depth && original) {
        s.present = std::max(Length{}, *original - kTwoPi * *girth.rot_depth);
    }
    s.present_known = s.present.has_value();
    if (s.present) {
        s.present_basis = girth.measured ? PresentBasis::measured : PresentBasis::less_rot;
        raise_original(s, *s.present, OriginalBasis::present_stands);
    } else {
        s.present = s.original;
    }
    if (!girth.measured && girth.rot_depth && s.present && *s.present == Length{}) {
        s.impossible = true;
        note(finding::kNoWoodLeft, s.defects.front(), "depth", girth.rot_depth->inches());
    }
}

void Survey::settle_groundline(SurveyedSection& s) {
    const Inspection& visit = in_.visit.inspection;
    GirthRecord girth = girth_record(s);
    girth.measured = least(girth.measured, visit.present_circumference);
    s.impossible |= !sizes_.visit_fits(original_);
    if (!original_.groundline && in_.criteria.present_stands_for_original && girth.measured) {
        original_.groundline = girth.measured;
        original_.source = OriginalSource::present;
    }
    if (girth.measured) {
        note_original_below(*girth.measured);
    }
    s.original_basis = original_.groundline ? OriginalBasis::groundline : OriginalBasis::unknown;
    settle_bounds(s, girth, original_.groundline);
    const bool bored =
        visit.method == InspectionMethod::bore || visit.method == InspectionMethod::excavated;
    const bool rot_recorded =
        std::any_of(in_.visit.defects.begin(), in_.visit.defects.end(), [&](std::size_t i) {
            return in_.defects[i].kind == DefectKind::shell_rot;
        });
    const bool original_stands = bored && !rot_recorded;
    if (!s.present_known && original_stands && s.original_known) {
        s.present_known = true;
        s.present_basis = PresentBasis::original_stands;
    }
    s.missing.add_if(!s.present_known && !original_stands, Reason::present_circumference_missing);
    s.missing.add_if(!s.original_known, Reason::original_circumference_missing);
    if (s.original_known) {
        original_.groundline = s.original;
    }
}

void Survey::settle_elsewhere(SurveyedSection& s, const SurveyedSection& groundline) {
    const GirthRecord girth = girth_record(s);
    Maybe<Length> original;
    if (original_.groundline) {
        original = original_.carried_to(s.height, *original_.groundline);
        const bool carried = original_.carries_to(s.height, *original_.groundline);
        s.original_basis = carried ? OriginalBasis::carried : OriginalBasis::uncarried;
        if (!carried && findings_ != nullptr) {
            findings_->push_back(make_finding(finding::kNoTaper, InputLayer::poles, -1, "", ""));
        }
    }
    settle_bounds(s, girth, original);
    if (!s.present_known && s.height <= Length{} && groundline.present && groundline.original &&
        groundline.original->metres() > 0.0) {
        // At or below the groundline the girth has shrunk as the groundline's has.
        if (s.original) {
            s.present = *s.original * (*groundline.present / *groundline.original);
        }
        s.present_known = groundline.present_known && s.original_known;
        s.present_basis = s.present_known ? PresentBasis::as_groundline : PresentBasis::unknown;
    } else if (!s.present_known && s.height > Length{} && !girth.shell_rot) {
        s.present_known = s.original_known;
        s.present_basis = s.present_known ? PresentBasis::original_stands : PresentBasis::unknown;
    }
    s.missing.add_if(!s.present_known && s.original_known, Reason::present_circumference_missing);
    s.missing.add_if(!s.original_known, Reason::original_circumference_missing);
}

void Survey::take_pocket(SurveyedSection& s, std::size_t i) {
    const Defect& d = in_.defects[i];
    if (!d.width || !d.depth) {
        s.missing.add(Reason::pocket_size_missing);
        return;
    }
    SurveyedPocket p;
    p.defect = i;
    p.width = *d.width;
    p.depth = *d.depth;
    p.azimuth = d.azimuth;
    p.position = d.position;
    if (s.present) {
        const Length diameter = *s.present / std::numbers::pi;
        p.local = d.extent.has_value() && *d.extent < diameter;
        if (is_above(p.depth, diameter / 2.0)) {
            s.impossible = true;
            note(finding::kPocketDeep, i, "depth", p.depth.inches());
        }
        if (is_above(p.width, diameter)) {
            s.impossible = true;
            note(finding::kPocketWide, i, "width", p.width.inches());
        }
    }
    s.pockets.push_back(p);
}

void Survey::take_defects(SurveyedSection& s) {
    for (const std::size_t i : s.defects) {
        const Defect& d = in_.defects[i];
        const bool partial = is_partial_shell_rot(d) && (d.depth || !d.present_circumference);
        if (d.kind == DefectKind::external_pocket || partial) {
            take_pocket(s, i);
        }
    }
    survey_bores(in_, s, findings_);
    if (s.original_known && s.present_known && s.original->metres() > 0.0) {
        const double ratio = *s.present / *s.original;
        s.decay = s.decay || !in_.criteria.meets(ratio, in_.criteria.decay_girth_ratio);
    }
}

std::vector<SurveyedSection> Survey::run() {
    const auto groups = group_by_height(in_.defects, in_.visit.defects, in_.criteria.section_reach);
    std::vector<SurveyedSection> sections;
    sections.reserve(groups.size());
    std::size_t at_groundline = 0;
    for (const SectionGroup& g : groups) {
        if (g.height == Length{}) {
            at_groundline = sections.size();
        }
        sections.push_back(begin_section(g));
    }
    settle_groundline(sections[at_groundline]);
    for (std::size_t i = 0; i < sections.size(); ++i) {
        if (i != at_groundline) {
            settle_elsewhere(sections[i], sections[at_groundline]);
        }
        take_defects(sections[i]);
    }
    sections[at_groundline].missing.add_if(in_.visit.inspection.unreadable || in_.pole.unreadable,
                                           Reason::value_unreadable);
    return sections;
}

}  // namespace

bool is_decay(const Defect& d) {
    switch (d.kind) {
        case DefectKind::shell_rot:
        case DefectKind::internal_rot:
            return true;
        case DefectKind::external_pocket:
            return d.cause == DefectCause::decay || d.cause == DefectCause::insect ||
                   d.cause == DefectCause::not_recorded;
        case DefectKind::bore:
            return false;
    }
    return false;
}

bool SurveyedSection::has_internal_rot() const {
    return std::any_of(bores.begin(), bores.end(), [](const SurveyedBore& b) { return !b.sound; });
}

std::vector<SurveyedSection> survey_sections(const SurveyInput& in,
                                             OriginalGirth& original,
                                             Findings* findings) {
    return Survey{in, original, findings}.run();
}

}  // namespace linewood
