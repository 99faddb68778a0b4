#include "geo/network/line_axis.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

namespace linewood {
namespace {

/// Angles this near to each other are the same: far above the noise of an azimuth (15 nm over a
/// span of 30 m is 3e-8 degrees), far below anything a survey can tell.
constexpr double kSameDegrees = 1e-6;

using Pair = std::pair<std::size_t, std::size_t>;

double known_or_lowest(float voltage_kv) {
    return std::isnan(voltage_kv) ? -std::numeric_limits<double>::infinity()
                                  : static_cast<double>(voltage_kv);
}

/// One neighbour of all arcs in [first, last), which lead to the same pole, the shortest first.
Neighbour merge(std::span<const LineArc> arcs) {
    Neighbour n;
    n.pole = arcs.front().neighbour;
    n.span = arcs.front().span;
    n.azimuth = arcs.front().azimuth;
    n.length_m = arcs.front().length_m;
    for (const LineArc& arc : arcs) {
        if (!std::isnan(arc.voltage_kv) &&
            (std::isnan(n.voltage_kv) || arc.voltage_kv > n.voltage_kv)) {
            n.voltage_kv = arc.voltage_kv;
        }
        n.leaves = n.leaves || arc.leaves;
        n.arrives = n.arrives || !arc.leaves;
        if (arc.circuit != kNone) {
            n.circuits.push_back(arc.circuit);
        }
    }
    std::sort(n.circuits.begin(), n.circuits.end());
    n.circuits.erase(std::unique(n.circuits.begin(), n.circuits.end()), n.circuits.end());
    return n;
}

/// Positions of neighbours among which pairs may be made: those sharing a circuit, or, where no two
/// do, all of them in one group.
std::vector<std::vector<std::size_t>> pairing_groups(std::span<const Neighbour> neighbours) {
    std::vector<std::pair<std::uint32_t, std::size_t>> carried;
    for (std::size_t i = 0; i < neighbours.size(); ++i) {
        for (const std::uint32_t circuit : neighbours[i].circuits) {
            carried.emplace_back(circuit, i);
        }
    }
    std::sort(carried.begin(), carried.end());
    std::vector<std::vector<std::size_t>> groups;
    for (std::size_t begin = 0; begin < carried.size();) {
        std::vector<std::size_t> members;
        std::size_t end = begin;
        for (; end < carried.size() && carried[end].first == carried[begin].first; ++end) {
            members.push_back(carried[end].second);
        }
        if (members.size() > 1) {
            groups.push_back(std::move(members));
        }
        begin = end;
    }
    if (groups.empty()) {
        groups.emplace_back(neighbours.size());
        for (std::size_t i = 0; i < neighbours.size(); ++i) {
            groups.front()[i] = i;
        }
    }
    return groups;
}

/// Leaves in each group only those that can be in a pair of the highest voltage any pair has.
void keep_highest_voltage(std::span<const Neighbour> neighbours,
                          std::vector<std::vector<std::size_t>>& groups) {
    const auto voltage = [&](std::size_t i) { return known_or_lowest(neighbours[i].voltage_kv); };
    double highest = -std::numeric_limits<double>::infinity();
    for (const auto& group : groups) {
        double first = -std::numeric_limits<double>::infinity();
        double second = first;
        for (const std::size_t i : group) {
            second = std::max(second, std::min(first, voltage(i)));
            first = std::max(first, voltage(i));
        }
        highest = std::max(highest, second);
    }
    for (auto& group : groups) {
        std::erase_if(group, [&](std::size_t i) { return voltage(i) < highest; });
    }
    std::erase_if(groups, [](const auto& group) { return group.size() < 2; });
}

/// Looks for the straightest pair of one group: at each member, only those next to the direction
/// opposite to it can be.
class StraightestPair {
public:
    explicit StraightestPair(std::span<const Neighbour> neighbours) : neighbours_{neighbours} {}

    void find_least(const std::vector<std::size_t>& group) {
        for (std::size_t i = 0; i < group.size(); ++i) {
            const std::size_t after = opposite(group, i);
            for (const std::size_t j : {after, before(group, after)}) {
                if (j != i) {
                    least_ = std::min(least_, deflection(group[i], group[j]));
                }
            }
        }
    }

