#pragma once

#include <string>

#include "assess/wood/wood_tables.hpp"
#include "src/job/job_file.hpp"

namespace linewood {

/// Reads every layer of a job file as a run would, and says what is read from where: rows, fields with column,
/// unit and share of rows that hold something, columns that are carried along only. Where the file maps no layer,
/// those of `input` are read by their own names.
/// @param input dataset for sources that name none; may be empty.
/// @param tables whose species may be named.
/// @throws JobError where the file does not fit its layers: a column that is not there, unknown codes with their
/// counts, a condition that no row meets, a column of which more than half cannot be read, nothing to check at all.
/// DataError.
std::string mapping_check_text(const JobFile& job,
                               const std::string& input,
                               const WoodTables& tables);

}  // namespace linewood
