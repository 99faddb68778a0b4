#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>

#include <fmt/format.h>

#include "assess/condition/condition_findings.hpp"
#include "src/clusters/cluster_pictures.hpp"
#include "src/clusters/cluster_words.hpp"
#include "src/report/figures.hpp"
#include "src/report/svg.hpp"

namespace linewood {
namespace {

constexpr double kWidth = 1000.0;
constexpr double kRow = 26.0;
constexpr double kLabels = 300.0;
constexpr double kRight = 190.0;

/// The end of an axis of shares: the first round one that holds the greatest.
double axis_end(double greatest) {
    for (const double end : {0.05, 0.1, 0.2, 0.4, 0.6, 0.8}) {
        if (greatest <= end) {
            return end;
        }
    }
    return 1.0;
}

class RatePlot {
public:
    RatePlot(const std::vector<const AreaRate*>& areas, double rate_of_all, SvgWriter& svg)
        : areas_{areas}, rate_of_all_{rate_of_all}, svg_{svg} {
        double greatest = rate_of_all;
        for (const AreaRate* a : areas) {
            greatest = std::max(greatest, a->figures.interval->high);
        }
        end_ = axis_end(greatest);
    }
    static double height_of(std::size_t rows) { return kRow * static_cast<double>(rows) + 92.0; }

    void draw() {
        const double top = kSvgHeading + 30;
        const double bottom = top + kRow * static_cast<double>(areas_.size());
        for (int i = 0; i <= 4; ++i) {
            const double share = end_ * i / 4.0;
            svg_.line({x(share), top}, {x(share), bottom}, {{"stroke", "#cccccc"}});
            svg_.text({x(share), bottom + 20},
                      fmt::format("{:g} %", share * 100.0),
                      {{"text-anchor", "middle"}});
        }
        svg_.line({x(rate_of_all_), top - 6},
                  {x(rate_of_all_), bottom},
                  {{"stroke", "#111"}, {"stroke-width", 1.6}, {"stroke-dasharray", "5 4"}});
        svg_.text({x(rate_of_all_), top - 12},
                  "all: " + percent_words(rate_of_all_),
                  {{"text-anchor", "middle"}});
        for (std::size_t i = 0; i < areas_.size(); ++i) {
            row(*areas_[i], top + kRow * (static_cast<double>(i) + 0.5));
        }
        svg_.element("circle", {{"cx", 8}, {"cy", bottom + 45}, {"r", 5}, {"fill", "#004a80"}});
        svg_.text({20, bottom + 50}, "rate");
        svg_.line(
            {80, bottom + 45}, {120, bottom + 45}, {{"stroke", "#004a80"}, {"stroke-width", 2}});
        svg_.text({128, bottom + 50}, "its 95 % interval");
        diamond({290, bottom + 45});
        svg_.text({304, bottom + 50}, "smoothed rate: drawn towards the rate of all");
    }

private:
    double x(double share) const { return kLabels + share / end_ * (kWidth - kLabels - kRight); }

    void diamond(SvgPoint at) {
        constexpr double kSize = 6.0;
        svg_.element("path",
                     {{"d",
                       svg_path({{{at.x, at.y - kSize},
                                  {at.x + kSize, at.y},
                                  {at.x, at.y + kSize},
                                  {at.x - kSize, at.y}}})},
                      {"fill", "#ffffff"},
                      {"stroke", "#8a2f00"},
                      {"stroke-width", 1.6}});
    }

    void row(const AreaRate& a, double y) {
        svg_.text({kLabels - 12, y + 5}, svg_shortened(a.name, 34), {{"text-anchor", "end"}});
        svg_.line({x(a.figures.interval->low), y},
                  {x(a.figures.interval->high), y},
                  {{"stroke", "#004a80"}, {"stroke-width", 2}});
        if (a.smoothed) {
            diamond({x(*a.smoothed), y});
        }
        svg_.element("circle",
                     {{"cx", x(*a.figures.rate)}, {"cy", y}, {"r", 4.6}, {"fill", "#004a80"}});
        svg_.text(
            {kWidth - kRight + 14, y + 5},
            fmt::format("{} of {}", grouped(a.figures.decayed), grouped(a.figures.inspected)));
    }

