#include "src/site/site_poles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <tuple>
#include <unordered_map>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/site/pole_schema.hpp"
#include "src/site/site_places.hpp"
#include "src/site/site_script.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 3> kUrgencies{"now", "soon", "routine"};
constexpr std::array<std::string_view, 5> kVerdicts{
    "replace", "stub", "treat", "unassessed", "serviceable"};

template <std::size_t size>
std::size_t rank_of(const std::array<std::string_view, size>& words, const std::string& word) {
    return static_cast<std::size_t>(std::find(words.begin(), words.end(), word) - words.begin());
}

auto rank(const PoleKey& key) {
    return std::make_tuple(rank_of(kUrgencies, key.urgency),
                           rank_of(kVerdicts, key.verdict),
                           key.remaining_pct.value_or(std::numeric_limits<double>::infinity()),
                           key.row);
}

bool has_reason(const std::string& reasons, std::string_view reason) {
    std::size_t begin = 0;
    while (begin < reasons.size()) {
        const std::size_t end = std::min(reasons.find(';', begin), reasons.size());
        if (std::string_view{reasons}.substr(begin, end - begin) == reason) {
            return true;
        }
        begin = end + 1;
    }
    return false;
}

std::size_t needed_column(const LayerSchema& schema,
                          const std::string& dataset,
                          std::string_view name) {
    const auto index = schema.field_index(name);
    if (!index) {
        throw DataError{dataset,
                        "poles",
                        "has no column " + std::string{name} +
                            "; assess it first: linewood assess IN --out OUT.gpkg"};
    }
    return *index;
}

const ShownColumn* column_named(const std::vector<ShownColumn>& columns, std::string_view name) {
    const auto found = std::find_if(
        columns.begin(), columns.end(), [&](const ShownColumn& c) { return c.name == name; });
    return found == columns.end() ? nullptr : &*found;
}

/// The first pass: what ranks the poles, how many there are and where.
class KeyReading {
public:
    KeyReading(const Source& source,
               const LayerSchema& schema,
               const PoleChoice& choice,
               const std::vector<ShownColumn>& columns)
        : source_{source},
          schema_{schema},
          choice_{choice},
          circuit_{column_named(columns, "circuit")},
          inspected_on_{column_named(columns, "inspected_on")},
          verdict_{needed_column(schema_, source.dataset(), "verdict")},
          urgency_{needed_column(schema_, source.dataset(), "urgency")},
          remaining_{needed_column(schema_, source.dataset(), "remaining_pct")},
          reasons_{needed_column(schema_, source.dataset(), "reasons")},
          pole_id_{needed_column(schema_, source.dataset(), "pole_id")} {}

    void read(SitePoles& poles, RunMonitor& monitor) {
        ReadOptions options;
        options.columns = std::vector{verdict_, urgency_, remaining_, reasons_, pole_id_};
        for (const ShownColumn* column : {circuit_, inspected_on_}) {
            if (column != nullptr) {
                options.columns->push_back(column->index);
            }
        }
        std::sort(options.columns->begin(), options.columns->end());
        options.geometry = false;
        FeatureReader reader{source_, schema_.name, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take(batch, row, poles);
                take_words(batch, row, poles.counts);
            }
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        }
        poles.whole = poles.counts.poles <= choice_.most;
        if (!poles.whole) {
            keep_worst(poles.keys);
            std::sort(poles.keys.begin(), poles.keys.end(), is_worse);
        }
    }

