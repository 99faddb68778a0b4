#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "src/site/site_pages.hpp"

namespace linewood {

/// The content of a file. @throws DataError where it cannot be read
std::string file_text(const std::filesystem::path& path);

/// The first statement of that name; empty where there is none.
std::string statement_of(const Provenance& run, std::string_view item);

/// The name of a dataset or folder without the folder it is in.
std::string shown_name(const std::filesystem::path& dataset);

}  // namespace linewood