    /// Of all pairs as straight as the least found, the one with the lowest pole index.
    void choose(const std::vector<std::size_t>& group) {
        for (std::size_t i = 0; i < group.size(); ++i) {
            const std::size_t start = opposite(group, i);
            std::size_t j = start;
            for (std::size_t step = 0; step < group.size() && offer(group[i], group[j]); ++step) {
                j = (j + 1) % group.size();
            }
            j = before(group, start);
            for (std::size_t step = 0; step < group.size() && offer(group[i], group[j]); ++step) {
                j = before(group, j);
            }
        }
    }

    Pair chosen() const { return chosen_; }

private:
    double deflection(std::size_t a, std::size_t b) const {
        return deflection_of(neighbours_[a].azimuth, neighbours_[b].azimuth).degrees();
    }

    /// Position in `group` of the first member at or after the direction opposite to member `i`.
    std::size_t opposite(const std::vector<std::size_t>& group, std::size_t i) const {
        const Bearing wanted = Bearing::degrees(neighbours_[group[i]].azimuth.degrees() + 180.0);
        const auto at = std::lower_bound(
            group.begin(), group.end(), wanted, [&](std::size_t member, Bearing b) {
                return neighbours_[member].azimuth < b;
            });
        return at == group.end() ? 0 : static_cast<std::size_t>(at - group.begin());
    }

    static std::size_t before(const std::vector<std::size_t>& group, std::size_t i) {
        return i == 0 ? group.size() - 1 : i - 1;
    }

    bool offer(std::size_t a, std::size_t b) {
        if (a == b || deflection(a, b) > least_ + kSameDegrees) {
            return false;
        }
        const auto poles = [&](Pair p) {
            const std::uint32_t first = neighbours_[p.first].pole;
            const std::uint32_t second = neighbours_[p.second].pole;
            return std::pair(std::min(first, second), std::max(first, second));
        };
        const Pair pair{std::min(a, b), std::max(a, b)};
        if (!any_ || poles(pair) < poles(chosen_)) {
            chosen_ = pair;
            any_ = true;
        }
        return true;
    }

