#pragma once

#include <string>
#include <vector>

#include "src/command/command.hpp"
#include "src/command/network_options.hpp"
#include "src/command/shared_options.hpp"
#include "src/job/cluster_job.hpp"

namespace linewood {

struct ClusterSummary;

/// `linewood clusters IN --out OUT`: where decay clusters, by area and by pole.
class ClustersCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    void add_tests(CLI::App& command);
    void add_windows(CLI::App& command);
    void add_neighbours(CLI::App& command);
    void add_areas(CLI::App& command);
    ClusterJob make_job() const;
    void fill_decayed(ClusterJob& job) const;
    void fill_areas(ClusterJob& job) const;
    static void print(const ClusterJob& job, const ClusterSummary& summary, const Log& log);

    NetworkOptions places_;  ///< IN, OUT, format
    std::string seed_;
    ClusterJob defaults_;
    std::vector<std::string> decayed_;
    std::vector<std::string> strata_;
    std::string method_ = "both";
    std::string cells_ = "hexagon";
    std::string correction_ = "bh";
    std::string neighbour_distance_ = "straight";
    std::string plane_unit_;
    double strength_below_ = -1.0;  ///< negative: not given, as below
    double window_pct_ = 10.0;
    double window_poles_ = -1.0;
    double band_m_ = -1.0;
    double cell_side_m_ = -1.0;
    std::string page_;
    std::size_t threads_ = 0;
    TalkOptions talk_;
};

/// `FIELD` or `FIELD/WIDTH`; `install_year` alone is in bands of 10 years. @throws JobError
Stratifier read_stratifier(const std::string& typed);

}  // namespace linewood
