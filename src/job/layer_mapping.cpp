#include "src/job/layer_mapping.hpp"

#include <fmt/format.h>

namespace linewood {

std::string shown_source(const FieldSource& s) {
    std::string text;
    switch (s.from) {
        case FieldSource::From::constant:
            text = fmt::format("\"{}\" for all", s.constant);
            break;
        case FieldSource::From::feature_id:
            text = "the feature id";
            break;
        case FieldSource::From::column:
            text = s.column;
            break;
    }
    if (!s.unit.empty()) {
        text += fmt::format(", {}{}{}", s.measure, s.measure.empty() ? "" : " in ", s.unit);
    }
    if (!s.date_pattern.empty()) {
        text += ", written " + s.date_pattern;
    }
    if (!s.codes.empty()) {
        text += fmt::format(", {} codes", s.codes.size());
    }
    return text;
}

std::string shown_sources(const FieldMapping& field) {
    std::string text;
    for (const FieldSource& source : field.sources) {
        text += (text.empty() ? "" : ", else ") + shown_source(source);
    }
    return text;
}

}  // namespace linewood
