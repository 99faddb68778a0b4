#pragma once

#include <span>
#include <string_view>

namespace linewood {

/// A file of `styles/map` that the program carries inside, byte for byte.
struct SiteFile {
    std::string_view path;  ///< relative to `styles/map`: `index.html`, `vendor/x.js`
    std::string_view content;
};

/// All of them, by path.
std::span<const SiteFile> site_files();

/// The content of one. @pre there is a file of that path
std::string_view site_file(std::string_view path);

}  // namespace linewood
