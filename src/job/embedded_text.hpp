#pragma once

#include <span>
#include <string_view>

namespace linewood {

/// A file of the source tree that the program carries inside.
struct EmbeddedText {
    std::string_view name;  ///< of the file, without folders
    std::string_view text;
};

/// Every file that CMakeLists.txt embeds, by name.
std::span<const EmbeddedText> embedded_texts();

/// The text of one of them. @pre there is a file of that name
std::string_view embedded_text(std::string_view name);

}  // namespace linewood
