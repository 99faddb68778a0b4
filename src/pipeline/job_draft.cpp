#include "src/pipeline/job_draft.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "assess/condition/condition_findings.hpp"
#include "assess/wood/pole_class.hpp"
#include "assess/wood/wood_tables.hpp"
#include "geo/io/composed_layer.hpp"
#include "src/job/date_pattern.hpp"
#include "src/job/draft_words.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

constexpr std::array kRoles{
    InputLayer::poles, InputLayer::spans, InputLayer::inspections, InputLayer::defects};
constexpr std::array<std::string_view, 9> kDatePatterns{"YYYY-MM-DD*",
                                                        "DD.MM.YYYY*",
                                                        "MM/DD/YYYY*",
                                                        "DD/MM/YYYY*",
                                                        "M/D/YYYY*",
                                                        "D/M/YYYY*",
                                                        "D.M.YYYY*",
                                                        "YYYYMMDD",
                                                        "DD-MON-YYYY*"};

/// Usual sizes in metres, for telling units apart. Own choice, no source.
struct UsualSize {
    std::string_view field;
    double least;
    double most;
};
constexpr UsualSize kUsualSizes[] = {{"length", 7.0, 40.0},
                                     {"setting_depth", 1.0, 4.0},
                                     {"recorded_circumference", 0.55, 1.8},
                                     {"original_circumference", 0.55, 1.8},
                                     {"present_circumference", 0.5, 1.8},
                                     {"width", 0.02, 0.3},
                                     {"depth", 0.01, 0.2},
                                     {"extent", 0.02, 2.0},
                                     {"shell_thickness", 0.01, 0.2}};

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

