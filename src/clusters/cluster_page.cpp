#include "src/clusters/cluster_page.hpp"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "src/clusters/cluster_pictures.hpp"
#include "src/clusters/cluster_words.hpp"
#include "src/clusters/cluster_writer.hpp"
#include "src/job/cautions.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/report/figures.hpp"
#include "src/report/html_table.hpp"
#include "src/report/svg.hpp"
#include "src/report/worksheet_page.hpp"

namespace linewood {
namespace {

std::string list(const std::vector<std::string>& lines) {
    std::string out = "<ul>\n";
    for (const std::string& line : lines) {
        out += "<li>" + svg_escape(line) + "</li>\n";
    }
    return out + "</ul>\n";
}

std::string heading(std::string_view text) { return "<h2>" + svg_escape(text) + "</h2>\n"; }

std::string figure(const std::string& drawing, std::string_view caption) {
    return "<figure>\n" + drawing + "<figcaption>" + svg_escape(caption) +
           "</figcaption>\n</figure>\n";
}

std::string interval_words(const RateFigures& f) {
    return f.interval ? fmt::format("{:.1f}\u00a0to\u00a0{:.1f}\u00a0%",
                                    f.interval->low * 100.0,
                                    f.interval->high * 100.0)
                      : "not known";
}

std::string inspected_words(const RateFigures& f) {
    return grouped(f.inspected) + " of " + grouped(f.poles);
}

/// Of the candidates that chance explains so many are shown; the layer has more.
constexpr std::size_t kShownByChance = 3;

class ClusterPage {
public:
    ClusterPage(const AssessedData& data,
                const Population& population,
                const ClusterJob& job,
                const ClusterResults& results)
        : data_{data}, population_{population}, job_{job}, results_{results} {}

    std::string make() const {
        const std::string title = "Where decay clusters: " + shown_name(data_.source);
        std::string out = page_head(title, Paper::any, true);
        out += "<h1>" + svg_escape(title) + "</h1>\n";
        add_paragraph(out,
                      fmt::format("linewood {}, criteria {}, seed {}",
                                  tool_version(),
                                  data_.run.criteria_name,
                                  job_.seed),
                      "made");
        for (const std::string_view caution : kCautions) {
            add_paragraph(out, caution, "warning");
        }
        out += heading("What was found") + list(found_words(data_, population_, job_, results_));
        out += map();
        out += clusters();
        out += rates();
        out += strengths();
        out += groups();
        out += heading("What was tested, and against what") +
               list(tested_words(data_, population_, job_, results_));
        out += heading("What this cannot say") +
               list(limits_words(data_, population_, job_, results_));
        return out + page_foot();
    }

private:
    std::string map() const {
        const std::string drawing = cluster_map(data_, population_, results_);
        if (drawing.empty()) {
            return {};
        }
        std::string caption = "Outlines are of the clusters that pass the level of " +
                              fmt::format("{:g} %", job_.significance * 100.0) + ".";
        if (job_.cells != CellShape::none) {
            caption += fmt::format(" Cells with sides of {:g} m; shading by the raw rate.",
                                   results_.cell_side_m);
        }
        return heading("Map") + figure(drawing, caption);
    }

    std::string clusters() const {
        std::string out;
        for (const ScanOutcome& scan : results_.scans) {
            if (scan.clusters.empty()) {
                continue;
            }
            HtmlTable table{
                out,
                scan.kind == WindowKind::straight ? "In a straight line" : "Along the spans",
                {"Cluster",
                 "Near pole",
                 "Decayed",
                 "Inspected",
                 "Rate, 95 % interval",
                 "Times elsewhere",
                 "Radius",
                 "p",
                 "Near the limit",
                 "Mind"}};
            std::size_t by_chance = 0;
            for (const FoundCluster& c : scan.clusters) {
                if (!c.significant && ++by_chance > kShownByChance) {
                    break;  // most unusual first
                }
                table.row({c.name,
                           std::string{data_.poles.ids.id(population_.pole(c.centre))},
                           grouped(c.figures.decayed),
                           inspected_words(c.figures),
                           percent_words(c.figures.rate) + ", " + interval_words(c.figures),
                           c.times_elsewhere ? fmt::format("{:.1f}", *c.times_elsewhere)
                                             : "none elsewhere",
                           fmt::format("{:.0f}\u00a0m", c.radius_m),
                           p_words(c.p) + (c.significant ? "" : " (chance)"),
                           grouped(c.near_limit),
                           caution_of(c)});
            }
            table.finish();
        }
        if (out.empty()) {
            return out;
        }
        std::string all = heading("Clusters");
        add_paragraph(
            all,
            "The rates of clusters are of places chosen because they are high: look at p, "
            "not at the interval, for whether they are more than chance. Those marked "
            "chance are not; the layer clusters has more of them.");
        return all + out;
    }

