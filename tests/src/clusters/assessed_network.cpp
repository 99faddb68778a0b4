#include "tests/src/clusters/assessed_network.hpp"

#include <algorithm>
#include <cmath>

namespace linewood::testing {
namespace {

class QuietMonitor : public RunMonitor {
public:
    void stage(std::string_view /*name*/, std::int64_t /*total*/) override {}
    void advance(std::int64_t /*steps*/) override {}
    void finish() override {}
};

}  // namespace

Row& AssessedNetwork::add_pole(
    const std::string& id, double x, double y, const std::string& verdict, const Row& more) {
    const bool known = verdict != "unassessed";
    const bool decayed = verdict == "replace" || verdict == "stub";
    Row row{{"@path", {{x0 + x, y0 + y}}},
            {"pole_id", id},
            {"verdict", verdict},
            {"urgency", known ? Row(decayed ? "soon" : "routine") : Row()},
            {"remaining_pct", known ? Row(decayed ? 40.0 : 90.0) : Row()},
            {"line_role", "tangent"},
            {"inspected_on", known ? Row("2024-05-01") : Row()}};
    merge(row, more);
    places_[id] = {x0 + x, y0 + y};
    poles.rows.push_back(std::move(row));
    return poles.rows.back();
}

void AssessedNetwork::add_span(const std::string& from, const std::string& to) {
    const auto [ax, ay] = places_.at(from);
    const auto [bx, by] = places_.at(to);
    spans.rows.push_back(Row{{"@path", {{ax, ay}, {bx, by}}},
                             {"from_pole", from},
                             {"to_pole", to},
                             {"span_length_m", std::hypot(bx - ax, by - ay)}});
}

void AssessedNetwork::add_line(const std::string& name,
                               int count,
                               double x,
                               double y,
                               const std::function<bool(int)>& is_decayed,
                               const std::function<Row(int)>& more) {
    for (int i = 0; i < count; ++i) {
        add_pole(name + std::to_string(i),
                 x + 40.0 * i,
                 y,
                 is_decayed(i) ? "replace" : "serviceable",
                 more ? more(i) : Row{});
        if (i > 0) {
            add_span(name + std::to_string(i - 1), name + std::to_string(i));
        }
    }
}

void AssessedNetwork::write(const std::filesystem::path& path) const {
    write_table(path, poles);
    if (!spans.rows.empty()) {
        write_table(path, spans);
    }
    Table run{"run", {}, "", ""};
    for (const auto& [item, value] :
         {std::pair{"tool", "linewood test"},
          std::pair{"job_units", "us"},
          std::pair{"criteria_name", "general-practice"},
          std::pair{"criteria_sha256", "abc"},
          std::pair{"criteria_profile",
                    R"({"name":"test","limits":{"governing_strength_min":0.65}})"}}) {
        run.rows.push_back(Row{{"item", item}, {"layer", nullptr}, {"value", value}});
    }
    write_table(path, run);
}

ClusterSearch::ClusterSearch(const AssessedNetwork& network, const Change& change) {
    const auto in = folder_ / "in.gpkg";
    network.write(in);
    ClusterJob job;
    job.input = in.string();
    job.out = folder_ / "out";
    job.format = OutputFormat::geojson;
    job.replicates = 199;
    if (change) {
        change(job);
    }
    out_ = job.out;
    QuietMonitor monitor;
    summary_ = run_clusters(job, monitor);
}

const Table& ClusterSearch::layer(const std::string& name) const {
    auto known = layers_.find(name);
    if (known == layers_.end()) {
        const bool file = std::filesystem::is_regular_file(out_);
        const auto table = out_ / (name + (name == "run" ? ".csv" : ".geojson"));
        known = layers_.emplace(name, file ? read_table(out_, name) : read_table(table)).first;
    }
    return known->second;
}

std::vector<Row> ClusterSearch::significant(const std::string& distance) const {
    std::vector<Row> found;
    for (const Row& row : clusters().rows) {
        if (row.at("distance") == distance && row.at("significant") == true) {
            found.push_back(row);
        }
    }
    return found;
}

std::vector<std::string> ClusterSearch::members(const std::string& cluster) const {
    std::vector<std::string> ids;
    for (const Row& row : where(layer("cluster_members"), "cluster", cluster)) {
        ids.push_back(row.at("pole_id"));
    }
    std::sort(ids.begin(), ids.end());
    return ids;
}

std::vector<std::string> ClusterSearch::statements(const std::string& item) const {
    std::vector<std::string> values;
    for (const Row& row : where(layer("run"), "item", item)) {
        values.push_back(row.at("value"));
    }
    return values;
}

}  // namespace linewood::testing
