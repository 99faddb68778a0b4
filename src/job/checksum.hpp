#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace linewood {

/// SHA-256 as 64 hexadecimal digits.
std::string sha256_of(std::string_view bytes);

/// The same in base 64, as a content security policy names a piece of a page.
std::string sha256_base64_of(std::string_view bytes);

/// Of a file's content, read in blocks. @throws DataError where it cannot be read.
std::string sha256_of_file(const std::filesystem::path& path);

}  // namespace linewood
