#include "src/report/wrapped_text.hpp"

#include <algorithm>

namespace linewood {

std::string wrapped(std::string_view first,
                    std::string_view text,
                    std::size_t indent,
                    std::size_t width) {
    std::string out{first};
    std::size_t column = first.size();
    bool begun = false;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        const std::string_view word = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (word.empty()) {
            continue;
        }
        if (begun && column + 1 + word.size() > width) {
            out += '\n' + std::string(indent, ' ');
            column = indent;
            begun = false;
        }
        if (begun) {
            out += ' ';
            ++column;
        }
        out += word;
        column += word.size();
        begun = true;
    }
    return out + '\n';
}

}  // namespace linewood
