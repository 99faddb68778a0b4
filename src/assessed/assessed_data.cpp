#include "src/assessed/assessed_data.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "geo/io/feature_reader.hpp"
#include "src/assessed/stated_columns.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

constexpr std::array<CodeWord, kVerdictCount> kVerdicts{
    {{"replace", static_cast<int>(Verdict::replace)},
     {"stub", static_cast<int>(Verdict::stub)},
     {"unassessed", static_cast<int>(Verdict::unassessed)},
     {"treat", static_cast<int>(Verdict::treat)},
     {"serviceable", static_cast<int>(Verdict::serviceable)}}};

constexpr std::array<CodeWord, 3> kUrgencies{{{"now", static_cast<int>(Urgency::now)},
                                              {"soon", static_cast<int>(Urgency::soon)},
                                              {"routine", static_cast<int>(Urgency::routine)}}};

constexpr std::array<CodeWord, 5> kRoles{{{"tangent", static_cast<int>(LineRole::tangent)},
                                          {"angle", static_cast<int>(LineRole::angle)},
                                          {"dead_end", static_cast<int>(LineRole::dead_end)},
                                          {"junction", static_cast<int>(LineRole::junction)},
                                          {"isolated", static_cast<int>(LineRole::isolated)}}};

/// What is read of the input's own columns.
constexpr std::array<std::string_view, 5> kPoleFields{
    "pole_id", "circuit", "species", "pole_class", "install_year"};
constexpr std::array<std::string_view, 2> kSpanFields{"circuit", "kind"};

/// Reads the poles; their places are then on the ground, not yet in metres.
class PolesReading {
public:
    PolesReading(const Source& source, const AssessedRun& run, Findings& findings)
        : source_{source},
          schema_{source.schema("poles")},
          stated_{source, run, InputLayer::poles, schema_, kPoleFields},
          decoder_{
              schema_, InputLayer::poles, findings, own_columns(InputLayer::poles), stated_.get()},
          pole_id_{decoder_.column("pole_id")},
          circuit_{decoder_.column("circuit")},
          species_{decoder_.column("species")},
          pole_class_{decoder_.column("pole_class")},
          install_year_{decoder_.column("install_year")},
          verdict_{decoder_.own_column("verdict")},
          urgency_{decoder_.own_column("urgency")},
          role_{decoder_.own_column("line_role")},
          remaining_{decoder_.own_column("remaining_pct")},
          inspected_on_{decoder_.own_column("inspected_on")},
          reasons_{decoder_.own_column("reasons")} {}

    /// A field that a job file maps is meant as it was read; any other name is that of a column.
    void want(const std::string& attribute) {
        const auto* const field =
            std::find_if(kPoleFields.begin(), kPoleFields.end(), [&](std::string_view f) {
                return same_name(f, attribute);
            });
        if (stated_.get() != nullptr && field != kPoleFields.end()) {
            const Column mapped = decoder_.column(*field);
            if (mapped.exists()) {
                wanted_.push_back(mapped);
                poles_.attributes.emplace_back(attribute, TextColumn{});
                return;
            }
        }
        const auto index = schema_.field_index(attribute);
        if (!index) {
            std::vector<std::string_view> names;
            for (const Field& f : schema_.fields) {
                names.emplace_back(f.name);
            }
            throw JobError{"the poles layer has no column " + attribute +
                           did_you_mean(attribute, names)};
        }
        wanted_.push_back({schema_.fields[*index].name, index});
        poles_.attributes.emplace_back(attribute, TextColumn{});
    }

