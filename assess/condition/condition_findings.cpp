#include "assess/condition/condition_findings.hpp"

#include <charconv>

namespace linewood {

Finding make_finding(const FindingKind& kind,
                     InputLayer layer,
                     std::int64_t fid,
                     std::string_view field,
                     std::string value) {
    Finding f;
    f.severity = kind.severity;
    f.code = kind.code;
    f.layer = layer;
    if (fid >= 0) {
        f.feature = std::to_string(fid);
    }
    f.field = field;
    f.value = std::move(value);
    f.message = kind.meaning;
    return f;
}

std::string plain_number(double v) {
    char text[32];
    const auto end = std::to_chars(text, text + sizeof text, v, std::chars_format::general, 12).ptr;
    return {text, end};
}

}  // namespace linewood
