#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <string>

#include "src/clusters/clusters_run.hpp"
#include "tests/support/survey.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {

/// Layers as `linewood assess` writes them, made directly: verdicts are what the test says.
struct AssessedNetwork {
    Table poles{"poles", {}, "POINT", Survey::kUtm10, {{"inspected_on", "date"}}};
    Table spans{"spans", {}, "LINESTRING", Survey::kUtm10};
    double x0 = 500000.0;
    double y0 = 5000000.0;

    /// `verdict` and a strength that goes with it: 40 for replace and stub, 90 for the others, none for unassessed.
    Row& add_pole(const std::string& id,
                  double x,
                  double y,
                  const std::string& verdict,
                  const Row& more = {});
    /// @pre both poles are there
    void add_span(const std::string& from, const std::string& to);
    /// Poles `<name>0`, `<name>1` ... eastwards from x, y, 40 m apart, joined by spans; decayed where `is_decayed` says so.
    void add_line(const std::string& name,
                  int count,
                  double x,
                  double y,
                  const std::function<bool(int)>& is_decayed,
                  const std::function<Row(int)>& more = {});
    /// A GeoPackage with a run layer.
    void write(const std::filesystem::path& path) const;

private:
    std::map<std::string, std::pair<double, double>> places_;
};

/// A search for clusters in this process, and its layers read back.
class ClusterSearch {
public:
    using Change = std::function<void(ClusterJob&)>;

    explicit ClusterSearch(const AssessedNetwork& network, const Change& change = {});

    const Table& layer(const std::string& name) const;
    const Table& clusters() const { return layer("clusters"); }
    /// Clusters of a kind (`straight`, `network`) that are significant.
    std::vector<Row> significant(const std::string& distance) const;
    /// Ids of a cluster's members, sorted.
    std::vector<std::string> members(const std::string& cluster) const;
    /// Values of a statement of the run layer.
    std::vector<std::string> statements(const std::string& item) const;
    const ClusterSummary& summary() const { return summary_; }
    std::filesystem::path out() const { return out_; }
    const TempDir& folder() const { return folder_; }

private:
    TempDir folder_{fast_place()};
    std::filesystem::path out_;
    ClusterSummary summary_;
    mutable std::map<std::string, Table> layers_;
};

}  // namespace linewood::testing
