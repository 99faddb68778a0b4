#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace linewood {

/// SHA-256 as 64 hexadecimal digits.
std::string sha256_of(std::string_view bytes);

/// Of a file's content, read in blocks. @throws DataError where it cannot be read.
std::string sha256_of_file(const std::filesystem::path& path);

}  // namespace linewood
