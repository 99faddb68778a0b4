#include "src/pipeline/defect_reader.hpp"

#include <algorithm>
#include <array>
#include <unordered_set>
#include <utility>
#include <vector>

#include "assess/record/release.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

template <typename E>
constexpr int number_of(E e) {
    return static_cast<int>(e);
}

constexpr std::array<CodeWord, 4> kKinds{
    {{"external_pocket", number_of(DefectKind::external_pocket)},
     {"internal_rot", number_of(DefectKind::internal_rot)},
     {"shell_rot", number_of(DefectKind::shell_rot)},
     {"bore", number_of(DefectKind::bore)}}};
constexpr std::array<CodeWord, 7> kCauses{{{"decay", number_of(DefectCause::decay)},
                                           {"insect", number_of(DefectCause::insect)},
                                           {"mechanical", number_of(DefectCause::mechanical)},
                                           {"woodpecker", number_of(DefectCause::woodpecker)},
                                           {"fire", number_of(DefectCause::fire)},
                                           {"check", number_of(DefectCause::check)},
                                           {"bolt_hole", number_of(DefectCause::bolt_hole)}}};
constexpr std::array<CodeWord, 3> kPositions{{{"in_line", number_of(FacePosition::in_line)},
                                              {"out_of_line", number_of(FacePosition::out_of_line)},
                                              {"oblique", number_of(FacePosition::oblique)}}};
constexpr std::array<CodeWord, 2> kBoreFroms{
    {{"surface", number_of(BoreFrom::surface)}, {"pocket", number_of(BoreFrom::pocket)}}};
constexpr std::array<CodeWord, 4> kRefs{{{"true", number_of(AzimuthRef::true_north)},
                                         {"magnetic", number_of(AzimuthRef::magnetic)},
                                         {"grid", number_of(AzimuthRef::grid)},
                                         {"clock", number_of(AzimuthRef::clock)}}};

struct DefectColumns {
    explicit DefectColumns(RowDecoder& d)
        : pole_id{d.column("pole_id")},
          kind{d.column("kind")},
          inspected_on{d.column("inspected_on")},
          height{d.column("height")},
          azimuth{d.column("azimuth")},
          azimuth_ref{d.column("azimuth_ref")},
          position{d.column("position")},
          width{d.column("width")},
          depth{d.column("depth")},
          extent{d.column("extent")},
          shell{d.column("shell_thickness")},
          bore_angle{d.column("bore_angle")},
          bore_from{d.column("bore_from")},
          present{d.column("present_circumference")},
          cause{d.column("cause")} {}

    Column pole_id, kind, inspected_on, height, azimuth, azimuth_ref, position, width, depth,
        extent, shell, bore_angle, bore_from, present, cause;
};

/// A reading on the clock at a pole where which way is ahead is not known.
struct ClockReading {
    std::uint32_t pole = 0;
    std::size_t row = 0;
    Finding doubt;
};

class DefectReading {
public:
    DefectReading(const InputLayerRef& layer,
                  const PoleStore& poles,
                  const InspectionStore& inspections,
                  const AzimuthResolver& resolver,
                  std::optional<Date> today,
                  Findings& findings)
        : layer_{layer},
          poles_{poles},
          inspections_{inspections},
          resolver_{resolver},
          findings_{findings},
          decoder_{layer.schema(),
                   InputLayer::defects,
                   findings,
                   layer.written_by_us ? own_columns(InputLayer::defects)
                                       : std::span<const std::string_view>{},
                   layer.columns.get()},
          c_{decoder_} {
        decoder_.doubt_dates_after(today);
    }

    std::int64_t grid_azimuths() const { return grid_azimuths_; }

    void run(DefectStore& store, const std::function<void()>& after_batch) {
        note_columns();
        store.reserve(layer_.schema().feature_count);
        ReadOptions options;
        options.columns = decoder_.used();
        options.geometry = layer_.schema().has_geometry();
        FeatureReader reader{layer_.source, layer_.layer, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take(batch, row, store);
            }
            if (after_batch) {
                after_batch();
            }
        }
        settle_clocks(store);
        decoder_.note_damage(reader.layer_damage());
        note_assumptions();
    }

