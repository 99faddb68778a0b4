#include "sample-gis/dirt.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "sample-gis/layout.hpp"

namespace linewood::sample {
namespace {

/// Finds records to spoil, each pole at most once.
class Spoiler {
public:
    Spoiler(Random& random, Area& area) : random_{random}, area_{area} {}

    std::vector<Dirt> spoil();

private:
    /// A record of `rows` that fits and whose pole is still untouched; null where there is none.
    template <typename Row, typename Id, typename Fits>
    Row* find(std::vector<Row>& rows, Id id, Fits fits) {
        if (rows.empty()) {
            return nullptr;
        }
        const std::size_t start = random_.index(rows.size());
        for (std::size_t k = 0; k < rows.size(); ++k) {
            Row& row = rows[(start + k) % rows.size()];
            if (used_.count(id(row)) == 0 && fits(row)) {
                used_.insert(id(row));
                return &row;
            }
        }
        return nullptr;
    }
    template <typename Fits>
    Pole* pole(Fits fits) {
        return find(
            area_.poles, [](const Pole& p) { return p.id; }, fits);
    }
    template <typename Fits>
    Span* span(Fits fits) {
        return find(
            area_.spans, [](const Span& s) { return s.id; }, fits);
    }
    template <typename Fits>
    Inspection* inspection(Fits fits) {
        return find(
            area_.inspections, [](const Inspection& i) { return i.pole_id; }, fits);
    }
    template <typename Fits>
    Defect* defect(Fits fits) {
        return find(
            area_.defects, [](const Defect& d) { return d.pole_id; }, fits);
    }
    bool inspected(const std::string& id) const;
    bool inspected_twice(const std::string& id) const;
    void note(const char* layer, const std::string& feature, const char* what) {
        dirt_.push_back({layer, feature, what});
    }

    void poles();
    void spans();
    void inspections();
    void visits();
    void defects();
    void directions();