    std::span<const Neighbour> neighbours_;
    double least_ = 360.0;
    Pair chosen_{0, 1};
    bool any_ = false;
};

Bearing opposite_of(Bearing b) { return Bearing::degrees(b.degrees() + 180.0); }

/// The two that give the axis, of two or more neighbours; nothing where none do.
std::optional<Pair> axis_pair(std::span<const Neighbour> neighbours, Angle junction_pair_limit) {
    if (neighbours.size() < 2) {
        return std::nullopt;
    }
    const Pair pair = neighbours.size() == 2 ? Pair{0, 1} : first_pair(neighbours);
    const double deflection =
        deflection_of(neighbours[pair.first].azimuth, neighbours[pair.second].azimuth).degrees();
    if (neighbours.size() > 2 && deflection > junction_pair_limit.degrees() + kSameDegrees) {
        return std::nullopt;
    }
    return pair;
}

/// 1 where the second is greater, -1 where it is less, 0 where they are equal or one is not known.
int rise_of(double from, double to) { return (from < to ? 1 : 0) - (from > to ? 1 : 0); }

}  // namespace

void gather_neighbours(std::vector<LineArc>& arcs, std::vector<Neighbour>& out) {
    out.clear();
    std::sort(arcs.begin(), arcs.end(), [](const LineArc& a, const LineArc& b) {
        return std::tie(a.neighbour, a.length_m, a.span) <
               std::tie(b.neighbour, b.length_m, b.span);
    });
    for (std::size_t begin = 0; begin < arcs.size();) {
        std::size_t end = begin + 1;
        while (end < arcs.size() && arcs[end].neighbour == arcs[begin].neighbour) {
            ++end;
        }
        out.push_back(merge(std::span(arcs).subspan(begin, end - begin)));
        begin = end;
    }
    std::sort(out.begin(), out.end(), [](const Neighbour& a, const Neighbour& b) {
        return std::tie(a.azimuth, a.pole) < std::tie(b.azimuth, b.pole);
    });
}

Angle deflection_of(Bearing a, Bearing b) {
    return Angle::degrees(180.0 - angle_between(a, b).degrees());
}

Axis axis_of(Bearing a, Bearing b) {
    const double turn = Bearing::wrap(b.degrees() - a.degrees(), 360.0);
    return Axis::degrees(a.degrees() + 0.5 * turn + 90.0);
}

std::pair<std::size_t, std::size_t> first_pair(std::span<const Neighbour> neighbours) {
    assert(neighbours.size() >= 2);
    auto groups = pairing_groups(neighbours);
    keep_highest_voltage(neighbours, groups);
    StraightestPair search{neighbours};
    for (const auto& group : groups) {
        search.find_least(group);
    }
    for (const auto& group : groups) {
        search.choose(group);
    }
    return search.chosen();
}

LineChoice choose_line(std::span<const Neighbour> neighbours, const NetworkSettings& settings) {
    LineChoice choice;
    LineDirection& line = choice.line;
    if (neighbours.empty()) {
        return choice;
    }
    line.source = LineSource::spans;
    if (neighbours.size() == 1) {
        line.role = LineRole::dead_end;
        line.axis = Axis::along(neighbours[0].azimuth);
        return choice;
    }
    const auto [a, b] = neighbours.size() == 2 ? Pair{0, 1} : first_pair(neighbours);
    choice.first = a;
    choice.second = b;
    const Angle deflection = deflection_of(neighbours[a].azimuth, neighbours[b].azimuth);
    const auto within = [&](Angle limit) {
        return deflection.degrees() <= limit.degrees() + kSameDegrees;
    };
    if (neighbours.size() == 2) {
        line.role = within(settings.tangent_limit) ? LineRole::tangent : LineRole::angle;
    } else {
        line.role = LineRole::junction;
        if (!within(settings.junction_pair_limit)) {
            return choice;
        }
    }
    line.axis = axis_of(neighbours[a].azimuth, neighbours[b].azimuth);
    line.deflection = deflection;
    return choice;
}

std::optional<Bearing> line_ahead(std::span<const Neighbour> neighbours,
                                  Angle junction_pair_limit) {
    if (neighbours.size() == 1) {
        const Neighbour& only = neighbours[0];
        if (only.leaves == only.arrives) {
            return std::nullopt;
        }
        return only.leaves ? only.azimuth : opposite_of(only.azimuth);
    }
    const auto pair = axis_pair(neighbours, junction_pair_limit);
    if (!pair) {
        return std::nullopt;
    }
    const Neighbour& one = neighbours[pair->first];
    const Neighbour& other = neighbours[pair->second];
    if (one.leaves == one.arrives || other.leaves == other.arrives || one.leaves == other.leaves) {
        return std::nullopt;
    }
    return one.leaves ? one.azimuth : other.azimuth;
}

std::optional<Bearing> rising_ahead(std::span<const Neighbour> neighbours,
                                    double here,
                                    std::span<const double> stations,
                                    Angle junction_pair_limit) {
    if (neighbours.size() == 1) {
        const int rise = rise_of(here, stations[neighbours[0].pole]);
        const Bearing there = neighbours[0].azimuth;
        return rise == 0 ? std::nullopt
                         : std::optional<Bearing>{rise > 0 ? there : opposite_of(there)};
    }
    const auto pair = axis_pair(neighbours, junction_pair_limit);
    if (!pair) {
        return std::nullopt;
    }
    const Neighbour& one = neighbours[pair->first];
    const Neighbour& other = neighbours[pair->second];
    const int in = rise_of(stations[one.pole], here);
    const int out = rise_of(here, stations[other.pole]);
    // A top or a bottom of the stations is no way through; what is not known leaves it to the rest.
    int rise = in == 0 || out == 0 || in == out ? in + out : 0;
    if (in == 0 && out == 0) {
        rise = rise_of(stations[one.pole], stations[other.pole]);
    }
    return rise == 0 ? std::nullopt
                     : std::optional<Bearing>{rise > 0 ? other.azimuth : one.azimuth};
}

}  // namespace linewood