/// Patterns by which all its texts are days.
std::vector<std::string_view> date_patterns(const ColumnProfile& column) {
    std::vector<std::string_view> fitting;
    for (const std::string_view pattern : kDatePatterns) {
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
    return known > 0.99 ? 1.15 : 0.6 + 0.35 * known;
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

/// Which columns are which fields: the surest pair first, each column and each field once.
class FieldPlacing {
public:
    FieldPlacing(InputLayer role,
                 const std::vector<const ColumnProfile*>& columns,
                 const std::vector<NameWords>& names)
        : role_{role}, columns_{columns}, names_{names} {}

    struct Pair {
        const ContractField* field;
        std::size_t column;
        double sure;
    };

    std::vector<Pair> all_pairs() const {
        std::vector<Pair> pairs;
        for (const ContractField& field : input_fields(role_)) {
            for (std::size_t i = 0; i < columns_.size(); ++i) {
                const double sure = fit(field, *columns_[i], names_[i]);
                if (sure > 0.25) {
                    pairs.push_back({&field, i, sure});
                }
            }
        }
        std::stable_sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) {
            return a.sure > b.sure;
        });
        return pairs;
    }

    std::vector<Pair> place() const {
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

private:
    /// Two columns that suit a field alike, or two fields for a column, make neither sure.
    double less_a_rival(const Pair& pair, const std::vector<Pair>& pairs) const {
        for (const Pair& other : pairs) {
            const bool rival = (other.field == pair.field) != (other.column == pair.column);
            if (rival && other.sure > pair.sure - 0.05 && pair.sure < 1.0) {
                return std::min(pair.sure, kLikelyGuess - 0.01);
            }
        }
        return pair.sure;
    }

    InputLayer role_;
    const std::vector<const ColumnProfile*>& columns_;
    const std::vector<NameWords>& names_;
};

std::vector<const ColumnProfile*> columns_of(const LayerProfile& profile) {
    std::vector<const ColumnProfile*> columns;
    for (const ColumnProfile& column : profile.columns) {
        columns.push_back(&column);
    }
    return columns;
}

std::vector<NameWords> names_of(const LayerProfile& profile) {
    std::vector<NameWords> names;
    for (const ColumnProfile& column : profile.columns) {
        names.push_back(name_words(column.field.name));
    }
    return names;
}

/// How well a layer suits one of the four, 0 and up.
double role_fit(InputLayer role, const LayerProfile& profile) {
    double sum = 1.5 * std::max(layer_name_fit(role, profile.layer),
                                layer_name_fit(
                                    role, std::filesystem::path{profile.dataset}.stem().string()));
    const GeometryKind kind = profile.geometry;
    if (role == InputLayer::poles) {
        sum += kind == GeometryKind::point ? 1.2 : kind == GeometryKind::line ? -9.0 : 0.0;
    } else if (role == InputLayer::spans) {
        sum += kind == GeometryKind::line ? 3.0 : -9.0;
    } else {
        sum += kind == GeometryKind::none ? 0.6 : kind == GeometryKind::line ? -9.0 : 0.0;
    }
    const auto columns = columns_of(profile);
    const auto names = names_of(profile);
    for (const auto& pair : FieldPlacing{role, columns, names}.place()) {
        const bool shared = pair.field->name == "pole_id" || pair.field->name == "notes" ||
                            pair.field->name == "circuit";
        sum += shared ? 0.1 : 0.5 * pair.sure;
    }
    return sum;
}

/// Names that differ in one run of digits: `pocket_1_width`, with what stands there.
std::map<std::string, std::vector<std::string>> repeated_names(const LayerProfile& profile) {
    std::map<std::string, std::vector<std::string>> patterns;
    for (const ColumnProfile& column : profile.columns) {
        const std::string& name = column.field.name;
        const auto first =
            std::find_if(name.begin(), name.end(), [](char c) { return c >= '0' && c <= '9'; });
        if (first == name.end()) {
            continue;
        }
        const auto last =
            std::find_if(first, name.end(), [](char c) { return c < '0' || c > '9'; });
        patterns[std::string(name.begin(), first) + std::string{kGroupMark} +
                 std::string(last, name.end())]
            .emplace_back(first, last);
    }
    for (auto it = patterns.begin(); it != patterns.end();) {
        it = it->second.size() < 2 ? patterns.erase(it) : std::next(it);
    }
    return patterns;
}

/// Fills in what a placed column needs to be read.
class FieldDetails {
public:
    FieldDetails(FieldGuess& guess, const ColumnProfile& column, const NameWords& name)
        : guess_{guess}, column_{column}, name_{name} {}

    void fill() {
        for (const auto& [text, count] : column_.values) {
            if (is_null_marker(text) && column_.filled > 2 * count) {
                guess_.nulls.push_back(text);
            }
        }
        if (is_dimension(guess_.field->quantity)) {
            find_unit();
        } else if (guess_.field->quantity == Quantity::date) {
            find_pattern();
        } else if (guess_.field->quantity == Quantity::code ||
                   guess_.field->quantity == Quantity::boolean) {
            find_codes();
        }
    }

private:
    void find_unit() {
        const Quantity q = guess_.field->quantity;
        if (q == Quantity::angle || q == Quantity::azimuth) {
            guess_.unit = "deg";
            const bool clock = q == Quantity::azimuth && column_.most && *column_.most <= 12.0;
            guess_.unit_sure = clock ? 0.5 : 0.9;
            guess_.unit_why = clock ? "all are 12 or less: hours on the clock?" : "an angle";
            return;
        }
        if (q == Quantity::girth) {
            for (const std::string& word : name_.words) {
                if (word == "radius" || word == "rad") {
                    guess_.measure = "radius";
                } else if (word.substr(0, 3) == "dia" || word == "d") {
                    guess_.measure = "diameter";
                }
            }
        }
        if (!name_.unit.empty() && name_.unit != "deg") {
            guess_.unit = name_.unit;
            guess_.unit_why = "the unit is in the name";
            return;
        }
        by_values();
    }

    /// The units in which the middle of the values is a usual size.
    void by_values() {
        const auto* const usual =
            std::find_if(std::begin(kUsualSizes), std::end(kUsualSizes), [&](const UsualSize& u) {
                return u.field == guess_.field->name;
            });
        if (usual == std::end(kUsualSizes) || column_.sample.empty()) {
            return;
        }
        const double factor = guess_.measure == "diameter" ? 3.14159
                              : guess_.measure == "radius" ? 6.28319
                                                           : 1.0;
        std::vector<std::string> fitting;
        for (const NamedUnit& unit : units_of(guess_.field->quantity)) {
            const double metres = column_.median() * unit.size * factor;
            if (metres >= usual->least && metres <= usual->most) {
                fitting.emplace_back(unit.name);
            }
        }
        if (fitting.size() == 1) {
            guess_.unit = fitting.front();
            guess_.unit_why =
                fmt::format("the values (middle {:.4g}) are usual in it alone", column_.median());
            guess_.unit_sure = 0.75;
        } else if (!fitting.empty()) {
            guess_.remarks.push_back(fmt::format("values (middle {:.4g}) would be usual in {}",
                                                 column_.median(),
                                                 fmt::join(fitting, " or ")));
            guess_.usual_units = fitting;
        }
    }

    void find_pattern() {
        if (column_.field.type != FieldType::text && column_.all_days()) {
            return;
        }
        if (column_.all_days()) {
            return;
        }
        const auto patterns = date_patterns(column_);
        if (patterns.empty()) {
            guess_.remarks.emplace_back("no pattern was found that all dates are written by");
            return;
        }
        guess_.date_pattern = patterns.front();
        if (patterns.size() > 1) {
            guess_.sure = std::min(guess_.sure, kLeastGuess);
            guess_.remarks.push_back(
                fmt::format("day and month could be exchanged: {} fits as well", patterns[1]));
        }
    }

    void find_codes() {
        const bool answers = guess_.field->quantity == Quantity::boolean;
        bool needed = false;
        for (const auto& [text, count] : column_.values) {
            if (std::find(guess_.nulls.begin(), guess_.nulls.end(), text) != guess_.nulls.end()) {
                continue;
            }
            const auto word = answers ? std::nullopt : guess_code(*guess_.field, text);
            const auto answer = answers ? guess_answer(text) : std::nullopt;
            if (!word && !answer) {
                guess_.unknown_codes.emplace_back(text, count);
                needed = true;
                continue;
            }
            const std::string meaning = word      ? "\"" + std::string{word->word} + "\""
                                        : *answer ? "true"
                                                  : "false";
            guess_.codes.emplace_back(text, meaning);
            needed = needed || (word ? code_form(text) != word->word : !is_read_as_answer(text));
            if (word && word->sure < kLikelyGuess) {
                guess_.remarks.push_back(fmt::format("\"{}\" may mean something else", text));
                guess_.sure = std::min(guess_.sure, 0.6);
            }
        }
        if (column_.many) {
            guess_.remarks.emplace_back("there are more values than were looked at");
        }
        if (!needed) {
            guess_.codes.clear();
        }
    }

    static bool is_read_as_answer(const std::string& text) {
        constexpr std::string_view kRead[] = {
            "true", "false", "t", "f", "yes", "no", "y", "n", "1", "0"};
        const std::string form = code_form(text);
        return std::find(std::begin(kRead), std::end(kRead), form) != std::end(kRead);
    }

    FieldGuess& guess_;
    const ColumnProfile& column_;
    const NameWords& name_;
};

SourceGuess place_source(InputLayer role, const LayerProfile& profile, double role_sure) {
    SourceGuess source;
    source.role = role;
    source.role_sure = role_sure;
    source.profile = &profile;
    const auto columns = columns_of(profile);
    const auto names = names_of(profile);
    const FieldPlacing placing{role, columns, names};
    const auto placed = placing.place();
    for (const ContractField& field : input_fields(role)) {
        for (const auto& pair : placed) {
            if (pair.field == &field) {
                FieldGuess guess;
                guess.field = &field;
                guess.column = profile.columns[pair.column].field.name;
                guess.sure = pair.sure;
                FieldDetails{guess, profile.columns[pair.column], names[pair.column]}.fill();
                source.fields.push_back(std::move(guess));
            }
        }
    }
    const auto pairs = placing.all_pairs();
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const auto is_placed = [&](const auto& pair) { return pair.column == i; };
        if (std::none_of(placed.begin(), placed.end(), is_placed)) {
            const auto best = std::find_if(pairs.begin(), pairs.end(), is_placed);
            source.left.push_back({profile.columns[i].field.name,
                                   best == pairs.end() ? nullptr : best->field,
                                   best == pairs.end() ? 0.0 : best->sure});
        }
    }
    return source;
}