    Random& random_;
    Area& area_;
    std::set<std::string> used_;
    std::vector<Dirt> dirt_;
};

bool Spoiler::inspected(const std::string& id) const {
    return std::any_of(area_.inspections.begin(),
                       area_.inspections.end(),
                       [&](const Inspection& i) { return i.pole_id == id; });
}

bool Spoiler::inspected_twice(const std::string& id) const {
    return std::count_if(area_.inspections.begin(),
                         area_.inspections.end(),
                         [&](const Inspection& i) { return i.pole_id == id; }) > 1;
}

void Spoiler::poles() {
    const auto any = [](const Pole& p) { return p.kind == LineKind::tap; };
    if (Pole* p = pole(
            [this](const Pole& q) { return q.kind == LineKind::service && !inspected(q.id); })) {
        if (const Pole* other = pole(any)) {
            p->id = other->id;
            note("poles", p->id, "duplicate pole_id: a second pole carries it, 30 m or more away");
        }
    }
    if (Pole* p = pole(any)) {
        p->has_point = false;
        note("poles", p->id, "no geometry");
    }
    if (Pole* p = pole(any)) {
        p->pole_class = "8";
        note("poles", p->id, "pole_class 8, which does not exist");
    }
    if (Pole* p = pole(any)) {
        p->species = "yellow poplar";
        note("poles", p->id, "species the tables do not know: yellow poplar");
    }
    if (Pole* p = pole(any)) {
        p->length = 0.0;
        note("poles", p->id, "length 0");
    }
    if (Pole* p = pole(
            [this](const Pole& q) { return q.kind == LineKind::service && !inspected(q.id); })) {
        note("poles", p->id, "this id is missing: the pole has an empty pole_id");
        p->id.clear();
    }
}

void Spoiler::spans() {
    const auto of_tie = [](const Span& s) { return s.kv == 34.5 && s.points.size() == 2; };
    const auto with_ids = [](const Span& s) { return !s.to.empty() && s.points.size() == 2; };
    if (Span* s = span(of_tie)) {
        const double along = heading(s->points[0], s->points[1]);
        const Xy end = step(s->points[1], along + 180.0, 8.0);
        s->points[1] = {rounded(end.x, 0.01), rounded(end.y, 0.01)};
        note("spans", s->id, "stops 8 m short of its pole");
    }
    if (Span* s = span(of_tie)) {
        s->points[1] = s->points[0];
        note("spans", s->id, "length zero: both ends on one place");
    }
    if (Span* s = span(with_ids)) {
        s->to = s->to.substr(0, s->to.find('-')) + "-9998";
        note("spans", s->id, "to_pole names a pole that does not exist");
    }
    if (Span* s = span([](const Span& q) { return q.kind == "service"; })) {
        s->kind = "svc";
        note("spans", s->id, "kind that is not one of the list: svc");
    }
}

void Spoiler::inspections() {
    const auto girth = [this](const Inspection& i) {
        return i.present_circumference.has_value() && !inspected_twice(i.pole_id);
    };
    const auto original = [this](const Inspection& i) {
        return i.original_circumference.has_value() && !i.original_height.has_value() &&
               !inspected_twice(i.pole_id);
    };
    if (Inspection* i = inspection(girth)) {
        i->present_circumference = *i->present_circumference * 10.0;
        note(
            "inspections", i->pole_id, "present_circumference ten times too large (slipped point)");
    }
    if (Inspection* i = inspection(original)) {
        i->original_circumference = std::round(*i->original_circumference * 25.4);
        note("inspections", i->pole_id, "original_circumference in millimetres, not inches");
    }
    if (Inspection* i = inspection([&](const Inspection& q) { return girth(q) && original(q); })) {
        i->present_circumference = *i->original_circumference + 3.0;
        note("inspections", i->pole_id, "present girth 3 in above the original");
    }
    if (Inspection* i = inspection([](const Inspection& q) { return q.method == "hammer"; })) {
        i->method = "tapped";
        note("inspections", i->pole_id, "method that is not one of the list: tapped");
    }
}

void Spoiler::visits() {
    const auto once = [this](const Inspection& i) { return !inspected_twice(i.pole_id); };
    if (Inspection* i = inspection(once)) {
        const std::string id = i->pole_id;
        i->pole_id = id.substr(0, id.find('-')) + "-9999";
        note("inspections", i->pole_id, "pole_id that no pole has");
    }
    if (Inspection* i = inspection(once)) {
        i->day = day_of(2062, 5, 12);
        note("inspections", i->pole_id, "inspected_on in the future: 2062-05-12");
    }
    if (Inspection* i = inspection(once)) {
        i->day.reset();
        note("inspections", i->pole_id, "no date");
    }
    if (Inspection* i = inspection(
            [&](const Inspection& q) { return once(q) && q.present_circumference.has_value(); })) {
        Inspection again = *i;
        again.present_circumference = *again.present_circumference - 2.0;
        note("inspections", again.pole_id, "two inspections on one day that differ by 2 in");
        area_.inspections.push_back(std::move(again));
    }
    if (Inspection* i = inspection([this](const Inspection& q) {
            return q.day < day_of(2026, 1, 1) && inspected_twice(q.pole_id);
        })) {
        i->aboveground_damage = "extensive";
        const std::string& id = i->pole_id;
        for (Inspection& later : area_.inspections) {
            if (later.pole_id == id && &later != i) {
                later.aboveground_damage = "none";
            }
        }
        note("inspections", id, "extensive damage in 2025, none in 2026: it does not heal");
    }
}

void Spoiler::defects() {
    const auto kind = [](const char* word) {
        return [word](const Defect& d) { return d.kind == word; };
    };
    const auto pocket = kind("external_pocket");
    const auto rot = kind("internal_rot");
    if (Defect* d = defect(pocket)) {
        d->width = -*d->width;
        note("defects", d->pole_id, "negative width");
    }
    if (Defect* d = defect(pocket)) {
        d->depth.reset();
        note("defects", d->pole_id, "pocket without a depth");
    }
    if (Defect* d = defect(pocket)) {
        d->depth = 9.0;
        note("defects", d->pole_id, "pocket 9 in deep, more than the radius");
    }
    if (Defect* d = defect(rot)) {
        d->shell_thickness.reset();
        note("defects", d->pole_id, "internal rot without a shell thickness");
    }
    if (Defect* d = defect(rot)) {
        d->shell_thickness = 14.0;
        note("defects", d->pole_id, "shell of 14 in, more than the radius");
    }
    if (Defect* d = defect(pocket)) {
        d->height = 80.0;
        note("defects", d->pole_id, "height 80 ft, above the tip");
    }
    if (Defect* d = defect([](const Defect&) { return true; })) {
        d->kind = "soft spot";
        note("defects", d->pole_id, "kind that is not one of the list: soft spot");
    }
}

void Spoiler::directions() {
    const auto dated = [](const Defect& d) { return d.day.has_value(); };
    if (Defect* d = defect([](const Defect& q) { return q.azimuth_ref == "true"; })) {
        d->azimuth = *d->azimuth + 360.0;
        note("defects", d->pole_id, "azimuth of 360 degrees or more");
    }
    if (Defect* d = defect(
            [](const Defect& q) { return q.azimuth_ref == "true" && q.position == "in_line"; })) {
        d->position = "out_of_line";
        note("defects", d->pole_id, "position out_of_line, azimuth along the line");
    }
    if (Defect* d =
            defect([&](const Defect& q) { return dated(q) && !inspected_twice(q.pole_id); })) {
        d->day = *d->day - 200;
        note("defects", d->pole_id, "dated 200 days before the only inspection");
    }
    if (Defect* d =
            defect([&](const Defect& q) { return dated(q) && !inspected_twice(q.pole_id); })) {
        d->day = *d->day + 9;
        note("defects", d->pole_id, "dated 9 days after the inspection it belongs to");
    }
    if (Defect* d = defect(dated)) {
        const std::string id = d->pole_id;
        d->pole_id = id.substr(0, id.find('-')) + "-9997";
        note("defects", d->pole_id, "pole_id that no pole has");
    }
}

std::vector<Dirt> Spoiler::spoil() {
    poles();
    spans();
    inspections();
    visits();
    defects();
    directions();
    return std::move(dirt_);
}

}  // namespace

std::vector<Dirt> make_dirty(Random& random, Area& area) { return Spoiler(random, area).spoil(); }

}  // namespace linewood::sample
