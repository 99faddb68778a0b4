#include "src/report/network_report.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "geo/io/data_error.hpp"
#include "src/pipeline/pole_rows.hpp"
#include "src/report/figures.hpp"
#include "src/report/log.hpp"

namespace linewood {
namespace {

double share(std::int64_t n, std::int64_t of) {
    return of > 0 ? 100.0 * static_cast<double>(n) / static_cast<double>(of) : 0.0;
}

std::string counted(std::string_view what, std::int64_t n, std::int64_t of) {
    return fmt::format("  {:<28} {:>11}  {:5.1f} %\n", what, grouped(n), share(n, of));
}

std::string heading(std::string_view text) { return fmt::format("{}\n", text); }

SnapTally::Classes all_ends(const SnapTally& t) {
    SnapTally::Classes all;
    for (std::size_t i = 0; i < all.count.size(); ++i) {
        all.count[i] = t.by_name.count[i] + t.by_place.count[i] + t.left_over.count[i] +
                       t.free_by_kind.count[i];
    }
    return all;
}

/// Running totals of a class of ends: within 0.5, 1, 2, 5 m, and all.
std::string class_row(std::string_view what, const SnapTally::Classes& classes) {
    std::string row = fmt::format("  {:<28}", what);
    std::int64_t sum = 0;
    for (const std::int64_t n : classes.count) {
        sum += n;
        row += fmt::format(" {:>9}", grouped(sum));
    }
    return row + "\n";
}

std::string ends_text(const SnapTally& ends, Length snap) {
    std::string out = fmt::format("{:<30} {:>9} {:>9} {:>9} {:>9} {:>9}\n",
                                  "span ends, by distance to pole",
                                  "0.5 m",
                                  "1 m",
                                  "2 m",
                                  "5 m",
                                  "any");
    out += class_row("joined to the pole named", ends.by_name);
    out += class_row(fmt::format("joined within {} m", snap.metres()), ends.by_place);
    out += class_row("left over", ends.left_over);
    out += class_row("left over, service or guy", ends.free_by_kind);
    out += class_row("all", all_ends(ends));
    if (ends.named_without_place > 0) {
        out += fmt::format("  {} more are joined by name to a pole without a point\n",
                           grouped(ends.named_without_place));
    }
    if (ends.cuts > 0) {
        out += fmt::format("  spans were cut at {} poles between their ends\n", grouped(ends.cuts));
    }
    if (ends.features_without_path > 0) {
        out += fmt::format("  {} span features have no usable geometry\n",
                           grouped(ends.features_without_path));
    }
    return out;
}

std::string poles_text(const NetworkFigures& f) {
    std::string out = heading("poles by role");
    for (std::size_t i = 0; i < f.roles.size(); ++i) {
        out += counted(name_of(static_cast<LineRole>(i)), f.roles[i], f.poles);
    }
    out += heading("poles by source of the direction");
    for (std::size_t i = 0; i < f.sources.size(); ++i) {
        out += counted(name_of(static_cast<LineSource>(i)), f.sources[i], f.poles);
    }
    out += heading("poles by quality of the direction");
    for (std::size_t i = 0; i < f.qualities.size(); ++i) {
        const std::string_view name = name_of(static_cast<LineQuality>(i));
        out += counted(name.empty() ? "no direction" : name, f.qualities[i], f.poles);
    }
    out += heading("reasons of the quality");
    for (std::size_t i = 0; i < f.reasons.size(); ++i) {
        if (f.reasons[i] > 0) {
            out += counted(name_of(static_cast<QualityReason>(i)), f.reasons[i], f.poles);
        }
    }
    return out;
}

std::string lengths_text(const LengthQuantiles& q) {
    std::string out = heading("length of the spans joined, m");
    std::string names = "  share of spans             ";
    std::string values = "  no longer than             ";
    for (std::size_t i = 0; i < q.metres.size(); ++i) {
        names += fmt::format(" {:>8}",
                             i + 1 == q.metres.size()
                                 ? "longest"
                                 : fmt::format("{:.0f} %", 100.0 * LengthQuantiles::kShares[i]));
        values += fmt::format(" {:>8.1f}", q.metres[i]);
    }
    return out + names + "\n" + values + "\n";
}

std::string suspicious_text(const NetworkFigures& f) {
    std::string out = heading("suspicious spans");
    out += counted("one end without a pole", f.one_end, f.spans);
    out += counted("both ends without a pole", f.no_end, f.spans);
    out += counted("ends far from the pole named", f.far_from_names, f.spans);
    out += counted("no length", f.zero_length, f.spans);
    out += counted("both ends at one pole", f.closed, f.spans);
    out += counted("doubled", f.doubled, f.spans);
    if (f.lengths.spans > 0) {
        out +=
            counted(fmt::format("over {:.0f} m (5 x the 95 %)", kLongSpanTimes * f.lengths.p95()),
                    f.very_long,
                    f.spans);
    }
    return out;
}

/// What cannot be known for want of a layer.
std::string unknown_text(const NetworkFigures& f) {
    if (!f.has_spans) {
        return "there are no spans: no direction, no role and no length can be known, and no "
               "defect "
               "can be told to be in line or out of line; a direction can be given pole by pole "
               "(given_azimuth)\n";
    }
    if (f.poles_made) {
        return "the poles were made where lines end: a pole along a line without a vertex of "
               "another "
               "line is not known, so spans may be too long and roles too simple; of the poles "
               "nothing is known but their place\n";
    }
    return {};
}

nlohmann::ordered_json classes_json(const SnapTally::Classes& classes) {
    nlohmann::ordered_json out;
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < SnapTally::kWithin.size(); ++i) {
        sum += classes.count[i];
        out[fmt::format("within_{}_m", SnapTally::kWithin[i])] = sum;
    }
    out["all"] = classes.total();
    return out;
}

}  // namespace

