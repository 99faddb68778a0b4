#include "src/job/repeat_groups.hpp"

#include <array>
#include <set>
#include <string_view>

#include <fmt/format.h>

#include "src/job/job_values.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 2> kRange{"from", "to"};
constexpr std::size_t kMostGroups = 200;

}  // namespace

std::vector<std::string> read_groups(const JsonNode& node) {
    std::vector<std::string> groups;
    if (node.is_object()) {
        node.only_keys(kRange);
        const auto whole = [](const JsonNode& n) {
            const double v = n.number(0, 1e6);
            if (v != static_cast<double>(static_cast<int>(v))) {
                n.fail_value("is not a whole number");
            }
            return static_cast<int>(v);
        };
        const int from = whole(node.at("from"));
        const int to = whole(node.at("to"));
        if (to < from || static_cast<std::size_t>(to - from) >= kMostGroups) {
            node.at("to").fail_value(fmt::format(
                "must be from {} to {}", from, from + static_cast<int>(kMostGroups) - 1));
        }
        for (int n = from; n <= to; ++n) {
            groups.push_back(std::to_string(n));
        }
        return groups;
    }
    groups = list_of_texts(node, kMostGroups);
    if (groups.empty()) {
        node.fail("the list is empty; say what stands for {n}, as [1, 2, 3]");
    }
    const std::set<std::string> different(groups.begin(), groups.end());
    if (different.size() != groups.size()) {
        node.fail("something is in the list twice");
    }
    return groups;
}

}  // namespace linewood