private:
    void take(const FeatureBatch& batch, std::size_t row, SitePoles& poles) {
        PoleKey key{poles.counts.poles++,
                    batch.text(row, pole_id_),
                    batch.text(row, verdict_),
                    batch.text(row, urgency_),
                    batch.number(row, remaining_).value,
                    false};
        if (!key.verdict.empty()) {
            ++poles.counts.by_verdict[key.verdict];
        }
        key.needs_work =
            key.verdict == "replace" || key.verdict == "stub" ||
            (key.verdict == "treat" && !has_reason(batch.text(row, reasons_), "treated"));
        poles.counts.needing_work += key.needs_work ? 1U : 0U;
        poles.keys.push_back(std::move(key));
        if (poles.keys.size() > choice_.most + 2 * choice_.worst) {
            keep_worst(poles.keys);
        }
    }

    void take_words(const FeatureBatch& batch, std::size_t row, PoleCounts& counts) const {
        if (circuit_ != nullptr) {
            std::string circuit = shown_value(batch, row, *circuit_);
            if (circuit == "null" || circuit == "\"\"") {
                ++counts.without_circuit;
            } else {
                counts.circuits.insert(std::move(circuit));
            }
        }
        if (inspected_on_ != nullptr) {
            if (const auto date = batch.date(row, inspected_on_->index).value) {
                if (choice_.today && *date > *choice_.today) {
                    ++counts.after_that;
                } else {
                    counts.years.insert(date->ymd().year);
                }
            }
        }
    }

    void keep_worst(std::vector<PoleKey>& keys) const {
        if (keys.size() > choice_.worst) {
            const auto end = keys.begin() + static_cast<std::ptrdiff_t>(choice_.worst);
            std::nth_element(keys.begin(), end, keys.end(), is_worse);
            keys.erase(end, keys.end());
        }
    }

    const Source& source_;
    const LayerSchema& schema_;
    const PoleChoice& choice_;
    const ShownColumn* circuit_;
    const ShownColumn* inspected_on_;
    std::size_t verdict_, urgency_, remaining_, reasons_, pole_id_;
};

/// The second pass: all values of the poles that are kept, and the places of all.
class ValueReading {
public:
    ValueReading(const Source& source, const LayerSchema& schema, SitePoles& poles)
        : source_{source},
          schema_{schema},
          places_{schema_.crs_wkt, source.dataset(), "poles"},
          pole_id_{needed_column(schema_, source.dataset(), "pole_id")},
          verdict_{needed_column(schema_, source.dataset(), "verdict")},
          poles_{poles} {
        for (std::size_t i = 0; i < poles.keys.size(); ++i) {
            slot_of_[poles.keys[i].row] = i;
        }
        poles.lon.assign(poles.keys.size(), "null");
        poles.lat.assign(poles.keys.size(), "null");
        poles.values.assign(poles.columns.size(), std::vector<std::string>(poles.keys.size()));
    }

    void read(RunMonitor& monitor) {
        FeatureReader reader{source_, schema_.name, ReadOptions{}};
        FeatureBatch batch;
        std::size_t first = 0;
        while (reader.next(batch)) {
            const std::vector<Point> places = places_of(batch);
            for (std::size_t row = 0; row < batch.size(); ++row) {
                take_place(places[row]);
                if (!poles_.whole) {
                    poles_.index.add(first + row,
                                     batch.text(row, pole_id_),
                                     batch.text(row, verdict_),
                                     places[row]);
                }
                const auto slot = slot_of_.find(first + row);
                if (slot != slot_of_.end()) {
                    take_values(batch, row, places[row], slot->second);
                }
            }
            first += batch.size();
            monitor.advance(static_cast<std::int64_t>(batch.size()));
        }
        if (first != poles_.counts.poles) {
            throw DataError{
                source_.dataset(), "poles", "the layer changed while it was read; run again"};
        }
    }

private:
    std::vector<Point> places_of(const FeatureBatch& batch) const {
        constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
        std::vector<Point> places;
        places.reserve(batch.size());
        for (std::size_t row = 0; row < batch.size(); ++row) {
            places.push_back(batch.point(row).value.value_or(Point{kNan, kNan}));
        }
        places_.to_wgs84(places);
        return places;
    }

    void take_place(Point p) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y)) {
            return;
        }
        ++poles_.counts.placed;
        if (!poles_.counts.bounds) {
            poles_.counts.bounds = LonLatBox{p.x, p.y, p.x, p.y};
        }
        LonLatBox& box = *poles_.counts.bounds;
        box.west = std::min(box.west, p.x);
        box.south = std::min(box.south, p.y);
        box.east = std::max(box.east, p.x);
        box.north = std::max(box.north, p.y);
    }

    void take_values(const FeatureBatch& batch, std::size_t row, Point place, std::size_t slot) {
        if (std::isfinite(place.x) && std::isfinite(place.y)) {
            poles_.lon[slot] = script_degrees(place.x);
            poles_.lat[slot] = script_degrees(place.y);
        }
        for (std::size_t c = 0; c < poles_.columns.size(); ++c) {
            poles_.values[c][slot] = shown_value(batch, row, poles_.columns[c]);
        }
    }

    const Source& source_;
    const LayerSchema& schema_;
    SitePlaces places_;
    std::size_t pole_id_, verdict_;
    SitePoles& poles_;
    std::unordered_map<std::size_t, std::size_t> slot_of_;
};

