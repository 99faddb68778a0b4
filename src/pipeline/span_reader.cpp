#include "src/pipeline/span_reader.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include "geo/io/feature_reader.hpp"
#include "geo/network/layer_paths.hpp"
#include "geo/network/network_builder.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr std::array<CodeWord, 3> kKinds{{{"line", static_cast<int>(SpanKind::line)},
                                          {"service", static_cast<int>(SpanKind::service)},
                                          {"guy", static_cast<int>(SpanKind::guy)}}};

constexpr const char* kTakenStraight =
    " (a line is wanted; taken straight between the poles it names, where it names two)";

class SpanReading {
public:
    SpanReading(const InputLayerRef& layer,
                const PoleStore& poles,
                const SpanRules& rules,
                NetworkBuilder& builder,
                bool by_name,
                Findings& findings)
        : layer_{layer},
          poles_{poles},
          frame_{rules.frame},
          lines_{rules.lines},
          paths_{rules.frame.ground(),
                 [this](std::span<Point> points) { frame_.spans_to_ground(points); },
                 rules.frame.spans_keep_straight()},
          builder_{builder},
          by_name_{by_name},
          findings_{findings},
          decoder_{layer.schema(),
                   InputLayer::spans,
                   findings,
                   layer.written_by_us ? own_columns(InputLayer::spans)
                                       : std::span<const std::string_view>{},
                   layer.columns.get()},
          span_id_{decoder_.column("span_id")},
          from_{decoder_.column("from_pole")},
          to_{decoder_.column("to_pole")},
          resolved_from_{decoder_.own_column("from_pole")},
          resolved_to_{decoder_.own_column("to_pole")},
          circuit_{decoder_.column("circuit")},
          voltage_{decoder_.column("voltage_kv")},
          kind_{decoder_.column("kind")} {
        if (!by_name_ && (from_.exists() || to_.exists())) {
            findings.push_back(
                make_finding(finding::kSpanNamesUnused, InputLayer::spans, -1, "", ""));
        }
    }

    void run() {
        ReadOptions options;
        options.columns = decoder_.used();
        FeatureReader reader{layer_.source, layer_.layer, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take(batch, row);
            }
        }
        decoder_.note_damage(reader.layer_damage());
    }

    std::int64_t greatest_fid() const { return greatest_fid_; }

private:
    void take(const FeatureBatch& batch, std::size_t row) {
        decoder_.start(batch, row);
        const std::size_t before = findings_.size();
        greatest_fid_ = std::max(greatest_fid_, batch.fid(row));
        std::string id = decoder_.text(span_id_);
        if (!id.empty()) {
            decoder_.set_feature(std::move(id));
        }
        decoder_.note_damage();
        SpanFeature f;
        f.row = static_cast<std::uint32_t>(batch.first_row()) + static_cast<std::uint32_t>(row);
        const std::string from = decoder_.text(from_);
        const std::string to = decoder_.text(to_);
        f.from = named(from, decoder_.text(resolved_from_));
        f.to = named(to, decoder_.text(resolved_to_));
        f.circuit = circuit_number(decoder_.text(circuit_));
        if (const auto kv = decoder_.number(voltage_)) {
            f.voltage_kv = static_cast<float>(*kv);
        }
        if (const auto kind = decoder_.code(kind_, kKinds)) {
            f.kind = static_cast<SpanKind>(*kind);
        }
        if (f.kind == SpanKind::line && !lines_.is_line(f.row)) {
            f.kind = SpanKind::service;
        }
        auto path = batch.path(row);
        f.drawing_told = note_drawing(path.status) || is_told_unreadable(before);
        std::vector<std::span<const Point>> parts;
        std::vector<LayerPaths::Path> carried;
        std::vector<std::span<const PathPlace>> places;
        if (path.value) {
            carried.reserve(path.value->size());
            for (std::vector<Point>& part : *path.value) {
                carried.push_back(paths_.carry(std::move(part)));
                parts.emplace_back(carried.back().points);
                places.emplace_back(carried.back().places);
            }
        }
        f.parts = parts;
        f.places = places;
        if (findings_.size() > before) {
            if (path.value) {
                show_from(before, parts.front().front());
            } else {
                show_undrawn(before, batch.first_vertex(row), f);
            }
        }
        builder_.add(f);
    }

    /// Says what is drawn in place of a line. @return whether anything is.
    bool note_drawing(ShapeStatus status) {
        if (status != ShapeStatus::other_type) {
            return decoder_.note_shape(status);
        }
        decoder_.note(
            finding::kGeometryUnused, "geometry", decoder_.geometry_type(), kTakenStraight);
        return true;
    }

    bool is_told_unreadable(std::size_t first) const {
        return std::any_of(
            findings_.begin() + static_cast<std::ptrdiff_t>(first),
            findings_.end(),
            [](const Finding& f) { return f.code == finding::kGeometryUnreadable.code; });
    }

    /// The same of a row without a usable line: at what is drawn, else at a pole it names.
    void show_undrawn(std::size_t first, std::optional<Point> vertex, const SpanFeature& f) {
        if (vertex) {
            frame_.spans_to_ground({&*vertex, 1});
            show_from(first, *vertex);
            return;
        }
        const std::uint32_t pole = f.from.index != kNone ? f.from.index : f.to.index;
        for (std::size_t i = first; i < findings_.size() && pole != kNone; ++i) {
            findings_[i].place = poles_.place(pole);
        }
    }

    /// Puts the findings about a row on the map.
    void show_from(std::size_t first, Point on_ground) {
        const Point at = frame_.to_poles_layer(on_ground);
        if (!std::isfinite(at.x) || !std::isfinite(at.y)) {
            return;
        }
        for (std::size_t i = first; i < findings_.size(); ++i) {
            findings_[i].place = Place{at.x, at.y};
        }
    }

    /// @param resolved in a dataset the tool wrote before: the pole at this end. Where it is not the one
    ///        named, this is a piece that was cut from a route, and the name is of the route's end.
    NamedPole named(const std::string& id, const std::string& resolved) const {
        NamedPole n;
        if (!by_name_) {
            return n;
        }
        const bool of_the_route = !resolved.empty() && resolved != id;
        if (of_the_route && poles_.ids.find(id) != PoleIndex::kNotFound) {
            return n;
        }
        n.text = id;
        n.index = poles_.ids.find(id);
        n.unknown = !id.empty() && n.index == PoleIndex::kNotFound;
        return n;
    }

    std::uint32_t circuit_number(std::string name) {
        if (name.empty()) {
            return kNone;
        }
        const auto next = static_cast<std::uint32_t>(circuits_.size());
        return circuits_.try_emplace(std::move(name), next).first->second;
    }

    const InputLayerRef& layer_;
    const PoleStore& poles_;
    const GroundFrame& frame_;
    const LineRows& lines_;
    LayerPaths paths_;
    NetworkBuilder& builder_;
    bool by_name_;
    Findings& findings_;
    RowDecoder decoder_;
    Column span_id_, from_, to_, resolved_from_, resolved_to_, circuit_, voltage_, kind_;
    std::unordered_map<std::string, std::uint32_t> circuits_;
    std::int64_t greatest_fid_ = -1;
};

