#include "src/pipeline/recorded_rows.hpp"

#include <algorithm>
#include <functional>
#include <optional>

#include "geo/io/feature_reader.hpp"
#include "src/job/contract_fields.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

using Recorded = std::unordered_map<std::uint32_t, RecordedPole>;

bool is_own(const InputLayerRef& layer, InputLayer which, const std::string& name) {
    if (!layer.written_by_us) {
        return false;
    }
    const std::string form = code_form(name);
    for (const std::string_view own : own_columns(which)) {
        if (form == own) {
            return true;
        }
    }
    return false;
}

/// What a job file maps, under the names of the fields: the stored text with its unit, and the column it is in.
class MappedRecord {
public:
    MappedRecord(const InputLayerRef& layer, InputLayer which)
        : layer_{layer}, decoder_{layer.schema(), which, ignored_, {}, layer.columns.get()} {
        for (const ContractField& field : input_fields(which)) {
            if (Column column = decoder_.column(field.name); column.exists()) {
                columns_.push_back(column);
            }
        }
    }

    /// @param taken gets the names of the columns shown.
    void add(const FeatureBatch& batch,
             std::size_t row,
             RecordedRow& to,
             std::vector<std::string>& taken) {
        decoder_.start(batch, row);
        for (const Column& column : columns_) {
            const auto stored = decoder_.as_stored(column);
            if (!stored) {
                continue;
            }
            std::string text = stored->second;
            if (stored->first.empty()) {
                text += " (by the job file)";
            } else {
                const std::string unit = unit_of(column, stored->first, batch.part());
                text += (unit.empty() ? "" : " " + unit) + " (column " + stored->first + ")";
                taken.push_back(stored->first);
            }
            to.fields.emplace_back(column.name, std::move(text));
        }
    }

private:
    std::string unit_of(const Column& column, const std::string& name, std::size_t part) const {
        for (const ColumnSource& source : layer_.columns->sources(part, *column.slot)) {
            if (source.rule->from == FieldSource::From::column &&
                layer_.schema().fields[source.column].name == name) {
                return (source.rule->measure.empty() ? "" : source.rule->measure + " in ") +
                       source.rule->unit;
            }
        }
        return {};
    }

    const InputLayerRef& layer_;
    Findings ignored_;  // told when the layer was read
    RowDecoder decoder_;
    std::vector<Column> columns_;
};

/// Calls `take` with every row whose position `wanted` is true of.
void read_rows(const InputLayerRef& layer,
               InputLayer which,
               const std::function<bool(std::size_t)>& wanted,
               const std::function<void(std::size_t, RecordedRow)>& take) {
    const auto& fields = layer.schema().fields;
    std::vector<std::size_t> columns;
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (!is_own(layer, which, fields[i].name)) {
            columns.push_back(i);
        }
    }
    ReadOptions options;
    options.columns = columns;
    options.geometry = false;
    FeatureReader reader{layer.source, layer.layer, options};
    FeatureBatch batch;
    std::optional<MappedRecord> mapped;
    if (layer.columns) {
        mapped.emplace(layer, which);
    }
    while (reader.next(batch)) {
        const auto first = static_cast<std::size_t>(batch.first_row());
        for (std::size_t row = 0; row < batch.size(); ++row) {
            if (!wanted(first + row)) {
                continue;
            }
            RecordedRow recorded{batch.fid(row), {}};
            std::vector<std::string> taken;
            if (mapped) {
                mapped->add(batch, row, recorded, taken);
            }
            for (const std::size_t c : columns) {
                std::string text = batch.text(row, c);
                const bool shown =
                    std::find(taken.begin(), taken.end(), fields[c].name) != taken.end();
                if (!trimmed(text).empty() && !shown) {
                    recorded.fields.emplace_back(fields[c].name, std::move(text));
                }
            }
            take(first + row, std::move(recorded));
        }
    }
}

template <typename Store>
void read_joined(const InputLayers& inputs,
                 InputLayer which,
                 const Store& store,
                 std::vector<RecordedRow> RecordedPole::*rows,
                 Recorded& recorded) {
    const auto& layer = inputs[which];
    if (!layer) {
        return;
    }
    read_rows(
        *layer,
        which,
        [&](std::size_t row) {
            return row < store.rows() && recorded.find(store.pole(row)) != recorded.end();
        },
        [&](std::size_t row, RecordedRow recorded_row) {
            auto& of_pole = recorded.at(store.pole(row)).*rows;
            const std::uint32_t place = store.slot(row) - store.first_slot(store.pole(row));
            of_pole.resize(std::max<std::size_t>(of_pole.size(), place + 1U));
            of_pole[place] = std::move(recorded_row);
        });
}

}  // namespace

Recorded read_recorded(const InputLayers& inputs,
                       const RunData& data,
                       std::span<const std::uint32_t> poles) {
    Recorded recorded;
    for (const std::uint32_t pole : poles) {
        recorded[pole];
    }
    if (const auto& layer = inputs[InputLayer::poles]) {
        read_rows(
            *layer,
            InputLayer::poles,
            [&](std::size_t row) {
                return recorded.find(static_cast<std::uint32_t>(row)) != recorded.end();
            },
            [&](std::size_t row, RecordedRow r) {
                recorded[static_cast<std::uint32_t>(row)].pole = std::move(r);
            });
    }
    read_joined(
        inputs, InputLayer::inspections, data.inspections, &RecordedPole::inspections, recorded);
    read_joined(inputs, InputLayer::defects, data.defects, &RecordedPole::defects, recorded);
    return recorded;
}

}  // namespace linewood
