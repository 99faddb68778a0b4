#include "src/clusters/cluster_results.hpp"

namespace linewood {

void work_out(RateFigures& figures) {
    if (figures.inspected > 0) {
        figures.rate =
            static_cast<double>(figures.decayed) / static_cast<double>(figures.inspected);
    }
    figures.interval = wilson_interval(figures.decayed, figures.inspected);
}

const char* name_of(WindowKind kind) {
    return kind == WindowKind::straight ? "straight" : "network";
}

}  // namespace linewood
