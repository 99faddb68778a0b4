#include "src/pipeline/layer_check.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/value_text.hpp"
#include "src/job/contract_fields.hpp"
#include "src/job/date_pattern.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostUnreadKept = 50;

/// One field in the rows of one source.
struct FieldTally {
    std::int64_t held = 0;
    std::int64_t unread = 0;
    std::vector<std::string> unread_texts;  ///< the first of them
};

class LayerCheck {
public:
    LayerCheck(const InputLayerRef& ref, InputLayer layer, Findings& findings)
        : ref_{ref}, layer_{layer}, decoder_{ref.schema(), layer, findings, {}, ref.columns.get()} {
        for (const ContractField& field : input_fields(layer)) {
            columns_.push_back(decoder_.column(field.name));
        }
        parts_.resize(ref.columns->mappings().size());
        for (Part& part : parts_) {
            part.fields.resize(columns_.size());
        }
    }

    LayerCheckResult run() {
        ReadOptions options;
        options.columns = decoder_.used();
        options.geometry = false;
        FeatureReader reader{ref_.source, ref_.layer, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            Part& part = parts_[batch.part()];
            part.rows += static_cast<std::int64_t>(batch.size());
            for (std::size_t row = 0; row < batch.size(); ++row) {
                decoder_.start(batch, row);
                take(part);
            }
        }
        decoder_.finish();
        return {told(reader.rows_read()), refusals()};
    }

private:
    struct Part {
        std::int64_t rows = 0;
        std::vector<FieldTally> fields;
    };

    void take(Part& part) {
        const auto fields = input_fields(layer_);
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            if (!columns_[i].exists() || decoder_.is_null(columns_[i])) {
                continue;
            }
            FieldTally& tally = part.fields[i];
            ++tally.held;
            if (can_be_read(columns_[i], fields[i])) {
                continue;
            }
            ++tally.unread;
            const auto stored = decoder_.as_stored(columns_[i]);
            if (stored && tally.unread_texts.size() < kMostUnreadKept) {
                tally.unread_texts.push_back(stored->second);
            }
        }
    }

    /// Codes are counted by the decoder, that ends the run with all of them.
    bool can_be_read(const Column& column, const ContractField& field) {
        switch (field.quantity) {
            case Quantity::number:
            case Quantity::girth:
            case Quantity::length:
            case Quantity::angle:
            case Quantity::azimuth:
                return decoder_.number(column).has_value();
            case Quantity::date:
                return decoder_.date(column).has_value();
            case Quantity::boolean:
                decoder_.answer(column);
                return true;
            case Quantity::code:
                ask_code(column, field);
                return true;
            case Quantity::text:
                return true;
        }
        return true;
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

    std::vector<std::string> refusals() const {
        std::vector<std::string> all;
        for (std::size_t part = 0; part < parts_.size(); ++part) {
            for (std::size_t i = 0; i < columns_.size(); ++i) {
                const FieldTally& tally = parts_[part].fields[i];
                if (2 * tally.unread > tally.held) {
                    all.push_back(refusal(ref_.columns->sources(part, *columns_[i].slot).front(),
                                          input_fields(layer_)[i],
                                          tally));
                }
            }
        }
        return all;
    }

    /// Single values are doubts; where most cannot be read the file says something wrong of the column.
    std::string refusal(const ColumnSource& source,
                        const ContractField& field,
                        const FieldTally& tally) const {
        const FieldSource& rule = *source.rule;
        const bool dated = field.quantity == Quantity::date;
        const std::string wanted = !dated ? "a number"
                                   : rule.date_pattern.empty()
                                       ? "a day written YYYY-MM-DD"
                                       : "a day written " + rule.date_pattern;
        return fmt::format("{}: column \"{}\": {} of {} values are not {}, the first \"{}\"{}",
                           rule.date_path.empty() ? rule.path : rule.date_path,
                           rule.column,
                           tally.unread,
                           tally.held,
                           wanted,
                           tally.unread_texts.front(),
                           dated ? nearest_pattern(tally) : nearest_decimal(tally));
    }

    static std::string nearest_pattern(const FieldTally& tally) {
        for (const std::string_view pattern : usual_date_patterns()) {
            const bool all = std::ranges::all_of(tally.unread_texts, [&](const std::string& text) {
                return date_by_pattern(text, pattern).has_value();
            });
            if (all) {
                return fmt::format(" (did you mean \"date\": \"{}\"?)", pattern);
            }
        }
        return {};
    }

    static std::string nearest_decimal(const FieldTally& tally) {
        const bool all = std::ranges::all_of(tally.unread_texts, [](std::string text) {
            std::ranges::replace(text, ',', '.');
            return parse_number(text).value.has_value();
        });
        return all ? " (did you mean \"decimal\": \",\"?)" : "";
    }

    std::string told(std::int64_t rows) const {
        std::string text =
            fmt::format("{}: {} {}\n", name_of(layer_), rows, rows == 1 ? "row" : "rows");
        for (const SourceMapping& mapping : ref_.columns->mappings()) {
            text += told_source(mapping);
        }
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            std::int64_t held = 0;
            for (const Part& part : parts_) {
                held += part.fields[i].held;
            }
            if (columns_[i].exists() && held < rows) {
                text += fmt::format("  {} holds something in {} of {} rows\n",
                                    input_fields(layer_)[i].name,
                                    held,
                                    rows);
            }
        }
        return text;
    }

    std::string told_source(const SourceMapping& mapping) const {
        std::string text = fmt::format(
            "  from {}{}{}{}\n",
            mapping.dataset.empty() ? "the dataset named" : mapping.dataset,
            mapping.layer.empty() ? "" : ", layer " + mapping.layer,
            mapping.where.empty() ? "" : ", where " + mapping.where,
            mapping.groups.empty()
                ? ""
                : fmt::format(", one row for each of {}", fmt::join(mapping.groups, ", ")));
        for (const FieldMapping& field : mapping.fields) {
            if (!mapping.by_own_names || ref_.columns->slot(field.field)) {
                text += fmt::format("    {:24}{}\n", field.field, shown_sources(field));
            }
        }
        return text;
    }

    const InputLayerRef& ref_;
    InputLayer layer_;
    RowDecoder decoder_;
    std::vector<Column> columns_;
    std::vector<Part> parts_;
};

}  // namespace

LayerCheckResult check_layer(const InputLayerRef& ref, InputLayer layer, Findings& findings) {
    return LayerCheck{ref, layer, findings}.run();
}

}  // namespace linewood