    AssessedPoles read(const GroundFrame& ground, RunMonitor& monitor) {
        if (!verdict_.exists()) {
            throw JobError{source_.dataset() +
                           ": its poles have no verdict; assess it first: linewood assess IN --out "
                           "OUT.gpkg"};
        }
        if (!pole_id_.exists()) {
            throw JobError{source_.dataset() +
                           ": its poles have no column pole_id, so nothing says which pole is "
                           "which; if the column was renamed, name it pole_id again, else assess "
                           "by a job file that maps it: linewood assess --job JOB.json --out "
                           "OUT.gpkg"};
        }
        ReadOptions options;
        options.columns = decoder_.used();
        for (const Column& c : wanted_) {
            if (c.index) {
                options.columns->push_back(*c.index);
            }
        }
        std::sort(options.columns->begin(), options.columns->end());
        options.columns->erase(std::unique(options.columns->begin(), options.columns->end()),
                               options.columns->end());
        FeatureReader reader{source_, schema_.name, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            const std::size_t first = poles_.places.size();
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take(batch, row);
            }
            ground.poles_to_ground({poles_.places.data() + first, poles_.places.size() - first});
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        }
        decoder_.note_damage(reader.layer_damage());
        return std::move(poles_);
    }

private:
    void take(const FeatureBatch& batch, std::size_t row) {
        stated_.refuse_ambiguous(batch, row);
        decoder_.start(batch, row);
        decoder_.note_damage();
        const auto point = batch.point(row);
        if (point.value) {
            decoder_.set_place(Place{point.value->x, point.value->y});
        }
        take_id(decoder_.text(pole_id_));
        if (!point.value) {
            decoder_.note(finding::kPoleWithoutPlace, "geometry", "");
        }
        poles_.places.push_back(point.value.value_or(Point{kNan, kNan}));
        take_condition();
        poles_.circuits.add(decoder_.text(circuit_));
        poles_.species.add(code_form(decoder_.text(species_)));
        poles_.classes.add(decoder_.text(pole_class_));
        for (std::size_t i = 0; i < wanted_.size(); ++i) {
            poles_.attributes[i].second.add(decoder_.text(wanted_[i]));
        }
    }

    void take_id(const std::string& id) {
        const bool known = poles_.ids.add(id) != PoleIndex::kNotFound;
        poles_.repeated.push_back(known || id.empty());
        if (id.empty()) {
            decoder_.note(finding::kPoleIdMissing, "pole_id", "");
            return;
        }
        decoder_.set_feature(id);
        if (known) {
            decoder_.note(finding::kPoleIdDuplicate, "pole_id", id);
        }
    }

    /// What no assessment writes, such as -50 or 1e300, is no strength.
    double strength() {
        const std::optional<double> percent = decoder_.number(remaining_);
        constexpr double kRounding = 1e-6;
        if (percent && (*percent < 0.0 || *percent > 100.0 + kRounding)) {
            decoder_.note(finding::kValueUnreadable,
                          "remaining_pct",
                          fmt::format("{}", *percent),
                          " (a share of 0 to 100 is wanted)");
            return kNan;
        }
        return percent.value_or(kNan);
    }

    void take_condition() {
        // What cannot be read gives no pass.
        poles_.verdicts.push_back(static_cast<Verdict>(
            decoder_.code(verdict_, kVerdicts).value_or(static_cast<int>(Verdict::unassessed))));
        poles_.urgencies.push_back(static_cast<Urgency>(
            decoder_.code(urgency_, kUrgencies).value_or(static_cast<int>(Urgency::none))));
        poles_.roles.push_back(static_cast<LineRole>(
            decoder_.code(role_, kRoles).value_or(static_cast<int>(LineRole::isolated))));
        poles_.remaining_pct.push_back(strength());
        poles_.inspected_on.push_back(decoder_.date(inspected_on_));
        poles_.inspected.push_back(poles_.inspected_on.back() || was_inspected());
        const auto year = decoder_.number(install_year_);
        constexpr double kLeastYear = 1800.0;
        constexpr double kMostYear = 2200.0;
        const bool is_year = year && *year >= kLeastYear && *year <= kMostYear;
        poles_.install_years.push_back(is_year ? std::optional{static_cast<std::int16_t>(*year)}
                                               : std::nullopt);
    }

    /// Of a pole whose inspection has no day: without one it has no verdict, and the reasons say so. Of what is
    /// not wood they do not.
    bool was_inspected() const {
        if (poles_.verdicts.back() != Verdict::unassessed) {
            return true;
        }
        const std::string reasons = ";" + decoder_.text(reasons_) + ";";
        return reasons != ";;" && reasons.find(";not_inspected;") == std::string::npos &&
               reasons.find(";not_wood;") == std::string::npos;
    }

    const Source& source_;
    const LayerSchema& schema_;
    StatedColumns stated_;
    RowDecoder decoder_;
    Column pole_id_, circuit_, species_, pole_class_, install_year_, verdict_, urgency_, role_,
        remaining_, inspected_on_, reasons_;
    std::vector<Column> wanted_;
    AssessedPoles poles_;
};

