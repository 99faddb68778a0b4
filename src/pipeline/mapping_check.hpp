#pragma once

#include <string>

#include "src/job/job_file.hpp"

namespace linewood {

/// Reads every layer of a job file as a run would, and says what is read from where: rows, fields with column,
/// unit and share of rows that hold something, columns that are carried along only.
/// @param input dataset for sources that name none; may be empty.
/// @throws JobError where the file does not fit its layers, unknown codes with their counts included; DataError.
std::string mapping_check_text(const JobFile& job, const std::string& input);

}  // namespace linewood