    std::string rates() const {
        std::string out;
        struct Kind {
            const char* kind;
            const char* title;
        };
        for (const Kind k : {Kind{"area", "By area"},
                             Kind{"circuit", "By circuit"},
                             Kind{"hexagon", "By hexagon"},
                             Kind{"square", "By square"}}) {
            out += rates_of(k.kind, k.title);
        }
        return out.empty() ? out : heading("Rates by area") + out;
    }

    std::string rates_of(const std::string& kind, const std::string& title) const {
        std::size_t all = 0;
        std::size_t thin = 0;
        for (const AreaRate& a : results_.areas) {
            all += a.kind == kind ? 1U : 0U;
            thin += a.kind == kind && a.thin ? 1U : 0U;
        }
        if (all == 0) {
            return {};
        }
        const auto areas = plotted_areas(results_, kind);
        std::string out = "<h3>" + svg_escape(title) + "</h3>\n";
        add_paragraph(
            out,
            fmt::format("{} in all; {} with under {} inspected poles are too thin to say and are "
                        "not shown{}.",
                        grouped(static_cast<std::int64_t>(all)),
                        grouped(static_cast<std::int64_t>(thin)),
                        job_.min_inspected,
                        all - thin > areas.size()
                            ? fmt::format("; of the others the {} highest are", areas.size())
                            : ""));
        if (areas.empty()) {
            return out;
        }
        out += figure(rate_plot(areas, population_.rate()),
                      "Ranked by rate. An interval that reaches over the line of all is no "
                      "evidence of a difference; of many areas some lie beyond it by chance.");
        HtmlTable table{
            out, title, {"Area", "Decayed", "Inspected", "Rate", "95 % interval", "Smoothed"}};
        for (const AreaRate* a : areas) {
            table.row({a->name,
                       grouped(a->figures.decayed),
                       inspected_words(a->figures),
                       percent_words(a->figures.rate),
                       interval_words(a->figures),
                       percent_words(a->smoothed)});
        }
        table.finish();
        return out;
    }

    std::string strengths() const {
        const std::string drawing = strength_histograms(data_, population_, results_);
        return drawing.empty() ? drawing
                               : heading("Remaining strength") +
                                     figure(drawing,
                                            population_.strata.size() > 8
                                                ? "Poles by remaining strength; the eight largest "
                                                  "strata. A broken bar "
                                                  "is higher than drawn; its count stands over it."
                                                : "Poles by remaining strength, steps of 5 points. "
                                                  "A broken bar is "
                                                  "higher than drawn; its count stands over it.");
    }

    std::string groups() const {
        if (results_.groups.empty()) {
            return {};
        }
        std::vector<const DrawnGroup*> order;
        for (const DrawnGroup& g : results_.groups) {
            order.push_back(&g);
        }
        std::stable_sort(order.begin(), order.end(), [](const auto* a, const auto* b) {
            return a->members.size() > b->members.size();
        });
        order.resize(std::min(order.size(), kPlottedAreas));
        std::string out = heading("Groups, for drawing and naming only");
        add_paragraph(out,
                      fmt::format("{} in all. They are no test of anything.",
                                  grouped(static_cast<std::int64_t>(results_.groups.size()))));
        HtmlTable table{out,
                        "Decayed poles that stand near each other, largest first",
                        {"Group", "Grouped", "Decayed", "Inspected", "Rate", "95 % interval"}};
        for (const DrawnGroup* g : order) {
            table.row({g->name,
                       grouped(static_cast<std::int64_t>(g->members.size())),
                       grouped(g->figures.decayed),
                       inspected_words(g->figures),
                       percent_words(g->figures.rate),
                       interval_words(g->figures)});
        }
        table.finish();
        return out;
    }

    const AssessedData& data_;
    const Population& population_;
    const ClusterJob& job_;
    const ClusterResults& results_;
};

}  // namespace

std::string cluster_page(const AssessedData& data,
                         const Population& population,
                         const ClusterJob& job,
                         const ClusterResults& results) {
    return ClusterPage{data, population, job, results}.make();
}

}  // namespace linewood
