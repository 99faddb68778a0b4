#include "src/site/site_script.hpp"

#include <cmath>

#include <fmt/format.h>

#include "geo/io/value_text.hpp"
#include "src/report/log.hpp"

namespace linewood {

std::string script_safe(std::string_view json) {
    std::string out;
    out.reserve(json.size() + json.size() / 16);
    for (std::size_t i = 0; i < json.size(); ++i) {
        const char c = json[i];
        if (c == '<') {
            out += "\\u003c";
        } else if (c == '>') {
            out += "\\u003e";
        } else if (c == '&') {
            out += "\\u0026";
        } else if (json.compare(i, 3, "\xE2\x80\xA8") == 0) {
            out += "\\u2028";
            i += 2;
        } else if (json.compare(i, 3, "\xE2\x80\xA9") == 0) {
            out += "\\u2029";
            i += 2;
        } else {
            out += c;
        }
    }
    return out;
}

std::string script_string(std::string_view text) { return script_safe(json_string(text)); }

std::string script_number(double value) {
    return std::isfinite(value) ? number_text(value) : std::string{"null"};
}

std::string script_degrees(double degrees) {
    if (!std::isfinite(degrees)) {
        return "null";
    }
    std::string text = fmt::format("{:.7f}", degrees);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') {
        text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

}  // namespace linewood