private:
    /// A column that is not there at all is one doubt, not one a row.
    void note_columns() {
        for (const Column* required : {&c_.pole_id, &c_.kind}) {
            if (!required->exists()) {
                decoder_.note(finding::kColumnMissing, required->name, "");
            }
        }
    }

    /// The same of what was assumed: nothing is where there is no defect, or none has an azimuth.
    void note_assumptions() {
        if (any_ && !c_.height.exists()) {
            decoder_.note(finding::kHeightAssumed, "height", "");
        }
        if (any_azimuth_ && !c_.azimuth_ref.exists()) {
            decoder_.note(finding::kAzimuthRefAssumed, "azimuth_ref", "");
        }
    }

    void take(const FeatureBatch& batch, std::size_t row, DefectStore& store) {
        decoder_.start(batch, row);
        any_ = true;
        const std::string id = decoder_.text(c_.pole_id);
        const std::uint32_t pole = poles_.ids.find(id);
        if (pole == PoleIndex::kNotFound) {
            decoder_.note_unknown_pole(id);
        } else {
            decoder_.set_place(poles_.place(pole));
        }
        Defect d = take_kind();
        d.fid = batch.fid(row);
        d.inspected_on = decoder_.date(c_.inspected_on);
        decoder_.take_refused();  // without a date it belongs to what counts as the latest
        decoder_.note_damage();
        decoder_.note_row_shape();
        take_sizes(d);
        d.unreadable = decoder_.take_refused();
        settle_sound_bore(d);
        // What cannot be read of these is taken at its worst: decay, no depth added, the worst side.
        take_words(d);
        take_direction(d, pole, store.rows());
        store.add(pole, d);
    }

    Defect take_kind() {
        Defect d;
        const std::string kind = decoder_.text(c_.kind);
        const std::string form = code_form(kind);
        const auto word = std::find_if(
            kKinds.begin(), kKinds.end(), [&](const CodeWord& w) { return w.word == form; });
        known_kind_ = word != kKinds.end();
        if (known_kind_) {
            d.kind = static_cast<DefectKind>(word->meaning);
        } else if (kind.empty() || !decoder_.refuse_code(c_.kind, kind, kKinds)) {
            decoder_.note(finding::kDefectKindUnknown, "kind", kind, known_words(kKinds));
        }
        return d;
    }

    void take_words(Defect& d) {
        d.cause = static_cast<DefectCause>(decoder_.code(c_.cause, kCauses).value_or(0));
        if (known_kind_) {
            d.bore_from =
                static_cast<BoreFrom>(decoder_.code(c_.bore_from, kBoreFroms).value_or(0));
        }
    }

    void take_sizes(Defect& d) {
        if (c_.height.exists() && decoder_.is_null(c_.height)) {
            decoder_.note(finding::kHeightAssumed, "height", "");
        }
        d.height = decoder_.length(c_.height, RecordedUnit::foot, SizeRange::any);
        d.present_circumference =
            decoder_.length(c_.present, RecordedUnit::inch, SizeRange::positive);
        d.extent = decoder_.length(c_.extent, RecordedUnit::inch, SizeRange::not_negative);
        if (!known_kind_) {
            return;
        }
        d.width = decoder_.length(c_.width, RecordedUnit::inch, SizeRange::not_negative);
        d.depth = decoder_.length(c_.depth, RecordedUnit::inch, SizeRange::not_negative);
        doubt_zero_sizes(d);
        d.shell_thickness = decoder_.length(c_.shell, RecordedUnit::inch, SizeRange::not_negative);
        if (const auto angle = decoder_.number(c_.bore_angle)) {
            d.bore_angle = Angle::degrees(*angle);
        }
    }

    /// A pocket of no width or depth, a shell that lost nothing: a blank written as 0 looks like that, and a
    /// pocket of no size would take nothing away. Where nothing was found (`bore`) it says just that.
    void doubt_zero_sizes(Defect& d) {
        for (auto [size, column] :
             {std::pair{&d.width, &c_.width}, std::pair{&d.depth, &c_.depth}}) {
            if (!*size || **size > Length{}) {
                continue;
            }
            if (d.kind == DefectKind::external_pocket ||
                (d.kind == DefectKind::shell_rot && column == &c_.depth)) {
                decoder_.note(finding::kValueZero, column->name, decoder_.text(*column));
            }
            *size = {};
        }
    }

    /// Found sound, and yet with a size of something found: the worse of the two counts.
    void settle_sound_bore(Defect& d) {
        const bool pocket = d.width || d.depth;
        if (d.kind != DefectKind::bore || !(d.shell_thickness || pocket)) {
            return;
        }
        const Column& c = d.shell_thickness ? c_.shell : d.width ? c_.width : c_.depth;
        decoder_.note(finding::kBoreContradicts, c.name, decoder_.text(c));
        d.kind = d.shell_thickness ? DefectKind::internal_rot : DefectKind::external_pocket;
        d.unreadable = d.unreadable || (d.shell_thickness && pocket);
    }

    void take_direction(Defect& d, std::uint32_t pole, std::size_t row) {
        d.position = static_cast<FacePosition>(decoder_.code(c_.position, kPositions).value_or(0));
        const auto azimuth = decoder_.number(c_.azimuth);
        if (!azimuth) {
            return;
        }
        any_azimuth_ = true;
        if (c_.azimuth_ref.exists() && decoder_.is_null(c_.azimuth_ref)) {
            decoder_.note(finding::kAzimuthRefAssumed, "azimuth_ref", "");
        }
        const bool stated = !decoder_.is_null(c_.azimuth_ref);
        const auto ref = decoder_.code(c_.azimuth_ref, kRefs);
        grid_azimuths_ += ref == number_of(AzimuthRef::grid) ? 1 : 0;
        if (pole == PoleIndex::kNotFound) {
            return;
        }
        if (stated && !ref) {
            // An unknown reference is no reason to take the figure as true.
            decoder_.note(finding::kAzimuthUnresolved,
                          "azimuth",
                          plain_number(*azimuth),
                          ": azimuth_ref does not say what it is counted from");
            return;
        }
        const TrueAzimuth t = resolver_.resolve(
            *azimuth, static_cast<AzimuthRef>(ref.value_or(0)), pole, date_for(d, pole));
        if (t.doubt != nullptr) {
            decoder_.note(*t.doubt, "azimuth", plain_number(*azimuth), t.why);
        }
        if (t.doubt == &finding::kClockAssumed) {
            either_way_.push_back({pole, row, std::move(findings_.back())});
            findings_.pop_back();
        } else if (t.azimuth && ref != static_cast<int>(AzimuthRef::clock)) {
            from_north_.insert(pole);
        }
        d.azimuth = t.azimuth;
    }

    /// Turned by 180 degrees together, all readings at a pole give the same strengths; beside one that is
    /// counted from north they do not, and nothing may rest on a guess.
    void settle_clocks(DefectStore& store) {
        for (ClockReading& reading : either_way_) {
            Finding& f = reading.doubt;
            if (from_north_.contains(reading.pole)) {
                store.change(reading.row, [](Defect& d) { d.azimuth = {}; });
                f.severity = finding::kClockUnknown.severity;
                f.code = finding::kClockUnknown.code;
                f.message = finding::kClockUnknown.meaning;
            }
            findings_.push_back(std::move(f));
        }
        release(either_way_);
    }

    std::optional<Date> date_for(const Defect& d, std::uint32_t pole) const {
        std::optional<Date> date = d.inspected_on;
        if (!date) {
            for (const Inspection& i : inspections_.of(pole)) {
                date = std::max(date, i.inspected_on);
            }
        }
        return date;
    }

    const InputLayerRef& layer_;
    const PoleStore& poles_;
    const InspectionStore& inspections_;
    const AzimuthResolver& resolver_;
    Findings& findings_;
    RowDecoder decoder_;
    DefectColumns c_;
    bool known_kind_ = true;
    std::vector<ClockReading> either_way_;
    std::unordered_set<std::uint32_t> from_north_;  ///< poles with azimuths that are
    std::int64_t grid_azimuths_ = 0;
    bool any_ = false;
    bool any_azimuth_ = false;
};

}  // namespace

ReadDefects read_defects(const InputLayers& inputs,
                         const PoleStore& poles,
                         const InspectionStore& inspections,
                         const AzimuthResolver& resolver,
                         std::optional<Date> today,
                         Findings& findings,
                         const std::function<void()>& after_batch) {
    ReadDefects read;
    if (const auto& layer = inputs[InputLayer::defects]) {
        DefectReading reading{*layer, poles, inspections, resolver, today, findings};
        reading.run(read.store, after_batch);
        read.grid_azimuths = reading.grid_azimuths();
    }
    read.store.finish(poles.size());
    return read;
}

}  // namespace linewood
