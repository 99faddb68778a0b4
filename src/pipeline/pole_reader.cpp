#include "src/pipeline/pole_reader.hpp"

#include <array>
#include <cmath>
#include <limits>

#include "assess/wood/pole_class.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

enum Material : int { wood, other };

constexpr std::array<CodeWord, 16> kMaterials{{{"wood", wood},
                                               {"timber", wood},
                                               {"wooden", wood},
                                               {"wood_pole", wood},
                                               {"steel", other},
                                               {"metal", other},
                                               {"iron", other},
                                               {"aluminium", other},
                                               {"aluminum", other},
                                               {"concrete", other},
                                               {"fiberglass", other},
                                               {"fibreglass", other},
                                               {"composite", other},
                                               {"lattice", other},
                                               {"galvanized_steel", other},
                                               {"weathering_steel", other}}};

constexpr std::array<CodeWord, 5> kRoles{{{"tangent", static_cast<int>(LineRole::tangent)},
                                          {"angle", static_cast<int>(LineRole::angle)},
                                          {"dead_end", static_cast<int>(LineRole::dead_end)},
                                          {"junction", static_cast<int>(LineRole::junction)},
                                          {"isolated", static_cast<int>(LineRole::isolated)}}};

/// The columns of a poles layer.
struct PoleColumns {
    PoleColumns(RowDecoder& d, bool to_be_assessed)
        : pole_id{d.column("pole_id")},
          species{assessed(d, to_be_assessed, "species")},
          pole_class{assessed(d, to_be_assessed, "pole_class")},
          length{assessed(d, to_be_assessed, "length")},
          setting_depth{assessed(d, to_be_assessed, "setting_depth")},
          material{assessed(d, to_be_assessed, "material")},
          reinforced{assessed(d, to_be_assessed, "reinforced")},
          recorded_circumference{assessed(d, to_be_assessed, "recorded_circumference")},
          given_azimuth{d.column("given_azimuth")},
          given_role{d.column("given_role")},
          station{d.column("station")} {}

    static Column assessed(RowDecoder& d, bool wanted, std::string_view name) {
        return wanted ? d.column(name) : Column{name, std::nullopt};
    }

    Column pole_id, species, pole_class, length, setting_depth, material, reinforced,
        recorded_circumference, given_azimuth, given_role, station;
};

class PoleReading {
public:
    PoleReading(const InputLayerRef& layer, const WoodTables* tables, Findings& findings)
        : layer_{layer},
          tables_{tables},
          findings_{findings},
          decoder_{layer.schema(), InputLayer::poles, findings, own(layer), layer.columns.get()},
          columns_{decoder_, tables != nullptr} {}

    PoleStore run(const GroundFrame& frame, std::vector<Point>& on_ground);

private:
    static std::span<const std::string_view> own(const InputLayerRef& layer) {
        return layer.written_by_us ? own_columns(InputLayer::poles)
                                   : std::span<const std::string_view>{};
    }
    void take(const FeatureBatch& batch, std::size_t row);
    void take_id(std::string id);
    Point take_place(const FeatureBatch& batch, std::size_t row);
    void take_ground(const FeatureBatch& batch,
                     const GroundFrame& frame,
                     std::vector<Point>& on_ground);
    Pole take_record();
    bool is_wood();
    void doubt_sizes(Pole& p);
    void take_given(std::uint32_t pole);

    const InputLayerRef& layer_;
    const WoodTables* tables_;
    Findings& findings_;
    RowDecoder decoder_;
    PoleColumns columns_;
    PoleStore store_;
    bool unknown_material_ = false;  ///< of the present pole
};

void PoleReading::take_id(std::string id) {
    if (id.empty()) {
        decoder_.note(finding::kPoleIdMissing, "pole_id", "");
    } else {
        decoder_.set_feature(id);
    }
    const std::uint32_t first = store_.ids.add(id);
    store_.duplicate.push_back(first != PoleIndex::kNotFound);
    if (first != PoleIndex::kNotFound) {
        decoder_.note(finding::kPoleIdDuplicate, "pole_id", std::move(id));
    }
}