std::string array_text(const std::vector<std::string>& values) {
    std::string out = "[";
    for (std::size_t i = 0; i < values.size(); ++i) {
        out += i == 0 ? "" : ",";
        out += values[i];
    }
    return out + "]";
}

/// The different words of a column and, pole by pole, which one; -1 = none.
std::string coded_text(const std::vector<std::string>& values) {
    std::unordered_map<std::string_view, std::size_t> code_of;
    std::string words;
    std::string codes;
    for (const std::string& value : values) {
        codes += codes.empty() ? "" : ",";
        if (value == "null") {
            codes += "-1";
            continue;
        }
        const auto [at, is_new] = code_of.emplace(value, code_of.size());
        if (is_new) {
            words += (words.empty() ? "" : ",") + value;
        }
        codes += std::to_string(at->second);
    }
    return "{\"words\":[" + words + "],\"codes\":[" + codes + "]}";
}

std::string column_text(const ShownColumn& column, const std::vector<std::string>& values) {
    std::string plain = array_text(values);
    if (column.kind != ShownKind::text && column.kind != ShownKind::date) {
        return plain;
    }
    std::string coded = coded_text(values);
    return coded.size() < plain.size() ? coded : plain;
}

std::string rows_text(const std::vector<PoleKey>& keys) {
    std::vector<std::string> values;
    values.reserve(keys.size());
    for (const PoleKey& key : keys) {
        values.push_back(std::to_string(key.row));
    }
    return array_text(values);
}

std::string pages_text(const std::vector<PoleKey>& keys, const PagesByRow& pages) {
    std::vector<std::string> values;
    values.reserve(keys.size());
    for (const PoleKey& key : keys) {
        const auto page = pages.find(key.row);
        values.push_back(page == pages.end() ? "null" : script_string(page->second));
    }
    return array_text(values);
}

}  // namespace

bool is_worse(const PoleKey& a, const PoleKey& b) { return rank(a) < rank(b); }

SitePoles read_site_poles(const Source& source,
                          UnitSystem units,
                          const PoleChoice& choice,
                          RunMonitor& monitor) {
    SitePoles poles;
    const LayerSchema schema = pole_schema(source);
    poles.columns = pole_columns(schema, units);
    monitor.stage("rank poles", schema.feature_count);
    KeyReading{source, schema, choice, poles.columns}.read(poles, monitor);
    monitor.stage("read poles", static_cast<std::int64_t>(poles.counts.poles));
    ValueReading{source, schema, poles}.read(monitor);
    return poles;
}

std::string poles_script(const SitePoles& poles,
                         const PagesByRow& worksheets,
                         const PagesByRow& sections,
                         const PagesByRow& projects) {
    std::string out = "window.LINEWOOD_POLES = {\"count\":" + std::to_string(poles.keys.size()) +
                      ",\"of\":" + std::to_string(poles.counts.poles) +
                      (poles.whole ? "" : ",\n\"row\":" + rows_text(poles.keys)) +
                      ",\n\"lon\":" + array_text(poles.lon) +
                      ",\n\"lat\":" + array_text(poles.lat) + ",\n\"columns\":{";
    for (std::size_t c = 0; c < poles.columns.size(); ++c) {
        out += (c == 0 ? "\n" : ",\n") + script_string(poles.columns[c].name) + ":" +
               column_text(poles.columns[c], poles.values[c]);
    }
    out += "},\n\"worksheet\":" + pages_text(poles.keys, worksheets) +
           ",\n\"section\":" + pages_text(poles.keys, sections) +
           ",\n\"project\":" + pages_text(poles.keys, projects);
    return out + "};\n";
}

}  // namespace linewood