static_assert(PoleIndex::kNotFound == kNone);

}  // namespace

SpanNetwork read_network(const InputLayers& inputs,
                         const PoleStore& poles,
                         std::span<const Point> on_ground,
                         const SpanRules& rules,
                         Findings& findings) {
    NetworkBuilder builder{rules.frame.ground(), on_ground, rules.settings};
    std::int64_t greatest_fid = -1;
    if (const auto& layer = inputs[InputLayer::spans]) {
        const bool by_name = inputs[InputLayer::poles].has_value();
        SpanReading reading{*layer, poles, rules, builder, by_name, findings};
        reading.run();
        greatest_fid = reading.greatest_fid();
    }
    return {builder.finish(), greatest_fid};
}

LineDirection direction_at(const Network& network, const PoleStore& poles, std::uint32_t pole) {
    LineDirection line = network.direction(pole);
    const auto given = poles.given.find(pole);
    if (given == poles.given.end()) {
        return line;
    }
    line.source = LineSource::given;
    if (given->second.axis) {
        line.axis = *given->second.axis;
    }
    if (given->second.role) {
        line.role = *given->second.role;
    }
    return line;
}

namespace {

/// Does the azimuth given lie further than `limit` from the axis that the spans draw?
bool is_given_off(const Axis& given, const LineDirection& drawn, Angle limit) {
    constexpr double kRounding = 1e-6;  // degrees
    return drawn.axis && drawn.source == LineSource::spans &&
           angle_off(Bearing::degrees(given.degrees()), *drawn.axis).degrees() >
               limit.degrees() + kRounding;
}

}  // namespace

void note_given_off(const Network& network,
                    const PoleStore& poles,
                    Angle limit,
                    Findings& findings) {
    std::vector<std::uint32_t> far;
    for (const auto& [pole, given] : poles.given) {
        if (given.axis && is_given_off(*given.axis, network.direction(pole), limit)) {
            far.push_back(pole);
        }
    }
    std::sort(far.begin(), far.end());
    for (const std::uint32_t pole : far) {
        const double given = poles.given.at(pole).azimuth;
        const Axis drawn = *network.direction(pole).axis;
        Finding f = make_finding(
            finding::kGivenAzimuthOff, InputLayer::poles, -1, "given_azimuth", plain_number(given));
        f.feature = std::string{poles.ids.id(pole)};
        f.message += fmt::format(" (the spans run along {:.1f} degrees, {:.1f} off)",
                                 drawn.degrees(),
                                 angle_off(Bearing::degrees(given), drawn).degrees());
        f.place = poles.place(pole);
        findings.push_back(std::move(f));
    }
}

LineTrust trust_at(const Network& network,
                   const PoleStore& poles,
                   Angle limit,
                   std::uint32_t pole) {
    const auto given = poles.given.find(pole);
    if (given == poles.given.end() || !given->second.axis) {
        return network.trust(pole);
    }
    const bool off = is_given_off(*given->second.axis, network.direction(pole), limit);
    return {off ? LineQuality::weak : LineQuality::sure, QualityReason::given};
}

}  // namespace linewood
