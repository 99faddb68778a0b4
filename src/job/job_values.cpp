#include "src/job/job_values.hpp"

#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

constexpr double kMostNumber = 1e15;  // whole numbers are exact up to here

std::string without_blanks(const std::string& text) {
    const auto first = text.find_first_not_of(' ');
    return first == std::string::npos ? std::string{}
                                      : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

}  // namespace

std::optional<std::string> scalar_text(const JsonNode& node) {
    if (node.is_null()) {
        return std::nullopt;
    }
    if (node.is_boolean()) {
        return node.boolean() ? "true" : "false";
    }
    if (node.is_number()) {
        return number_text(node.number(-kMostNumber, kMostNumber));
    }
    if (!node.is_text()) {
        node.fail_value("stands where text, a number, true, false or null is wanted");
    }
    return node.text(kMostJobText);
}

std::vector<std::string> list_of_texts(const JsonNode& node, std::size_t most) {
    std::vector<std::string> all;
    for (const JsonNode& item : node.items(most)) {
        if (item.is_text()) {
            all.push_back(without_blanks(item.free_text(kMostJobText)));
        } else {
            all.push_back(number_text(item.number(-kMostNumber, kMostNumber)));
        }
    }
    return all;
}

}  // namespace linewood
