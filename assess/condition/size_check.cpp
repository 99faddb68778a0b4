#include "assess/condition/size_check.hpp"

#include "assess/condition/rounding.hpp"

namespace linewood {

/// @return false, so that a doubt can be told and answered in one.
bool SizeCheck::note(const FindingKind& kind,
                     InputLayer layer,
                     std::int64_t fid,
                     std::string_view field,
                     double value) {
    if (findings_ != nullptr) {
        findings_->push_back(make_finding(kind, layer, fid, field, plain_number(value)));
    }
    return false;
}

bool SizeCheck::girth_fits(Maybe<Length> girth,
                           InputLayer layer,
                           std::int64_t fid,
                           std::string_view field) {
    if (!girth ||
        (!is_above(in_.criteria.girth_low, *girth) && !is_above(*girth, in_.criteria.girth_high))) {
        return true;
    }
    return note(finding::kGirthDoubtful, layer, fid, field, girth->inches());
}

bool SizeCheck::height_fits(Length height,
                            InputLayer layer,
                            std::int64_t fid,
                            std::string_view field) {
    const bool over_tip = in_.ends.tip && is_above(height, *in_.ends.tip);
    const bool under_butt = in_.ends.butt && is_above(*in_.ends.butt, height);
    if (!over_tip && !under_butt) {
        return true;
    }
    return note(finding::kHeightBeyond, layer, fid, field, height.feet());
}

bool SizeCheck::visit_fits(const OriginalGirth& original) {
    const Inspection& visit = in_.visit.inspection;
    const auto layer = InputLayer::inspections;
    bool fits = girth_fits(visit.present_circumference, layer, visit.fid, "present_circumference");
    if (visit.original_circumference) {
        fits &=
            girth_fits(visit.original_circumference, layer, visit.fid, "original_circumference");
        fits &= height_fits(
            visit.original_height.value_or(Length{}), layer, visit.fid, "original_height");
    }
    const bool record_fits = girth_fits(
        in_.pole.recorded_circumference, InputLayer::poles, -1, "recorded_circumference");
    return fits && (record_fits || original.source != OriginalSource::recorded);
}

bool SizeCheck::defect_fits(std::size_t i) {
    const Defect& d = in_.defects[i];
    const bool height =
        height_fits(d.height.value_or(Length{}), InputLayer::defects, d.fid, "height");
    const bool girth =
        girth_fits(d.present_circumference, InputLayer::defects, d.fid, "present_circumference");
    return height && girth;
}

}  // namespace linewood
