#include "assess/condition/original_girth.hpp"

#include "assess/condition/condition_findings.hpp"
#include "assess/wood/pole_class.hpp"

namespace linewood {
namespace {

void note_table_gap(const Pole& pole, const TableLookup& lookup, Findings* findings) {
    if (findings == nullptr) {
        return;
    }
    if (lookup.answer == TableAnswer::no_row) {
        findings->push_back(make_finding(finding::kNoTableLength,
                                         InputLayer::poles,
                                         -1,
                                         "length",
                                         plain_number(pole.length.value().feet())));
    } else if (lookup.answer == TableAnswer::no_cell) {
        findings->push_back(make_finding(finding::kNoTableClass,
                                         InputLayer::poles,
                                         -1,
                                         "pole_class",
                                         std::string{name_of(pole.pole_class)}));
    }
}

void take_measured(const Inspection& inspection, Findings* findings, OriginalGirth& original) {
    const Length girth = *inspection.original_circumference;
    const Length height = inspection.original_height.value_or(Length{});
    original.source = OriginalSource::measured;
    original.groundline = girth;
    if (height == Length{}) {
        return;
    }
    const Maybe<Length> carried =
        original.taper ? original.taper->carry(girth, height, Length{}) : Maybe<Length>{};
    if (carried) {
        original.groundline = carried;
        return;
    }
    original.source = OriginalSource::measured_above;
    if (findings != nullptr) {
        findings->push_back(make_finding(finding::kNoTaper,
                                         InputLayer::inspections,
                                         inspection.fid,
                                         "original_height",
                                         plain_number(height.feet())));
    }
}

}  // namespace

std::string_view name_of(OriginalSource s) {
    switch (s) {
        case OriginalSource::none:
            return "";
        case OriginalSource::measured:
            return "measured";
        case OriginalSource::recorded:
            return "recorded";
        case OriginalSource::tables:
            return "tables";
        case OriginalSource::present:
            return "present";
        case OriginalSource::measured_above:
            return "measured_above";
    }
    return "";
}

Length OriginalGirth::carried_to(Length height, Length at_groundline) const {
    if (height == Length{} || !taper) {
        return at_groundline;
    }
    return taper->carry(at_groundline, Length{}, height).value_or(at_groundline);
}

bool OriginalGirth::carries_to(Length height, Length at_groundline) const {
    return height == Length{} ||
           (taper && taper->carry(at_groundline, Length{}, height).has_value());
}

OriginalGirth find_original_girth(const Pole& pole,
                                  const Inspection* inspection,
                                  const TableLookup& lookup,
                                  Findings* findings) {
    OriginalGirth original;
    original.taper = lookup.taper;
    if (inspection != nullptr && inspection->original_circumference) {
        take_measured(*inspection, findings, original);
    } else if (pole.recorded_circumference) {
        original.groundline = pole.recorded_circumference;
        original.source = OriginalSource::recorded;
    } else if (lookup.groundline_girth) {
        original.groundline = lookup.groundline_girth;
        original.source = OriginalSource::tables;
    } else {
        note_table_gap(pole, lookup, findings);
    }
    return original;
}

}  // namespace linewood
