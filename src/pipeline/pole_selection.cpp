#include "src/pipeline/pole_selection.hpp"

#include <algorithm>
#include <optional>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/ordered_pipeline.hpp"
#include "src/pipeline/row_decoder.hpp"
#include "src/pipeline/run_reader.hpp"

namespace linewood {
namespace {

constexpr std::size_t kNearest = 3;
constexpr std::size_t kShownLength = 80;

/// An id for a message: cut, and without what a terminal would obey.
std::string shown(std::string_view id) {
    std::string text{id.substr(0, kShownLength)};
    for (char& c : text) {
        c = static_cast<unsigned char>(c) < 0x20U || c == 0x7F ? '?' : c;
    }
    return "\"" + text + (id.size() > kShownLength ? "...\"" : "\"");
}

[[noreturn]] void throw_unknown(const std::string& id,
                                const PoleStore& poles,
                                const std::string& of) {
    std::vector<std::string_view> ids;
    ids.reserve(poles.size());
    for (std::uint32_t i = 0; i < poles.ids.size(); ++i) {
        ids.push_back(poles.ids.id(i));
    }
    std::string message = "there is no pole " + shown(id);
    const auto near = nearest_words(id, ids, kNearest);
    for (const std::string_view other : near) {
        message +=
            (other.data() == near.front().data() ? "; the nearest ids are " : ", ") + shown(other);
    }
    if (near.empty()) {
        message += " and none like it; look at the column pole_id";
    }
    throw DataError{of, "poles", message};
}

/// Adds each pole once.
class Picked {
public:
    explicit Picked(std::size_t poles) : seen_(poles, false) {}
    void add(std::uint32_t pole) {
        if (!seen_[pole]) {
            seen_[pole] = true;
            poles_.push_back(pole);
        }
    }
    std::vector<std::uint32_t> poles() && { return std::move(poles_); }

private:
    std::vector<bool> seen_;
    std::vector<std::uint32_t> poles_;
};

PoleSelection by_id(const WorksheetJob& job, const RunData& data, const std::string& dataset) {
    Picked picked{data.poles.size()};
    for (const std::string& id : job.pole_ids) {
        const std::uint32_t pole = data.poles.ids.find(trimmed(id));
        if (pole == PoleIndex::kNotFound) {
            throw_unknown(id, data.poles, dataset);
        }
        picked.add(pole);
    }
    return {std::move(picked).poles(), 0};
}

/// A reader of the poles that a filter holds of, with its first batch: some formats understand a filter
/// only when they read.
FeatureReader filtered_reader(const InputLayerRef& layer,
                              const std::string& where,
                              FeatureBatch& first) {
    ReadOptions options;
    options.geometry = false;
    options.where = where;
    try {
        FeatureReader reader{layer.source, layer.layer, options};
        reader.next(first);
        return reader;
    } catch (const DataError& e) {
        std::string columns;
        for (const Field& f : layer.schema().fields) {
            columns += (columns.empty() ? "" : ", ") + f.name;
        }
        throw JobError{"--where: " + std::string{e.what()} + "; the columns are " + columns};
    }
}

PoleSelection by_filter(const InputLayerRef& layer, const WorksheetJob& job, const RunData& data) {
    PoleSelection selection;
    Picked picked{data.poles.size()};
    Findings ignored;  // told when the layer was read
    RowDecoder decoder{layer.schema(), InputLayer::poles, ignored, {}, layer.columns.get()};
    const Column id_column = decoder.column("pole_id");
    FeatureBatch batch;
    FeatureReader reader = filtered_reader(layer, job.where, batch);
    for (bool more = batch.size() > 0; more; more = reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            decoder.start(batch, row);
            const std::uint32_t pole = data.poles.ids.find(decoder.text(id_column));
            if (pole == PoleIndex::kNotFound) {
                ++selection.without_id;
            } else {
                picked.add(pole);
            }
        }
    }
    selection.poles = std::move(picked).poles();
    return selection;
}

/// Those of `poles` that need work: all are assessed for it, in parallel.
std::vector<std::uint32_t> only_needing_work(const std::vector<std::uint32_t>& poles,
                                             const WorksheetJob& job,
                                             const RunData& data,
                                             RunMonitor& monitor) {
    constexpr std::size_t kChunk = 1024;
    monitor.stage("assess poles", static_cast<std::int64_t>(poles.size()));
    std::vector<std::uint32_t> kept;
    std::size_t next = 0;
    using Chunk = std::vector<std::uint32_t>;
    run_in_order<Chunk, Chunk>(
        [&]() -> std::optional<Chunk> {
            const std::size_t first = next;
            next = std::min(poles.size(), next + kChunk);
            const auto at = poles.begin() + static_cast<std::ptrdiff_t>(first);
            return first < next
                       ? std::optional{Chunk(at, at + static_cast<std::ptrdiff_t>(next - first))}
                       : std::nullopt;
        },
        [&](const Chunk& chunk) {
            Chunk needing;
            Findings ignored;
            for (const std::uint32_t pole : chunk) {
                if (needs_work(assess_pole_of(data, job, pole, data.direction(pole), ignored))) {
                    needing.push_back(pole);
                }
                ignored.clear();
            }
            return needing;
        },
        [&](const Chunk& needing) {
            kept.insert(kept.end(), needing.begin(), needing.end());
            monitor.advance(kChunk);
        },
        job.threads);
    return kept;
}

}  // namespace

bool needs_work(const PoleAssessment& a) {
    return a.verdict == Verdict::replace || a.verdict == Verdict::stub ||
           (a.verdict == Verdict::treat && !a.reasons.has(Reason::treated));
}

PoleSelection select_poles(const InputLayers& inputs,
                           const WorksheetJob& job,
                           const RunData& data,
                           RunMonitor& monitor) {
    const auto& layer = inputs[InputLayer::poles];
    PoleSelection selection;
    if (!job.pole_ids.empty()) {
        selection = by_id(job, data, layer ? layer->source.dataset() : "the spans");
    } else if (!job.where.empty()) {
        if (!layer) {
            throw JobError{"--where: the poles are made from the spans and have no columns"};
        }
        selection = by_filter(*layer, job, data);
    } else {
        for (std::uint32_t i = 0; i < data.poles.size(); ++i) {
            selection.poles.push_back(i);
        }
    }
    if (job.needing_work) {
        selection.poles = only_needing_work(selection.poles, job, data, monitor);
    }
    return selection;
}

}  // namespace linewood
