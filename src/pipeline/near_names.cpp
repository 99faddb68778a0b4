#include "src/pipeline/near_names.hpp"

#include <algorithm>
#include <string>

#include "src/job/contract_fields.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/input_findings.hpp"

namespace linewood {
namespace {

/// Letters and digits, in lower case.
std::string folded(std::string_view name) {
    std::string out;
    for (const char c : name) {
        const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        if ((lower >= 'a' && lower <= 'z') || (lower >= '0' && lower <= '9')) {
            out.push_back(lower);
        }
    }
    return out;
}

bool contains(std::span<const std::string_view> names, std::string_view name) {
    return std::any_of(
        names.begin(), names.end(), [&](std::string_view known) { return same_name(known, name); });
}

/// The field that a column of that name is read for; empty where it is none.
std::string_view read_name(InputLayer layer, std::string_view name) {
    for (const ContractField& field : input_fields(layer)) {
        if (same_name(field.name, name)) {
            return field.name;
        }
    }
    return {};
}

void note(const FindingKind& kind,
          InputLayer layer,
          const std::string& column,
          std::string_view more,
          Findings& findings) {
    findings.push_back(make_finding(kind, layer, -1, column, ""));
    findings.back().message += more;
}

}  // namespace

bool is_near_name(std::string_view written, std::string_view field) {
    const std::string a = folded(written);
    const std::string b = folded(field);
    if (a.empty() || a == b) {
        return !a.empty();
    }
    if (b.size() < 5 || (b.size() < 8 && a.front() != b.front())) {
        return false;
    }
    const auto changes = single_letter_changes(a, b);
    return changes && *changes <= (b.size() < 12 ? 1U : 2U);
}

void note_doubtful_names(const LayerSchema& schema,
                         InputLayer layer,
                         std::span<const std::string_view> own,
                         Findings& findings) {
    for (auto column = schema.fields.begin(); column != schema.fields.end(); ++column) {
        if (contains(own, column->name)) {
            continue;
        }
        if (!read_name(layer, column->name).empty()) {
            const std::size_t read = *schema.field_index(read_name(layer, column->name));
            if (read != static_cast<std::size_t>(column - schema.fields.begin())) {
                note(finding::kColumnRepeated,
                     layer,
                     column->name,
                     ": " + schema.fields[read].name,
                     findings);
            }
            continue;
        }
        for (const ContractField& field : input_fields(layer)) {
            if (!schema.field_index(field.name) && is_near_name(column->name, field.name)) {
                note(finding::kColumnNameNear,
                     layer,
                     column->name,
                     " (is it " + std::string{field.name} + "?)",
                     findings);
                break;
            }
        }
    }
}

}  // namespace linewood