/// The layer of the spans from pole to pole. Of a dataset assessed in place `spans` is the owner's still.
std::string_view spans_layer(const Source& source) {
    return source.has_layer("line_spans") ? "line_spans" : "spans";
}

/// Reads the spans; the poles are in metres by now.
class SpansReading {
public:
    SpansReading(const AssessedData& data, Findings& findings)
        : data_{data},
          schema_{data.source.schema(spans_layer(data.source))},
          stated_{data.source, data.run, InputLayer::spans, schema_, kSpanFields},
          decoder_{
              schema_, InputLayer::spans, findings, own_columns(InputLayer::spans), stated_.get()},
          from_{decoder_.own_column("from_pole")},
          to_{decoder_.own_column("to_pole")},
          length_{decoder_.own_column("span_length_m")},
          circuit_{decoder_.column("circuit")},
          kind_{decoder_.column("kind")} {}

    AssessedSpans read(std::int64_t& rows, RunMonitor& monitor) {
        ReadOptions options;
        options.columns = decoder_.used();
        FeatureReader reader{data_.source, schema_.name, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take(batch, row);
            }
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        }
        decoder_.note_damage(reader.layer_damage());
        rows = reader.rows_read();
        return std::move(spans_);
    }

private:
    void take(const FeatureBatch& batch, std::size_t row) {
        stated_.refuse_ambiguous(batch, row);
        decoder_.start(batch, row);
        decoder_.note_damage();
        AssessedSpans::Span span;
        // An end that met no pole is null; that was said when the dataset was assessed.
        if (decoder_.is_null(from_) || decoder_.is_null(to_) || !find(from_, span.from) ||
            !find(to_, span.to)) {
            return;
        }
        const std::string kind = code_form(decoder_.text(kind_));
        span.line = kind != "service" && kind != "guy";
        const std::vector<Point> bends = bends_of(batch, row, span);
        span.length_m = length_of(span, bends);
        if (std::isfinite(span.length_m)) {
            spans_.add(span, decoder_.text(circuit_), bends);
        }
    }

    bool find(const Column& column, std::uint32_t& pole) {
        const std::string id = decoder_.text(column);
        pole = data_.poles.ids.find(id);
        if (pole == PoleIndex::kNotFound) {
            decoder_.note(finding::kPoleUnknown, column.name, id);
        }
        return pole != PoleIndex::kNotFound;
    }

    /// The vertices between the two poles, in metres, in the order from `from` to `to`.
    std::vector<Point> bends_of(const FeatureBatch& batch,
                                std::size_t row,
                                const AssessedSpans::Span& span) {
        const auto drawn = batch.path(row);
        std::vector<Point> path;
        for (const auto& part : drawn.value.value_or(LineParts{})) {
            path.insert(path.end(), part.begin(), part.end());
        }
        if (path.size() < 3) {
            return {};
        }
        data_.ground->spans_to_ground(path);
        data_.frame->from_ground(path);
        const Point from = data_.poles.places[span.from];
        const auto distance = [&](Point p) { return std::hypot(p.x - from.x, p.y - from.y); };
        if (distance(path.back()) < distance(path.front())) {
            std::reverse(path.begin(), path.end());
        }
        std::vector<Point> bends(path.begin() + 1, path.end() - 1);
        bends.erase(
            std::remove_if(bends.begin(),
                           bends.end(),
                           [](Point p) { return !std::isfinite(p.x) || !std::isfinite(p.y); }),
            bends.end());
        return bends;
    }

    /// The length recorded; of one that no span has, and where none is recorded, that of its path in the plane.
    double length_of(const AssessedSpans::Span& span, const std::vector<Point>& bends) {
        const auto length = decoder_.number(length_);
        const double drawn = path_length(span, bends);
        if (!length) {
            return drawn;
        }
        const auto refuse = [&](const FindingKind& kind, std::string_view why) {
            decoder_.note(kind, length_.name, plain_number(*length), why);
            return drawn;
        };
        constexpr std::string_view kDrawn = "; the way from pole to pole stands for it";
        // Half the girth of the earth, pi x 6,378,137 m (WGS 84): nothing is farther away.
        constexpr double kFarthestM = 20'037'509.0;
        if (*length < 0.0) {
            return refuse(finding::kValueNegative, kDrawn);
        }
        if (*length > kFarthestM) {
            return refuse(finding::kValueUnreadable,
                          " (longer than half the girth of the earth)" + std::string{kDrawn});
        }
        // Two poles may stand at one place.
        constexpr double kApartM = 1.0;
        return *length == 0.0 && drawn > kApartM ? refuse(finding::kValueZero, kDrawn) : *length;
    }

    double path_length(const AssessedSpans::Span& span, const std::vector<Point>& bends) const {
        Point last = data_.poles.places[span.from];
        double length = 0.0;
        for (const Point p : bends) {
            length += std::hypot(p.x - last.x, p.y - last.y);
            last = p;
        }
        const Point end = data_.poles.places[span.to];
        return length + std::hypot(end.x - last.x, end.y - last.y);
    }

    const AssessedData& data_;
    const LayerSchema& schema_;
    StatedColumns stated_;
    RowDecoder decoder_;
    Column from_, to_, length_, circuit_, kind_;
    AssessedSpans spans_;
};