std::string first_metric(const std::vector<std::string>& units) {
    const auto metric = std::find_if(units.begin(), units.end(), [](const std::string& unit) {
        return unit == "mm" || unit == "cm" || unit == "m";
    });
    return metric == units.end() ? std::string{} : *metric;
}

/// Sizes without a unit of their own follow those of the same source whose unit is known: inches and feet
/// go together, and so do those of ten.
void share_units(SourceGuess& source) {
    bool us = false;
    bool si = false;
    for (const FieldGuess& guess : source.fields) {
        us = us || guess.unit == "in" || guess.unit == "ft";
        si = si || guess.unit == "mm" || guess.unit == "cm" || guess.unit == "m";
    }
    if (us == si) {
        return;
    }
    for (FieldGuess& guess : source.fields) {
        const bool size =
            guess.field->quantity == Quantity::girth || guess.field->quantity == Quantity::length;
        if (!size || !guess.unit.empty()) {
            continue;
        }
        if (us) {
            guess.unit = guess.field->unit;
        } else {
            guess.unit = first_metric(guess.usual_units);
        }
        guess.unit_sure = 0.6;
        guess.unit_why =
            us ? "the other sizes are in inches and feet" : "the other sizes are metric";
    }
}

/// Places repeated columns, each by its first, as fields of defects.
void place_repeated(const LayerProfile& profile, SourceGuess& source) {
    const auto patterns = repeated_names(profile);
    std::vector<const ColumnProfile*> columns;
    std::vector<NameWords> names;
    std::vector<std::string> marked;
    for (const auto& [pattern, groups] : patterns) {
        const std::string first = group_column(pattern, groups.front());
        for (const ColumnProfile& column : profile.columns) {
            if (column.field.name == first) {
                columns.push_back(&column);
                names.push_back(name_words(composed_name(pattern)));
                marked.push_back(pattern);
            }
        }
    }
    for (const auto& pair : FieldPlacing{InputLayer::defects, columns, names}.place()) {
        FieldGuess guess;
        guess.field = pair.field;
        guess.column = marked[pair.column];
        guess.sure = std::min(pair.sure, 0.8);
        FieldDetails{guess, *columns[pair.column], names[pair.column]}.fill();
        const auto& groups = patterns.at(marked[pair.column]);
        source.groups = source.groups.size() < groups.size() ? groups : source.groups;
        source.fields.push_back(std::move(guess));
    }
}

