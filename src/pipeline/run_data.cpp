#include "src/pipeline/run_data.hpp"

#include "src/pipeline/span_reader.hpp"

namespace linewood {

LineDirection RunData::direction(std::uint32_t pole) const {
    return direction_at(network, poles, pole);
}

LineTrust RunData::trust(std::uint32_t pole) const {
    return trust_at(network, poles, given_axis_limit, pole);
}

}  // namespace linewood
