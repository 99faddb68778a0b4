#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "assess/units/date.hpp"
#include "src/job/contract_fields.hpp"
#include "src/pipeline/column_profile.hpp"
#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// A doubt about the values of a field, counted.
struct FieldDoubt {
    std::string code;
    std::string message;
    std::string value;  ///< of the first
    std::int64_t count = 0;
};

/// What would be read of one contract field.
struct FieldDescription {
    const ContractField* field = nullptr;
    std::string source;  ///< column, or how a job file has it
    std::int64_t filled = 0;
    /// Of sizes in metres, else as they are.
    std::optional<double> least;
    std::optional<double> most;
    std::string first_day, last_day;
    std::vector<FieldDoubt> doubts;
};

/// What would be read of one of the four layers.
struct LayerDescription {
    InputLayer layer = InputLayer::poles;
    std::int64_t rows = 0;
    std::vector<FieldDescription> fields;  ///< those that are there
    std::vector<std::string> missing;      ///< contract fields that are not
    std::vector<std::string> carried;      ///< other columns
    std::vector<FieldDoubt> doubts;        ///< about the layer as a whole
};

/// What a run would read.
struct DatasetDescription {
    std::vector<LayerProfile> layers;  ///< all layers of the datasets, as they are
    std::vector<LayerDescription> read;
    std::vector<std::string> absent;  ///< of the four, those that are not there
};

/// Reads all layers, the four of a run under their fields' names or as a job file maps them.
/// @param today dates after it are doubted. @throws DataError, JobError.
DatasetDescription describe_inputs(const InputAddresses& addresses, std::optional<Date> today);

}  // namespace linewood
