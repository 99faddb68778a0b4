#pragma once

#include <filesystem>
#include <string>

namespace linewood::testing {

/// Runs an SQL statement that changes a GeoPackage. @throws std::runtime_error
void change_by_sql(const std::filesystem::path& path, const std::string& sql);

}  // namespace linewood::testing