    const std::vector<const AreaRate*>& areas_;
    double rate_of_all_;
    SvgWriter& svg_;
    double end_ = 1.0;
};

constexpr int kBins = 20;  // of 5 points
constexpr std::size_t kMostPanels = 8;
using Bins = std::array<std::uint32_t, kBins>;

struct Panel {
    std::string name;
    Bins bins{};
    std::uint32_t poles = 0;
};

std::vector<Panel> panels_of(const AssessedData& data, const Population& population) {
    std::vector<Panel> panels(std::max<std::size_t>(1, population.strata.size()));
    for (std::size_t i = 0; i < panels.size(); ++i) {
        panels[i].name = population.strata.empty() ? "all inspected poles" : population.strata[i];
    }
    for (std::size_t i = 0; i < population.counted.size(); ++i) {
        const double strength = data.poles.remaining_pct[population.pole(i)];
        if (!std::isfinite(strength)) {
            continue;
        }
        Panel& panel = panels[population.stratum.empty() ? 0 : population.stratum[i]];
        const int bin = std::clamp(static_cast<int>(strength / 5.0), 0, kBins - 1);
        ++panel.bins[static_cast<std::size_t>(bin)];
        ++panel.poles;
    }
    // The largest, then in the order of the strata.
    std::vector<std::size_t> order(panels.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return panels[a].poles > panels[b].poles;
    });
    order.resize(std::min(order.size(), kMostPanels));
    std::sort(order.begin(), order.end());
    std::vector<Panel> kept;
    for (const std::size_t i : order) {
        if (panels[i].poles > 0) {
            kept.push_back(std::move(panels[i]));
        }
    }
    return kept;
}

constexpr double kPanelWidth = 480.0;
constexpr double kPanelHeight = 210.0;

/// The count that the scale of a panel goes to: that of the highest step, or, where one is more than three times
/// as high as all others, a little over the second; that one is broken then, and its count is written.
std::uint32_t highest_shown(const Panel& panel) {
    std::vector<std::uint32_t> bins(panel.bins.begin(), panel.bins.end());
    std::sort(bins.begin(), bins.end(), std::greater<>{});
    return bins[1] > 0 && bins[0] > 3 * bins[1] ? bins[1] + bins[1] / 4 + 1 : bins[0];
}

void draw_panel(const Panel& panel, SvgPoint at, std::optional<double> limit, SvgWriter& svg) {
    const double bottom = at.y + kPanelHeight - 46;
    const double tall = kPanelHeight - 90;
    const double left = at.x + 44;
    const double wide = (kPanelWidth - 70) / kBins;
    const std::uint32_t most = highest_shown(panel);
    svg.text({left, at.y + 20},
             svg_shortened(panel.name, 42) + ": " + grouped(panel.poles),
             {{"class", "lw-bold"}});
    for (std::size_t i = 0; i < kBins; ++i) {
        const bool broken = panel.bins[i] > most;
        const double high = broken ? tall + 8 : tall * panel.bins[i] / most;
        const double x = left + wide * static_cast<double>(i);
        if (panel.bins[i] > 0) {
            svg.element("rect",
                        {{"x", x + 1},
                         {"y", bottom - high},
                         {"width", wide - 2},
                         {"height", high},
                         {"fill", "#7ba6cf"},
                         {"stroke", "#1d3f66"}});
        }
        if (broken) {
            svg.line({x - 2, bottom - tall + 10},
                     {x + wide + 2, bottom - tall + 2},
                     {{"stroke", "#ffffff"}, {"stroke-width", 5}});
            svg.text({x + wide, bottom - high - 5},
                     grouped(panel.bins[i]),
                     {{"class", "lw-bold"}, {"text-anchor", "end"}});
        }
    }
    svg.line({left, bottom}, {left + wide * kBins, bottom}, {{"stroke", "#111"}});
    svg.text({left - 8, bottom - tall + 5}, grouped(most), {{"text-anchor", "end"}});
    svg.text({left - 8, bottom}, "0", {{"text-anchor", "end"}});
    for (const int percent : {0, 25, 50, 75, 100}) {
        svg.text({left + wide * percent / 5.0, bottom + 18},
                 std::to_string(percent) + " %",
                 {{"text-anchor", "middle"}});
    }
    if (limit) {
        const double x = left + wide * *limit / 5.0;
        svg.line({x, bottom - tall - 12}, {x, bottom}, {{"class", "lw-limit"}});
        svg.text({x - 6, bottom - tall - 4},
                 "limit " + plain_number(*limit) + " %",
                 {{"text-anchor", "end"}});
    }
}

}  // namespace

std::vector<const AreaRate*> plotted_areas(const ClusterResults& results, const std::string& kind) {
    std::vector<const AreaRate*> areas;
    for (const AreaRate& a : results.areas) {
        if (a.kind == kind && !a.thin && a.figures.rate) {
            areas.push_back(&a);
        }
    }
    std::stable_sort(areas.begin(), areas.end(), [](const AreaRate* a, const AreaRate* b) {
        return *a->figures.rate > *b->figures.rate;
    });
    areas.resize(std::min(areas.size(), kPlottedAreas));
    return areas;
}

std::string rate_plot(const std::vector<const AreaRate*>& areas, double rate_of_all) {
    SvgWriter svg{kWidth,
                  kSvgHeading + RatePlot::height_of(areas.size()),
                  "Rates by area, highest first",
                  "The share of decayed poles of each area with its interval; the table beside it "
                  "has the figures.",
                  "",
                  SvgForm::fragment};
    RatePlot{areas, rate_of_all, svg}.draw();
    return svg.finish();
}

std::string strength_histograms(const AssessedData& data,
                                const Population& population,
                                const ClusterResults& results) {
    const std::vector<Panel> panels = panels_of(data, population);
    if (panels.empty()) {
        return {};
    }
    const std::size_t rows = (panels.size() + 1) / 2;
    SvgWriter svg{kWidth,
                  kSvgHeading + kPanelHeight * static_cast<double>(rows),
                  "Remaining strength of the inspected poles",
                  "How many poles have which remaining strength, in steps of 5 points, a panel for "
                  "each stratum.",
                  "",
                  SvgForm::fragment};
    for (std::size_t i = 0; i < panels.size(); ++i) {
        draw_panel(panels[i],
                   {i % 2 == 0 ? 0.0 : kPanelWidth + 20,
                    kSvgHeading + kPanelHeight * static_cast<double>(i / 2)},
                   results.strength_limit_pct,
                   svg);
    }
    return svg.finish();
}

}  // namespace linewood