/// Repeated columns of a layer as a source of defects.
std::optional<SourceGuess> wide_source(const SourceGuess& whole) {
    SourceGuess source;
    source.role = InputLayer::defects;
    source.role_sure = 0.6;
    source.profile = whole.profile;
    place_repeated(*whole.profile, source);
    const auto has = [&](std::string_view name) {
        return std::any_of(source.fields.begin(), source.fields.end(), [&](const FieldGuess& g) {
            return g.field->name == name;
        });
    };
    const bool pocket = has("width");
    if (!pocket && !has("shell_thickness")) {
        return std::nullopt;
    }
    if (!has("kind")) {
        FieldGuess kind;
        kind.field = contract_field(InputLayer::defects, "kind");
        kind.constant = pocket ? "external_pocket" : "internal_rot";
        kind.sure = 0.6;
        source.fields.push_back(std::move(kind));
    }
    for (const FieldGuess& guess : whole.fields) {
        const bool shared = guess.field->name == "pole_id" || guess.field->name == "inspected_on";
        if (shared && !has(guess.field->name)) {
            FieldGuess same = guess;
            same.field = contract_field(InputLayer::defects, guess.field->name);
            source.fields.insert(source.fields.begin(), std::move(same));
        }
    }
    return source;
}

}  // namespace

JobDraft draft_job(const std::vector<LayerProfile>& profiles) {
    struct RoleFit {
        std::size_t profile;
        InputLayer role;
        double fit;
    };
    std::vector<RoleFit> fits;
    for (std::size_t i = 0; i < profiles.size(); ++i) {
        for (const InputLayer role : kRoles) {
            fits.push_back({i, role, role_fit(role, profiles[i])});
        }
    }
    std::stable_sort(
        fits.begin(), fits.end(), [](const RoleFit& a, const RoleFit& b) { return a.fit > b.fit; });
    JobDraft draft;
    std::set<std::size_t> used;
    std::set<InputLayer> filled;
    for (const RoleFit& f : fits) {
        // Lines may be spread over several layers; of the others the best stands.
        const bool again = filled.count(f.role) != 0 && f.role != InputLayer::spans;
        if (f.fit < 1.5 || again || used.count(f.profile) != 0) {
            continue;
        }
        used.insert(f.profile);
        filled.insert(f.role);
        draft.sources.push_back(
            place_source(f.role, profiles[f.profile], std::min(f.fit / 4.0, 1.0)));
    }
    std::vector<SourceGuess> wide;
    for (SourceGuess& source : draft.sources) {
        if (source.role == InputLayer::poles || source.role == InputLayer::inspections) {
            if (auto repeated = wide_source(source)) {
                wide.push_back(std::move(*repeated));
            }
        }
        share_units(source);
    }
    for (SourceGuess& source : wide) {
        share_units(source);
        draft.sources.push_back(std::move(source));
    }
    std::stable_sort(draft.sources.begin(),
                     draft.sources.end(),
                     [](const SourceGuess& a, const SourceGuess& b) { return a.role < b.role; });
    for (std::size_t i = 0; i < profiles.size(); ++i) {
        if (used.count(i) == 0) {
            draft.left.push_back(&profiles[i]);
        }
    }
    return draft;
}

}  // namespace linewood
