#include "geo/io/column_plan.hpp"

#include <algorithm>
#include <string_view>
#include <unordered_set>

#include "geo/io/layer_schema.hpp"

namespace linewood {
namespace {

std::string folded(std::string_view name) {
    std::string out{name};
    std::transform(out.begin(), out.end(), out.begin(), [](char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    });
    return out;
}

using NameSet = std::unordered_set<std::string>;

NameSet folded_set(const std::vector<std::string>& names) {
    NameSet set;
    for (const std::string& name : names) {
        set.insert(folded(name));
    }
    return set;
}

/// `in_` in front, as often as needed.
std::string moved_aside(std::string name, const NameSet& taken) {
    do {
        name.insert(0, "in_");
    } while (taken.contains(folded(name)));
    return name;
}

/// `_2`, `_3` ... behind, where needed.
std::string numbered(const std::string& stem, const NameSet& taken) {
    std::string name = stem;
    for (int n = 2; taken.contains(folded(name)); ++n) {
        name = stem;
        name += '_';
        name += std::to_string(n);
    }
    return name;
}

/// The fields that can keep their names; empty for the others.
std::vector<std::string> kept_names(const std::vector<Field>& source,
                                    const NameSet& dropped,
                                    NameSet& taken) {
    std::vector<std::string> names(source.size());
    for (std::size_t i = 0; i < source.size(); ++i) {
        const std::string key = folded(source[i].name);
        if (!key.empty() && !dropped.contains(key) && taken.insert(key).second) {
            names[i] = source[i].name;
        }
    }
    return names;
}

}  // namespace

ColumnPlan plan_columns(const std::vector<Field>& source,
                        const std::vector<std::string>& added,
                        const std::vector<std::string>& reserved,
                        const std::vector<std::string>& drop) {
    const NameSet dropped = folded_set(drop);
    NameSet tool = folded_set(added);
    tool.merge(folded_set(reserved));

    // Fields that keep their names come first, so that a renamed one never takes another's name.
    NameSet taken = tool;
    const std::vector<std::string> kept = kept_names(source, dropped, taken);
    ColumnPlan plan;
    for (std::size_t i = 0; i < source.size(); ++i) {
        const std::string& original = source[i].name;
        const std::string key = folded(original);
        if (dropped.contains(key)) {
            continue;
        }
        std::string name = kept[i];
        if (name.empty()) {
            const std::string stem = original.empty() ? "field_" + std::to_string(i + 1) : original;
            name = tool.contains(key) ? moved_aside(stem, taken) : numbered(stem, taken);
            taken.insert(folded(name));
            std::string note = "the input field '";
            note.append(original).append("' is kept as '").append(name).append("'");
            plan.notes.push_back(std::move(note));
        }
        plan.carried.push_back({i, std::move(name)});
    }
    return plan;
}

}  // namespace linewood
