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
    std::vector<std::string> names(source.size());
    for (std::size_t i = 0; i < source.size(); ++i) {
        const std::string key = folded(source[i].name);
        if (!key.empty() && !dropped.contains(key) && taken.insert(key).second) {
            names[i] = source[i].name;
        }
    }

    ColumnPlan plan;
    for (std::size_t i = 0; i < source.size(); ++i) {
        const std::string& original = source[i].name;
        const std::string key = folded(original);
        if (dropped.contains(key)) {
            continue;
        }
        if (names[i].empty()) {
            std::string name = original.empty() ? "field_" + std::to_string(i + 1) : original;
            if (tool.contains(key)) {
                do {
                    name.insert(0, "in_");
                } while (taken.contains(folded(name)));
            } else {
                const std::string stem = name;
                for (int n = 2; taken.contains(folded(name)); ++n) {
                    name = stem + "_" + std::to_string(n);
                }
            }
            taken.insert(folded(name));
            plan.notes.push_back("the input field '" + original + "' is kept as '" + name + "'");
            names[i] = std::move(name);
        }
        plan.carried.push_back({i, names[i]});
    }
    return plan;
}

}  // namespace linewood