std::string network_heading(const NetworkFigures& f) {
    return fmt::format("{} poles{}, {} span features, {} spans, {} of them joined\n{}",
                       grouped(f.poles),
                       f.poles_made ? " made from the spans" : "",
                       grouped(f.features),
                       grouped(f.spans),
                       grouped(f.joined),
                       unknown_text(f));
}

std::string network_summary_text(const NetworkJob& job, const NetworkSummary& summary) {
    std::string out = network_heading(summary.figures);
    out += findings_text(summary.findings, summary.findings_unwritten);
    out += notes_text(summary.output.notes);
    out += fmt::format(
        "written: {} (poles: the line at each; spans: pole to pole; findings: what to mend)\n",
        shown_dataset(job.out.string()));
    return out;
}

std::string network_summary_json(const NetworkJob& job, const NetworkSummary& summary) {
    std::string layers;
    for (const LayerSummary& l : summary.output.layers) {
        layers += fmt::format("{}{}:{}", layers.empty() ? "" : ",", json_string(l.name), l.rows);
    }
    return fmt::format(
        R"("output":{},"poles":{},"findings":{{{}}},"findings_not_written":{},"notes":[{}],"rows":{{{}}})",
        json_string(shown_dataset(job.out.string())),
        summary.figures.poles,
        findings_json(summary.findings),
        summary.findings_unwritten,
        notes_json(summary.output.notes),
        layers);
}

std::string network_report_text(const NetworkJob& job, const NetworkFigures& f) {
    std::string out;
    if (f.has_spans) {
        out += ends_text(f.ends, job.network.snap_tolerance);
        out += lengths_text(f.lengths);
        out += suspicious_text(f);
    }
    return out + poles_text(f);
}

std::string network_report_json(const NetworkJob& job, const NetworkFigures& f) {
    nlohmann::ordered_json out;
    out["poles"] = f.poles;
    out["poles_made"] = f.poles_made;
    out["span_features"] = f.features;
    out["spans"] = f.spans;
    out["spans_joined"] = f.joined;
    auto& ends = out["ends"];
    ends["snap_tolerance_m"] = job.network.snap_tolerance.metres();
    ends["by_name"] = classes_json(f.ends.by_name);
    ends["by_place"] = classes_json(f.ends.by_place);
    ends["left_over"] = classes_json(f.ends.left_over);
    ends["left_over_service_or_guy"] = classes_json(f.ends.free_by_kind);
    ends["all"] = classes_json(all_ends(f.ends));
    ends["cuts"] = f.ends.cuts;
    ends["named_without_place"] = f.ends.named_without_place;
    ends["features_without_path"] = f.ends.features_without_path;
    for (std::size_t i = 0; i < f.roles.size(); ++i) {
        out["roles"][std::string{name_of(static_cast<LineRole>(i))}] = f.roles[i];
    }
    for (std::size_t i = 0; i < f.sources.size(); ++i) {
        out["sources"][std::string{name_of(static_cast<LineSource>(i))}] = f.sources[i];
    }
    for (std::size_t i = 0; i < f.qualities.size(); ++i) {
        const std::string name{name_of(static_cast<LineQuality>(i))};
        out["qualities"][name.empty() ? "none" : name] = f.qualities[i];
    }
    for (std::size_t i = 0; i < f.reasons.size(); ++i) {
        out["quality_reasons"][std::string{name_of(static_cast<QualityReason>(i))}] = f.reasons[i];
    }
    for (std::size_t i = 0; i + 1 < f.lengths.metres.size(); ++i) {
        out["length_m"][fmt::format("p{:.0f}", 100.0 * LengthQuantiles::kShares[i])] =
            f.lengths.metres[i];
    }
    out["length_m"]["max"] = f.lengths.longest();
    out["suspicious"] = {{"one_end_without_pole", f.one_end},
                         {"both_ends_without_pole", f.no_end},
                         {"ends_far_from_named_pole", f.far_from_names},
                         {"zero_length", f.zero_length},
                         {"both_ends_at_one_pole", f.closed},
                         {"doubled", f.doubled},
                         {"very_long", f.very_long}};
    return out.dump();
}

}  // namespace linewood
