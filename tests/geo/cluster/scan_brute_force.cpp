#include "tests/geo/cluster/scan_brute_force.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <utility>

#include "geo/cluster/decay_labels.hpp"

namespace linewood::test {
namespace {

double log_or_0(double factor, double x) { return factor == 0.0 ? 0.0 : factor * std::log(x); }

}  // namespace

BruteScan::BruteScan(Distances distances, const ScanPoles& poles, const ScanSettings& settings)
    : distances_{std::move(distances)},
      decayed_{poles.decayed.begin(), poles.decayed.end()},
      stratum_{poles.stratum.begin(), poles.stratum.end()},
      place_{poles.place.begin(), poles.place.end()},
      settings_{settings} {
    if (stratum_.empty()) {
        stratum_.assign(decayed_.size(), 0);
    }
    if (place_.empty()) {
        for (std::uint32_t i = 0; i < decayed_.size(); ++i) {
            place_.push_back(i);
        }
    }
    const std::size_t strata = 1 + *std::max_element(stratum_.begin(), stratum_.end());
    std::vector<double> all(strata, 0.0);
    share_.assign(strata, 0.0);
    for (std::size_t i = 0; i < decayed_.size(); ++i) {
        all[stratum_[i]] += 1.0;
        share_[stratum_[i]] += decayed_[i];
    }
    for (std::size_t s = 0; s < strata; ++s) {
        share_[s] = all[s] > 0.0 ? share_[s] / all[s] : 0.0;
    }
}

double BruteScan::llr(double c, double n, double mu) const {
    const auto N = static_cast<double>(decayed_.size());
    double C = 0.0;
    for (const std::uint8_t d : decayed_) {
        C += d;
    }
    if (settings_.model == ScanModel::poisson) {
        if (!(c > mu * (1.0 + 1e-12)) || c > C) {
            return 0.0;
        }
        return log_or_0(c, c / mu) + log_or_0(C - c, (C - c) / (C - mu));
    }
    if (n >= N || !(c / n > C / N * (1.0 + 1e-12))) {
        return 0.0;
    }
    return log_or_0(c, c / n) + log_or_0(n - c, 1 - c / n) + log_or_0(C - c, (C - c) / (N - n)) +
           log_or_0(N - n - C + c, 1 - (C - c) / (N - n)) - log_or_0(C, C / N) -
           log_or_0(N - C, 1 - C / N);
}

std::vector<BruteScan::PlaceCount> BruteScan::counted(
    const std::vector<std::uint8_t>& decayed) const {
    std::vector<PlaceCount> counts(distances_.size());
    for (std::size_t pole = 0; pole < decayed.size(); ++pole) {
        PlaceCount& count = counts[place_[pole]];
        ++count.poles;
        count.decayed += decayed[pole];
        count.expected += share_[stratum_[pole]];
    }
    return counts;
}

BruteScan::Window BruteScan::measured(std::uint32_t centre,
                                      const std::vector<std::uint32_t>& places,
                                      const std::vector<PlaceCount>& counts) const {
    Window window;
    window.centre = centre;
    window.places = places;
    double mu = 0.0;
    for (const std::uint32_t place : places) {
        window.poles += counts[place].poles;
        window.decayed += counts[place].decayed;
        mu += counts[place].expected;
    }
    if (window.decayed >= settings_.min_decayed) {
        window.llr = llr(window.decayed, window.poles, mu);
    }
    return window;
}

std::vector<BruteScan::Window> BruteScan::windows(const std::vector<std::uint8_t>& decayed) const {
    const double most = settings_.max_share * static_cast<double>(decayed.size()) + 1e-9;
    const std::vector<PlaceCount> counts = counted(decayed);
    std::vector<Window> all;
    for (std::uint32_t centre = 0; centre < distances_.size(); ++centre) {
        std::set<double> radii;
        for (const double m : distances_[centre]) {
            if (m <= settings_.max_radius_m) {
                radii.insert(m);
            }
        }
        for (const double radius : radii) {
            std::vector<std::uint32_t> places;
            for (std::uint32_t j = 0; j < distances_.size(); ++j) {
                if (distances_[centre][j] <= radius) {
                    places.push_back(j);
                }
            }
            if (places.size() > settings_.max_places) {
                break;
            }
            const Window window = measured(centre, places, counts);
            if (window.poles > most || window.poles > settings_.max_poles) {
                break;
            }
            if (window.llr > 0.0) {
                all.push_back(window);
            }
        }
    }
    std::sort(all.begin(), all.end(), [](const Window& a, const Window& b) {
        if (std::abs(a.llr - b.llr) > 1e-9) {
            return a.llr > b.llr;
        }
        return a.poles != b.poles ? a.poles < b.poles : a.centre < b.centre;
    });
    return all;
}

std::vector<BruteScan::Window> BruteScan::clusters() const {
    std::vector<Window> kept;
    std::set<std::uint32_t> taken;
    for (const Window& window : windows(decayed_)) {
        const bool free = std::none_of(window.places.begin(),
                                       window.places.end(),
                                       [&](std::uint32_t place) { return taken.count(place) > 0; });
        if (free && kept.size() < settings_.max_clusters) {
            kept.push_back(window);
            taken.insert(window.places.begin(), window.places.end());
        }
    }
    return kept;
}

std::vector<double> BruteScan::replicates() const {
    DecayLabels labels{decayed_, stratum_};
    std::vector<double> greatest;
    std::vector<std::uint32_t> drawn;
    for (std::uint32_t r = 0; r < settings_.replicates; ++r) {
        labels.draw(settings_.seed, r, drawn);
        std::vector<std::uint8_t> decayed(decayed_.size(), 0);
        for (const std::uint32_t pole : drawn) {
            decayed[pole] = 1;
        }
        const auto all = windows(decayed);
        greatest.push_back(all.empty() ? 0.0 : all.front().llr);
    }
    return greatest;
}

double BruteScan::p(double llr, const std::vector<double>& replicates) const {
    double as_great = 1.0;
    for (const double other : replicates) {
        as_great += other >= llr - 1e-9 ? 1.0 : 0.0;
    }
    return as_great / (1.0 + static_cast<double>(replicates.size()));
}

BruteScan::Distances straight_distances(const std::vector<Point>& poles) {
    BruteScan::Distances table;
    for (const Point a : poles) {
        std::vector<double> row;
        for (const Point b : poles) {
            row.push_back(std::round(std::hypot(a.x - b.x, a.y - b.y) * 1e6) * 1e-6);
        }
        table.push_back(row);
    }
    return table;
}

namespace {

class TableSearch : public NeighbourSearch {
public:
    explicit TableSearch(const BruteScan::Distances& distances) : distances_{distances} {}

    void nearest(std::uint32_t centre, Reach reach, std::vector<Near>& out) override {
        out.clear();
        for (std::uint32_t j = 0; j < distances_.size(); ++j) {
            const std::int64_t um = to_micrometres(distances_[centre][j]);
            if (um <= reach.um) {
                out.push_back({um, j});
            }
        }
        std::sort(out.begin(), out.end());
        if (out.size() > reach.count) {
            out.resize(reach.count);
        }
    }

private:
    const BruteScan::Distances& distances_;
};

}  // namespace

std::unique_ptr<NeighbourSearch> TableNeighbours::search() const {
    return std::make_unique<TableSearch>(distances_);
}

std::vector<std::uint32_t> TableNeighbours::layout() const {
    std::vector<std::uint32_t> order(distances_.size());
    std::iota(order.begin(), order.end(), 0U);
    return order;
}

}  // namespace linewood::test
