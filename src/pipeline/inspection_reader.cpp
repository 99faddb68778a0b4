#include "src/pipeline/inspection_reader.hpp"

#include <array>

#include "geo/io/feature_reader.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr std::array<CodeWord, 4> kMethods{
    {{"visual", static_cast<int>(InspectionMethod::visual)},
     {"hammer", static_cast<int>(InspectionMethod::hammer)},
     {"bore", static_cast<int>(InspectionMethod::bore)},
     {"excavated", static_cast<int>(InspectionMethod::excavated)}}};

constexpr std::array<CodeWord, 3> kDamages{
    {{"none", static_cast<int>(AbovegroundDamage::none)},
     {"minor", static_cast<int>(AbovegroundDamage::minor)},
     {"extensive", static_cast<int>(AbovegroundDamage::extensive)}}};

struct InspectionColumns {
    explicit InspectionColumns(RowDecoder& d)
        : pole_id{d.column("pole_id")},
          inspected_on{d.column("inspected_on")},
          method{d.column("method")},
          original{d.column("original_circumference")},
          original_height{d.column("original_height")},
          present{d.column("present_circumference")},
          climb_safe{d.column("climb_safe")},
          damage{d.column("aboveground_damage")},
          below_excavation{d.column("decay_below_excavation")},
          treated{d.column("treated")} {}

    Column pole_id, inspected_on, method, original, original_height, present, climb_safe, damage,
        below_excavation, treated;
};

Inspection take_inspection(RowDecoder& d, const InspectionColumns& c, std::int64_t fid) {
    Inspection i;
    i.fid = fid;
    i.inspected_on = d.date(c.inspected_on);
    const bool no_day = d.take_refused();
    d.note_damage();
    const bool damaged = d.take_refused();
    i.date_unreadable = !i.inspected_on && (no_day || damaged);
    i.original_circumference = d.length(c.original, RecordedUnit::inch, SizeRange::positive);
    i.original_height = d.length(c.original_height, RecordedUnit::foot, SizeRange::any);
    i.present_circumference = d.length(c.present, RecordedUnit::inch, SizeRange::positive);
    i.damage = static_cast<AbovegroundDamage>(d.code(c.damage, kDamages).value_or(0));
    i.climb_safe = d.answer(c.climb_safe);
    i.decay_below_excavation = d.answer(c.below_excavation);
    i.unreadable = d.take_refused() || damaged;
    // Without these two the pole is taken as worse than with them: a slip in them lets nothing pass.
    i.method = static_cast<InspectionMethod>(d.code(c.method, kMethods).value_or(0));
    i.treated = d.answer(c.treated);
    return i;
}

}  // namespace

InspectionStore read_inspections(const InputLayers& inputs,
                                 const PoleStore& poles,
                                 std::optional<Date> today,
                                 Findings& findings,
                                 const std::function<void()>& after_batch) {
    InspectionStore store;
    const auto& layer = inputs[InputLayer::inspections];
    if (layer) {
        RowDecoder decoder{
            layer->schema(), InputLayer::inspections, findings, {}, layer->columns.get()};
        const InspectionColumns columns{decoder};
        decoder.doubt_dates_after(today);
        if (!columns.pole_id.exists()) {
            decoder.note(finding::kColumnMissing, "pole_id", "");
        }
        store.reserve(layer->schema().feature_count);
        ReadOptions options;
        options.columns = decoder.used();
        options.geometry = layer->schema().has_geometry();
        FeatureReader reader{layer->source, layer->layer, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                decoder.start(batch, row);
                const std::string id = decoder.text(columns.pole_id);
                const std::uint32_t pole = poles.ids.find(id);
                if (pole == PoleIndex::kNotFound) {
                    decoder.note_unknown_pole(id);
                } else {
                    decoder.set_place(poles.place(pole));
                }
                decoder.note_row_shape();
                store.add(pole, take_inspection(decoder, columns, batch.fid(row)));
            }
            if (after_batch) {
                after_batch();
            }
        }
        decoder.note_damage(reader.layer_damage());
    }
    store.finish(poles.size());
    return store;
}

}  // namespace linewood