Point PoleReading::take_place(const FeatureBatch& batch, std::size_t row) {
    const auto read = batch.point(row);
    if (read.value) {
        decoder_.set_place(Place{read.value->x, read.value->y});
        return *read.value;
    }
    decoder_.note_shape(read.status);
    if (read.status == ShapeStatus::other_type) {
        const auto vertex = batch.first_vertex(row);
        decoder_.set_place(vertex ? std::optional{Place{vertex->x, vertex->y}} : std::nullopt);
        decoder_.note(
            finding::kGeometryUnused, "geometry", decoder_.geometry_type(), " (a point is wanted)");
    }
    const bool empty = read.status == ShapeStatus::empty;
    decoder_.note(finding::kPoleWithoutPlace,
                  "geometry",
                  empty ? batch.geometry_text(row) : "",
                  empty ? ". An empty point is written as null" : "");
    return {kNan, kNan};
}

bool PoleReading::is_wood() {
    const std::string material = decoder_.text(columns_.material);
    if (material.empty()) {
        return true;
    }
    const std::string form = code_form(material);
    for (const CodeWord& w : kMaterials) {
        if (w.word == form) {
            return w.meaning == wood;
        }
    }
    decoder_.note(finding::kMaterialUnknown, "material", material);
    unknown_material_ = true;
    return true;
}

/// A length in metres, or one of something else, finds a girth in the tables that is not this pole's. A pole
/// set too deep would be measured where it is thin: its original girth would come out small, and what is left large.
void PoleReading::doubt_sizes(Pole& p) {
    constexpr double kShortest =
        15.0;  // ft; five under the tables' shortest, and over their longest
    constexpr double kLongest = 140.0;
    constexpr double kDeepest = 1.0 / 3.0;  // of the length; the tables' deepest is a fifth
    if (!p.length) {
        return;
    }
    const double feet = p.length->feet();
    if (feet < kShortest || feet > kLongest) {
        decoder_.note(finding::kPoleSizeDoubtful, "length", decoder_.text(columns_.length));
    }
    const bool too_deep =
        p.setting_depth && p.setting_depth->metres() > p.length->metres() * kDeepest;
    if (too_deep || (p.setting_depth && *p.setting_depth == Length{})) {
        decoder_.note(
            finding::kPoleSizeDoubtful, "setting_depth", decoder_.text(columns_.setting_depth));
    }
    if (too_deep) {
        p.setting_depth = {};
        p.unreadable = true;
    }
}

Pole PoleReading::take_record() {
    Pole p;
    p.length = decoder_.length(columns_.length, RecordedUnit::foot, SizeRange::positive);
    decoder_.take_refused();  // without a length there is no table value
    decoder_.note_damage();
    p.setting_depth =
        decoder_.length(columns_.setting_depth, RecordedUnit::foot, SizeRange::not_negative);
    doubt_sizes(p);
    p.recorded_circumference =
        decoder_.length(columns_.recorded_circumference, RecordedUnit::inch, SizeRange::positive);
    p.reinforced = decoder_.answer(columns_.reinforced) == Answer::yes;
    p.unreadable = decoder_.take_refused() || p.unreadable;
    unknown_material_ = false;
    p.is_wood = is_wood();
    p.unreadable = p.unreadable || unknown_material_;
    const std::string species = decoder_.text(columns_.species);
    if (!species.empty()) {
        p.species = tables_->find_species(species).value_or(kNoSpecies);
        if (p.species == kNoSpecies && p.is_wood) {
            decoder_.note(finding::kSpeciesUnknown, "species", species);
        }
    }
    const std::string pole_class = decoder_.text(columns_.pole_class);
    if (!pole_class.empty()) {
        const auto parsed = parse_pole_class(pole_class);
        p.has_class = parsed.has_value();
        p.pole_class = parsed.value_or(p.pole_class);
        if (!parsed) {
            decoder_.note(finding::kClassUnknown, "pole_class", pole_class);
        }
    }
    return p;
}

