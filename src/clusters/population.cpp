#include "src/clusters/population.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>
#include <tuple>

#include "assess/condition/condition_findings.hpp"
#include "assess/wood/wood_tables.hpp"
#include "geo/cluster/decay_labels.hpp"
#include "geo/cluster/id_order.hpp"
#include "geo/io/value_text.hpp"
#include "src/job/job_error.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

void order_nodes(const AssessedPoles& poles, Population& out) {
    std::vector<std::string_view> ids(poles.size());
    for (std::uint32_t i = 0; i < poles.size(); ++i) {
        ids[i] = poles.ids.id(i);
    }
    out.node_of.assign(poles.size(), Population::kNoNode);
    for (const std::uint32_t pole : id_order(ids)) {
        if (poles.repeated[pole]) {
            ++out.repeated;
            continue;
        }
        out.node_of[pole] = static_cast<std::uint32_t>(out.pole_of.size());
        out.pole_of.push_back(pole);
    }
}

void order_edges(const AssessedSpans& spans, Population& out) {
    std::vector<std::uint32_t> order;
    for (std::uint32_t i = 0; i < spans.size(); ++i) {
        const auto& s = spans[i];
        if (s.line && out.node_of[s.from] != Population::kNoNode &&
            out.node_of[s.to] != Population::kNoNode) {
            order.push_back(i);
        }
    }
    const auto key = [&](std::uint32_t i) {
        const std::uint32_t a = out.node_of[spans[i].from];
        const std::uint32_t b = out.node_of[spans[i].to];
        return std::tuple{std::min(a, b), std::max(a, b), spans[i].length_m};
    };
    std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        return key(a) < key(b);
    });
    out.edges.reserve(order.size());
    for (const std::uint32_t i : order) {
        const auto [a, b, length] = key(i);
        out.edges.push_back({a, b, length});
        out.edge_span.push_back(i);
    }
}

/// Whether the pole is in the population; counts it where it is not.
bool counts(const AssessedData& data, const ClusterJob& job, std::uint32_t pole, Population& out) {
    if (data.poles.verdicts[pole] == Verdict::unassessed) {
        ++(data.poles.inspected[pole] ? out.without_verdict : out.not_inspected);
        return false;
    }
    if (job.strength_below_pct && !data.poles.has_strength(pole)) {
        ++out.without_strength;
        return false;
    }
    if (!data.poles.has_place(pole)) {
        ++out.without_place;
        return false;
    }
    return true;
}

/// Spellings of a species are one stratum: what assess knows by name or alias by its code, of what it does not know the
/// spellings that differ in case, spaces, hyphens, underscores and brackets only.
class SpeciesNames {
public:
    explicit SpeciesNames(const TextColumn& column) {
        const WoodTables& tables = WoodTables::built_in();
        for (const std::string& text : column.values()) {
            const auto known = tables.find_species(text);
            std::string name = known ? tables.species(*known).code : code_form(text);
            const auto [least, first] = names_.emplace(species_key(text), name);
            if (!first) {
                least->second = std::min(least->second, name);
            }
        }
    }
    std::string_view name(std::string_view text) const { return names_.at(species_key(text)); }

private:
    std::map<std::string, std::string> names_;
};

bool is_species(const Stratifier& by) { return code_form(by.field) == "species"; }

std::string band_name(std::string_view text, const Stratifier& by) {
    if (text.empty()) {
        return "not recorded";
    }
    if (by.band <= 0.0) {
        return std::string{text};
    }
    const auto number = parse_number(text);
    if (number.status != ValueStatus::ok) {
        throw JobError{"--strata " + by.field + "/" + plain_number(by.band) + ": \"" +
                       std::string{text} + "\" is no number; leave the band away"};
    }
    const double from = std::floor(*number.value / by.band) * by.band;
    return plain_number(from) + " to " + plain_number(from + by.band);
}

void make_strata(const AssessedData& data, const ClusterJob& job, Population& out) {
    if (job.strata.empty()) {
        return;
    }
    std::vector<std::string> names(out.counted.size());
    std::map<std::string, std::uint32_t> known;
    for (const Stratifier& by : job.strata) {
        const TextColumn& column = data.poles.attribute(by.field);
        std::optional<SpeciesNames> species;
        if (is_species(by)) {
            species.emplace(column);
        }
        for (std::size_t i = 0; i < names.size(); ++i) {
            const std::string_view text = column.text(out.pole(i));
            names[i] += (names[i].empty() ? "" : ", ") +
                        band_name(species ? species->name(text) : text, by);
        }
    }
    for (const std::string& name : names) {
        known.emplace(name, 0U);
    }
    for (auto& [name, number] : known) {
        number = static_cast<std::uint32_t>(out.strata.size());
        out.strata.push_back(name);
    }
    for (const std::string& name : names) {
        out.stratum.push_back(known.at(name));
    }
}

/// What the strata leave to chance.
void look_at_strata(Population& out) {
    std::vector<StratumTotal> totals(std::max<std::size_t>(1, out.strata.size()));
    for (std::size_t i = 0; i < out.counted.size(); ++i) {
        StratumTotal& total = totals[out.stratum.empty() ? 0U : out.stratum[i]];
        ++total.poles;
        total.decayed += out.decayed[i];
    }
    for (const StratumTotal& total : totals) {
        out.alone += !out.strata.empty() && total.poles == 1 ? 1 : 0;
        out.can_vary = out.can_vary || (total.decayed > 0 && total.decayed < total.poles);
    }
}

}  // namespace

double Population::rate() const {
    return counted.empty()
               ? 0.0
               : static_cast<double>(decayed_count) / static_cast<double>(counted.size());
}

double Population::median_span_m() const {
    std::vector<double> lengths;
    lengths.reserve(edges.size());
    for (const SpanEdge& e : edges) {
        lengths.push_back(e.length_m);
    }
    if (lengths.empty()) {
        return 0.0;
    }
    const auto middle = lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2);
    std::nth_element(lengths.begin(), middle, lengths.end());
    return *middle;
}

std::vector<std::string> strata_columns(const ClusterJob& job) {
    std::vector<std::string> columns;
    for (const Stratifier& by : job.strata) {
        if (std::find(columns.begin(), columns.end(), by.field) == columns.end()) {
            columns.push_back(by.field);
        }
    }
    return columns;
}

bool is_decayed(const AssessedData& data, const ClusterJob& job, std::uint32_t pole) {
    if (job.strength_below_pct) {
        // Limits are met within 1e-9 relative.
        return data.poles.remaining_pct[pole] < *job.strength_below_pct * (1.0 - 1e-9);
    }
    return std::find(job.decayed.begin(), job.decayed.end(), data.poles.verdicts[pole]) !=
           job.decayed.end();
}

Population make_population(const AssessedData& data, const ClusterJob& job) {
    Population out;
    order_nodes(data.poles, out);
    order_edges(data.spans, out);
    for (std::uint32_t node = 0; node < out.pole_of.size(); ++node) {
        const std::uint32_t pole = out.pole_of[node];
        if (!counts(data, job, pole, out)) {
            continue;
        }
        out.counted.push_back(node);
        out.counted_without_strength += data.poles.has_strength(pole) ? 0 : 1;
        out.decayed.push_back(is_decayed(data, job, pole) ? 1 : 0);
        out.decayed_count += out.decayed.back();
        out.places.push_back(data.poles.places[pole]);
    }
    make_strata(data, job, out);
    look_at_strata(out);
    return out;
}

}  // namespace linewood
