#include "src/pipeline/mapping_check.hpp"

#include <map>
#include <utility>

#include <fmt/format.h>

#include "geo/io/feature_reader.hpp"
#include "src/job/contract_fields.hpp"
#include "src/pipeline/mapped_layer.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

/// Reads one layer, asking every mapped field of every row.
class LayerCheck {
public:
    LayerCheck(const InputLayerRef& ref, InputLayer layer, Findings& findings)
        : ref_{ref}, layer_{layer}, decoder_{ref.schema(), layer, findings, {}, ref.columns.get()} {
        for (const ContractField& field : input_fields(layer)) {
            columns_.push_back(decoder_.column(field.name));
        }
        held_.assign(columns_.size(), 0);
    }

    std::string run() {
        ReadOptions options;
        options.columns = decoder_.used();
        options.geometry = false;
        FeatureReader reader{ref_.source, ref_.layer, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                decoder_.start(batch, row);
                take();
            }
        }
        decoder_.finish();
        return told(reader.rows_read());
    }

private:
    void take() {
        const auto fields = input_fields(layer_);
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            if (!columns_[i].exists() || decoder_.is_null(columns_[i])) {
                continue;
            }
            ++held_[i];
            switch (fields[i].quantity) {
                case Quantity::number:
                case Quantity::girth:
                case Quantity::length:
                case Quantity::angle:
                case Quantity::azimuth:
                    decoder_.number(columns_[i]);
                    break;
                case Quantity::date:
                    decoder_.date(columns_[i]);
                    break;
                case Quantity::boolean:
                    decoder_.answer(columns_[i]);
                    break;
                case Quantity::code:
                    ask_code(columns_[i], fields[i]);
                    break;
                case Quantity::text:
                    break;
            }
        }
    }

    void ask_code(const Column& column, const ContractField& field) {
        std::vector<CodeWord> words;
        for (const std::string_view word : field.words) {
            words.push_back({word, 0});
        }
        if (!field.open) {
            decoder_.code(column, words);
        }
    }

    std::string told(std::int64_t rows) const {
        std::string text = fmt::format("{}: {} rows\n", name_of(layer_), rows);
        const auto fields = input_fields(layer_);
        for (const SourceMapping& mapping : ref_.columns->mappings()) {
            text += fmt::format(
                "  from {}{}{}{}\n",
                mapping.dataset.empty() ? "the dataset named" : mapping.dataset,
                mapping.layer.empty() ? "" : ", layer " + mapping.layer,
                mapping.where.empty() ? "" : ", where " + mapping.where,
                mapping.groups.empty()
                    ? ""
                    : fmt::format(", one row for each of {}", fmt::join(mapping.groups, ", ")));
            for (const FieldMapping& field : mapping.fields) {
                if (mapping.by_own_names && !ref_.columns->slot(field.field)) {
                    continue;
                }
                text += fmt::format("    {:24}{}\n", field.field, shown_sources(field));
            }
        }
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            if (columns_[i].exists() && held_[i] < rows) {
                text += fmt::format(
                    "  {} holds something in {} of {} rows\n", fields[i].name, held_[i], rows);
            }
        }
        return text;
    }

    const InputLayerRef& ref_;
    InputLayer layer_;
    RowDecoder decoder_;
    std::vector<Column> columns_;
    std::vector<std::int64_t> held_;
};

}  // namespace

std::string mapping_check_text(const JobFile& job, const std::string& input) {
    InputAddresses addresses;
    if (!input.empty()) {
        addresses.dataset = input;
    }
    addresses.mapped = job.layers;
    for (std::size_t i = 0; i < job.layers.size(); ++i) {
        addresses.wanted[i] = !job.layers[i].empty();
    }
    Findings findings;
    const InputLayers inputs = open_inputs(addresses, findings);
    std::string text;
    for (std::size_t i = 0; i < inputs.layers.size(); ++i) {
        if (inputs.layers[i] && inputs.layers[i]->columns) {
            text += LayerCheck{*inputs.layers[i], static_cast<InputLayer>(i), findings}.run();
        }
    }
    refuse_unknown_codes(inputs);
    std::map<std::string, std::pair<std::int64_t, const Finding*>> doubts;
    for (const Finding& f : findings) {
        auto& doubt =
            doubts[std::string{name_of(f.layer)} + "." + f.field + ": " + std::string{f.code}];
        ++doubt.first;
        doubt.second = doubt.second == nullptr ? &f : doubt.second;
    }
    for (const auto& [what, doubt] : doubts) {
        text += fmt::format("{}: {} ({} times, first \"{}\")\n",
                            what,
                            doubt.second->message,
                            doubt.first,
                            doubt.second->value);
    }
    text += doubts.empty() ? "the job file fits its layers\n"
                           : "the job file fits its layers, with the doubts above\n";
    return text;
}

}  // namespace linewood
