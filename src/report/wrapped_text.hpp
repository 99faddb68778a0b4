#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace linewood {

/// `text` broken between words into lines of at most `width` characters, each but the first begun with
/// `indent` spaces, that count towards its width as `first` does towards that of the first line. Ends in
/// a line break. A word longer than a line stays whole.
std::string wrapped(std::string_view first,
                    std::string_view text,
                    std::size_t indent,
                    std::size_t width = 100);

}  // namespace linewood