void PoleReading::take_given(std::uint32_t pole) {
    GivenDirection given;
    if (const auto azimuth = decoder_.number(columns_.given_azimuth)) {
        if (*azimuth < 0.0 || *azimuth > 360.0) {
            decoder_.note(finding::kAzimuthRange, "given_azimuth", plain_number(*azimuth));
        } else {
            given.axis = Axis::degrees(*azimuth);
            given.azimuth = *azimuth;
        }
    }
    if (const auto role = decoder_.code(columns_.given_role, kRoles)) {
        given.role = static_cast<LineRole>(*role);
    }
    if (given.axis || given.role) {
        store_.given.emplace(pole, given);
    }
}

void PoleReading::take(const FeatureBatch& batch, std::size_t row) {
    decoder_.start(batch, row);
    const std::size_t before = findings_.size();
    const auto pole = static_cast<std::uint32_t>(store_.poles.size());
    store_.places.push_back(take_place(batch, row));
    take_id(decoder_.text(columns_.pole_id));
    for (std::size_t i = before; i < findings_.size(); ++i) {
        if (!store_.ids.id(pole).empty()) {
            findings_[i].feature = std::string{store_.ids.id(pole)};
        }
    }
    if (tables_ == nullptr) {
        decoder_.note_damage();
    }
    store_.poles.push_back(tables_ == nullptr ? Pole{} : take_record());
    take_given(pole);
    if (columns_.station.exists()) {
        store_.stations.push_back(decoder_.number(columns_.station).value_or(kNan));
    }
}

/// The places of a batch on the ground. What is none there is taken for none from now on.
void PoleReading::take_ground(const FeatureBatch& batch,
                              const GroundFrame& frame,
                              std::vector<Point>& on_ground) {
    const std::size_t first = on_ground.size();
    on_ground.insert(on_ground.end(),
                     store_.places.begin() + static_cast<std::ptrdiff_t>(first),
                     store_.places.end());
    const std::span<Point> of_batch{on_ground.data() + first, on_ground.size() - first};
    frame.poles_to_ground(of_batch);
    for (std::size_t row = 0; row < of_batch.size(); ++row) {
        const auto pole = static_cast<std::uint32_t>(first + row);
        const auto place = store_.place(pole);
        if (!place || std::isfinite(of_batch[row].x)) {
            continue;
        }
        decoder_.start(batch, row);
        if (!store_.ids.id(pole).empty()) {
            decoder_.set_feature(std::string{store_.ids.id(pole)});
        }
        decoder_.note(finding::kPlaceOutside,
                      "geometry",
                      "POINT (" + plain_number(place->x) + " " + plain_number(place->y) + ")");
        store_.places[pole] = of_batch[row];
    }
}

PoleStore PoleReading::run(const GroundFrame& frame, std::vector<Point>& on_ground) {
    if (!columns_.pole_id.exists()) {
        decoder_.set_feature("");
        decoder_.note(finding::kColumnMissing, "pole_id", "");
    }
    ReadOptions options;
    options.columns = decoder_.used();
    FeatureReader reader{layer_.source, layer_.layer, options};
    const auto expected =
        static_cast<std::size_t>(std::max<std::int64_t>(0, layer_.schema().feature_count));
    store_.poles.reserve(expected);
    store_.places.reserve(expected);
    on_ground.reserve(expected);
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            take(batch, row);
        }
        take_ground(batch, frame, on_ground);
    }
    decoder_.note_damage(reader.layer_damage());
    return std::move(store_);
}

}  // namespace

std::optional<Place> PoleStore::place(std::uint32_t pole) const {
    const Point p = places[pole];
    if (!std::isfinite(p.x) || !std::isfinite(p.y)) {
        return std::nullopt;
    }
    return Place{p.x, p.y};
}

std::optional<Point> PoleStore::point(std::uint32_t pole) const {
    const auto at = place(pole);
    return at ? std::optional{Point{at->x, at->y}} : std::nullopt;
}

PoleStore read_poles(const InputLayerRef& layer,
                     const WoodTables* tables,
                     const GroundFrame& frame,
                     std::vector<Point>& on_ground,
                     Findings& findings) {
    return PoleReading{layer, tables, findings}.run(frame, on_ground);
}

}  // namespace linewood
