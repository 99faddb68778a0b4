#include "src/pipeline/run_counts.hpp"

#include "geo/io/data_error.hpp"

namespace linewood {

std::vector<LayerCount> network_counts_in(const InputLayers& inputs, const RunData& data) {
    std::vector<LayerCount> counts;
    if (inputs[InputLayer::poles]) {
        counts.push_back({"poles", static_cast<std::int64_t>(data.poles.size())});
    }
    if (inputs[InputLayer::spans]) {
        const auto spans = data.network.spans();
        counts.push_back({"spans", spans.empty() ? 0 : std::int64_t{spans.back().row} + 1});
    }
    return counts;
}

void check_counts(const std::string& output,
                  const std::vector<LayerCount>& in,
                  const std::vector<LayerCount>& out) {
    for (const LayerCount& i : in) {
        for (const LayerCount& o : out) {
            const bool lost = i.layer == "spans" ? o.count < i.count : o.count != i.count;
            if (i.layer == o.layer && lost) {
                throw DataError{output,
                                i.layer,
                                std::to_string(i.count) + " features were read but " +
                                    std::to_string(o.count) +
                                    " written; this is an error of the program"};
            }
        }
    }
}

}  // namespace linewood
