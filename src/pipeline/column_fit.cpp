#include "src/pipeline/column_fit.hpp"

#include <algorithm>
#include <array>

#include "assess/wood/pole_class.hpp"
#include "assess/wood/wood_tables.hpp"
#include "src/job/date_pattern.hpp"
#include "src/pipeline/job_draft.hpp"

namespace linewood {
namespace {

/// The share of different texts that `holds`; null markers aside.
template <typename Holds>
double share_of_values(const ColumnProfile& column, const Holds& holds) {
    std::int64_t all = 0;
    std::int64_t good = 0;
    for (const auto& [text, count] : column.values) {
        if (!is_null_marker(text)) {
            ++all;
            good += holds(text) ? 1 : 0;
        }
    }
    return all == 0 ? 0.0 : static_cast<double>(good) / static_cast<double>(all);
}

double number_share(const ColumnProfile& column) {
    return column.filled == 0
               ? 0.5
               : static_cast<double>(column.numbers) / static_cast<double>(column.filled);
}

double number_fit(const ContractField& field, const ColumnProfile& column) {
    const bool year = field.name == "install_year";
    if (year && column.all_days()) {
        return 0.4;
    }
    if (year && column.least && (*column.least < 0 || *column.most > 2100)) {
        return 0.3;
    }
    return number_share(column) > 0.9 && column.leading_zeros == 0 ? 1.0 : 0.2;
}

double boolean_fit(const ColumnProfile& column) {
    const double known =
        share_of_values(column, [](const std::string& t) { return guess_answer(t).has_value(); });
    return !column.many && column.values.size() <= 6 && known == 1.0 ? 1.0 : 0.35;
}

double code_fit(const ContractField& field, const ColumnProfile& column) {
    if (column.many || column.field.type == FieldType::real) {
        return 0.25;
    }
    const double known = share_of_values(
        column, [&](const std::string& t) { return guess_code(field, t).has_value(); });
    // Of a column without one known code only the name speaks.
    return known > 0.99 ? 1.15 : known > 0.0 ? 0.6 + 0.35 * known : 0.45;
}

double text_fit(const ContractField& field, const ColumnProfile& column) {
    const FieldType type = column.field.type;
    if (field.name == "pole_class") {
        const double known = share_of_values(
            column, [](const std::string& t) { return parse_pole_class(t).has_value(); });
        return known > 0.8 ? 1.05 : 0.5;
    }
    if (field.name == "species") {
        static const WoodTables tables = WoodTables::built_in();
        const double known = share_of_values(
            column, [](const std::string& t) { return tables.find_species(t).has_value(); });
        return known > 0.7 ? 1.3 : 0.75;
    }
    if (field.name == "notes") {
        return type == FieldType::text ? 1.0 : 0.3;
    }
    if (field.name == "circuit") {
        return type == FieldType::real && column.many ? 0.5 : 1.0;
    }
    // What is left are ids.
    const bool odd = type == FieldType::real || type == FieldType::boolean || column.all_days();
    return odd ? 0.4 : 1.0;
}

/// How well what stands in a column suits a field; 1 where nothing speaks against it.
double value_fit(const ContractField& field, const ColumnProfile& column) {
    if (column.filled == 0) {
        return 0.8;
    }
    switch (field.quantity) {
        case Quantity::girth:
        case Quantity::length:
        case Quantity::angle:
        case Quantity::azimuth:
        case Quantity::number:
            return number_fit(field, column);
        case Quantity::date:
            return column.all_days() || !date_patterns(column).empty() ? 1.0 : 0.2;
        case Quantity::boolean:
            return boolean_fit(column);
        case Quantity::code:
            return code_fit(field, column);
        case Quantity::text:
            return text_fit(field, column);
    }
    return 0.0;
}

double fit(const ContractField& field, const ColumnProfile& column, const NameWords& name) {
    return std::min(name_fit(field, name) * value_fit(field, column), 1.0);
}

}  // namespace

bool is_null_marker(const std::string& text) {
    constexpr std::string_view kMarkers[] = {"-",
                                             "--",
                                             "n/a",
                                             "N/A",
                                             "na",
                                             "NA",
                                             "null",
                                             "NULL",
                                             "none given",
                                             "?",
                                             "-9999",
                                             "-999",
                                             "unknown"};
    return std::find(std::begin(kMarkers), std::end(kMarkers), text) != std::end(kMarkers);
}

/// Patterns by which all its texts are days.
std::vector<std::string_view> date_patterns(const ColumnProfile& column) {
    std::vector<std::string_view> fitting;
    for (const std::string_view pattern : usual_date_patterns()) {
        if (share_of_values(column, [&](const std::string& text) {
                return date_by_pattern(text, pattern).has_value();
            }) == 1.0) {
            fitting.push_back(pattern);
        }
    }
    // MM/DD is a case of M/D.
    if (fitting.size() > 1) {
        const auto same = [&](std::string_view narrow, std::string_view wide) {
            const auto has = [&](std::string_view p) {
                return std::find(fitting.begin(), fitting.end(), p) != fitting.end();
            };
            if (has(narrow) && has(wide)) {
                fitting.erase(std::find(fitting.begin(), fitting.end(), wide));
            }
        };
        same("MM/DD/YYYY*", "M/D/YYYY*");
        same("DD/MM/YYYY*", "D/M/YYYY*");
        same("DD.MM.YYYY*", "D.M.YYYY*");
    }
    return fitting;
}

std::vector<FieldPlacing::Pair> FieldPlacing::all_pairs() const {
    std::vector<Pair> pairs;
    for (const ContractField& field : input_fields(role_)) {
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            const double sure = fit(field, *columns_[i], names_[i]);
            if (sure > 0.25) {
                pairs.push_back({&field, i, sure});
            }
        }
    }
    std::stable_sort(
        pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) { return a.sure > b.sure; });
    return pairs;
}

std::vector<FieldPlacing::Pair> FieldPlacing::place() const {
    std::vector<Pair> placed;
    const auto pairs = all_pairs();
    for (const Pair& pair : pairs) {
        const bool taken = std::any_of(placed.begin(), placed.end(), [&](const Pair& p) {
            return p.field == pair.field || p.column == pair.column;
        });
        if (pair.sure < kLeastGuess || taken) {
            continue;
        }
        placed.push_back({pair.field, pair.column, less_a_rival(pair, pairs)});
    }
    return placed;
}

/// Two columns that suit a field alike, or two fields for a column, make neither sure.
double FieldPlacing::less_a_rival(const Pair& pair, const std::vector<Pair>& pairs) const {
    for (const Pair& other : pairs) {
        const bool rival = (other.field == pair.field) != (other.column == pair.column);
        if (rival && other.sure > pair.sure - 0.05 && pair.sure < 1.0) {
            return std::min(pair.sure, kLikelyGuess - 0.01);
        }
    }
    return pair.sure;
}

}  // namespace linewood
