#include "src/pipeline/job_draft.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "geo/io/composed_layer.hpp"
#include "src/job/draft_words.hpp"
#include "src/pipeline/column_fit.hpp"
#include "src/pipeline/field_details.hpp"

namespace linewood {
namespace {

constexpr std::array kRoles{
    InputLayer::poles, InputLayer::spans, InputLayer::inspections, InputLayer::defects};

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
                fill_details(guess, profile.columns[pair.column], names[pair.column]);
                source.fields.push_back(std::move(guess));
            }
        }
    }
    if (role == InputLayer::poles) {
        doubt_sizes_of_no_wood(source);
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
        fill_details(guess, *columns[pair.column], names[pair.column]);
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

/// A table of defects side by side: no layer of defects as it is, but rows that defects are made of.
bool is_wide(const LayerProfile& profile) {
    return wide_source(place_source(InputLayer::inspections, profile, 0.0)).has_value();
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
        const bool wide = f.role == InputLayer::defects && is_wide(profiles[f.profile]);
        draft.sources.push_back(
            wide ? place_source(InputLayer::inspections, profiles[f.profile], 0.5)
                 : place_source(f.role, profiles[f.profile], std::min(f.fit / 4.0, 1.0)));
    }
    std::vector<SourceGuess> wide;
    for (SourceGuess& source : draft.sources) {
        if (source.role == InputLayer::poles || source.role == InputLayer::inspections) {
            if (auto repeated = wide_source(source)) {
                share_units(*repeated, *repeated);
                share_units(*repeated, source);
                wide.push_back(std::move(*repeated));
            }
        }
        share_units(source, source);
    }
    for (SourceGuess& source : wide) {
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
