// Any record a reader can make is assessed without harm, and the assessment keeps its own word: what
// passes is complete and meets the limits, and strengths are shares of one.

#include <cstddef>
#include <cstdint>
#include <vector>

#include <fuzzer/FuzzedDataProvider.h>

#include "assess/verdict/assessment.hpp"

namespace linewood {
namespace {

constexpr std::int64_t kMostRows = 6;

void require(bool holds) {
    if (!holds) {
        __builtin_trap();
    }
}

/// Random values of every kind a record holds, each absent at times. Sizes are above zero, as readers
/// give them.
class RecordSource {
public:
    explicit RecordSource(FuzzedDataProvider& data) : data_{data} {}

    Pole pole() {
        Pole p;
        p.length = size(200.0);
        p.setting_depth = size(30.0);
        p.recorded_circumference = size(12.0);
        p.species =
            data_.ConsumeBool() ? data_.ConsumeIntegralInRange<SpeciesIndex>(0, 30) : kNoSpecies;
        p.has_class = data_.ConsumeBool();
        p.pole_class = static_cast<PoleClass>(data_.ConsumeIntegralInRange(0, kPoleClassCount - 1));
        p.is_wood = data_.ConsumeIntegralInRange(0, 9) != 0;
        p.reinforced = data_.ConsumeBool();
        p.unreadable = data_.ConsumeIntegralInRange(0, 9) == 0;
        return p;
    }

    LineDirection line() {
        LineDirection l;
        if (data_.ConsumeBool()) {
            l.axis = Axis::degrees(degrees());
        }
        if (data_.ConsumeBool()) {
            l.deflection = Angle::degrees(data_.ConsumeFloatingPointInRange(0.0, 180.0));
        }
        l.role = one_of<LineRole>(5);
        l.source = one_of<LineSource>(4);
        return l;
    }

    Inspection inspection() {
        Inspection i;
        i.fid = data_.ConsumeIntegral<std::int64_t>();
        i.original_circumference = size(12.0);
        i.original_height = height();
        i.present_circumference = size(12.0);
        i.inspected_on = date();
        i.method = one_of<InspectionMethod>(5);
        i.damage = one_of<AbovegroundDamage>(4);
        i.climb_safe = one_of<Answer>(3);
        i.decay_below_excavation = one_of<Answer>(3);
        i.treated = one_of<Answer>(3);
        i.unreadable = data_.ConsumeIntegralInRange(0, 9) == 0;
        return i;
    }

    Defect defect() {
        Defect d;
        d.fid = data_.ConsumeIntegral<std::int64_t>();
        d.height = height();
        if (data_.ConsumeBool()) {
            d.azimuth = Bearing::degrees(degrees());
        }
        d.width = size(4.0);
        d.depth = size(4.0);
        d.extent = size(20.0);
        d.shell_thickness = size(4.0);
        if (data_.ConsumeBool()) {
            d.bore_angle = Angle::degrees(data_.ConsumeFloatingPointInRange(0.0, 90.0));
        }
        d.present_circumference = size(12.0);
        d.inspected_on = date();
        d.kind = one_of<DefectKind>(4);
        d.cause = one_of<DefectCause>(8);
        d.position = one_of<FacePosition>(4);
        d.bore_from = one_of<BoreFrom>(2);
        d.unreadable = data_.ConsumeIntegralInRange(0, 9) == 0;
        return d;
    }

private:
    template <typename Enum>
    Enum one_of(int count) {
        return static_cast<Enum>(data_.ConsumeIntegralInRange(0, count - 1));
    }
    double degrees() { return data_.ConsumeFloatingPointInRange(0.0, 360.0); }
    Maybe<Length> size(double most_feet) {
        if (!data_.ConsumeBool()) {
            return {};
        }
        return Length::feet(data_.ConsumeFloatingPointInRange(1e-9, most_feet));
    }
    Maybe<Length> height() {
        if (!data_.ConsumeBool()) {
            return {};
        }
        return Length::feet(data_.ConsumeFloatingPointInRange(-40.0, 200.0));
    }
    std::optional<Date> date() {
        if (!data_.ConsumeBool()) {
            return std::nullopt;
        }
        return Date::from_ymd(2024, 1, data_.ConsumeIntegralInRange(1, 28));
    }

    FuzzedDataProvider& data_;
};

void check_section(const SectionCondition& s) {
    if (!s.strengths) {
        return;
    }
    const SectionStrengths& f = *s.strengths;
    for (const double share : {f.governing, f.weakest}) {
        require(share >= 0.0 && share <= 1.0);
    }
    require(f.governing >= f.weakest - 1e-9);
}

void check(const PoleAssessment& a, const Criteria& criteria) {
    for (const SectionCondition& s : a.sections) {
        check_section(s);
    }
    const bool passed = a.verdict == Verdict::serviceable || a.verdict == Verdict::treat;
    require(!passed || !a.sections.empty());
    const bool reinforced = a.reasons.has(Reason::already_reinforced);
    for (const SectionCondition& s : a.sections) {
        if (!passed || reinforced) {
            continue;
        }
        require(s.complete && s.outcome == SectionOutcome::passes && s.strengths.has_value());
        require(s.strengths->governing >= criteria.governing_strength_min * (1.0 - 1e-8));
    }
    require(!passed || !a.reasons.has(Reason::value_unreadable));
    require((a.urgency == Urgency::none) == (a.verdict == Verdict::unassessed));
}

}  // namespace
}  // namespace linewood

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace linewood;
    FuzzedDataProvider provider{data, size};
    RecordSource source{provider};
    const Pole pole = source.pole();
    const LineDirection line = source.line();
    std::vector<Inspection> inspections;
    for (auto i = provider.ConsumeIntegralInRange<std::int64_t>(0, 3); i > 0; --i) {
        inspections.push_back(source.inspection());
    }
    std::vector<Defect> defects;
    for (auto i = provider.ConsumeIntegralInRange<std::int64_t>(0, kMostRows); i > 0; --i) {
        defects.push_back(source.defect());
    }
    static const WoodTables kTables = WoodTables::built_in();
    const Criteria criteria;
    Findings findings;
    check(assess_pole({pole, line, inspections, defects}, kTables, criteria, findings), criteria);
    return 0;
}
