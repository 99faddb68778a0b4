#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/run_data.hpp"

namespace linewood {

/// One feature as its layer has it: the columns that hold something, in order, without those that the tool
/// itself wrote.
struct RecordedRow {
    std::int64_t fid = -1;
    std::vector<std::pair<std::string, std::string>> fields;
};

/// Everything recorded of one pole, word for word.
struct RecordedPole {
    RecordedRow pole;
    std::vector<RecordedRow> inspections;  ///< as RunData::inspections.of(pole)
    std::vector<RecordedRow> defects;      ///< as RunData::defects.of(pole)
};

/// Reads the layers once more for the rows of these poles.
std::unordered_map<std::uint32_t, RecordedPole> read_recorded(const InputLayers& inputs,
                                                              const RunData& data,
                                                              std::span<const std::uint32_t> poles);

}  // namespace linewood
