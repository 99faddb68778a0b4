#include "src/pipeline/empty_condition.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "geo/io/feature_reader.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/column_profile.hpp"
#include "src/pipeline/mapped_layer.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostShown = 8;

/// The texts in single quotes.
std::vector<std::string> literals_of(const std::string& where) {
    std::vector<std::string> literals;
    for (std::size_t open = where.find('\''); open != std::string::npos;) {
        const std::size_t close = where.find('\'', open + 1);
        if (close == std::string::npos) {
            break;
        }
        literals.push_back(where.substr(open + 1, close - open - 1));
        open = where.find('\'', close + 1);
    }
    return literals;
}

std::string lower_case(std::string text) {
    for (char& c : text) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return text;
}

/// What the columns that a condition names hold, and what of it is near to what it asks for.
std::string told_values(const std::string& where, const LayerProfile& profile) {
    std::string told;
    const auto literals = literals_of(where);
    for (const ColumnProfile& column : profile.columns) {
        if (lower_case(where).find(lower_case(column.field.name)) == std::string::npos ||
            column.values.empty()) {
            continue;
        }
        std::vector<std::string_view> values;
        for (const auto& [value, count] : column.values) {
            values.push_back(value);
        }
        std::string nearest;
        for (const std::string& literal : literals) {
            nearest += nearest.empty() ? did_you_mean(literal, values) : "";
        }
        const bool all = !column.many && values.size() <= kMostShown;
        values.resize(std::min(values.size(), kMostShown));
        told += fmt::format("; {} holds \"{}\"{}{}",
                            column.field.name,
                            fmt::join(values, "\", \""),
                            all ? "" : " and more",
                            nearest);
    }
    return told;
}

bool has_rows(const InputLayerRef& ref) {
    ReadOptions options;
    options.geometry = false;
    FeatureReader reader{ref.source, ref.layer, options};
    FeatureBatch batch;
    return reader.next(batch) && batch.size() > 0;
}

}  // namespace

std::optional<std::string> empty_condition(const SourceMapping& mapping,
                                           InputLayer layer,
                                           const std::optional<Source>& shared) {
    if (mapping.where.empty()) {
        return std::nullopt;
    }
    SourceMapping conditioned = mapping;
    conditioned.groups.clear();
    conditioned.fields.clear();
    SourceMapping whole = conditioned;
    whole.where.clear();
    Findings ignored;
    if (has_rows(open_mapped({conditioned}, layer, shared, ignored))) {
        return std::nullopt;
    }
    const InputLayerRef all = open_mapped({whole}, layer, shared, ignored);
    const LayerProfile profile = profile_layer(all.source, all.layer);
    if (profile.rows == 0) {
        return std::nullopt;
    }
    return fmt::format("{}.where: \"{}\" is met by none of the {} rows of layer {}{}",
                       mapping.path,
                       mapping.where,
                       profile.rows,
                       all.layer,
                       told_values(mapping.where, profile));
}

}  // namespace linewood
