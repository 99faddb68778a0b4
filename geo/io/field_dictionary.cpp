#include "geo/io/field_dictionary.hpp"

#include <cstdio>
#include <string_view>

#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

std::string quoted_json(std::string_view text) {
    const std::string good = is_utf8(text) ? std::string{text} : repaired_utf8(text);
    std::string out = "\"";
    for (const char c : good) {
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (static_cast<unsigned char>(c) < 0x20U) {
            char escape[8];
            std::snprintf(escape, sizeof escape, "\\u%04x", static_cast<unsigned>(c));
            out += escape;
        } else {
            out += c;
        }
    }
    return out + '"';
}

/// `"key": "text"`, after a comma where it is not the first; nothing for empty text.
void add_member(std::string& out, std::string_view key, std::string_view text, bool first = false) {
    if (!text.empty()) {
        out += (first ? "" : ", ") + quoted_json(key) + ": " + quoted_json(text);
    }
}

}  // namespace

std::string field_dictionary_json(std::span<const DictionaryLayer> layers) {
    std::string out = "{\n  \"layers\": [";
    bool first_layer = true;
    for (const DictionaryLayer& layer : layers) {
        out += first_layer ? "\n    {" : ",\n    {";
        first_layer = false;
        add_member(out, "name", layer.name, true);
        add_member(out, "file", layer.file);
        add_member(out, "description", layer.description);
        out += ",\n     \"fields\": [";
        bool first = true;
        for (const DictionaryField& f : layer.fields) {
            out += first ? "\n      {" : ",\n      {";
            first = false;
            add_member(out, "column", f.field.name, true);
            add_member(out, "field", f.full_name.empty() ? f.field.name : f.full_name);
            add_member(out, "type", name_of(f.field.type));
            add_member(out, "unit", f.field.unit);
            add_member(out, "meaning", f.field.meaning);
            out += '}';
        }
        out += "\n     ]}";
    }
    return out + "\n  ]\n}\n";
}

}  // namespace linewood