/// Coordinates of a layer that states no system, where all of them could be longitude and latitude.
void refuse_degrees(const Source& source, const std::vector<Point>& places) {
    bool any = false;
    for (const Point p : places) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y)) {
            continue;
        }
        any = true;
        if (std::abs(p.x) > 360.0 || std::abs(p.y) > 90.0) {
            return;
        }
    }
    if (any) {
        throw JobError{source.dataset() +
                       ": the poles layer states no coordinate system, and its coordinates look "
                       "like degrees, which are no distances; state the system (EPSG:4326) and "
                       "assess again, or say with --plane-unit what they are in"};
    }
}

}  // namespace

std::optional<Point> AssessedData::layer_point(std::uint32_t pole) const {
    return poles.has_place(pole) ? std::optional{frame->to_layer(poles.places[pole])}
                                 : std::nullopt;
}

AssessedData read_assessed(const std::string& dataset,
                           const AssessedReading& wanted,
                           Findings& findings,
                           RunMonitor& monitor) {
    AssessedData data{Source::open(dataset), {}, {}, {}, {}, nullptr, std::nullopt};
    data.run = read_assessed_run(data.source);
    const LayerSchema& schema = data.source.schema("poles");
    data.poles_crs_wkt = schema.crs_wkt;
    const std::string_view spans = spans_layer(data.source);
    const bool has_spans = wanted.spans && data.source.has_layer(spans);
    const double unit = wanted.plane_metres_per_unit.value_or(1.0);
    data.ground = std::make_unique<GroundFrame>(
        schema.crs_wkt, has_spans ? &data.source.schema(spans).crs_wkt : nullptr, unit, findings);
    PolesReading poles{data.source, data.run, findings};
    for (const std::string& name : wanted.attributes) {
        poles.want(name);
    }
    monitor.stage("read poles", schema.feature_count);
    data.poles = poles.read(*data.ground, monitor);
    data.pole_rows = data.poles.size();
    if (!data.ground->on_earth() && !wanted.plane_metres_per_unit) {
        refuse_degrees(data.source, data.poles.places);
    }
    data.frame = MetricFrame::around(*data.ground, data.poles.places, unit, wanted.metric_crs);
    data.frame->from_ground(data.poles.places);
    if (has_spans) {
        monitor.stage("read spans", data.source.schema(spans).feature_count);
        data.spans = SpansReading{data, findings}.read(data.span_rows, monitor);
    } else if (wanted.spans) {
        findings.push_back(make_finding(finding::kLayerMissing, InputLayer::spans, -1, "", ""));
    }
    return data;
}

}  // namespace linewood
